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
	contour float64 // without through-holes and floors in it
	behind  float64 // of it, where the neighbour lies further out
	holes   []int   // cells of those
}

// openGrooves marks the floors of grooves that run out at the sides: narrow flats, with the holes and the deeper floors in them filled,
// that are set back from their neighbours along at least half of their contour and reach the outside.
func openGrooves(s *blank.Shape, f *blank.Face, h *holes, groove []bool) {
	beside := map[int]map[int]bool{} // by flat: those beside it
	sides := func(each func(edge, c, d int)) {
		for i := range s.Edges() {
			e := s.Edge(i)
			each(i, e.Left, e.Right)
			each(i, e.Right, e.Left)
		}
	}
	sides(func(_, c, d int) {
		if g := f.Flat(c); g != f.Flat(d) {
			if beside[g] == nil {
				beside[g] = map[int]bool{}
			}
			beside[g][f.Flat(d)] = true
		}
	})
	settings, flats := make([]setting, s.Cells()), map[int][]int{}
	for _, cells := range f.Flats() {
		flats[f.Flat(cells[0])] = cells
	}
	sides(func(i, c, d int) {
		g, length := &settings[f.Flat(c)], s.Edge(i).Curve.Length()
		switch {
		case f.Flat(c) == f.Flat(d):
		case h.through[d] >= 0:
			g.holes = append(g.holes, d)
		case f.Solid(d) && blank.Outward(f.Side(), f.Z(c), f.Z(d)) > 0 && len(beside[f.Flat(d)]) == 1:
			g.holes = append(g.holes, flats[f.Flat(d)]...) // a floor in this one
		default:
			g.contour += length
			if f.Solid(d) && blank.Outward(f.Side(), f.Z(d), f.Z(c)) > 0 {
				g.behind += length
			}
		}
	})
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
			if !fs.groove[side][cells[0]] || s.EndsOnRelief(cells[0], side) {
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
