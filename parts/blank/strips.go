package blank

import "corerod/parts/plane"

// Strip is a stretch of a cutting path over which nothing changes in plan.
type Strip struct {
	From, To    float64 // mm along the path
	Low, High   float64 // mm, of the material; both 0 where there is none
	Bottom, Top *End    // what forms its two faces; nil where there is no material, or no tool can form it
	Inside      bool    // no material, but a hole
	Under, Over bool    // the space below the lower face, or above the upper one, is that of a through-hole
}

// Strips divides a cutting path where it crosses edges of the plan.
func (b *Blank) Strips(path []Leg) (all []Strip) {
	s := b.shape
	edges := make([]plane.Loop, len(s.overlay.Edges))
	for i := range edges {
		edges[i] = plane.Loop{s.overlay.Edges[i].Curve}
	}
	void := s.connected(func(c int) bool { return len(s.cells[c].runs) == 0 })
	for _, leg := range path {
		leg.At = plane.Point{X: leg.At.X - s.origin.X, Y: leg.At.Y - s.origin.Y}
		stops := []float64{leg.From}
		for _, at := range plane.Meetings(plane.Line(leg.At, leg.Point(leg.To)), edges) {
			stops = append(stops, leg.From+at)
		}
		stops = append(stops, leg.To)
		for i := 0; i+1 < len(stops); i++ {
			if stops[i+1]-stops[i] <= plane.Near {
				continue
			}
			c := s.overlay.CellAt(leg.Point((stops[i] + stops[i+1]) / 2))
			t := Strip{From: stops[i], To: stops[i+1], Bottom: b.endAt("bottom", c), Top: b.endAt("top", c)}
			if runs := s.cells[c].runs; len(runs) > 0 {
				lowest, highest := runs[0], runs[len(runs)-1]
				t.Low, t.High = s.drawn(s.bottom(lowest)), s.drawn(s.top(highest))
				t.Under, t.Over = s.ofThrough(void, c, lowest.lo-1), s.ofThrough(void, c, highest.hi+1)
			} else {
				t.Inside = void[c] != void[0]
			}
			all = append(all, t)
		}
	}
	return all
}

// ofThrough tells whether a cell's space in a slab is that of a through-hole: void has the groups of cells without material.
func (s *shape) ofThrough(void []int, cell, slab int) bool {
	if slab < 0 || slab >= len(s.slabs) {
		return false
	}
	voids := s.slabs[slab].voids
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
func (b *Blank) endAt(side string, cell int) *End {
	for _, e := range b.Ends {
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
