package blank

import (
	"corerod/parts/plane"
	"maps"
	"math"
	"slices"
)

// face is one end of the part, "top" or "bottom", cell by cell.
type face struct {
	side   string
	z      []float64   // height of the flat that the cell belongs to
	solid  []bool      // whether its column ends here at all
	sloped []bool      // whether it ends on a slope, which belongs to a flat
	flats  plane.Union // neighbouring cells of one flat
}

// face is one side of the part, "top" or "bottom".
func (s *shape) face(side string) *face { return s.faces[side] }

// findFaces finds both sides of the part, when no cell changes any more.
func (s *shape) findFaces() {
	s.faces = map[string]*face{"bottom": s.findFace("bottom"), "top": s.findFace("top")}
}

// findFace joins the ends of columns on a side to flats, and slopes to the flats that they belong to.
func (s *shape) findFace(side string) *face {
	f := &face{side: side, z: make([]float64, len(s.cells)), solid: make([]bool, len(s.cells)), sloped: make([]bool, len(s.cells))}
	owner := make([]int, len(s.cells)) // of a slope
	for c := range s.cells {
		f.z[c], f.solid[c] = s.end(c, side)
		if f.solid[c] {
			owner[c], f.sloped[c] = s.slopeOf(c, f.z[c], side)
		}
	}
	f.flats = s.neighbours(func(a, b int) bool {
		switch {
		case !f.solid[a] || !f.solid[b] || f.sloped[a] != f.sloped[b]:
			return false
		case f.sloped[a]:
			return owner[a] == owner[b]
		}
		return math.Abs(f.z[a]-f.z[b]) <= sameHeight
	})
	s.joinSlopes(f, owner)
	return f
}

// slopeOf is the feature whose slope ends a cell's column, and whether one does: no flat of any feature ends it there.
func (s *shape) slopeOf(c int, z float64, side string) (feature int, sloped bool) {
	flat := false
	s.overlay.Cells[c].Inside.Each(func(i int) {
		o := &s.outlines[i]
		end := 1 // the upper end of a body is a top face, of a cut a bottom face
		if (o.feature < s.bodies) != (side == "top") {
			end = 0
		}
		switch {
		case math.Abs(s.ranges[i][end]-z) > sameHeight:
		case o.sloped[end]:
			feature, sloped = o.feature, true
		default:
			flat = true
		}
	})
	return feature, sloped && !flat
}

// slopeBeside is the feature whose slope ends the column of a cell below or above slab k, where the cell is void.
func (s *shape) slopeBeside(k, c int) (feature int, sloped bool) {
	r, ok := s.cells[c].column()
	switch {
	case !ok:
		return 0, false
	case k > r.hi:
		return s.slopeOf(c, s.top(r), "top")
	}
	return s.slopeOf(c, s.bottom(r), "bottom")
}

// joinSlopes puts each slope to the flat of its own feature that it touches, a countersink to the face round it. A
// slope without one is a face of its own, at its outer end if it is a body's, at its floor if it is a cut's.
func (s *shape) joinSlopes(f *face, owner []int) {
	slopes := map[int]bool{}
	for c := range f.sloped {
		if f.sloped[c] {
			slopes[f.flats.Find(c)] = true
		}
	}
	if len(slopes) == 0 {
		return
	}
	void := s.connected(func(c int) bool { return len(s.cells[c].runs) == 0 })
	joins, sinks, through := map[int]int{}, map[int]int{}, map[int]bool{}
	for i := range s.overlay.Edges {
		e := &s.overlay.Edges[i]
		for _, p := range [2][2]int{{e.Left, e.Right}, {e.Right, e.Left}} {
			c, d := p[0], p[1]
			if !f.sloped[c] {
				continue
			}
			g := f.flats.Find(c)
			switch {
			case !f.solid[d]:
				through[g] = through[g] || void[d] != void[0]
			case owner[c] == owner[d] && f.sloped[d]:
			case !f.sloped[d] && slices.Contains(s.faceOwners(d, f.z[d], f.side), owner[c]):
				// of two flats at its ends, as of a cone in section, a body's the outer one, a cut's the inner
				if at, ok := joins[g]; !ok || (outward(f.side, f.z[d], f.z[at]) > 0) == (owner[c] < s.bodies) {
					joins[g] = d
				}
			case owner[c] >= s.bodies && s.features[owner[c]].Section == "" && outward(f.side, f.z[d], f.z[c]) > 0:
				if at, ok := sinks[g]; !ok || outward(f.side, f.z[at], f.z[d]) > 0 { // the nearest of several
					sinks[g] = d
				}
			}
		}
	}
	for _, g := range slices.Sorted(maps.Keys(slopes)) {
		d, ok := joins[g]
		if !ok && through[g] {
			d, ok = sinks[g]
		}
		if ok {
			f.flats.Join(g, d)
		}
	}
	s.setSlopes(f, owner)
}

// setSlopes gives the slopes of each group the height of its flat; where it has none, that of the outer end of a body's
// slope, else that of the floor of a cut's.
func (s *shape) setSlopes(f *face, owner []int) {
	type end struct {
		z    float64
		rank int // 3 for a flat, 2 for a body's slope, 1 for a cut's
	}
	ends := map[int]end{}
	for c := range f.z {
		if !f.solid[c] {
			continue
		}
		e, g := end{f.z[c], 3}, f.flats.Find(c)
		if f.sloped[c] {
			e.rank = 1
			if owner[c] < s.bodies {
				e.rank = 2
			}
		}
		old := ends[g]
		further := outward(f.side, e.z, old.z) > 0
		if e.rank > old.rank || e.rank == old.rank && e.rank < 3 && further == (e.rank == 2) {
			ends[g] = e
		}
	}
	for c := range f.z {
		if f.sloped[c] {
			f.z[c] = ends[f.flats.Find(c)].z
		}
	}
}

// groups are the flats with material.
func (f *face) groups() [][]int {
	return f.flats.Groups(func(c int) bool { return !f.solid[c] })
}

// end is the height of a cell's column on a side.
func (s *shape) end(c int, side string) (float64, bool) {
	r, ok := s.cells[c].column()
	if !ok {
		return 0, false
	}
	if side == "top" {
		return s.top(r), true
	}
	return s.bottom(r), true
}

// outward is positive where height a lies further out than b on a side.
func outward(side string, a, b float64) float64 {
	if side == "top" {
		return a - b
	}
	return b - a
}
