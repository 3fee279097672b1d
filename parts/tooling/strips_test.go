package tooling

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"corerod/parts/blank"
	"corerod/parts/plane"
)

// through is a straight cutting path along x at a place of y.
func through(y, from, to float64) []blank.Leg {
	return []blank.Leg{{From: from, To: to, At: plane.Point{X: from, Y: y}, Toward: plane.Point{X: 1}}}
}

// TestStrips: a cutting path through the middle of a flanged hub with a collar on a shelf meets, from left to right, the members
// that form each face, and the loose powder over them: Q times the height.
func TestStrips(t *testing.T) {
	const q = 7.0 / 3
	text := "bodies: {hub: {circle: {diameter: 30}, from: 0, to: 20}, flange: {circle: {diameter: 60}, from: 12, to: 20}, collar: " +
		"{circle: {diameter: 64}, from: 16, to: 20}}\ncuts: {bore: {circle: {diameter: 15}}}\n"
	l, _ := lay(t, text, powderData{sintered: 7, apparent: 3, pressure: 600}.data())
	want := []struct {
		from, to, low, high float64
		lower               string
	}{
		{-32, -30, 16, 20, "die"}, {-30, -15, 12, 20, "flange bottom"}, {-15, -7.5, 0, 20, "hub bottom"}, {7.5, 15, 0, 20,
			"hub bottom"}, {15, 30, 12, 20, "flange bottom"}, {30, 32, 16, 20, "die"},
	}
	var got []Strip
	for _, s := range l.Strips(through(0, -40, 40)) {
		if s.Top != nil {
			got = append(got, s)
		} else if s.Upper != nil || s.Lower != nil || s.Fill.Known {
			t.Errorf("without material: %+v", s)
		}
	}
	if len(got) != len(want) {
		t.Fatalf("%d strips, want %d: %+v", len(got), len(want), got)
	}
	for i, w := range want {
		s := got[i]
		if math.Abs(s.From-w.from) > 1e-6 || math.Abs(s.To-w.to) > 1e-6 || s.Upper != l.Of(UpperPunch)[0] || s.Lower == nil ||
			s.Lower.Name != w.lower {
			t.Errorf("strip %d: %+v, want %+v", i, s, w)
			continue
		}
		near(t, "fill", s.Fill, q*(w.high-w.low), 1e-9)
	}
	l, _ = lay(t, text, nil)
	for _, s := range l.Strips(through(0, -40, 40)) {
		if s.Fill.Known {
			t.Errorf("a fill of an unknown powder: %+v", s)
		}
	}
}

// TestPunchesSeen: rules see each punch with its face, level, plan and the features that it forms, in the order of the file.
func TestPunchesSeen(t *testing.T) {
	l, s := lay(t, "bodies: {hub: {circle: {diameter: 30}, from: 0, to: 20}, flange: {circle: {diameter: 60}, from: 12, to: "+
		"20}}\ncuts: {bore: {circle: {diameter: 15}}}\n",
		powderData{sintered: 7, apparent: 3, pressure: 600}.data())
	var got []string
	for _, p := range s.Punches {
		got = append(got, fmt.Sprintf("%s %s level %g area %.3f section %g [%s] places %d", p.Name, p.Face, p.Level, p.Area, p.Section,
			strings.Join(p.Features, " "), len(p.Places)))
		i := slices.IndexFunc(l.Members, func(m *Member) bool { return m.Name == p.Name && (m.Kind == UpperPunch || m.Kind == LowerPunch) })
		if m := l.Members[i]; p.Fill != m.Fill || p.Stroke != m.Stroke || p.Pressure != m.Pressure || p.Force != m.Force ||
			p.StepSection != m.StepSection || !p.Force.Known {
			t.Errorf("%+v, of %+v", p, m)
		}
	}
	want := []string{
		"flange and hub top top level 20 area 2650.719 section 22.5 [hub flange] places 0",
		"flange bottom bottom level 12 area 2120.575 section 15 [flange] places 0",
		"hub bottom bottom level 0 area 530.144 section 7.5 [hub] places 0",
	}
	slices.Sort(got)
	if !slices.Equal(got, want) {
		t.Errorf("%q, want %q", got, want)
	}
	if s.PunchesTop != 1 || s.PunchesBottom != 2 || s.Class != 3 {
		t.Errorf("%g and %g punches, class %g", s.PunchesTop, s.PunchesBottom, s.Class)
	}
}

// TestFigures: the layout's figures alone are those of the layout, without its members and its shape.
func TestFigures(t *testing.T) {
	l, _ := lay(t, shelfed+"cuts: {bore: {circle: {diameter: 10, }}, slot: {rectangle: {length: 60, width: 2}, open: bottom, depth: "+
		"1.5}}\nsides: {oil: {hole: {diameter: 2, toward: 0, z: 10}, in: hub}}\n",
		powderData{sintered: 7, apparent: 3, pressure: 600}.data())
	if l.Shape() == nil {
		t.Error("the layout does not know its shape")
	}
	f := l.Figures()
	got := fmt.Sprint(f.Class, f.Upper, f.Lower, f.Shelves, f.Green, f.Ratio, f.Fill, f.Mean, f.Force, f.Ejection, f.Strength,
		f.Handling, f.Assumed, f.Unknown, f.Cannot)
	want := fmt.Sprint(l.Class, l.Upper, l.Lower, l.Shelves, l.Green, l.Ratio, l.Fill, l.Mean, l.Force, l.Ejection, l.Strength,
		l.Handling, l.Assumed, l.Unknown, l.Cannot)
	if got != want || len(f.Cannot) != 1 || f.Members != nil || f.Columns != nil || f.Shape() != nil {
		t.Errorf("%s, want %s", got, want)
	}
}

// TestCannotAcross: a feature across the pressing axis cannot be pressed, but for a straight knurl; one that is made otherwise is no
// matter of the tool.
func TestCannotAcross(t *testing.T) {
	for _, c := range []struct {
		side string
		want []string
	}{
		{"oil: {hole: {diameter: 2, toward: 0, z: 10}, in: disc}", []string{"oil: a hole across the pressing axis"}},
		{"oil: {hole: {diameter: 2, toward: 0, z: 10}, in: disc, made_by: machining}", nil},
		{"ring: {groove: {width: 2, depth: 1, z: 10}, in: disc}", []string{"ring: a groove across the pressing axis"}},
		{"grip: {knurl: {pattern: straight}, in: disc}", nil},
		{"grip: {knurl: {pattern: crossed}, in: disc}", []string{"grip: a knurl across the pressing axis"}},
		{"grip: {knurl: {pattern: crossed}, in: disc, made_by: machining}", nil},
	} {
		l, _ := lay(t, "bodies:\n"+disc+"\nsides: {"+c.side+"}\n", nil)
		if !slices.Equal(l.Cannot, c.want) {
			t.Errorf("%s: %q, want %q", c.side, l.Cannot, c.want)
		}
	}
}
