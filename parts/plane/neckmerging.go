package plane

import (
	"cmp"
	"math"
	"slices"
)

// merged makes one neck of chords that coincide and of plateaus that share an end chord.
func (s *necks) merged() []Neck {
	slices.SortStableFunc(s.found, func(a, b Neck) int { // plateaus first: a chord at their end is theirs
		return cmp.Or(cmp.Compare(b2i(a.Void), b2i(b.Void)), cmp.Compare(b2i(a.Length == 0), b2i(b.Length == 0)),
			cmp.Compare(min(a.I, a.J), min(b.I, b.J)), cmp.Compare(max(a.I, a.J), max(b.I, b.J)), cmp.Compare(a.P.X, b.P.X),
			cmp.Compare(a.P.Y, b.P.Y))
	})
	u := NewUnion(len(s.found))
	drop := make([]bool, len(s.found))
	for j := range s.found {
		b := &s.found[j]
		for i := 0; i < j && !drop[j]; i++ {
			a := &s.found[i]
			if drop[i] || a.Void != b.Void || math.Abs(a.Width-b.Width) > 2*Near {
				continue
			}
			if b.Length == 0 {
				drop[j] = b.Ends[0].same(a.Ends[0]) || b.Ends[0].same(a.Ends[1]) || a.holds(b)
			} else if a.touches(b) && s.oneLine(a, b) {
				u.Join(i, j)
			}
		}
	}
	var out []Neck
	at := map[int]int{}
	for i := range s.found {
		if drop[i] {
			continue
		}
		if k, ok := at[u.Find(i)]; ok {
			out[k].Length += s.found[i].Length
			out[k].Medial = append(out[k].Medial, s.found[i].Medial...)
			out[k].Width = math.Min(out[k].Width, s.found[i].Width)
			out[k].Also = append(out[k].Also, s.alike(&out[k], &s.found[i]))
			continue
		}
		at[i] = len(out)
		out = append(out, s.found[i])
	}
	return out
}

// holds tells whether a chord that is as wide lies in a plateau.
func (n *Neck) holds(chord *Neck) bool {
	middle := chord.Middle()
	return slices.ContainsFunc(n.Medial, func(c Curve) bool { return c.Distance(middle) <= 2*Near })
}

func (n *Neck) touches(m *Neck) bool {
	for _, c := range n.Ends {
		for _, d := range m.Ends {
			if c.same(d) {
				return true
			}
		}
	}
	return false
}

// oneLine tells whether the sides of two plateaus are on the same two lines or circles, whoever owns them.
func (s *necks) oneLine(a, b *Neck) bool {
	same := func(i, j int) bool { return s.sameCarrier(i, j) }
	return same(a.I, b.I) && same(a.J, b.J) || same(a.I, b.J) && same(a.J, b.I)
}

func (s *necks) sameCarrier(i, j int) bool {
	c, d := &s.pieces[i].Curve, &s.pieces[j].Curve
	if c.IsArc() != d.IsArc() {
		return false
	}
	if c.IsArc() {
		return c.C.Distance(d.C) <= Near && math.Abs(c.R-d.R) <= Near
	}
	return math.Abs(c.LeftOf(d.A)) <= Near && math.Abs(c.LeftOf(d.B)) <= Near
}

// alike are the two pieces of a plateau that goes on another, that on the line of its first side first.
func (s *necks) alike(of, n *Neck) [2]int {
	if s.sameCarrier(of.I, n.I) {
		return [2]int{n.I, n.J}
	}
	return [2]int{n.J, n.I}
}
