package stock

import (
	"math"
	"testing"
)

// TestCurve looks up both ways on, between and past the points. 443 MPa at 6.80 is worked out by hand:
// 400 + 100 x (6.80 - 6.70) / (6.93 - 6.70).
func TestCurve(t *testing.T) {
	c := Curve{Points: [][2]float64{{400, 6.70}, {500, 6.93}, {600, 7.08}}}
	for _, x := range []struct {
		density, pressure float64
		known             bool
	}{
		{6.70, 400, true}, {6.93, 500, true}, {7.08, 600, true}, {6.80, 400 + 100*0.10/0.23, true}, {7.0, 500 + 100*0.07/0.15, true},
		{6.69, 0, false}, {7.09, 0, false}, {math.NaN(), 0, false},
	} {
		p, ok := c.Pressure(x.density)
		if ok != x.known || math.Abs(p-x.pressure) > 1e-9 {
			t.Errorf("pressure at %g is %g, %v; want %g, %v", x.density, p, ok, x.pressure, x.known)
		}
		if d, ok := c.Density(x.pressure); x.known && (!ok || math.Abs(d-x.density) > 1e-9) {
			t.Errorf("density at %g is %g, %v; want %g", x.pressure, d, ok, x.density)
		}
	}
	for _, p := range []float64{399, 601} {
		if d, ok := c.Density(p); ok || d != 0 {
			t.Errorf("density at %g is %g", p, d)
		}
	}
	if _, ok := (&Curve{}).Density(1); ok {
		t.Error("a curve without points knows a density")
	}
}

func TestBasisOf(t *testing.T) {
	m := Material{Basis: Published, Bases: map[string]Basis{"size_change": Memory}}
	if m.BasisOf("size_change") != Memory || m.BasisOf("density") != Published {
		t.Errorf("%+v", m)
	}
}
