package measure

import (
	"strconv"

	"corerod/parts"
	"corerod/parts/blank"
	"corerod/parts/plane"
)

// Size is one size of a feature in plan that die, core rod or punch give to the part.
type Size struct {
	Of    string  // the feature and the size's name: bore.diameter
	Value float64 // mm
}

// Sizes lists the sizes in plan of all pressed features, in the order of the part file. A flat's is its distance from the
// centre.
func (m *Measured) Sizes() (all []Size) {
	s := m.Shape
	for n, f := range s.Features() {
		add := func(name string, v float64) { all = append(all, Size{f.Name + "." + name, v}) }
		switch p := f.Profile.(type) {
		case parts.Circle:
			add("diameter", p.Diameter)
		case parts.Rectangle:
			add("length", p.Length)
			add("width", p.Width)
		case parts.Slot:
			add("length", p.Length)
			add("width", p.Width)
		case parts.Hexagon:
			add("across_flats", p.AcrossFlats)
		case parts.Flatted:
			add("diameter", p.Diameter)
			for i, d := range p.Flats {
				add("flat_"+strconv.Itoa(i+1), d)
			}
		case parts.Turned:
			add("outside", roundOutline(s, n))
			if d := 2 * blank.LeastRadius(p); d > plane.Near {
				add("inside", d)
			}
		case parts.Ball:
			add("diameter", p.Diameter)
		case parts.Spline:
			add("major", p.Major)
			add("minor", p.Minor)
		case parts.Serration:
			add("major", p.Major)
			add("minor", p.Minor)
		default: // what has no size by name is given by the circle round its widest outline
			add("outside", roundOutline(s, n))
		}
	}
	return all
}

// roundOutline is the diameter of the least circle round the widest outline of a feature.
func roundOutline(s *blank.Shape, feature int) (d float64) {
	for i := range s.Figures() {
		if s.FeatureOf(i) == feature {
			d = max(d, 2*plane.Enclosing(s.Loop(i)).R)
		}
	}
	return d
}
