package measure

import (
	"cmp"
	"math"
	"slices"

	"corerod/parts"
	"corerod/parts/blank"
	"corerod/parts/subject"
)

// End is what a tool forms at one side of the part in one place along the axis: a level, with the bosses and grooves in
// it, or the floor of a blind hole.
type End struct {
	Side            string
	Z               float64        // mm, of the level or floor
	Level           *subject.Level // nil for a floor
	Hole            *subject.Hole  // the blind hole whose floor it is; nil for a level
	Round           *End           // of a floor: the end round the hole's mouth, nil where there is none
	Share           float64        // of a floor: depth over the overall height
	Local           float64        // of a floor: depth over the column beside it
	Said            string         // of a floor: what the part file says of its punch, as Step.Declared
	Shelf           bool           // a shelf in the die can form it, a top one if the part were turned over
	Bosses, Grooves int            // in it, of the part
	Area            float64        // mm2
	cells           []int
}

// ends are the ends of both sides.
type ends struct {
	all []*End
	of  map[string][]*End // by side, by cell: what ends its column there; nil where there is no column
}

// findEnds gathers the ends of both sides.
func findEnds(s *blank.Shape, l *levels, f *floors, b bosses, shelves []bool) *ends {
	out := &ends{of: map[string][]*End{}}
	for _, side := range []string{"bottom", "top"} {
		known, at := map[any]*End{}, make([]*End, s.Cells())
		put := func(c int, key any, e End) {
			if known[key] == nil {
				known[key] = &e
				out.all = append(out.all, &e)
			}
			at[c] = known[key]
		}
		for c := range s.Cells() {
			switch i := l.of[side][c]; {
			case i >= 0:
				put(c, i, End{Side: side, Z: l.subjects[i].Z, Level: l.subjects[i], Shelf: shelves[i]})
			case f.blind[side][c] != nil:
				hole := f.blind[side][c]
				z := hole.ZLow
				if side == "bottom" {
					z = hole.ZHigh
				}
				put(c, hole, End{Side: side, Z: z, Hole: hole})
			}
		}
		spread(s, side, at, f, b)
		for c, e := range at {
			if e != nil {
				e.Area += s.Area(c)
				e.cells = append(e.cells, c)
			}
		}
		out.of[side] = at
	}
	low, high := s.WholeSpan()
	for _, e := range out.all {
		if e.Hole != nil {
			mouth(s, e, l, out.of[e.Side], high-low)
		}
	}
	return out
}

// spread gives bosses and grooves to the end beside them, of several to the one with the longest common edge.
func spread(s *blank.Shape, side string, at []*End, fs *floors, b bosses) {
	f := s.Face(side)
	defer func() {
		for _, cells := range f.Flats() {
			switch c := cells[0]; {
			case b[side][c]:
				at[c].Bosses++
			case fs.groove[side][c] && !s.EndsOnRelief(c, side):
				at[c].Grooves++
			}
		}
	}()
	for again := true; again; {
		again = false
		beside := map[int]map[*End]float64{} // by flat without an end
		for i := range s.Edges() {
			e := s.Edge(i)
			for _, p := range [2][2]int{{e.Left, e.Right}, {e.Right, e.Left}} {
				if !f.Solid(p[0]) || at[p[0]] != nil || at[p[1]] == nil {
					continue
				}
				g := f.Flat(p[0])
				if beside[g] == nil {
					beside[g] = map[*End]float64{}
				}
				beside[g][at[p[1]]] += e.Curve.Length()
			}
		}
		for c := range at {
			if f.Solid(c) && at[c] == nil {
				if e := longest(beside[f.Flat(c)]); e != nil {
					at[c], again = e, true
				}
			}
		}
	}
}

// longest is the end with the greatest length or area; of equal ones a level first, then the one that starts first, by name and place.
func longest(beside map[*End]float64) (best *End) {
	before := func(a, b *End) bool {
		if (a.Level != nil) != (b.Level != nil) {
			return a.Level != nil
		}
		p, q := a.Place(), b.Place()
		return cmp.Or(cmp.Compare(p.ZLow, q.ZLow), cmp.Compare(p.Name, q.Name), cmp.Compare(p.X, q.X), cmp.Compare(p.Y, q.Y)) < 0
	}
	for e, d := range beside {
		if best == nil || d > beside[best]+longer || math.Abs(d-beside[best]) <= longer && before(e, best) {
			best = e
		}
	}
	return best
}

// over is the end that takes the most of some cells.
func (es *ends) over(s *blank.Shape, side string, cells []int) *End {
	areas := map[*End]float64{}
	for _, c := range cells {
		if e := es.of[side][c]; e != nil {
			areas[e] += s.Area(c)
		}
	}
	return longest(areas)
}

// Place is that of the level or blind hole, with its name and features.
func (e *End) Place() subject.Common {
	if e.Level != nil {
		return e.Level.Common
	}
	return e.Hole.Common
}

// Name of the level, or of the blind hole.
func (e *End) Name() string { return e.Place().Name }

// mouth finds what lies round the mouth of a blind hole, and how deep the hole is against it.
func mouth(s *blank.Shape, e *End, l *levels, at []*End, height float64) {
	beside := map[*End]float64{}
	taller := 0.0
	for i := range s.Edges() {
		edge := s.Edge(i)
		for _, p := range [2][2]int{{edge.Left, edge.Right}, {edge.Right, edge.Left}} {
			if at[p[0]] == e && at[p[1]] != nil && at[p[1]] != e {
				if blank.Outward(e.Side, at[p[1]].Z, e.Z) > blank.SameHeight { // the face that holds a pin is nearer to its mouth
					beside[at[p[1]]] += edge.Curve.Length()
				}
				high := func(t float64) float64 { return -fullAt(s, l, p[1], edge.Curve.At(t)) }
				least := high(0.5)
				if s.Face("top").Sloped(p[1]) || s.Face("bottom").Sloped(p[1]) {
					_, least = blank.LeastAlong(high)
				}
				taller = math.Max(taller, -least)
			}
		}
	}
	e.Round = longest(beside)
	e.Share = e.Hole.Depth / height
	if taller > 0 {
		e.Local = e.Hole.Depth / taller
	}
	var owners []int
	for _, f := range e.Hole.Features {
		owners = append(owners, slices.IndexFunc(s.Features()[s.Bodies():], func(x *parts.Feature) bool { return x.Name == f })+s.Bodies())
	}
	e.Said = declared(s, slices.DeleteFunc(owners, func(f int) bool { return !s.IsCut(f) }))
}
