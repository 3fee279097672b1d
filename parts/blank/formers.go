package blank

// former is the tool member that fills the void of a cell in slab k: the core rod in a through-hole, the die outside,
// else the punch that reaches it.
func (s *shape) former(k, c int) string {
	if r, ok := s.cells[c].column(); ok {
		if k > r.hi {
			return "upper-punch"
		}
		return "lower-punch"
	}
	if s.closed(k, c) {
		return "core-rod"
	}
	return "die"
}
