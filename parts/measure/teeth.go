package measure

import (
	"math"
	"slices"

	"corerod/parts/blank"
	"corerod/parts/form"
	"corerod/parts/plane"
	"corerod/parts/subject"
)

// hasTeeth tells whether an outline has teeth all round.
func hasTeeth(s *blank.Shape, figure int) bool {
	return form.Toothed(s.Feature(s.FeatureOf(figure)).Profile)
}

// isSpline tells whether a feature carries torque without meshing: a spline, a serration, or the involute teeth of a bore.
func isSpline(s *blank.Shape, feature int) bool {
	p := s.Feature(feature).Profile
	mesh, meshes := form.Meshing(p)
	return form.Toothed(p) && (!meshes || mesh.Internal)
}

// rootWalls are, by figure, the least necks of material behind the teeth of an outline, mm.
func rootWalls(s *blank.Shape, ns necks) map[int]float64 {
	walls := map[int]float64{}
	for k := range s.Slabs() {
		ps := s.Region(k).Pieces()
		for _, n := range ns[k] {
			a, b := ps[n.I].Owner, ps[n.J].Owner
			if n.Void || s.SameCopy(a, b) {
				continue
			}
			for _, f := range [2]int{a, b} {
				if least, known := walls[f]; hasTeeth(s, f) && (!known || n.Width < least) {
					walls[f] = n.Width
				}
			}
		}
	}
	return walls
}

// findTeeth finds the toothed outlines that bound the as-pressed part.
func findTeeth(s *blank.Shape, ns necks) (all []*subject.Teeth) {
	rootWalls := rootWalls(s, ns)
	for i := range s.Figures() {
		if !hasTeeth(s, i) || i > 0 && s.SameCopy(i, i-1) {
			continue // no teeth, or a further slice of leaning ones
		}
		lo, hi := -1, -1
		for k := range s.Slabs() {
			for _, p := range s.Region(k).Pieces() {
				if s.SameCopy(p.Owner, i) {
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
		all = append(all, teeth(s, i, lo, hi, rootWalls))
	}
	return all
}

func teeth(s *blank.Shape, figure, lo, hi int, rootWalls map[int]float64) *subject.Teeth {
	f := s.Feature(s.FeatureOf(figure))
	built, _ := form.Teeth(f.Profile) // drawn before without an error
	void := s.IsCut(s.FeatureOf(figure))
	t := &subject.Teeth{Count: float64(built.Count), Internal: void, TipRadius: built.OuterRound, RootRadius: built.InnerRound,
		TipThickness: built.TipThickness(void), SpaceWidth: built.SpaceWidth(void)}
	if void {
		t.TipRadius, t.RootRadius = t.RootRadius, t.TipRadius
	}
	if g, ok := form.Meshing(f.Profile); ok {
		t.Module, t.Helix = subject.Some(g.Module), g.Helix
		if g.Helix > 0 {
			t.Lead = subject.Some(math.Pi * g.Module * t.Count / math.Sin(g.Helix*math.Pi/180))
		}
	}
	wall, known := rootWalls[figure]
	for i := figure + 1; i < s.Figures() && s.SameCopy(i, figure); i++ {
		if w, ok := rootWalls[i]; ok && (!known || w < wall) {
			wall, known = w, true
		}
	}
	for side, z := range map[string]float64{"top": s.Z(hi + 1), "bottom": s.Z(lo)} {
		if w, ok := hubToTeeth(s, figure, side, z); ok && (!known || w < wall) {
			wall, known = w, true
		}
	}
	t.RootWall = subject.Optional{Value: wall, Known: known}
	at := s.ToPart(s.Loop(figure).Moments().Centroid())
	t.Common = common(s, []int{s.FeatureOf(figure)}, at, s.Z(lo), s.Z(hi+1))
	return t
}

// hubToTeeth is the least distance in plan, over the end face at z of a toothed outline, between its teeth and a wall
// that stands up from that face: 0 where that wall runs through the teeth; false where there is none.
func hubToTeeth(s *blank.Shape, figure int, side string, z float64) (float64, bool) {
	f := s.Face(side)
	in := func(c int) bool { return f.Solid(c) && math.Abs(f.Z(c)-z) <= blank.SameHeight }
	var teeth, hub []plane.Curve
	for i := range s.Edges() {
		e := s.Edge(i)
		c, d := e.Left, e.Right
		if !in(c) {
			c, d = d, c
		}
		switch {
		case !in(c) || in(d):
		case f.Solid(d) && blank.Outward(side, f.Z(d), z) > 0:
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
