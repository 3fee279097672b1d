package blank

import (
	"corerod/parts"
	"corerod/parts/plane"
	"strconv"
)

// Size is one size of a feature in plan that die, core rod or punch give to the part.
type Size struct {
	Of    string  // the feature and the size's name: bore.diameter
	Value float64 // mm
}

// Sizes lists the sizes in plan of all pressed features, in the order of the part file. A flat's is its distance from the
// centre.
func (b *Blank) Sizes() (all []Size) {
	s := b.shape
	for n, f := range s.features {
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
			add("outside", s.roundOutline(n))
			if d := 2 * turnedInside(p); d > plane.Near {
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
			add("outside", s.roundOutline(n))
		}
	}
	return all
}

// turnedInside is how near a half section, which was cut before, comes to its axis.
func turnedInside(t parts.Turned) float64 {
	section, _ := path(t.Start, t.Steps, 0)
	lo, _ := section.Bounds()
	return lo.X
}

// roundOutline is the diameter of the least circle round the widest outline of a feature.
func (s *shape) roundOutline(feature int) (d float64) {
	for i := range s.outlines {
		if s.outlines[i].feature == feature {
			d = max(d, 2*plane.Enclosing(s.outlines[i].loop).R)
		}
	}
	return d
}
