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
				drop[j] = b.Ends[0].same(a.Ends[0]) || b.Ends[0].same(a.Ends[1])
			} else if s.owners(a) == s.owners(b) && a.touches(b) {
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
			continue
		}
		at[i] = len(out)
		out = append(out, s.found[i])
	}
	return out
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

// owners of both sides, the lesser first.
func (s *necks) owners(n *Neck) [2]int {
	a, b := s.pieces[n.I].Owner, s.pieces[n.J].Owner
	return [2]int{min(a, b), max(a, b)}
}
