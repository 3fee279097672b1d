package plane

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"testing"

	"github.com/peterstace/simplefeatures/geom"
)

// areaOf adds up the cells that keep accepts.
func areaOf(o *Overlay, keep func(Set) bool) (a float64) {
	for _, c := range o.Cells[1:] {
		if keep(c.Inside) {
			a += c.Moments.Area
		}
	}
	return a
}

func mustLay(t testing.TB, loops ...Loop) *Overlay {
	t.Helper()
	o, err := Lay(loops)
	if err != nil {
		t.Fatal(err)
	}
	return o
}

func mustLoop(t testing.TB) func(Loop, error) Loop {
	return func(l Loop, err error) Loop {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return l
	}
}

func close9(t testing.TB, what string, got, want float64) {
	t.Helper()
	if math.IsNaN(got) || math.Abs(got-want) > 1e-9*math.Max(1, math.Abs(want)) {
		t.Errorf("%s = %.15g, want %.15g (off by %.3g)", what, got, want, got-want)
	}
}

// lens is the area common to two circles, by the textbook formula.
func lens(r, s, d float64) float64 {
	a := math.Acos((d*d + r*r - s*s) / (2 * d * r))
	b := math.Acos((d*d + s*s - r*r) / (2 * d * s))
	return r*r*(a-math.Sin(2*a)/2) + s*s*(b-math.Sin(2*b)/2)
}

func TestOverlayClosedForms(t *testing.T) {
	shape := mustLoop(t)
	sq := func(at Point, side float64) Loop { return shape(Rectangle(at, side, side, 0, 0)) }
	both := func(s Set) bool { return s.Has(0) && s.Has(1) }
	either := func(s Set) bool { return s.Has(0) || s.Has(1) }
	cases := []struct {
		name         string
		a, b         Loop
		both, either float64
		cells        int
	}{
		{"apart", Circle(Point{}, 10), Circle(Point{20, 0}, 6), 0, 34 * math.Pi, 2},
		{"inside", Circle(Point{}, 10), Circle(Point{1, 0}, 6), 9 * math.Pi, 25 * math.Pi, 2},
		{"crossing", Circle(Point{}, 10), Circle(Point{4, 0}, 6), lens(5, 3, 4), 34*math.Pi - lens(5, 3, 4), 3},
		{"equal", Circle(Point{}, 10), Circle(Point{}, 10), 25 * math.Pi, 25 * math.Pi, 1},
		{"touching outside", Circle(Point{}, 10), Circle(Point{8, 0}, 6), 0, 34 * math.Pi, 2},
		{"touching inside", Circle(Point{}, 10), Circle(Point{0, 2}, 6), 9 * math.Pi, 25 * math.Pi, 2},
		{"touching inside at 30 degrees", Circle(Point{}, 10), Circle(turned(Point{2, 0}, 30), 6), 9 * math.Pi, 25 * math.Pi, 2},
		{"circle on a side", sq(Point{}, 10), Circle(Point{5, 0}, 4), 2 * math.Pi, 100 + 2*math.Pi, 3},
		{"circle touching a side inside", sq(Point{}, 10), Circle(Point{3, 0}, 4), 4 * math.Pi, 100, 2},
		{"circle touching all sides", sq(Point{}, 10), Circle(Point{}, 10), 25 * math.Pi, 100, 5},
		{"common side", sq(Point{}, 10), sq(Point{10, 0}, 10), 0, 200, 2},
		{"half a side in common", sq(Point{}, 10), sq(Point{10, 5}, 10), 0, 200, 2},
		{"corner to corner", sq(Point{}, 10), sq(Point{10, 10}, 10), 0, 200, 2},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			for _, turn := range []float64{0, 17, 90, 211.3} {
				o := mustLay(t, c.a.Moved(Point{}, turn, Point{3, -2}), c.b.Moved(Point{}, turn, Point{3, -2}))
				close9(t, fmt.Sprintf("common area, turned by %g", turn), areaOf(o, both), c.both)
				close9(t, fmt.Sprintf("joined area, turned by %g", turn), areaOf(o, either), c.either)
				if got := len(o.Cells) - 1; got != c.cells {
					t.Errorf("turned by %g: %d cells, want %d", turn, got, c.cells)
				}
			}
		})
	}
}

// TestOverlayAgainstSimplefeatures compares areas of random overlays with an independent library, which knows only
// straight edges: so the figures here are polygons, and circles enter it as fine polygons with their area known.
func TestOverlayAgainstSimplefeatures(t *testing.T) {
	n := 2000
	if os.Getenv("COREROD_LONG") != "" {
		n = 20000
	} else if testing.Short() {
		n = 200
	}
	rng := rand.New(rand.NewPCG(7, 11))
	for i := range n {
		loops := []Loop{randomPolygon(rng), randomPolygon(rng), randomPolygon(rng)}
		o, err := Lay(loops)
		if err != nil {
			t.Fatalf("overlay %d: %v", i, err)
		}
		g := make([]geom.Geometry, len(loops))
		for k, l := range loops {
			g[k] = asGeometry(t, l)
		}
		union := must(geom.Union(g[0], g[1]))
		cut := must(geom.Difference(union, g[2]))
		common := must(geom.Intersection(must(geom.Intersection(g[0], g[1])), g[2]))
		for _, c := range []struct {
			what string
			got  float64
			want float64
		}{
			{"joined", areaOf(o, func(s Set) bool { return s.Has(0) || s.Has(1) }), union.Area()},
			{"joined less the third", areaOf(o, func(s Set) bool { return (s.Has(0) || s.Has(1)) && !s.Has(2) }), cut.Area()},
			{"common to all", areaOf(o, func(s Set) bool { return s.Has(0) && s.Has(1) && s.Has(2) }), common.Area()},
		} {
			if math.Abs(c.got-c.want) > 1e-7 {
				t.Errorf("overlay %d, %s: %.12g, simplefeatures has %.12g", i, c.what, c.got, c.want)
			}
		}
	}
}

// TestOverlayOfArcsAgainstSimplefeatures does the same with arcs, cut into chords for the library. Chords of a circle
// of radius r lose at most the sagitta times the outline, which bounds the difference.
func TestOverlayOfArcsAgainstSimplefeatures(t *testing.T) {
	n := 400
	if os.Getenv("COREROD_LONG") != "" {
		n = 4000
	} else if testing.Short() {
		n = 50
	}
	rng := rand.New(rand.NewPCG(5, 3))
	for i := range n {
		a, b := randomArcs(rng), randomArcs(rng)
		o, err := Lay([]Loop{a, b})
		if err != nil {
			t.Fatalf("overlay %d: %v", i, err)
		}
		g, h := asGeometry(t, a), asGeometry(t, b)
		union, common := must(geom.Union(g, h)), must(geom.Intersection(g, h))
		bound := sagitta * (a.Length() + b.Length())
		if got, want := areaOf(o, func(s Set) bool { return s.Has(0) || s.Has(1) }), union.Area(); math.Abs(got-want) > bound {
			t.Errorf("overlay %d, joined: %.12g, simplefeatures has %.12g, allowed %.3g", i, got, want, bound)
		}
		if got, want := areaOf(o, func(s Set) bool { return s.Has(0) && s.Has(1) }), common.Area(); math.Abs(got-want) > bound {
			t.Errorf("overlay %d, common: %.12g, simplefeatures has %.12g, allowed %.3g", i, got, want, bound)
		}
	}
}

func must(g geom.Geometry, err error) geom.Geometry {
	if err != nil {
		panic(err)
	}
	return g
}

// sagitta is the depth of the chords that stand for arcs in the library's polygons, mm.
const sagitta = 2e-4

func asGeometry(t *testing.T, l Loop) geom.Geometry {
	t.Helper()
	var xy []float64
	for i := range l {
		c := &l[i]
		n := 1
		if c.IsArc() {
			n = int(math.Ceil(math.Abs(c.Sweep) / (2 * math.Acos(1-sagitta/c.R))))
		}
		for k := range n {
			p := c.At(float64(k) / float64(n))
			xy = append(xy, p.X, p.Y)
		}
	}
	xy = append(xy, xy[0], xy[1])
	ring := geom.NewLineString(geom.NewSequence(xy, geom.DimXY))
	return geom.NewPolygon([]geom.LineString{ring}).AsGeometry()
}

// randomPolygon is a star-shaped polygon; every other one has its points on a coarse grid, for coincidences.
func randomPolygon(rng *rand.Rand) Loop {
	for {
		n := 3 + rng.IntN(12)
		snap := rng.IntN(2) == 0
		at := Point{rng.Float64()*20 - 10, rng.Float64()*20 - 10}
		var ps []Point
		for i := range n {
			r := 4 + 12*rng.Float64()
			p := at.along(toward(2*math.Pi*(float64(i)+0.8*rng.Float64())/float64(n)), r)
			if snap {
				p = Point{math.Round(p.X), math.Round(p.Y)}
			}
			ps = append(ps, p)
		}
		if l, err := Polygon(ps, nil); err == nil {
			return l
		}
	}
}

func randomArcs(rng *rand.Rand) Loop {
	at := Point{rng.Float64()*20 - 10, rng.Float64()*20 - 10}
	turn := rng.Float64() * 360
	for {
		var l Loop
		var err error
		switch rng.IntN(5) {
		case 0:
			l = Circle(at, 4+20*rng.Float64())
		case 1:
			l, err = Rectangle(at, 5+20*rng.Float64(), 5+20*rng.Float64(), turn, 2.4*rng.Float64())
		case 2:
			l, err = Slot(at, 10+20*rng.Float64(), 2+8*rng.Float64(), turn)
		case 3:
			l, err = Flatted(at, 20, []float64{2 + 7*rng.Float64()}, turn, rng.Float64())
		default:
			p := randomPolygon(rng)
			var ps []Point
			for _, c := range p {
				ps = append(ps, c.A)
			}
			l, err = Polygon(ps, []float64{0.3})
		}
		if err == nil {
			return l
		}
	}
}

// allJoin lets every thin cell join its neighbour with the longest common edge.
var allJoin = Thinning{func([]int) bool { return false }, func(Set) Set { return nil }}

func TestMergeThin(t *testing.T) {
	shape := mustLoop(t)
	strip := shape(Rectangle(Point{5, 5.0002}, 10, 10.0004, 0, 0))
	o := mustLay(t, shape(Rectangle(Point{5, 5}, 10, 10, 0, 0)), strip)
	if len(o.Cells) != 3 {
		t.Fatalf("%d cells, want the square, the strip of 0.4 micrometres and the outside", len(o.Cells))
	}
	o.MergeThin(allJoin)
	close9(t, "area only in the second", areaOf(o, func(s Set) bool { return s.Has(1) && !s.Has(0) }), 0)
}
