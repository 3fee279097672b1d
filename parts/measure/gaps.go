package measure

import (
	"math"
	"slices"

	"corerod/parts/blank"
	"corerod/parts/plane"
	"corerod/parts/subject"
)

// findGaps finds the gaps: necks of void, but those between the teeth of one outline.
func findGaps(s *blank.Shape, ns *necks, h *holes, fs *floors) (out []*subject.Gap) {
	wanted := func(x *section, n *plane.Neck) bool {
		return n.Void && !x.ofTeeth(n) && !x.inSection(n) && !x.acrossCircle(n) // a round or V groove is narrow at its floor by itself
	}
	for _, st := range stretches(s, ns, wanted) {
		if m := memberOf(st, h, fs); m != "" {
			out = append(out, gap(s, st, m))
		}
	}
	return out
}

// memberOf is the tool member at the thinnest of a stretch: that of the greatest height where it is as thin at several.
func memberOf(st *stretch, h *holes, fs *floors) (most string) {
	height := map[string]float64{}
	for _, x := range st.spans {
		if x.neck.Width > st.thinnest.Width+plane.Near {
			continue
		}
		n := &x.neck
		if n.Width <= wideEnough { // it comes to nothing
			n = &x.found
		}
		height[member(x.in, h, fs, n)] += x.high - x.low
	}
	first := true
	for _, m := range []string{"die", "core-rod", "punch", ""} {
		if z, is := height[m]; is && (first || z > height[most]+blank.SameHeight) {
			most, first = m, false
		}
	}
	return most
}

// member is the tool member that must be thin at a gap: the core rod in a through-hole, a punch in a recess or in a
// groove that runs out at the sides, the die where the void is open to the outside over the whole height; "" where the
// void is a punch's own plan.
func member(x *section, h *holes, fs *floors, n *plane.Neck) string {
	s := x.s
	if at, k := x.void(n.Middle()); s.Closed(k, at) {
		if rodIn(s, h, k, at) && (!x.middle || rodIn(s, h, 2*x.slab+1-k, at)) {
			return "core-rod"
		}
		return "punch"
	}
	// Odd fractions of the chord, so that none is likely to lie on an edge, the same from both its ends, and on both sides of it; most of
	// them decide. Along the outline, where a recess opens to the side, it is across no member.
	die, groove := 0, 0
	x1, y1 := n.Q.X-n.P.X, n.Q.Y-n.P.Y
	for _, f := range [6]float64{0.1371, 0.3117, 0.4473, 0.5527, 0.6883, 0.8629} {
		for _, off := range [2]float64{1, -1} {
			off *= 20 * plane.Near / n.Width
			c := s.CellAt(plane.Point{X: n.P.X + f*x1 - off*y1, Y: n.P.Y + f*y1 + off*x1})
			switch {
			case !s.HasMaterial(c):
				die++
			case fs.at("top", c) || fs.at("bottom", c):
				groove++
			}
		}
	}
	switch {
	case die > 6:
		return "die"
	case groove > 6:
		return "punch"
	}
	return ""
}

// rodIn tells whether a core rod fills the closed void of slab k that a cell lies in, if it lies in one: a through-hole that has no floor
// round it.
func rodIn(s *blank.Shape, h *holes, k, at int) bool {
	if s.Solid(at, k) || !s.Closed(k, at) {
		return true
	}
	v, rod := s.Voids(k)[at], false
	for c, g := range s.Voids(k) {
		switch {
		case g != v:
		case h.through[c] >= 0:
			rod = true
		case !onRod(s, k, c):
			return false
		}
	}
	return rod
}

// acrossCircle tells whether a neck of void goes through the middle of a circle on which both its ends are: it is no narrower there than
// beside.
func (x *section) acrossCircle(n *plane.Neck) bool {
	a, b := &x.pieces[n.I].Curve, &x.pieces[n.J].Curve
	return a.IsArc() && b.IsArc() && a.C.Distance(b.C) <= plane.Thin && math.Abs(a.R-b.R) <= plane.Thin &&
		math.Abs(n.Width-a.R-b.R) <= plane.Thin
}

// onRod tells whether a void cell of slab k lies beside the leaning wall of a hole, which the core rod forms.
func onRod(s *blank.Shape, k, c int) bool {
	f, lean, sloped := s.SlopeBeside(k, c)
	return sloped && s.IsCut(f) && lean <= MostWall
}

func gap(s *blank.Shape, st *stretch, member string) *subject.Gap {
	g := &subject.Gap{Width: math.Max(plane.Near, st.least), Depth: st.high - st.low, Member: member}
	g.Ratio = g.Depth / g.Width
	g.Common = common(s, slices.Concat(st.sides[0], st.sides[1]), s.ToPart(st.thinnest.Middle()), st.low, st.high)
	g.Footprints = neckPrint(&st.thinnest)
	g.Name = joined(g.Features, " to ")
	if member != "punch" {
		g.TongueRatio = tongue(st)
	}
	return g
}

// tongue is how long the tool's tongue in a gap between parallel sides is, over its width: from where they begin to the end of the void,
// where that is closed there and open at the other end.
func tongue(st *stretch) (ratio subject.Optional) {
	for _, x := range st.spans {
		n := &x.found
		if len(n.Medial) != 1 || n.Medial[0].IsArc() || n.Width <= plane.Near {
			continue
		}
		loops := make([]plane.Loop, len(x.in.pieces))
		for i := range x.in.pieces {
			loops[i] = plane.Loop{x.in.pieces[i].Curve}
		}
		m := n.Medial[0]
		closed, length := 0, n.Length
		for _, end := range [2]plane.Curve{m, m.Reversed()} {
			u := end.Tangent(end.B)
			ray := plane.Line(end.B, plane.Point{X: end.B.X + 2*blank.MostExtent*u.X, Y: end.B.Y + 2*blank.MostExtent*u.Y})
			if at := plane.Meetings(ray, loops); len(at) > 0 && at[0] <= n.Width {
				closed, length = closed+1, length+at[0]
			}
		}
		if closed == 1 {
			ratio = subject.Some(math.Max(ratio.Value, length/n.Width))
		}
	}
	return ratio
}
