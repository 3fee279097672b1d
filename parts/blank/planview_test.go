package blank

import (
	"math"
	"testing"
)

// TestLines: each line of the view from above lies where heights differ.
func TestLines(t *testing.T) {
	b := shapeOf(t,
		"part: a\nunits: mm\nbodies: {a: {circle: {diameter: 30}, from: 0, to: 5}, hub: {circle: {diameter: 20}, from: 0, to: 9}, pin: {circle: {diameter: 4, at: [0, 12]}, from: -2, to: 5}}\ncuts: {c: {circle: {diameter: 6}, open: bottom, depth: 2}}\n")
	seen, hidden := 0.0, 0.0
	for _, l := range b.Lines() {
		if l.Hidden {
			hidden += l.Curve.Length()
		} else {
			seen += l.Curve.Length()
		}
	}
	if math.Abs(seen-20*math.Pi) > 1e-9 || math.Abs(hidden-10*math.Pi) > 1e-9 { // 6 pi of the recess and 4 pi of the pin
		t.Errorf("%g seen and %g hidden", seen/math.Pi, hidden/math.Pi)
	}
}
