package stock

// Figure is one number of a material that need not be known. The zero Figure is not.
type Figure struct {
	Value float64
	Known bool
}

// Some is a known figure.
func Some(v float64) Figure { return Figure{v, true} }

// Share is the mass of one element in a powder mix without lubricant, in percent.
type Share struct {
	Element string
	Percent float64
}

// Material is one powder mix, pressed and sintered. What is not known of it is absent, and nothing is taken from
// another powder instead.
type Material struct {
	DensityLow, DensityHigh       Figure // g/cm3, sintered: the usual range
	Apparent                      Figure // g/cm3, of the loose powder
	PoreFree                      Figure // g/cm3, sintered, without lubricant
	PoreFreeGreen                 Figure // g/cm3, with lubricant
	SizeChangeLow, SizeChangeHigh Figure // percent, growth above zero
	SizeChangeFrom                string // "die" or "green": from which size to the sintered one; "" is die
	Lubricant                     Figure // percent of the mass of the mix
	Composition                   []Share
	Family                        string // one of Families; "" where it is not said
	Curve                         string // name of the curve of pressure and green density, "" for none
	Basis                         Basis  // of the figures that Bases does not name
	Source                        string // key of the pack's sources, "" for none
	Note                          string
	Bases                         map[string]Basis // of single figures, by their key in the pack
}

// Families of materials, by what decides their tolerances and their powder.
var Families = []string{"iron", "copper-steel", "nickel-steel", "diffusion-alloyed", "infiltrated", "stainless", "bearing", "brass",
	"soft-magnetic"}

// BasisOf is the basis of one figure of the material, by its key in the pack, such as size_change.
func (m *Material) BasisOf(key string) Basis {
	if b, ok := m.Bases[key]; ok {
		return b
	}
	return m.Basis
}

// Curve gives green density by pressure: points of rising pressure and density, MPa and g/cm3; and of the same powder
// green strength by green density, where that is known.
type Curve struct {
	Points   [][2]float64
	Strength [][2]float64 // g/cm3 and MPa, both rising
	Basis    Basis
	Source   string // key of the pack's sources, "" for none
	Note     string
}

// Density is the green density, g/cm3, at a pressure in MPa, on the straight line between the points beside it. Past
// either end of the curve it is not known: nothing is extrapolated.
func (c *Curve) Density(pressure float64) (float64, bool) { return along(c.Points, 0, pressure) }

// Pressure is the pressure, MPa, that presses to a green density in g/cm3; not known past either end of the curve.
func (c *Curve) Pressure(density float64) (float64, bool) { return along(c.Points, 1, density) }

// GreenStrength is the green strength, MPa, at a green density; not known past either end of its line.
func (c *Curve) GreenStrength(density float64) (float64, bool) { return along(c.Strength, 0, density) }

// along finds the other coordinate of the point whose coordinate `by` is v, on straight lines between points that rise
// in both coordinates.
func along(points [][2]float64, by int, v float64) (float64, bool) {
	for i, p := range points {
		switch {
		case v > p[by]+onRow:
			continue
		case v >= p[by]-onRow:
			return p[1-by], true
		case i == 0:
			return 0, false
		}
		a := points[i-1]
		return a[1-by] + (p[1-by]-a[1-by])*(v-a[by])/(p[by]-a[by]), true
	}
	return 0, false
}

// Press is one press of a shop.
type Press struct {
	Capacity       float64 // kN
	Fill           float64 // mm, deepest
	Eject          float64 // kN
	EjectionStroke float64 // mm
	Upper, Lower   float64 // punches driven from above and from below
	Basis          Basis
	Source         string // key of the pack's sources, "" for none
	Note           string
}
