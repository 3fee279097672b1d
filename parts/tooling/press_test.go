package tooling

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"corerod/parts/stock"
	"corerod/parts/subject"
)

func pressOf(name string, capacity, fill, eject, stroke, upper, lower float64) Press {
	return Press{stock.Press{Capacity: capacity, Fill: fill, Eject: eject, EjectionStroke: stroke, Upper: upper, Lower: lower}, name}
}

// TestLacks: what a press does not offer of 100 kN, 40 mm, 20 kN, 10 mm and 2 and 3 punches; the first of it is said, and the
// ratio is the greatest of all. A press that offers just what is needed serves, to a part in a thousand million.
func TestLacks(t *testing.T) {
	need := Choice{Capacity: subject.Some(100), Fill: subject.Some(40), Ejection: subject.Some(20), Stroke: subject.Some(10), Upper: 2,
		Lower: 3}
	for _, c := range []struct {
		press Press
		says  string
		over  float64
	}{
		{pressOf("just", 100, 40, 20, 10, 2, 3), "", 1},
		{pressOf("more", 200, 80, 40, 20, 4, 6), "", 0.5},
		{pressOf("stronger, just as deep", 200, 40, 40, 20, 4, 6), "", 1},
		{pressOf("weak", 80, 80, 40, 20, 4, 6), "has too little for the capacity: 80 kN of 100 kN", 1.25},
		{pressOf("shallow", 200, 25, 40, 20, 4, 6), "has too little for the fill: 25 mm of 40 mm", 1.6},
		{pressOf("no ejection", 200, 80, 10, 20, 4, 6), "has too little for the ejection: 10 kN of 20 kN", 2},
		{pressOf("short", 200, 80, 40, 8, 4, 6), "has too little for the ejection stroke: 8 mm of 10 mm", 1.25},
		{pressOf("one upper", 200, 80, 40, 20, 1, 6), "has too little for the upper punches: 1 of 2", 2},
		{pressOf("two lower", 200, 80, 40, 20, 4, 2), "has too little for the lower punches: 2 of 3", 1.5},
		{pressOf("weak and shallow", 80, 10, 40, 20, 4, 6), "has too little for the capacity: 80 kN of 100 kN", 4},
		{pressOf("rounded", 100*(1-5e-10), 40, 20, 10, 2, 3), "", 1},
		{pressOf("short of a part in a million", 100*(1-5e-7), 40, 20, 10, 2, 3), "has too little for the capacity: 100 kN of 100 kN",
			1 + 5e-7},
	} {
		says, over := need.lacks(&c.press)
		if says != c.says || math.Abs(over-c.over) > 1e-9 {
			t.Errorf("%s: %q, %.9g; want %q, %.9g", c.press.Name, says, over, c.says, c.over)
		}
	}
	// Below one unit the allowance is of the unit.
	small := Choice{Capacity: subject.Some(0.5), Fill: subject.Some(0.1 + 8e-10)}
	if says, _ := small.lacks(&Press{Press: stock.Press{Capacity: 0.5, Fill: 0.1, Eject: 1, EjectionStroke: 1, Upper: 1,
		Lower: 1}}); says != "" {
		t.Errorf("a small press %s", says)
	}
}

// TestChosen: a ring that needs 565.49 / 0.8 = 706.86 kN, 46.67 mm of fill, 0.1 x 0.25 x 600 MPa on 3769.9 mm2 = 56.55 kN and 20
// mm. The smallest press by capacity, then fill, then name serves; where none does, the one that lacks the least share.
func TestChosen(t *testing.T) {
	force, fill, eject := Force(600, ringOf(40, 20)), 20*7.0/3, 0.1*0.25*600*math.Pi*(40+20)*20/1000
	need := force / 0.8
	for _, c := range []struct {
		what    string
		presses []Press
		want    string
		serves  bool
		why     []string
	}{
		{"one that serves", []Press{pressOf("a", 800, 50, 60, 20, 1, 1)}, "a", true, nil},
		{"the smaller of two", []Press{pressOf("b", 900, 50, 60, 20, 1, 1), pressOf("a", 1000, 50, 60, 20, 1, 1)}, "b", true, nil},
		{"the shallower of one capacity", []Press{pressOf("a", 900, 60, 60, 20, 1, 1), pressOf("b", 900, 50, 60, 20, 1, 1)}, "b", true,
			nil},
		{"the first by name of two alike", []Press{pressOf("b", 900, 60, 60, 20, 1, 1), pressOf("a", 900, 60, 60, 20, 1, 1)}, "a", true,
			nil},
		{"the larger, as the smaller lacks", []Press{pressOf("a", 1000, 50, 60, 20, 1, 1), pressOf("b", 900, 40, 60, 20, 1, 1)}, "a",
			true, nil},
		{"the nearest of three", []Press{pressOf("a", 1000, 20, 60, 20, 1, 1), pressOf("b", 1100, 40, 60, 20, 1, 1), pressOf("c", 1200,
			30, 60, 20, 1, 1)}, "b", false,
			[]string{"a has too little for the fill: 20 mm of 46.67 mm", "b has too little for the fill: 40 mm of 46.67 mm",
				"c has too little for the fill: 30 mm of 46.67 mm"}},
		{"the smaller of two that lack as much", []Press{pressOf("a", 1000, 40, 60, 20, 1, 1), pressOf("b", 900, 40*(1+1e-10), 60, 20,
			1, 1)}, "b", false,
			[]string{"b has too little for the fill: 40 mm of 46.67 mm", "a has too little for the fill: 40 mm of 46.67 mm"}},
		{"rounding does not decide", []Press{pressOf("a", 900, 40, 60, 20, 1, 1), pressOf("b", 1000, 40*(1+1e-10), 60, 20, 1, 1)}, "a",
			false,
			[]string{"a has too little for the fill: 40 mm of 46.67 mm", "b has too little for the fill: 40 mm of 46.67 mm"}},
		{"a part in ten million does", []Press{pressOf("a", 900, 40, 60, 20, 1, 1), pressOf("b", 1000, 40*(1+1e-7), 60, 20, 1, 1)}, "b",
			false,
			[]string{"a has too little for the fill: 40 mm of 46.67 mm", "b has too little for the fill: 40 mm of 46.67 mm"}},
		{"no list", nil, "", false, nil},
	} {
		l, s := lay(t, ring, powderData{sintered: 7, apparent: 3, pressure: 600, presses: c.presses}.data())
		x := l.Press
		near(t, c.what+": capacity", x.Capacity, need, 1e-6)
		near(t, c.what+": fill", x.Fill, fill, 1e-9)
		near(t, c.what+": ejection", x.Ejection, eject, 1e-6)
		near(t, c.what+": stroke", x.Stroke, 20, 0)
		if x.Upper != 1 || x.Lower != 1 || x.Listed != (c.presses != nil) || x.Serves != c.serves || !slices.Equal(x.Why, c.why) ||
			(x.Press == nil) != (c.want == "") {
			t.Errorf("%s: %+v", c.what, x)
			continue
		}
		if x.Press == nil {
			if len(s.Presses) > 0 {
				t.Errorf("%s: rules see %+v", c.what, s.Presses)
			}
			continue
		}
		if x.Press.Name != c.want || math.Abs(x.Load-force/x.Press.Capacity) > 1e-9 || math.Abs(x.FillShare-fill/x.Press.Fill) > 1e-9 {
			t.Errorf("%s: %s, load %g, fill %g", c.what, x.Press.Name, x.Load, x.FillShare)
		}
		p := s.Presses[0]
		got := fmt.Sprintf("%s %g %g %g %g %g %v %.6f %.6f %.6f", p.Name, p.Capacity, p.Fill, p.Ejection, p.Upper, p.Lower, p.Serves,
			p.Load, p.FillShare, p.EjectionShare)
		want := fmt.Sprintf("%s %g %g %g %g %g %v %.6f %.6f %.6f", c.want, x.Press.Capacity, x.Press.Fill, x.Press.Eject, x.Press.Upper,
			x.Press.Lower, c.serves, x.Load, x.FillShare, eject/x.Press.Eject)
		if got != want || p.ZHigh != 20 || p.ZLow != 0 {
			t.Errorf("%s: rules see %s, want %s", c.what, got, want)
		}
	}
}

// TestPressNotKnown: without the fill, the ejection force or the load that is used no press is chosen, and its capacity is told
// where force and load are known.
func TestPressNotKnown(t *testing.T) {
	full := powderData{sintered: 7, apparent: 3, pressure: 600, presses: []Press{pressOf("a", 9000, 500, 600, 200, 3, 3)}}
	for _, c := range []struct {
		what     string
		change   func(d *Data)
		capacity bool
	}{
		{"no apparent density", func(d *Data) { d.Material.Apparent = stock.Figure{} }, true},
		{"no ejection friction", func(d *Data) { d.Figure = without(d.Figure, stock.EjectionFriction) }, true},
		{"no residual stress", func(d *Data) { d.Figure = without(d.Figure, stock.ResidualStress) }, true},
		{"no load", func(d *Data) { d.Figure = without(d.Figure, stock.PressLoad) }, false},
		{"no curve", func(d *Data) { d.Curve = nil }, false},
	} {
		d := full.data()
		c.change(d)
		l, s := lay(t, ring, d)
		if l.Press == nil || l.Press.Press != nil || l.Press.Capacity.Known != c.capacity || len(s.Presses) > 0 || !l.Press.Listed {
			t.Errorf("%s: %+v", c.what, l.Press)
		}
	}
}
