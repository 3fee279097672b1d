package blank

import "corerod/parts/plane"

// slab is one slab of the part.
type slab struct {
	region *plane.Region
	voids  []int // by cell: the connected void it belongs to, by least cell; -1 where solid
}

// Slabs is the number of slabs, from the lowest up.
func (s *Shape) Slabs() int { return len(s.slabs) }

// Z is the height between two slabs, mm: slab k lies between Z(k) and Z(k+1).
func (s *Shape) Z(k int) float64 { return s.heights[k] }

// Region is the material of slab k in plan; each piece of its boundary is owned by the figure that makes it.
func (s *Shape) Region(k int) *plane.Region { return s.slabs[k].region }

// Voids tells by cell which connected void of slab k it belongs to, by the void's least cell; -1 where it is solid. The
// one of cell 0 is open to the outside.
func (s *Shape) Voids(k int) []int { return s.slabs[k].voids }

// cutSlabs traces the boundary and the voids of every slab.
func (s *Shape) cutSlabs() {
	s.slabs = make([]slab, len(s.heights)-1)
	for k := range s.slabs {
		s.slabs[k] = slab{
			region: s.overlay.Region(func(c int) bool { return s.cells[c].solid[k] },
				func(e, in, out int) int { return s.Owner(k, e, in, out) }),
			voids: s.Connected(func(c int) bool { return !s.cells[c].solid[k] }),
		}
	}
}

// Connected numbers the cells that keep accepts by connected group, across common edges: the least cell of each
// group; -1 for the others.
func (s *Shape) Connected(keep func(int) bool) []int {
	u := s.Neighbours(func(a, b int) bool { return keep(a) && keep(b) })
	g := make([]int, len(u))
	for c := range g {
		g[c] = -1
		if keep(c) {
			g[c] = u.Find(c)
		}
	}
	return g
}

// Neighbours puts cells with a common edge into one group where one accepts both.
func (s *Shape) Neighbours(one func(a, b int) bool) plane.Union {
	u := plane.NewUnion(len(s.cells))
	for i := range s.overlay.Edges {
		if e := &s.overlay.Edges[i]; one(e.Left, e.Right) {
			u.Join(e.Left, e.Right)
		}
	}
	return u
}

// Closed tells whether a void cell of slab k is closed in plan.
func (s *Shape) Closed(k, c int) bool { return s.slabs[k].voids[c] != s.slabs[k].voids[0] }
