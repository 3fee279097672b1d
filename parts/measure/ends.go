package measure

import (
	"cmp"
	"math"
	"slices"
	"strconv"

	"corerod/parts"
	"corerod/parts/blank"
	"corerod/parts/subject"
)

// End is what a tool forms at one side of the part in one place along the axis: a land, that is a connected region of a level with
// the bosses and grooves in it, or the floor of a blind hole.
type End struct {
	Side            string
	Z               float64        // mm, of the level or floor
	Level           *subject.Level // that the land belongs to; nil for a floor
	Beside          []*End         // lands that it has an edge with in plan
	Hole            *subject.Hole  // the blind hole whose floor it is; nil for a level
	Round           *End           // of a floor: the end round the hole's mouth, nil where there is none
	Share           float64        // of a floor: depth over the overall height
	Local           float64        // of a floor: depth over the column beside it
	Said            string         // of a floor: what the part file says of its punch, as Step.Declared
	Shelf           bool           // a shelf in the die can form it, a top one if the part were turned over
	Bosses, Grooves int            // in it, of the part; those of a floor are not counted
	Pocket          float64        // mm, the greatest rise of a boss in it
	pockets         []int          // cells of bosses in it
	BossNames       []string       // the features of these
	Area            float64        // mm2
	Contour         float64        // mm
	cells           []int
	land            *subject.Common // of one of several lands of a level
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
		spread(s, side, at)
		out.lands(s, side, at)
		for _, cells := range s.Face(side).Flats() {
			switch c := cells[0]; {
			case b[side][c]:
				e := at[c]
				e.Bosses++
				e.pockets = append(e.pockets, cells...)
				for _, c := range cells {
					e.BossNames = append(e.BossNames, names(s, s.FaceOwners(c, s.Face(side).Z(c), side))...)
				}
				e.Pocket = math.Max(e.Pocket, blank.Outward(side, s.Face(side).Z(c), e.Z))
			case f.groove[side][c] && !s.EndsOnRelief(c, side):
				at[c].Grooves++
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

// lands makes an end of each connected region of a side's levels, in the order of their first cells.
func (es *ends) lands(s *blank.Shape, side string, at []*End) {
	joined := s.Neighbours(func(c, d int) bool { return at[c] != nil && at[c] == at[d] && at[c].Level != nil })
	of := map[*End][]*End{} // by level or floor
	for _, cells := range joined.Groups(func(c int) bool { return at[c] == nil }) {
		whole := at[cells[0]]
		e := *whole
		if whole.Hole != nil && of[whole] != nil { // a floor is one end
			of[whole][0].cells = append(of[whole][0].cells, cells...)
			continue
		}
		e.cells = cells
		of[whole] = append(of[whole], &e)
		es.all = append(es.all, &e)
	}
	for _, ends := range of {
		for _, e := range ends {
			for _, c := range e.cells {
				at[c] = e
				e.Area += s.Area(c)
			}
		}
	}
	border(s, at)
	for _, ends := range of {
		if len(ends) > 1 {
			nameLands(s, ends)
		}
	}
}

// border finds how long the contour of each end is, and what lies beside it.
func border(s *blank.Shape, at []*End) {
	for i := range s.Edges() {
		d, e := at[s.Edge(i).Left], at[s.Edge(i).Right]
		for _, x := range [2]*End{d, e} {
			if x != nil && d != e {
				x.Contour += s.Edge(i).Curve.Length()
			}
		}
		if d != nil && e != nil && d != e && d.Level != nil && e.Level != nil && !slices.Contains(d.Beside, e) {
			d.Beside, e.Beside = append(d.Beside, e), append(e.Beside, d)
		}
	}
}

// nameLands names the lands of one level after what makes each, with numbers from the largest on where the same makes several that are not
// alike.
func nameLands(s *blank.Shape, lands []*End) {
	for _, e := range lands {
		var owners []int
		for _, c := range e.cells {
			owners = append(owners, s.FaceOwners(c, e.Z, e.Side)...)
		}
		if len(owners) == 0 {
			for _, name := range e.Level.Features {
				owners = append(owners, numberOf(s, name))
			}
		}
		c := common(s, owners, s.Centroid(e.cells), e.Z, e.Z)
		c.Name += " " + e.Side
		e.land = &c
	}
	sorted := slices.Clone(lands)
	slices.SortStableFunc(sorted, func(d, e *End) int {
		p, q := d.land, e.land
		larger := 0
		if !d.Alike(e) {
			larger = cmp.Compare(e.Area, d.Area)
		}
		return cmp.Or(cmp.Compare(p.Name, q.Name), larger, nearly(p.X, q.X), nearly(p.Y, q.Y))
	})
	for i := 0; i < len(sorted); {
		var kinds [][]*End // of one name: those alike
		name := sorted[i].land.Name
		for ; i < len(sorted) && sorted[i].land.Name == name; i++ {
			k := slices.IndexFunc(kinds, func(es []*End) bool { return es[0].Alike(sorted[i]) })
			if k < 0 {
				k, kinds = len(kinds), append(kinds, nil)
			}
			kinds[k] = append(kinds[k], sorted[i])
		}
		for k, alike := range kinds {
			for _, e := range alike {
				if len(kinds) > 1 {
					e.land.Name += " " + strconv.Itoa(k+1)
				}
			}
		}
	}
}

// Alike tells whether two ends are copies, however drawn: at one height, and of one area and contour; of blind holes as deep.
func (e *End) Alike(o *End) bool {
	same := func(a, b float64) bool { return math.Abs(a-b) <= sameMeasure*math.Max(1, a) }
	return e.Side == o.Side && math.Abs(e.Z-o.Z) <= blank.SameHeight && (e.Hole != nil) == (o.Hole != nil) && same(e.Area, o.Area) &&
		same(e.Contour, o.Contour) && (e.Hole == nil || same(e.Hole.Depth, o.Hole.Depth))
}

// spread gives bosses and grooves to the end beside them, of several to the one with the longest common edge.
func spread(s *blank.Shape, side string, at []*End) {
	f := s.Face(side)
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

// Place is that of the land, level or blind hole, with its name and features.
func (e *End) Place() subject.Common {
	switch {
	case e.land != nil:
		return *e.land
	case e.Level != nil:
		return e.Level.Common
	}
	return e.Hole.Common
}

// Name of the land, or of the blind hole.
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
