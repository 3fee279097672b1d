package blank

import (
	"math"
	"testing"

	"corerod/parts/plane"
)

// TestLinesOfSlopes: a slope has lines at its ends and none between its slices; what only voids inside tell apart is hidden.
func TestLinesOfSlopes(t *testing.T) {
	for _, c := range []struct {
		name, text   string
		seen, hidden float64
	}{
		{"a cone", "bodies: {a: {turned: {section: [[0, 0], [10, 0], [10, 2], [4, 10], [0, 10]]}}}", 8 * math.Pi, 0},
		{"a cone that stands on its lesser end", "bodies: {a: {turned: {section: [[0, 0], [4, 0], [10, 8], [10, 10], [0, 10]]}}}", 0, 8 * math.Pi},
		{"a drafted pocket", "bodies: {a: {circle: {diameter: 30}, from: 0, to: 9}}\ncuts: {c: {circle: {diameter: 10}, open: top, depth: 4, draft: {angle: 20, narrows: down}}}",
			math.Pi * (10 + 10 - 8*tan(20)), 0},
		{"a void inside", "bodies: {a: {circle: {diameter: 30}, from: 0, to: 9}}\ncuts: {c: {circle: {diameter: 10}, from: 3, to: 5}}", 0, 10 * math.Pi},
		{"a bore", "bodies: {a: {circle: {diameter: 30}, from: 0, to: 9}}\ncuts: {c: {circle: {diameter: 10}}}", 0, 0},
		{"steps on both sides", "bodies: {a: {circle: {diameter: 30}, from: 0, to: 9}, b: {circle: {diameter: 20}, from: -2, to: 9}, c: {circle: {diameter: 12}, from: 0, to: 11}}", 12 * math.Pi, 20 * math.Pi},
	} {
		seen, hidden := 0.0, 0.0
		for _, l := range shapeOf(t, inMM+c.text+"\n").Lines() {
			if l.Hidden {
				hidden += l.Curve.Length()
			} else {
				seen += l.Curve.Length()
			}
		}
		if math.Abs(seen-c.seen) > 1e-4 || math.Abs(hidden-c.hidden) > 1e-4 {
			t.Errorf("%s: %g seen and %g hidden, want %g and %g", c.name, seen, hidden, c.seen, c.hidden)
		}
	}
}

// TestCutWhereSpansEnd: a stretch of material along the path that ends between two ends of features, inside of a slope.
func TestCutWhereSpansEnd(t *testing.T) {
	// A strip turned by 60 degrees crosses the path from 5 to 7 mm; the cone is 10 - z round.
	s := shapeOf(t,
		inMM+
			"bodies: {a: {turned: {section: [[0, 0], [10, 0], [0, 10]]}}}\ncuts: {c: {rectangle: {length: 12, width: 1.7320508075688772, at: [6, 0], turn: 60}}}\n")
	if got, want := moments(s.Cut(across)).Area, 100-(10-7)*2-2*2/2.0; math.Abs(got-want) > 1e-6 {
		t.Errorf("%.9f, want %.9f", got, want)
	}
	ring := shapeOf(t,
		inMM+"bodies: {a: {circle: {diameter: 40}, from: 0, to: 10}}\ncuts: {c: {turned: {section: [[3, 10], [6, 4], [9, 10]]}}}\n")
	if got, want := moments(ring.Cut(across)).Area, 40*10-2*6*6/2.0; math.Abs(got-want) > 1e-6 {
		t.Errorf("%.9f, want %.9f", got, want)
	}
}

// TestWithout: what spans leave of others.
func TestWithout(t *testing.T) {
	for _, c := range []struct{ a, b, want [][2]float64 }{
		{[][2]float64{{0, 10}}, nil, [][2]float64{{0, 10}}},
		{[][2]float64{{0, 10}}, [][2]float64{{3, 5}}, [][2]float64{{0, 3}, {5, 10}}},
		{[][2]float64{{0, 10}}, [][2]float64{{-1, 4}, {8, 12}}, [][2]float64{{4, 8}}},
		{[][2]float64{{0, 10}}, [][2]float64{{0, 10}}, nil},
		{[][2]float64{{0, 4}, {6, 10}}, [][2]float64{{3, 7}}, [][2]float64{{0, 3}, {7, 10}}},
		{[][2]float64{{0, 4}}, [][2]float64{{4, 6}, {-3, 0}}, [][2]float64{{0, 4}}},
		{[][2]float64{{0, 4}}, [][2]float64{{plane.Near / 2, 4 - plane.Near/2}}, nil},
		{[][2]float64{{0, 4}}, [][2]float64{{2 * plane.Near, 4 - 2*plane.Near}}, [][2]float64{{0, 2 * plane.Near}, {4 - 2*plane.Near, 4}}},
	} {
		got := without(c.a, c.b)
		same := len(got) == len(c.want)
		for i := range got {
			same = same && math.Abs(got[i][0]-c.want[i][0])+math.Abs(got[i][1]-c.want[i][1]) < 1e-9
		}
		if !same {
			t.Errorf("%v without %v: %v, want %v", c.a, c.b, got, c.want)
		}
	}
}

// TestAxesOfCopies: every place that something round stands at, once, with the widest there.
func TestAxesOfCopies(t *testing.T) {
	s := shapeOf(t,
		inMM+
			"bodies: {a: {circle: {diameter: 60, at: [5, 2]}, from: 0, to: 5}, q: {rectangle: {length: 4, width: 4, at: [-10, 2]}, from: 5, to: 6}}\n"+
			"cuts: {b: {circle: {diameter: 8, at: [5, 2]}}, c: {circle: {diameter: 4, at: [20, 2]}, open: top, depth: 1, repeat: {count: 3, about: [5, 2]}}, d: {circle: {diameter: 6, at: [20, 2]}, open: bottom, depth: 1}}\n")
	want := []Axis{{plane.Point{X: 5, Y: 2}, 30}, {plane.Point{X: 20, Y: 2}, 3}}
	for _, turn := range []float64{120, 240} {
		want = append(want, Axis{plane.Turned(plane.Point{X: 20, Y: 2}, plane.Point{X: 5, Y: 2}, turn), 2})
	}
	got := s.Axes()
	if len(got) != len(want) {
		t.Fatalf("%v, want %v", got, want)
	}
	for i, a := range got {
		if a.At.Distance(want[i].At) > 1e-9 || math.Abs(a.R-want[i].R) > 1e-9 {
			t.Errorf("axis %d: %v, want %v", i, a, want[i])
		}
	}
}
