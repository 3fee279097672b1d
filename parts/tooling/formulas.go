package tooling

import "math"

// Decay is the exponent a by which pressure falls along a column over its whole height: a = mu k S / A, with friction mu
// at the walls, the ratio k of radial to axial stress, the wetted wall S and the plan area A (slice balance; for a
// cylinder of diameter D, 4 mu k H / D, as in Kalpakjian and Schmid).
func Decay(friction, stressRatio, contact, area float64) float64 {
	return friction * stressRatio * contact / area
}

// Profile is the pressure along one column, in multiples of its mean pressure, from its top at 0 to its bottom at 1.
type Profile struct {
	Top, Bottom float64 // at the two ends
	Neutral     float64 // where it is least, as a share of the height from the top
	Least       float64 // there
	decay       float64
}

// Along is the profile of a column with the exponent a that is pressed from the top, and from the bottom with lower times
// the pressure at the top: 1 for both ends alike, 0 for an end that does not move. The neutral plane lies where the
// two pressures that fall from the ends meet: at H/2 + A / (2 mu k U) ln(top/bottom) from the top.
func Along(a, lower float64) Profile {
	n := 1.0
	switch {
	case lower == 1:
		n = 0.5
	case lower > 0 && a > 0:
		n = math.Max(0, math.Min(1, 0.5-math.Log(lower)/(2*a)))
	case lower > 1:
		n = 0
	}
	p := Profile{Neutral: n, decay: a}
	switch n {
	case 0: // the upper end gives way to what comes from below
		p.Bottom = 1 / sum(a, 1)
		p.Top = p.Bottom * math.Exp(-a)
		p.Least = p.Top
	case 1:
		p.Top = 1 / sum(a, 1)
		p.Bottom = p.Top * math.Exp(-a)
		p.Least = p.Bottom
	default:
		p.Top = 1 / (sum(a, n) + lower*sum(a, 1-n))
		p.Bottom = lower * p.Top
		p.Least = p.Top * math.Exp(-a*n)
	}
	return p
}

// sum is the integral of exp(-a x) from 0 to x.
func sum(a, x float64) float64 {
	if a == 0 {
		return x
	}
	return -math.Expm1(-a*x) / a
}

// At is the pressure at a share of the height from the top, in multiples of the mean.
func (p Profile) At(x float64) float64 {
	if x <= p.Neutral {
		return p.Top * math.Exp(-p.decay*x)
	}
	return p.Bottom * math.Exp(-p.decay*(1-x))
}

// Green is the green density that sinters to a density when sizes change by a share from the green part (growth above zero) and the
// lubricant's share of the mass burns off: rho_g = rho_s (1 + change)^3 / (1 - lubricant).
func Green(sintered, change, lubricant float64) float64 {
	return sintered * math.Pow(1+change, 3) / (1 - lubricant)
}

// Cavity is the size of a die or core rod for a final size that changes by a share from the die to sintered (growth above zero): what it
// springs back by when it leaves the die is part of it (ISO 4492 defines it so, from memory).
func Cavity(final, change float64) float64 { return final / (1 + change) }

// FromDie is the change of size from the die for one from the green part, which has sprung back.
func FromDie(springback, change float64) float64 { return (1+springback)*(1+change) - 1 }

// FromGreen is the change of size from the green part for one from the die.
func FromGreen(springback, change float64) float64 { return (1+change)/(1+springback) - 1 }

// Force in kN of a pressure in MPa on an area in mm2.
func Force(pressure, area float64) float64 { return pressure * area / 1000 }
