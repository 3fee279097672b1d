package blank

import (
	"corerod/parts"
	"corerod/parts/plane"
	"corerod/parts/subject"
	"slices"
)

// findWhole measures the whole part; plan is its extent in plan.
func (s *shape) findWhole() (q *subject.Part, plan extent, ps parts.Problems) {
	q = &subject.Part{Title: s.part.Title, Drawing: s.part.Drawing, Revision: s.part.Revision, Customer: s.part.Customer}
	var m plane.Moments
	var solid []int
	for c := range s.cells {
		if len(s.cells[c].runs) > 0 {
			solid = append(solid, c)
			m = m.Add(s.overlay.Cells[c].Moments)
		}
	}
	volume, surface, err := s.solve()
	if err != nil {
		return nil, plan, parts.Problems{s.part.Problem(s.part.Place, err.Error())}
	}
	q.Volume, q.Surface, q.PlanArea = volume, surface, m.Area
	low, high := s.span(solid)
	q.Height = high - low
	plan.outline = s.outlineOf(solid)
	plan.width, plan.length, _ = plane.Width(plan.outline)
	q.Width, q.Length = plan.width, plan.length
	q.Outside = 2 * plane.Enclosing(plan.outline).R
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
	q.Band = s.leastBand()
	return q, plan, nil
}

// extent is an outline in plan with its width and its length across, mm.
type extent struct {
	outline       []plane.Curve
	width, length float64
}

// widthOf is the width of an outline, mm: often that of the part is a column's too.
func (e *extent) widthOf(outline []plane.Curve) float64 {
	if slices.Equal(e.outline, outline) {
		return e.width
	}
	width, _, _ := plane.Width(outline)
	return width
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
