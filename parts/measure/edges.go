package measure

import (
	"fmt"
	"math"
	"slices"

	"corerod/parts"
	"corerod/parts/blank"
	"corerod/parts/plane"
)

// checkEdges reports edges that are not on the pressed part, and those that do not fit on it.
func checkEdges(s *blank.Shape, rims []*rim, feet []*foot) (ps parts.Problems) {
	for i := range s.Part().Edges {
		e := &s.Part().Edges[i]
		feature := slices.IndexFunc(s.Features(), func(f *parts.Feature) bool { return f.Name == e.Of })
		if feature < 0 {
			continue // its feature is machined, and its edge with it
		}
		report := func(format string, args ...any) {
			ps = append(ps, s.Part().Problem(e.Place, "the edge "+e.Name+" "+fmt.Sprintf(format, args...)))
		}
		if e.Face == "" {
			any := false
			for _, t := range feet {
				if t.feature != feature {
					continue
				}
				any = true
				switch across := 2 * flat(s, t.side, t.cells).Inscribed().R; {
				case e.Radius > t.wall+blank.SameHeight:
					report("does not fit: it is %s mm high, and the wall there %s mm", decimal(e.Radius), decimal(t.wall))
				case e.Radius > across+plane.Near:
					report("does not fit: it is %s mm wide, and the face there %s mm", decimal(e.Radius), decimal(across))
				}
			}
			if !any {
				report("has no place: no wall of %s ends on a face below or above it", e.Of)
			}
			continue
		}
		any := false
		for _, m := range rims {
			if !m.treatedBy(s, e) {
				continue
			}
			any = true
			if why := unfit(s, m, e); why != "" {
				report("does not fit: %s", why)
				break
			}
		}
		tilted := func(x parts.Relief) bool { return x.Tilt != nil && x.On == e.Face }
		switch {
		case !any && slices.ContainsFunc(s.Feature(feature).Reliefs, tilted):
			report("has no place: the %s face of %s is tilted, and an edge follows a flat face; leave it out", e.Face, e.Of)
		case !any:
			report("has no place: no wall of %s ends at a %s face; other features cover it, or cuts take it away", e.Of, e.Face)
		}
	}
	return append(ps, crowded(s, rims, feet)...)
}

// treatedContour is one contour along which an edge is treated.
type treatedContour struct {
	*parts.Edge
	side   string
	z      float64
	curves plane.Loop
	cells  []int // of the end face along it
}

// contours are the edges of the overlay as chains, each with all that hangs together.
func contours(s *blank.Shape, edges []int) (all []plane.Loop) {
	u := plane.NewUnion(len(edges))
	at := map[plane.Point]int{} // by vertex: an edge that ends there
	for i, e := range edges {
		for _, p := range [2]plane.Point{s.Edge(e).Curve.A, s.Edge(e).Curve.B} {
			if k, ok := at[p]; ok {
				u.Join(i, k)
			}
			at[p] = i
		}
	}
	for _, g := range u.Groups(nil) {
		var l plane.Loop
		for _, i := range g {
			l = append(l, s.Edge(edges[i]).Curve)
		}
		all = append(all, l)
	}
	return all
}

// crowded reports treatments of two rims or feet of one face that meet each other.
func crowded(s *blank.Shape, rims []*rim, feet []*foot) (ps parts.Problems) {
	var all []treatedContour
	for i := range s.Part().Edges {
		e := &s.Part().Edges[i]
		for _, m := range rims {
			if e.Face != "" && m.treatedBy(s, e) {
				for _, l := range contours(s, m.edges) {
					all = append(all, treatedContour{e, m.side, m.z, l, m.cells})
				}
			}
		}
		for _, t := range feet {
			if e.Face == "" && s.Feature(t.feature).Name == e.Of {
				for _, l := range contours(s, t.edges) {
					all = append(all, treatedContour{e, t.side, t.z, l, t.cells})
				}
			}
		}
	}
	told := map[*parts.Edge]bool{}
	for i := range all {
		for j := range i {
			if e, why := &all[i], all[i].meets(s, &all[j]); why != "" && !told[e.Edge] {
				told[e.Edge] = true
				ps = append(ps, s.Problem(e.Place, "the edge %s does not fit: %s", e.Name, why))
			}
		}
	}
	return ps
}

// meets says why two treatments do not both fit on the face between them, or "".
func (x *treatedContour) meets(s *blank.Shape, y *treatedContour) string {
	both := x.Across() + y.Across()
	a, b := x.curves.Bounds()
	c, d := y.curves.Bounds()
	if x.side != y.side || math.Abs(x.z-y.z) > blank.SameHeight || a.X > d.X+both || c.X > b.X+both || a.Y > d.Y+both || c.Y > b.Y+both {
		return ""
	}
	across, p, q := plane.Between(x.curves, y.curves)
	if across <= plane.Near || both <= across+plane.Near ||
		!flat(s, x.side, x.cells).Contains(plane.Point{X: (p.X + q.X) / 2, Y: (p.Y + q.Y) / 2}) {
		return ""
	}
	if x.Edge == y.Edge {
		return fmt.Sprintf("to both sides it is %s mm wide, and the face between %s mm", decimal(both), decimal(across))
	}
	return fmt.Sprintf("with %s it is %s mm wide, and the face between them %s mm", y.Name, decimal(both), decimal(across))
}

// unfit says why a treatment does not fit on a rim, or "".
func unfit(s *blank.Shape, m *rim, e *parts.Edge) string {
	e = s.EdgeAsPressed(e, m.side, m.z)
	width, rise, below := e.Across(), e.Radius, ""
	if c := e.Chamfer; c != nil {
		rise = c.Rise() + c.Land
		below = " with its land"
		if c.Land == 0 {
			below = ""
		}
	}
	if rise > m.wall+blank.SameHeight {
		return fmt.Sprintf("it is %s mm high%s, and the wall there %s mm", decimal(rise), below, decimal(m.wall))
	}
	face := flat(s, m.side, m.cells)
	if across := math.Min(2*face.Inscribed().R, toContour(s, face, m)); width > across+plane.Near {
		return fmt.Sprintf("it is %s mm wide, and the face there %s mm", decimal(width), decimal(across))
	}
	return ""
}

// toContour is the least distance from a rim of a hole to the outer contour of its face; endless for another rim.
func toContour(s *blank.Shape, face *plane.Region, m *rim) float64 {
	var inner, outer []plane.Curve
	for i := range face.Rings {
		l := face.Rings[i].Loop()
		at := l[0].At(0.5)
		switch {
		case l.Moments().Area > 0:
			outer = append(outer, l...)
		case slices.ContainsFunc(m.edges, func(e int) bool { return s.Edge(e).Curve.Off(at) <= 10*plane.Near }):
			inner = append(inner, l...)
		}
	}
	if len(inner) == 0 || len(outer) == 0 {
		return math.Inf(1)
	}
	d, _, _ := plane.Between(inner, outer)
	return d
}

// flat is the end face along a rim or foot: the cells of its height that hang together with those at it.
func flat(s *blank.Shape, side string, cells []int) *plane.Region {
	f := s.Face(side)
	own := map[int]bool{}
	for _, c := range cells {
		own[f.Flat(c)] = true
	}
	return s.Trace(func(c int) bool { return f.Solid(c) && own[f.Flat(c)] }, func(int, int, int) int { return 0 })
}
