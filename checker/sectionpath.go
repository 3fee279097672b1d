package checker

import (
	"cmp"
	"math"
	"slices"

	"corerod/parts/plane"
	"corerod/parts/subject"
)

// viewer chooses where a part is cut.
type viewer struct {
	r *PartReview
	d *Drawing
}

// reach is the box of the outline.
func (v viewer) reach() (lo, hi plane.Point) {
	lo, hi = plane.Point{X: math.Inf(1), Y: math.Inf(1)}, plane.Point{X: math.Inf(-1), Y: math.Inf(-1)}
	for _, l := range v.d.Outline {
		a, b := l.Bounds()
		lo = plane.Point{X: math.Min(lo.X, a.X), Y: math.Min(lo.Y, a.Y)}
		hi = plane.Point{X: math.Max(hi.X, b.X), Y: math.Max(hi.Y, b.Y)}
	}
	return lo, hi
}

// middle is the axis that the part is cut through: the widest round one near its middle, else its middle.
func (v viewer) middle() plane.Point {
	lo, hi := v.reach()
	mid := plane.Point{X: (lo.X + hi.X) / 2, Y: (lo.Y + hi.Y) / 2}
	best, r := mid, 0.0
	for _, a := range v.d.Axes {
		if a.R > r && a.At.Distance(mid) <= math.Min(hi.X-lo.X, hi.Y-lo.Y)/10 {
			best, r = a.At, a.R
		}
	}
	return best
}

// aim is something that a section had better go through.
type aim struct {
	at    plane.Point
	worth float64
}

// aims are the places of findings, the middles of round features, and those of holes.
func (v viewer) aims() (all []aim) {
	for _, f := range v.r.Findings {
		if f.Subject.Kind() != subject.PartKind {
			all = append(all, aim{f.PlaceOf(), 3})
		}
	}
	for _, a := range v.d.Axes {
		all = append(all, aim{a.At, 1})
	}
	for _, h := range v.r.Subject.Holes {
		all = append(all, aim{plane.Point{X: h.X, Y: h.Y}, 1})
	}
	return all
}

// main is the path of the first section: along a long part, with offsets to what lies beside its middle; through a round one
// by the two rays from its axis that meet most.
func (v viewer) main() []Leg {
	lo, hi := v.reach()
	c := v.middle()
	switch w, h := hi.X-lo.X, hi.Y-lo.Y; {
	case w > 1.4*h:
		return v.along(c, plane.Point{X: 1}, lo.X, hi.X)
	case h > 1.4*w:
		return v.along(c, plane.Point{Y: 1}, lo.Y, hi.Y)
	}
	return v.rays(c)
}

// first is the section along the main path. Where that meets nothing, as the rays to the two tips of a crescent do, it is
// straight along x, at the middle of the part or as near to it as there is something to be cut.
func (v viewer) first() *Section {
	s := v.section("A", v.main())
	lo, hi := v.reach()
	for parts := 2; !s.cuts() && parts <= 256; parts *= 2 {
		for k := parts / 2; !s.cuts() && k > 0; k-- {
			for _, at := range []int{k, parts - k} {
				if s.cuts() || at%2 == 0 && parts > 2 { // an even one was tried before
					continue
				}
				from := plane.Point{X: lo.X - v.margin(), Y: lo.Y + (hi.Y-lo.Y)*float64(at)/float64(parts)}
				s = v.section("A", []Leg{{From: from.X, To: hi.X + v.margin(), At: from, Toward: plane.Point{X: 1}}})
			}
		}
	}
	return s
}

// cuts tells whether a section cuts anything.
func (s *Section) cuts() bool {
	area := 0.0
	for _, l := range s.Loops {
		area += l.Moments().Area
	}
	return area > leastCut
}

// margin is how far a path goes on past the outline, mm.
func (v viewer) margin() float64 {
	lo, hi := v.reach()
	return 0.05 * lo.Distance(hi)
}

// rays is a path along the ray from a point that meets most, coming in along the one that meets most of the rest.
func (v viewer) rays(c plane.Point) []Leg {
	angles := []float64{0, 180, 90, 270}
	for _, a := range v.aims() {
		if d := a.at.Distance(c); d > on {
			angles = append(angles, math.Mod(math.Atan2(a.at.Y-c.Y, a.at.X-c.X)*180/math.Pi+360, 360))
		}
	}
	out := best(angles, func(deg float64) float64 { return v.meets(c, deg) })
	straight := math.Mod(out+180, 360)
	in := best(append([]float64{straight}, angles...), func(deg float64) float64 {
		if apart := math.Abs(math.Mod(deg-out+540, 360) - 180); apart < 30 {
			return -1
		}
		if deg == straight {
			return v.meets(c, deg) + 0.5
		}
		return v.meets(c, deg)
	})
	r := v.farthest(c) + v.margin()
	u, w := ray(in), ray(out)
	if w.X-u.X < -upright || math.Abs(w.X-u.X) <= upright && w.Y < u.Y {
		u, w = w, u // from left to right, else upward
	}
	return []Leg{
		{From: -r, To: 0, At: plane.Point{X: c.X + u.X*r, Y: c.Y + u.Y*r}, Toward: plane.Point{X: -u.X, Y: -u.Y}},
		{From: 0, To: r, At: c, Toward: w},
	}
}

// ray is the direction of an angle, exact along the axes.
func ray(degrees float64) plane.Point {
	sin, cos := math.Sincos(degrees * math.Pi / 180)
	if math.Abs(sin) < noComponent {
		sin = 0
	}
	if math.Abs(cos) < noComponent {
		cos = 0
	}
	return plane.Point{X: cos, Y: sin}
}

// best is the first angle of the greatest worth.
func best(angles []float64, worth func(float64) float64) float64 {
	return slices.MaxFunc(angles, func(a, b float64) int { return cmp.Compare(worth(a), worth(b)) })
}

// meets is what a ray is worth: what it goes through, each place alike counted by itself.
func (v viewer) meets(c plane.Point, degrees float64) (sum float64) {
	u := ray(degrees)
	for _, a := range v.aims() {
		d := plane.Point{X: a.at.X - c.X, Y: a.at.Y - c.Y}
		off, along := math.Abs(d.X*u.Y-d.Y*u.X), d.X*u.X+d.Y*u.Y
		if off <= on && along > on {
			sum += a.worth
		}
	}
	return sum
}

// farthest is the greatest distance of the outline from a point.
func (v viewer) farthest(c plane.Point) (r float64) {
	lo, hi := v.reach()
	for _, p := range []plane.Point{lo, hi, {X: lo.X, Y: hi.Y}, {X: hi.X, Y: lo.Y}} {
		r = math.Max(r, c.Distance(p))
	}
	return r
}

// along is a path in one direction through a point, that steps aside to round features that lie beside it.
func (v viewer) along(c, u plane.Point, low, high float64) []Leg {
	place := func(p plane.Point) (s, off float64) {
		return p.X*u.X + p.Y*u.Y, (p.X-c.X)*-u.Y + (p.Y-c.Y)*u.X
	}
	type stop struct{ s, off, r float64 }
	var stops []stop
	for _, a := range v.d.Axes {
		s, off := place(a.At)
		stops = append(stops, stop{s, off, a.R})
	}
	slices.SortStableFunc(stops, func(a, b stop) int { return cmp.Compare(a.s, b.s) })
	low, high = low-v.margin(), high+v.margin()
	point := func(s, off float64) plane.Point {
		at, _ := place(c)
		return plane.Point{X: c.X + u.X*(s-at) - u.Y*off, Y: c.Y + u.Y*(s-at) + u.X*off}
	}
	legs := []Leg{{From: low, To: high, At: point(low, 0), Toward: u}}
	offset := 0.0
	for i, t := range stops {
		if math.Abs(t.off-offset) <= on || i > 0 && t.s-stops[i-1].s < t.r+stops[i-1].r {
			continue
		}
		at := low
		if i > 0 {
			at = (stops[i-1].s + stops[i-1].r + t.s - t.r) / 2
		}
		last := &legs[len(legs)-1]
		if at <= last.From {
			last.At = point(last.From, t.off)
		} else {
			last.To = at
			legs = append(legs, Leg{From: at, To: high, At: point(at, t.off), Toward: u})
		}
		offset = t.off
	}
	return legs
}

// section cuts the part along a path.
func (v viewer) section(letter string, path []Leg) *Section {
	s := &Section{Letter: letter, Path: path, Loops: v.r.Layout.Whole().Cut(path), Strips: v.r.Layout.Strips(path),
		Through: map[*Finding]float64{}}
	for _, a := range v.d.Axes {
		if at, ok := passes(path, a.At); ok {
			s.Axes = append(s.Axes, at)
		}
	}
	slices.Sort(s.Axes)
	s.Axes = slices.Compact(s.Axes)
	for _, f := range v.r.Findings {
		if at, ok := passes(path, f.PlaceOf()); ok && f.Subject.Kind() != subject.PartKind {
			s.Through[f] = at
		}
	}
	return s
}

// passes is the place at which a path goes through a point of the plan.
func passes(path []Leg, p plane.Point) (at float64, ok bool) {
	for _, l := range path {
		d := plane.Point{X: p.X - l.At.X, Y: p.Y - l.At.Y}
		s := d.X*l.Toward.X + d.Y*l.Toward.Y
		if math.Abs(d.X*l.Toward.Y-d.Y*l.Toward.X) <= on && s >= -on && s <= l.To-l.From+on {
			return l.From + s, true
		}
	}
	return 0, false
}

// missed is the worst finding that a section does not go through, nil where there is none.
func (v viewer) missed(s *Section) *Finding {
	all := slices.Clone(v.r.Findings)
	slices.SortStableFunc(all, ByGrade)
	for _, f := range all {
		if _, ok := s.Through[f]; !ok && f.Subject.Kind() != subject.PartKind && f.Subject.Kind() != subject.DimensionKind {
			return f
		}
	}
	return nil
}

// through is a straight path through the axis and a finding.
func (v viewer) through(f *Finding) []Leg {
	c, p := v.middle(), f.PlaceOf()
	u := plane.Point{Y: 1}
	if d := p.Distance(c); d > atAxis {
		u = plane.Point{X: (p.X - c.X) / d, Y: (p.Y - c.Y) / d}
	} else {
		c = p
	}
	if u.X < -upright || math.Abs(u.X) <= upright && u.Y < 0 {
		u = plane.Point{X: -u.X, Y: -u.Y}
	}
	r := v.farthest(c) + v.margin()
	return []Leg{{From: -r, To: r, At: plane.Point{X: c.X - u.X*r, Y: c.Y - u.Y*r}, Toward: u}}
}
