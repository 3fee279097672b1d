package plane

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"
)

// sole returns the only neck of a kind.
func sole(t *testing.T, r *Region, void bool) Neck {
	t.Helper()
	var found []Neck
	for _, n := range r.Necks() {
		if n.Void == void {
			found = append(found, n)
		}
	}
	if len(found) != 1 {
		t.Fatalf("%d necks, want one: %+v", len(found), found)
	}
	return found[0]
}

func TestNecksClosedForms(t *testing.T) {
	shape := mustLoop(t)
	for _, turn := range []float64{0, 30, 90, 133.7} {
		at := func(l Loop) Loop { return l.Moved(Point{1, 2}, turn, Point{5, -3}) }
		hole := func(l Loop) Loop { return at(l).Reversed() }
		// Eccentric ring, circles 40 and 30 off by 2: 20 - 15 - 2. The far side, 7, is a maximum and no neck.
		n := sole(t, RegionOf(at(Circle(Point{}, 40)), hole(Circle(Point{2, 0}, 30))), false)
		close9(t, "eccentric ring", n.Width, 3)
		close9(t, "eccentric ring, length", n.Length, 0)
		// Concentric ring: a plateau all round.
		n = sole(t, RegionOf(at(Circle(Point{}, 40)), hole(Circle(Point{}, 30))), false)
		close9(t, "ring", n.Width, 5)
		close9(t, "ring, length", n.Length, 35*math.Pi)
		// A plate's width holds where a circle of that size touches only its long sides.
		n = sole(t, RegionOf(at(shape(Rectangle(Point{}, 40, 12, 0, 0)))), false)
		close9(t, "plate", n.Width, 12)
		close9(t, "plate, length", n.Length, 28)
		// A slot's own gap, turned.
		n = sole(t, RegionOf(at(shape(Rectangle(Point{}, 60, 60, 0, 0))), hole(shape(Slot(Point{}, 20, 5, 30)))), true)
		close9(t, "slot", n.Width, 5)
		close9(t, "slot, length", n.Length, 15)
		// Two bores of 6 in a plate, centres 7.3 apart: web 1.3.
		r := RegionOf(at(shape(Rectangle(Point{}, 60, 40, 0, 5))), hole(Circle(Point{-3.65, 0}, 6)), hole(Circle(Point{3.65, 0}, 6)))
		least := math.Inf(1)
		for _, n := range r.Necks() {
			least = math.Min(least, n.Width)
		}
		close9(t, "web", least, 1.3)
		// A disc has no wall: the circle faces itself, a maximum.
		if ns := RegionOf(at(Circle(Point{}, 20))).Necks(); len(ns) != 0 {
			t.Errorf("a disc has necks: %+v", ns)
		}
		// A square has two plateaus of no length and equal width; a chord is one neck, not two.
		for _, n := range RegionOf(at(shape(Rectangle(Point{}, 10, 10, 0, 0)))).Necks() {
			close9(t, "square", n.Width, 10)
		}
	}
}

// TestKeywayCorner: bore 16, keyway 5 wide to 10.25 from the centre, outside 30: the corner is nearest the outside,
// 15 - sqrt(2.5^2 + 10.25^2).
func TestKeywayCorner(t *testing.T) {
	shape := mustLoop(t)
	o := mustLay(t, Circle(Point{}, 30), Circle(Point{}, 16), shape(Rectangle(Point{0, 8.6}, 5, 3.3, 0, 0)))
	r := o.Region(func(c int) bool { s := o.Cells[c].Inside; return s.Has(0) && !s.Has(1) && !s.Has(2) },
		func(int, int, int) int { return 0 })
	want := 15 - math.Hypot(2.5, 10.25)
	found := 0
	for _, n := range r.Necks() {
		if !n.Void && math.Abs(n.Width-want) < 1e-9 {
			found++
		}
		if !n.Void && n.Width < want-1e-9 {
			t.Errorf("a neck of %g, thinner than the corner's %g", n.Width, want)
		}
	}
	if found != 2 {
		t.Errorf("%d necks at the keyway's corners, want 2: %+v", found, r.Necks())
	}
}

func TestInscribedEnclosingWidth(t *testing.T) {
	shape := mustLoop(t)
	triangle := shape(Polygon([]Point{{0, 0}, {8, 0}, {0, 6}}, nil))
	cases := []struct {
		name                             string
		l                                Loop
		inscribed, enclosing, wide, long float64
	}{
		{"circle", Circle(Point{3, 1}, 12), 6, 6, 12, 12},
		{"rectangle", shape(Rectangle(Point{1, 2}, 20, 9, 0, 0)), 4.5, math.Hypot(20, 9) / 2, 9, 20},
		{"square", shape(Rectangle(Point{}, 9, 9, 0, 0)), 4.5, math.Hypot(9, 9) / 2, 9, 9},
		{"slot", shape(Slot(Point{}, 30, 8, 0)), 4, 15, 8, 30},
		{"hexagon", shape(Hexagon(Point{}, 12, 0, 0)), 6, 12 / math.Sqrt(3), 12, 24 / math.Sqrt(3)},
		{"triangle 6 8 10", triangle, 2, 5, 4.8, 10}, // incircle (a+b-c)/2; height on the long side 48/10
		{"flatted", shape(Flatted(Point{}, 20, []float64{7}, 0, 0)), 8.5, 10, 17, 20},
		{"two flats", shape(Flatted(Point{}, 20, []float64{7, 6}, 0, 0)), 6.5, 10, 13, 20},
		{"lens", shape(Path(Point{-4, 0}, []Step{{To: Point{4, 0}, Radius: 5, Clockwise: true}, {To: Point{-4, 0}, Radius: 5, Clockwise: true}}, 0)), 2, 4, 4, 8},
		{"flatted off its centre", shape(Flatted(Point{7, -3}, 20, []float64{4}, 45, 0)), 7, 10, 14, 20},
		{"rounded plate", shape(Rectangle(Point{}, 30, 20, 0, 4)), 10, math.Hypot(11, 6) + 4, 20, 30},
	}
	for _, c := range cases {
		for _, turn := range []float64{0, 23, 90, 301} {
			l := c.l.Moved(Point{}, turn, Point{7, 8})
			close9(t, c.name+": inscribed radius", RegionOf(l).Inscribed().R, c.inscribed)
			close9(t, c.name+": enclosing radius", Enclosing(l).R, c.enclosing)
			w, long, _ := Width(l)
			close9(t, c.name+": width", w, c.wide)
			close9(t, c.name+": length", long, c.long)
		}
	}
	// A lens of two circles: width 2 R - d, between its arcs; inscribed circle as wide.
	o := mustLay(t, Circle(Point{}, 20), Circle(Point{6, 0}, 20))
	r := o.Region(func(c int) bool { return o.Cells[c].Inside.Has(0) && o.Cells[c].Inside.Has(1) }, func(int, int, int) int { return 0 })
	w, _, _ := Width(r.Outline())
	close9(t, "lens: width", w, 14)
	close9(t, "lens: inscribed radius", r.Inscribed().R, 7)
}

// TestNecksFromEveryPair: the search by zones finds what trying every pair of pieces finds.
func TestNecksFromEveryPair(t *testing.T) {
	n := 300
	if testing.Short() {
		n = 40
	}
	rng := rand.New(rand.NewPCG(2, 4))
	count := 0
	for i := range n {
		a, b, c := randomArcs(rng), randomPolygon(rng), randomArcs(rng)
		o := mustLay(t, a, b, c)
		r := o.Region(func(c int) bool { s := o.Cells[c].Inside; return (s.Has(0) || s.Has(1)) && !s.Has(2) },
			func(int, int, int) int { return 0 })
		s := newNecks(r)
		for i := range r.pieces {
			for j := range r.pieces {
				if s.isVertex(i) {
					s.fromVertex(i, j)
				}
				if i < j {
					s.curves(i, j)
				}
			}
		}
		s.touches()
		want, got := s.merged(), r.Necks()
		count += len(want)
		if fmt.Sprint(got) != fmt.Sprint(want) {
			t.Fatalf("region %d: by zones %v\nby every pair %v", i, got, want)
		}
	}
	if count < n {
		t.Errorf("only %d necks in %d regions", count, n)
	}
}

// TestWidthFromEveryDirection: no direction has a lesser extent than Width, and a fine turn comes as near as its step
// lets it.
func TestWidthFromEveryDirection(t *testing.T) {
	rng := rand.New(rand.NewPCG(6, 1))
	for i := range 60 {
		l := randomArcs(rng)
		if i%3 == 0 {
			l, _ = Flatted(Point{rng.Float64() * 9, rng.Float64() * 9}, 20, []float64{1 + 8*rng.Float64()}, 360*rng.Float64(), 0)
		}
		w, _, _ := Width(l)
		least := math.Inf(1)
		const turns = 20000
		for k := range turns {
			u := toward(math.Pi * float64(k) / turns)
			hi, _ := support(l, u)
			lo, _ := support(l, u.scale(-1))
			least = math.Min(least, hi+lo)
		}
		if least < w-1e-9 || least > w+60*math.Pi/turns {
			t.Errorf("outline %d: width %.12g, from directions %.12g: %v", i, w, least, l)
		}
	}
}

func TestPinches(t *testing.T) {
	shape := mustLoop(t)
	necks := func(keep func(Set) bool, loops ...Loop) (material, void int) {
		o := mustLay(t, loops...)
		for _, n := range o.Region(func(c int) bool { return keep(o.Cells[c].Inside) }, func(int, int, int) int { return 0 }).Necks() {
			switch {
			case n.Width > Near:
			case n.Void:
				void++
			default:
				material++
			}
		}
		return material, void
	}
	less := func(s Set) bool { return s.Has(0) && !s.Has(1) }
	either := func(s Set) bool { return s.Has(0) || s.Has(1) }
	if m, v := necks(less, Circle(Point{}, 40), Circle(Point{16, 0}, 8)); m != 1 || v != 0 {
		t.Errorf("a hole that touches the outside: %d of material, %d of void", m, v)
	}
	if m, v := necks(either, Circle(Point{}, 10), Circle(Point{10, 0}, 10)); m != 0 || v != 1 {
		t.Errorf("two discs that touch: %d of material, %d of void", m, v)
	}
	sq := func(x float64) Loop { return shape(Rectangle(Point{x, x}, 10, 10, 0, 0)) }
	if m, v := necks(either, sq(0), sq(10)); m != 1 || v != 1 {
		t.Errorf("corner to corner: %d of material, %d of void", m, v)
	}
	// One circle divided by a keyway is no neck against itself.
	o := mustLay(t, Circle(Point{}, 30), Circle(Point{}, 8), shape(Rectangle(Point{}, 12, 2, 0, 0.2)))
	for _, n := range o.Region(func(c int) bool { s := o.Cells[c].Inside; return s.Has(0) && !s.Has(1) && !s.Has(2) },
		func(int, int, int) int { return 0 }).Necks() {
		if n.Void && n.Width > 2.1 {
			t.Errorf("a neck of void of %g across the bore", n.Width)
		}
	}
}

// BenchmarkInscribedSlit finds the widest circle in a very long narrow slit, everywhere equally wide.
func BenchmarkInscribedSlit(b *testing.B) {
	r := RegionOf(mustLoop(b)(Rectangle(Point{}, 480, 0.01, 30, 0)))
	for b.Loop() {
		r.Inscribed()
	}
}
