package blank

import (
	"corerod/parts"
	"corerod/parts/plane"
	"corerod/parts/subject"
	"slices"
)

// measurePart fills the measures of the whole part.
func (s *shape) measurePart(q *subject.Part) parts.Problems {
	var m plane.Moments
	var solid []int
	for c := range s.cells {
		if len(s.cells[c].runs) == 0 {
			continue
		}
		solid = append(solid, c)
		m = m.Add(s.overlay.Cells[c].Moments)
		for _, r := range s.cells[c].runs {
			q.Volume += s.area(c) * (s.top(r) - s.bottom(r))
		}
		q.Surface += 2 * s.area(c) * float64(len(s.cells[c].runs))
	}
	for i := range s.overlay.Edges {
		e := &s.overlay.Edges[i]
		for k := range s.slabs {
			if s.cells[e.Left].solid[k] != s.cells[e.Right].solid[k] {
				q.Surface += e.Curve.Length() * (s.heights[k+1] - s.heights[k])
			}
		}
	}
	q.PlanArea = m.Area
	if s.hasSlopes() {
		if err := s.solve(q); err != nil {
			return parts.Problems{s.part.Problem(s.part.Place, err.Error())}
		}
	}
	low, high := s.span(solid)
	q.Height = high - low
	outline := s.outlineOf(solid)
	q.Width, q.Length = s.widthOf(outline)
	q.Outside = 2 * plane.Enclosing(outline).R
	q.Slenderness = q.Height / q.Width
	at := s.at(m.Centroid())
	q.Common = subject.Common{Name: s.part.Name, X: at.X, Y: at.Y, ZLow: low, ZHigh: high, Features: []string{}}
	q.Pressing, q.Sized = s.part.Pressing, s.part.Sized
	if s.part.Quantity > 0 {
		q.Quantity = subject.Some(s.part.Quantity)
	}
	if d := s.part.Material.Density; d > 0 {
		q.Density, q.Mass = subject.Some(d), subject.Some(q.Volume*d/1000)
	}
	return nil
}

// measuredWidth is an outline with its width and length: that of the part is often a column's too.
type measuredWidth struct {
	outline       []plane.Curve
	width, length float64
}

// widthOf is the width of an outline and its length across.
func (s *shape) widthOf(outline []plane.Curve) (width, length float64) {
	for _, m := range s.widths {
		if slices.Equal(m.outline, outline) {
			return m.width, m.length
		}
	}
	width, length, _ = plane.Width(outline)
	s.widths = append(s.widths, measuredWidth{outline, width, length})
	return width, length
}

// plainBush tells whether the whole part is one ring of one height, a circle in a concentric circle.
func (s *shape) plainBush() bool {
	for c := range s.cells {
		if r, ok := s.cells[c].column(); ok && (len(s.cells[c].runs) > 1 || r != (run{0, len(s.slabs) - 1})) {
			return false
		}
	}
	r := s.slabs[0].region
	if len(r.Rings) != 2 || len(r.Rings[0].Pieces) != 1 || len(r.Rings[1].Pieces) != 1 {
		return false
	}
	a, b := r.Rings[0].Pieces[0].Curve, r.Rings[1].Pieces[0].Curve
	return a.IsArc() && b.IsArc() && a.C.Distance(b.C) <= plane.Near
}
