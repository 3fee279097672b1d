package measure

import (
	"fmt"
	"math"
	"slices"

	"corerod/parts"
	"corerod/parts/blank"
	"corerod/parts/form"
	"corerod/parts/plane"
	"corerod/parts/subject"
)

// findCrossings turns the part file's side features into subjects. They lie where their feature lies: on its
// anchor in plan, at their own height, or over the feature's height. One whose middle is above or below its feature is a
// problem.
func findCrossings(s *blank.Shape) (out []*subject.Crossing, ps parts.Problems) {
	low, high := s.WholeSpan()
	for i := range s.Part().Sides {
		d := &s.Part().Sides[i]
		c := &subject.Crossing{Form: d.Kind, MadeBy: d.MadeBy, Crossed: d.Crossed}
		c.ZLow, c.ZHigh = low, high
		if f := featureNamed(s, d.In); f != nil {
			if f.Extent.Open == "" {
				c.ZLow, c.ZHigh = f.Extent.From, f.Extent.To
			}
			at := form.Centre(f.Profile)
			c.X, c.Y = at.X, at.Y
		}
		from, to := c.ZLow, c.ZHigh
		switch d.Kind {
		case "hole":
			c.Width, c.Toward = subject.Some(d.Width), subject.Some(d.Toward)
			c.ZLow, c.ZHigh = d.At-d.Width/2, d.At+d.Width/2
		case "groove":
			c.Width, c.Depth = subject.Some(d.Width), subject.Some(d.Depth)
			c.ZLow, c.ZHigh = d.At-d.Width/2, d.At+d.Width/2
		case "flat":
			c.Toward = subject.Some(d.Toward)
			c.ZLow, c.ZHigh = d.At, d.At
		}
		if d.Kind != "thread" && d.Kind != "knurl" && (d.At < from-blank.SameHeight || d.At > to+blank.SameHeight) {
			ps = append(ps, s.Problem(d.Place,
				"the side feature %s lies outside %s: its z is %.4g mm, and %s goes from %.4g to %.4g mm",
				d.Name, d.In, d.At, d.In, from, to))
		}
		if why := unfitSide(s, d); why != "" {
			ps = append(ps, s.Problem(d.Place, "the side feature %s does not fit: %s", d.Name, why))
		}
		c.Name, c.Features = d.Name, []string{d.Name}
		out = append(out, c)
	}
	return out, ps
}

// unfitSide says why a groove or a flat does not fit on its feature, or "".
func unfitSide(s *blank.Shape, d *parts.Side) string {
	reach, most := 0.0, 0.0 // of the outline toward the flat, and half of its lesser width, where it is widest
	for i := range s.Figures() {
		f := s.Feature(s.FeatureOf(i))
		if f.Name != d.In || f.Relief != nil || s.CopyOf(i) > 0 {
			continue
		}
		if !form.HasCentre(f.Profile) {
			return ""
		}
		at := form.Centre(f.Profile)
		l := s.Loop(i).Moved(plane.Point{}, 0, plane.Point{X: s.Origin().X - at.X, Y: s.Origin().Y - at.Y})
		_, far := l.Moved(plane.Point{}, -d.Toward, plane.Point{}).Bounds()
		reach = math.Max(reach, far.X)
		lo, hi := l.Bounds()
		most = math.Max(most, math.Min(hi.X-lo.X, hi.Y-lo.Y)/2)
	}
	switch {
	case reach == 0: // a machined feature
	case d.Kind == "flat" && d.Away >= reach-plane.Near:
		return fmt.Sprintf("it is %s mm from the axis, and %s reaches only %s mm there", decimal(d.Away), d.In, decimal(reach))
	case d.Kind == "groove" && d.Depth >= most-plane.Near && isBody(s, d.In):
		return fmt.Sprintf("it is %s mm deep, and %s reaches only %s mm from its middle", decimal(d.Depth), d.In, decimal(most))
	}
	return ""
}

func isBody(s *blank.Shape, name string) bool {
	return slices.ContainsFunc(s.Part().Bodies, func(f *parts.Feature) bool { return f.Name == name })
}

func featureNamed(s *blank.Shape, name string) *parts.Feature {
	for _, f := range s.Part().Features() {
		if f.Name == name {
			return f
		}
	}
	return nil
}
