package plane

import (
	"math"
	"slices"
	"testing"
)

// byWidth lists the widths of a region's necks of material or void, the least first.
func byWidth(r *Region, void bool) (ws []float64) {
	for _, n := range r.Necks() {
		if n.Void == void {
			ws = append(ws, n.Width)
		}
	}
	slices.Sort(ws)
	return ws
}

// holds compares widths with closed forms.
func holds(t *testing.T, what string, got []float64, want ...float64) {
	t.Helper()
	if len(got) != len(want) {
		t.Errorf("%s: necks of %v, want %v", what, got, want)
		return
	}
	for i := range got {
		close9(t, what, got[i], want[i])
	}
}

// TestNecksOfFigures: all necks of figures whose walls and gaps follow from their numbers, as drawn and turned.
func TestNecksOfFigures(t *testing.T) {
	shape := mustLoop(t)
	poly := func(ps ...Point) Loop { return shape(Polygon(ps, nil)) }
	// A plate of 40 x 20 with a bore of 6, 4 from the long side below and 5 from the left: walls 1 and 2 to those; the circles of
	// chords to the far sides would cross the near ones. Right of the bore the plate's own 20.
	bore := []Loop{shape(Rectangle(Point{20, 10}, 40, 20, 0, 0)), Circle(Point{5, 4}, 6).Reversed()}
	// An L of arms 10 and 8: each arm is a plateau; the corner between them is nearest to the outer corner's sides only.
	ell := poly(Point{0, 0}, Point{30, 0}, Point{30, 8}, Point{10, 8}, Point{10, 25}, Point{0, 25})
	// A C of 3 mm walls round a gap of 14 between its arms.
	c := poly(Point{0, 0}, Point{20, 0}, Point{20, 3}, Point{3, 3}, Point{3, 17}, Point{20, 17}, Point{20, 20}, Point{0, 20})
	// Two notches, tips 4 apart across a bar of 10.
	notched := poly(Point{0, 0}, Point{8, 0}, Point{10, 3}, Point{12, 0}, Point{20, 0}, Point{20, 10}, Point{12, 10}, Point{10, 7},
		Point{8, 10}, Point{0, 10})
	// A sharp notch against a straight side: 10 - 6.
	tip := poly(Point{0, 0}, Point{20, 0}, Point{20, 10}, Point{13, 10}, Point{10, 4}, Point{7, 10}, Point{0, 10})
	// A notch's tip 2 inside of a round end of radius 10, on its axis but off its centre by 5: 10 - 5.
	round := func(depth float64) Loop {
		a := Arc(Point{}, 10, -math.Pi/2, math.Pi)
		return Loop{a, Line(a.B, Point{-30, 10}), Line(Point{-30, 10}, Point{-30, 3}), Line(Point{-30, 3}, Point{depth, 0}),
			Line(Point{depth, 0}, Point{-30, -3}), Line(Point{-30, -3}, Point{-30, -10}), Line(Point{-30, -10}, a.A)}
	}
	for _, x := range []struct {
		name     string
		loops    []Loop
		material []float64
		void     []float64
	}{
		{"a bore near two sides", bore, []float64{1, 2, 20}, nil},
		{"notches that face", []Loop{notched}, []float64{4, 10, 10}, []float64{}},
		{"a notch and a side", []Loop{tip}, []float64{4}, []float64{}},
		{"a C", []Loop{c}, []float64{3, 3, 3}, []float64{14}},
		{"an L", []Loop{ell}, []float64{8, 10}, nil},
		{"two bars", []Loop{shape(Rectangle(Point{}, 10, 4, 0, 0)), shape(Rectangle(Point{20, 0}, 10, 4, 0, 0))}, []float64{4, 4},
			[]float64{10}},
		{"two discs", []Loop{Circle(Point{}, 10), Circle(Point{11, 0}, 6)}, nil, []float64{3}},
		{"a disc and a bar", []Loop{Circle(Point{0, 10}, 8), shape(Rectangle(Point{}, 30, 6, 0, 0))}, []float64{6}, []float64{3}},
		{"a ring and a disc in it", []Loop{Circle(Point{}, 40), Circle(Point{}, 30).Reversed(), Circle(Point{}, 20)}, []float64{5},
			[]float64{5}},
		{"a ring and a disc off its middle", []Loop{Circle(Point{}, 40), Circle(Point{}, 30).Reversed(), Circle(Point{2, 1.5}, 20)},
			[]float64{5}, []float64{2.5}},
		{"a notch inside a round end", []Loop{round(5)}, nil, nil},
	} {
		for _, turn := range []float64{0, 90, 27} {
			var ls []Loop
			for _, l := range x.loops {
				ls = append(ls, l.Moved(Point{}, turn, Point{3, 4}))
			}
			r := RegionOf(ls...)
			if x.name == "a notch inside a round end" {
				if ws := byWidth(r, false); len(ws) == 0 || math.Abs(ws[0]-5) > 1e-9 {
					t.Errorf("%s: necks of %v, the least want 5", x.name, ws)
				}
				continue
			}
			holds(t, x.name+": material", byWidth(r, false), x.material...)
			holds(t, x.name+": void", byWidth(r, true), x.void...)
			least, ok := r.Least(func(int, int) bool { return true }, math.Inf(1))
			if ok != (len(x.material) > 0) || ok && math.Abs(least-x.material[0]) > 1e-9 {
				t.Errorf("%s: the least is %g, %v", x.name, least, ok)
			}
		}
	}
}

// TestPlateaus: the length of a plateau is that of the stretch along which a circle as wide touches both sides and nothing else:
// the common length of two bars less nothing, of a bar less its half width at a closed end.
func TestPlateaus(t *testing.T) {
	shape := mustLoop(t)
	for _, x := range []struct {
		name          string
		loops         []Loop
		void          bool
		width, length float64
		middle        Point
	}{
		{"two bars one beside the other", []Loop{shape(Rectangle(Point{0, 0}, 20, 4, 0, 0)), shape(Rectangle(Point{6, 10}, 20, 4, 0,
			0))}, true, 6, 14, Point{3, 5}},
		{"a bar's own", []Loop{shape(Rectangle(Point{1, 2}, 30, 8, 0, 0))}, false, 8, 22, Point{1, 2}},
		{"a slot's gap", []Loop{shape(Rectangle(Point{}, 90, 60, 0, 0)), shape(Slot(Point{5, 0}, 20, 6, 0)).Reversed()}, true, 6, 14,
			Point{5, 0}},
	} {
		n := sole(t, RegionOf(x.loops...), x.void)
		close9(t, x.name+": width", n.Width, x.width)
		close9(t, x.name+": length", n.Length, x.length)
		samePoint(t, x.name+": middle", n.Middle(), x.middle)
		if len(n.Medial) != 1 {
			t.Fatalf("%s: %d curves in the middle", x.name, len(n.Medial))
		}
		close9(t, x.name+": length of the middle line", n.Medial[0].Length(), x.length)
		close9(t, x.name+": chord at one end", n.Ends[0].P.Distance(n.Ends[0].Q), x.width)
		close9(t, x.name+": ends apart", n.Ends[0].P.Distance(n.Ends[1].P), x.length)
		// Its strip is the two chords and the two sides along it; inside is what lies within half a width of the middle line.
		total := 0.0
		for _, c := range n.Strip() {
			total += c.Length()
		}
		close9(t, x.name+": round the strip", total, 2*(x.width+x.length))
		u, v := n.Medial[0].B.sub(n.Medial[0].A).unit(), n.Medial[0].B.sub(n.Medial[0].A).unit().left()
		for _, at := range []struct {
			along, across float64
			in            bool
		}{{0, 0, true}, {0, 0.49, true}, {0, -0.49, true}, {0, 0.51, false}, {0.49, 0, true}, {0.51, 0, false}, {-0.51, 0, false},
			{-0.49, 0.49, true}} {
			p := x.middle.along(u, at.along*x.length).along(v, at.across*x.width)
			if n.Covers(p) != at.in {
				t.Errorf("%s: covers %v: %v", x.name, p, !at.in)
			}
		}
	}
	// A ring's sector between two spokes of a cross: the plateau of concentric arcs is as long as the middle arc between the stops.
	o := mustLay(t, Circle(Point{}, 40), Circle(Point{}, 30))
	r := o.Region(func(c int) bool { return o.Cells[c].Inside.Has(0) && !o.Cells[c].Inside.Has(1) }, func(int, int, int) int { return 0 })
	n := sole(t, r, false)
	close9(t, "ring", n.Length, 35*math.Pi)
	if u := toward(0.7); !n.Covers(u.scale(17)) || n.Covers(u.scale(14)) || n.Covers(u.scale(21)) {
		t.Error("a ring's strip lies between its circles")
	}
	total := 0.0
	for _, c := range n.Strip() {
		total += c.Length()
	}
	close9(t, "round a ring's strip", total, 70*math.Pi+10)
	// A single chord's strip is the chord, and holds nothing.
	n = sole(t, RegionOf(Circle(Point{}, 10), Circle(Point{11, 0}, 6)), true)
	if s := n.Strip(); len(s) != 1 || math.Abs(s[0].Length()-3) > 1e-9 || n.Covers(n.Middle()) {
		t.Errorf("a chord's strip: %v", s)
	}
}

// TestNecksOverlap: necks overlap where the chord or the middle line of one meets those of the other.
func TestNecksOverlap(t *testing.T) {
	chord := func(a, b Point) Neck { return Neck{Width: a.Distance(b), P: a, Q: b, Ends: [2]Chord{{a, b}, {a, b}}} }
	bar := func(from, to, low, high float64) Neck { // between y of low and high, along x
		m := (from + to) / 2
		return Neck{Width: high - low, Length: to - from, P: Point{m, low}, Q: Point{m, high}, Ends: [2]Chord{{Point{from, low},
			Point{from, high}}, {Point{to, low}, Point{to, high}}},
			Medial: []Curve{Line(Point{from, (low + high) / 2}, Point{to, (low + high) / 2})}}
	}
	for _, x := range []struct {
		name string
		a, b Neck
		want bool
	}{
		{"chords that cross", chord(Point{0, 0}, Point{4, 0}), chord(Point{2, -1}, Point{2, 1}), true},
		{"chords apart", chord(Point{0, 0}, Point{4, 0}), chord(Point{2, 1}, Point{2, 3}), false},
		{"chords that touch", chord(Point{0, 0}, Point{4, 0}), chord(Point{2, 0.9 * Near}, Point{2, 3}), true},
		{"chords that just do not", chord(Point{0, 0}, Point{4, 0}), chord(Point{2, 1.1 * Near}, Point{2, 3}), false},
		{"a chord across a middle line", bar(0, 10, 0, 2), chord(Point{3, 0}, Point{3, 2}), true},
		{"a chord at the end of a plateau", bar(0, 10, 0, 2), chord(Point{10, 0.5}, Point{12, 0.5}), true},
		{"a chord at its other end", bar(0, 10, 0, 2), chord(Point{-2, 1.5}, Point{0, 1.5}), true},
		{"a chord past its end", bar(0, 10, 0, 2), chord(Point{10.1, 0}, Point{10.1, 2}), false},
		{"a chord between middle line and side", bar(0, 10, 0, 4), chord(Point{3, 0}, Point{3, 1}), false},
		{"plateaus that cross", bar(0, 10, 0, 2), bar(5, 15, -1, 3), true},
		{"plateaus apart", bar(0, 10, 0, 2), bar(11, 15, 0, 2), false},
	} {
		if x.a.Overlaps(&x.b) != x.want || x.b.Overlaps(&x.a) != x.want {
			t.Errorf("%s: %v", x.name, !x.want)
		}
	}
	// A chord is the same within two nanometres at both ends, whichever way it runs.
	base := Chord{Point{0, 0}, Point{5, 0}}
	for _, x := range []struct {
		c    Chord
		want bool
	}{
		{base, true}, {Chord{base.Q, base.P}, true}, {Chord{Point{0, 1.9 * Near}, Point{5, -1.9 * Near}}, true}, {Chord{Point{0,
			2.1 * Near}, Point{5, 0}}, false},
		{Chord{Point{0, 0}, Point{5, 2.1 * Near}}, false}, {Chord{Point{5, 0}, Point{0, 2.1 * Near}}, false}, {Chord{Point{5,
			2.1 * Near}, Point{0, 0}}, false},
		{Chord{Point{0, 0}, Point{0, 0}}, false}, {Chord{Point{5, 0}, Point{5, 0}}, false}, {Chord{Point{0, 0}, Point{3, 0}}, false},
		{Chord{Point{3, 0}, Point{5, 0}}, false},
	} {
		if base.same(x.c) != x.want || x.c.same(base) != x.want {
			t.Errorf("%v is the same: %v", x.c, !x.want)
		}
		a, b := Neck{Ends: [2]Chord{base, {Point{9, 9}, Point{9, 8}}}}, Neck{Ends: [2]Chord{{Point{7, 7}, Point{7, 6}}, x.c}}
		if a.touches(&b) != x.want || b.touches(&a) != x.want {
			t.Errorf("necks that end in %v touch: %v", x.c, !x.want)
		}
	}
}

// TestLeastBounds: the least neck is that of material between the wanted owners and under the bound, which it does not reach.
func TestLeastBounds(t *testing.T) {
	shape := mustLoop(t)
	// A plate of 60 x 40 with bores of 6, centres 9 and 8 apart: webs of 3 and 2; between the outermost 11.
	o := mustLay(t, shape(Rectangle(Point{}, 60, 40, 0, 0)), Circle(Point{-9, 0}, 6), Circle(Point{}, 6), Circle(Point{8, 0}, 6))
	r := o.Region(func(c int) bool { s := o.Cells[c].Inside; return s.Has(0) && !s.Has(1) && !s.Has(2) && !s.Has(3) },
		func(e, _, _ int) int { return o.Edges[e].Figures[0] })
	pair := func(i, j int) func(a, b int) bool {
		return func(a, b int) bool { return min(a, b) == i && max(a, b) == j }
	}
	for _, x := range []struct {
		name   string
		wanted func(a, b int) bool
		below  float64
		want   float64
		ok     bool
	}{
		{"all", func(int, int) bool { return true }, math.Inf(1), 2, true},
		{"all under 2", func(int, int) bool { return true }, 2, 2, false},
		{"all under a little more", func(int, int) bool { return true }, 2.001, 2, true},
		{"first and second bore", pair(1, 2), math.Inf(1), 3, true},
		{"second and third", pair(2, 3), 100, 2, true},
		{"first and third, with one between them", pair(1, 3), math.Inf(1), math.Inf(1), false},
		{"first bore and outside", pair(0, 1), math.Inf(1), 17, true},
		{"third bore and outside", pair(0, 3), math.Inf(1), 17, true},
		{"outside and itself, with bores between", pair(0, 0), math.Inf(1), math.Inf(1), false},
	} {
		got, ok := r.Least(x.wanted, x.below)
		if ok != x.ok || math.Abs(got-x.want) > 1e-9 {
			t.Errorf("%s: %g, %v; want %g, %v", x.name, got, ok, x.want, x.ok)
		}
		between := math.Inf(1)
		for _, n := range r.NecksBetween(x.wanted) {
			if a, b := r.pieces[n.I].Owner, r.pieces[n.J].Owner; !n.Void {
				between = math.Min(between, n.Width)
				if !x.wanted(a, b) {
					t.Errorf("%s: a neck between %d and %d", x.name, a, b)
				}
			}
		}
		if math.IsInf(x.below, 1) && math.Abs(between-x.want) > 1e-9 && between != x.want {
			t.Errorf("%s: the least of all is %g", x.name, between)
		}
	}
	if got, ok := RegionOf(Circle(Point{}, 10)).Least(func(int, int) bool { return true }, 50); ok || got != 50 {
		t.Errorf("a disc: %g, %v", got, ok)
	}
}
