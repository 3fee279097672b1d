package checker

import (
	"corerod/parts/blank"
	"corerod/parts/plane"
	"corerod/parts/subject"
	"corerod/parts/tooling"
)

// Leg is a straight piece of a cutting path.
type Leg = blank.Leg

// Drawing is what views of a reviewed part are drawn from: plan and sections in part coordinates, mm.
type Drawing struct {
	Outline  []plane.Loop // what the part covers in plan
	Lines    []blank.Line // its other edges, as seen from above
	Axes     []blank.Axis
	Sections []*Section
	Chords   map[*Finding]plane.Curve // the wall or gap that a finding is of
}

// Section is a view of the part cut along a path.
type Section struct {
	Letter  string
	Path    []Leg
	Loops   []plane.Loop // in places along the path and z
	Axes    []float64    // places of middles that the path goes through
	Strips  []tooling.Strip
	Through map[*Finding]float64 // places of the findings that the path goes through
}

// Draw makes the views of a reviewed part: the plan, a section through its axis and what lies around it, and one through the
// worst finding that this one misses.
func Draw(r *PartReview) *Drawing {
	s, d := r.Layout.Shape(), DrawPlan(r)
	for _, f := range r.Findings {
		long := 0.0
		switch x := f.Subject.(type) {
		case *subject.Wall:
			long = x.Thickness
		case *subject.Gap:
			long = x.Width
		default:
			continue
		}
		c := f.Subject.Place()
		if p, q, ok := s.Chord(f.PlaceOf(), (c.ZLow+c.ZHigh)/2); ok && p != q {
			d.Chords[f] = resized(p, q, long) // between slopes the chord at mid-height is another than what was measured
		}
	}
	v := viewer{r, d}
	d.Sections = append(d.Sections, v.first())
	if missed := v.missed(d.Sections[0]); missed != nil {
		if s := v.section("B", v.through(missed)); s.cuts() {
			d.Sections = append(d.Sections, s)
		}
	}
	return d
}

// resized is the line between two points, made as long as given about its middle.
func resized(p, q plane.Point, long float64) plane.Curve {
	x, y, by := (p.X+q.X)/2, (p.Y+q.Y)/2, long/p.Distance(q)/2
	return plane.Line(plane.Point{X: x + (p.X-q.X)*by, Y: y + (p.Y-q.Y)*by}, plane.Point{X: x + (q.X-p.X)*by, Y: y + (q.Y-p.Y)*by})
}

// DrawPlan makes the plan alone.
func DrawPlan(r *PartReview) *Drawing {
	s := r.Layout.Whole()
	return &Drawing{Outline: s.Outline(), Lines: s.Lines(), Axes: r.Layout.Shape().Axes(), Chords: map[*Finding]plane.Curve{}}
}

// PlaceOf is the point of the plan that a finding is at.
func (f *Finding) PlaceOf() plane.Point {
	c := f.Subject.Place()
	return plane.Point{X: c.X, Y: c.Y}
}
