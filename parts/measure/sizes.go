package measure

import (
	"corerod/parts/blank"
	"corerod/parts/form"
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
		if f.Relief != nil {
			continue
		}
		named := form.Sizes(f.Profile)
		for _, x := range named {
			all = append(all, Size{f.Name + "." + x.Name, x.Value})
		}
		if len(named) == 0 { // it is given by the circle round its widest outline
			all = append(all, Size{f.Name + ".outside", roundOutline(s, n)})
		}
		if t, turned := form.HalfSection(f.Profile); turned {
			if d := 2 * blank.LeastRadius(t); d > plane.Near {
				all = append(all, Size{f.Name + ".inside", d})
			}
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
