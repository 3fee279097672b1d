package measure

import (
	"math"
	"os"
	"path/filepath"
	"testing"

	"corerod/parts/form"
	"corerod/parts/plane"
)

// TestView: what the part covers in plan is its plan area, and a wall's chord is as long as the wall is thin.
func TestView(t *testing.T) {
	files, _ := filepath.Glob("../../testdata/solids/*.yaml")
	for _, name := range files {
		text, _ := os.ReadFile(name)
		p, ps := form.Parse(name, text)
		if len(ps) > 0 {
			t.Fatal(ps)
		}
		m, ps := Part(p)
		if len(ps) > 0 {
			t.Fatal(ps)
		}
		if got := outlineArea(m); math.Abs(got-m.Subject.PlanArea) > 1e-6*got {
			t.Errorf("%s: %.9f, want %.9f", name, got, m.Subject.PlanArea)
		}
	}
	m := measured(t,
		"bodies: {a: {circle: {diameter: 30}, from: 0, to: 5}, hub: {circle: {diameter: 20}, from: 0, to: 9}, pin: {circle: {diameter: 4, at: [0, 12]}, from: -2, to: 5}}\ncuts: {c: {circle: {diameter: 6}, open: bottom, depth: 2}}\n")
	for _, w := range m.Subject.Walls {
		p, q, ok := m.Shape.Chord(plane.Point{X: w.X, Y: w.Y}, w.ZLow)
		if !ok || math.Abs(p.Distance(q)-w.Thickness) > 1e-9 {
			t.Errorf("%s: %g between %v and %v", w.Name, w.Thickness, p, q)
		}
	}
}

// outlineArea is the area within the outline of the plan view, mm2.
func outlineArea(m *Measured) (area float64) {
	for _, l := range m.Whole.Outline() {
		area += l.Moments().Area
	}
	return area
}
