package tooling

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"
)

// inMM writes a length for a reason.
func inMM(mm float64) string { return fmt.Sprintf("%.3g mm", mm) }

// worse is what is worse of a layout whose way up is said than the other way.
func worse(l *Layout) string {
	if l.WayUp.Better == nil {
		return ""
	}
	return l.WayUp.Better(inMM)
}

// TestWayUp: which way up each kind of part is pressed, and what decides.
func TestWayUp(t *testing.T) {
	const flange = "bodies: {flange: {circle: {diameter: 48}, from: %g, to: %g}, hub: {circle: {diameter: 30}, from: 0, to: 22}}\n"
	for _, c := range []struct {
		what, text string
		over       bool
		why        string
		serves     bool // as drawn too, though worse
	}{
		{"a ring", ring, false, "", false},
		{"a hub on a flange", fmt.Sprintf(flange, 0.0, 6.0), true,
			"2 lower punches, no powder moved; as drawn 22.8 mm of fill would have to move", false},
		{"a flange on a hub", fmt.Sprintf(flange, 16.0, 22.0), false,
			"2 lower punches, no powder moved; turned over 22.8 mm of fill would have to move", false},
		{"a hub on a sloped flange, in one section", "bodies: {a: {turned: {section: [[0, 0], [24, 0], [24, 6], [15, 6.5], [15, 22], [0, 22]]}}}",
			true, "2 lower punches, no powder moved; as drawn 22.4 mm of fill would have to move", false},
		{"a flange in the middle", fmt.Sprintf(flange, 8.0, 14.0), false, "", false},
		{"an outside that narrows upward", "bodies: {a: {circle: {diameter: 30}, from: 0, to: 10, draft: {angle: 5, narrows: up}}}", true,
			"as drawn a would narrow the way the part is ejected", false},
		{"a bore that narrows downward", "bodies: {a: {circle: {diameter: 30}, from: 0, to: 10}}\n" +
			"cuts: {b: {circle: {diameter: 14}, draft: {angle: 5, narrows: down}}}", true, "as drawn b would narrow the way the part is ejected", false},
		{"a collar below, which then lies on a shelf of the die", "bodies: {hub: {circle: {diameter: 30}, from: 0, to: 20}, " +
			"collar: {circle: {diameter: 31}, from: 0, to: 4}}", true,
			"one lower punch, no powder moved; as drawn 2.37 mm of fill would have to move", true},
		{"a shallow pocket on top", "bodies: {a: {circle: {diameter: 40}, from: 0, to: 20}}\n" +
			"cuts: {p: {circle: {diameter: 12}, open: top, depth: 2}}", true, "as drawn the pin of a blind hole would dive into the powder", true},
	} {
		l, s := lay(t, "way_up: best\n"+c.text, powderData{sintered: 7, apparent: 3, pressure: 600, friction: 0.1, ratio: 0.5}.data())
		why := ""
		if l.WayUp.Why != nil {
			why = l.WayUp.Why(inMM)
			if alone := l.Figures().WayUp.Why(inMM); alone != why {
				t.Errorf("%s: by itself %q", c.what, alone)
			}
		}
		if l.WayUp.Over != c.over || why != c.why || s.WayUp != l.WayUp.Key() {
			t.Errorf("%s: turned over %v, because %q; rules see %q", c.what, l.WayUp.Over, why, s.WayUp)
		}
		if c.over { // and drawn so it stays
			for _, way := range []string{"as-drawn", "turned-over"} {
				said, s := lay(t, "way_up: "+way+"\n"+c.text, powderData{sintered: 7, apparent: 3, pressure: 600}.data())
				fault := way == "as-drawn" && !c.serves
				if said.WayUp.Key() != way || !said.WayUp.Pinned || (worse(said) != "") != fault || s.TurnedBetter != fault {
					t.Errorf("%s, %s: %+v", c.what, way, said.WayUp)
				}
			}
		}
	}
}

// TestTurnedOverAlike: a part that is pressed turned over has the tool of the same part drawn turned over.
func TestTurnedOverAlike(t *testing.T) {
	n, made := 300, 0
	if testing.Short() {
		n = 60
	}
	for i := range n {
		as, over := randomPart(rand.New(rand.NewPCG(uint64(i), 6)))
		l, s := layOf("way_up: turned-over\n"+as, i)
		m, q := layOf("way_up: as-drawn\n"+over, i)
		if l == nil || m == nil {
			continue
		}
		made++
		for what, x := range map[string][2]float64{
			"upper": {float64(l.Upper), float64(m.Upper)}, "lower": {float64(l.Lower), float64(m.Lower)},
			"shelves": {float64(l.Shelves), float64(m.Shelves)}, "class": {l.Class, m.Class}, "fill": {l.Fill.Value, m.Fill.Value},
			"moved": {l.Moved.Value, m.Moved.Value}, "force": {l.Force.Value, m.Force.Value}, "ejection": {l.Ejection.Value, m.Ejection.Value},
			"punches": {float64(len(s.Punches)), float64(len(q.Punches))},
		} {
			if math.Abs(x[0]-x[1]) > 1e-6*math.Max(1, math.Abs(x[1])) {
				t.Errorf("part %d: %s %g, drawn turned over %g", i, what, x[0], x[1])
			}
		}
		if t.Failed() {
			t.Fatal(as)
		}
	}
	if made < n/2 {
		t.Errorf("only %d of %d parts could be made", made, n)
	}
}
