package blank

import "corerod/parts/plane"

// slab is one slab of the part.
type slab struct {
	region *plane.Region
	voids  []int // by cell: the connected void it belongs to, by least cell; -1 where solid
}

// cutSlabs traces the boundary and the voids of every slab.
func (s *shape) cutSlabs() {
	s.slabs = make([]slab, len(s.heights)-1)
	for k := range s.slabs {
		s.slabs[k] = slab{
			region: s.overlay.Region(func(c int) bool { return s.cells[c].solid[k] },
				func(e, in, out int) int { return s.owner(k, e, in, out) }),
			voids: s.connected(func(c int) bool { return !s.cells[c].solid[k] }),
		}
	}
}

// connected numbers the cells that keep accepts by connected group, across common edges: the least cell of each
// group; -1 for the others.
func (s *shape) connected(keep func(int) bool) []int {
	u := s.neighbours(func(a, b int) bool { return keep(a) && keep(b) })
	g := make([]int, len(u))
	for c := range g {
		g[c] = -1
		if keep(c) {
			g[c] = u.Find(c)
		}
	}
	return g
}

// neighbours puts cells with a common edge into one group where one accepts both.
func (s *shape) neighbours(one func(a, b int) bool) plane.Union {
	u := plane.NewUnion(len(s.cells))
	for i := range s.overlay.Edges {
		if e := &s.overlay.Edges[i]; one(e.Left, e.Right) {
			u.Join(e.Left, e.Right)
		}
	}
	return u
}

// closed tells whether a void cell of slab k is closed in plan.
func (s *shape) closed(k, c int) bool { return s.slabs[k].voids[c] != s.slabs[k].voids[0] }
