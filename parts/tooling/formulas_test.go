package tooling

import (
	"math"
	"testing"
)

// TestFormulas against worked examples.
func TestFormulas(t *testing.T) {
	near := func(what string, got, want, within float64) {
		t.Helper()
		if math.Abs(got-want) > within {
			t.Errorf("%s is %g, want %g", what, got, want)
		}
	}
	// A textbook exercise (its statement was read, k = 1 assumed): in the mid-plane of a cylinder, one diameter down, the
	// pressure is 0.135 and 0.819 of that at the punch for friction 0.5 and 0.05.
	const d = 10.0
	wall, area := math.Pi*d*d, math.Pi/4*d*d // one diameter high
	near("mu 0.5", Along(Decay(0.5, 1, wall, area), 0).At(1)/Along(Decay(0.5, 1, wall, area), 0).Top, 0.135, 5e-4)
	near("mu 0.05", Along(Decay(0.05, 1, wall, area), 0).At(1)/Along(Decay(0.05, 1, wall, area), 0).Top, 0.819, 5e-4)
	// Kalpakjian (from memory): friction 0.3, k 0.5, diameter 10 mm: the pressure halves at 11.55 mm.
	near("pressure halves", TallestFor(0.5)/Decay(0.3, 0.5, math.Pi*d, area), 11.55, 5e-3)
	// Groover, ch. 16 (statement): packing 0.5, pressed to two thirds of the volume, sintering takes 10 % of it: 0.8333.
	near("packing", Sintered(0.5*1.5, math.Cbrt(0.9)-1, 0), 0.8333, 5e-5)
	// 7.2 g/cm3 in a mix that grows by 0.4 % and loses 0.75 % of lubricant means green 7.34 (computed by hand).
	near("green", Green(7.2, 0.004, 0.0075), 7.342, 5e-4)
	near("there and back", Sintered(Green(7.1, -0.01, 0.008), -0.01, 0.008), 7.1, 1e-12)
}

// TestAlong: the profile's mean is one, it is continuous, least at the neutral plane, and turned over is its mirror.
func TestAlong(t *testing.T) {
	for _, a := range []float64{0, 1e-9, 0.05, 0.2, 1, 3} {
		for _, lower := range []float64{0, 0.3, 0.9, 1, 1.2, 4} {
			p := Along(a, lower)
			const n = 20000
			mean, least := 0.0, math.Inf(1)
			for i := range n {
				v := p.At((float64(i) + 0.5) / n)
				mean += v / n
				least = math.Min(least, v)
			}
			if math.Abs(mean-1) > 1e-3*a+1e-9 && math.Abs(mean-1) > 1e-6 {
				t.Errorf("a %g, lower %g: the mean is %g", a, lower, mean)
			}
			if math.Abs(least-p.Least) > 1e-3*a+1e-9 || p.At(0) != p.Top || math.Abs(p.At(p.Neutral)-p.Least) > 1e-12 {
				t.Errorf("a %g, lower %g: least %g, said to be %g", a, lower, least, p.Least)
			}
			if lower == 0 || a == 0 {
				continue
			}
			q := Along(a, 1/lower)
			if math.Abs(p.Top-q.Bottom) > 1e-12 || math.Abs(p.Neutral+q.Neutral-1) > 1e-12 {
				t.Errorf("a %g, lower %g: %+v turned over %+v", a, lower, p, q)
			}
		}
	}
	// Where the pressures from both ends meet: H/2 + A/(2 mu k U) ln(top/bottom) from the top.
	if p := Along(1, 0.8); math.Abs(p.Neutral-(0.5+math.Log(1/0.8)/2)) > 1e-12 || math.Abs(p.Bottom/p.Top-0.8) > 1e-12 {
		t.Errorf("%+v", p)
	}
}

// TallestFor is the height, as the exponent a of Decay, at which the pressure of one punch has fallen to a share.
func TallestFor(share float64) float64 { return -math.Log(share) }

// Sintered is the sintered density of a green one: Green the other way round.
func Sintered(green, change, lubricant float64) float64 {
	return green * (1 - lubricant) / math.Pow(1+change, 3)
}
