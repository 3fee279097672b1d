package plane

import (
	"cmp"
	"maps"
	"math/bits"
	"slices"
)

// Narrow tells whether a region is nowhere as wide as the rounding of drawing numbers: a strip by its area and the length of its two
// sides, what is as short as wide by the largest disc in it.
func (r *Region) Narrow() bool {
	area, contour := r.Moments().Area, 0.0
	for i := range r.pieces {
		contour += r.pieces[i].Curve.Length()
	}
	switch {
	case 2*area >= Thin*contour: // no region is larger than its contour times the radius of the largest disc in it
		return false
	case contour > aStrip*Thin:
		return 2*area < (Thin-Near)*(contour-2*Thin) // one drawn as wide as that is no trace of rounding
	}
	return 2*r.Inscribed().R < Thin-Near
}

// Thinning says what becomes of the thin cells of an overlay.
type Thinning struct {
	Stays    func(figures []int) bool  // whether a cell between outlines that may well lie close stays, by the figures of its edges
	Material func(inside Set) (at Set) // at which heights a cell inside some figures is material
}

// MergeThin gives cells thinner than Thin, but those beside a divider, the set of a neighbour: of one that is material wherever they are,
// at best nowhere else, and of the one with the longest common edge. A thin cell of material that is void on both sides at the same height
// is a wall, and stays. Beside a divider slopes cross, and what is thin between their sections is no trace of rounding.
func (o *Overlay) MergeThin(t Thinning) {
	m := o.thinCells(t)
	for {
		next := map[int]Set{}
		for c := range m.thin {
			if d, ok := m.best(c); ok && m.holds(d, c) {
				next[c] = o.Cells[d].Inside
			}
		}
		if len(next) == 0 {
			break
		}
		m.settle(next)
	}
	next := map[int]Set{}
	for c := range m.thin {
		if d, ok := m.best(c); ok && !m.isWall(c) {
			next[c] = o.Cells[d].Inside
		}
	}
	m.settle(next)
}

// merging is what MergeThin has so far.
type merging struct {
	o *Overlay
	Thinning
	thin     map[int]bool            // that have not joined a neighbour yet
	shared   map[int]map[int]float64 // by thin cell and neighbour: the length of their common edges
	contour  []float64               // by cell
	material map[int]Set             // by cell, of those that were asked for
}

// thinCells finds the thin cells of an overlay.
func (o *Overlay) thinCells(t Thinning) *merging {
	m := &merging{o: o, Thinning: t, thin: map[int]bool{}, shared: map[int]map[int]float64{}, contour: make([]float64, len(o.Cells)),
		material: map[int]Set{}}
	for e := range o.Edges {
		d := o.Edges[e].Curve.Length()
		m.contour[o.Edges[e].Left] += d
		m.contour[o.Edges[e].Right] += d
	}
	for c := 1; c < len(o.Cells); c++ {
		m.thin[c] = 2*o.Cells[c].Moments.Area < Thin*m.contour[c]
	}
	figures := map[int][]int{} // by thin cell: those of its edges
	divided := map[int]bool{}  // by thin cell: some edge of it is a divider
	for e := range o.Edges {
		l, r := o.Edges[e].Left, o.Edges[e].Right
		for _, pair := range [2][2]int{{l, r}, {r, l}} {
			c, d := pair[0], pair[1]
			if !m.thin[c] {
				continue
			}
			figures[c] = append(figures[c], o.Edges[e].Figures...)
			divided[c] = divided[c] || len(o.Edges[e].Figures) == 0
			if m.shared[c] == nil {
				m.shared[c] = map[int]float64{}
			}
			if c != d {
				m.shared[c][d] += o.Edges[e].Curve.Length()
			}
		}
	}
	maps.DeleteFunc(m.thin, func(c int, thin bool) bool {
		alone := func(d int) bool { return d == c }
		return !thin || divided[c] || t.Stays(figures[c]) || !o.Region(alone, func(int, int, int) int { return 0 }).Narrow()
	})
	return m
}

// best is the neighbour that a thin cell joins, among those that are not thin or have joined another.
func (m *merging) best(c int) (best int, found bool) {
	var all []int
	for d := range m.shared[c] {
		if !m.thin[d] {
			all = append(all, d)
		}
	}
	if len(all) == 0 {
		return 0, false
	}
	no := func(yes bool) int {
		if yes {
			return 0
		}
		return 1
	}
	return slices.MinFunc(all, func(a, b int) int {
		return cmp.Or(no(m.holds(a, c))-no(m.holds(b, c)), no(m.same(a, c))-no(m.same(b, c)),
			cmp.Compare(m.shared[c][b], m.shared[c][a]), a-b)
	}), true
}

// holds tells whether a neighbour lies along a side of a thin cell, and not at one of its ends, and is material wherever the cell is.
func (m *merging) holds(d, c int) bool {
	return m.shared[c][d] >= aSide*m.contour[c] && m.at(c).within(m.at(d))
}

// same tells whether a neighbour that holds a thin cell is material nowhere else: what is void outside a part stays so beside it.
func (m *merging) same(d, c int) bool { return m.holds(d, c) && m.at(d).within(m.at(c)) }

// isWall tells whether a thin cell is material at some height at which what lies beside it is void: it is held there along less than a
// side.
func (m *merging) isWall(c int) bool {
	for w, word := range m.at(c) {
		for ; word != 0; word &= word - 1 {
			k := 64*w + bits.TrailingZeros64(word)
			held := 0.0
			for _, d := range slices.Sorted(maps.Keys(m.shared[c])) {
				if !m.thin[d] && m.at(d).Has(k) {
					held += m.shared[c][d]
				}
			}
			if held < aSide*m.contour[c] {
				return true
			}
		}
	}
	return false
}

// at are the heights at which a cell is material.
func (m *merging) at(c int) Set {
	s, known := m.material[c]
	if !known {
		s = m.Material(m.o.Cells[c].Inside)
		m.material[c] = s
	}
	return s
}

// settle gives thin cells the sets of others.
func (m *merging) settle(next map[int]Set) {
	for c, inside := range next {
		m.o.Cells[c].Drawn, m.o.Cells[c].Inside = m.o.Cells[c].Inside, inside
		delete(m.thin, c)
		delete(m.material, c)
	}
}

// within tells whether all of a set is in another.
func (s Set) within(t Set) bool {
	for i, word := range s {
		if word&^t[i] != 0 {
			return false
		}
	}
	return true
}
