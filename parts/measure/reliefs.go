package measure

import (
	"math"

	"corerod/parts"
	"corerod/parts/blank"
	"corerod/parts/plane"
	"corerod/parts/subject"
)

// findReliefs turns what punches form in end faces into subjects, one a copy of a body and face. Each lies where it is deepest.
func findReliefs(s *blank.Shape) (all []*subject.Relief) {
	low, high := s.WholeSpan()
	for n, f := range s.Features() {
		if f.Relief == nil {
			continue
		}
		for i := range f.Repeat.Copies() {
			x, ok := s.ReliefExtent(n, i)
			if !ok {
				continue
			}
			r := &subject.Relief{Common: common(s, []int{n}, x.At, x.Low, x.High), Face: f.Relief.On, Floor: x.Floor}
			r.Form, r.Slope = reliefSlope(f.Relief)
			r.Width = reliefWidth(f.Relief)
			if r.Rise = f.Extent.To - x.Low; r.Face == "bottom" {
				r.Rise = x.High - f.Extent.From
			}
			r.Share, r.LocalShare = r.Rise/(high-low), x.Share
			all = append(all, r)
		}
	}
	return all
}

// reliefSlope is what a relief is called, and its steepest slope from the face, degrees.
func reliefSlope(x *parts.Relief) (form string, slope float64) {
	switch {
	case x.Tilt != nil:
		return "tilt", x.Tilt.Angle
	case x.Teeth != nil:
		return "teeth", 90 - x.Teeth.Angle/2
	}
	d := x.Ramp
	span := math.Abs(d.End-d.Start) * math.Pi / 180
	return "ramp", math.Atan2(d.Rise/span, d.Inner/2) * 180 / math.Pi
}

// reliefWidth is how wide the ridge of the punch is that forms a tooth space at its mouth, or a ramp of a stated outer diameter, mm.
func reliefWidth(x *parts.Relief) subject.Optional {
	switch {
	case x.Teeth != nil:
		return subject.Some(2 * x.Teeth.Depth * math.Tan(x.Teeth.Angle*math.Pi/360))
	case x.Ramp != nil && x.Ramp.Outer > 0:
		return subject.Some((x.Ramp.Outer - x.Ramp.Inner) / 2)
	}
	return subject.Optional{}
}

// RoundOutside tells whether the plan's outside is one circle.
func (m *Measured) RoundOutside() bool { return m.Subject.Outside-m.Subject.Width <= 10*plane.Near }
