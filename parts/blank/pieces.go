package blank

import (
	"corerod/parts"
	"corerod/parts/plane"
)

// whole reports a part with no material, and bodies that do not hang together.
func (s *Shape) whole() (ps parts.Problems) {
	type node struct{ cell, run int }
	number := map[node]int{}
	var nodes []node
	for c := range s.cells {
		for r := range s.cells[c].runs {
			number[node{c, r}] = len(nodes)
			nodes = append(nodes, node{c, r})
		}
	}
	if len(nodes) == 0 {
		why := "the cuts take everything away: no material is left"
		if s.bodies == len(s.features) {
			why = "no material is left: the bodies are thinner than 4 micrometres"
		}
		return parts.Problems{s.part.Problem(s.part.Place, why)}
	}
	piece := plane.NewUnion(len(nodes))
	for i := range s.overlay.Edges {
		e := &s.overlay.Edges[i]
		for a, p := range s.cells[e.Left].runs {
			for b, q := range s.cells[e.Right].runs {
				if p.Lo <= q.Hi && q.Lo <= p.Hi {
					piece.Join(number[node{e.Left, a}], number[node{e.Right, b}])
				}
			}
		}
	}
	volume := map[int]float64{}
	for i, n := range nodes {
		r := s.cells[n.cell].runs[n.run]
		volume[piece.Find(i)] += s.Area(n.cell) * (s.Top(r) - s.Bottom(r))
	}
	if len(volume) == 1 {
		return nil
	}
	largest := piece.Find(0)
	for g, v := range volume {
		if v > volume[largest]+greater || v > volume[largest]-greater && g < largest {
			largest = g
		}
	}
	loose := map[int]bool{} // bodies with material apart from the largest piece
	for i, n := range nodes {
		if piece.Find(i) == largest {
			continue
		}
		r := s.cells[n.cell].runs[n.run]
		s.overlay.Cells[n.cell].Inside.Each(func(f int) {
			if s.outlines[f].feature < s.bodies && s.Covers(f, r.Lo) {
				loose[s.outlines[f].feature] = true
			}
		})
	}
	return s.apart(loose, len(volume))
}

// apart words the problem of a part in several pieces.
func (s *Shape) apart(loose map[int]bool, pieces int) (ps parts.Problems) {
	for f := range s.bodies {
		if !loose[f] {
			continue
		}
		b := s.features[f]
		ps = append(ps, s.Problem(b.Place, "the part falls into %d pieces, and material of the body %s is apart from the largest: "+
			"let bodies overlap or share a face, or cut less away", pieces, b.Name))
	}
	return ps
}
