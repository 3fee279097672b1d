package measure

import "corerod/parts/blank"

// former is the tool member that fills the void of a cell in slab k: the core rod in a through-hole, the die outside,
// else the punch that reaches it.
func former(s *blank.Shape, k, c int) string {
	if r, ok := s.Column(c); ok {
		if k > r.Hi {
			return "upper-punch"
		}
		return "lower-punch"
	}
	if s.Closed(k, c) {
		return "core-rod"
	}
	return "die"
}
