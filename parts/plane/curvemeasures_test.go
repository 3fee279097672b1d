package plane

import (
	"math"
	"testing"
)

// samePoint holds a point to another, mm.
func samePoint(t *testing.T, what string, got, want Point) {
	t.Helper()
	if got.Distance(want) > 1e-12*(1+want.size()) || math.IsNaN(got.X+got.Y) {
		t.Errorf("%s: %v, want %v", what, got, want)
	}
}

// TestCurveMeasures: length, bend, points, directions and boxes of lines and arcs about (1, 2), by hand.
func TestCurveMeasures(t *testing.T) {
	c := Point{1, 2}
	for _, x := range []struct {
		name            string
		curve           Curve
		length, bend    float64
		mid             Point
		leaves, arrives Point // directions
		lo, hi          Point
	}{
		{"line", Line(Point{0, 0}, Point{3, 4}), 5, 0, Point{1.5, 2}, Point{0.6, 0.8}, Point{0.6, 0.8}, Point{0, 0}, Point{3, 4}},
		{"line back", Line(Point{3, 4}, Point{0, 0}), 5, 0, Point{1.5, 2}, Point{-0.6, -0.8}, Point{-0.6, -0.8}, Point{0, 0}, Point{3, 4}},
		{"quarter", Arc(c, 2, 0, math.Pi/2), math.Pi, 0.5, Point{1 + math.Sqrt2, 2 + math.Sqrt2}, Point{0, 1}, Point{-1, 0}, Point{1,
			2}, Point{3, 4}},
		{"quarter clockwise", Arc(c, 2, math.Pi/2, -math.Pi/2), math.Pi, -0.5, Point{1 + math.Sqrt2, 2 + math.Sqrt2}, Point{1, 0},
			Point{0, -1}, Point{1, 2}, Point{3, 4}},
		{"half over the top", Arc(c, 2, 0, math.Pi), 2 * math.Pi, 0.5, Point{1, 4}, Point{0, 1}, Point{0, -1}, Point{-1, 2}, Point{3, 4}},
		{"half below", Arc(c, 2, 0, -math.Pi), 2 * math.Pi, -0.5, Point{1, 0}, Point{0, -1}, Point{0, 1}, Point{-1, 0}, Point{3, 2}},
		{"three quarters", Arc(c, 2, math.Pi/2, 1.5*math.Pi), 3 * math.Pi, 0.5, Point{1 - math.Sqrt2, 2 - math.Sqrt2}, Point{-1, 0},
			Point{0, 1}, Point{-1, 0}, Point{3, 4}},
		{"circle", Arc(c, 2, 0.3, 2*math.Pi), 4 * math.Pi, 0.5, Point{1 - 2*math.Cos(0.3), 2 - 2*math.Sin(0.3)}, Point{-math.Sin(0.3),
			math.Cos(0.3)}, Point{-math.Sin(0.3), math.Cos(0.3)}, Point{-1, 0}, Point{3, 4}},
	} {
		for _, back := range []bool{false, true} {
			k, leaves, arrives, bend := x.curve, x.leaves, x.arrives, x.bend
			if back {
				k, leaves, arrives, bend = k.Reversed(), arrives.scale(-1), leaves.scale(-1), -bend
			}
			close9(t, x.name+": length", k.Length(), x.length)
			close9(t, x.name+": bend", k.curvature(), bend)
			samePoint(t, x.name+": middle", k.At(0.5), x.mid)
			samePoint(t, x.name+": leaves", k.tangent(k.A), leaves)
			samePoint(t, x.name+": arrives", k.tangent(k.B), arrives)
			b := k.bounds()
			samePoint(t, x.name+": lower corner", b.lo, x.lo)
			samePoint(t, x.name+": upper corner", b.hi, x.hi)
			if k.At(0) != k.A || k.At(1) != k.B {
				t.Errorf("%s: begins at %v and ends at %v", x.name, k.At(0), k.At(1))
			}
		}
	}
}

// TestCurveNearest: the nearest point, the distance and the place along a curve of points beside it, off its ends and, of an
// arc, at its centre, from which every point is equally far.
func TestCurveNearest(t *testing.T) {
	line, arc, back := Line(Point{0, 0}, Point{10, 0}), Arc(Point{}, 5, 0, math.Pi/2), Arc(Point{}, 5, math.Pi/2, -math.Pi/2)
	wide := Arc(Point{}, 5, 0, 1.5*math.Pi) // open from below to the right
	for _, x := range []struct {
		name     string
		c        Curve
		p, at    Point
		distance float64
		place    float64
	}{
		{"beside a line", line, Point{4, 3}, Point{4, 0}, 3, 0.4},
		{"before a line", line, Point{-3, 4}, Point{0, 0}, 5, -0.3},
		{"behind a line", line, Point{13, -4}, Point{10, 0}, 5, 1.3},
		{"in a line without length", Line(Point{1, 1}, Point{1, 1}), Point{4, 5}, Point{1, 1}, 5, 0},
		{"outside an arc", arc, Point{6, 8}, Point{3, 4}, 5, math.Atan2(4, 3) / (math.Pi / 2)},
		{"inside an arc", arc, Point{1.5, 2}, Point{3, 4}, 2.5, math.Atan2(4, 3) / (math.Pi / 2)},
		{"inside an arc that runs back", back, Point{1.5, 2}, Point{3, 4}, 2.5, 1 - math.Atan2(4, 3)/(math.Pi/2)},
		{"before an arc", arc, Point{5, -3}, Point{5, 0}, 3, -math.Atan2(3, 5) / (math.Pi / 2)},
		{"behind an arc", arc, Point{-3, 5}, Point{0, 5}, 3, 1 + math.Atan2(3, 5)/(math.Pi/2)},
		{"across an arc, nearer its first end", arc, Point{-1, -2}, Point{5, 0}, math.Hypot(6, 2), 0},
		{"across an arc, nearer its last end", arc, Point{-2, -1}, Point{0, 5}, math.Hypot(2, 6), 0},
		{"at the centre", arc, Point{}, Point{5, 0}, 5, 0},
		{"inside a wide arc", wide, Point{-3, 4}, Point{-3, 4}, 0, math.Atan2(4, -3) / (1.5 * math.Pi)},
		{"in the opening of a wide arc, lower", wide, Point{1, -2}, Point{0, -5}, math.Hypot(1, 3), 0},
		{"in the opening of a wide arc, upper", wide, Point{2, -1}, Point{5, 0}, math.Hypot(3, 1), 0},
	} {
		samePoint(t, x.name, x.c.nearest(x.p), x.at)
		samePoint(t, x.name+", for others", x.c.Nearest(x.p), x.at)
		close9(t, x.name+": distance", x.c.Distance(x.p), x.distance)
		close9(t, x.name+": distance, for others", x.c.Off(x.p), x.distance)
		if x.place != 0 {
			close9(t, x.name+": place", x.c.fraction(x.p), x.place)
		}
	}
	l := Loop{line, Line(Point{10, 0}, Point{0, 8}), Line(Point{0, 8}, Point{0, 0})}
	for i, p := range []Point{{5, -1}, {7, 6}, {-2, 3}} {
		k, at := l.Nearest(p)
		want := []Point{{5, 0}, {}, {0, 3}}[i]
		if i == 1 { // the foot on the line from (10, 0) to (0, 8)
			want = line.A.add(l[1].foot(p))
		}
		if k != i {
			t.Errorf("%v is nearest to curve %d, want %d", p, k, i)
		}
		samePoint(t, "nearest of a loop", at, want)
	}
}

// TestCurveCovers: a point of the line or circle within Near of an end is covered, one further out is not.
func TestCurveCovers(t *testing.T) {
	line, arc := Line(Point{0, 0}, Point{10, 0}), Arc(Point{}, 5, 0, 1)
	for _, x := range []struct {
		beyond float64 // mm past an end
		want   bool
	}{{-1, true}, {0, true}, {0.5 * Near, true}, {Near, true}, {1.5 * Near, false}, {1, false}} {
		for what, got := range map[string]bool{
			"before a line": line.covers(Point{-x.beyond, 0}), "behind a line": line.covers(Point{line.A.X + 10 + x.beyond*0.999999, 0}),
			"before an arc": arc.covers(toward(-x.beyond / 5.000001).scale(5)),
			"behind an arc": arc.covers(toward(1 + x.beyond/5.000001).scale(5)),
		} {
			if got != x.want {
				t.Errorf("%g %s: covered %v", x.beyond, what, got)
			}
		}
	}
	if line.covers(Point{-1.5 * Near, 0}) {
		t.Error("covers a point too far before it")
	}
}

// TestMomentsClosedForms: areas and centroids of figures: a half disc's lies 4 r / 3 pi from its diameter, a quarter's as far from
// both, a segment's 2 r sin^3 h / 3 (h - sin h cos h) from the centre, a triangle's in the mean of its corners.
func TestMomentsClosedForms(t *testing.T) {
	c := Point{3, -2}
	pie := func(start, sweep float64) Loop {
		a := Arc(c, 4, start, sweep)
		return Loop{Line(c, a.A), a, Line(a.B, c)}
	}
	cap := func(h float64) Loop {
		a := Arc(c, 4, -h, 2*h)
		return Loop{a, Line(a.B, a.A)}
	}
	h := 0.7
	seg := 16 * (h - math.Sin(h)*math.Cos(h))
	small := 0.02 // below seriesBelow: the area is 2/3 h^3 r^2 (1 - h^2/5), the next term 1e-8 of it
	for _, x := range []struct {
		name string
		l    Loop
		area float64
		at   Point
	}{
		{"triangle", Loop{Line(Point{0, 0}, Point{6, 0}), Line(Point{6, 0}, Point{0, 3}), Line(Point{0, 3}, Point{0, 0})}, 9, Point{2, 1}},
		{"circle", Circle(c, 8), 16 * math.Pi, c},
		{"half disc", pie(0, math.Pi), 8 * math.Pi, c.add(Point{0, 16 / (3 * math.Pi)})},
		{"quarter disc", pie(0, math.Pi/2), 4 * math.Pi, c.add(Point{16 / (3 * math.Pi), 16 / (3 * math.Pi)})},
		{"three quarters", pie(0, 1.5*math.Pi), 12 * math.Pi, c.add(Point{-16 / (9 * math.Pi), 16 / (9 * math.Pi)})},
		{"segment", cap(h), seg, c.add(Point{2 * 64 * math.Pow(math.Sin(h), 3) / 3 / seg, 0})},
	} {
		m := x.l.Moments()
		close9(t, x.name+": area", m.Area, x.area)
		samePoint(t, x.name+": centroid", m.Centroid(), x.at)
		m = x.l.Reversed().Moments()
		close9(t, x.name+" the other way round: area", m.Area, -x.area)
		samePoint(t, x.name+" the other way round: centroid", m.Centroid(), x.at)
		if n := m.Add(m.negative()); n != (Moments{}) {
			t.Errorf("%s: less itself %v", x.name, n)
		}
	}
	if got, want := segment(2*small), 2.0/3*math.Pow(small, 3)*(1-small*small/5+2*math.Pow(small, 4)/105); math.Abs(got/want-1) > 1e-10 {
		t.Errorf("a small segment: %g, want %g", got, want)
	}
	for _, s := range []float64{seriesBelow * (1 - 1e-9), seriesBelow * (1 + 1e-9)} {
		if got, want := segment(s), (s-math.Sin(s))/2; math.Abs(got/want-1) > 1e-9 {
			t.Errorf("a segment of %g: %g, want %g", s, got, want)
		}
	}
	if got, want := segment(-0.04), -segment(0.04); got != want {
		t.Errorf("a segment to the right: %g, want %g", got, want)
	}
}

// TestWinds: how often an outline runs round a point: one within, none without, in the hollow of an arc or the bulge of one.
func TestWinds(t *testing.T) {
	d := Loop{Arc(Point{}, 5, -math.Pi/2, math.Pi), Line(Point{0, 5}, Point{0,
		-5})} // a half disc to the right
	bite := Loop{Line(Point{0, -5}, Point{10, -5}), Line(Point{10, -5}, Point{10, 5}), Line(Point{10, 5}, Point{0, 5}), Arc(Point{}, 5,
		math.Pi/2, -math.Pi)} // its side bitten out
	full := Loop{Arc(Point{}, 5, 1, 2*math.Pi)}
	for _, x := range []struct {
		name string
		l    Loop
		p    Point
		want int
	}{
		{"in a half disc", d, Point{1, 0}, 1}, {"in its bulge", d, Point{4.9, 0.1}, 1}, {"left of it", d, Point{-1, 0}, 0},
		{"above its end", d, Point{0.1, 5.1}, 0}, {"right of it", d, Point{5.1, 0}, 0},
		{"in a bite", bite, Point{2, 0}, 0}, {"beside a bite", bite, Point{6, 0}, 1}, {"over a bite", bite, Point{4.5, 4.5}, 1},
		{"left of a bite", bite, Point{-1, 0}, 0},
		{"in a circle", full, Point{2, 3}, 1}, {"beside a circle", full, Point{5, 3}, 0}, {"in a circle of two halves", Circle(Point{},
			10), Point{0, 1}, 1},
	} {
		for _, turn := range []float64{0, 90, 41} {
			l, p := x.l.Moved(Point{}, turn, Point{1, 2}), turned(x.p, turn).add(Point{1, 2})
			if got := l.winds(p); got != x.want || l.Holds(p) != (x.want != 0) {
				t.Errorf("%s, turned by %g: %d times, want %d", x.name, turn, got, x.want)
			}
			if got := l.Reversed().winds(p); got != -x.want {
				t.Errorf("%s, the other way round: %d times, want %d", x.name, got, -x.want)
			}
		}
	}
}

// TestCurvesMeet: where lines and circles meet, in closed form; a tangency within 1e-7 mm is one point, a miss by more is none.
func TestCurvesMeet(t *testing.T) {
	circle := func(x, r float64) Curve { return Arc(Point{x, 0}, r, 0, 2*math.Pi) }
	flat := func(y float64) Curve { return Line(Point{-9, y}, Point{9, y}) }
	for _, x := range []struct {
		name string
		c, d Curve
		want []Point
	}{
		{"lines", Line(Point{0, 0}, Point{2, 2}), Line(Point{0, 4}, Point{4, 0}), []Point{{2, 2}}},
		{"parallel lines", flat(0), flat(1), nil},
		{"a line and a circle", flat(3), circle(0, 5), []Point{{-4, 3}, {4, 3}}},
		{"a tangent", flat(5), circle(0, 5), []Point{{0, 5}}},
		{"a tangent within touching, outside", flat(5 + 0.9e-7), circle(0, 5), []Point{{0, 5 + 0.9e-7}}},
		{"a tangent within touching, inside", flat(5 - 0.9e-7), circle(0, 5), []Point{{0, 5 - 0.9e-7}}},
		{"a miss", flat(5 + 1.1e-7), circle(0, 5), nil},
		{"circles", circle(0, 5), circle(6, 5), []Point{{3, 4}, {3, -4}}},
		{"unequal circles", circle(0, 5), circle(7, math.Sqrt(32)), []Point{{3, 4}, {3, -4}}},
		{"circles that touch", circle(0, 5), circle(8, 3), []Point{{5, 0}}},
		{"circles that just miss", circle(0, 5), circle(8+1.1e-7, 3), nil},
		{"circles that touch within touching", circle(0, 5), circle(8+0.9e-7, 3), []Point{{5, 0}}},
		{"a circle that touches from inside", circle(0, 5), circle(2, 3), []Point{{5, 0}}},
		{"a circle round one that touches it", circle(2, 3), circle(0, 5), []Point{{5, 0}}},
		{"a circle inside", circle(0, 5), circle(1, 3), nil},
		{"a circle just inside", circle(0, 5), circle(2-1.1e-7, 3), nil},
		{"circles apart", circle(0, 5), circle(20, 3), nil},
		{"one circle", circle(0, 5), circle(0, 5), nil},
		{"concentric circles", circle(0, 5), circle(0, 4), nil},
	} {
		got := carriersMeet(&x.c, &x.d)
		if len(got) != len(x.want) {
			t.Errorf("%s: %v, want %v", x.name, got, x.want)
			continue
		}
		for i := range got {
			if got[i].Distance(x.want[i]) > 1e-7 {
				t.Errorf("%s: %v, want %v", x.name, got, x.want)
			}
		}
	}
	// Lines that turn from each other by less than neverMeet meet nowhere, by more they do.
	for share, meets := range map[float64]int{0.5: 0, 2: 1} {
		if got := linesMeet(&Curve{A: Point{0, 0}, B: Point{1, 0}}, &Curve{A: Point{0, 1}, B: Point{1,
			1 + share*1e-12}}); len(got) != meets {
			t.Errorf("a turn of %g: %v", share*1e-12, got)
		}
	}
	// A cutting line meets two circles and a square beside them, each place once and in order.
	square, _ := Rectangle(Point{6, 3}, 4, 4, 0, 0)
	got := Meetings(flat(3), []Loop{square, Circle(Point{}, 10)})
	for i, want := range []float64{5, 13, 17} { // x of -4, of 4 on both, of 8
		if len(got) != 3 || math.Abs(got[i]-want) > 1e-9 {
			t.Errorf("along the line %v, want 5, 13 and 17", got)
			break
		}
	}
}

// TestArcThrough: the circle through three points turns the way they lie; points in a line have none.
func TestArcThrough(t *testing.T) {
	for _, x := range []struct {
		a, b, c Point
		ok      bool
		centre  Point
		r       float64
		sweep   float64
	}{
		{Point{5, 0}, Point{0, 5}, Point{-5, 0}, true, Point{}, 5, math.Pi},
		{Point{-5, 0}, Point{0, 5}, Point{5, 0}, true, Point{}, 5, -math.Pi},
		{Point{6, 2}, Point{1, 7}, Point{1, -3}, true, Point{1, 2}, 5, 1.5 * math.Pi},
		{Point{0, 0}, Point{1, 1}, Point{3, 3}, false, Point{}, 0, 0},
		{Point{0, 0}, Point{1, 0}, Point{2, 1e-12}, false, Point{}, 0, 0},
	} {
		c, ok := ArcThrough(x.a, x.b, x.c)
		if ok != x.ok {
			t.Errorf("%v: %v", x, ok)
			continue
		}
		if ok {
			samePoint(t, "centre", c.C, x.centre)
			close9(t, "radius", c.R, x.r)
			close9(t, "sweep", c.Sweep, x.sweep)
			samePoint(t, "begins", c.A, x.a)
			samePoint(t, "ends", c.B, x.c)
		}
	}
}
