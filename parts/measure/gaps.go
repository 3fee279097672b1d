package measure

import (
	"corerod/parts/blank"
	"corerod/parts/plane"
	"corerod/parts/subject"
)

// findGaps finds the gaps: necks of void, but those between the teeth of one outline.
func findGaps(s *blank.Shape, ns necks, h *holes, fs *floors) (out []*subject.Gap) {
	start := func(k int, n *plane.Neck) *stretch {
		if !n.Void || ofTeeth(s, k, n) {
			return nil
		}
		st := &stretch{features: endFeatures(s, k, n), parts: []part{{neck: *n, slab: k}}}
		if inSection(s, st.features) {
			return nil // a groove of round or V section is narrow at its floor by itself
		}
		if st.member = member(s, h, fs, k, n); st.member == "" {
			return nil
		}
		return st
	}
	for _, st := range stretches(s, ns, start) {
		out = append(out, gap(s, st))
	}
	return out
}

// member is the tool member that must be thin at a gap: the core rod in a through-hole, a punch in a recess or in a
// groove that runs out at the sides, the die where the void is open to the outside over the whole height; "" where the
// void is a punch's own plan.
func member(s *blank.Shape, h *holes, fs *floors, k int, n *plane.Neck) string {
	if onHole(s, k, n.I) {
		v := s.Voids(k)[beyond(s, k, n.I)]
		for c, g := range s.Voids(k) {
			if g == v && h.through[c] < 0 && !onRod(s, k, c) {
				return "punch"
			}
		}
		return "core-rod"
	}
	// Odd fractions of the chord, so that none is likely to lie on an edge; the greater number decides.
	die, groove := 0, 0
	for _, f := range [5]float64{0.1371, 0.3117, 0.4473, 0.6181, 0.8593} {
		c := s.CellAt(plane.Point{X: n.P.X + f*(n.Q.X-n.P.X), Y: n.P.Y + f*(n.Q.Y-n.P.Y)})
		switch {
		case !s.HasMaterial(c):
			die++
		case fs.at("top", c) || fs.at("bottom", c):
			groove++
		}
	}
	switch {
	case die > 2:
		return "die"
	case groove > 2:
		return "punch"
	}
	return ""
}

// onRod tells whether a void cell of slab k lies beside the leaning wall of a hole, which the core rod forms.
func onRod(s *blank.Shape, k, c int) bool {
	f, sloped := s.SlopeBeside(k, c)
	return sloped && s.IsCut(f) && leastDraft(s, []int{f}, s.Z(k), s.Z(k+1), false) <= MostWall
}

func gap(s *blank.Shape, st *stretch) *subject.Gap {
	low, high := s.Drawn(s.Z(st.parts[0].slab)), s.Drawn(s.Z(st.last().slab+1))
	g := &subject.Gap{Width: st.least, Depth: high - low, Member: st.member}
	g.Ratio = g.Depth / g.Width
	g.Common = common(s, st.features[:], s.ToPart(st.thinnest.Middle()), low, high)
	g.Footprints = neckPrint(&st.thinnest)
	g.Name = joined(g.Features, " to ")
	return g
}
