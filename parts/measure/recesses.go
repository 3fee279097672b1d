package measure

import (
	"math"
	"slices"

	"corerod/parts/blank"
	"corerod/parts/plane"
	"corerod/parts/subject"
)

// void is one connected void, closed in plan, of one slab.
type void struct {
	slab  int
	cells []int
}

// recesses finds the voids closed in plan that a floor shuts at one end. One that holds a through-hole is its
// counterbore, one around an island the recess of a web: their floors are levels. A narrow one is a groove, the others
// are blind holes. Voids of neighbouring slabs are one recess where neither meets another void there.
func recesses(s *blank.Shape, h *holes) {
	var voids []void
	at := make([][]int, s.Slabs()) // by slab, by cell: number of the void plus one
	for k := range s.Slabs() {
		at[k] = make([]int, s.Cells())
		for _, cells := range groups(s.Voids(k)) {
			if !s.Closed(k, cells[0]) {
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
			if v.slab > 0 && at[v.slab-1][c] > 0 && !s.Parted(c, v.slab) {
				j := at[v.slab-1][c] - 1
				below[i][j], above[j][i] = true, true
			}
		}
	}
	stack := plane.NewUnion(len(voids))
	for i := range voids {
		for j := range below[i] {
			if len(below[i]) == 1 && len(above[j]) == 1 && holed(h, voids[i]) == holed(h, voids[j]) {
				stack.Join(i, j)
			}
		}
	}
	var floors []func()
	for _, g := range stack.Groups(nil) {
		var vs []void
		for _, i := range g {
			vs = append(vs, voids[i])
		}
		floors = append(floors, recess(s, h, vs)...)
	}
	for _, find := range floors {
		find()
	}
}

// holed tells whether a void holds a through-hole.
func holed(h *holes, v void) bool {
	return slices.ContainsFunc(v.cells, func(c int) bool { return h.through[c] >= 0 })
}

// recess judges one stack of closed voids, at each end where it has a floor. What it returns finds the floors once all recesses are known.
func recess(s *blank.Shape, h *holes, vs []void) (floors []func()) {
	lo, hi := vs[0].slab, vs[0].slab
	for _, v := range vs {
		lo, hi = min(lo, v.slab), max(hi, v.slab)
	}
	for _, side := range []string{"top", "bottom"} {
		floor := floorCells(s, vs, side)
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
		groove := isGroove(s, mouth)
		if !groove && (holed(h, vs[0]) || aroundIsland(s, mouth)) {
			continue
		}
		for _, c := range floor {
			h.groove[side][c] = groove
		}
		if groove {
			continue
		}
		slices.Sort(all)
		all = slices.Compact(all)
		hole := blindHole(s, vs, all, lo, hi, side)
		h.subjects = append(h.subjects, hole)
		for _, c := range floor {
			h.blind[side][c] = hole
		}
		floors = append(floors, func() {
			floorUnder(s, hole, slices.DeleteFunc(all, func(c int) bool {
				other := h.blind[side][c]
				return other != nil && other != hole // that of a hole in this one's floor
			}), vs)
		})
	}
	return floors
}

// innermost is, by cell, the slab of some voids that lies farthest from their mouth on a side.
func innermost(vs []void, side string) map[int]int {
	at := map[int]int{}
	for _, v := range vs {
		for _, c := range v.cells {
			if k, known := at[c]; !known || (v.slab < k) == (side == "top") {
				at[c] = v.slab
			}
		}
	}
	return at
}

// floorCells are the cells whose column ends, on a side, in one of the voids.
func floorCells(s *blank.Shape, vs []void, side string) (cells []int) {
	for _, v := range vs {
		for _, c := range v.cells {
			if r, ok := s.Column(c); ok && (side == "top" && r.Hi == v.slab-1 || side == "bottom" && r.Lo == v.slab+1) {
				cells = append(cells, c)
			}
		}
	}
	return cells
}

// aroundIsland tells whether cells enclose others: their contour is more than the outer one.
func aroundIsland(s *blank.Shape, cells []int) bool {
	r := s.RegionOf(cells)
	for i := range r.Rings {
		if r.Rings[i].Loop().Moments().Area < 0 {
			return true
		}
	}
	return false
}

// blindHole measures a blind hole where its pin is narrowest, in the cells that are void wherever its walls are upright or steep; what is
// flatter is the pin's face. One that has no other walls, or whose walls run out to nothing, is measured at its mouth.
func blindHole(s *blank.Shape, vs []void, all []int, lo, hi int, side string) *subject.Hole {
	face := faceSlabs(s, vs)
	core := slices.DeleteFunc(slices.Clone(all), func(c int) bool {
		for k := lo; k <= hi; k++ {
			if !face[k] && (s.Solid(c, k) || k > lo && s.Parted(c, k)) {
				return true
			}
		}
		return false
	})
	end := map[string]int{"top": lo, "bottom": hi}[side]
	runsOut := s.Half(end) == map[string]int{"top": 1, "bottom": -1}[side] && !face[end] // nothing of its wall is left where it ends
	if len(core) == 0 || runsOut {
		core = all
	}
	region := s.RegionOf(core)
	hole := &subject.Hole{Width: 2 * region.Inscribed().R, Open: side}
	owners := ownersRound(s, vs)
	var at plane.Point
	hole.Bore, hole.Keyed, at = bore(s, region, owners, hole.Width)
	if hole.Bore.Known && !hole.Keyed {
		hole.Width = hole.Bore.Value
	}
	from, to := depthOf(s, vs, lo, hi, side)
	hole.Depth = to - from
	hole.Share = s.Share(hole.Depth)
	hole.Ratio = hole.Depth / hole.Width
	void := map[int]int{}
	for _, v := range vs {
		void[v.slab] = s.Voids(v.slab)[v.cells[0]]
	}
	hole.Edge = toOutside(s, void)
	hole.Draft = leastDraft(s, owners, from, to, false)
	hole.Common = common(s, owners, s.ToPart(at), from, to)
	hole.Footprints = regionPrint(s.RegionOf(all))
	return hole
}

// faceSlabs are the slabs of a blind hole in which its walls are so flat that they are its pin's face.
func faceSlabs(s *blank.Shape, vs []void) map[int]bool {
	face := map[int]bool{}
	for _, v := range vs {
		if _, ok := steep(s, v.slab, s.Voids(v.slab)[v.cells[0]]); !ok {
			face[v.slab] = true
		}
	}
	return face
}

// depthOf is from where to where a blind hole goes: from its mouth to the deepest point of its floor.
func depthOf(s *blank.Shape, vs []void, lo, hi int, side string) (low, high float64) {
	low, high = math.Inf(1), math.Inf(-1)
	for _, c := range floorCells(s, vs, side) {
		from, to := s.EndSpan(c, side)
		low, high = math.Min(low, from), math.Max(high, to)
	}
	if side == "top" {
		return low, s.High(hi)
	}
	return s.Low(lo), high
}

// floorUnder measures the least material under the floor of a blind hole, straight along the axis and across; cells are those it covers.
func floorUnder(s *blank.Shape, hole *subject.Hole, cells []int, vs []void) {
	ends := innermost(vs, hole.Open)
	floor := math.Inf(1)
	var floors []blank.CellRun
	for _, c := range cells {
		next := -1 // the run beside the void: beyond it there may be others
		for i, r := range s.Runs(c) {
			switch {
			case hole.Open == "top" && r.Hi < ends[c]:
				next = i
			case hole.Open == "bottom" && r.Lo > ends[c] && next < 0:
				next = i
			}
		}
		if next >= 0 {
			floor, floors = math.Min(floor, s.Least(c, next)), append(floors, blank.CellRun{Cell: c, Run: next})
		}
	}
	if math.IsInf(floor, 1) {
		return
	}
	hole.Floor = subject.Some(floor)
	own := map[[2]int]bool{} // a cell and a slab
	for _, v := range vs {
		for _, c := range v.cells {
			own[[2]int{c, v.slab}] = true
		}
	}
	if across := s.Across(floors, hole.Open, own); across < floor-plane.Near {
		hole.WebAcross = subject.Some(across)
	}
}

// ownersRound are the features that make the walls of voids.
func ownersRound(s *blank.Shape, vs []void) (owners []int) {
	for _, v := range vs {
		in := make([]bool, s.Cells())
		for _, c := range v.cells {
			in[c] = true
		}
		for i := range s.Edges() {
			e := s.Edge(i)
			for _, side := range [2][2]int{{e.Left, e.Right}, {e.Right, e.Left}} {
				if in[side[1]] {
					owners = append(owners, s.WallOwners(i, side[0], side[1], v.slab, v.slab)...)
				}
			}
		}
	}
	slices.Sort(owners)
	return slices.Compact(owners)
}
