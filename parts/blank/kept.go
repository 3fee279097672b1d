package blank

import (
	"slices"

	"corerod/parts"
	"corerod/parts/plane"
)

// kept are the cuts with the bodies that they leave alone, by their features; nil where there are none.
func (s *Shape) kept() (all map[[2]int]bool) {
	keep := func(c, b int) {
		if all == nil {
			all = map[[2]int]bool{}
		}
		all[[2]int{c, b}] = true
	}
	for c := s.bodies; c < len(s.features); c++ {
		for _, b := range s.aloneIn(c) {
			keep(c, b)
		}
		for _, k := range s.features[c].Keep {
			b := slices.IndexFunc(s.features[:s.bodies], func(f *parts.Feature) bool { return f.Name == k.Body })
			if b >= 0 { // else it was reported when it was read
				keep(c, b)
			}
		}
	}
	return all
}

// material tells whether a cell inside some figures is material in slab k.
func (s *Shape) material(inside plane.Set, k int) bool {
	if s.simple() {
		return s.InBody(inside, k) && !s.inCut(inside, k)
	}
	count := make([]int, len(s.features))
	inside.Each(func(f int) {
		if s.Covers(f, k) {
			count[s.outlines[f].feature]++
		}
	})
	return s.leaves(func(feature int) int { return count[feature] })
}

// outside reports bodies that a cut is to leave alone and does not reach.
func (s *Shape) outside() (ps parts.Problems) {
	for c := s.bodies; c < len(s.features); c++ {
		for _, k := range s.features[c].Keep {
			reached := false
			for cell := range s.cells {
				cut, body := false, false
				s.Inside(cell).Each(func(f int) {
					cut = cut || s.outlines[f].feature == c
					body = body || s.features[s.outlines[f].feature].Name == k.Body
				})
				reached = reached || cut && body
			}
			if !reached {
				ps = append(ps, s.Problem(k.Place, "the cut %s does not reach %s, which it is to keep; leave that out of `keep`",
					s.features[c].Name, k.Body))
			}
		}
	}
	return ps
}
