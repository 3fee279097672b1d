package plane

import (
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// TestSupport: how far curves reach in a direction, and the point that does: the first of those that reach equally far.
func TestSupport(t *testing.T) {
	square, _ := Rectangle(Point{}, 6, 4, 0, 0)
	for _, c := range []struct {
		name   string
		curves []Curve
		u      Point
		reach  float64
		at     Point
	}{
		{"a side square to it", square, Point{1, 0}, 3, Point{3, -2}},
		{"a side square to it, from the other end", Loop(square).Reversed(), Point{1, 0}, 3, Point{3, 2}},
		{"a corner", square, Point{0.6, 0.8}, 3.4, Point{3, 2}},
		{"an arc", Circle(Point{1, 2}, 10), Point{0, 1}, 7, Point{1, 7}},
		{"an arc's end", []Curve{Arc(Point{}, 5, 0, 1)}, Point{1, 0}, 5, Point{5, 0}},
		{"an arc that faces away", []Curve{Arc(Point{}, 5, 2, 2)}, Point{1, 0}, 5 * math.Cos(2), Arc(Point{}, 5, 2, 0).A},
		{"an arc whose last end reaches further", []Curve{Arc(Point{}, 5, 2.5, 2)}, Point{0, -1}, -5 * math.Sin(4.5), Arc(Point{}, 5,
			4.5, 0).A},
		{"a line after an arc that reaches as far", []Curve{Arc(Point{}, 5, -1, 2), Line(Point{5, 1}, Point{5, 2})}, Point{1, 0}, 5,
			Point{5, 0}},
	} {
		reach, at := support(c.curves, c.u)
		close9(t, c.name, reach, c.reach)
		samePoint(t, c.name, at, c.at)
	}
}

// TestMergedUpTo: a strip of 3.9 micrometres is the trace of rounded numbers and joins its neighbour, one of 4.3 is a cell.
func TestMergedUpTo(t *testing.T) {
	shape := mustLoop(t)
	for thick, merged := range map[float64]bool{0.0039: true, 0.0043: false} {
		o := mustLay(t, shape(Rectangle(Point{50, 5}, 100, 10, 0, 0)), shape(Rectangle(Point{50, 5 + thick/2}, 100, 10+thick, 0, 0)))
		o.MergeThin(allJoin)
		want := 100 * thick
		if merged {
			want = 0
		}
		if got := areaOf(o, func(s Set) bool { return s.Has(1) && !s.Has(0) }); math.Abs(got-want) > 1e-9 {
			t.Errorf("of a strip of %g mm: %g mm2, want %g", thick, got, want)
		}
	}
}

// TestPinchReach: a boundary touches itself where two pieces come within two nanometres of a point; one a little further off is none.
func TestPinchReach(t *testing.T) {
	shape := mustLoop(t)
	for apart, want := range map[float64]int{1.5: 1, 2.5: 0} {
		r := RegionOf(shape(Rectangle(Point{0, -5 - apart*Near}, 10, 10, 0, 0)), shape(Rectangle(Point{0, 5 + Near}, 10, 10, 0, 0)))
		r.pinches = []pinch{{Point{1, 0}, math.Pi / 4}}
		s := newNecks(r)
		s.touches()
		if len(s.found) != want {
			t.Errorf("%g nanometres off: %d necks, want %d", apart, len(s.found), want)
		}
	}
}

// TestFullTips: a rounding of half a tooth leaves no land, and stays as it was drawn; the same inside.
func TestFullTips(t *testing.T) {
	b, err := Spline(26, 21, 12, 2, 1)
	if err != nil {
		t.Fatal(err)
	}
	close9(t, "tip rounding", b.OuterRound, 1)
	close9(t, "root rounding", b.InnerRound, 1)
	g := usual(Gear{Module: 2, Teeth: 20})
	full := mustGear(t, g)
	g.TipRadius = 10
	_, err = g.Build()
	most, ok := figureOf(err, `at most ([\d.]+) mm$`)
	if !ok {
		t.Fatal(err)
	}
	g.TipRadius = most
	round := mustGear(t, g)
	if math.Abs(round.OuterRound-most) > 1e-4 || round.InnerRound != full.InnerRound {
		t.Errorf("rounded by %g and %g, drawn by %g", round.OuterRound, round.InnerRound, most)
	}
	checkOutline(t, round.Loop(Point{}, 0))
}

// figureOf finds a number in a message.
func figureOf(err error, pattern string) (float64, bool) {
	if err == nil {
		return 0, false
	}
	m := regexp.MustCompile(pattern).FindStringSubmatch(err.Error())
	if m == nil {
		return 0, false
	}
	v, e := strconv.ParseFloat(m[1], 64)
	return v, e == nil
}

// TestGearMessages: where teeth or spaces run to a point, the diameter that is told is that at which their flanks are half a
// micrometre from each other's middle; and what leaves no tip or no space is told.
func TestGearMessages(t *testing.T) {
	for _, c := range []struct {
		name  string
		g     Gear
		begin string
		point bool
	}{
		{"pointed teeth", Gear{Module: 2, Teeth: 8, Shift: 1}, "the teeth run to a point at diameter ", true},
		{"pointed spaces of a ring", Gear{Module: 2, Teeth: 40, Dedendum: 3, Internal: true}, "the spaces run to a point at diameter ",
			true},
		{"pointed teeth of a ring", Gear{Module: 2, Teeth: 60, Shift: -2.1, Addendum: 2.6, Dedendum: 0.8, Internal: true},
			"the teeth run to a point before the tip diameter 118 mm: give less addendum or less shift", false},
		{"no space at the root", Gear{Module: 2, Teeth: 60, Shift: 2.3, Addendum: 0.2, Dedendum: 2.6},
			"the teeth leave no space at the root diameter 118.8 mm: give less dedendum or less shift", false},
		{"no depth", Gear{Module: 0.001, Teeth: 20, Addendum: 0.4, Dedendum: 0.4},
			"addendum and dedendum come to 0.8 modules, which leaves no teeth", false},
		{"to the centre", Gear{Module: 2, Teeth: 5, Shift: 0, Dedendum: 2.5},
			"the teeth reach the centre: give more teeth or less depth", false},
	} {
		g := usual(c.g)
		_, err := g.Build()
		if err == nil || !strings.HasPrefix(err.Error(), c.begin) {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		if !c.point {
			continue
		}
		f := g.figures()
		if d, ok := figureOf(err, `diameter ([\d.]+) mm, before`); !ok || math.Abs(f.halfAt(d/2)*d-leastFlank) > 1e-4 {
			t.Errorf("%s: at %g the tooth is %g wide", c.name, d, f.halfAt(d/2)*d)
		}
		if d, ok := figureOf(err, `before the (?:tip|root) diameter ([\d.]+) mm`); !ok || math.Abs(d-2*f.outer) > 1e-6 {
			t.Errorf("%s: outer diameter %g, want %g", c.name, d, 2*f.outer)
		}
	}
	for most, want := range map[float64]string{0.0099: "give less shift", 0.01: "dedendum at most 0.01, or less shift",
		1.23456: "dedendum at most 1.2345, or less shift", -1: "give less shift"} {
		if got := factor("dedendum", most); got != want {
			t.Errorf("at most %g is worded %q", most, got)
		}
	}
	for v, want := range map[float64]string{1.23456: "1.2346 1.2345", 2: "2 2", -0.00001: "0 -0.0001"} {
		if got := above(v) + " " + below(v); got != want {
			t.Errorf("%g is bounded by %q, want %q", v, got, want)
		}
	}
}

// TestRadialLine: below its base circle a flank is a radial line; one of some tenths of a micrometre is drawn too, one below Near
// is not, and the involute begins where it ends.
func TestRadialLine(t *testing.T) {
	v := involute{base: 10, lead: 0.1, step: 0.2}
	for _, c := range []struct {
		from, to float64
		lines    int
		arcs     int
	}{{-0.2, 0.3, 1, 4}, {-5e-5, 0.3, 1, 4}, {-2e-7, 0.3, 1, 4}, {-0.5e-7, 0.3, 0, 4}, {0, 0.3, 0, 4}, {0, 0.19, 0, 2}, {-0.3, -0.1, 1,
		0}, {0.1, 0.31, 0, 4}} {
		cs := v.curves(c.from, c.to)
		lines, arcs := 0, 0
		for i := range cs {
			if cs[i].IsArc() {
				arcs++
			} else {
				lines++
			}
			if i > 0 && cs[i].A.Distance(cs[i-1].B) > 1e-12 {
				t.Errorf("from %g to %g: curve %d begins apart from the one before", c.from, c.to, i)
			}
		}
		if c.to < 0 { // what is above the base circle is not asked for
			samePoint(t, "ends", cs[0].B, v.at(c.to))
			continue
		}
		if lines != c.lines || arcs != c.arcs {
			t.Errorf("from %g to %g: %d lines and %d arcs, want %d and %d", c.from, c.to, lines, arcs, c.lines, c.arcs)
		}
		samePoint(t, "ends", cs[len(cs)-1].B, v.at(c.to))
	}
	// The involute of a circle: its tangent is square to the one from the circle, which is as long as the arc unrolled.
	for _, roll := range []float64{0, 0.1, 0.5, 2} {
		p, along := v.moved(roll, 0), Point{math.Cos(roll - 0.1), math.Sin(roll - 0.1)}
		touch := Point{10 * along.X, 10 * along.Y}
		close9(t, "unrolled", p.Distance(touch), 10*roll)
		close9(t, "touches the base circle", touch.size(), 10)
		close9(t, "square to it", along.dot(p.sub(touch)), 0)
		close9(t, "radius", p.size(), 10*math.Sqrt(1+roll*roll))
		close9(t, "angle", p.angle(), roll-math.Atan(roll)-0.1)
	}
}

// TestEnclosingOfFew: the least disc round points, lines and arcs, through two or three of them.
func TestEnclosingOfFew(t *testing.T) {
	tri := func(a, b, c Point) []Curve { return []Curve{Line(a, b), Line(b, c), Line(c, a)} }
	for _, c := range []struct {
		name   string
		curves []Curve
		want   Disc
	}{
		{"a line", []Curve{Line(Point{1, 1}, Point{7, 9})}, Disc{Point{4, 5}, 5}},
		{"a right triangle", tri(Point{0, 0}, Point{8, 0}, Point{0, 6}), Disc{Point{4, 3}, 5}},
		{"a flat triangle, across its long side", tri(Point{0, 0}, Point{10, 0}, Point{4, 1}), Disc{Point{5, 0}, 5}},
		{"an acute triangle, through its corners", tri(Point{-3, -4}, Point{3, -4}, Point{0, 5}), Disc{Point{}, 5}},
		{"a half circle", []Curve{Arc(Point{1, 2}, 5, 0.3, math.Pi)}, Disc{Point{1, 2}, 5}},
		{"a short arc, across its ends", []Curve{Arc(Point{}, 5, -0.5, 1)}, Disc{Point{5 * math.Cos(0.5), 0}, 5 * math.Sin(0.5)}},
		{"a long arc", []Curve{Arc(Point{}, 5, -2, 4)}, Disc{Point{}, 5}},
		{"two circles", append(Circle(Point{-3, 0}, 4), Circle(Point{4, 0}, 2)...), Disc{Point{0, 0}, 5}},
		{"points in line", []Curve{Line(Point{0, 0}, Point{3, 0}), Line(Point{3, 0}, Point{10, 0})}, Disc{Point{5, 0}, 5}},
	} {
		for _, turn := range []float64{0, 30, 111} {
			d := Enclosing(Loop(c.curves).Moved(Point{}, turn, Point{2, -1}))
			close9(t, c.name+": radius", d.R, c.want.R)
			if at := turned(c.want.C, turn).add(Point{2, -1}); d.C.Distance(at) > 1e-6 {
				t.Errorf("%s: about %v, want %v", c.name, d.C, at)
			}
		}
	}
}

// TestInscribedBetweenCorners: three discs about the corners of a triangle that cross each other leave, where two of them meet, three
// points, and the largest disc lies between these. A second figure keeps the search from beginning there.
func TestInscribedBetweenCorners(t *testing.T) {
	const from, r = 4.858382, 4.980306 // of the centres from the middle, and of the circles
	for _, turn := range []float64{0, 7, 17, 31, 53} {
		var l Loop
		half := from * math.Sin(math.Pi/3) // of a side
		meet := from*math.Cos(math.Pi/3) + math.Sqrt(r*r-half*half)
		for k := range 3 {
			a := (turn + 120*float64(k)) * math.Pi / 180
			l = append(l, ArcBetween(Point{}.along(toward(a), from), Point{}.along(toward(a-math.Pi/3), meet),
				Point{}.along(toward(a+math.Pi/3), meet), r, true))
		}
		if d := RegionOf(l, Circle(Point{15, 2}, 0.5)).Inscribed(); math.Abs(d.R-meet) > 1e-9 || d.C.size() > 1e-9 {
			t.Errorf("turned by %g: %v, want a radius of %g in the middle", turn, d, meet)
		}
	}
}

// TestInscribedOfFew: the largest disc in a figure and its centre, where there is one: between two sides, three sides, a side and a
// circle, round a hole and in the wider of two rooms.
func TestInscribedOfFew(t *testing.T) {
	shape := mustLoop(t)
	poly := func(ps ...Point) Loop { return shape(Polygon(ps, nil)) }
	for _, c := range []struct {
		name  string
		loops []Loop
		r     float64
		at    []Point // any of them; none where it may lie anywhere along a line
	}{
		{"a triangle", []Loop{poly(Point{0, 0}, Point{8, 0}, Point{0, 6})}, 2, []Point{{2, 2}}},
		{"a trapeze", []Loop{poly(Point{0, 0}, Point{20, 0}, Point{16, 6}, Point{4, 6})}, 3, nil},
		{"an L", []Loop{poly(Point{0, 0}, Point{30, 0}, Point{30, 8}, Point{10, 8}, Point{10, 25}, Point{0, 25})}, 0, nil},
		{"two rooms", []Loop{poly(Point{0, 0}, Point{10, 0}, Point{10, 4}, Point{14, 4}, Point{14, 0}, Point{28, 0}, Point{28, 14},
			Point{14, 14}, Point{14, 6}, Point{10, 6}, Point{10, 10}, Point{0, 10})}, 7, []Point{{21, 7}}},
		{"a plate with a hole in its middle", []Loop{shape(Rectangle(Point{}, 40, 40, 0, 0)), Circle(Point{}, 10).Reversed()}, 0, nil},
		{"a ring off its middle", []Loop{Circle(Point{}, 40), Circle(Point{3, 0}, 20).Reversed()}, 6.5, []Point{{-13.5, 0}}},
		{"a half disc", []Loop{shape(Path(Point{-10, 0}, []Step{{To: Point{10, 0}}, {To: Point{-10, 0}, Radius: 10}}, 0))}, 5,
			[]Point{{0, 5}}},
		{"a quarter disc", []Loop{shape(Path(Point{}, []Step{{To: Point{10, 0}}, {To: Point{0, 10}, Radius: 10}}, 0))},
			10 / (1 + math.Sqrt2), []Point{{10 / (1 + math.Sqrt2), 10 / (1 + math.Sqrt2)}}},
	} {
		want := c.r
		switch c.name {
		case "an L": // touches both outer sides and the inner corner (10, 8): (10 - r)^2 + (8 - r)^2 = r^2
			want = 18 - math.Sqrt(18*18-10*10-8*8)
		case "a plate with a hole in its middle": // touches two sides and the hole: sqrt 2 (20 - r) = 5 + r
			want = (20*math.Sqrt2 - 5) / (1 + math.Sqrt2)
		}
		for _, turn := range []float64{0, 45, 73} {
			var ls []Loop
			for _, l := range c.loops {
				ls = append(ls, l.Moved(Point{}, turn, Point{2, -1}))
			}
			d := RegionOf(ls...).Inscribed()
			close9(t, c.name+": radius", d.R, want)
			for _, at := range c.at {
				samePoint(t, c.name, d.C, turned(at, turn).add(Point{2, -1}))
			}
		}
	}
	if d := RegionOf().Inscribed(); d != (Disc{}) {
		t.Errorf("in nothing: %v", d)
	}
	// One curve all round.
	r := RegionOf(Loop{Arc(Point{1, 2}, 5, 0, 2*math.Pi)})
	if d := r.Inscribed(); math.Abs(d.R-5) > 1e-9 || len(r.pieces) != 1 {
		t.Errorf("%v in %d pieces", d, len(r.pieces))
	}
}
