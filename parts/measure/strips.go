package measure

import (
	"corerod/parts/blank"
	"corerod/parts/plane"
)

// Strip is a stretch of a cutting path over which nothing changes in plan.
type Strip struct {
	From, To    float64 // mm along the path
	Low, High   float64 // mm, of the material; both 0 where there is none
	Bottom, Top *End    // what forms its two faces; nil where there is no material, or no tool can form it
	Inside      bool    // no material, but a hole
	Under, Over bool    // the space below the lower face, or above the upper one, is that of a through-hole
}

// Strips divides a cutting path where it crosses edges of the plan.
func (m *Measured) Strips(path []blank.Leg) (all []Strip) {
	s := m.Shape
	edges := make([]plane.Loop, s.Edges())
	for i := range edges {
		edges[i] = plane.Loop{s.Edge(i).Curve}
	}
	void := s.Connected(func(c int) bool { return !s.HasMaterial(c) })
	for _, leg := range path {
		leg.At = s.ToPlan(leg.At)
		stops := []float64{leg.From}
		for _, at := range plane.Meetings(plane.Line(leg.At, leg.Point(leg.To)), edges) {
			stops = append(stops, leg.From+at)
		}
		stops = append(stops, leg.To)
		for i := 0; i+1 < len(stops); i++ {
			if stops[i+1]-stops[i] <= plane.Near {
				continue
			}
			c := s.CellAt(leg.Point((stops[i] + stops[i+1]) / 2))
			t := Strip{From: stops[i], To: stops[i+1], Bottom: m.endAt("bottom", c), Top: m.endAt("top", c)}
			if runs := s.Runs(c); len(runs) > 0 {
				lowest, highest := runs[0], runs[len(runs)-1]
				t.Low, t.High = s.Span([]int{c})
				t.Under, t.Over = ofThrough(s, void, c, lowest.Lo-1), ofThrough(s, void, c, highest.Hi+1)
			} else {
				t.Inside = void[c] != void[0]
			}
			all = append(all, t)
		}
	}
	return all
}

// ofThrough tells whether a cell's space in a slab is that of a through-hole: void has the groups of cells without material.
func ofThrough(s *blank.Shape, void []int, cell, slab int) bool {
	if slab < 0 || slab >= s.Slabs() {
		return false
	}
	voids := s.Voids(slab)
	if voids[cell] < 0 || voids[cell] == voids[0] {
		return false
	}
	for c, group := range void {
		if group >= 0 && group != void[0] && voids[c] == voids[cell] {
			return true
		}
	}
	return false
}

// endAt is what forms one face of a cell's column.
func (m *Measured) endAt(side string, cell int) *End {
	for _, e := range m.Ends {
		if e.Side != side {
			continue
		}
		for _, c := range e.cells {
			if c == cell {
				return e
			}
		}
	}
	return nil
}
