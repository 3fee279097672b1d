package blank

import (
	"math"
	"slices"

	"corerod/parts"
	"corerod/parts/plane"
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

// Column is a column of powder between two ends.
type Column struct {
	*subject.Column
	Top, Bottom *End
	Volume      float64 // mm3, of material
	Low         float64 // mm, its lower face, over sloped ones the mean
	Contact     float64 // mm2, of wall on die, core rods and neighbouring punches
}

// findEnds gathers the ends of both sides, and gives by side and cell the end that the cell's column has there.
func (s *shape) findEnds(l *levels, h *holes) (all []*End, of map[string][]*End) {
	of = map[string][]*End{}
	for _, side := range []string{"bottom", "top"} {
		ends, at := map[any]*End{}, make([]*End, len(s.cells))
		put := func(c int, key any, e End) {
			if ends[key] == nil {
				ends[key] = &e
				all = append(all, &e)
			}
			at[c] = ends[key]
		}
		for c := range s.cells {
			switch i := l.of[side][c]; {
			case i >= 0:
				put(c, i, End{Side: side, Z: l.subjects[i].Z, Level: l.subjects[i], Shelf: l.shelf[i]})
			case h.blind[side][c] != nil:
				hole := h.blind[side][c]
				z := hole.ZLow
				if side == "bottom" {
					z = hole.ZHigh
				}
				put(c, hole, End{Side: side, Z: z, Hole: hole})
			}
		}
		s.spread(side, at, l, h)
		for c, e := range at {
			if e != nil {
				e.Area += s.area(c)
				e.cells = append(e.cells, c)
			}
		}
		of[side] = at
	}
	low, high := s.spanAll()
	for _, e := range all {
		if e.Hole != nil {
			s.mouth(e, l, of[e.Side], high-low)
		}
	}
	return all, of
}

// spread gives bosses and grooves to the end beside them, of several to the one with the longest common edge.
func (s *shape) spread(side string, at []*End, l *levels, h *holes) {
	f := s.face(side)
	defer func() {
		for _, cells := range f.groups() {
			switch c := cells[0]; {
			case l.boss[side][c]:
				at[c].Bosses++
			case h.groove[side][c]:
				at[c].Grooves++
			}
		}
	}()
	for again := true; again; {
		again = false
		beside := map[int]map[*End]float64{} // by flat without an end
		for i := range s.overlay.Edges {
			e := &s.overlay.Edges[i]
			for _, p := range [2][2]int{{e.Left, e.Right}, {e.Right, e.Left}} {
				if !f.solid[p[0]] || at[p[0]] != nil || at[p[1]] == nil {
					continue
				}
				g := f.flats.Find(p[0])
				if beside[g] == nil {
					beside[g] = map[*End]float64{}
				}
				beside[g][at[p[1]]] += e.Curve.Length()
			}
		}
		for c := range at {
			if f.solid[c] && at[c] == nil {
				if e := longest(beside[f.flats.Find(c)]); e != nil {
					at[c], again = e, true
				}
			}
		}
	}
}

// longest is the end with the greatest length; of equal ones a level first, then the one that starts first.
func longest(beside map[*End]float64) (best *End) {
	before := func(a, b *End) bool {
		if (a.Level != nil) != (b.Level != nil) {
			return a.Level != nil
		}
		p, q := a.Place(), b.Place()
		return p.ZLow < q.ZLow || p.ZLow == q.ZLow && p.Name < q.Name
	}
	for e, d := range beside {
		if best == nil || d > beside[best]+longer || math.Abs(d-beside[best]) <= longer && before(e, best) {
			best = e
		}
	}
	return best
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
func (s *shape) mouth(e *End, l *levels, at []*End, height float64) {
	beside := map[*End]float64{}
	taller := 0.0
	for i := range s.overlay.Edges {
		edge := &s.overlay.Edges[i]
		for _, p := range [2][2]int{{edge.Left, edge.Right}, {edge.Right, edge.Left}} {
			if at[p[0]] == e && at[p[1]] != nil && at[p[1]] != e {
				beside[at[p[1]]] += edge.Curve.Length()
				taller = math.Max(taller, s.full(l, p[1]))
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
		owners = append(owners, slices.IndexFunc(s.features[s.bodies:], func(x *parts.Feature) bool { return x.Name == f })+s.bodies)
	}
	e.Said = s.declared(slices.DeleteFunc(owners, func(f int) bool { return f < s.bodies }))
}

// columnsBetween turns the columns into what tools press: with the ends of each.
func (s *shape) columnsBetween(of map[string][]*End) (out []Column) {
	for _, p := range s.plates() {
		c := Column{Column: s.column(p.cells, p.low, p.high), Top: of["top"][p.cells[0]], Bottom: of["bottom"][p.cells[0]]}
		for _, x := range p.cells {
			for _, r := range s.cells[x].runs {
				c.Volume += s.area(x) * (s.top(r) - s.bottom(r))
			}
			z, _ := s.end(x, "bottom")
			c.Low += s.area(x) * z
		}
		c.Low /= c.Area
		c.Contact = c.Perimeter * c.Height
		out = append(out, c)
	}
	return out
}

// Walls are the areas of the walls, mm2, that slide on the die and on core rods when the part is ejected; on is the
// levels that stand on shelves of the die. A wall beside a punch does not count: it goes along.
func (b *Blank) Walls(on []*End) (die, core float64) {
	s := b.shape
	shelf := make([]bool, len(s.cells))
	for _, e := range on {
		for _, c := range e.cells {
			shelf[c] = true
		}
	}
	for i := range s.overlay.Edges {
		e := &s.overlay.Edges[i]
		for _, p := range [2][2]int{{e.Left, e.Right}, {e.Right, e.Left}} {
			for k := range s.slabs {
				if !s.cells[p[0]].solid[k] || s.cells[p[1]].solid[k] {
					continue
				}
				area := e.Curve.Length() * (s.heights[k+1] - s.heights[k])
				if r, ok := s.cells[p[1]].column(); ok && !s.isWall(k, i, p[0], p[1]) {
					if shelf[p[1]] && k < r.lo {
						die += area
					}
					continue // else a punch forms it
				}
				if s.closed(k, p[1]) {
					core += area
				} else {
					die += area
				}
			}
		}
	}
	return die, core
}

// isWall tells whether the wall between two cells in a slab is a slope that die or core rod form.
func (s *shape) isWall(k, edge, in, out int) bool {
	o := &s.outlines[s.owner(k, edge, in, out)]
	if !o.leans {
		return false
	}
	a := s.leastDraft([]int{o.feature}, s.heights[k], s.heights[k+1], s.overlay.Edges[edge].Around(in))
	return a > 0 && a <= MostWall
}

// Section finds the thinnest necks, mm, of the plan of a member that forms some ends of a side: of all, in which teeth
// do not count among themselves, and of those with an end on the boundary to a neighbouring punch or on a step in its
// own face, but for those to teeth, where there are any. A plan without a neck is as thick as the widest circle in it.
func (b *Blank) Section(ends []*End) (section float64, step subject.Optional) {
	s, side := b.shape, ends[0].Side
	in := make([]bool, len(s.cells))
	for _, e := range ends {
		for _, c := range e.cells {
			in[c] = true
		}
	}
	least := math.Inf(1)
	keep := func(r *plane.Region) {
		if d, ok := r.Least(s.besideButTeeth, least); ok {
			least, step = d, subject.Some(d)
		}
	}
	for _, e := range ends {
		if e.Level != nil && s.projects(e, ends) {
			own := make([]bool, len(s.cells))
			for _, c := range e.cells {
				own[c] = true
			}
			keep(s.sectionOf(own, side))
		}
	}
	bordered := s.bordered(in)
	if d, ok := s.leastOfSlab(in); ok && !bordered {
		return d, step
	}
	whole := s.sectionOf(in, side)
	most := math.Inf(1)
	if bordered {
		if d, ok := whole.Least(s.besideButTeeth, most); ok {
			most = d
			step = subject.Some(math.Min(least, d))
		}
	}
	if d, ok := whole.Least(s.notOneToothed, most); ok {
		most = d
	}
	if math.IsInf(most, 1) {
		most = 2 * whole.Inscribed().R
	}
	return most, step
}

// besideButTeeth leaves necks without an end on another member out, and those to teeth: they are root walls.
func (s *shape) besideButTeeth(a, b int) bool {
	other := max(a, b)
	return min(a, b) == beside && (other == beside || !s.hasTeeth(other))
}

// leastOfSlab is the least neck of the plan of cells that are those of a slab, whose necks are known; false where there is
// no such slab, or no neck.
func (s *shape) leastOfSlab(in []bool) (float64, bool) {
	for k := range s.slabs {
		same := true
		for c := range in {
			same = same && s.cells[c].solid[k] == in[c]
		}
		if !same {
			continue
		}
		least := math.Inf(1)
		for _, n := range s.slabs[k].necks {
			if !n.Void {
				least = math.Min(least, n.Width)
			}
		}
		return least, !math.IsInf(least, 1)
	}
	return 0, false
}

// bordered tells whether material that another member forms lies beside cells.
func (s *shape) bordered(in []bool) bool {
	for i := range s.overlay.Edges {
		e := &s.overlay.Edges[i]
		if in[e.Left] != in[e.Right] && len(s.cells[e.Left].runs) > 0 && len(s.cells[e.Right].runs) > 0 {
			return true
		}
	}
	return false
}

// projects tells whether a level is set back from another one that the same member forms: there the member's face
// stands out.
func (s *shape) projects(e *End, ends []*End) bool {
	return slices.ContainsFunc(ends, func(o *End) bool {
		return o.Level != nil && outward(e.Side, o.Level.Z, e.Level.Z) > sameHeight
	})
}

// beside owns the edges of a section to material that another member forms.
const beside = -1

// sectionOf is the plan of cells at one side of the part: its edges are owned by beside, or by the outline of the part.
func (s *shape) sectionOf(in []bool, side string) *plane.Region {
	return s.overlay.Region(func(c int) bool { return in[c] }, func(e, c, out int) int {
		if len(s.cells[out].runs) > 0 {
			return beside
		}
		r, _ := s.cells[c].column()
		if side == "top" {
			return s.owner(r.hi, e, c, out)
		}
		return s.owner(r.lo, e, c, out)
	})
}
