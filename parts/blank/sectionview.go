package blank

import (
	"math"
	"slices"

	"corerod/parts/plane"
)

// Leg is a straight piece of a cutting path in plan. The path is followed from left to right: From and To are places
// along it, mm, and At is the point of the plan at From.
type Leg struct {
	From, To float64
	At       plane.Point
	Toward   plane.Point // unit vector
}

// Point is the point of the plan at a place along the leg.
func (l *Leg) Point(s float64) plane.Point {
	return plane.Point{X: l.At.X + l.Toward.X*(s-l.From), Y: l.At.Y + l.Toward.Y*(s-l.From)}
}

// span is a stretch of material along a cutting path.
type span [2]float64

// strip is a stretch of height in which the spans of a section change smoothly from its lower to its upper end.
type strip struct {
	low, high float64
	at        [2][]span // at the lower and the upper end
	bent      bool      // a sloped wall bounds it
}

// Cut is the section of the part along a cutting path: closed outlines in the path's places and z, mm, material to the
// left of each. Walls that are round in section are arcs where they are circles, and else chords to a few micrometres.
func (s *Shape) Cut(path []Leg) []plane.Loop {
	all, ends := s.tierEnds()
	c := cutter{Shape: s, all: all, path: path}
	for i := 0; i+1 < len(ends); i++ {
		c.stretch(ends[i], ends[i+1])
	}
	return c.loops()
}

// cutter makes one section.
type cutter struct {
	*Shape
	all    []based
	path   []Leg
	strips []strip
}

// bentSteps is the number of heights at which a stretch with sloped walls is looked at.
const bentSteps = 40

// stretch adds the strips between two heights at which outlines begin or end.
func (c *cutter) stretch(low, high float64) {
	mid := (low + high) / 2
	bent := slices.ContainsFunc(c.all, func(b based) bool {
		t := tierOver(b.tiers, mid-b.z, c.features[b.feature].Extent.Open)
		return t != nil && t.sloped
	})
	if !bent {
		at := c.spans(mid)
		c.strips = append(c.strips, strip{low, high, [2][]span{at, at}, false})
		return
	}
	in := inset * (high - low)
	z := low + in
	at := c.spans(z)
	for k := 1; k <= bentSteps; k++ {
		share := (1 - math.Cos(math.Pi*float64(k)/bentSteps)) / 2 // closer at the ends, where round walls lie flat
		next := low + in + (high-low-2*in)*share
		above := c.spans(next)
		c.between(z, next, at, above)
		z, at = next, above
	}
}

// between adds the strip between two heights; where the number of spans changes it closes in on the height at which it does.
func (c *cutter) between(low, high float64, at, above []span) {
	switch {
	case len(at) == len(above):
		c.strips = append(c.strips, strip{low, high, [2][]span{at, above}, true})
	case high-low <= plane.Near:
		mid := (low + high) / 2
		c.strips = append(c.strips, strip{low, mid, [2][]span{at, at}, true}, strip{mid, high, [2][]span{above, above}, true})
	default:
		mid := (low + high) / 2
		in := c.spans(mid)
		c.between(low, mid, at, in)
		c.between(mid, high, in, above)
	}
}

// spans are the stretches of material along the path at a height.
func (c *cutter) spans(z float64) (out []span) {
	var loops []plane.Loop
	var bodies int
	for _, b := range c.all {
		f := c.features[b.feature]
		t := tierOver(b.tiers, z-b.z, f.Extent.Open)
		if t == nil {
			continue
		}
		l, err := t.at(math.Min(math.Max(z-b.z, t.lo), t.hi))
		if err != nil || len(l) == 0 {
			continue
		}
		loops = append(loops, placeCopy(l, f, b.copy))
		if b.feature < c.bodies {
			bodies = len(loops)
		}
	}
	for _, leg := range c.path {
		stops := []float64{leg.From}
		for _, at := range plane.Meetings(plane.Line(leg.At, leg.Point(leg.To)), loops) {
			stops = append(stops, leg.From+at)
		}
		stops = append(stops, leg.To)
		for i := 0; i+1 < len(stops); i++ {
			p := leg.Point((stops[i] + stops[i+1]) / 2)
			if stops[i+1]-stops[i] <= plane.Near || !insideOf(loops, bodies, p) {
				continue
			}
			if n := len(out); n > 0 && stops[i]-out[n-1][1] <= plane.Near {
				out[n-1][1] = stops[i+1]
			} else {
				out = append(out, span{stops[i], stops[i+1]})
			}
		}
	}
	return out
}

// insideOf tells whether a point lies in a body and in no cut; the first loops are those of bodies.
func insideOf(loops []plane.Loop, bodies int, p plane.Point) bool {
	in := func(l plane.Loop) bool { return l.Holds(p) }
	return slices.ContainsFunc(loops[:bodies], in) && !slices.ContainsFunc(loops[bodies:], in)
}

// side is one line of a section's outline, material to its left.
type side struct {
	a, b plane.Point
	bent bool
}

// sides are the lines round all strips: walls, and faces where strips that touch differ.
func (c *cutter) sides() (all []side) {
	var below []span
	var height float64
	face := func(z float64, below, above []span) {
		for _, x := range without(below, above) {
			all = append(all, side{plane.Point{X: x[1], Y: z}, plane.Point{X: x[0], Y: z}, false})
		}
		for _, x := range without(above, below) {
			all = append(all, side{plane.Point{X: x[0], Y: z}, plane.Point{X: x[1], Y: z}, false})
		}
	}
	for _, s := range c.strips {
		face(s.low, below, s.at[0])
		for i := range s.at[0] {
			lo, hi := s.at[0][i], s.at[1][i]
			all = append(all, side{plane.Point{X: lo[1], Y: s.low}, plane.Point{X: hi[1], Y: s.high}, s.bent},
				side{plane.Point{X: hi[0], Y: s.high}, plane.Point{X: lo[0], Y: s.low}, s.bent})
		}
		below, height = s.at[1], s.high
	}
	face(height, below, nil)
	return all
}

// without is what is left of spans where others are taken out; what is thinner than a micrometre is nothing.
func without(a, b []span) (out []span) {
	for _, x := range a {
		at := x[0]
		for _, y := range b {
			if y[1] <= at || y[0] >= x[1] {
				continue
			}
			if y[0]-at > plane.Near {
				out = append(out, span{at, y[0]})
			}
			at = math.Max(at, y[1])
		}
		if x[1]-at > plane.Near {
			out = append(out, span{at, x[1]})
		}
	}
	return out
}
