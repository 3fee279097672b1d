package blank

import (
	"corerod/parts"
	"corerod/parts/plane"
)

// toothed builds the teeth of a gear, spline or serration.
func toothed(p parts.Profile) (*plane.Teeth, error) {
	switch s := p.(type) {
	case parts.Gear:
		return (&plane.Gear{Module: s.Module, Teeth: s.Teeth, PressureAngle: s.PressureAngle, Shift: s.Shift, Helix: s.Helix,
			Internal: s.Internal, Addendum: s.Addendum, Dedendum: s.Dedendum, TipRadius: s.TipRadius, RootRadius: s.RootRadius}).Build()
	case parts.Spline:
		return plane.Spline(s.Major, s.Minor, s.Teeth, s.ToothWidth, s.Corner)
	case parts.Serration:
		return plane.Serration(s.Major, s.Minor, s.Teeth, s.Angle, s.TipRadius, s.RootRadius)
	}
	return nil, nil
}

// Teeth are the teeth that the outline of a gear, spline or serration is made of; nil for other features.
func (s *Shape) Teeth(feature int) *plane.Teeth {
	t, _ := toothed(s.features[feature].Profile) // drawn before without an error
	return t
}

// placing is the centre of a toothed profile and its turn in degrees.
func placing(p parts.Profile) (plane.Point, float64) {
	switch s := p.(type) {
	case parts.Gear:
		return point(s.At), s.Turn
	case parts.Spline:
		return point(s.At), s.Turn
	case parts.Serration:
		return point(s.At), s.Turn
	}
	return plane.Point{}, 0
}
