package blank

import (
	"corerod/parts"
	"corerod/parts/plane"
	"corerod/parts/subject"
	"math"
	"slices"
)

// hasTeeth tells whether an outline is a gear, spline or serration.
func (s *shape) hasTeeth(figure int) bool {
	return isToothed(s.features[s.outlines[figure].feature].Profile)
}

func isToothed(p parts.Profile) bool {
	switch p.(type) {
	case parts.Gear, parts.Spline, parts.Serration:
		return true
	}
	return false
}

// isSpline tells whether an outline carries torque without meshing: a spline, a serration, or the involute teeth of a
// bore.
func (s *shape) isSpline(figure int) bool {
	g, gear := s.features[s.outlines[figure].feature].Profile.(parts.Gear)
	return s.hasTeeth(figure) && (!gear || g.Internal)
}

// ofTeeth tells whether teeth carry a neck of slab k, which is then no wall or gap: one with both ends on one toothed
// outline, and material with one end on one, which is the wall behind its roots.
func (s *shape) ofTeeth(k int, n *plane.Neck) bool {
	ps := s.slabs[k].region.Pieces()
	a, b := ps[n.I].Owner, ps[n.J].Owner
	if n.Void || s.sameCopy(a, b) {
		return s.sameCopy(a, b) && s.hasTeeth(a)
	}
	return s.hasTeeth(a) || s.hasTeeth(b)
}

// rootWalls are, by figure, the least necks of material behind the teeth of an outline, mm.
func (s *shape) rootWalls(ns necks) map[int]float64 {
	walls := map[int]float64{}
	for k := range s.slabs {
		ps := s.slabs[k].region.Pieces()
		for _, n := range ns[k] {
			a, b := ps[n.I].Owner, ps[n.J].Owner
			if n.Void || s.sameCopy(a, b) {
				continue
			}
			for _, f := range [2]int{a, b} {
				if least, known := walls[f]; s.hasTeeth(f) && (!known || n.Width < least) {
					walls[f] = n.Width
				}
			}
		}
	}
	return walls
}

// findTeeth finds the toothed outlines that bound the as-pressed part.
func (s *shape) findTeeth(ns necks) (all []*subject.Teeth) {
	rootWalls := s.rootWalls(ns)
	for i := range s.outlines {
		if !s.hasTeeth(i) || i > 0 && s.sameCopy(i, i-1) {
			continue // no teeth, or a further slice of leaning ones
		}
		lo, hi := -1, -1
		for k := range s.slabs {
			for _, p := range s.slabs[k].region.Pieces() {
				if s.sameCopy(p.Owner, i) {
					hi = k
					if lo < 0 {
						lo = k
					}
					break
				}
			}
		}
		if lo < 0 {
			continue // covered by other bodies, or cut away
		}
		all = append(all, s.teeth(i, lo, hi, rootWalls))
	}
	return all
}

// sameCopy tells whether two outlines are slices of one copy of a feature.
func (s *shape) sameCopy(i, j int) bool {
	a, b := &s.outlines[i], &s.outlines[j]
	return a.feature == b.feature && a.copy == b.copy
}

func (s *shape) teeth(figure, lo, hi int, rootWalls map[int]float64) *subject.Teeth {
	f := s.features[s.outlines[figure].feature]
	built, _ := toothed(f.Profile) // drawn before, by Check
	void := s.outlines[figure].feature >= s.bodies
	t := &subject.Teeth{Count: float64(built.Count), Internal: void, TipRadius: built.OuterRound, RootRadius: built.InnerRound,
		TipThickness: built.TipThickness(void), SpaceWidth: built.SpaceWidth(void)}
	if void {
		t.TipRadius, t.RootRadius = t.RootRadius, t.TipRadius
	}
	if g, ok := f.Profile.(parts.Gear); ok {
		t.Module, t.Helix = subject.Some(g.Module), g.Helix
		if g.Helix > 0 {
			t.Lead = subject.Some(math.Pi * g.Module * t.Count / math.Sin(g.Helix*math.Pi/180))
		}
	}
	wall, known := rootWalls[figure]
	for i := figure + 1; i < len(s.outlines) && s.sameCopy(i, figure); i++ {
		if w, ok := rootWalls[i]; ok && (!known || w < wall) {
			wall, known = w, true
		}
	}
	for side, z := range map[string]float64{"top": s.heights[hi+1], "bottom": s.heights[lo]} {
		if w, ok := s.hubToTeeth(figure, side, z); ok && (!known || w < wall) {
			wall, known = w, true
		}
	}
	t.RootWall = subject.Optional{Value: wall, Known: known}
	at := s.at(s.outlines[figure].loop.Moments().Centroid())
	t.Common = s.common([]int{s.outlines[figure].feature}, at, s.heights[lo], s.heights[hi+1])
	return t
}

// hubToTeeth is the least distance in plan, over the end face at z of a toothed outline, between its teeth and a wall
// that stands up from that face: 0 where that wall runs through the teeth; false where there is none.
func (s *shape) hubToTeeth(figure int, side string, z float64) (float64, bool) {
	f := s.face(side)
	in := func(c int) bool { return f.solid[c] && math.Abs(f.z[c]-z) <= sameHeight }
	var teeth, hub []plane.Curve
	for i := range s.overlay.Edges {
		e := &s.overlay.Edges[i]
		c, d := e.Left, e.Right
		if !in(c) {
			c, d = d, c
		}
		switch {
		case !in(c) || in(d):
		case f.solid[d] && outward(side, f.z[d], z) > 0:
			hub = append(hub, e.Curve)
		case slices.Contains(e.Figures, figure):
			teeth = append(teeth, e.Curve)
		}
	}
	if len(teeth) == 0 || len(hub) == 0 {
		return 0, false
	}
	d, _, _ := plane.Between(teeth, hub)
	return d, true
}
