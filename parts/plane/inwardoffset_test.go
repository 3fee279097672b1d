package plane

import (
	"math"
	"strings"
	"testing"
)

// TestInward against closed forms of the area: a convex polygon loses perimeter times d less d2 times the sum of the
// cotangents of its half angles; circles, slots and rounded corners as their radii change.
func TestInward(t *testing.T) {
	rect, _ := Rectangle(Point{1, 2}, 20, 10, 30, 2)
	sharp, _ := Rectangle(Point{}, 20, 10, 0, 0)
	slot, _ := Slot(Point{}, 20, 8, 10)
	hex, _ := Hexagon(Point{}, 10, 0, 0)
	ell, _ := Polygon([]Point{{0, 0}, {30, 0}, {30, 10}, {10, 10}, {10, 25}, {0, 25}}, nil)
	fillet, _ := Polygon([]Point{{0, 0}, {30, 0}, {30, 10}, {10, 10}, {10, 25}, {0, 25}}, []float64{2})
	flat, _ := Flatted(Point{}, 20, []float64{6}, 0, 0)
	for _, d := range []float64{0, 0.1, 1, 1.9} {
		seg := func(r, h float64) float64 { return math.Pi*r*r - (r*r*math.Acos(h/r) - h*math.Sqrt(r*r-h*h)) }
		for _, c := range []struct {
			name string
			loop Loop
			want float64
		}{
			{"circle", Circle(Point{3, 4}, 10), math.Pi * (5 - d) * (5 - d)},
			{"rounded rectangle", rect, (20-2*d)*(10-2*d) - (4-math.Pi)*(2-d)*(2-d)},
			{"rectangle", sharp, (20 - 2*d) * (10 - 2*d)},
			{"slot", slot, 12*(8-2*d) + math.Pi*(4-d)*(4-d)},
			{"hexagon", hex, 2 * math.Sqrt(3) * (5 - d) * (5 - d)},
			{"ell", ell, (30-2*d)*(10-2*d) + (10-2*d)*15},
			{"ell with radii", fillet, (30-2*d)*(10-2*d) + (10-2*d)*15 - 5*(1-math.Pi/4)*(2-d)*(2-d) + (1-math.Pi/4)*(2+d)*(2+d)},
			{"flatted", flat, seg(10-d, 6-d)},
		} {
			got, err := c.loop.Inward(d)
			if err != nil {
				t.Errorf("%s by %g: %v", c.name, d, err)
				continue
			}
			if a := got.Moments().Area; math.Abs(a-c.want) > 1e-9*c.want {
				t.Errorf("%s by %g: area %.12g, want %.12g", c.name, d, a, c.want)
			}
		}
	}
	for _, c := range []struct {
		name string
		loop Loop
		d    float64
		want string
	}{
		{"circle", Circle(Point{}, 10), 5, "radius 5 vanishes"},
		{"rectangle", sharp, 5, "vanishes"},
		{"rounded rectangle", rect, 2.1, "radius 2 vanishes"},
		{"ell", ell, 5.1, "vanishes"},
	} {
		if _, err := c.loop.Inward(c.d); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s by %g: %v", c.name, c.d, err)
		}
	}
	// A dumbbell whose waist closes: its sides cross though none vanishes.
	dumbbell, err := Polygon([]Point{{-20, -10}, {-5, -10}, {-5, -1}, {5, -1}, {5, -10}, {20, -10}, {20, 10}, {5, 10}, {5, 1}, {-5, 1},
		{-5, 10}, {-20, 10}}, nil)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := dumbbell.Inward(1.5); err == nil || !strings.Contains(err.Error(), "its sides meet") {
		t.Errorf("dumbbell: %v", err)
	}
}
