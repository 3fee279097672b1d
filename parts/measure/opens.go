package measure

import (
	"math"

	"corerod/parts/blank"
	"corerod/parts/plane"
)

// opens tells, by side, of each cell whether it is void from end to end, or its column ends on that side on a steep slope that goes down,
// away from the side, to such a cell: along more than half of where the slope is deepest, and without a ledge. Cells of one slope that hang
// together are one.
func opens(s *blank.Shape) map[string][]bool {
	of := map[string][]bool{}
	for _, side := range []string{"top", "bottom"} {
		slope := s.Neighbours(func(a, b int) bool { return s.SameEnd(a, b, side) && s.Steep(a, side) })
		ends, open := deepEdges(s, side, slope), make([]bool, s.Cells())
		for c := range open {
			open[c] = !s.HasMaterial(c)
		}
		for grows := true; grows; {
			grows = false
			for g := range open {
				through, all := 0.0, 0.0
				for _, e := range ends[g] {
					all += e.length
					if e.goesOn && open[slope.Find(e.to)] {
						through += e.length
					}
				}
				if !open[g] && 2*through > all {
					open[g], grows = true, true
				}
			}
		}
		for c := range open {
			open[c] = open[slope.Find(c)]
		}
		of[side] = open
	}
	return of
}

// deepEdge is a piece of where a steep slope ends below, as far as it lies across the way down, and what it goes on to.
type deepEdge struct {
	to     int // the cell beyond
	goesOn bool
	length float64
}

// deepEdges are, by the first cell of each steep slope on a side, those round it.
func deepEdges(s *blank.Shape, side string, slope plane.Union) [][]deepEdge {
	steep := func(c int) bool { return s.HasMaterial(c) && s.Steep(c, side) }
	end := map[int]float64{} // by slope: how far from the side it goes
	for c := range s.Cells() {
		if !steep(c) {
			continue
		}
		z, high := s.EndSpan(c, side)
		if side == "bottom" {
			z = high
		}
		if deepest, known := end[slope.Find(c)]; !known || blank.Outward(side, deepest, z) > 0 {
			end[slope.Find(c)] = z
		}
	}
	all := make([][]deepEdge, s.Cells())
	for i := range s.Edges() {
		e := s.Edge(i)
		for _, p := range [2][2]int{{e.Left, e.Right}, {e.Right, e.Left}} {
			if g := slope.Find(p[0]); steep(p[0]) && slope.Find(p[1]) != g {
				all[g] = append(all[g], deepEdgeOf(s, side, i, p[0], p[1], end[g]))
			}
		}
	}
	return all
}

// deepEdgeOf is what an edge between a cell, whose column ends on a steep slope that is as deep as end, and another is of that.
func deepEdgeOf(s *blank.Shape, side string, edge, cell, to int, end float64) deepEdge {
	curve, atEnd := s.Edge(edge).Curve, true
	for _, at := range [3]plane.Point{curve.A, curve.At(0.5), curve.B} {
		atEnd = atEnd && math.Abs(s.EndAt(cell, at, side)-end) <= blank.SameHeight // else it is cut off before
	}
	goesOn := atEnd && (!s.HasMaterial(to) ||
		math.Abs(s.End(to, edge, side)-end) <= blank.SameHeight && blank.Outward(side, end, s.MeanEnd(to, side)) > 0)
	return deepEdge{to, goesOn, s.Falls(cell, edge, side)}
}
