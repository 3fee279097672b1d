package blank

import (
	"math"
	"slices"

	"corerod/parts"
	"corerod/parts/form"
	"corerod/parts/plane"
)

// Finished is the shape as drawn with the cuts that are made after pressing.
func (s *Shape) Finished() (*Shape, parts.Problems) {
	after := func(c *parts.Feature) bool { return c.MadeBy != "pressing" }
	ground := func(b *parts.Feature) bool { return b.Stock != parts.Stock{} }
	if !slices.ContainsFunc(s.part.Cuts, after) && !slices.ContainsFunc(s.part.Bodies, ground) {
		return s.Drawn(), nil
	}
	p := *s.part
	p.Cuts = nil
	later := map[string]bool{}
	for _, c := range s.part.Cuts {
		only := *c
		only.MadeBy = "pressing"
		p.Cuts = append(p.Cuts, &only)
		later[c.Name] = c.MadeBy != "pressing"
	}
	w, ps := newShape(&p, false)
	if len(ps) > 0 {
		return nil, ps
	}
	for n, f := range w.features {
		if n >= w.bodies && later[f.Name] {
			w.later = append(w.later, n)
		}
	}
	return w, nil
}

// WithWalls is the shape with what its walls are owned by, for the rims of what is made after pressing.
func (s *Shape) WithWalls() *Shape {
	s.cutSlabs()
	return s
}

// CrossFeature is what a feature across the axis takes from the finished part: nothing of a thread or knurl, whose core or outside
// cylinder is drawn.
func (s *Shape) CrossFeature(d *parts.Side) (all []*Change) {
	for n, f := range s.features {
		if f.Name != d.In || f.Relief != nil {
			continue
		}
		for i := range f.Repeat.Copies() {
			at := point(parts.Point(form.Centre(f.Profile)))
			at = placeCopy(plane.Loop{plane.Line(at, at)}, f, i)[0].A
			at = plane.Point{X: at.X - s.origin.X, Y: at.Y - s.origin.Y}
			switch d.Kind {
			case "hole":
				all = append(all, s.crossHole(d, at))
			case "groove":
				all = append(all, s.ringGroove(d, n, i)...)
			case "flat":
				all = append(all, s.flatOn(d, n, at))
			}
		}
	}
	return all
}

// reach is further than the part goes between two heights, from a point in a direction, mm.
func (s *Shape) reach(at plane.Point, degrees, low, high float64) (far float64) {
	foot := 0.0 // a radius at the foot of a body lies over the face of another, beyond its heights
	for i := range s.part.Edges {
		foot = math.Max(foot, s.part.Edges[i].Radius)
	}
	low, high = low-foot, high+foot
	back := plane.Point{X: -at.X, Y: -at.Y}
	for i := range s.walls[:s.bodyWalls()] {
		w := &s.walls[i]
		if w.low > high || w.high < low {
			continue
		}
		for _, z := range [2]float64{max(low, w.low), min(high, w.high)} {
			if l, err := w.section(z); err == nil && len(l) > 0 {
				_, end := l.Moved(plane.Point{}, 0, back).Moved(plane.Point{}, -degrees, plane.Point{}).Bounds()
				far = math.Max(far, end.X)
			}
		}
	}
	return far + 1
}

// barAlong is the rectangle from one distance to another in a direction from a point, as wide to both sides as given: its first and third
// side go along.
func barAlong(at plane.Point, degrees, from, to, half float64) plane.Loop {
	p := [4]plane.Point{{X: from, Y: -half}, {X: to, Y: -half}, {X: to, Y: half}, {X: from, Y: half}}
	l := plane.Loop{}
	for i := range p {
		l = append(l, plane.Line(p[i], p[(i+1)%4]))
	}
	return l.Moved(plane.Point{}, degrees, at)
}

// crossHole is a hole from the axis of its feature outward, or to both sides.
func (s *Shape) crossHole(d *parts.Side, at plane.Point) *Change {
	r, from := d.Width/2, 0.0
	if d.Through {
		from = -s.reach(at, d.Toward+180, d.At-r, d.At+r)
	}
	drawn := barAlong(at, d.Toward, from, s.reach(at, d.Toward, d.At-r, d.At+r), r)
	x := &Change{Name: d.Name, Last: true, From: -1, Low: d.At - r, High: d.At + r}
	for _, upper := range [2]float64{-1, 1} {
		m := motion{r: r, at: r, over: d.At, side: -1, upper: upper}
		still := motion{slope: math.Inf(1), from: d.At}
		t := &tier{lo: d.At - r, hi: d.At, drawn: drawn, bar: true, tip: [2]bool{true, false}, moves: []*motion{&m, &still, &m, &still}}
		if upper > 0 {
			t.lo, t.hi, t.tip = d.At, d.At+r, [2]bool{false, true}
		}
		x.walls = append(x.walls, wall{tier: t, drawn: drawn, low: t.lo, high: t.hi})
	}
	return x
}

// ringGroove is a groove round a copy of a body, or round the inside of a cut.
func (s *Shape) ringGroove(d *parts.Side, feature, copy int) (all []*Change) {
	for i := range s.walls {
		w := &s.walls[i]
		if w.feature != feature || w.copy != copy || !w.covers(d.At-2*SameHeight, d.At+2*SameHeight) {
			continue
		}
		l, err := w.section(d.At)
		if err != nil || len(l) == 0 {
			continue
		}
		if w.ring { // of a half section the outer circle
			l = l[:2]
		}
		outer, inner := l, l
		if s.IsCut(feature) {
			outer, err = l.Inward(-d.Depth)
		} else {
			inner, err = l.Inward(d.Depth)
		}
		if err != nil {
			continue // it does not fit, which is said of the side feature
		}
		low, high := d.At-d.Width/2, d.At+d.Width/2
		t := &tier{lo: low, hi: high, drawn: inner}
		all = append(all, &Change{Name: d.Name, Last: true, From: -1, Low: low, High: high, Face: plane.RegionOf(outer), Outside: true,
			walls: []wall{{tier: t, drawn: inner, low: low, high: high}}})
	}
	return all
}

// flatOn is all beyond a plane, from its height to the upper end of a feature.
func (s *Shape) flatOn(d *parts.Side, feature int, at plane.Point) *Change {
	high := d.At
	for i := range s.walls {
		if s.walls[i].feature == feature {
			high = math.Max(high, s.walls[i].high)
		}
	}
	reach := func(degrees float64) float64 { return s.reach(at, d.Toward+degrees, d.At, high) }
	x := Prism(d.Name, false, d.At, high, barAlong(at, d.Toward, d.Away, math.Max(d.Away, 0)+reach(0), math.Max(reach(90), reach(-90))))
	x.Last = true
	return x
}

// Cover is the least height of material above and below what a change takes from the shape that has it, mm; 0 where it comes out of an end
// of the part, and false where it takes nothing.
func (s *Shape) Cover(name string) (least float64, ok bool) {
	least = math.Inf(1)
	for c := range s.cells {
		for i := range s.changes {
			x := &s.changes[i]
			if x.Name != name || !s.takenFrom(c, x) {
				continue
			}
			ok = true
			above, below := 0.0, 0.0
			for r, ends := range s.cells[c].ends { // from the lowest up
				switch bottom, top := s.endHeights(c, ends); {
				case top <= mid(x.Low, x.High):
					below = s.Least(c, r)
				case bottom >= mid(x.Low, x.High) && above == 0:
					above = s.Least(c, r)
				}
			}
			least = math.Min(least, math.Min(above, below))
		}
	}
	return least, ok
}

// endHeights are the heights of both ends of a run in the middle of the first edge of its cell.
func (s *Shape) endHeights(c int, ends [2]surface) (bottom, top float64) {
	p := s.overlay.Edges[s.edges[c][0]].Curve.At(0.5)
	return s.heightOver(ends[0], p), s.heightOver(ends[1], p)
}

// takenFrom tells whether a change takes material over a cell at some height.
func (s *Shape) takenFrom(c int, x *change) bool {
	for k := 0; k+1 < len(s.heights); k++ {
		if z := mid(s.heights[k], s.heights[k+1]); z < x.Low || z > x.High {
			continue
		}
		count := make([]int, len(s.features))
		s.overlay.Cells[c].Inside.Each(func(f int) {
			if s.Covers(f, k) {
				count[s.outlines[f].feature]++
			}
		})
		if !x.holds(func(feature int) int { return count[feature] }) {
			continue
		}
		count[x.outlines], count[x.face] = 0, 0
		if x.Outside {
			count[x.outlines] = 1
		}
		if s.leaves(func(feature int) int { return count[feature] }) {
			return true
		}
	}
	return false
}
