package plane

import (
	"math"
	"testing"
)

// TestContinues: a piece goes on along the line or circle of the one before for the same owner, in its direction, within Near of
// place and radius and straightOn of direction.
func TestContinues(t *testing.T) {
	line := func(a, b Point) Curve { return Line(a, b) }
	arc := func(x, r, start, sweep float64) Curve { return Arc(Point{x, 0}, r, start, sweep) }
	a, b, c := Point{0, 0}, Point{5, 0}, Point{9, 0}
	q := arc(0, 5, 0, 1)
	for _, x := range []struct {
		name   string
		p, q   Curve
		owners [2]int
		want   bool
	}{
		{"in line", line(a, b), line(b, c), [2]int{1, 1}, true},
		{"of another owner", line(a, b), line(b, c), [2]int{1, 2}, false},
		{"at an angle", line(a, b), line(b, Point{9, 1}), [2]int{1, 1}, false},
		{"at an angle below straightOn, past Near", line(a, b), line(b, Point{9, 4 * 0.9 * straightOn}), [2]int{1, 1}, false},
		{"a short one that turns, within Near", line(a, b), line(b, Point{5.005, 0.005 * 0.9 * straightOn}), [2]int{1, 1}, true},
		{"a short one that turns more", line(a, b), line(b, Point{5.005, 0.005 * 1.1 * straightOn}), [2]int{1, 1}, false},
		{"in line but for Near", line(a, Point{5, Near}), line(Point{5, Near}, Point{10, 0}), [2]int{1, 1}, true},
		{"in line but for more", line(a, Point{5, 1.1 * Near}), line(Point{5, 1.1 * Near}, Point{10, 0}), [2]int{1, 1}, false},
		{"back", line(a, b), line(b, Point{1, 0}), [2]int{1, 1}, false},
		{"all the way back", line(a, b), line(b, a), [2]int{1, 1}, false},
		{"an arc", q, arc(0, 5, 1, 1), [2]int{1, 1}, true},
		{"an arc of another owner", q, arc(0, 5, 1, 1), [2]int{1, 2}, false},
		{"an arc back", q, arc(0, 5, 1, -1), [2]int{1, 1}, false},
		{"an arc that runs on clockwise", arc(0, 5, 1, -1), arc(0, 5, 0, -1), [2]int{1, 1}, true},
		{"an arc of another radius", q, arc(0, 5+1.5*Near, 1, 1), [2]int{1, 1}, false},
		{"an arc of a radius within Near", q, arc(0, 5+0.5*Near, 1, 1), [2]int{1, 1}, true},
		{"an arc about another centre", q, arc(1.5*Near, 5, 1, 1), [2]int{1, 1}, false},
		{"an arc about a centre within Near", q, arc(0.5*Near, 5, 1, 1), [2]int{1, 1}, true},
		{"a line after an arc", q, line(q.B, q.B.add(q.tangent(q.B))), [2]int{1, 1}, false},
		{"an arc after a line", line(a, b), arc(5, 3, -math.Pi/2, 1), [2]int{1, 1}, false},
	} {
		p, q := Piece{Curve: x.p, Owner: x.owners[0]}, Piece{Curve: x.q, Owner: x.owners[1]}
		if p.continues(&q) != x.want {
			t.Errorf("%s: %v", x.name, !x.want)
		}
	}
}

// TestJoined: pieces in line become one, wherever the ring begins; a circle all round keeps its owner and what is outside; the
// area stays as it was to the last digit, though vertices between the pieces were off the line.
func TestJoined(t *testing.T) {
	off := 0.8 * Near
	corner := []Point{{4, 0}, {10, 0}, {10, 6}, {5, 6 + off}, {0, 6}, {0, 0}}
	var l Loop
	for i, p := range corner {
		l = append(l, Line(p, corner[(i+1)%len(corner)]))
	}
	for start := range l {
		r := RegionOf(append(append(Loop{}, l[start:]...), l[:start]...))
		if len(r.pieces) != 4 || len(r.Rings) != 1 {
			t.Errorf("from %d: %d pieces in %d rings", start, len(r.pieces), len(r.Rings))
			continue
		}
		if got, want := r.Moments(), l.Moments(); math.Abs(got.Area-want.Area) > 1e-13 || math.Abs(got.X-want.X) > 1e-12 ||
			math.Abs(got.Y-want.Y) > 1e-12 {
			t.Errorf("from %d: %v, want %v", start, got, want)
		}
		for i := range r.pieces {
			if p := &r.pieces[i]; p.Curve.B.Distance(r.pieces[p.Next].Curve.A) > Near {
				t.Errorf("from %d: piece %d ends at %v, the next begins at %v", start, i, p.Curve.B, r.pieces[p.Next].Curve.A)
			}
		}
	}
	// A disc in a square: the circle is two halves in the overlay, and one piece of the region.
	square, _ := Rectangle(Point{}, 20, 20, 0, 0)
	o := mustLay(t, square, Circle(Point{1, 2}, 10))
	r := o.Region(func(c int) bool { return o.Cells[c].Inside.Has(1) }, func(e, in, out int) int {
		if !o.Cells[in].Inside.Has(1) || o.Cells[out].Inside.Has(1) {
			t.Errorf("edge %d lies between %d and %d", e, in, out)
		}
		return 7
	})
	if len(r.pieces) != 1 || r.pieces[0].Owner != 7 || o.Cells[r.pieces[0].Outer].Inside.Has(1) || r.pieces[0].Next != 0 ||
		r.pieces[0].Curve.Sweep != 2*math.Pi {
		t.Fatalf("%+v", r.pieces)
	}
	samePoint(t, "all round", r.pieces[0].Curve.B, r.pieces[0].Curve.A)
	close9(t, "area", r.Moments().Area, 25*math.Pi)
	// The square with the hole in it: two rings, the hole's clockwise.
	r = o.Region(func(c int) bool { return o.Cells[c].Inside.Has(0) && !o.Cells[c].Inside.Has(1) }, func(e, _,
		_ int) int {
		return o.Edges[e].Figures[0]
	})
	if len(r.Rings) != 2 || len(r.Pieces()) != 5 || len(r.Outline()) != 4 {
		t.Errorf("%d rings, %d pieces, %d of the outline", len(r.Rings), len(r.Pieces()), len(r.Outline()))
	}
	close9(t, "area with a hole", r.Moments().Area, 400-25*math.Pi)
	samePoint(t, "its centroid", r.Moments().Centroid(), Point{-25 * math.Pi / (400 - 25*math.Pi), -50 * math.Pi / (400 - 25*math.Pi)})
	for _, x := range []struct {
		p    Point
		in   bool
		away float64
	}{{Point{8, 0}, true, 2}, {Point{1, 2}, false, 5}, {Point{1, 8}, true, 1}, {Point{12, 0}, false, 2}} {
		if r.Contains(x.p) != x.in {
			t.Errorf("%v is inside: %v", x.p, !x.in)
		}
		close9(t, "distance", r.Distance(x.p), x.away)
	}
}

// TestBetween: the least distance of two curves and its points: between ends, an end and a side, square to both, and 0 where
// they cross.
func TestBetween(t *testing.T) {
	for _, x := range []struct {
		name string
		a, b Curve
		d    float64
		p, q Point
	}{
		{"lines that cross", Line(Point{0, 0}, Point{4, 4}), Line(Point{0, 4}, Point{4, 0}), 0, Point{2, 2}, Point{2, 2}},
		{"end to side", Line(Point{0, 0}, Point{10, 0}), Line(Point{4, 3}, Point{9, 8}), 3, Point{4, 0}, Point{4, 3}},
		{"side to end", Line(Point{4, 3}, Point{9, 8}), Line(Point{0, 0}, Point{10, 0}), 3, Point{4, 3}, Point{4, 0}},
		{"last end to side", Line(Point{9, 8}, Point{4, 3}), Line(Point{0, 0}, Point{10, 0}), 3, Point{4, 3}, Point{4, 0}},
		{"end to end", Line(Point{0, 0}, Point{4, 0}), Line(Point{7, 4}, Point{9, 9}), 5, Point{4, 0}, Point{7, 4}},
		{"line and arc", Line(Point{-9, 8}, Point{9, 8}), Arc(Point{}, 5, 0, math.Pi), 3, Point{0, 8}, Point{0, 5}},
		{"arc and line", Arc(Point{}, 5, 0, math.Pi), Line(Point{-9, 8}, Point{9, 8}), 3, Point{0, 5}, Point{0, 8}},
		{"line below an upper half", Line(Point{-9, -8}, Point{9, -8}), Arc(Point{}, 5, 0, math.Pi), 8, Point{5, -8}, Point{5, 0}},
		{"arcs apart", Arc(Point{}, 5, -1, 2), Arc(Point{12, 0}, 4, 2, 2), 3, Point{5, 0}, Point{8, 0}},
		{"arc in an arc", Arc(Point{}, 5, -1, 2), Arc(Point{1, 0}, 2, -1, 2), 2, Point{5, 0}, Point{3, 0}},
		{"arcs that cross", Arc(Point{}, 5, -1, 2), Arc(Point{6, 0}, 5, 1.6, 2), 0, Point{3, 4}, Point{3, 4}},
		{"arcs that do not reach", Arc(Point{}, 5, 2, 2), Arc(Point{12, 0}, 4, -1, 2), Arc(Point{}, 5, 2, 0).A.Distance(Arc(Point{12,
			0}, 4, 1, 0).A), Arc(Point{}, 5, 2, 0).A, Arc(Point{12, 0}, 4, 1, 0).A},
	} {
		for _, turn := range []float64{0, 33} {
			m := func(c Curve) []Curve { return Loop{c}.Moved(Point{}, turn, Point{2, 1}) }
			d, p, q := Between(m(x.a), m(x.b))
			if math.Abs(d-x.d) > 1e-12 {
				t.Errorf("%s, turned by %g: %g, want %g", x.name, turn, d, x.d)
			}
			if x.name == "line below an upper half" || x.name == "arcs that cross" || x.name == "arcs that do not reach" {
				close9(t, x.name+": points", p.Distance(q), x.d) // there are two such pairs
				continue
			}
			samePoint(t, x.name, p, turned(x.p, turn).add(Point{2, 1}))
			samePoint(t, x.name, q, turned(x.q, turn).add(Point{2, 1}))
		}
	}
	if d, _, _ := Between(nil, []Curve{Line(Point{}, Point{1, 0})}); !math.IsInf(d, 1) {
		t.Errorf("from nothing: %g", d)
	}
	// Of several curves the nearest pair.
	d, p, q := Between([]Curve{Line(Point{0, 0}, Point{1, 0}), Line(Point{0, 5}, Point{1, 5})}, []Curve{Line(Point{9, 9}, Point{8, 8}),
		Line(Point{3, 5}, Point{3, 9})})
	if d != 2 || p != (Point{1, 5}) || q != (Point{3, 5}) {
		t.Errorf("%g from %v to %v", d, p, q)
	}
}

// TestSquareChords: chords square to two arcs run along the line of their centres, to an arc and a line through the foot of the
// centre; those whose ends the curves do not cover are left out, and of what is concentric or parallel there are none.
func TestSquareChords(t *testing.T) {
	full := func(x, r float64) Curve { return Arc(Point{x, 0}, r, 0, 2*math.Pi) }
	for _, x := range []struct {
		name string
		a, b Curve
		want int
	}{
		{"circles", full(0, 5), full(12, 3), 4},
		{"a half and a circle", Arc(Point{}, 5, -math.Pi/2, math.Pi), full(12, 3), 2},
		{"halves that face", Arc(Point{}, 5, -math.Pi/2, math.Pi), Arc(Point{12, 0}, 3, math.Pi/2, math.Pi), 1},
		{"quarters that do not", Arc(Point{}, 5, 1, 1), Arc(Point{12, 0}, 3, 1, 1), 0},
		{"concentric", full(0, 5), full(0, 3), 0},
		{"concentric within Near", full(0, 5), full(Near, 3), 0},
		{"barely apart", full(0, 5), full(1.5*Near, 3), 4},
		{"a line and a circle", Line(Point{-9, 8}, Point{9, 8}), full(0, 5), 2},
		{"a circle and a line", full(0, 5), Line(Point{-9, 8}, Point{9, 8}), 2},
		{"a line and the upper half", Line(Point{-9, 8}, Point{9, 8}), Arc(Point{}, 5, 0.1, 3), 1},
		{"a line that ends before the foot", Line(Point{-9, 8}, Point{-1, 8}), full(0, 5), 0},
		{"lines", Line(Point{0, 0}, Point{1, 0}), Line(Point{0, 1}, Point{1, 1}), 0},
	} {
		got := squareChords(&x.a, &x.b)
		if len(got) != x.want {
			t.Errorf("%s: %d chords, want %d", x.name, len(got), x.want)
		}
		for _, c := range got {
			u := c[1].sub(c[0]).unit()
			if !x.a.covers(c[0]) || !x.b.covers(c[1]) || x.name != "barely apart" && (math.Abs(x.a.tangent(c[0]).dot(u)) > 1e-12 ||
				math.Abs(x.b.tangent(c[1]).dot(u)) > 1e-12) {
				t.Errorf("%s: the chord %v", x.name, c)
			}
		}
	}
}

// TestTree: what a tree of boxes finds is what looking at every piece finds.
func TestTree(t *testing.T) {
	var ps []Piece
	for i := range 37 {
		at := Point{float64(i*i%23) * 3, float64(i*7%19) * 4}
		ps = append(ps, Piece{Curve: Line(at, at.add(toward(float64(i)).scale(2))), Owner: i % 3})
	}
	for _, kept := range []func(int) bool{func(int) bool { return true }, func(o int) bool { return o == 1 },
		func(int) bool { return false }} {
		tr := treeOf(ps, kept)
		for k := range 60 {
			p, r := Point{float64(k*13%70) - 2, float64(k*29%80) - 3}, 0.5+float64(k%9)
			least, in := math.Inf(1), 0
			for i := range ps {
				if d := ps[i].Curve.Distance(p); kept(ps[i].Owner) {
					least = math.Min(least, d)
					if d < r {
						in++
					}
				}
			}
			if got := tr.distance(p); got != least {
				t.Fatalf("distance %g, want %g", got, least)
			}
			if got := tr.free(p, r); got != (in == 0) {
				t.Fatalf("%g about %v is free: %v", r, p, got)
			}
			seen, found := 0, 0
			tr.visit(p, r, func(i int) float64 {
				if kept(ps[i].Owner) && ps[i].Curve.Distance(p) < r {
					seen++
				}
				return r
			})
			tr.search(func(d Disc) bool { return d.C.Distance(p) < r+d.R }, func(i int) {
				if ps[i].Curve.Distance(p) < r {
					found++
				}
			})
			if seen != in || found != in {
				t.Fatalf("%d visited and %d found within %g of %v, want %d", seen, found, r, p, in)
			}
		}
		if n := len(tr.order); n > 0 && !tr.free(ps[tr.order[0]].Curve.A.add(Point{50, 500}), 400) {
			t.Error("nothing is free")
		}
	}
}

// TestAround: an edge that bends to its left bends round the cell on its left, by however little; one that bends to its right, or
// is seen from the other side, does not.
func TestAround(t *testing.T) {
	for _, sweep := range []float64{0.1, 1, 3, -0.1, -3} {
		e := Edge{Curve: Arc(Point{}, 5, 0, sweep), Left: 1, Right: 2}
		if e.Around(1) != (sweep > 0) || e.Around(2) != (sweep < 0) {
			t.Errorf("a sweep of %g bends round the left %v, round the right %v", sweep, e.Around(1), e.Around(2))
		}
	}
}

// TestRingStart: a ring begins where its first piece that does not go on does, so that pieces keep their order.
func TestRingStart(t *testing.T) {
	corner := []Point{{5, 0}, {10, 0}, {10, 6}, {0, 6}, {0, 0}}
	var l Loop
	for i, p := range corner {
		l = append(l, Line(p, corner[(i+1)%len(corner)]))
	}
	r := RegionOf(l)
	for i, want := range []Point{{10, 0}, {10, 6}, {0, 6}, {0, 0}} {
		if len(r.pieces) != 4 || r.pieces[i].Curve.A != want {
			t.Fatalf("piece %d of %d begins at %v, want %v", i, len(r.pieces), r.pieces[i].Curve.A, want)
		}
	}
}

// TestUnion: numbers joined in any order are one group, known by its least.
func TestUnion(t *testing.T) {
	u := NewUnion(9)
	for _, p := range [][2]int{{8, 3}, {5, 7}, {3, 5}, {2, 2}, {1, 0}} {
		u.Join(p[0], p[1])
	}
	for i, want := range []int{0, 0, 2, 3, 4, 3, 6, 3, 3} {
		if got := u.Find(i); got != want {
			t.Errorf("%d is in group %d, want %d", i, got, want)
		}
	}
	if got := u.Groups(nil); len(got) != 5 || len(got[2]) != 4 || got[2][3] != 8 {
		t.Errorf("%v", got)
	}
	if got := u.Groups(func(i int) bool { return i == 3 || i == 4 }); len(got) != 4 || got[2][0] != 5 || len(got[2]) != 3 {
		t.Errorf("%v", got)
	}
}
