package measure

import "corerod/parts/blank"

// Walls are the areas of the walls, mm2, that slide on the die and on core rods when the part is ejected; on is the
// levels that stand on shelves of the die. A wall beside a punch does not count: it goes along.
func (m *Measured) Walls(on []*End) (die, core float64) {
	s := m.Shape
	shelf := make([]string, s.Cells()) // by cell: the side of the shelf that it stands on
	for _, e := range on {
		for _, c := range e.cells {
			shelf[c] = e.Side
		}
	}
	for i := range s.Edges() {
		e := s.Edge(i)
		for _, p := range [2][2]int{{e.Left, e.Right}, {e.Right, e.Left}} {
			for k := range s.Slabs() {
				if !s.Solid(p[0], k) || s.Solid(p[1], k) {
					continue
				}
				area := e.Curve.Length() * (s.Z(k+1) - s.Z(k))
				if r, ok := s.Column(p[1]); ok && !isWall(s, k, i, p[0], p[1]) {
					if shelf[p[1]] == "bottom" && k < r.Lo || shelf[p[1]] == "top" && k > r.Hi {
						die += area
					}
					continue // else a punch forms it
				}
				if s.Closed(k, p[1]) {
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
func isWall(s *blank.Shape, k, edge, in, out int) bool {
	o := s.Owner(k, edge, in, out)
	if !s.Leans(o) || s.Feature(s.FeatureOf(o)).Relief != nil {
		return false
	}
	a := s.Slope(o).Lean()
	return a > 0 && a <= MostWall
}
