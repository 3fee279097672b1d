package plane

import (
	"fmt"
	"math"
	"testing"
)

// ellipse is one as arcs, turned by an angle, with half axes a and b.
func ellipse(a, b, turn float64) Loop {
	sin, cos := math.Sincos(turn)
	place := func(x, y float64) Point { return Point{cos*x - sin*y, sin*x + cos*y} }
	at := func(t float64) (Point, Point) {
		return place(a*math.Cos(t), b*math.Sin(t)), place(-a*math.Sin(t), b*math.Cos(t)).unit()
	}
	l := append(Loop(Fit(at, 0, 2, FitError)), Fit(at, 2, 4, FitError)...)
	return append(l, Fit(at, 4, 2*math.Pi, FitError)...)
}

// TestFit: the arcs of an ellipse leave it by less than the error that is asked for, follow each other without a turn, and go round its
// area; a line and an arc stay what they are.
func TestFit(t *testing.T) {
	for _, c := range []struct{ a, b float64 }{{3, math.Sqrt(8)}, {10, 1}, {5, 5}} {
		l := ellipse(c.a, c.b, 0.4)
		if got, want := l.Moments().Area, math.Pi*c.a*c.b; math.Abs(got-want) > 1e-6*want {
			t.Errorf("%v: area %.12g, want %.12g", c, got, want)
		}
		for i := range l {
			if next := &l[(i+1)%len(l)]; math.Abs(turnAt(&l[i], next)) > 1e-6 || l[i].B.Distance(next.A) > 1e-9 && i+1 < len(l) {
				t.Errorf("%v: arc %d ends at %v with a turn of %g", c, i, l[i].B, turnAt(&l[i], next))
			}
			for _, f := range []float64{0.2, 0.5, 0.9} {
				p := turned(l[i].At(f), -0.4*180/math.Pi)
				s := math.Hypot(p.X/c.a, p.Y/c.b)
				if off := math.Abs(s-1) * math.Min(c.a, c.b); off > 3*FitError {
					t.Errorf("%v: arc %d is %g off", c, i, off)
				}
			}
		}
	}
	line := Fit(func(t float64) (Point, Point) { return Point{t, 2 * t}, Point{1, 2}.unit() }, 1, 4, FitError)
	if len(line) != 1 || line[0].IsArc() || line[0].B != (Point{4, 8}) {
		t.Errorf("a line is %v", line)
	}
	arc := Fit(func(t float64) (Point, Point) { return toward(t).scale(7), toward(t).left() }, 0.3, 1.2, FitError)
	for i := range arc {
		if math.Abs(arc[i].R-7) > 1e-9 || arc[i].C.size() > 1e-9 {
			t.Errorf("an arc is %v", arc)
		}
	}
}

// TestInscribedInManyArcs: the largest disc in an ellipse has its lesser half axis, whichever way it lies, and beside a wall that cuts it
// the disc that touches the wall and both long sides.
func TestInscribedInManyArcs(t *testing.T) {
	for k := range 12 {
		turn := 0.3 * float64(k)
		if d := RegionOf(ellipse(3, math.Sqrt(8), turn)).Inscribed(); math.Abs(d.R-math.Sqrt(8)) > 1e-6 {
			t.Errorf("turned by %g: %.9g, want %.9g", turn, d.R, math.Sqrt(8))
		}
		if d := RegionOf(ellipse(6, 1.5, turn)).Inscribed(); math.Abs(d.R-1.5) > 1e-6 {
			t.Errorf("turned by %g: %.9g, want 1.5", turn, d.R)
		}
	}
}

// TestInscribedCrescent: between a circle and the round end of a slot that stands out of it, the largest disc is as wide as it does.
func TestInscribedCrescent(t *testing.T) {
	for _, x := range []struct{ radius, length, width float64 }{{19, 38.2, 20}, {19.027, 38.2, 19.642}, {10, 20.02, 8}} {
		for _, turn := range []float64{0, 0.3} {
			slot := mustLoop(t)(Slot(Point{}, x.length, x.width, turn))
			o := mustLay(t, Circle(Point{}, 2*x.radius), slot)
			r := o.Region(func(c int) bool { in := o.Cells[c].Inside; return in.Has(1) && !in.Has(0) }, func(int, int, int) int { return 0 })
			close9(t, fmt.Sprint(x, turn), 2*r.Inscribed().R, x.length/2-x.radius)
		}
	}
}
