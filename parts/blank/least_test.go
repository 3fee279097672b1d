package blank

import (
	"math"
	"testing"
)

// TestLeast finds where functions are least whose least is known, and counts how often they are asked.
func TestLeast(t *testing.T) {
	for _, c := range []struct {
		name      string
		f         func(x float64) float64
		at, least float64
		within    float64
	}{
		{"a parabola", func(x float64) float64 { return (x-0.3)*(x-0.3) + 2 }, 0.3, 2, 1e-15},
		{"a distance from a point", func(x float64) float64 { return math.Hypot(x-0.7, 0.1) }, 0.7, 0.1, 1e-15},
		{"a distance that comes to 0", func(x float64) float64 { return math.Abs(x - 1.0/3) }, 1.0 / 3, 0, 1e-9},
		{"least at its lower end", func(x float64) float64 { return x }, 0, 0, 0},
		{"least at its upper end", func(x float64) float64 { return -x * x }, 1, -1, 0},
		{"the same all along", func(float64) float64 { return 5 }, 0, 5, 0},
		{"the fourth power", func(x float64) float64 { return math.Pow(x-0.25, 4) }, 0.25, 0, 1e-15},
		{"two hollows, the second deeper", func(x float64) float64 { return math.Cos(4*math.Pi*x) - x }, 0.7563, -1.7531, 1e-3},
		{"nothing up to the middle", func(x float64) float64 {
			if x < 0.5 {
				return math.Inf(1)
			}
			return (x - 0.6) * (x - 0.6)
		}, 0.6, 0, 1e-15},
	} {
		asked := 0
		at, least := LeastAlong(func(x float64) float64 { asked++; return c.f(x) })
		if math.Abs(least-c.least) > c.within || math.Abs(at-c.at) > 1e-3 {
			t.Errorf("%s: least %v at %v, want %v at %v", c.name, least, at, c.least, c.at)
		}
		if asked > 130 {
			t.Errorf("%s: asked %d times", c.name, asked)
		}
	}
}
