package blank

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"corerod/parts"
	"corerod/parts/form"
	"corerod/parts/plane"
)

// tier is a stretch of a feature's height over which its plan outline changes smoothly. Heights count from the
// feature's lower end.
type tier struct {
	lo, hi float64
	at     func(u float64) (plane.Loop, error)      // the outline at a height; nil where nothing is left of it
	mean   func(lo, hi float64) (plane.Loop, error) // of a round one: the outline that is as wide as its mean between heights
	sloped bool
	run    func(lo, hi float64) float64 // of a sloped one: how far, in plan, its least sloped wall goes between heights
	factor func(u float64) float64      // of a groove of round or V section: the area of its wall for a millimetre of height
	open   [2]bool                      // its lower, upper end has no section of its own: nothing is left there, or others meet it there
	walls  func(u float64) plane.Loop   // of a ball or half section: the outline with the walls that come together there
	reach  func(r float64) []float64    // of a ball or half section: the heights at which a wall has that radius
	whole  *tier                        // of a part of one: all of it
}

// slice is one outline that stands for a part of a tier. Those of a sloped tier are as wide as the tier's mean there, so
// that means over them are exact, but for two thin ones that are the sections at its ends; a face between two of them is
// sloped and no level.
type slice struct {
	loop   plane.Loop
	lo, hi float64
	leans  bool    // of a sloped tier
	of     *tier   // that sloped tier, whole
	sloped [2]bool // its lower, upper end is a face between slices
}

// tiers of a feature of a height.
func tiers(f *parts.Feature, height float64) ([]tier, error) {
	if t, ok := form.HalfSection(f.Profile); ok {
		return turnedTiers(t, f.Extent.From)
	}
	if b, ok := form.AsBall(f.Profile); ok {
		return ballTiers(b), nil
	}
	l, err := form.Draw(f.Profile)
	if err != nil {
		return nil, err
	}
	fixed := func(float64) (plane.Loop, error) { return l, nil }
	switch {
	case f.Draft != nil && f.Draft.Angle > 0:
		lean := math.Tan(f.Draft.Angle * math.Pi / 180)
		return []tier{{lo: 0, hi: height, sloped: true,
			at: func(u float64) (plane.Loop, error) {
				if !f.Draft.Up {
					u = height - u
				}
				return l.Inward(lean * u)
			},
			run: func(lo, hi float64) float64 { return lean * (hi - lo) }}}, nil
	case f.Section != "":
		return grooveTier(f, l, height)
	}
	return []tier{{lo: 0, hi: height, at: fixed}}, nil
}

// grooveTier is a groove of round or V section: as wide as drawn at its mouth, nothing at its floor.
func grooveTier(f *parts.Feature, l plane.Loop, depth float64) ([]tier, error) {
	half := plane.RegionOf(l).Inscribed().R
	width := func(up float64) float64 { return half * up / depth } // half the width at a height over the floor
	var mean func(lo, hi float64) (plane.Loop, error)
	factor := func(float64) float64 { return math.Hypot(1, half/depth) }
	down := f.Extent.Open == "top"
	up := func(u float64) float64 {
		if down {
			return u
		}
		return depth - u
	}
	if f.Section == "round" {
		if depth > half+plane.Near {
			return nil, fmt.Errorf("a round groove %.4g mm wide is at most %.4g mm deep", 2*half, half)
		}
		r := (half*half + depth*depth) / (2 * depth)
		width = func(up float64) float64 { return math.Sqrt(math.Max(0, up*(2*r-up))) }
		mean = func(lo, hi float64) (plane.Loop, error) { return l.Inward(half - meanChord(r, up(lo)-r, up(hi)-r)) }
		factor = func(up float64) float64 { return r / math.Max(leastRun, width(up)) }
	}
	return []tier{{lo: 0, hi: depth, sloped: true, open: [2]bool{down, !down},
		at:     func(u float64) (plane.Loop, error) { return l.Inward(half - width(up(u))) },
		mean:   mean,
		run:    func(lo, hi float64) float64 { return math.Abs(width(up(lo)) - width(up(hi))) },
		factor: func(u float64) float64 { return factor(up(u)) }}}, nil
}

// ballTiers are the cap below, the band, and the cap above.
func ballTiers(b parts.Ball) []tier {
	r := b.Diameter / 2
	radius := func(u float64) float64 { return math.Sqrt(math.Max(0, r*r-(u-r)*(u-r))) }
	cap := func(lo, hi float64, open [2]bool) tier {
		return tier{lo: lo, hi: hi, sloped: true, open: open,
			at:    func(u float64) (plane.Loop, error) { return round(point(b.At), radius(u)), nil },
			mean:  func(lo, hi float64) (plane.Loop, error) { return round(point(b.At), meanChord(r, lo-r, hi-r)), nil },
			walls: func(u float64) plane.Loop { return round(point(b.At), radius(u)) },
			reach: func(x float64) []float64 {
				h := math.Sqrt(math.Max(0, r*r-x*x))
				return []float64{r - h, r + h}
			},
			run: func(lo, hi float64) float64 { return math.Abs(radius(lo) - radius(hi)) }}
	}
	lower, upper := [2]bool{true, false}, [2]bool{false, true}
	if b.Band == 0 {
		return []tier{cap(0, r, lower), cap(r, 2*r, upper)}
	}
	h := b.Band / 2
	belt := round(point(b.At), math.Sqrt(r*r-h*h))
	return []tier{
		cap(0, r-h, lower),
		{lo: r - h, hi: r + h, at: func(float64) (plane.Loop, error) { return belt, nil }, walls: func(float64) plane.Loop { return belt }},
		cap(r+h, 2*r, upper),
	}
}

// round is the circle of a radius; nil where none is left.
func round(at plane.Point, r float64) plane.Loop {
	if r <= plane.Near {
		return nil
	}
	return plane.Circle(at, 2*r)
}

// turnedTiers cuts a half section at the heights of its points. from is its lowest height.
func turnedTiers(t parts.Turned, from float64) ([]tier, error) {
	section, err := form.Steps(t.Start, t.Steps, 0)
	if err != nil {
		return nil, err
	}
	var zs []float64
	for i := range section {
		c := &section[i]
		zs = append(zs, c.A.Y)
		lo, hi := (plane.Loop{*c}).Bounds()
		if c.IsArc() && (lo.Y < math.Min(c.A.Y, c.B.Y)-plane.Near || hi.Y > math.Max(c.A.Y, c.B.Y)+plane.Near) {
			return nil, errors.New("an arc of the section reaches above or below its ends; end it where it is highest or lowest")
		}
		if lo.X < -plane.Near {
			return nil, errors.New("an arc of the section crosses the axis")
		}
	}
	heights := distinct(zs)
	var out []tier
	for k := 0; k+1 < len(heights); k++ {
		out = append(out, turnedTier(section, point(t.At), heights[k], heights[k+1], from))
	}
	return out, nil
}

// turnedTier is the stretch of a half section between two heights of its points.
func turnedTier(section plane.Loop, at plane.Point, lo, hi, from float64) tier {
	mid := (lo + hi) / 2
	var edges []plane.Curve
	t := tier{lo: lo - from, hi: hi - from}
	for _, c := range section {
		if math.Min(c.A.Y, c.B.Y) < mid && mid < math.Max(c.A.Y, c.B.Y) {
			edges = append(edges, c)
			t.sloped = t.sloped || c.IsArc() || math.Abs(c.A.X-c.B.X) > plane.Near
		}
	}
	slices.SortFunc(edges, func(a, b plane.Curve) int {
		if radiusAt(&a, mid) < radiusAt(&b, mid) {
			return -1
		}
		return 1
	})
	rings := func(least float64, radius func(c *plane.Curve) float64) (l plane.Loop) {
		for i := 0; i+1 < len(edges); i += 2 {
			if in, out := radius(&edges[i]), radius(&edges[i+1]); out-in > least {
				l = append(l, round(at, out)...)
				l = append(l, round(at, in).Reversed()...)
			}
		}
		return l
	}
	t.walls = func(u float64) plane.Loop {
		return rings(math.Inf(-1), func(c *plane.Curve) float64 { return radiusAt(c, u+from) })
	}
	t.at = func(u float64) (plane.Loop, error) {
		return rings(plane.Near, func(c *plane.Curve) float64 { return radiusAt(c, u+from) }), nil
	}
	t.mean = func(lo, hi float64) (plane.Loop, error) {
		return rings(plane.Near, func(c *plane.Curve) float64 { return meanRadius(c, lo+from, hi+from) }), nil
	}
	t.reach = func(r float64) (us []float64) {
		for i := range edges {
			for _, z := range heightsAt(&edges[i], r) {
				us = append(us, z-from)
			}
		}
		return us
	}
	t.run = func(lo, hi float64) float64 {
		least := math.Inf(1)
		for i := range edges {
			if c := &edges[i]; c.IsArc() || math.Abs(c.A.X-c.B.X) > plane.Near {
				least = math.Min(least, math.Abs(radiusAt(c, lo+from)-radiusAt(c, hi+from)))
			}
		}
		return least
	}
	if t.sloped {
		for i, z := range [2]float64{t.lo, t.hi} {
			l, _ := t.at(z)
			t.open[i] = len(l) == 0
		}
	}
	return t
}

// radiusAt is the radius of a section's edge at a height between its ends.
func radiusAt(c *plane.Curve, z float64) float64 {
	if !c.IsArc() {
		return math.Max(0, c.A.X+(c.B.X-c.A.X)*(z-c.A.Y)/(c.B.Y-c.A.Y))
	}
	return onArc(c, math.Sqrt(math.Max(0, c.R*c.R-(z-c.C.Y)*(z-c.C.Y))))
}

// heightsAt are the heights at which a leaning edge of a section has a radius.
func heightsAt(c *plane.Curve, r float64) (zs []float64) {
	switch {
	case c.IsArc() && math.Abs(r-c.C.X) < c.R:
		h := math.Sqrt(c.R*c.R - (r-c.C.X)*(r-c.C.X))
		zs = []float64{c.C.Y - h, c.C.Y + h}
	case !c.IsArc() && math.Abs(c.A.X-c.B.X) > plane.Near:
		zs = []float64{c.A.Y + (c.B.Y-c.A.Y)*(r-c.A.X)/(c.B.X-c.A.X)}
	}
	return slices.DeleteFunc(zs, func(z float64) bool {
		return z < math.Min(c.A.Y, c.B.Y) || z > math.Max(c.A.Y, c.B.Y) || math.Abs(radiusAt(c, z)-r) > plane.Near
	})
}

// meanRadius is the mean radius of a section's edge between two heights.
func meanRadius(c *plane.Curve, lo, hi float64) float64 {
	if !c.IsArc() {
		return radiusAt(c, (lo+hi)/2)
	}
	return onArc(c, meanChord(c.R, lo-c.C.Y, hi-c.C.Y))
}

// onArc is the radius of a section's arc at a distance from its centre.
func onArc(c *plane.Curve, x float64) float64 {
	if c.At(0.5).X < c.C.X {
		x = -x
	}
	return math.Max(0, c.C.X+x)
}

// meanChord is the mean of half the chord of a circle of radius r, between two distances from its centre.
func meanChord(r, a, b float64) float64 {
	area := func(x float64) float64 {
		x = math.Min(math.Max(x, -r), r)
		return (x*math.Sqrt(r*r-x*x) + r*r*math.Asin(x/r)) / 2
	}
	return (area(b) - area(a)) / (b - a)
}

// split divides sloped tiers at heights, in order: so that there is a section of its own, or, where others meet the
// slope, so that slices end there.
func split(ts []tier, at []float64, meet bool) (out []tier) {
	for _, t := range ts {
		if t.sloped {
			if t.whole == nil {
				whole := t
				t.whole = &whole
			}
			for _, u := range at {
				if u > t.lo+SameHeight && u < t.hi-SameHeight {
					below := t
					below.hi, below.open[1] = u, meet
					out = append(out, below)
					t.lo, t.open[0] = u, meet
				}
			}
		}
		out = append(out, t)
	}
	return out
}

// sliced divides tiers into slices. whole is the height of the part: slopes that are cut at the same heights are sliced
// at the same ones too.
func sliced(ts []tier, whole float64) (out []slice, err error) {
	for _, t := range ts {
		cuts, n := []float64{t.lo, t.hi}, 0
		if t.sloped {
			n = min(max(1, int(math.Ceil((form.Slices-2)*(t.hi-t.lo)/whole))), int(t.run(t.lo, t.hi)/apart))
			cuts = t.cuts(n)
		}
		for i := 0; i+1 < len(cuts); i++ {
			s := slice{lo: cuts[i], hi: cuts[i+1], leans: t.sloped, of: t.whole}
			lo, hi := s.lo, s.hi
			if t.sloped {
				first, last := i == 0 && !t.open[0], i == len(cuts)-2 && !t.open[1]
				if n > 0 { // as if the thin slices were not there: two cones alike then have the same sections
					k := float64(i)
					if !t.open[0] {
						k--
					}
					lo, hi = t.lo+(t.hi-t.lo)*k/float64(n), t.lo+(t.hi-t.lo)*(k+1)/float64(n)
				}
				switch {
				case first:
					lo, hi = t.lo, t.lo
				case last:
					lo, hi = t.hi, t.hi
				}
				s.sloped = [2]bool{!first, !last}
			}
			if s.loop, err = t.between(lo, hi); err != nil {
				return nil, err
			}
			if len(s.loop) > 0 {
				out = append(out, s)
			}
		}
	}
	return out, nil
}

// lean is the angle from the pressing axis of a sloped tier's least sloped wall, of a round one from end to end, degrees.
func (t *tier) lean() float64 { return math.Atan2(t.run(t.lo, t.hi), t.hi-t.lo) * 180 / math.Pi }

// between is the outline that stands for a tier between two heights.
func (t *tier) between(lo, hi float64) (plane.Loop, error) {
	if t.mean == nil || lo == hi {
		return t.at((lo + hi) / 2)
	}
	return t.mean(lo, hi)
}

// wallsAt is the outline at a height, those walls too that come together there; nil where nothing is left of it.
func (t *tier) wallsAt(u float64) plane.Loop {
	if t.walls != nil {
		return t.walls(u)
	}
	l, _ := t.at(u)
	return l
}

// cuts are the heights between n slices of a sloped tier, and of the thin ones at its ends, where anything is left. Where
// there is no room for a slice between its ends, each of these stands for half of it.
func (t *tier) cuts(n int) []float64 {
	switch {
	case n > 0:
	case t.open[0] || t.open[1]:
		return []float64{t.lo, t.hi}
	default:
		return []float64{t.lo, (t.lo + t.hi) / 2, t.hi}
	}
	lo, hi := t.lo, t.hi
	out := []float64{t.lo}
	if !t.open[0] {
		lo += EndSlice
		out = append(out, lo)
	}
	if !t.open[1] {
		hi -= EndSlice
	}
	for i := 1; i <= n; i++ {
		out = append(out, lo+(hi-lo)*float64(i)/float64(n))
	}
	if !t.open[1] {
		out = append(out, t.hi)
	}
	return out
}
