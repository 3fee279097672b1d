package blank

import (
	"fmt"

	"corerod/parts"
	"corerod/parts/subject"
)

// findCrossings turns the part file's side features into subjects. They lie where their feature lies: on its
// anchor in plan, at their own height, or over the feature's height. One whose middle is above or below its feature is a
// problem.
func (s *shape) findCrossings() (out []*subject.Crossing, ps parts.Problems) {
	low, high := s.spanAll()
	for i := range s.part.Sides {
		d := &s.part.Sides[i]
		c := &subject.Crossing{Form: d.Kind, MadeBy: d.MadeBy, Crossed: d.Crossed}
		c.ZLow, c.ZHigh = low, high
		if f := s.featureNamed(d.In); f != nil {
			if f.Extent.Open == "" {
				c.ZLow, c.ZHigh = f.Extent.From, f.Extent.To
			}
			at := anchor(f.Profile)
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
		if d.Kind != "thread" && d.Kind != "knurl" && (d.At < from-sameHeight || d.At > to+sameHeight) {
			ps = append(ps, s.part.Problem(d.Place, fmt.Sprintf("the side feature %s lies outside %s: its z is %.4g mm, and %s goes from %.4g to %.4g mm",
				d.Name, d.In, d.At, d.In, from, to)))
		}
		c.Name, c.Features = d.Name, []string{d.Name}
		out = append(out, c)
	}
	return out, ps
}

func (s *shape) featureNamed(name string) *parts.Feature {
	for _, f := range s.part.Features() {
		if f.Name == name {
			return f
		}
	}
	return nil
}
