package blank

import (
	"maps"
	"math"
	"slices"

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
		for a := range s.cells[e.Left].runs {
			for b := range s.cells[e.Right].runs {
				if s.Touch(i, a, b) > SameHeight {
					piece.Join(number[node{e.Left, a}], number[node{e.Right, b}])
				}
			}
		}
	}
	volume := map[int]float64{}
	for i, n := range nodes {
		volume[piece.Find(i)] += s.RunVolume(n.cell, n.run)
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
	cells := map[int][]int{} // by piece apart from the largest
	for i, n := range nodes {
		if g := piece.Find(i); g != largest {
			cells[g] = append(cells[g], n.cell)
		}
	}
	maps.DeleteFunc(cells, func(_ int, of []int) bool { return s.RegionOf(of).Narrow() }) // slivers no wider than rounding
	loose := map[int]bool{}                                                               // bodies with material in one
	for i, n := range nodes {
		if cells[piece.Find(i)] != nil {
			s.bodiesIn(loose, n.cell, s.cells[n.cell].runs[n.run])
		}
	}
	return s.apart(loose, len(cells)+1)
}

// NotWhole says what is wrong with a finished part as a whole, or "".
func (s *Shape) NotWhole() string {
	switch {
	case !slices.ContainsFunc(s.cells, func(c cell) bool { return len(c.runs) > 0 }):
		return "has no material left"
	case len(s.whole()) > 0:
		return "falls into pieces"
	}
	return ""
}

// bodiesIn adds the bodies that a run of a cell begins in.
func (s *Shape) bodiesIn(all map[int]bool, cell int, r Run) {
	s.overlay.Cells[cell].Inside.Each(func(f int) {
		if s.outlines[f].feature < s.bodies && s.Covers(f, r.Lo) {
			all[s.outlines[f].feature] = true
		}
	})
}

// Touch is over what height the runs a and b of the cells to the left and to the right of an edge touch each other, mm, half way along
// the edge.
func (s *Shape) Touch(edge, a, b int) float64 {
	e := &s.overlay.Edges[edge]
	p := e.Curve.At(0.5)
	l, r := &s.cells[e.Left].ends[a], &s.cells[e.Right].ends[b]
	return math.Min(s.heightOver(l[1], p), s.heightOver(r[1], p)) - math.Max(s.heightOver(l[0], p), s.heightOver(r[0], p))
}

// VoidSpan is the height at which the void over a run of a cell begins, the least of all, and the greatest at which it ends.
func (s *Shape) VoidSpan(c, run int) (low, high float64) {
	return s.cells[c].spans[run][1][0], s.cells[c].spans[run+1][0][1]
}

// VoidTouch is over what height the voids over the runs a and b of the cells to the left and to the right of an edge touch each other.
func (s *Shape) VoidTouch(edge, a, b int) float64 {
	e := &s.overlay.Edges[edge]
	p := e.Curve.At(0.5)
	l, r := s.cells[e.Left].ends, s.cells[e.Right].ends
	return math.Min(s.heightOver(l[a+1][0], p), s.heightOver(r[b+1][0], p)) - math.Max(s.heightOver(l[a][1], p), s.heightOver(r[b][1], p))
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
