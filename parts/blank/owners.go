package blank

import (
	"math"
	"slices"

	"corerod/parts/plane"
)

// Owner is the figure that makes an edge in slab k, seen from the solid cell in to the void cell out: the cut that
// takes the void out of a body, else the body that ends there.
func (s *Shape) Owner(k, edge, in, out int) int {
	inside, outside := s.overlay.Cells[in].Inside, s.overlay.Cells[out].Inside
	figures := s.overlay.Edges[edge].Figures
	var all []int
	if s.InBody(outside, k) {
		for _, f := range figures {
			if s.outlines[f].feature >= s.bodies && s.Covers(f, k) && outside.Has(f) && !inside.Has(f) {
				all = append(all, f)
			}
		}
	}
	if len(all) == 0 {
		for _, f := range figures {
			if s.outlines[f].feature < s.bodies && s.Covers(f, k) && inside.Has(f) && !outside.Has(f) {
				all = append(all, f)
			}
		}
	}
	if len(all) > 0 {
		return s.outermost(k, edge, all)
	}
	if f, ok := s.parting(k, inside, outside); ok {
		return f // beside a cell that was merged for being thin
	}
	for _, f := range figures {
		if s.Covers(f, k) {
			return f
		}
	}
	if len(figures) == 0 { // where two slopes cross
		return s.anyFigure(k, inside, outside)
	}
	return figures[0]
}

// anyFigure is a figure in slab k that holds one of two cells, of a cut first.
func (s *Shape) anyFigure(k int, inside, outside plane.Set) (figure int) {
	for _, set := range [2]plane.Set{inside, outside} {
		set.Each(func(f int) {
			if s.Covers(f, k) {
				figure = f
			}
		})
	}
	return figure
}

// outermost is, of figures whose outlines run along an edge at the station of slab k, the one that is widest between the stations, and
// so makes the wall there.
func (s *Shape) outermost(k, edge int, figures []int) int {
	half := s.Half(k)
	if len(figures) == 1 || half == 0 {
		return figures[0]
	}
	low, high := s.Low(k), s.High(k)
	z := low + inStretch*(high-low)
	if half > 0 {
		z = high - inStretch*(high-low)
	}
	p := s.overlay.Edges[edge].Curve.At(0.5)
	best, most := figures[0], math.Inf(-1)
	for _, f := range figures {
		c := s.SideOf(f, p).At(z)
		if d := c.LeftOf(p); d > most+coincident {
			best, most = f, d
		}
	}
	return best
}

// parting is an outline in slab k that holds the void and not the material beside it, of a cut, or the other way round, of
// a body.
func (s *Shape) parting(k int, inside, outside plane.Set) (figure int, found bool) {
	outside.Each(func(f int) {
		if s.outlines[f].feature >= s.bodies && s.Covers(f, k) && !inside.Has(f) && s.InBody(outside, k) {
			figure, found = f, true
		}
	})
	inside.Each(func(f int) {
		if !found && s.outlines[f].feature < s.bodies && s.Covers(f, k) && !outside.Has(f) {
			figure, found = f, true
		}
	})
	return figure, found
}

// FaceOwners are the features whose end face lies at height z over a cell, on the given side; of a slope at its step.
func (s *Shape) FaceOwners(c int, z float64, side string) (fs []int) {
	if f, sloped := s.SlopeOf(c, z, side); sloped {
		return []int{f}
	}
	s.overlay.Cells[c].Inside.Each(func(i int) {
		o := &s.outlines[i]
		end := o.hi // the upper end of a body is a top face, of a cut a bottom face
		if (o.feature < s.bodies) != (side == "top") {
			end = o.lo
		}
		if end-z <= SameHeight && z-end <= SameHeight {
			fs = append(fs, o.feature)
		}
	})
	slices.Sort(fs)
	return slices.Compact(fs)
}

// WallOwners are the features that make an edge over the slabs from lo to hi, seen from the solid cell.
func (s *Shape) WallOwners(edge, in, out, lo, hi int) (fs []int) {
	for k := lo; k <= hi; k++ {
		if s.cells[in].solid[k] && !s.cells[out].solid[k] {
			fs = append(fs, s.outlines[s.Owner(k, edge, in, out)].feature)
		}
	}
	return fs
}
