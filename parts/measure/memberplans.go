package measure

import (
	"math"
	"slices"

	"corerod/parts/blank"
	"corerod/parts/plane"
	"corerod/parts/subject"
)

// Section finds the thinnest necks, mm, of the plan of a member that forms some ends of a side: of all, in which teeth
// do not count among themselves, and of those with an end on the boundary to a neighbouring punch or on a step in its
// own face or beside a pocket for a boss, but for those to teeth, where there are any; and of these those beside a pocket. A plan without
// a neck is as thick as the widest circle in it.
func (m *Measured) Section(ends []*End) (section float64, step, pocket subject.Optional) {
	s, side := m.Shape, ends[0].Side
	in := make([]bool, s.Cells())
	for _, e := range ends {
		for _, c := range e.cells {
			in[c] = m.punched(c, side)
		}
	}
	besideTeeth := func(a, b int) bool { return besideButTeeth(s, a, b) }
	least := math.Inf(1)
	keep := func(r *plane.Region) {
		if d, ok := r.Least(besideTeeth, least); ok {
			least, step = d, subject.Some(d)
		}
	}
	if slices.ContainsFunc(ends, func(e *End) bool { return len(e.pockets) > 0 }) {
		face := slices.Clone(in)
		for _, e := range ends {
			for _, c := range e.pockets {
				face[c] = false
			}
		}
		keep(m.sectionOf(face, side))
		pocket = step
	}
	for _, e := range ends {
		if e.Level != nil && projects(e, ends) {
			own := make([]bool, s.Cells())
			for _, c := range e.cells {
				own[c] = in[c]
			}
			keep(m.sectionOf(own, side))
		}
	}
	bordered := m.bordered(in, side)
	if d, ok := leastOfSlab(s, in, m.necks); ok && !bordered {
		return d, step, pocket
	}
	whole := m.sectionOf(in, side)
	most := math.Inf(1)
	if bordered {
		if d, ok := whole.Least(besideTeeth, most); ok {
			most = d
			step = subject.Some(math.Min(least, d))
		}
	}
	if d, ok := whole.Least(func(a, b int) bool { return notOneToothed(s, a, b) }, most); ok {
		most = d
	}
	if math.IsInf(most, 1) {
		most = 2 * whole.Inscribed().R
	}
	return most, step, pocket
}

// Posts are the connected regions without a hole of the plan of a punch that forms some ends of a side: the area of each, mm2, and its
// least second moment, mm4. A region with a hole in it is a ring, which buckles otherwise.
func (m *Measured) Posts(ends []*End) (all [][2]float64) {
	s, side := m.Shape, ends[0].Side
	in := make([]bool, s.Cells())
	for _, e := range ends {
		for _, c := range e.cells {
			in[c] = m.punched(c, side)
		}
	}
	joined := s.Neighbours(func(a, b int) bool { return in[a] && in[b] })
	for _, cells := range joined.Groups(func(c int) bool { return !in[c] }) {
		r := s.RegionOf(cells)
		if len(r.Rings) != 1 {
			continue
		}
		l := r.Rings[0].Loop()
		all = append(all, [2]float64{l.Moments().Area, plane.SecondMoments(l).Least()})
	}
	return all
}

// passes tells whether a cell's column ends, on a side, on the tapered wall of the die or a core rod: a punch stops short of it.
func (m *Measured) passes(c int, side string) bool {
	return m.Shape.HasMaterial(c) && m.Shape.Steep(c, side) && m.open[side][c]
}

// besideButTeeth leaves necks without an end on another member out, and those to teeth: they are root walls.
func besideButTeeth(s *blank.Shape, a, b int) bool {
	other := max(a, b)
	return min(a, b) == another && (other == another || !hasTeeth(s, other))
}

// leastOfSlab is the least neck of the plan of cells that are those of a slab, whose necks are known; false where there is
// no such slab, or no neck.
func leastOfSlab(s *blank.Shape, in []bool, ns *necks) (float64, bool) {
	for k := range s.Slabs() {
		same := true
		for c := range in {
			same = same && s.Solid(c, k) == in[c]
		}
		if !same {
			continue
		}
		least := math.Inf(1)
		for _, n := range ns.slabs[k] {
			if !n.Void {
				least = math.Min(least, n.Width)
			}
		}
		return least, !math.IsInf(least, 1)
	}
	return 0, false
}

// bordered tells whether material that another punch forms on a side lies beside cells.
func (m *Measured) bordered(in []bool, side string) bool {
	for i := range m.Shape.Edges() {
		e := m.Shape.Edge(i)
		if in[e.Left] != in[e.Right] && m.punched(e.Left, side) && m.punched(e.Right, side) {
			return true
		}
	}
	return false
}

// projects tells whether a level is set back from another one that the same member forms: there the member's face
// stands out.
func projects(e *End, ends []*End) bool {
	return slices.ContainsFunc(ends, func(o *End) bool {
		return o.Level != nil && blank.Outward(e.Side, o.Level.Z, e.Level.Z) > blank.SameHeight
	})
}

// another owns the edges of a section to material that another punch forms.
const another = -1

// punched tells whether a punch forms the end of a cell's column on a side.
func (m *Measured) punched(c int, side string) bool {
	return m.Shape.HasMaterial(c) && !m.passes(c, side)
}

// sectionOf is the plan of cells at one side of the part: its edges are owned by another, or by the outline of the part.
func (m *Measured) sectionOf(in []bool, side string) *plane.Region {
	s := m.Shape
	return s.Trace(func(c int) bool { return in[c] }, func(e, c, out int) int {
		if m.punched(out, side) {
			return another
		}
		r, _ := s.Column(c)
		if side == "top" {
			return s.Owner(r.Hi, e, c, out)
		}
		return s.Owner(r.Lo, e, c, out)
	})
}
