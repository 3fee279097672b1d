package measure

import (
	"math"
	"slices"

	"corerod/parts/blank"
	"corerod/parts/plane"
)

// Owners of the edges of a set-back level, for its ledge.
const (
	stepEdge = iota
	outlineEdge
	holeEdge
)

// ledge is the least neck of the set-back level between the step and the outline, the next level or another side of
// the step. Holes, blind ones and bosses too, are filled first; where nothing else bounds the level, as in a
// counterbore, they count; else it is the widest circle that fits.
func ledge(s *blank.Shape, of []int, m *meeting) float64 {
	holes := s.Connected(func(c int) bool { return !s.HasMaterial(c) })
	through := func(c int) bool { return holes[c] >= 0 && holes[c] != holes[0] }
	blind := func(c int) bool { return holes[c] < 0 && of[c] < 0 } // or a boss, or a groove
	owner := func(_, _, out int) int {
		switch {
		case of[out] == m.front:
			return stepEdge
		case through(out):
			return holeEdge
		}
		return outlineEdge
	}
	// level is the set-back level with what lies in it and fill accepts; what lies in the front is not joined to it.
	level := func(fill func(int) bool) *plane.Region {
		in := func(c int) bool { return of[c] == m.back || fill(c) }
		joined := s.Neighbours(func(a, b int) bool { return in(a) && in(b) })
		own := map[int]bool{}
		for c := range s.Cells() {
			own[joined.Find(c)] = own[joined.Find(c)] || of[c] == m.back
		}
		return s.Trace(func(c int) bool { return in(c) && own[joined.Find(c)] }, owner)
	}
	if d := leastFrom(level(func(c int) bool { return through(c) || blind(c) }), stepEdge, outlineEdge); d > 0 {
		return d
	}
	bare := level(blind)
	if d := leastFrom(bare, holeEdge); d > 0 {
		return d
	}
	return 2 * bare.Inscribed().R
}

// leastFrom is the least neck between a step edge and one of the other kinds; 0 where there is none.
func leastFrom(r *plane.Region, kinds ...int) float64 {
	d, ok := r.Least(func(a, b int) bool { return min(a, b) == stepEdge && slices.Contains(kinds, max(a, b)) }, math.Inf(1))
	if !ok {
		return 0
	}
	return d
}
