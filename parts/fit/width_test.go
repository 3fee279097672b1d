package fit

import (
	"math"
	"testing"
)

// TestWidthAt: at whole grades the table's cells, between them the way back from Grade, and a width for every size.
func TestWidthAt(t *testing.T) {
	for _, nominal := range []float64{1, 3, 25, 50, 50.1, 250, 499} {
		for grade := 5.0; grade <= 16; grade++ {
			if w, ok := Width(nominal, int(grade)); !ok || math.Abs(WidthAt(nominal, grade)-w) > 1e-12 {
				t.Errorf("IT%g at %g mm: %g, the table has %g", grade, nominal, WidthAt(nominal, grade), w)
			}
		}
		for _, grade := range []float64{3.5, 6.4, 8.99, 15.5, 17.2} {
			if g, ok := Grade(nominal, WidthAt(nominal, grade)); !ok || math.Abs(g-grade) > 1e-9 {
				t.Errorf("IT%g at %g mm comes back as IT%g", grade, nominal, g)
			}
		}
	}
	if WidthAt(0, 7) != WidthAt(1, 7) || WidthAt(600, 7) != WidthAt(500, 7) || math.Abs(WidthAt(25, 7)-0.021) > 1e-12 ||
		math.Abs(WidthAt(25, 9)-0.052) > 1e-12 {
		t.Error("sizes past the table, or 25 mm at IT7 and IT9 (ISO 286-1: 21 and 52 micrometres)")
	}
}
