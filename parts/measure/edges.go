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
				if any = true; e.Radius > t.wall+blank.SameHeight {
					report("does not fit: it is %s mm high, and the wall there %s mm", decimal(e.Radius), decimal(t.wall))
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
		if !any {
			report("has no place: no wall of %s ends at a %s face; other features cover it, or cuts take it away", e.Of, e.Face)
		}
	}
	return append(ps, crowded(s, rims)...)
}

// crowded reports treatments of two rims of one face that meet each other.
func crowded(s *blank.Shape, rims []*rim) (ps parts.Problems) {
	for i := range s.Part().Edges {
		e := &s.Part().Edges[i]
		for j := range s.Part().Edges[:i] {
			d := &s.Part().Edges[j]
			for _, m := range rims {
				for _, n := range rims {
					if e.Face == "" || !m.treatedBy(s, e) || !n.treatedBy(s, d) || math.Abs(m.z-n.z) > blank.SameHeight {
						continue
					}
					across, p, q := plane.Between(curves(s, m), curves(s, n))
					both := e.Across() + d.Across()
					if across > plane.Near && both > across+plane.Near &&
						flat(s, m.side, m.cells).Contains(plane.Point{X: (p.X + q.X) / 2, Y: (p.Y + q.Y) / 2}) {
						ps = append(ps, s.Problem(e.Place,
							"the edge %s does not fit: with %s it is %s mm wide, and the face between them %s mm",
							e.Name, d.Name, decimal(both), decimal(across)))
					}
				}
			}
		}
	}
	return ps
}

func curves(s *blank.Shape, m *rim) (cs []plane.Curve) {
	for _, i := range m.edges {
		cs = append(cs, s.Edge(i).Curve)
	}
	return cs
}

// unfit says why a treatment does not fit on a rim, or "".
func unfit(s *blank.Shape, m *rim, e *parts.Edge) string {
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
	if across := 2 * flat(s, m.side, m.cells).Inscribed().R; width > across+plane.Near {
		return fmt.Sprintf("it is %s mm wide, and the face there %s mm", decimal(width), decimal(across))
	}
	return ""
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
