package blank

import (
	"corerod/parts/plane"
	"corerod/parts/subject"
	"math"
	"slices"
)

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
	if d, ok := s.leastOfSlab(in, b.necks); ok && !bordered {
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
func (s *shape) leastOfSlab(in []bool, ns necks) (float64, bool) {
	for k := range s.slabs {
		same := true
		for c := range in {
			same = same && s.cells[c].solid[k] == in[c]
		}
		if !same {
			continue
		}
		least := math.Inf(1)
		for _, n := range ns[k] {
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
