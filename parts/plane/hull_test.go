package plane

import (
	"math"
	"math/rand/v2"
	"testing"
)

// TestHullWithBluntTips: a circle with tips as blunt as 177.5 degrees, in which lines meet it as tangents, reaches in each direction as
// far as its curves do; the width from the flat opposite a tip is that to the tip.
func TestHullWithBluntTips(t *testing.T) {
	const r = 20.0
	for _, half := range []float64{1.25, 0.4, 2.7, 10} { // degrees on either side of a tip to where its lines touch
		for turn := range 40 {
			at := 9 * float64(turn) * math.Pi / 180
			a, b := at-half*math.Pi/180, at+half*math.Pi/180
			tip := Point{}.along(toward(at), r/math.Cos(half*math.Pi/180))
			p, q := Point{}.along(toward(a), r), Point{}.along(toward(b), r)
			flat := at + math.Pi // opposite the tip the circle is cut off by a flat of 2 x 30 degrees
			f, g := Point{}.along(toward(flat-math.Pi/6), r), Point{}.along(toward(flat+math.Pi/6), r)
			l := Loop{Line(p, tip), Line(tip, q), arcBetween(Point{}, q, f, r, true), Line(f, g), arcBetween(Point{}, g, p, r, true)}
			h := hullOf(l)
			for k := range 3000 {
				u := toward(2 * math.Pi * float64(k) / 3000)
				hi, _ := support(l, u)
				lo, _ := support(l, u.scale(-1))
				if got := h.extent(u); math.Abs(got-hi-lo) > 1e-10 {
					t.Fatalf("tip of %g deg at %g: %g across, want %g", 180-2*half, at, got, hi+lo)
				}
			}
			width, _, _ := Width(l)
			if want := r/math.Cos(half*math.Pi/180) + r*math.Cos(math.Pi/6); math.Abs(width-want) > 1e-9 {
				t.Errorf("tip of %g deg at %g: width %.12g, want %.12g", 180-2*half, at, width, want)
			}
		}
	}
}

// TestHullFromEveryDirection: the hull of arcs and lines at random reaches as far as they do.
func TestHullFromEveryDirection(t *testing.T) {
	rng := rand.New(rand.NewPCG(8, 4))
	for i := range 200 {
		l := randomArcs(rng)
		h := hullOf(l)
		for k := range 1000 {
			u := toward(2 * math.Pi * float64(k) / 1000)
			hi, _ := support(l, u)
			lo, _ := support(l, u.scale(-1))
			if got := h.extent(u); math.Abs(got-hi-lo) > 1e-10 {
				t.Fatalf("outline %d: %g across at %v, want %g", i, got, u, hi+lo)
			}
		}
	}
}

// TestHullOfShortArcs: of a chain of short arcs, each of which reaches the furthest over a fraction of a degree, none is passed over.
func TestHullOfShortArcs(t *testing.T) {
	var l Loop
	at, direction := Point{10, 0}, math.Pi/2
	turnBy := func(r, degrees float64) {
		sweep := degrees * math.Pi / 180
		c := at.along(toward(direction).left(), r)
		a := Arc(c, r, direction-math.Pi/2, sweep)
		l, at, direction = append(l, a), a.B, direction+sweep
	}
	for k := range 30 {
		turnBy(9-0.2*float64(k), 0.16)
	}
	turnBy(4, 120)
	l = append(l, Line(at, Point{-6, -7}), Line(Point{-6, -7}, Point{10, 0}))
	h := hullOf(l)
	for k := range 20000 {
		u := toward(2 * math.Pi * float64(k) / 20000)
		hi, _ := support(l, u)
		lo, _ := support(l, u.scale(-1))
		if got := h.extent(u); math.Abs(got-hi-lo) > 1e-10 {
			t.Fatalf("%g across at %g degrees, want %g", got, 0.018*float64(k), hi+lo)
		}
	}
}

// TestHullOfBittenCircle: a circle from which a slight bite is taken is by the depth of its chord narrower across it.
func TestHullOfBittenCircle(t *testing.T) {
	const r = 20.0
	for _, half := range []float64{0.33, 0.05, 1.7} { // degrees
		for turn := range 40 {
			a := (9*float64(turn) + 0.1) * math.Pi / 180
			p, q := Point{}.along(toward(a-half*math.Pi/180), r), Point{}.along(toward(a+half*math.Pi/180), r)
			l := Loop{arcBetween(Point{}, q, p, r, true), arcBetween(Point{}.along(toward(a), 22), p, q, Point{}.along(toward(a), 22).Distance(p), false)}
			width, _, _ := Width(l)
			if want := r + r*math.Cos(half*math.Pi/180); math.Abs(width-want) > 1e-9 {
				t.Errorf("a bite of %g degrees at %g: width %.12g, want %.12g", half, a, width, want)
			}
		}
	}
}

// TestHullEnds: a circle that crosses another squarely, both reaching furthest in nearly one point, has a hull that ends.
func TestHullEnds(t *testing.T) {
	r := 4.24264068712
	for _, apart := range []float64{6.000007511, 6.000154712, 6.00001} {
		for _, big := range []float64{r, r + 1e-9, r - 1e-9} {
			a, b := Arc(Point{}, big, 0, 2*math.Pi), Arc(Point{apart, 0}, r, 0, 2*math.Pi)
			if w := hullOf([]Curve{a, b}).extent(Point{1, 0}); math.Abs(w-(big+apart+r)) > 1e-9 {
				t.Errorf("%g apart: %.12f across", apart, w)
			}
		}
	}
}
