package measure

import (
	"cmp"
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

// behindTeeth are the necks of material behind teeth.
func behindTeeth(s *blank.Shape, ns *necks) []*stretch {
	return stretches(s, ns, func(x *section, n *plane.Neck) bool {
		return !n.Void && x.ofTeeth(n) && !s.SameWallCopy(x.wall(n.I), x.wall(n.J)) && !(ns.reliefs && x.reliefAt(n) != "")
	})
}

// root is the least wall at the roots of teeth, mm, and the features at its other side.
type root struct {
	subject.Optional
	to []int
}

// rootWall is the least neck of material behind the teeth of figures.
func rootWall(s *blank.Shape, figures []int, behind []*stretch) (least root) {
	for _, st := range behind {
		for _, x := range st.spans {
			of := func(w int) bool {
				return slices.ContainsFunc(figures, func(f int) bool { return s.SameWallCopy(w, s.WallOf(f)) })
			}
			for i, other := range [2]int{1, 0} {
				if of(x.walls[i]) && (!least.Known || x.neck.Width < least.Value) {
					least = root{subject.Some(x.neck.Width), st.sides[other]}
				}
			}
		}
	}
	return least
}

// toothing is one toothed outline that bounds the part: figures on top of each other, alike, over slabs.
type toothing struct {
	figures []int
	lo, hi  int
}

// findTeeth finds the toothed outlines that bound the as-pressed part.
func findTeeth(s *blank.Shape, ns *necks) (out []*subject.Teeth) {
	var all []*toothing
	for i := range s.Figures() {
		if !hasTeeth(s, i) || i > 0 && s.SameCopy(i, i-1) {
			continue // no teeth, or a further slice of leaning ones
		}
		t := &toothing{[]int{i}, -1, -1}
		for k := range s.Slabs() {
			if slices.ContainsFunc(s.Region(k).Pieces(), func(p plane.Piece) bool { return s.SameCopy(p.Owner, i) }) {
				if t.hi = k; t.lo < 0 {
					t.lo = k
				}
			}
		}
		if t.lo >= 0 { // else covered by other bodies, or cut away
			all = append(all, t)
		}
	}
	slices.SortStableFunc(all, func(a, b *toothing) int { return cmp.Compare(a.lo, b.lo) })
	for i := 0; i < len(all); i++ {
		for j := i + 1; j < len(all); j++ {
			if t, u := all[i], all[j]; t.hi+1 == u.lo && alikeTeeth(s, t.figures[0], u.figures[0]) {
				t.figures, t.hi = append(t.figures, u.figures...), u.hi
				all = slices.Delete(all, j, j+1)
				j = i
			}
		}
	}
	if len(all) == 0 {
		return nil
	}
	behind := behindTeeth(s, ns)
	for _, t := range all {
		out = append(out, t.measure(s, rootWall(s, t.figures, behind)))
	}
	return out
}

// landTeeth finds what rims leave of the tips of teeth at end faces.
func landTeeth(s *blank.Shape, all []*subject.Teeth, rims []*rim) {
	for _, t := range all {
		for _, m := range rims {
			z := map[string]float64{"top": t.ZHigh, "bottom": t.ZLow}[m.side]
			if m.across > 0 && slices.Contains(t.Features, s.Feature(m.feature).Name) && math.Abs(m.z-z) <= blank.SameHeight {
				left := math.Max(0, t.TipThickness-2*m.across)
				if !t.TopLand.Known || left < t.TopLand.Value {
					t.TopLand = subject.Some(left)
				}
			}
		}
	}
}

// alikeTeeth tells whether two toothed outlines lie on top of each other, both round material or both round a void.
func alikeTeeth(s *blank.Shape, a, b int) bool {
	if s.IsCut(s.FeatureOf(a)) != s.IsCut(s.FeatureOf(b)) {
		return false
	}
	return slices.EqualFunc(s.Loop(a), s.Loop(b), func(c, d plane.Curve) bool {
		return c.A.Distance(d.A) <= plane.Near && math.Abs(c.R-d.R) <= plane.Near
	})
}

// measure measures a toothed outline, with the least wall behind it.
func (x *toothing) measure(s *blank.Shape, wall root) *subject.Teeth {
	figure := x.figures[0]
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
	ends := map[string]struct {
		figure int
		z      float64
	}{"top": {x.figures[len(x.figures)-1], s.Z(x.hi + 1)}, "bottom": {figure, s.Z(x.lo)}}
	var toHub root
	for side, end := range ends {
		if hub := hubToTeeth(s, end.figure, side, end.z); hub.Known && (!toHub.Known || hub.Value < toHub.Value) {
			toHub = hub
		}
	}
	if wall.Known && (!toHub.Known || wall.Value < toHub.Value) {
		if wall.Value > plane.Near {
			t.RootRatio = subject.Some((s.Z(x.hi+1) - s.Z(x.lo)) / wall.Value)
		}
	} else {
		wall = toHub
	}
	t.RootWall, t.RootWallTo = wall.Optional, append([]string{}, names(s, wall.to)...)
	var features []int
	for _, f := range x.figures {
		features = append(features, s.FeatureOf(f))
	}
	t.Common = common(s, features, s.ToPart(s.Loop(figure).Moments().Centroid()), s.Z(x.lo), s.Z(x.hi+1))
	return t
}

// hubToTeeth is the least distance in plan, over the end face at z of a toothed outline, between its teeth and a wall
// that stands up from that face: 0 where that wall runs through the teeth; not known where there is none.
func hubToTeeth(s *blank.Shape, figure int, side string, z float64) (out root) {
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
			out.to = append(out.to, s.FaceOwners(d, f.Z(d), side)...)
		case slices.Contains(e.Figures, figure):
			teeth = append(teeth, e.Curve)
		}
	}
	if len(teeth) > 0 && len(hub) > 0 {
		d, _, _ := plane.Between(teeth, hub)
		out.Optional = subject.Some(d)
	}
	return out
}
