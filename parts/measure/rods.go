package measure

import "corerod/parts/subject"

// Rod is the core rod of one through-hole, or of several alike.
type Rod struct {
	*subject.Hole
	Area  float64 // mm2, of one
	Round float64 // mm, its contour
	Count int
}

// findRods are those of the holes that go through; all has those alike once, with their places.
func findRods(all []*subject.Hole, h *holes) (out []Rod) {
	for _, x := range all {
		if x.Through {
			out = append(out, Rod{x, h.area[x], h.round[x], max(1, len(x.Places))})
		}
	}
	return out
}
