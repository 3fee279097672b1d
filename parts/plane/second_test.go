package plane

import (
	"math"
	"testing"
)

// TestSecondMoments: closed forms: a rectangle b h3 / 12, a circle pi d4 / 64, a ring, a half circle (pi/8 - 8/(9 pi)) r4 across its
// diameter, each turned and moved too.
func TestSecondMoments(t *testing.T) {
	p := func(x, y float64) Point { return Point{X: x, Y: y} }
	rectangle := Loop{Line(p(0, 0), p(22, 0)), Line(p(22, 0), p(22, 12)), Line(p(22, 12), p(0, 12)), Line(p(0, 12), p(0, 0))}
	circle := func(r float64) Loop {
		return Loop{ArcBetween(p(3, 4), p(3+r, 4), p(3-r, 4), r, true), ArcBetween(p(3, 4), p(3-r, 4), p(3+r, 4), r, true)}
	}
	half := Loop{ArcBetween(p(0, 0), p(5, 0), p(-5, 0), 5, true), Line(p(-5, 0), p(5, 0))}
	for name, c := range map[string]struct {
		loops []Loop
		least float64
	}{
		"rectangle":   {[]Loop{rectangle}, 22 * math.Pow(12, 3) / 12},
		"circle":      {[]Loop{circle(7)}, math.Pi * math.Pow(14, 4) / 64},
		"ring":        {[]Loop{circle(7), circle(4).Reversed()}, math.Pi * (math.Pow(14, 4) - math.Pow(8, 4)) / 64},
		"half circle": {[]Loop{half}, (math.Pi/8 - 8/(9*math.Pi)) * math.Pow(5, 4)},
	} {
		for _, turn := range []float64{0, 90, 33} {
			var moved []Loop
			for _, l := range c.loops {
				moved = append(moved, l.Moved(p(1, 2), turn, p(40, -70)))
			}
			if got := SecondMoments(moved...).Least(); math.Abs(got/c.least-1) > 1e-9 {
				t.Errorf("%s turned by %g: %.12g, want %.12g", name, turn, got, c.least)
			}
		}
	}
}
