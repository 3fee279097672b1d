package blank

import (
	"math"
	"slices"

	"corerod/parts/plane"
	"corerod/parts/subject"
)

// Rod is the core rod of one through-hole, or of several alike.
type Rod struct {
	*subject.Hole
	Area  float64 // mm2, of one
	Count int
}

// rods are those of the holes that go through.
func (s *shape) rods(all []*subject.Hole, h *holes) (out []Rod) {
	for _, x := range all {
		if x.Through {
			out = append(out, Rod{x, h.area[x], max(1, len(x.Places))})
		}
	}
	return out
}

// holes is what was found of voids closed in plan; levels, gaps and corners depend on it.
type holes struct {
	subjects []*subject.Hole
	through  []int                     // by cell: the all-void group closed in plan that is a through-hole, -1 elsewhere
	keyed    []bool                    // by cell: it lies in a keyed through-hole
	area     map[*subject.Hole]float64 // in plan, of through-holes
	// By side, "top" or "bottom", then by cell: the column's end there is the floor of a blind hole or groove, which
	// is no level.
	floor  map[string][]bool
	groove map[string][]bool          // of these, the floors of grooves
	blind  map[string][]*subject.Hole // by side, by cell: the blind hole whose floor ends its column there, else nil
}

// findHoles finds through-holes, then the recesses that are closed in plan and hold none.
func (s *shape) findHoles() *holes {
	n := len(s.cells)
	h := &holes{area: map[*subject.Hole]float64{}, through: make([]int, n), keyed: make([]bool, n), floor: map[string][]bool{"top": make([]bool, n), "bottom": make([]bool, n)},
		groove: map[string][]bool{"top": make([]bool, n), "bottom": make([]bool, n)},
		blind:  map[string][]*subject.Hole{"top": make([]*subject.Hole, n), "bottom": make([]*subject.Hole, n)}}
	void := s.connected(func(c int) bool { return len(s.cells[c].runs) == 0 })
	for c := range h.through {
		h.through[c] = -1
	}
	for _, cells := range groups(void) {
		if cells[0] != 0 {
			s.throughHole(h, cells)
		}
	}
	s.recesses(h)
	return h
}

// groups gathers the cells of each group, in order of the least cell; those numbered -1 are in none.
func groups(of []int) [][]int {
	return plane.Union(of).Groups(func(c int) bool { return of[c] < 0 })
}

// throughHole adds the hole that a connected group of all-void cells makes, if it is closed in plan somewhere.
func (s *shape) throughHole(h *holes, cells []int) {
	touched, owners, draft := s.touched(cells)
	lo, hi := slices.Index(touched, true), len(touched)-1
	if lo < 0 {
		return
	}
	for !touched[hi] {
		hi--
	}
	region := s.regionOf(cells)
	d := region.Inscribed()
	hole := &subject.Hole{Width: 2 * d.R, Through: true, Open: "both", Edge: math.Inf(1), Draft: draft}
	hole.Depth = s.high(run{lo, hi})
	hole.Ratio = hole.Depth / hole.Width
	hole.Bore, hole.Keyed = s.bore(region, owners, hole.Width)
	if hole.Bore.Known && !hole.Keyed {
		hole.Width = hole.Bore.Value
		hole.Ratio = hole.Depth / hole.Width
	}
	for k := lo; k <= hi; k++ {
		if touched[k] {
			hole.Edge = math.Min(hole.Edge, s.toOutside(k, s.slabs[k].voids[cells[0]]))
		}
	}
	hole.Common = s.common(owners, s.at(d.C), s.heights[lo], s.heights[hi+1])
	hole.Footprints = regionPrint(region)
	for _, c := range cells {
		h.through[c], h.keyed[c] = cells[0], hole.Keyed
		h.area[hole] += s.area(c)
	}
	h.subjects = append(h.subjects, hole)
}

// touched are the slabs in which material meets a hole's own contour and the void is closed, the features that make
// the wall there, and its least draft. Of a tapered hole, whose contour no upright wall makes, they are those in which
// the features that make it bound the void.
func (s *shape) touched(cells []int) (slabs []bool, owners []int, draft float64) {
	in := map[int]bool{}
	for _, c := range cells {
		in[c] = true
	}
	slabs = make([]bool, len(s.slabs))
	sloped := map[int]bool{} // features
	for i := range s.overlay.Edges {
		e := &s.overlay.Edges[i]
		v, m := e.Left, e.Right
		if in[m] {
			v, m = m, v
		}
		if !in[v] || in[m] {
			continue
		}
		for k := range s.slabs {
			if !s.cells[m].solid[k] || !s.closed(k, v) {
				continue
			}
			if o := &s.outlines[s.owner(k, i, m, v)]; o.leans {
				sloped[o.feature] = true
			} else {
				slabs[k] = true
				owners = append(owners, o.feature)
			}
		}
	}
	if slices.Contains(slabs, true) || len(sloped) == 0 {
		return slabs, owners, 0
	}
	for k := range s.slabs {
		if !s.closed(k, cells[0]) {
			continue
		}
		void := s.slabs[k].voids[cells[0]]
		for _, p := range s.slabs[k].region.Pieces() {
			if f := s.outlines[p.Owner].feature; s.slabs[k].voids[p.Outer] == void && sloped[f] {
				slabs[k] = true
				owners = append(owners, f)
			}
		}
	}
	return slabs, owners, s.leastDraft(owners, s.heights[0], s.heights[len(s.heights)-1], false)
}

// closed tells whether a void cell of slab k is closed in plan.
func (s *shape) closed(k, c int) bool { return s.slabs[k].voids[c] != s.slabs[k].voids[0] }

// roundBore returns the diameter of a hole that is round, or round but for a key or flat: more than half of a circle, the
// largest of several.
func roundBore(r *plane.Region) (d subject.Optional, keyed bool) {
	for _, p := range r.Pieces() {
		if !p.Curve.IsArc() || p.Curve.Sweep < 0 {
			continue
		}
		turn := 0.0
		for _, q := range r.Pieces() {
			if q.Curve.IsArc() && q.Curve.Sweep > 0 && q.Curve.C.Distance(p.Curve.C) <= plane.Near && math.Abs(q.Curve.R-p.Curve.R) <= plane.Near {
				turn += q.Curve.Sweep
			}
		}
		if turn > overHalf && 2*p.Curve.R > d.Value {
			d, keyed = subject.Some(2*p.Curve.R), len(r.Pieces()) > 1
		}
	}
	return d, keyed
}

// bore is the bore of a hole that features make. Teeth make it keyed, and then only the circle that fits between their
// tips can be a bore.
func (s *shape) bore(r *plane.Region, owners []int, width float64) (d subject.Optional, keyed bool) {
	d, keyed = roundBore(r)
	if !slices.ContainsFunc(owners, func(f int) bool { return f >= s.bodies && isToothed(s.features[f].Profile) }) {
		return d, keyed
	}
	if math.Abs(d.Value-width) > plane.Near {
		d = subject.Optional{}
	}
	return d, true
}

// toOutside is the least material between a void of slab k and the outside contour. A slope between the two that runs
// out to an edge counts at its wide end.
func (s *shape) toOutside(k, void int) float64 {
	sharp := false
	walls := func(of int, blunt bool) (cs []plane.Curve) {
		for _, p := range s.slabs[k].region.Pieces() {
			if s.slabs[k].voids[p.Outer] == of {
				pointed := s.pointed(p.Owner)
				if sharp = sharp || pointed; !pointed || !blunt {
					cs = append(cs, p.Curve)
				}
			}
		}
		return cs
	}
	outside := s.slabs[k].voids[0]
	own, outer := walls(void, false), walls(outside, false)
	if !sharp {
		d, _, _ := plane.Between(own, outer)
		return d
	}
	d, _, _ := plane.Between(walls(void, true), outer)
	e, _, _ := plane.Between(own, walls(outside, true))
	return math.Min(d, e)
}

// pointed tells whether an outline is of a slope of a half section, between its ends, of which two walls come together.
func (s *shape) pointed(figure int) bool {
	o := &s.outlines[figure]
	if o.of == nil || o.of.walls == nil || o.sloped != [2]bool{true, true} {
		return false
	}
	for _, u := range [2]float64{o.of.lo, o.of.hi} {
		for l := o.of.walls(u); len(l) > 1; l = l[1:] {
			if math.Abs(l[0].R-l[1].R) <= plane.Near {
				return true
			}
		}
	}
	return false
}

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
			h.floor[side][c], h.groove[side][c] = true, groove
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

// Shares of the plan that tell a groove from a wide recess: a groove is at most a third as wide as long, and takes
// at most a quarter of the part's plan; the recess between a wheel's hub and rim is no groove.
const (
	grooveWidth = 1.0 / 3
	grooveArea  = 1.0 / 4
)

// isGroove tells whether the mouth of a recess is narrow. Its medial length is its area over its inscribed width:
// exact for a ring between concentric circles and for a straight groove.
func (s *shape) isGroove(cells []int) bool {
	area, plan := 0.0, 0.0
	for _, c := range cells {
		area += s.area(c)
	}
	for c := range s.cells {
		if len(s.cells[c].runs) > 0 {
			plan += s.area(c)
		}
	}
	w := 2 * s.regionOf(cells).Inscribed().R
	return w > 0 && w <= grooveWidth*(area/w)*atShare && area <= grooveArea*plan*atShare
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
