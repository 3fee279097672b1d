package plane

import (
	"errors"
	"fmt"
	"math"
)

// Gear is an involute gear. Its plan is the transverse section: with a helix, module and pressure angle are those of
// the normal section, and reference diameter and transverse pressure angle are d = m z / cos(helix) and
// tan(a_t) = tan(a) / cos(helix).
//
// Formulas: ISO 21771 (involute gear geometry), basic rack and default factors: ISO 53; both from memory. A positive
// shift moves the tips out of the material and thickens the teeth, in a ring as in a gear.
type Gear struct {
	Module        float64 // mm, normal
	Teeth         int
	PressureAngle float64 // degrees, normal
	Shift         float64 // profile shift factor, in modules
	Helix         float64 // degrees
	Addendum      float64 // of the basic rack, in modules
	Dedendum      float64
	TipRadius     float64 // mm, in plan
	RootRadius    float64 // mm, in plan; below 0 stands for the basic rack's, as far as it fits
	Internal      bool    // the figure is the void of a ring gear, whose tips point inward
}

// Of the basic rack (ISO 53, profile A, from memory), in modules: root fillet radius and tip clearance.
const (
	rackFillet    = 0.38
	rackClearance = 0.25
)

// usualDepth is the share of the theoretical depth to which a rack has to cut before a gear is refused as undercut.
// The practical limit of 14 teeth without shift at 20 degrees, where theory asks for 17, is 0.82: common practice, no
// source.
const usualDepth = 0.8

// gearFigures are the sizes of a gear's figure, the void of a ring: mm and radians.
type gearFigures struct {
	normal, pressure float64 // pressure angles, normal and transverse
	pitch, base      float64 // radii
	tip, root        float64 // radii, of the material
	inner, outer     float64 // radii, of the figure
	lead             float64 // half of a tooth at the base circle
}

func (g *Gear) figures() (f gearFigures) {
	z, helix := float64(g.Teeth), g.Helix*math.Pi/180
	f.normal = g.PressureAngle * math.Pi / 180
	f.pressure = math.Atan(math.Tan(f.normal) / math.Cos(helix))
	f.pitch = g.Module * z / math.Cos(helix) / 2
	f.base = f.pitch * math.Cos(f.pressure)
	out := 1.0 // direction of the tips
	if g.Internal {
		out = -1
	}
	f.tip = f.pitch + out*g.Module*(g.Addendum+g.Shift)
	f.root = f.pitch - out*g.Module*(g.Dedendum-g.Shift)
	f.inner, f.outer = math.Min(f.tip, f.root), math.Max(f.tip, f.root)
	f.lead = (math.Pi/2+out*2*g.Shift*math.Tan(f.normal))/z + inv(f.pressure)
	return f
}

// halfAt is half of the angle of the figure's tooth at a radius.
func (f *gearFigures) halfAt(radius float64) float64 {
	return f.lead - inv(math.Acos(math.Min(1, f.base/radius)))
}

// Build draws the gear, or says what keeps it from being drawn and what would do.
//
// Flanks are arcs fitted to the involute: tangent pairs that meet it at both ends in point and direction, each for at
// most the roll angle that keeps them within flankError of it, in proportion to the module.
func (g *Gear) Build() (*Teeth, error) {
	f := g.figures()
	if err := g.check(f); err != nil {
		return nil, err
	}
	t := toothing{teeth: g.Teeth, inner: f.inner, outer: f.outer, innerRound: g.RootRadius, outerRound: g.TipRadius,
		innerName: "root_radius", outerName: "tip_radius"}
	t.flank = &involute{f.base, f.lead, math.Cbrt(flankError * g.Module / (biarcError * f.base))}
	if g.Internal {
		t.innerRound, t.outerRound = g.TipRadius, g.RootRadius
		t.innerName, t.outerName = t.outerName, t.innerName
	}
	if g.RootRadius < 0 {
		g.rackRadius(&t)
	}
	return t.build()
}

// rackRadius sets a root radius that the part file does not give.
func (g *Gear) rackRadius(t *toothing) {
	root := &t.innerRound
	if g.Internal {
		root = &t.outerRound
	}
	*root = most(rackFillet*g.Module, func(v float64) bool {
		*root = v
		_, ok := t.roundings(t.innerRound, t.outerRound)
		return ok
	})
}

// check refuses what no radius can mend.
func (g *Gear) check(f gearFigures) error {
	switch {
	case f.outer-f.inner < leastFlank:
		return fmt.Errorf("addendum and dedendum come to %s modules, which leaves no teeth", figure(g.Addendum+g.Dedendum))
	case f.inner <= leastFlank:
		return errors.New("the teeth reach the centre: give more teeth or less depth")
	case g.Internal && f.inner < f.base-Near:
		return fmt.Errorf("the tips reach inside the base circle, of diameter %s mm, where there is no involute: %s",
			figure(2*f.base), factor("addendum", (f.pitch-f.base)/g.Module-g.Shift))
	case f.outer <= f.base+leastFlank:
		return fmt.Errorf("the teeth end inside the base circle, of diameter %s mm, where the involute begins: give more addendum or shift",
			figure(2*f.base))
	}
	if !g.Internal {
		if err := g.undercut(f); err != nil {
			return err
		}
	}
	return g.pointed(f)
}

// pointed refuses gears whose flanks meet between root and tip.
func (g *Gear) pointed(f gearFigures) error {
	wide := func(r float64) bool { return f.halfAt(r)*r >= leastFlank/2 }
	space := (math.Pi/float64(g.Teeth) - f.halfAt(f.inner)) * f.inner
	end := f.base + most(f.outer-f.base, func(v float64) bool { return wide(f.base + v) })
	switch {
	case !wide(f.outer) && g.Internal:
		return fmt.Errorf("the spaces run to a point at diameter %s mm, before the root diameter %s mm: %s",
			figure(2*end), figure(2*f.outer), factor("dedendum", (end-f.pitch)/g.Module+g.Shift))
	case !wide(f.outer):
		return fmt.Errorf("the teeth run to a point at diameter %s mm, before the tip diameter %s mm: %s",
			figure(2*end), figure(2*f.outer), factor("addendum", (end-f.pitch)/g.Module-g.Shift))
	case space < leastFlank/2 && g.Internal:
		return fmt.Errorf("the teeth run to a point before the tip diameter %s mm: give less addendum or less shift", figure(2*f.inner))
	case space < leastFlank/2:
		return fmt.Errorf("the teeth leave no space at the root diameter %s mm: give less dedendum or less shift", figure(2*f.inner))
	}
	return nil
}

// factor words a bound on a factor of the rack, or, where none would do, the other way out.
func factor(name string, most float64) string {
	if most < 0.01 {
		return "give less shift"
	}
	return fmt.Sprintf("%s at most %s, or less shift", name, below(most))
}

// undercut refuses external gears that a rack would undercut, since no flank is left there to draw. The straight part
// of the rack's flank reaches h = dedendum - rackClearance below the reference line, and undercuts from
// z < 2 (h - x) cos(helix) / sin^2(a_t) (from memory).
func (g *Gear) undercut(f gearFigures) error {
	straight := usualDepth * (g.Dedendum - rackClearance)
	each := math.Pow(math.Sin(f.pressure), 2) * f.pitch / g.Module / float64(g.Teeth) // of depth, for each tooth
	if straight-g.Shift <= each*float64(g.Teeth)+atLimit {
		return nil
	}
	return fmt.Errorf("%d teeth with a shift of %s would be undercut at the root: a shift of at least %s, or at least %d teeth",
		g.Teeth, figure(g.Shift), above(straight-each*float64(g.Teeth)), int(math.Ceil((straight-g.Shift)/each-atLimit)))
}
