package tooling

import (
	"fmt"
	"math"
	"testing"

	"corerod/parts/stock"
	"corerod/parts/subject"
)

// disk is the area of a circle, mm2, by its diameter; ringOf that between two circles.
func disk(d float64) float64              { return math.Pi / 4 * d * d }
func ringOf(outer, inner float64) float64 { return disk(outer) - disk(inner) }

// columnOf is the column of a height.
func columnOf(t *testing.T, l *Layout, height float64) *Column {
	t.Helper()
	for _, c := range l.Columns {
		if math.Abs(c.Height-height) < 1e-9 {
			return c
		}
	}
	t.Fatalf("no column of %g mm", height)
	return nil
}

// TestFillOfStep: a flange 60 from 2 to 20 mm round a hub of 30 from 0, on one stepped lower punch. Mass is kept over the
// punch and the powder is level: its top is at (Q V + 2 A of the flange) / A. What a column lacks, Q h less its fill, comes
// from beside. On one flat upper punch each column closes by its fill less its height, and the least is the punch's.
func TestFillOfStep(t *testing.T) {
	const q = 7.0 / 3
	flange, inner := ringOf(60, 30), disk(30)
	area, volume := flange+inner, 18*flange+20*inner
	top := (q*volume + 2*flange) / area
	l, s := lay(t, "bodies: {flange: {circle: {diameter: 60}, from: 2, to: 20}, hub: {circle: {diameter: 30}, from: 0, to: 20}}",
		powderData{sintered: 7, apparent: 3, pressure: 600}.data())
	if l.Upper != 1 || l.Lower != 1 {
		t.Fatalf("%d upper and %d lower punches", l.Upper, l.Lower)
	}
	near(t, "ratio", l.Ratio, q, 1e-12)
	near(t, "deepest fill", l.Fill, top, 1e-9)
	low, high := columnOf(t, l, 18), columnOf(t, l, 20)
	near(t, "fill of the flange", low.Fill, top-2, 1e-9)
	near(t, "fill of the hub", high.Fill, top, 1e-9)
	near(t, "ratio of the flange", low.Ratio, (top-2)/18, 1e-9)
	near(t, "ratio of the hub", high.Ratio, top/20, 1e-9)
	near(t, "comes to the flange", low.Transfer, q*18-(top-2), 2e-9)
	near(t, "comes to the hub", high.Transfer, q*20-top, 2e-9)
	near(t, "fill of the lower punch", l.Of(LowerPunch)[0].Fill, q*volume/area, 1e-9)
	near(t, "stroke of the lower punch", l.Of(LowerPunch)[0].Stroke, (q-1)*volume/area, 1e-9)
	near(t, "stroke of the upper punch", l.Of(UpperPunch)[0].Stroke, top-20, 1e-9)
	if l.Of(UpperPunch)[0].Fill.Known {
		t.Error("an upper punch has a fill")
	}
	for _, c := range s.Columns {
		want := top - 2
		if c.Height == 20 {
			want = top
		}
		near(t, "fill that rules see", c.Fill, want, 1e-9)
		near(t, "ratio that rules see", c.FillRatio, want/c.Height, 1e-9)
	}
}

// TestFillOverShelves: what stands on a shelf is filled by itself to height times Q, each shelf apart, as over a lower punch.
func TestFillOverShelves(t *testing.T) {
	const q = 7.0 / 3
	l, _ := lay(t, "bodies: {hub: {circle: {diameter: 30}, from: 0, to: 20}, a: {rectangle: {length: 4, width: 6, at: [15, 0]}, "+
		"from: 15, to: 20}, b: {rectangle: {length: 4, width: 6, at: [-15, 0]}, from: 11, to: 20}}",
		powderData{sintered: 7, apparent: 3, pressure: 600}.data())
	if l.Shelves != 2 || l.Upper != 1 || l.Lower != 1 || l.Class != 4 {
		t.Fatalf("%d shelves, %d upper and %d lower punches, class %g", l.Shelves, l.Upper, l.Lower, l.Class)
	}
	for _, h := range []float64{5, 9, 20} {
		c := columnOf(t, l, h)
		near(t, "fill", c.Fill, q*h, 1e-9)
		near(t, "transfer", c.Transfer, 0, 1e-9)
	}
	near(t, "deepest", l.Fill, q*20, 1e-9)
	die := l.Of(Die)[0]
	near(t, "plan on the shelves", die.Area, l.Of(UpperPunch)[0].Area.Value-disk(30), 1e-6)
	if die.Fill.Known || die.Stroke.Known {
		t.Errorf("the die moves: %+v", die)
	}
	near(t, "stroke of the upper punch: that of the lowest column", l.Of(UpperPunch)[0].Stroke, (q-1)*5, 1e-9)
}

// TestMoved: a hub 30 that stands 2 mm over a flange 60, heights 20 and 18. On the flat lower punch the powder is equally
// deep, so the hub lacks Q (20 - mean); turned over the punch has the step and it lacks (Q - 1) (20 - mean), the flange nothing.
func TestMoved(t *testing.T) {
	flange, hub := ringOf(60, 30), disk(30)
	mean := (18*flange + 20*hub) / (flange + hub)
	for _, q := range []float64{1.5, 2, 3} {
		for way, most := range map[string]float64{"as-drawn": q, "turned-over": q - 1} {
			l, s := lay(t, "way_up: "+way+"\nbodies: {flange: {circle: {diameter: 60}, from: 0, to: 18}, hub: {circle: {diameter: 30}, "+
				"from: 0, to: 20}}", powderData{sintered: 3 * q, apparent: 3, pressure: 600}.data())
			near(t, way, l.Moved, hub*most*(20-mean), 1e-6)
			near(t, "that rules see, "+way, s.Moved, hub*most*(20-mean), 1e-6)
		}
	}
}

// TestShared: what one punch for two levels comes to. A lower punch with a step of 2 mm that is filled for the column of 20
// mm, 20 Q, has 20 Q - 2 over that of 18; an upper one leaves 20 Q over both. Pressed to 18 mm that is 20 Q - 2, or 20 Q,
// times the apparent density over 18, and impossible where it is above the density without pores.
func TestShared(t *testing.T) {
	const q, apparent = 7.0 / 3, 3.0
	below := (20*q - 2) * apparent / 18
	above := 20 * q * apparent / 18
	for _, c := range []struct {
		what, text string
		poreFree   float64 // g/cm3, 0 where it is not known
		fill       float64
		needs      float64
		impossible bool
	}{
		{"below", "bodies: {flange: {circle: {diameter: 60}, from: 2, to: 20}, hub: {circle: {diameter: 30}, from: 0, to: 20}}",
			below - 0.01, 20*q - 2, below, true},
		{"below, possible", "bodies: {flange: {circle: {diameter: 60}, from: 2, to: 20}, hub: {circle: {diameter: 30}, from: 0, to: " +
			"20}}", below + 0.01, 20*q - 2, below, false},
		{"above", "bodies: {flange: {circle: {diameter: 60}, from: 0, to: 18}, hub: {circle: {diameter: 30}, from: 0, to: 20}}",
			above - 0.01, 20 * q, above, true},
		{"above, possible", "bodies: {flange: {circle: {diameter: 60}, from: 0, to: 18}, hub: {circle: {diameter: 30}, from: 0, to: " +
			"20}}", above + 0.01, 20 * q, above, false},
		{"above, not known", "bodies: {flange: {circle: {diameter: 60}, from: 0, to: 18}, hub: {circle: {diameter: 30}, from: 0, " +
			"to: 20}}", 0, 20 * q, above, false},
	} {
		d := powderData{sintered: 7, apparent: apparent, pressure: 600}.data()
		if c.poreFree > 0 {
			d.Material.PoreFreeGreen = stock.Some(c.poreFree)
		}
		l, _ := lay(t, c.text, d)
		if len(l.Steps) != 1 {
			t.Fatalf("%s: %d steps", c.what, len(l.Steps))
		}
		x := l.Steps[0]
		near(t, c.what+": fill", x.Fill, c.fill, 1e-9)
		near(t, c.what+": needs", x.Needs, c.needs, 1e-9)
		if x.Tall != 20 || x.Low != 18 || x.Declared || x.Impossible != c.impossible || x.PoreFree != c.poreFree {
			t.Errorf("%s: %+v", c.what, x)
		}
	}
	// Without a material the heights stand, and nothing else.
	l, _ := lay(t, "bodies: {flange: {circle: {diameter: 60}, from: 0, to: 18}, hub: {circle: {diameter: 30}, from: 0, to: 20}}", nil)
	if x := l.Steps[0]; x.Tall != 20 || x.Low != 18 || x.Fill.Known || x.Needs.Known {
		t.Errorf("%+v", x)
	}
	// Levels on punches of their own share nothing, unless it is said that they do.
	for said, want := range map[string]int{"": 0, ", punch: own": 0, ", punch: face": 1} {
		l, _ := lay(t, fmt.Sprintf(hub, said), nil)
		if len(l.Steps) != want || want == 1 && (!l.Steps[0].Declared || l.Steps[0].Tall != 20 || l.Steps[0].Low != 8) {
			t.Errorf("%q: %+v", said, l.Steps)
		}
	}
}

// TestGreen: rho_g = rho_s (1 + c)^3 / (1 - w), with c the middle of the range of size change: growth asks for a denser
// compact, and so does lubricant that burns off.
func TestGreen(t *testing.T) {
	for _, c := range []struct{ low, high, lubricant, want float64 }{
		{0, 0, 0, 7}, {0.2, 0.6, 0, 7 * 1.004 * 1.004 * 1.004}, {-1.5, -0.5, 0, 7 * 0.99 * 0.99 * 0.99}, {0, 0, 0.75, 7 / 0.9925},
	} {
		l, s := lay(t, ring, powderData{sintered: 7, apparent: 3, pressure: 600, low: c.low, high: c.high, lubricant: c.lubricant}.data())
		near(t, "green density", l.Green, c.want, 1e-12)
		near(t, "green density that rules see", s.GreenDensity, c.want, 1e-12)
		near(t, "ratio", l.Ratio, c.want/3, 1e-12)
	}
	// From the die: 0.4 % that counts springback of 0.15 % in. The die for 40 is 40 / 1.004.
	d := powderData{sintered: 7, apparent: 3, pressure: 600, low: 0.4, high: 0.4}.data()
	d.Material.SizeChangeFrom = ""
	l, _ := lay(t, ring, d)
	near(t, "green density, from the die", l.Green, 7*math.Pow(1.004/1.0015, 3), 1e-12)
	near(t, "die", l.Sizes[0].Cavity, 40/1.004, 1e-12)
}

// TestPowder: columns filled together, by hand. Areas 10 and 30 mm2, volumes 50 and 300, feet at 1 and 0, Q = 2: the top is at
// (2 x 350 + 10 x 1) / 40 = 17.75 and the mean depth 700 / 40 = 17.5. The first has more than its 2 x 5, the
// second lacks 2 x 10 - 17.75 = 2.25. On their heads the feet are at -6 and -10: the top at (700 - 60 - 300) / 40 = 8.5, and
// the second lacks 20 - 18.5 = 1.5.
func TestPowder(t *testing.T) {
	column := func(low, area, volume float64) *Column {
		c := &Column{}
		c.Column.Column = &subject.Column{Area: area}
		c.Low, c.High, c.Volume = low, low+volume/area, volume
		return c
	}
	cs := []*Column{column(1, 10, 50), column(0, 30, 300)}
	for _, c := range []struct {
		over      bool
		top, mean float64
		lack      [2]float64
	}{{false, 17.75, 17.5, [2]float64{0, 2.25}}, {true, 8.5, 17.5, [2]float64{0, 1.5}}} {
		cs[0].Over, cs[1].Over = c.over, c.over
		top, mean := powder(2, cs)
		if lack := [2]float64{cs[0].lacks(2, top), cs[1].lacks(2, top)}; top != c.top || mean != c.mean || lack != c.lack {
			t.Errorf("on their heads %v: top %g, mean %g, lack %g; want %v", c.over, top, mean, lack, c)
		}
	}
}

// TestFillUnderSlope: under a slope fill and stroke are numbers, or neither is known.
func TestFillUnderSlope(t *testing.T) {
	l, _ := lay(t, "units: mm\nbodies: {l: {ball: {diameter: 30}}}\ncuts: {c: {circle: {diameter: 9}, from: -40, to: 4}}\n",
		powderData{sintered: 6.8, apparent: 3}.data())
	for _, m := range l.Members {
		for _, v := range []subject.Optional{m.Fill, m.Stroke} {
			if math.IsNaN(v.Value) || math.IsInf(v.Value, 0) {
				t.Errorf("%v has %g", m.Name, v.Value)
			}
		}
		if m.Kind == LowerPunch && m.Fill.Known != m.Stroke.Known {
			t.Errorf("%v: its fill is known: %v, its stroke: %v", m.Name, m.Fill.Known, m.Stroke.Known)
		}
	}
}
