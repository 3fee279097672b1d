package plane

import (
	"math"
	"testing"
)

// TestEllipse: the arcs of an ellipse stay within EllipseError of it, are tangent to each other, pass exactly through the ends of its axes,
// and enclose its area, pi a b, as far as that error allows.
func TestEllipse(t *testing.T) {
	for _, c := range []struct{ length, width, turn float64 }{{60, 40, 0}, {40, 60, 17}, {30, 29.9, 90}, {500, 5, 0}, {3, 1, -40}, {20, 20, 10}} {
		l := Ellipse(Point{3, -4}, c.length, c.width, c.turn)
		a, b := c.length/2, c.width/2
		if off := math.Abs(l.Moments().Area - math.Pi*a*b); off > EllipseError*l.Length() {
			t.Errorf("%v: area off by %g", c, off)
		}
		if n := len(l); n > 512 || a == b && n != 2 {
			t.Errorf("%v: %d arcs", c, n)
		}
		for i := range l {
			next := &l[(i+1)%len(l)]
			if math.Abs(turnAt(&l[i], next)) > 1e-6 || l[i].B.Distance(next.A) > 1e-9 {
				t.Errorf("%v: arc %d goes over with a turn of %g, %g apart", c, i, turnAt(&l[i], next), l[i].B.Distance(next.A))
			}
			for k := range 20 {
				p := turned(l[i].At(float64(k)/20).sub(Point{3, -4}), -c.turn)
				// The distance from the ellipse is about the value of its equation over the length of its gradient.
				value, gradient := p.X*p.X/a/a+p.Y*p.Y/b/b-1, 2*math.Hypot(p.X/a/a, p.Y/b/b)
				if math.Abs(value/gradient) > EllipseError {
					t.Errorf("%v: arc %d is %g off", c, i, value/gradient)
				}
			}
		}
		for _, p := range []Point{{a, 0}, {-a, 0}, {0, b}, {0, -b}} {
			if _, at := l.Nearest(turned(p, c.turn).add(Point{3, -4})); at.Distance(turned(p, c.turn).add(Point{3, -4})) > 1e-9 {
				t.Errorf("%v: %v is missed", c, p)
			}
		}
	}
}

// TestRegular: the polygon of n sides round a circle of radius r has the area n r2 tan(pi/n), and a corner on x.
func TestRegular(t *testing.T) {
	for _, n := range []int{3, 4, 5, 6, 8, 12} {
		l := mustLoop(t)(Regular(Point{1, 2}, n, 20, 0, 0))
		close9(t, "area", l.Moments().Area, float64(n)*100*math.Tan(math.Pi/float64(n)))
		samePoint(t, "corner", l[0].A, Point{1 + 10/math.Cos(math.Pi/float64(n)), 2})
		close9(t, "disc", RegionOf(l).Inscribed().R, 10)
	}
	hex, regular := mustLoop(t)(Hexagon(Point{}, 20, 10, 1)), mustLoop(t)(Regular(Point{}, 6, 20, 10, 1))
	for i := range hex {
		samePoint(t, "hexagon", regular[i].A, hex[i].A)
	}
}

// TestFlats: each flat at a distance f takes a segment off the circle, r2 acos(f/r) - f sqrt(r2 - f2).
func TestFlats(t *testing.T) {
	for _, flats := range [][]float64{{4}, {4, 3}, {4, 3.8, 4.5}, {4, 4, 4, 4}, {4.8, 4.7, 4.9, 4.6, 4.85, 4.9}} {
		l := mustLoop(t)(Flatted(Point{2, 0}, 10, flats, 0, 0))
		area := math.Pi * 25
		for i, f := range flats {
			area -= 25*math.Acos(f/5) - f*math.Sqrt(25-f*f)
			way := 2 * math.Pi * float64(i) / float64(len(flats))
			foot := Point{2 + f*math.Cos(way), f * math.Sin(way)}
			if _, at := l.Nearest(foot); at.Distance(foot) > 1e-9 {
				t.Errorf("%v: no flat at %v", flats, foot)
			}
		}
		close9(t, "area", l.Moments().Area, area)
	}
}

// TestRadiiOfEach: a corner rounded by r loses (1 - pi/4) r2.
func TestRadiiOfEach(t *testing.T) {
	lost := func(rs ...float64) (sum float64) {
		for _, r := range rs {
			sum += (1 - math.Pi/4) * r * r
		}
		return sum
	}
	l := mustLoop(t)(Rectangle(Point{}, 20, 10, 0, 1, 0, 3, 5))
	close9(t, "rectangle", l.Moments().Area, 200-lost(1, 3, 5))
	if d, at := l.Nearest(Point{10, -5}); at.Distance(Point{10, -5}) > 1e-9 {
		t.Errorf("the second corner is rounded: %d %v", d, at)
	}
	steps := []Step{{To: Point{20, 0}}, {To: Point{20, 10}}, {To: Point{0, 10}}}
	close9(t, "path", mustLoop(t)(Path(Point{}, steps, 1, 0, 3, 5)).Moments().Area, 200-lost(1, 3, 5))
	if _, err := Path(Point{}, steps, 1, 2, 3); err == nil || err.Error() != "corner has 3 radii for 4 corners; give one for each, or one for all" {
		t.Error(err)
	}
	if _, err := Rectangle(Point{}, 20, 10, 0, 6, 0, 0, 5); err == nil {
		t.Error("radii of 6 and 5 on a side of 10")
	}
}
