package measure

import (
	"math"
	"testing"
)

// TestWallsAlongALine: a straight wall comes to nothing where a slope comes to the other side of it, at whatever angle, with the height
// by the tangent of the slope.
func TestWallsAlongALine(t *testing.T) {
	const plate = "bodies: {plate: {rectangle: {length: 40, width: 30}, from: 0, to: 10}}\n"
	for _, x := range []struct {
		name, text    string
		height, angle float64 // of the wall that runs out
	}{
		{"an upright pocket and a drafted one", plate + "cuts: {left: {rectangle: {length: 10, width: 10, at: [-5, 0]}}, right: {rectangle: " +
			"{length: 10, width: 10, at: [4.5, 0]}, open: top, depth: 4, draft: {angle: 40, narrows: down}}}\n", 4 - 0.5/tan(40), 40},
		{"a V groove beside a slot", plate + "cuts: {vee: {rectangle: {length: 60, width: 6}, open: top, depth: 3, section: v}, " +
			"slot: {rectangle: {length: 10, width: 5, at: [0, 5]}}}\n", 2.5, 45},
		{"a pocket that breaks out", plate + "cuts: {pocket: {rectangle: {length: 16, width: 12, at: [0, 10]}, open: top, depth: 2, " +
			"draft: {angle: 46, narrows: down}}}\n", 2 - 1/tan(46), 46},
		{"two drafted pockets", plate + "cuts: {left: {rectangle: {length: 8, width: 10, at: [-4, 0]}, open: top, depth: 4, draft: {angle: 25, " +
			"narrows: down}}, right: {rectangle: {length: 10, width: 10, at: [4.5, 0]}, open: top, depth: 4, draft: {angle: 34, narrows: down}}}\n",
			4 - 0.5/(tan(25)+tan(34)), 59},
		{"two sides that lean one way", "bodies: {plate: {rectangle: {length: 40, width: 30}, from: 0, to: 10, " +
			"draft: {angle: 20, narrows: down}}}\n" +
			"cuts: {pocket: {rectangle: {length: 16, width: 12, at: [0, 9]}, open: top, depth: 5, draft: {angle: 25, narrows: down}}}\n", 5, 5},
	} {
		p := made(t, x.text)
		found := 0
		for _, w := range p.Walls {
			if !w.RunsOut {
				continue
			}
			found++
			if math.Abs(w.Height-x.height) > 1e-6 || math.Abs(w.Angle.Value-x.angle) > 1e-4 {
				t.Errorf("%s: height %g, angle %g, want %g, %g", x.name, w.Height, w.Angle.Value, x.height, x.angle)
			}
		}
		if found != 1 {
			t.Errorf("%s: %d walls that run out: %v", x.name, found, show(p.Walls))
		}
	}
}

// TestTouchesWithinRounding: a hole that comes as near to the outline as half a nanometre touches it.
func TestTouchesWithinRounding(t *testing.T) {
	for _, y := range []string{"8.9999995", "9", "8.9999998"} {
		p := made(t, "bodies: {plate: {rectangle: {length: 40, width: 24, corner: 1}, from: 0, to: 8}}\n"+
			"cuts: {a: {circle: {diameter: 6, at: [0, "+y+"]}}}\n")
		out := 0
		for _, w := range p.Walls {
			if w.RunsOut {
				out++
			}
		}
		if out != 1 {
			t.Errorf("a hole at %s: walls %v", y, show(p.Walls))
		}
	}
}

// TestConeInTwo: a cone drawn as two on top of each other has the levels and steps of one.
func TestConeInTwo(t *testing.T) {
	one := made(t, "bodies: {cone: {turned: {section: [[0, 0], [20, 0], [15, 10], [0, 10]]}}}\n")
	two := made(t, "bodies: {low: {turned: {section: [[0, 0], [20, 0], [17.5, 5], [0, 5]]}}, "+
		"high: {turned: {section: [[0, 5], [17.5, 5], [15, 10], [0, 10]]}}}\n")
	if len(one.Steps) != len(two.Steps) || one.LevelsTop != two.LevelsTop || len(one.Flanges) != len(two.Flanges) {
		t.Errorf("steps %v and %v, levels %g and %g, flanges %v and %v", show(one.Steps), show(two.Steps), one.LevelsTop, two.LevelsTop,
			show(one.Flanges), show(two.Flanges))
	}
}

// TestNoFlangeWhereASlopeBreaksOut: a countersink that breaks out of the rim by a notch leaves the full height beside it.
func TestNoFlangeWhereASlopeBreaksOut(t *testing.T) {
	p := made(t, "bodies: {disc: {circle: {diameter: 40}, from: 0, to: 8}}\n"+
		"cuts: {sink: {turned: {at: [13, 0], section: [[0, 1.6], [0.6, 1.6], [7.02, 8], [0, 8]]}}}\n")
	if len(p.Flanges) != 0 {
		t.Errorf("flanges %v", show(p.Flanges))
	}
}
