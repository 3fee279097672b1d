package blank

import (
	"slices"

	"corerod/parts/plane"
)

// Owner is the figure that makes an edge in slab k, seen from the solid cell in to the void cell out: the cut that
// takes the void out of a body, else the body that ends there.
func (s *Shape) Owner(k, edge, in, out int) int {
	inside, outside := s.overlay.Cells[in].Inside, s.overlay.Cells[out].Inside
	figures := s.overlay.Edges[edge].Figures
	if s.InBody(outside, k) {
		for _, f := range figures {
			if s.outlines[f].feature >= s.bodies && s.Covers(f, k) && outside.Has(f) && !inside.Has(f) {
				return f
			}
		}
	}
	for _, f := range figures {
		if s.outlines[f].feature < s.bodies && s.Covers(f, k) && inside.Has(f) && !outside.Has(f) {
			return f
		}
	}
	if f, ok := s.parting(k, inside, outside); ok {
		return f // beside a cell that was merged for being thin
	}
	for _, f := range figures {
		if s.Covers(f, k) {
			return f
		}
	}
	return figures[0]
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

// FaceOwners are the features whose end face lies at height z over a cell, on the given side.
func (s *Shape) FaceOwners(c int, z float64, side string) (fs []int) {
	s.overlay.Cells[c].Inside.Each(func(i int) {
		f, rng := s.outlines[i].feature, s.ranges[i]
		end := rng[1] // the upper end of a body is a top face, of a cut a bottom face
		if (f < s.bodies) != (side == "top") {
			end = rng[0]
		}
		if end-z <= SameHeight && z-end <= SameHeight {
			fs = append(fs, f)
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
