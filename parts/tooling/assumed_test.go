package tooling

import (
	"math"
	"slices"
	"strings"
	"testing"

	"corerod/parts/stock"
)

// TestAssumed: the layout lists each figure that it stands on once, with its unit, the basis of that very figure and where a shop
// puts its own.
func TestAssumed(t *testing.T) {
	d := powderData{sintered: 7, apparent: 3, pressure: 600, friction: 0.1, ratio: 0.5, low: 0.2, high: 0.6, lubricant: 0.75,
		presses: []Press{pressOf("a", 9000, 500, 600, 200, 3, 3)},
		more:    map[string]float64{stock.HandlingStrength: 5.5}}.data()
	d.Material.Bases = map[string]stock.Basis{"apparent": stock.Shop}
	d.Curve.Basis = stock.Published
	d.Curve.Strength = [][2]float64{{6, 5}, {8, 25}}
	l, _ := lay(t, ring, d)
	green := 7 * math.Pow(1.004, 3) / 0.9925
	want := []Assumed{
		{"change of size from green to sintered, the middle of the range", 0.4, "percent", stock.Memory, "materials.powder.size_change"},
		{"lubricant that burns off", 0.75, "percent", stock.Memory, "materials.powder.lubricant"},
		{"apparent density of the powder", 3, "g/cm3", stock.Shop, "materials.powder.apparent"},
		{"pressure for the green density 7.138 g/cm3, from the curve", 600, "MPa", stock.Published, "curves.test"},
		{"friction of powder on the walls", 0.1, "", stock.Practice, "limits.wall_friction of test"},
		{"radial to axial stress in the powder", 0.5, "", stock.Practice, "limits.stress_ratio of test"},
		{"pressure of the lower punches to that of the upper ones, where both press", 1, "", stock.Practice,
			"limits.lower_pressure of test"},
		{"friction on the walls at ejection", 0.1, "", stock.Practice, "limits.ejection_friction of test"},
		{"radial stress left after pressing, to the mean pressure", 0.25, "", stock.Practice, "limits.residual_stress of test"},
		{"green strength at 7.138 g/cm3, from the powder's line", 5 + 10*(green-6), "MPa", stock.Published, "curves.test"},
		{"green strength that handling needs", 5.5, "MPa", stock.Practice, "limits.handling_strength of test"},
		{"radial springback out of the die", 0.15, "percent", stock.Practice, "limits.springback of test"},
		{"load up to which a press is used, to its capacity", 0.8, "", stock.Practice, "limits.press_load of test"},
	}
	if len(l.Assumed) != len(want) {
		t.Fatalf("%d figures, want %d: %+v", len(l.Assumed), len(want), l.Assumed)
	}
	for i, a := range l.Assumed {
		w := want[i]
		if math.Abs(a.Value-w.Value) > 1e-9 {
			t.Errorf("%s is %g, want %g", a.What, a.Value, w.Value)
		}
		if a.Value = w.Value; a != w {
			t.Errorf("%+v, want %+v", a, w)
		}
	}
	if len(l.Unknown) > 0 {
		t.Errorf("not known: %q", l.Unknown)
	}
	// Pressed from above alone the pressure of the lower punches is not asked for.
	l, _ = lay(t, "pressing: top\n"+ring, d)
	if slices.ContainsFunc(l.Assumed, func(a Assumed) bool { return a.From == "limits.lower_pressure of test" }) {
		t.Errorf("%+v", l.Assumed)
	}
}

// TestNotKnown: each message is there once, names what hangs on the figure that is missing, and the name under which a pack
// gives it; what does not hang on it is known.
func TestNotKnown(t *testing.T) {
	figure := func(name string) func(d *Data) { return func(d *Data) { d.Figure = without(d.Figure, name) } }
	for _, c := range []struct {
		change func(d *Data)
		want   []string
		force  bool
		sizes  bool
	}{
		{func(d *Data) { d.Figure = nil }, []string{
			"pressure and force at the punches are not known: no pack in force has the limit wall_friction, friction of powder on " +
				"the walls",
			"pressure and force at the punches are not known: no pack in force has the limit stress_ratio, radial to axial stress " +
				"in the powder",
			"pressure and force at the punches are not known: no pack in force has the limit lower_pressure, pressure of the lower " +
				"punches to that of the upper ones, where both press",
			"the strength that handling needs is not known: no pack in force has the limit handling_strength, green strength that " +
				"handling needs",
			"die sizes are not known: no pack in force has the limit springback, radial springback out of the die"}, false, false},
		{figure(stock.WallFriction), []string{"pressure and force at the punches are not known: no pack in force has the limit " +
			"wall_friction, friction of powder on the walls"}, false, true},
		{figure(stock.StressRatio), []string{"pressure and force at the punches are not known: no pack in force has the limit " +
			"stress_ratio, radial to axial stress in the powder"}, false, true},
		{figure(stock.LowerPressure), []string{"pressure and force at the punches are not known: no pack in force has the limit " +
			"lower_pressure, pressure of the lower punches to that of the upper ones, where both press"}, false, true},
		{figure(stock.ResidualStress), []string{"ejection force is not known: no pack in force has the limit residual_stress, " +
			"radial stress left after pressing, to the mean pressure"}, true, true},
		{figure(stock.Springback), []string{"die sizes are not known: no pack in force has the limit springback, radial springback " +
			"out of the die"}, true, false},
		{func(d *Data) { d.Name, d.Material = "", nil }, []string{"green density, fill, pressure and force and die sizes are not " +
			"known: the part file names no material"}, false, false},
		{func(d *Data) { d.Material = nil }, []string{"green density, fill, pressure and force and die sizes are not known: no pack " +
			"in force has the material powder"}, false, false},
		{func(d *Data) { d.Material.SizeChangeLow.Known = false }, []string{"green density, fill, pressure and force and die sizes " +
			"are not known: the material powder has no size_change"}, false, false},
		{func(d *Data) { d.Density = 0 }, []string{"green density, fill, pressure and force are not known: the part file states no " +
			"density"}, false, true},
		{func(d *Data) { d.Curve = &stock.Curve{} }, []string{"pressure, force, ejection and density spread are not known: the " +
			"material powder has no curve of pressure and green density",
			"green strength is not known: the curve test has none at 7 g/cm3"}, false, true},
		{func(d *Data) { d.Curve.Points, d.Density = [][2]float64{{200, 5.5}, {400, 6}, {800, 6.5}}, 7 }, []string{
			"pressure, force, ejection and density spread are not known: the green density 7 g/cm3 is out of reach of the curve " +
				"test, which goes from 5.5 to 6.5 g/cm3, and nothing is extrapolated"}, false, true},
	} {
		d := powderData{sintered: 7, apparent: 3, pressure: 600, more: map[string]float64{stock.HandlingStrength: 5.5}}.data()
		d.Curve.Strength = [][2]float64{{6, 5}, {8, 25}}
		c.change(d)
		l, _ := lay(t, ring, d)
		if !slices.Equal(l.Unknown, c.want) {
			t.Errorf("not known:\n%s\nwant:\n%s", strings.Join(l.Unknown, "\n"), strings.Join(c.want, "\n"))
		}
		if l.Force.Known != c.force || len(l.Sizes) != 2 || l.Sizes[0].Cavity.Known != c.sizes || l.Sizes[1].Low.Known != c.sizes {
			t.Errorf("%q: force %v, sizes %+v", c.want[0], l.Force, l.Sizes)
		}
		if !l.Force.Known && (l.Ejection.Known || l.Mean.Known || l.Columns[0].Spread.Known || l.Columns[0].Pressure.Known ||
			l.Of(UpperPunch)[0].Force.Known) {
			t.Errorf("%q: without a force %+v", c.want[0], l)
		}
	}
}
