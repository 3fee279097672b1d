package measure

import (
	"math"
	"slices"

	"corerod/parts/blank"
	"corerod/parts/plane"
	"corerod/parts/subject"
)

// setting is how a flat lies among its neighbours.
type setting struct {
	contour float64 // without through-holes
	behind  float64 // of it, where the neighbour lies further out
	holes   []int   // cells of through-holes in it
}

// openGrooves marks the floors of grooves that run out at the sides: narrow flats, holes filled, that are set back
// from their neighbours along at least half of their contour and reach the outside.
func openGrooves(s *blank.Shape, f *blank.Face, h *holes, groove []bool) {
	settings := make([]setting, s.Cells())
	for i := range s.Edges() {
		e := s.Edge(i)
		for _, p := range [2][2]int{{e.Left, e.Right}, {e.Right, e.Left}} {
			g, d := &settings[f.Flat(p[0])], e.Curve.Length()
			switch {
			case f.Flat(p[0]) == f.Flat(p[1]):
			case h.through[p[1]] >= 0:
				g.holes = append(g.holes, p[1])
			default:
				g.contour += d
				if f.Solid(p[1]) && blank.Outward(f.Side(), f.Z(p[1]), f.Z(p[0])) > 0 {
					g.behind += d
				}
			}
		}
	}
	for _, cells := range f.Flats() {
		g := &settings[f.Flat(cells[0])]
		slices.Sort(g.holes)
		g.holes = slices.Compact(g.holes)
		if g.behind >= g.contour/2 && g.behind < g.contour*allRound && isGroove(s, append(slices.Clone(cells), g.holes...)) {
			for _, c := range cells {
				groove[c] = true
			}
		}
	}
}

// measureGrooves turns the grooves in both faces into subjects: floors that are set back and narrow.
func measureGrooves(s *blank.Shape, fs *floors) (out []*subject.Groove) {
	low, high := s.WholeSpan()
	for _, side := range []string{"bottom", "top"} {
		f := s.Face(side)
		for _, cells := range f.Flats() {
			if !fs.groove[side][cells[0]] {
				continue
			}
			rim, owners := around(s, f, cells)
			z := f.Z(cells[0])
			region := s.RegionOf(cells)
			g := &subject.Groove{Face: side, Depth: math.Abs(rim - z), Width: 2 * region.Inscribed().R, Curved: curved(region)}
			g.Share = g.Depth / (high - low)
			g.Draft = leastDraft(s, owners, math.Min(z, rim), math.Max(z, rim), true, false)
			for _, c := range cells {
				owners = append(owners, s.FaceOwners(c, z, side)...)
			}
			g.Common = common(s, owners, s.Centroid(cells), math.Min(z, rim), math.Max(z, rim))
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
func isGroove(s *blank.Shape, cells []int) bool {
	area, plan := 0.0, 0.0
	for _, c := range cells {
		area += s.Area(c)
	}
	for c := range s.Cells() {
		if s.HasMaterial(c) {
			plan += s.Area(c)
		}
	}
	w := 2 * s.RegionOf(cells).Inscribed().R
	return w > 0 && w <= grooveWidth*(area/w)*atShare && area <= grooveArea*plan*atShare
}
