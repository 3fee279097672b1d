package tooling

import (
	"fmt"
	"math"

	"corerod/parts/stock"
	"corerod/parts/subject"
)

// press finds the mean pressure for the green density, and with the friction at the walls the pressure and force at
// every punch.
func (l *Layout) press() {
	mean, ok := l.meanPressure()
	if !ok {
		return
	}
	friction, ok1 := l.figure(stock.WallFriction, "pressure and force at the punches are")
	ratio, ok2 := l.figure(stock.StressRatio, "pressure and force at the punches are")
	lower, ok3 := 1.0, true
	if l.measured.Part.Pressing == "top" {
		lower = 0
	} else {
		lower, ok3 = l.figure(stock.LowerPressure, "pressure and force at the punches are")
	}
	if !ok1 || !ok2 || !ok3 {
		return
	}
	l.Mean = subject.Some(mean)
	total := 0.0
	for _, c := range l.all {
		c.Decay = subject.Some(Decay(friction, ratio, c.Contact, c.Area))
		from := lower
		if c.lower.Kind == Die {
			from = 0 // a shelf does not press
		}
		c.Profile = Along(c.Decay.Value, from)
		c.Pressure = l.Mean
		top, bottom := Force(mean*c.Profile.Top, c.Area), Force(mean*c.Profile.Bottom, c.Area)
		total += top
		c.upper.Force = subject.Some(c.upper.Force.Value + top)
		c.lower.Force = subject.Some(c.lower.Force.Value + bottom)
	}
	l.Force = subject.Some(total)
	for _, m := range l.Members {
		if m.Force.Known && (m.Kind == UpperPunch || m.Kind == LowerPunch) {
			m.Pressure = subject.Some(m.Force.Value * 1000 / m.Area.Value)
		}
	}
	l.buckle()
}

// What a punch is taken as when it is held against buckling: a steel rod that both ends hinge, as long as it moves and 30 mm more for what
// holds and guides it, from memory.
const (
	steel   = 210_000 // MPa, modulus of elasticity
	guiding = 30      // mm
)

// buckle finds the greatest share of the force at which a region of a punch would buckle, by Euler.
func (l *Layout) buckle() {
	for _, m := range l.Members {
		length := m.Fill
		if m.Kind == UpperPunch {
			length = m.Stroke
		}
		if m.Kind != UpperPunch && m.Kind != LowerPunch || !m.Pressure.Known || !length.Known || length.Value < 0 {
			continue
		}
		for _, p := range l.measured.Posts(m.Ends) {
			euler := math.Pi * math.Pi * steel * p[1] / math.Pow(length.Value+guiding, 2)
			if share := m.Pressure.Value * p[0] / euler; share > m.Buckling.Value {
				m.Buckling = subject.Some(share)
			}
		}
	}
}

// meanPressure is that which presses to the green density by the powder's own curve. Nothing is extrapolated.
func (l *Layout) meanPressure() (float64, bool) {
	if !l.Green.Known {
		return 0, false
	}
	m, c := l.data.Material, l.data.Curve
	const what = "pressure, force, ejection and density spread are not known: "
	if c == nil || len(c.Points) == 0 {
		l.unknown(fmt.Sprintf("%sthe material %s has no curve of pressure and green density", what, l.data.Name))
		return 0, false
	}
	p, ok := c.Pressure(l.Green.Value)
	if !ok {
		a, z := c.Points[0], c.Points[len(c.Points)-1]
		l.unknown(fmt.Sprintf("%sthe green density %.4g g/cm3 is out of reach of the curve %s, which goes from %g to %g g/cm3, "+
			"and nothing is extrapolated", what, l.Green.Value, m.Curve, a[1], z[1]))
		return 0, false
	}
	l.assume(Assumed{fmt.Sprintf("pressure for the green density %.4g g/cm3, from the curve", l.Green.Value), p, subject.MPa, c.Basis,
		"curves." + m.Curve})
	return p, true
}

// density finds how far the green density falls along every column.
func (l *Layout) density() {
	if !l.Mean.Known {
		return
	}
	for _, c := range l.all {
		high, ok1 := l.data.Curve.Density(l.Mean.Value * max(c.Profile.Top, c.Profile.Bottom))
		low, ok2 := l.data.Curve.Density(l.Mean.Value * c.Profile.Least)
		if ok1 && ok2 {
			c.Spread = subject.Some(high - low)
			continue
		}
		l.unknown(fmt.Sprintf("density spread of %s is not known: %.4g to %.4g MPa along it are not all within the curve %s", c.Name,
			l.Mean.Value*c.Profile.Least, l.Mean.Value*max(c.Profile.Top, c.Profile.Bottom), l.data.Material.Curve))
	}
}

// Density is the green density at a height along a column, a share from its top; unknown past the curve.
func (l *Layout) Density(c *Column, x float64) (density, pressure subject.Optional) {
	if !c.Decay.Known {
		return density, pressure
	}
	p := l.Mean.Value * c.Profile.At(x)
	if d, ok := l.data.Curve.Density(p); ok {
		density = subject.Some(d)
	}
	return density, subject.Some(p)
}

// eject finds the force to push the part out: friction times the radial stress that is left, on the walls of the die and
// of the core rods; and the tension that it makes in each of these.
func (l *Layout) eject() {
	if !l.Mean.Known {
		return
	}
	friction, ok1 := l.figure(stock.EjectionFriction, "ejection force is")
	share, ok2 := l.figure(stock.ResidualStress, "ejection force is")
	if !ok1 || !ok2 {
		return
	}
	l.Ejection = subject.Some(Force(friction*share*l.Mean.Value, l.DieWall+l.CoreWall))
	for _, m := range l.Of(CoreRod) {
		m.core.Tension = subject.Some(friction * share * l.Mean.Value * m.wall / m.Area.Value)
	}
}

// strength finds the green strength by the powder's own line, within it only, and what handling needs.
func (l *Layout) strength() {
	if !l.Green.Known || l.data.Curve == nil {
		return
	}
	l.Strength.Value, l.Strength.Known = l.data.Curve.GreenStrength(l.Green.Value)
	if !l.Strength.Known {
		l.unknown(fmt.Sprintf("green strength is not known: the curve %s has none at %.4g g/cm3", l.data.Material.Curve, l.Green.Value))
		return
	}
	l.assume(Assumed{fmt.Sprintf("green strength at %.4g g/cm3, from the powder's line", l.Green.Value), l.Strength.Value, subject.MPa,
		l.data.Curve.Basis, "curves." + l.data.Material.Curve})
	l.Handling.Value, l.Handling.Known = l.figure(stock.HandlingStrength, "the strength that handling needs is")
}
