package blank

import (
	"corerod/parts"
	"corerod/parts/plane"
	"fmt"
	"math"
	"slices"
)

// checkEdges reports edges that are not on the pressed part, and those that do not fit on it.
func (s *shape) checkEdges(rims []*rim, feet map[foot]float64) (ps parts.Problems) {
	for i := range s.part.Edges {
		e := &s.part.Edges[i]
		feature := slices.IndexFunc(s.features, func(f *parts.Feature) bool { return f.Name == e.Of })
		if feature < 0 {
			continue // its feature is machined, and its edge with it
		}
		report := func(format string, args ...any) {
			ps = append(ps, s.part.Problem(e.Place, "the edge "+e.Name+" "+fmt.Sprintf(format, args...)))
		}
		if e.Face == "" {
			any := false
			for _, side := range []string{"top", "bottom"} {
				wall, ok := feet[foot{feature, side}]
				if any = any || ok; ok && e.Radius > wall+sameHeight {
					report("does not fit: it is %.4g mm high, and the wall there %.4g mm", e.Radius, wall)
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
			if why := s.unfit(m, e); why != "" {
				report("does not fit: %s", why)
				break
			}
		}
		if !any {
			report("has no place: no wall of %s ends at a %s face; other features cover it, or cuts take it away", e.Of, e.Face)
		}
	}
	return append(ps, s.crowded(rims)...)
}

// crowded reports treatments of two rims of one face that meet each other.
func (s *shape) crowded(rims []*rim) (ps parts.Problems) {
	for i := range s.part.Edges {
		e := &s.part.Edges[i]
		for j := range s.part.Edges[:i] {
			d := &s.part.Edges[j]
			for _, m := range rims {
				for _, n := range rims {
					if e.Face == "" || !m.treatedBy(s, e) || !n.treatedBy(s, d) || math.Abs(m.z-n.z) > sameHeight {
						continue
					}
					across, p, q := plane.Between(s.curves(m), s.curves(n))
					both := e.Across() + d.Across()
					if across > plane.Near && both > across+plane.Near && s.flat(m).Contains(plane.Point{X: (p.X + q.X) / 2, Y: (p.Y + q.Y) / 2}) {
						ps = append(ps, s.part.Problem(e.Place, fmt.Sprintf("the edge %s does not fit: with %s it is %.4g mm wide, and the face between them %.4g mm",
							e.Name, d.Name, both, across)))
					}
				}
			}
		}
	}
	return ps
}

func (s *shape) curves(m *rim) (cs []plane.Curve) {
	for _, i := range m.edges {
		cs = append(cs, s.overlay.Edges[i].Curve)
	}
	return cs
}

// unfit says why a treatment does not fit on a rim, or "".
func (s *shape) unfit(m *rim, e *parts.Edge) string {
	width, rise, below := e.Across(), e.Radius, ""
	if c := e.Chamfer; c != nil {
		rise = c.Rise() + c.Land
		below = " with its land"
		if c.Land == 0 {
			below = ""
		}
	}
	if rise > m.wall+sameHeight {
		return fmt.Sprintf("it is %.4g mm high%s, and the wall there %.4g mm", rise, below, m.wall)
	}
	if across := 2 * s.flat(m).Inscribed().R; width > across+plane.Near {
		return fmt.Sprintf("it is %.4g mm wide, and the face there %.4g mm", width, across)
	}
	return ""
}

// flat is the end face along a rim: the cells of its height that hang together with those at it.
func (s *shape) flat(m *rim) *plane.Region {
	f := s.face(m.side)
	own := map[int]bool{}
	for _, c := range m.cells {
		own[f.flats.Find(c)] = true
	}
	return s.overlay.Region(func(c int) bool { return f.solid[c] && own[f.flats.Find(c)] }, func(int, int, int) int { return 0 })
}
