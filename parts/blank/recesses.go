package blank

import (
	"corerod/parts/plane"
	"corerod/parts/subject"
	"math"
	"slices"
)

// void is one connected void, closed in plan, of one slab.
type void struct {
	slab  int
	cells []int
}

// recesses finds the voids closed in plan that a floor shuts at one end. One that holds a through-hole is its
// counterbore, one around an island the recess of a web: their floors are levels. A narrow one is a groove, the others
// are blind holes. Voids of neighbouring slabs are one recess where neither meets another void there.
func (s *shape) recesses(h *holes) {
	var voids []void
	at := make([][]int, len(s.slabs)) // by slab, by cell: number of the void plus one
	for k := range s.slabs {
		at[k] = make([]int, len(s.cells))
		for _, cells := range groups(s.slabs[k].voids) {
			if !s.closed(k, cells[0]) {
				continue
			}
			voids = append(voids, void{k, cells})
			for _, c := range cells {
				at[k][c] = len(voids)
			}
		}
	}
	above, below := make([]map[int]bool, len(voids)), make([]map[int]bool, len(voids))
	for i := range voids {
		above[i], below[i] = map[int]bool{}, map[int]bool{}
	}
	for i, v := range voids {
		for _, c := range v.cells {
			if v.slab > 0 && at[v.slab-1][c] > 0 {
				j := at[v.slab-1][c] - 1
				below[i][j], above[j][i] = true, true
			}
		}
	}
	stack := plane.NewUnion(len(voids))
	for i := range voids {
		for j := range below[i] {
			if len(below[i]) == 1 && len(above[j]) == 1 && s.holed(h, voids[i]) == s.holed(h, voids[j]) {
				stack.Join(i, j)
			}
		}
	}
	for _, g := range stack.Groups(nil) {
		var vs []void
		for _, i := range g {
			vs = append(vs, voids[i])
		}
		s.recess(h, vs)
	}
}

// holed tells whether a void holds a through-hole.
func (s *shape) holed(h *holes, v void) bool {
	return slices.ContainsFunc(v.cells, func(c int) bool { return h.through[c] >= 0 })
}

// recess judges one stack of closed voids, at each end where it has a floor.
func (s *shape) recess(h *holes, vs []void) {
	lo, hi := vs[0].slab, vs[0].slab
	for _, v := range vs {
		lo, hi = min(lo, v.slab), max(hi, v.slab)
	}
	for _, side := range []string{"top", "bottom"} {
		floor := s.floors(vs, side)
		if len(floor) == 0 {
			continue // nothing but through-holes, or closed on this side
		}
		var all, mouth []int
		for _, v := range vs {
			all = append(all, v.cells...)
			if v.slab == map[string]int{"top": hi, "bottom": lo}[side] {
				mouth = append(mouth, v.cells...)
			}
		}
		groove := s.isGroove(mouth)
		if !groove && (s.holed(h, vs[0]) || s.aroundIsland(mouth)) {
			continue
		}
		for _, c := range floor {
			h.groove[side][c] = groove
		}
		if groove {
			continue
		}
		slices.Sort(all)
		hole := s.blindHole(vs, slices.Compact(all), lo, hi, side)
		h.subjects = append(h.subjects, hole)
		for _, c := range floor {
			h.blind[side][c] = hole
		}
	}
}

// floors are the cells whose column ends, on a side, in one of the voids.
func (s *shape) floors(vs []void, side string) (cells []int) {
	for _, v := range vs {
		for _, c := range v.cells {
			if r, ok := s.cells[c].column(); ok && (side == "top" && r.hi == v.slab-1 || side == "bottom" && r.lo == v.slab+1) {
				cells = append(cells, c)
			}
		}
	}
	return cells
}

// aroundIsland tells whether cells enclose others: their contour is more than the outer one.
func (s *shape) aroundIsland(cells []int) bool {
	r := s.regionOf(cells)
	for i := range r.Rings {
		if r.Rings[i].Loop().Moments().Area < 0 {
			return true
		}
	}
	return false
}

// runsOut tells whether the wall of a blind hole comes to nothing at its floor, as a cone or the cap of a ball does.
func (s *shape) runsOut(vs []void, lo, hi int, side string) bool {
	k, end := lo, 0
	if side == "bottom" {
		k, end = hi, 1
	}
	for _, v := range vs {
		for i := range s.overlay.Edges {
			e := &s.overlay.Edges[i]
			for _, p := range [2][2]int{{e.Left, e.Right}, {e.Right, e.Left}} {
				if v.slab == k && slices.Contains(v.cells, p[1]) && s.cells[p[0]].solid[k] {
					if o := &s.outlines[s.owner(k, i, p[0], p[1])]; o.leans && o.sloped[end] {
						return true
					}
				}
			}
		}
	}
	return false
}

// blindHole measures a blind hole where it is narrowest, in the cells that are void through the whole stack; one that
// runs out to nothing at its mouth.
func (s *shape) blindHole(vs []void, all []int, lo, hi int, side string) *subject.Hole {
	var core []int
	for _, c := range all {
		through := true
		for k := lo; k <= hi; k++ {
			through = through && !s.cells[c].solid[k]
		}
		if through {
			core = append(core, c)
		}
	}
	if len(core) == 0 || s.runsOut(vs, lo, hi, side) {
		core = all
	}
	region := s.regionOf(core)
	d := region.Inscribed()
	hole := &subject.Hole{Width: 2 * d.R, Open: side, Edge: math.Inf(1)}
	owners := s.ownersRound(vs)
	hole.Bore, hole.Keyed = s.bore(region, owners, hole.Width)
	if hole.Bore.Known && !hole.Keyed {
		hole.Width = hole.Bore.Value
	}
	hole.Depth = s.high(run{lo, hi})
	hole.Share = s.shareOf(hole.Depth)
	hole.Ratio = hole.Depth / hole.Width
	floor := math.Inf(1)
	for _, c := range all {
		for _, r := range s.cells[c].runs {
			if side == "top" && r.hi < hi || side == "bottom" && r.lo > lo {
				floor = math.Min(floor, s.high(r))
			}
		}
	}
	if !math.IsInf(floor, 1) {
		hole.Floor = subject.Some(floor)
	}
	for _, v := range vs {
		hole.Edge = math.Min(hole.Edge, s.toOutside(v.slab, s.slabs[v.slab].voids[v.cells[0]]))
	}
	hole.Draft = s.leastDraft(owners, s.heights[lo], s.heights[hi+1], false)
	hole.Common = s.common(owners, s.at(d.C), s.heights[lo], s.heights[hi+1])
	hole.Footprints = regionPrint(s.regionOf(all))
	return hole
}

// ownersRound are the features that make the walls of voids.
func (s *shape) ownersRound(vs []void) (owners []int) {
	for _, v := range vs {
		for i := range s.overlay.Edges {
			e := &s.overlay.Edges[i]
			for _, side := range [2][2]int{{e.Left, e.Right}, {e.Right, e.Left}} {
				if slices.Contains(v.cells, side[1]) {
					owners = append(owners, s.wallOwners(i, side[0], side[1], v.slab, v.slab)...)
				}
			}
		}
	}
	return owners
}
