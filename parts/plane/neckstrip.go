package plane

// Strip is the bounds of what a neck covers: the chords at its ends, and both sides along a plateau, which are the medial
// line moved by half the width. A neck of a single chord is that chord.
func (n *Neck) Strip() (strip []Curve) {
	if n.Length == 0 {
		return []Curve{Line(n.P, n.Q)}
	}
	for _, c := range n.Ends {
		strip = append(strip, Line(c.P, c.Q))
	}
	for i := range n.Medial {
		for _, d := range [2]float64{n.Width / 2, -n.Width / 2} {
			if side, ok := n.Medial[i].offset(d); ok {
				strip = append(strip, side)
			}
		}
	}
	return strip
}

// Covers tells whether a point that lies on none of its bounds is in the strip that a neck covers.
func (n *Neck) Covers(p Point) bool {
	for i := range n.Medial {
		m := &n.Medial[i]
		q := m.nearest(p)
		inside := q.Distance(m.A) > Near && q.Distance(m.B) > Near
		if inside && q.Distance(p) < n.Width/2 {
			return true
		}
	}
	return false
}
