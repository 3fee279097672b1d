package blank

import (
	"corerod/parts/plane"
	"corerod/parts/subject"
	"math"
	"slices"
)

// setting is how a flat lies among its neighbours.
type setting struct {
	contour float64 // without through-holes
	behind  float64 // of it, where the neighbour lies further out
	holes   []int   // cells of through-holes in it
}

// openGrooves marks the floors of grooves that run out at the sides: narrow flats, holes filled, that are set back
// from their neighbours along at least half of their contour and reach the outside.
func (s *shape) openGrooves(f *face, h *holes, groove []bool) {
	settings := make([]setting, len(s.cells))
	for i := range s.overlay.Edges {
		e := &s.overlay.Edges[i]
		for _, p := range [2][2]int{{e.Left, e.Right}, {e.Right, e.Left}} {
			g, d := &settings[f.flats.Find(p[0])], e.Curve.Length()
			switch {
			case f.flats.Find(p[0]) == f.flats.Find(p[1]):
			case h.through[p[1]] >= 0:
				g.holes = append(g.holes, p[1])
			default:
				g.contour += d
				if f.solid[p[1]] && outward(f.side, f.z[p[1]], f.z[p[0]]) > 0 {
					g.behind += d
				}
			}
		}
	}
	for _, cells := range f.groups() {
		g := &settings[f.flats.Find(cells[0])]
		if g.behind >= g.contour/2 && g.behind < g.contour*allRound && s.isGroove(append(slices.Clone(cells), g.holes...)) {
			for _, c := range cells {
				groove[c] = true
			}
		}
	}
}

// findGrooves turns the grooves in both faces into subjects: floors that are set back and narrow.
func (s *shape) findGrooves(fs *floors) (out []*subject.Groove) {
	low, high := s.spanAll()
	for _, side := range []string{"bottom", "top"} {
		f := s.face(side)
		for _, cells := range f.groups() {
			if !fs.groove[side][cells[0]] {
				continue
			}
			rim, owners := s.around(f, cells)
			z := f.z[cells[0]]
			region := s.regionOf(cells)
			g := &subject.Groove{Face: side, Depth: math.Abs(rim - z), Width: 2 * region.Inscribed().R, Curved: curved(region)}
			g.Share = g.Depth / (high - low)
			g.Draft = s.leastDraft(owners, math.Min(z, rim), math.Max(z, rim), true, false)
			for _, c := range cells {
				owners = append(owners, s.faceOwners(c, z, side)...)
			}
			g.Common = s.common(owners, s.centroid(cells), math.Min(z, rim), math.Max(z, rim))
			g.Footprints = regionPrint(region)
			out = append(out, g)
		}
	}
	return out
}

// curved tells whether the longest stretch of a contour on one line or circle is an arc.
func curved(r *plane.Region) bool {
	length, arc := 0.0, false
	for _, p := range r.Pieces() {
		if d := p.Curve.Length(); d > length+longer {
			length, arc = d, p.Curve.IsArc()
		}
	}
	return arc
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
