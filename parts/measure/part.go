package measure

import (
	"slices"

	"corerod/parts/blank"
	"corerod/parts/plane"
	"corerod/parts/subject"
)

// findWhole measures the whole part, whose volume, surface and plan are those with rims, feet, blends and marks; plan is its extent in plan
// without.
func findWhole(s, whole *blank.Shape) (q *subject.Part, plan extent) {
	q = &subject.Part{Title: s.Part().Title, Drawing: s.Part().Drawing, Revision: s.Part().Revision, Customer: s.Part().Customer}
	var m plane.Moments
	var solid []int
	for c := range s.Cells() {
		if s.HasMaterial(c) {
			solid = append(solid, c)
		}
	}
	for c := range whole.Cells() {
		if whole.HasMaterial(c) {
			m = m.Add(whole.Moments(c))
		}
	}
	q.Volume, q.Surface = whole.Volume()
	q.PlanArea = m.Area
	low, high := s.Span(solid)
	q.Height = high - low
	plan.outline = s.OutlineOf(solid)
	plan.width, plan.length, _ = plane.Width(plan.outline)
	q.Width, q.Length = plan.width, plan.length
	q.Outside = 2 * plane.Enclosing(plan.outline).R
	q.Slenderness = q.Height / q.Width
	at := s.ToPart(m.Centroid())
	q.Common = subject.Common{Name: s.Part().Name, X: at.X, Y: at.Y, ZLow: low, ZHigh: high, Features: []string{}}
	q.Pressing, q.Sized, q.WayUp = s.Part().Pressing, s.Part().Sized, "as-drawn"
	if s.Part().Quantity > 0 {
		q.Quantity = subject.Some(s.Part().Quantity)
	}
	if d := s.Part().Material.Density; d > 0 {
		q.Density, q.Mass = subject.Some(d), subject.Some(q.Volume*d/1000)
	}
	q.Bulges = findBulges(s)
	q.Band = leastBand(q.Bulges)
	return q, plan
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
func plainBush(s *blank.Shape) bool {
	for c := range s.Cells() {
		if r, ok := s.Column(c); ok && (len(s.Runs(c)) > 1 || r != (blank.Run{Lo: 0, Hi: s.Slabs() - 1})) {
			return false
		}
	}
	r := s.Region(0)
	if len(r.Rings) != 2 || len(r.Rings[0].Pieces) != 1 || len(r.Rings[1].Pieces) != 1 {
		return false
	}
	a, b := r.Rings[0].Pieces[0].Curve, r.Rings[1].Pieces[0].Curve
	return a.IsArc() && b.IsArc() && a.C.Distance(b.C) <= plane.Near
}
