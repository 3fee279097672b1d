package measure

import (
	"math"

	"corerod/parts"
	"corerod/parts/blank"
	"corerod/parts/subject"
)

// findReliefs turns what punches form in end faces into subjects, one a copy of a body and face. Each lies where it is deepest.
func findReliefs(s *blank.Shape) (all []*subject.Relief) {
	whole := func() float64 { low, high := s.WholeSpan(); return high - low }()
	for n, f := range s.Features() {
		if f.Relief == nil {
			continue
		}
		for i := range f.Repeat.Copies() {
			at, low, high, ok := s.Deepest(n, i)
			if !ok {
				continue
			}
			r := &subject.Relief{Common: common(s, []int{n}, at, low, high), Face: f.Relief.On}
			r.Form, r.Slope = reliefSlope(f.Relief)
			if r.Rise = f.Extent.To - low; r.Face == "bottom" {
				r.Rise = high - f.Extent.From
			}
			r.Share = r.Rise / whole
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
