package blank

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
