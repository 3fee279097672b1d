package tooling

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"corerod/parts/form"
	"corerod/parts/measure"
	"corerod/parts/plane"
	"corerod/parts/stock"
	"corerod/parts/subject"
)

// powder is a material and the figures for a layout: green density is the sintered one, the curve gives pressure at it.
type powderData struct {
	sintered, apparent, pressure, friction, ratio float64
	low, high, lubricant                          float64
	presses                                       []Press
	more                                          map[string]float64
}

func (p powderData) data() *Data {
	m := &stock.Material{Apparent: stock.Some(p.apparent), SizeChangeLow: stock.Some(p.low), SizeChangeHigh: stock.Some(p.high),
		Lubricant: stock.Some(p.lubricant), SizeChangeFrom: "green", Curve: "test", Basis: stock.Memory}
	green := Green(p.sintered, (p.low+p.high)/200, p.lubricant/100)
	c := &stock.Curve{Points: [][2]float64{{1e-3 * p.pressure, green - 1}, {p.pressure, green}, {5 * p.pressure, green + 0.2}},
		Basis: stock.Memory}
	figures := map[string]float64{stock.WallFriction: p.friction, stock.StressRatio: p.ratio, stock.LowerPressure: 1,
		stock.EjectionFriction: 0.1,
		stock.ResidualStress:   0.25, stock.Springback: 0.15, stock.PressLoad: 0.8}
	for k, v := range p.more {
		figures[k] = v
	}
	return &Data{Density: p.sintered, Name: "powder", Material: m, Curve: c, Presses: p.presses, Figure: func(name string) (Figure, bool) {
		v, ok := figures[name]
		return Figure{Limit: stock.Limit{Value: v, Unit: stock.ToolFigureNamed(name).Unit, Basis: stock.Practice}, Pack: "test"}, ok
	}}
}

// lay lays out the tool for a part as it is drawn, where its text says nothing else.
func lay(t testing.TB, text string, d *Data) (*Layout, *subject.Part) {
	t.Helper()
	if !strings.Contains(text, "way_up:") {
		text = "way_up: as-drawn\n" + text
	}
	if !strings.Contains(text, "units:") {
		text = "units: mm\n" + text
	}
	p, ps := form.Parse("test.yaml", []byte("part: test\n"+text))
	if len(ps) > 0 {
		t.Fatal(ps)
	}
	b, ps := measure.Part(p)
	if len(ps) > 0 {
		t.Fatal(ps)
	}
	if d == nil {
		d = &Data{}
	}
	return Lay(b, d), b.Subject
}

// close tells whether a figure is as printed, to the digits that the source prints.
func near(t *testing.T, what string, got subject.Optional, want, within float64) {
	t.Helper()
	if !got.Known || math.Abs(got.Value-want) > within {
		t.Errorf("%s is %v, want %g", what, got, want)
	}
}

const (
	ring = "bodies: {ring: {circle: {diameter: 40}, from: 0, to: 20}}\ncuts: {bore: {circle: {diameter: 20}}}\n"
	hub  = "bodies: {hub: {circle: {diameter: 30}, from: 0, to: 20}, flange: {circle: {diameter: 60}, from: 12, to: 20%s}}\ncuts: {bore: {circle: {diameter: 15}}}\n"
)

// TestRing: a ring 40/20 x 20 mm, green 7.0, apparent 3.0, 600 MPa, worked out by hand: area 942.48 mm2, 565.5 kN,
// 131.95 g, fill 46.67 mm, stroke 26.67; with friction 0.10 and k 0.5 the wetted perimeter is 188.50 mm, a 0.200, the
// pressure at the far end 0.8187 and at mid-height 0.9048, the forces by 1.103 and 1.051 greater; with a radial stress of
// 150 MPa on walls of 3,769.9 mm2 the ejection force is 56.55 kN.
func TestRing(t *testing.T) {
	p := powderData{sintered: 7, apparent: 3, pressure: 600, ratio: 0.5}
	l, s := lay(t, ring, p.data())
	near(t, "area", l.Of(UpperPunch)[0].Area, 942.4778, 1e-3)
	near(t, "force", l.Force, 565.4867, 1e-3)
	near(t, "ratio", l.Ratio, 7.0/3, 1e-12)
	near(t, "fill", l.Of(LowerPunch)[0].Fill, 46.6667, 1e-4)
	near(t, "stroke", l.Of(LowerPunch)[0].Stroke, 26.6667, 1e-4)
	near(t, "stroke of the upper punch", l.Of(UpperPunch)[0].Stroke, 26.6667, 1e-4)
	near(t, "ejection", l.Ejection, 56.5487, 1e-3)
	if m := s.Volume * 7 / 1000; math.Abs(m-131.9469) > 1e-3 {
		t.Errorf("mass %g", m)
	}
	if len(l.Columns) != 1 || math.Abs(l.Columns[0].Spread.Value) > 1e-12 || !l.Columns[0].Spread.Known {
		t.Errorf("without friction the density is the same everywhere: %v", l.Columns[0].Spread)
	}
	p.friction = 0.1
	for _, c := range []struct {
		text                   string
		least, factor, neutral float64
	}{{ring, 0.9048, 1.051, 0.5}, {ring + "pressing: top\n", 0.8187, 1.103, 1}} {
		l, _ = lay(t, c.text, p.data())
		f := l.Columns[0].Profile
		near(t, "decay", l.Columns[0].Decay, 0.2, 1e-9)
		near(t, "perimeter", subject.Some(l.Columns[0].Perimeter), 188.4956, 1e-4)
		near(t, "least pressure", subject.Some(f.Least/f.Top), c.least, 1e-4)
		near(t, "force", subject.Some(l.Force.Value/565.4867), c.factor, 1e-3)
		near(t, "neutral plane", subject.Some(f.Neutral), c.neutral, 1e-12)
	}
}

// TestFlangedHub: hub 30/15 from 0 to 20 with a flange 60/30 from 12 to 20, 7.0 over 3.0 g/cm3, 600 MPa: areas 2120.6 and
// 530.1 mm2, 1272.3 + 318.1 = 1590 kN, fills 18.67 and 46.67 mm, 27.57 cm3, class III, two lower punches and a core rod.
func TestFlangedHub(t *testing.T) {
	p := powderData{sintered: 7, apparent: 3, pressure: 600, ratio: 0.5}
	l, s := lay(t, fmt.Sprintf(hub, ""), p.data())
	lower := l.Of(LowerPunch)
	if len(lower) != 2 || len(l.Of(UpperPunch)) != 1 || len(l.Of(CoreRod)) != 1 || l.Class != 3 || s.Class != 3 {
		t.Fatalf("%d lower and %d upper punches, %d core rods, class %g", len(lower), len(l.Of(UpperPunch)), len(l.Of(CoreRod)), l.Class)
	}
	for i, w := range []struct{ area, force, fill float64 }{{2120.575, 1272.345, 18.6667}, {530.144, 318.086, 46.6667}} {
		near(t, "area", lower[i].Area, w.area, 1e-3)
		near(t, "force", lower[i].Force, w.force, 1e-3)
		near(t, "fill", lower[i].Fill, w.fill, 1e-4)
	}
	near(t, "force", l.Force, 1590.431, 1e-3)
	near(t, "volume", subject.Some(s.Volume), 27567.5, 0.1)
	near(t, "stroke of the upper punch: the flange's", l.Of(UpperPunch)[0].Stroke, 10.6667, 1e-4)
	for _, c := range l.Columns {
		if c.Transfer.Value != 0 {
			t.Errorf("%s: %v of powder moves", c.Name, c.Transfer)
		}
	}
	if len(l.Steps) != 0 || l.WayUp.Better != nil {
		t.Errorf("steps %+v, way up %+v", l.Steps, l.WayUp)
	}
	// On one stepped punch filled for the hub the flange's fill is 46.67 - 12 = 34.67 mm: 34.67 x 3.0 / 8 = 13.0 g/cm3.
	d := p.data()
	d.Material.PoreFreeGreen = stock.Some(7.36)
	l, _ = lay(t, fmt.Sprintf(hub, ", punch: face"), d)
	if len(l.Steps) != 1 || !l.Steps[0].Declared || !l.Steps[0].Impossible {
		t.Fatalf("%+v", l.Steps)
	}
	near(t, "fill", l.Steps[0].Fill, 34.6667, 1e-4)
	near(t, "density", l.Steps[0].Needs, 13.0, 1e-9)
}

// TestClasses: a bush 20/10 x 6 is class I, x 15 class II, a flanged hub III, with a second step IV (ASM Handbook vol. 7,
// part classification: one level to about 7.5 mm, one level of any thickness, two, more).
func TestClasses(t *testing.T) {
	for _, c := range []struct {
		text       string
		top, lower int
		class      float64
	}{
		{"bodies: {bush: {circle: {diameter: 20}, from: 0, to: 6}}\ncuts: {bore: {circle: {diameter: 10}}}", 1, 1, 1},
		{"bodies: {bush: {circle: {diameter: 20}, from: 0, to: 7.5}}\ncuts: {bore: {circle: {diameter: 10}}}", 1, 1, 1},
		{"bodies: {bush: {circle: {diameter: 20}, from: 0, to: 7.51}}\ncuts: {bore: {circle: {diameter: 10}}}", 1, 1, 2},
		{"bodies: {bush: {circle: {diameter: 20}, from: 0, to: 15}}\ncuts: {bore: {circle: {diameter: 10}}}", 1, 1, 2},
		{fmt.Sprintf(hub, ""), 1, 2, 3},
		{"bodies: {hub: {circle: {diameter: 30}, from: 0, to: 20}, flange: {circle: {diameter: 60}, from: 12, to: 20}, web: {circle: {diameter: 45}, from: 6, to: 20}}\ncuts: {bore: {circle: {diameter: 15}}}", 1, 3, 4},
		// A step of 15 % stays in the face, unless it is to have its own punch; one of more never does.
		{"bodies: {flange: {circle: {diameter: 60}, from: 12, to: 20}, hub: {circle: {diameter: 30}, from: 10.588235294117647, to: 20}}", 1, 1, 2},
		{"bodies: {flange: {circle: {diameter: 60}, from: 12, to: 20}, hub: {circle: {diameter: 30}, from: 11, to: 20, punch: own}}", 1, 2, 3},
		{"bodies: {flange: {circle: {diameter: 60}, from: 12, to: 20}, hub: {circle: {diameter: 30}, from: 4, to: 20, punch: face}}", 1, 2, 3},
		{"bodies: {disc: {circle: {diameter: 40}, from: 0, to: 20}}\ncuts: {bore: {circle: {diameter: 10}}, counterbore: {circle: {diameter: 20}, open: top, depth: 8}}", 2, 1, 3},
		// A shelf in the die: 2 mm over a thickness of 4, counted for the class; 4 mm over it needs a punch.
		{"bodies: {hub: {circle: {diameter: 30}, from: 0, to: 20}, collar: {circle: {diameter: 34}, from: 16, to: 20}}", 1, 1, 3},
		{"bodies: {hub: {circle: {diameter: 30}, from: 0, to: 20}, collar: {circle: {diameter: 38}, from: 16, to: 20}}", 1, 2, 3},
		{"bodies: {hub: {circle: {diameter: 30}, from: 0, to: 20}, collar: {circle: {diameter: 34}, from: 16, to: 20, punch: own}}", 1, 2, 3},
		// A small island is a boss in the face, unless it is to have a punch of its own.
		{"bodies: {disc: {circle: {diameter: 40}, from: 0, to: 14}, lug: {circle: {diameter: 8, at: [10, 0]}, from: 0, to: 20}}", 1, 1, 2},
		{"bodies: {disc: {circle: {diameter: 40}, from: 0, to: 14}, lug: {circle: {diameter: 8, at: [10, 0]}, from: 0, to: 20, punch: own}}", 2, 1, 3},
		// A blind hole of 15 % is a pin in the face, of more a punch by itself.
		{"bodies: {disc: {circle: {diameter: 40}, from: 0, to: 20}}\ncuts: {pocket: {circle: {diameter: 10}, open: top, depth: 3}}", 1, 1, 2},
		{"bodies: {disc: {circle: {diameter: 40}, from: 0, to: 20}}\ncuts: {pocket: {circle: {diameter: 10}, open: top, depth: 8}}", 2, 1, 3},
		{"bodies: {disc: {circle: {diameter: 40}, from: 0, to: 20}}\ncuts: {pocket: {circle: {diameter: 10}, open: bottom, depth: 3, punch: own}}", 1, 2, 3},
	} {
		if l, s := lay(t, c.text, nil); l.Upper != c.top || l.Lower != c.lower || l.Class != c.class || s.Class != c.class {
			t.Errorf("%d upper and %d lower punches, class %g, want %d, %d and %g:\n%s", l.Upper, l.Lower, l.Class, c.top,
				c.lower, c.class, c.text)
		}
	}
}

// TestWithoutNames: levels of one area are grouped by where they lie, not by what they are called.
func TestWithoutNames(t *testing.T) {
	const text = "bodies:\n  x: {rectangle: {length: 20, width: 20, at: [0, 0]}, from: 0, to: 10}\n  y: {rectangle: {length: 20, width: 20, at: [20, 0]}, from: 0, to: 12}\n  z: {rectangle: {length: 20, width: 20, at: [40, 0]}, from: 0, to: 14}\n"
	for _, names := range [][3]string{{"a", "b", "c"}, {"c", "a", "b"}, {"b", "c", "a"}, {"c", "b", "a"}} {
		named := strings.NewReplacer("  x:", "  "+names[0]+":", "  y:", "  "+names[1]+":", "  z:", "  "+names[2]+":").Replace(text)
		if l, _ := lay(t, named, nil); l.Upper != 1 {
			t.Errorf("named %v: %d upper punches, want the middle level's to take in both", names, l.Upper)
		}
	}
}

// TestPublished are worked examples of textbooks.
func TestPublished(t *testing.T) {
	const inch, psi, ton = 25.4, 0.006894757, 13.7895 // MPa for a pound, and a short ton, a square inch
	// Kalpakjian and Schmid, Manufacturing Processes for Engineering Materials, ch. 11: a gear blank of 2.5 in with a hub
	// hole of 0.75 in, iron of 7.86, final density 90 % of solid, linear shrinkage 5 %, about 20 short tons a square inch:
	// sintered 7.07, green 6.06 g/cm3, 4.47 in2, about 90 short tons. The height is chosen here.
	p := powderData{sintered: 0.9 * 7.86, apparent: 3, pressure: 20 * ton, low: -5, high: -5}
	l, _ := lay(t, "units: in\nbodies: {blank: {circle: {diameter: 2.5}, from: 0, to: 0.5}}\ncuts: {hole: {circle: {diameter: 0.75}}}",
		p.data())
	near(t, "green density", l.Green, 6.06, 0.01)
	near(t, "area, in2", subject.Some(l.Of(UpperPunch)[0].Area.Value/inch/inch), 4.47, 0.005)
	near(t, "force, short tons", subject.Some(l.Force.Value/8.89644), 90, 1)
	// Groover, Fundamentals of Modern Manufacturing, ch. 16: a flange of 2.8 in, bore 0.875, height 1.25, counterbore 1.5 in
	// over the top 0.75 in (the figure's sizes from memory), iron at 75,000 psi: 5.556 in2, 416,700 lbf, 6.071 in3; with
	// 10 % pores and 0.284 lb/in3 of solid 1.55 lb. The counterbore counts with its web.
	p = powderData{sintered: 0.9 * 7.86, apparent: 3, pressure: 75000 * psi}
	l, s := lay(t,
		"units: in\nbodies: {flange: {circle: {diameter: 2.8}, from: 0, to: 1.25}}\ncuts: {bore: {circle: {diameter: 0.875}}, counterbore: {circle: {diameter: 1.5}, open: top, depth: 0.75}}", p.data())
	near(t, "area, in2", subject.Some(s.PlanArea/inch/inch), 5.556, 1e-3)
	near(t, "force, lbf", subject.Some(l.Force.Value/4.4482216e-3), 416700, 50)
	near(t, "volume, in3", subject.Some(s.Volume/inch/inch/inch), 6.071, 1e-3)
	near(t, "weight, lb", subject.Some(s.Volume/inch/inch/inch*0.9*0.284), 1.55, 5e-3)
	// Groover, problem 16.9 (from memory): a bearing 44/22 x 25 mm of bronze at 207 MPa: 1140.4 mm2, 236.06 kN.
	p = powderData{sintered: 6.4, apparent: 2.6, pressure: 207}
	l, s = lay(t, "bodies: {bearing: {circle: {diameter: 44}, from: 0, to: 25}}\ncuts: {bore: {circle: {diameter: 22}}}", p.data())
	near(t, "area", subject.Some(s.PlanArea), 1140.4, 0.05)
	near(t, "force", l.Force, 236.06, 0.01)
	// Common practice: 5.5 tonne-force a square centimetre on 10 cm2 is 539 kN.
	p = powderData{sintered: 6.8, apparent: 3, pressure: 5.5 * 98.0665}
	l, _ = lay(t, "bodies: {block: {rectangle: {length: 50, width: 20}, from: 0, to: 10}}", p.data())
	near(t, "force", l.Force, 539, 0.5)
}

// TestSizes: final 40.00 mm, springback 0.15 %: growth of 0.30 % needs a die of 39.8206 mm, shrinkage of 1.8 % one of
// 40.6722; the ends of the material's range give the range of the size.
func TestSizes(t *testing.T) {
	for _, c := range []struct{ low, high, cavity float64 }{{0.3, 0.3, 39.8206}, {-1.8, -1.8, 40.6722}, {0.2, 0.4, 39.8206}} {
		l, _ := lay(t, "bodies: {disc: {circle: {diameter: 40}, from: 0, to: 10}}",
			powderData{sintered: 6.8, apparent: 3, pressure: 500, low: c.low, high: c.high}.data())
		if len(l.Sizes) != 1 || l.Sizes[0].Of != "disc.diameter" {
			t.Fatalf("%+v", l.Sizes)
		}
		z := l.Sizes[0]
		near(t, "cavity", z.Cavity, c.cavity, 5e-5)
		near(t, "largest", z.High, 40/1.0015/(1+c.low/100), 1e-9)
		near(t, "smallest", z.Low, 40/1.0015/(1+c.high/100), 1e-9)
	}
}

// TestSizesListed: every size in plan that a die or a core rod gives has its line, in the order of the file.
func TestSizesListed(t *testing.T) {
	l, _ := lay(t, `bodies:
  cap: {turned: {at: [0, 0], section: [[6, 0], [20, 0], [18, 10], [6, 10]]}}
  lug: {circle: {diameter: 12, at: [22, 0]}, from: 0, to: 10}
cuts:
  seat: {turned: {at: [22, 0], section: [[0, 8], [4, 10], [0, 10]]}}
  shaft: {flatted: {diameter: 6, flats: [2.5, 2], at: [22, 0]}}`, powderData{sintered: 6.8, apparent: 3, pressure: 500}.data())
	var got []string
	for _, s := range l.Sizes {
		got = append(got, fmt.Sprintf("%s %.9g", s.Of, s.Final))
	}
	want := []string{"cap.outside 40", "cap.inside 12", "lug.diameter 12", "seat.outside 8", "shaft.diameter 6",
		"shaft.flat_1 2.5", "shaft.flat_2 2"}
	if !slices.Equal(got, want) {
		t.Errorf("sizes are %q, not %q", got, want)
	}
}

// TestLimitsOfTheModel: what must hold whatever the figures are.
func TestLimitsOfTheModel(t *testing.T) {
	p := powderData{sintered: 7, apparent: 3, pressure: 600, friction: 0.1, ratio: 0.5}
	both, _ := lay(t, "bodies: {rod: {circle: {diameter: 20}, from: 0, to: 30}}", p.data())
	half, _ := lay(t, "pressing: top\nbodies: {rod: {circle: {diameter: 20}, from: 0, to: 15}}", p.data())
	near(t, "force of a rod pressed from both ends, as of half of it from one", both.Force, half.Force.Value, 1e-9)
	near(t, "spread likewise", both.Columns[0].Spread, half.Columns[0].Spread.Value, 1e-12)
	p.friction = 0
	small, _ := lay(t, ring, p.data())
	large, _ := lay(t, strings.NewReplacer("40", "120", "diameter: 20", "diameter: 60").Replace(ring), p.data())
	near(t, "force of nine times the area", large.Force, 9*small.Force.Value, 1e-6)
	p.friction = 0.08
	mm, _ := lay(t, fmt.Sprintf(hub, ""), p.data())
	in, _ := lay(t,
		"units: in\nbodies: {hub: {circle: {diameter: 1.1811023622047245}, from: 0, to: 0.7874015748031497}, flange: {circle: {diameter: 2.362204724409449}, from: 0.47244094488188976, to: 0.7874015748031497}}\ncuts: {bore: {circle: {diameter: 0.5905511811023623}}}", p.data())
	for i, m := range mm.Members {
		o := in.Members[i]
		for j, x := range [][2]subject.Optional{{m.Area, o.Area}, {m.Section, o.Section}, {m.StepSection, o.StepSection}, {m.Fill, o.Fill},
			{m.Stroke, o.Stroke}, {m.Pressure, o.Pressure}, {m.Force, o.Force}} {
			if x[0].Known != x[1].Known || math.Abs(x[0].Value-x[1].Value) > 1e-6*math.Max(1, x[0].Value) {
				t.Errorf("%s, figure %d: %v in mm, %v in inches", m.Name, j, x[0], x[1])
			}
		}
	}
	// Turned over, upper and lower punches swap; so do their plans and forces.
	over, _ := lay(t,
		"bodies: {hub: {circle: {diameter: 30}, from: 0, to: 20}, flange: {circle: {diameter: 60}, from: 0, to: 8}}\ncuts: {bore: {circle: {diameter: 15}}}\n", p.data())
	for _, k := range [][2]string{{UpperPunch, LowerPunch}, {LowerPunch, UpperPunch}} {
		a, b := mm.Of(k[0]), over.Of(k[1])
		if len(a) != len(b) {
			t.Fatalf("%d %s, %d %s turned over", len(a), k[0], len(b), k[1])
		}
		for i := range a {
			near(t, "area", b[i].Area, a[i].Area.Value, 1e-9)
			near(t, "section", b[i].Section, a[i].Section.Value, 1e-9)
			near(t, "force", b[i].Force, a[i].Force.Value, 1e-9)
			if a[i].StepSection != b[i].StepSection {
				t.Errorf("step section %v, turned over %v", a[i].StepSection, b[i].StepSection)
			}
		}
	}
	if says := worse(over); says != "2 lower punches, no powder moved; as drawn 22.4 mm of fill would have to move" {
		t.Errorf("turning over would leave no powder to move: %q", says)
	}
}

// TestTransfer: of a disc 40 x 20 with a counterbore 20 x 8 on one lower punch as much powder comes to the rim as the
// counterbore gives, and what is filled is what is pressed.
func TestTransfer(t *testing.T) {
	l, s := lay(t,
		"bodies: {disc: {circle: {diameter: 40}, from: 0, to: 20}}\ncuts: {bore: {circle: {diameter: 10}}, counterbore: {circle: {diameter: 20}, open: top, depth: 8}}",
		powderData{sintered: 7, apparent: 3, pressure: 600}.data())
	moved, loose := 0.0, 0.0
	for _, c := range l.Columns {
		moved += c.Transfer.Value * c.Area
		loose += c.Fill.Value * c.Area * 3
	}
	if math.Abs(moved) > 1e-6 || math.Abs(loose-7*s.Volume) > 1e-6*loose {
		t.Errorf("%g mm3 of powder appear; %g of powder for %g of part", moved, loose, 7*s.Volume)
	}
	// Areas 942.478 and 235.619 mm2, heights 20 and 12: mean height 18.4, fill 42.933; the rim needs 46.667.
	near(t, "fill", l.Fill, 42.9333, 1e-4)
	for _, c := range l.Columns {
		if c.Height == 20 {
			near(t, "transfer to the rim", c.Transfer, 46.6667-42.9333, 1e-3)
		}
	}
}

// TestSections: the punch for a flange 60/30 round a hub with four holes of 6 on a circle of 45: 4.5 mm from hole to
// outline and to the hub, of which the last is at the neighbouring punch; a step in a face stands out by its ring.
func TestSections(t *testing.T) {
	l, s := lay(t,
		"bodies: {hub: {circle: {diameter: 30}, from: 0, to: 20}, flange: {circle: {diameter: 60}, from: 12, to: 20}}\ncuts: {bore: {circle: {diameter: 15}}, pins: {circle: {diameter: 6, at: [23, 0]}, repeat: {count: 4}}}", nil)
	for i, w := range [][2]float64{{4, 5}, {7.5, 7.5}} {
		m := l.Of(LowerPunch)[i]
		near(t, "section of "+m.Name, m.Section, w[0], 1e-9)
		near(t, "step section of "+m.Name, m.StepSection, w[1], 1e-9)
	}
	if n := len(s.Cores); n != 2 || s.Cores[1].Width != 6 || len(s.Cores[1].Places) != 4 || s.Cores[1].Length != 8 {
		t.Errorf("%d core rods: %+v", n, s.Cores)
	}
	// A lower punch whose face has a recess of 2 mm for a hub of 50: a ring of 5 mm stands out of it.
	l, _ = lay(t,
		"bodies: {flange: {circle: {diameter: 60}, from: 2, to: 20}, hub: {circle: {diameter: 50}, from: 0, to: 20}}\ncuts: {bore: {circle: {diameter: 15}}}", nil)
	near(t, "ring that stands out", l.Of(LowerPunch)[0].StepSection, 5, 1e-9)
	near(t, "whole punch", l.Of(LowerPunch)[0].Section, 22.5, 1e-9)
	// A plain disc has no neck: its punch is as thick as the widest circle in it.
	l, _ = lay(t, "bodies: {disc: {circle: {diameter: 24}, from: 0, to: 6}}", nil)
	near(t, "disc", l.Of(UpperPunch)[0].Section, 24, 1e-9)
	if l.Of(UpperPunch)[0].StepSection.Known {
		t.Error("a disc has a step section")
	}
}

// TestCannot: what no tool can form is said; the rest of the layout stands.
func TestCannot(t *testing.T) {
	l, _ := lay(t,
		"bodies: {foot: {circle: {diameter: 40}, from: 0, to: 6}, neck: {circle: {diameter: 36}, from: 6, to: 8}, head: {circle: {diameter: 40}, from: 8, to: 14}}\ncuts: {bore: {circle: {diameter: 12}, draft: {angle: 2, narrows: down}}}\nsides: {oil: {hole: {diameter: 2, toward: 0, z: 3}, in: foot}}", nil)
	if len(l.Cannot) != 3 || !strings.Contains(l.Cannot[0], "void") || !strings.Contains(l.Cannot[1], "hole across") ||
		!strings.Contains(l.Cannot[2], "narrows") {
		t.Errorf("%q", l.Cannot)
	}
	if l, _ := lay(t, ring, nil); len(l.Cannot) != 0 {
		t.Errorf("%q", l.Cannot)
	}
}

// TestUnknown: what is missing stays unknown, and why is said.
func TestUnknown(t *testing.T) {
	full := powderData{sintered: 7, apparent: 3, pressure: 600}
	for what, c := range map[string]struct {
		change func(d *Data)
		says   string
	}{
		"no density":           {func(d *Data) { d.Density = 0 }, "states no density"},
		"no material":          {func(d *Data) { d.Name, d.Material = "", nil }, "names no material"},
		"an unknown material":  {func(d *Data) { d.Material = nil }, "no pack in force has the material powder"},
		"no size change":       {func(d *Data) { d.Material.SizeChangeLow = stock.Figure{} }, "has no size_change"},
		"no lubricant":         {func(d *Data) { d.Material.Lubricant = stock.Figure{} }, "has no lubricant"},
		"no curve":             {func(d *Data) { d.Curve = nil }, "has no curve"},
		"past the curve":       {func(d *Data) { d.Density = 7.5 }, "out of reach of the curve"},
		"before the curve":     {func(d *Data) { d.Density = 5 }, "out of reach of the curve"},
		"no friction":          {func(d *Data) { f := d.Figure; d.Figure = without(f, stock.WallFriction) }, "no pack in force has the limit wall_friction"},
		"no apparent density":  {func(d *Data) { d.Material.Apparent = stock.Figure{} }, "fill is not known"},
		"no ejection friction": {func(d *Data) { f := d.Figure; d.Figure = without(f, stock.EjectionFriction) }, "ejection force is not known"},
	} {
		d := full.data()
		c.change(d)
		l, s := lay(t, ring, d)
		if !strings.Contains(strings.Join(l.Unknown, "\n"), c.says) {
			t.Errorf("%s: %q", what, l.Unknown)
		}
		if force := what == "no apparent density" || what == "no ejection friction"; l.Force.Known != force || s.Force.Known != force {
			t.Errorf("%s: force %v", what, l.Force)
		}
		if len(s.Presses) > 0 || len(s.Punches) != 2 || len(s.Cores) != 1 {
			t.Errorf("%s: %d presses, %d punches, %d core rods", what, len(s.Presses), len(s.Punches), len(s.Cores))
		}
	}
}

func without(f func(string) (Figure, bool), name string) func(string) (Figure, bool) {
	return func(n string) (Figure, bool) {
		if n == name {
			return Figure{}, false
		}
		return f(n)
	}
}

// TestPress: the smallest press that serves at 80 % of its capacity; where none does, which comes nearest and why.
func TestPress(t *testing.T) {
	press := func(name string, capacity, fill, eject, stroke, upper, lower float64) Press {
		return Press{stock.Press{Capacity: capacity, Fill: fill, Eject: eject, EjectionStroke: stroke, Upper: upper, Lower: lower}, name}
	}
	all := []Press{press("P-400", 4000, 200, 900, 100, 2, 3), press("P-100", 1000, 60, 100, 50, 1, 1), press("P-60", 600, 60, 60, 50, 1, 1),
		press("P-71", 706.86, 60, 60, 50, 1, 1)}
	for _, c := range []struct {
		what, text, name string
		serves           bool
		why              int
	}{
		{"565.5 kN: at least 706.9 kN of capacity", ring, "P-71", true, 0},
		{"two lower punches", fmt.Sprintf(hub, ""), "P-400", true, 0},
		{"a fill of 210 mm", strings.Replace(ring, "to: 20", "to: 90", 1), "P-400", false, 4},
	} {
		l, s := lay(t, c.text, powderData{sintered: 7, apparent: 3, pressure: 600, presses: all}.data())
		if l.Press.Press == nil || l.Press.Press.Name != c.name || l.Press.Serves != c.serves || len(l.Press.Why) != c.why ||
			len(s.Presses) != 1 || s.Presses[0].Serves != c.serves {
			t.Errorf("%s: %+v", c.what, l.Press)
		}
	}
	l, s := lay(t, ring, powderData{sintered: 7, apparent: 3, pressure: 600}.data())
	if l.Press.Press != nil || len(s.Presses) != 0 {
		t.Errorf("without a list: %+v", l.Press.Press)
	}
	near(t, "capacity that a press must offer", l.Press.Capacity, 565.4867/0.8, 1e-3)
}

// BenchmarkLay lays out the tool of a gear of 60 teeth with hub, bore and six holes, from the part on.
func BenchmarkLay(b *testing.B) {
	p, ps := form.Parse("gear.yaml", []byte(`part: gear
units: mm
bodies:
  rim: {gear: {module: 1, teeth: 60, tip_radius: 0.1}, from: 0, to: 8}
  hub: {circle: {diameter: 24}, from: 0, to: 14}
cuts:
  bore:  {circle: {diameter: 12}}
  holes: {circle: {diameter: 8, at: [19, 0]}, repeat: {count: 6}}
edges:
  hub-rim:  {of: hub, face: top, chamfer: {width: 0.6, slope: 30, flat: 0.2}}
  bore-rim: {of: bore, face: top, chamfer: {width: 0.5, slope: 45, flat: 0.2}}
`))
	if len(ps) > 0 {
		b.Fatal(ps)
	}
	d := powderData{sintered: 7, apparent: 3, pressure: 600, friction: 0.1, ratio: 0.5}.data()
	b.ReportAllocs()
	for b.Loop() {
		made, ps := measure.Part(p)
		if len(ps) > 0 {
			b.Fatal(ps)
		}
		Lay(made, d)
	}
}

// TestSectionsBesideLeaningBores: what leans beside a punch is the wall of a core rod and no step in its face. Its plan ends where the wall
// meets the face.
func TestSectionsBesideLeaningBores(t *testing.T) {
	tan := func(deg float64) float64 { return math.Tan(deg * math.Pi / 180) }
	for _, x := range []struct {
		name, text string
		upper      float64
	}{
		{"two bores that lean apart", "bodies: {link: {slot: {length: 52, width: 24}, from: 0, to: 12}}\n" +
			"cuts: {a: {circle: {diameter: 10, at: [-4.5, 0]}, draft: {angle: 9, narrows: up}}, " +
			"b: {circle: {diameter: 10, at: [5, 0]}, draft: {angle: 9, narrows: down}}}\n", 9.5 - 5 - (5 - 12*tan(9))},
		{"a bore in a bush", "bodies: {bush: {circle: {diameter: 30}, from: 0, to: 12}}\n" +
			"cuts: {bore: {circle: {diameter: 27.2}, draft: {angle: 2, narrows: down}}}\n", 1.4},
		{"bores over each other", "bodies: {disc: {circle: {diameter: 34}, from: 0, to: 8}}\ncuts: {a: {circle: {diameter: 8}, " +
			"draft: {angle: 8, narrows: up}}, b: {circle: {diameter: 8.8, at: [0, 1.5]}, draft: {angle: 6, narrows: up}}}\n",
			17 - 1.5 - (4.4 - 8*tan(6))},
	} {
		l, _ := lay(t, x.text, nil)
		m := l.Of(UpperPunch)[0]
		near(t, x.name, m.Section, x.upper, 1e-9)
		if m.StepSection.Known {
			t.Errorf("%s: a step %v", x.name, m.StepSection)
		}
	}
	// A pocket out of the plate round a drafted hub: the plate's punch is thinnest from the pocket's corner, at the plate's top, to the rim.
	for _, turn := range []float64{0, 17, 45, 90, 120} {
		at := plane.Turned(plane.Point{X: 9.5, Y: 3}, plane.Point{}, turn)
		l, _ := lay(t, fmt.Sprintf("bodies: {body: {circle: {diameter: 30}, from: 0, to: 6}, hub: {circle: {diameter: 18}, "+
			"draft: {angle: 5, narrows: up}, from: 6, to: 12}}\ncuts: {b: {rectangle: {length: 5, width: 4.5, at: [%.12f, %.12f], turn: %g}, "+
			"draft: {angle: 3, narrows: down}}}\n", at.X, at.Y, 30+turn), nil)
		x, y := 2.5-6*tan(3), 2.25-6*tan(3)
		corner := plane.Turned(plane.Point{X: x, Y: y}, plane.Point{}, 30)
		if c := plane.Turned(plane.Point{X: x, Y: -y}, plane.Point{}, 30); math.Hypot(9.5+c.X, 3+c.Y) > math.Hypot(9.5+corner.X, 3+corner.Y) {
			corner = c
		}
		i := slices.IndexFunc(l.Of(UpperPunch), func(m *Member) bool { return strings.HasPrefix(m.Name, "body") })
		near(t, fmt.Sprintf("turned by %g", turn), l.Of(UpperPunch)[i].Section, 15-math.Hypot(9.5+corner.X, 3+corner.Y), 1e-9)
	}
}

// TestSectionToACorner: the pin of a cone into which the corner of a drafted pocket reaches is as thick as the largest circle in its mouth
// that passes the corner, whichever cut is drawn first.
func TestSectionToACorner(t *testing.T) {
	const pocket = "b: {rectangle: {length: 6.5, width: 4.5, turn: 45}, draft: {angle: 3, narrows: down}}"
	const cone = "c: {turned: {at: [-7, -2.5], section: [[0, 5.5], [4, 12], [0, 12]]}}"
	far := func(z float64) float64 { // of the pocket's corner from the axis of the cone
		d := (12 - z) * math.Tan(3*math.Pi/180)
		c := plane.Turned(plane.Point{X: d - 3.25, Y: 2.25 - d}, plane.Point{}, 45)
		return math.Hypot(c.X+7, c.Y+2.5)
	}
	low, high := 5.5, 12.0
	for range 60 {
		if z := (low + high) / 2; far(z) > 4*(z-5.5)/6.5 {
			low = z
		} else {
			high = z
		}
	}
	for _, cuts := range []string{pocket + ", " + cone, cone + ", " + pocket} {
		l, _ := lay(t, "bodies: {body: {rectangle: {length: 24, width: 24}, from: 0, to: 12}}\ncuts: {"+cuts+"}\n", nil)
		i := slices.IndexFunc(l.Of(UpperPunch), func(m *Member) bool { return m.Name == "c" })
		near(t, "section", l.Of(UpperPunch)[i].Section, 4+far(low), 1e-6)
	}
}
