package blank

import (
	"math"
	"slices"

	"corerod/parts"
	"corerod/parts/plane"
)

// Change is material that a shape loses, or gains, besides its bodies and cuts. It fills the inside of outlines that may move with the
// height, or their outside, over the area of a face.
type Change struct {
	Name    string        // of what draws it
	Face    *plane.Region // in the frame of the overlay; nil where no face bounds it
	Outside bool          // it fills the outside of the outlines
	Adds    bool
	Last    bool // it is taken from what changes add too
	From    int  // the only body that it is taken from; -1 for all
	Low     float64
	High    float64 // mm: it lies between these
	walls   []wall  // the outlines; With numbers their features
}

// Prism is the change of what lies in an upright outline between two heights.
func Prism(name string, adds bool, low, high float64, outline plane.Loop) *Change {
	w := wall{tier: &tier{lo: low, hi: high, drawn: outline}, drawn: outline, low: low, high: high}
	return &Change{Name: name, Adds: adds, From: -1, Low: low, High: high, walls: []wall{w}}
}

// change is a change with the numbers of the features that its face and its outlines are figures of.
type change struct {
	*Change
	face, outlines int
}

// holds tells whether what has some figures lies in the change; in counts those of a feature.
func (x *change) holds(in func(feature int) int) bool {
	return (x.Face == nil || in(x.face)%2 == 1) && (in(x.outlines) > 0) != x.Outside
}

// slopes tells whether an outline of it leans.
func (x change) slopes() bool {
	return slices.ContainsFunc(x.walls, func(w wall) bool { return w.sloped() })
}

// With is the shape as drawn with changes. What is only measured on one without, such as slabs, it has not.
func (s *Shape) With(changes []*Change) (*Shape, parts.Problems) {
	s = s.Drawn()
	w := &Shape{part: s.part, features: slices.Clone(s.features), bodies: s.bodies, drawn: s.drawn, keeps: s.keeps, later: s.later,
		low: s.low, high: s.high, origin: s.origin, materials: map[float64]*plane.Region{}}
	w.walls = append(w.walls, s.walls...)
	for _, c := range changes {
		x := change{c, len(w.features), len(w.features) + 1}
		for range 2 {
			w.features = append(w.features, &parts.Feature{Name: c.Name, Place: s.part.Place})
		}
		w.changes = append(w.changes, x)
		if c.Face != nil {
			for i := range c.Face.Rings {
				l := halved(c.Face.Rings[i].Loop())
				w.walls = append(w.walls, wall{feature: x.face, copy: i, tier: &tier{lo: c.Low, hi: c.High, drawn: l}, drawn: l,
					low: c.Low, high: c.High})
			}
		}
		for _, o := range c.walls {
			o.feature = x.outlines
			w.walls = append(w.walls, o)
		}
		w.low, w.high = min(w.low, c.Low), max(w.high, c.High)
	}
	w.findStations()
	if ps := w.lay(); len(ps) > 0 {
		return nil, ps
	}
	return w, nil
}

// halved is an outline with each arc of more than half a turn as two, since a circle alone has no ends.
func halved(l plane.Loop) (out plane.Loop) {
	for _, c := range l {
		if math.Abs(c.Sweep) <= math.Pi {
			out = append(out, c)
			continue
		}
		m := c.At(0.5)
		out = append(out, plane.ArcBetween(c.C, c.A, m, c.R, c.Sweep > 0), plane.ArcBetween(c.C, m, c.B, c.R, c.Sweep > 0))
	}
	return out
}

// leaves tells whether material is where some features are: a body that no cut and no change takes, or what a change adds. in counts the
// figures of a feature there.
func (s *Shape) leaves(in func(feature int) int) bool {
	adds := false
	for i := range s.changes {
		x := &s.changes[i]
		if x.Last && x.holds(in) {
			return false
		}
		adds = adds || x.Adds && x.holds(in)
	}
	if adds && !slices.ContainsFunc(s.later, func(c int) bool { return in(c) > 0 }) {
		return true
	}
	for b := range s.bodies {
		left := in(b) > 0
		for c := s.bodies; left && c < s.drawn; c++ {
			left = in(c) == 0 || s.keeps[[2]int{c, b}]
		}
		for i := range s.changes {
			x := &s.changes[i]
			left = left && (x.Adds || x.From >= 0 && x.From != b || !x.holds(in))
		}
		if left {
			return true
		}
	}
	return false
}

// simple tells whether material is where a body is and no cut.
func (s *Shape) simple() bool { return s.keeps == nil && s.changes == nil }
