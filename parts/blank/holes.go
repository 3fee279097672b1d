package blank

import (
	"corerod/parts/plane"
	"corerod/parts/subject"
	"math"
	"slices"
)

// holes is what was found of voids closed in plan.
type holes struct {
	subjects []*subject.Hole
	through  []int                     // by cell: the all-void group closed in plan that is a through-hole, -1 elsewhere
	keyed    []bool                    // by cell: it lies in a keyed through-hole
	area     map[*subject.Hole]float64 // in plan, of through-holes
	// By side, "top" or "bottom", then by cell:
	blind  map[string][]*subject.Hole // the blind hole whose floor ends the column there, else nil
	groove map[string][]bool          // the floor of a groove that is closed in plan ends it
}

// findHoles finds through-holes, then the recesses that are closed in plan and hold none.
func (s *shape) findHoles() *holes {
	n := len(s.cells)
	h := &holes{area: map[*subject.Hole]float64{}, through: make([]int, n), keyed: make([]bool, n),
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
	hole.Share = s.shareOf(hole.Depth)
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
