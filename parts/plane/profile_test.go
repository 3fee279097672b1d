package plane

import (
	"math"
	"strings"
	"testing"
)

// TestProfilesRefused: each size at its bound makes an outline, and just past it is refused with that bound.
func TestProfilesRefused(t *testing.T) {
	tri := []Point{{0, 0}, {10, 0}, {0, 10}}
	square := []Point{{0, 0}, {4, 0}, {4, 4}, {0, 4}}
	fit := (2 - math.Sqrt2) * 5 // inscribed radius of the triangle: (10 + 10 - 10 sqrt 2) / 2
	for _, c := range []struct {
		name string
		make func(v float64) (Loop, error)
		in   float64
		out  float64
		says string
	}{
		{"corner of a rectangle", func(v float64) (Loop, error) { return Rectangle(Point{}, 20, 10, 0, v) }, 5, 5 + 2*Near,
			"corner 5.000002 does not fit: the shorter side is 10, so at most 5"},
		{"corner of an upright rectangle", func(v float64) (Loop, error) { return Rectangle(Point{}, 10, 20, 0, v) }, 5, 6,
			"corner 6 does not fit: the shorter side is 10, so at most 5"},
		{"length of a slot", func(v float64) (Loop, error) { return Slot(Point{}, v, 8, 0) }, 8, 8 - 2*Near,
			"a slot is at least as long as wide: length 7.999998 is under width 8"},
		{"corner of a hexagon", func(v float64) (Loop, error) { return Hexagon(Point{}, 12, 0, v) }, 6, 6 + 2*Near,
			"corner 6.000002 does not fit: the hexagon is 12 across flats, so at most 6"},
		{"flat of a circle", func(v float64) (Loop, error) { return Flatted(Point{}, 20, []float64{v}, 0, 0) }, 9.9, 10 - 0.5*Near,
			"a flat at 10 cuts nothing off a radius of 10"},
		{"second flat of a circle", func(v float64) (Loop, error) { return Flatted(Point{}, 20, []float64{5, v}, 0, 0) }, 9.9, 10,
			"a flat at 10 cuts nothing off a radius of 10"},
		{"corner of a triangle", func(v float64) (Loop, error) { return Polygon(tri, []float64{v}) }, fit, fit + 0.01,
			"do not fit: they take"},
		{"one corner of a triangle", func(v float64) (Loop, error) { return Polygon(tri, []float64{v, 0, 0}) }, 10 - 1e-9, 11,
			"does not fit between its two sides"},
		{"radius of an arc", func(v float64) (Loop, error) { return Path(Point{}, []Step{{To: Point{8, 0}, Radius: v}}, 0) }, 4,
			4 - 2*Near, "step 1 of the path: the arc's radius 3.999998 does not reach: its ends are 8 apart, so at least 4"},
	} {
		if l, err := c.make(c.in); err != nil || l.Moments().Area <= 0 {
			t.Errorf("%s of %g: %v", c.name, c.in, err)
		}
		if _, err := c.make(c.out); err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s of %.7g: %v, want %s", c.name, c.out, err, c.says)
		}
	}
	for _, c := range []struct {
		name string
		make func() (Loop, error)
		says string
	}{
		{"no flat", func() (Loop, error) { return Flatted(Point{}, 20, nil, 0, 0) }, "a flatted circle has one flat or more"},
		{"three flats", func() (Loop, error) { return Flatted(Point{}, 20, []float64{1, 2, 3}, 0, 0) },
			"the flats at 1 and 2 meet"},
		{"two sides", func() (Loop, error) { return Regular(Point{}, 2, 10, 0, 0) }, "a regular polygon has 3 sides or more, not 2"},
		{"a corner past the circle inside", func() (Loop, error) { return Regular(Point{}, 5, 10, 0, 5.1) }, "so at most 5"},
		{"two points", func() (Loop, error) { return Polygon(square[:2], nil) }, "a polygon needs at least 3 points, not 2"},
		{"one point twice", func() (Loop, error) { return Polygon([]Point{{0, 0}, {4, 0}, {4, 0.9 * Near}, {0, 4}}, nil) },
			"points 2 and 3 of the polygon are one point"},
		{"last point twice", func() (Loop, error) { return Polygon(append(square[:4:4], Point{}), nil) },
			"points 5 and 1 of the polygon are one point"},
		{"crossed", func() (Loop, error) { return Polygon([]Point{{0, 0}, {4, 4}, {4, 0}, {0, 4}}, nil) },
			"the outline crosses or touches itself near (2, 2)"},
		{"touching", func() (Loop, error) { return Polygon([]Point{{0, 0}, {8, 0}, {8, 4}, {4, 0}, {0, 4}}, nil) },
			"the outline crosses or touches itself near (4, 0)"},
		{"in line", func() (Loop, error) { return Polygon([]Point{{0, 0}, {4, 0}, {2, 1e-7}}, nil) }, ""},
		{"a step of no length", func() (Loop, error) {
			return Path(Point{}, []Step{{To: Point{4, 0}}, {To: Point{4, 0.9 * Near}}, {To: Point{0, 4}}}, 0)
		}, "step 2 of the outline ends where it begins: points nearer than 0.000001 mm are one"},
		{"no step", func() (Loop, error) { return Path(Point{}, nil, 0) }, "a path needs at least two steps to enclose an area"},
		{"there and back", func() (Loop, error) { return Path(Point{}, []Step{{To: Point{4, 0}}}, 0) }, ""},
	} {
		if _, err := c.make(); err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s: %v", c.name, err)
		}
	}
}

// TestProfileAreas: areas and curves of outlines whose sizes give them.
func TestProfileAreas(t *testing.T) {
	shape := mustLoop(t)
	seg := func(r, h float64) float64 { return r*r*math.Acos(h/r) - h*math.Sqrt(r*r-h*h) } // cut off at h from the centre
	round := func(r float64) float64 { return (4 - math.Pi) * r * r }                      // lost at four square corners
	for _, c := range []struct {
		name   string
		l      Loop
		area   float64
		curves int
	}{
		{"rectangle", shape(Rectangle(Point{1, 2}, 20, 9, 30, 0)), 180, 4},
		{"rounded rectangle", shape(Rectangle(Point{1, 2}, 20, 9, 30, 2)), 180 - round(2), 8},
		{"rectangle as round as it is wide", shape(Rectangle(Point{1, 2}, 20, 9, 30, 4.5)), 180 - round(4.5), 6},
		{"square as round as it is wide", shape(Rectangle(Point{}, 9, 9, 0, 4.5)), math.Pi * 4.5 * 4.5, 4},
		{"slot", shape(Slot(Point{1, 2}, 20, 9, 30)), 99 + math.Pi*4.5*4.5, 4},
		{"slot as long as wide", shape(Slot(Point{1, 2}, 9, 9, 30)), math.Pi * 4.5 * 4.5, 2},
		{"slot longer by less than two nanometres", shape(Slot(Point{1, 2}, 9+1.9*Near, 9, 30)), math.Pi * 4.5 * 4.5, 2},
		{"slot longer by more", shape(Slot(Point{1, 2}, 9+2.2*Near, 9, 30)), math.Pi*4.5*4.5 + 9*2.2*Near, 4},
		{"hexagon", shape(Hexagon(Point{1, 2}, 12, 15, 0)), 72 * math.Sqrt(3), 6},
		{"rounded hexagon", shape(Hexagon(Point{1, 2}, 12, 15, 2)), 72*math.Sqrt(3) - 6*4*(1/math.Sqrt(3)-math.Pi/6), 12},
		{"a flat", shape(Flatted(Point{1, 2}, 20, []float64{6}, 10, 0)), 100*math.Pi - seg(10, 6), 2},
		{"a flat past the centre", shape(Flatted(Point{1, 2}, 20, []float64{-6}, 10, 0)), seg(10, 6), 2},
		{"two flats", shape(Flatted(Point{1, 2}, 20, []float64{6, 8}, 10, 0)), 100*math.Pi - seg(10, 6) - seg(10, 8), 4},
		{"one corner of three", shape(Polygon([]Point{{0, 0}, {10, 0}, {0, 10}}, []float64{2, 0, 0})), 50 - round(2)/4, 4},
		{"clockwise", shape(Polygon([]Point{{0, 0}, {0, 10}, {10, 0}}, nil)), 50, 3},
		{"a path that is closed by a line", shape(Path(Point{}, []Step{{To: Point{10, 0}}, {To: Point{0, 10}}}, 0)), 50, 3},
		{"a path that comes back", shape(Path(Point{}, []Step{{To: Point{10, 0}}, {To: Point{0, 10}}, {To: Point{0, 0.5 * Near}}}, 0)),
			50, 3},
		{"a half disc", shape(Path(Point{}, []Step{{To: Point{10, 0}, Radius: 5}}, 0)), 12.5 * math.Pi, 2},
		{"a half disc on a radius short by less than Near", shape(Path(Point{}, []Step{{To: Point{10, 0}, Radius: 5 - 0.4*Near}}, 0)),
			12.5 * math.Pi, 2},
		{"the short way", shape(Path(Point{}, []Step{{To: Point{6, 0}, Radius: 5}}, 0)), seg(5, 4), 2},
		{"the short way clockwise", shape(Path(Point{}, []Step{{To: Point{6, 0}, Radius: 5, Clockwise: true}}, 0)), seg(5, 4), 2},
		{"the long way", shape(Path(Point{}, []Step{{To: Point{6, 0}, Radius: 5, Large: true}}, 0)), 25*math.Pi - seg(5, 4), 2},
		{"the long way clockwise", shape(Path(Point{}, []Step{{To: Point{6, 0}, Radius: 5, Large: true, Clockwise: true}}, 0)),
			25*math.Pi - seg(5, 4), 2},
		// A quarter disc with its square corner rounded; where line and arc meet squarely the corners are rounded too.
		{"a path with corners", shape(Path(Point{}, []Step{{To: Point{10, 0}}, {To: Point{10, 8}}, {To: Point{0, 8}}}, 1)),
			80 - round(1), 8},
		{"a path with a tangent joint", shape(Path(Point{0, -5}, []Step{{To: Point{10, -5}}, {To: Point{10, 5}, Radius: 5},
			{To: Point{0, 5}}}, 1)), 100 + 12.5*math.Pi - round(1)/2, 6},
	} {
		for _, turn := range []float64{0, 90, 180, 270, 360, -90, 47} {
			l := c.l.Moved(Point{3, 1}, turn, Point{-2, 5})
			if got := l.Moments().Area; math.Abs(got-c.area) > 1e-9*c.area || len(l) != c.curves {
				t.Errorf("%s, turned by %g: %.12g in %d curves, want %.12g in %d", c.name, turn, got, len(l), c.area, c.curves)
			}
			for i := range l {
				if l[i].B.Distance(l[(i+1)%len(l)].A) > 1e-12 {
					t.Errorf("%s: curve %d ends at %v, the next begins at %v", c.name, i, l[i].B, l[(i+1)%len(l)].A)
				}
			}
		}
	}
}

// TestTurnedPoints: quarter turns are exact, others to rounding, about any point.
func TestTurnedPoints(t *testing.T) {
	for _, c := range []struct {
		degrees float64
		want    Point
	}{{0, Point{3, 1}}, {90, Point{-1, 3}}, {180, Point{-3, -1}}, {270, Point{1, -3}}, {360, Point{3, 1}}, {-90, Point{1, -3}}, {450,
		Point{-1, 3}}, {-720, Point{3, 1}}} {
		if got := turned(Point{3, 1}, c.degrees); got != c.want {
			t.Errorf("by %g: %v, want %v", c.degrees, got, c.want)
		}
		if got := Turned(Point{5, 5}, Point{2, 4}, c.degrees); got != c.want.add(Point{2, 4}) {
			t.Errorf("by %g about a point: %v", c.degrees, got)
		}
	}
	samePoint(t, "by 30", turned(Point{2, 0}, 30), Point{math.Sqrt(3), 1})
	samePoint(t, "by -30", turned(Point{2, 0}, -30), Point{math.Sqrt(3), -1})
}

// TestTurns: the turn between two curves, to the left positive; a curve that runs back turns to the side on which the two leave
// nothing between them.
func TestTurns(t *testing.T) {
	in := Line(Point{-5, 0}, Point{0, 0})
	arc := func(side float64) Curve { // from the origin back along in, bending to a side
		return Arc(Point{0, side * 4}, 4, -side*math.Pi/2, -side)
	}
	left, right, back := arc(1), arc(-1), in.Reversed()
	for _, c := range []struct {
		name string
		out  Curve
		want float64
	}{
		{"straight on", Line(Point{0, 0}, Point{3, 0}), 0}, {"left", Line(Point{0, 0}, Point{0, 3}), math.Pi / 2}, {"right",
			Line(Point{0, 0}, Point{3, -3}), -math.Pi / 4},
		{"back on itself", back, -math.Pi}, {"back, bending over it", left, math.Pi}, {"back, bending under it", right, -math.Pi},
	} {
		if got := TurnBetween(&in, &c.out); math.Abs(got-c.want) > 1e-9 {
			t.Errorf("%s: %g, want %g", c.name, got, c.want)
		}
	}
}
