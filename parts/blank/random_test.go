package blank

import (
	"math"
	"math/rand/v2"
	"os"
	"slices"
	"testing"

	"corerod/parts/form"
	"corerod/parts/partstest"
	"corerod/parts/plane"
)

// TestRandomParts: on random parts the volume, the material and the necks agree with what sampling finds: whether points
// are solid is decided from the profiles alone.
func TestRandomParts(t *testing.T) {
	n := 300
	if os.Getenv("COREROD_LONG") != "" {
		n = 6000
	} else if testing.Short() {
		n = 40
	}
	made := 0
	for i := range n {
		rng := rand.New(rand.NewPCG(uint64(i), 17))
		text := "part: p\nunits: mm\n" + partstest.Random(rng, i%2 == 0, i%8 == 7)
		p, ps := form.Parse("random.yaml", []byte(text))
		if len(ps) > 0 {
			t.Fatalf("%v\n%s", ps, text)
		}
		s, ps := Make(p)
		if len(ps) > 0 {
			continue // a cut outside, or in pieces
		}
		made++
		volume, surface := s.Volume()
		slivers := 0.0 // a few micrometres thin: they are as what is beside them
		for c := range s.overlay.Cells {
			if s.overlay.Cells[c].Drawn != nil {
				slivers += s.Area(c) * (s.high - s.low)
			}
		}
		if v, a, ok := bySections(s); ok && (math.Abs(v-volume) > 1e-6*volume+slivers || math.Abs(a-surface) > 1e-4*surface) {
			t.Errorf("a volume of %.9g and a surface of %.9g, by sections %.9g and %.9g", volume, surface, v, a)
		}
		drawn := drawnRegions(s)
		samplePoints(t, rng, s, drawn)
		sampleWalls(t, s, drawn)
		if t.Failed() {
			t.Fatalf("part %d:\n%s", i, text)
		}
	}
	if made < n/4 {
		t.Errorf("only %d of %d random parts could be made", made, n)
	}
}

// bySections are the volume and the surface of a part as integrals of its sections; false where one has outlines that cannot be told
// apart. They see slivers a few micrometres thin, which the shape leaves out.
func bySections(s *Shape) (volume, surface float64, ok bool) {
	for c := range s.cells {
		for _, ends := range s.cells[c].ends {
			for _, f := range ends {
				if f.flat() {
					surface += s.Area(c)
				}
			}
		}
	}
	for i := 0; i+1 < len(s.stations); i++ {
		h := s.stations[i+1] - s.stations[i]
		for _, n := range roundNodes() {
			z := s.stations[i] + h*n.At
			x, err := s.sectionAt(z)
			if err != nil {
				return 0, 0, false
			}
			if x == nil {
				continue
			}
			for c, solid := range x.Solid {
				if solid {
					volume += h * n.Weight * x.Overlay.Cells[c].Moments.Area
				}
			}
			for k := range x.Overlay.Edges {
				if e := &x.Overlay.Edges[k]; x.Solid[e.Left] != x.Solid[e.Right] {
					surface += h * n.Weight * e.Curve.Length() * leanFactor(&s.walls[x.Walls[e.Figures[0]]], z, &e.Curve)
				}
			}
		}
	}
	return volume, surface, true
}

// leanFactor is the area of a wall for a millimetre of height and one of its section.
func leanFactor(w *wall, z float64, c *plane.Curve) float64 {
	if !w.sloped() || z <= w.slopeLow() || z >= w.slopeHigh() {
		return 1
	}
	u, best, least := w.over(z), 0, math.Inf(1)
	for i := 0; w.ring && i < len(w.moves); i++ {
		if o, ok := w.drawn[i].Offset(w.moves[i].off(u)); ok && math.Abs(o.R-c.R) < least {
			best, least = i, math.Abs(o.R-c.R)
		}
	}
	return math.Hypot(1, w.moves[best].rate(u))
}

// sliceVolume sums the cells over their slabs.
func sliceVolume(s *Shape) (v float64) {
	for c := range s.cells {
		for _, r := range s.cells[c].runs {
			v += s.Area(c) * (s.Top(r) - s.Bottom(r))
		}
	}
	return v
}

// drawnRegions are the profiles, each by itself, by figure.
func drawnRegions(s *Shape) (drawn []*plane.Region) {
	for _, o := range s.outlines {
		drawn = append(drawn, plane.RegionOf(o.loop))
	}
	return drawn
}

// solidAt decides from the profiles alone whether a point of the overlay's frame is solid in slab k.
func solidAt(s *Shape, drawn []*plane.Region, q plane.Point, k int) bool {
	body, cut := false, false
	for i, o := range s.outlines {
		if s.Covers(i, k) && drawn[i].Contains(q) {
			body, cut = body || o.feature < s.bodies, cut || o.feature >= s.bodies
		}
	}
	return body && !cut
}

// wrongAt tells whether the profiles say otherwise at a point, and 10 micrometres to each side of it: slivers between
// slices are thin enough to be merged.
func wrongAt(s *Shape, drawn []*plane.Region, q plane.Point, k int, void bool) bool {
	around := []plane.Point{q}
	if slices.ContainsFunc(drawn, func(d *plane.Region) bool { return d.Distance(q) <= 2*plane.Near }) {
		return false // two outlines run along each other there: on which side of either it lies is rounding
	}
	if s.hasSlopes() {
		around = append(around, plane.Point{X: q.X - 0.01, Y: q.Y}, plane.Point{X: q.X + 0.01, Y: q.Y}, plane.Point{X: q.X, Y: q.Y - 0.01},
			plane.Point{X: q.X, Y: q.Y + 0.01})
	}
	for _, p := range around {
		if solidAt(s, drawn, p, k) != void {
			return false
		}
	}
	return true
}

// samplePoints compares the overlay's cells with the profiles at random points away from the outlines.
func samplePoints(t *testing.T, rng *rand.Rand, s *Shape, drawn []*plane.Region) {
	t.Helper()
	for range 40 {
		q := plane.Point{X: rng.Float64()*60 - 30, Y: rng.Float64()*60 - 30}
		clear := true
		for _, d := range drawn {
			clear = clear && d.Distance(q) > 0.01
		}
		if !clear {
			continue
		}
		c := s.overlay.CellAt(q)
		for k := range s.slabs {
			if got, want := s.cells[c].solid[k], solidAt(s, drawn, q, k); got != want {
				t.Errorf("at (%g, %g) in slab %d: solid is %v, the profiles say %v", q.X, q.Y, k, got, want)
			}
			if got := s.slabs[k].region.Contains(q); got != s.cells[c].solid[k] {
				t.Errorf("at (%g, %g) in slab %d: the region holds it: %v", q.X, q.Y, k, got)
			}
		}
	}
}

// sampleWalls checks the chord of every wall and gap by points along it: material all the way, void just beyond both
// ends, or the other way round.
func sampleWalls(t *testing.T, s *Shape, drawn []*plane.Region) {
	t.Helper()
	for k := range s.slabs {
		thinnest := math.Inf(1)
		for _, n := range s.slabs[k].region.Necks() {
			if !n.Void {
				thinnest = math.Min(thinnest, n.Width)
			}
			if s.hasSlopes() && n.Width < 0.02 {
				continue // slivers between slices of walls that cross flatly are merged, and can be longer than that
			}
			for _, f := range []float64{0.03, 0.35, 0.5, 0.8, 0.97} {
				q := plane.Point{X: n.P.X + f*(n.Q.X-n.P.X), Y: n.P.Y + f*(n.Q.Y-n.P.Y)}
				if s.slabs[k].region.Distance(q) > 1e-3 && wrongAt(s, drawn, q, k, n.Void) {
					t.Errorf("slab %d: the neck of %g from %v to %v leaves its side at %v", k, n.Width, n.P, n.Q, q)
				}
			}
			if n.Width > plane.Near && math.Abs(n.P.Distance(n.Q)-n.Width) > 1e-9 {
				t.Errorf("a neck of %g whose chord is %g", n.Width, n.P.Distance(n.Q))
			}
		}
		least, ok := s.slabs[k].region.Least(func(int, int) bool { return true }, math.Inf(1))
		if ok != !math.IsInf(thinnest, 1) || ok && math.Abs(least-thinnest) > 1e-9 {
			t.Errorf("slab %d: the least neck is %g, of all the thinnest is %g", k, least, thinnest)
		}
	}
}

// TestManyParts: of a great many random parts the volume by slabs, whose boundaries are traced, is that by columns,
// which are summed cell by cell. The long run takes 100,000.
func TestManyParts(t *testing.T) {
	want := 200
	if os.Getenv("COREROD_LONG") != "" {
		want = 100_000
	} else if testing.Short() {
		want = 30
	}
	for i, made := 0, 0; made < want; i++ {
		rng := rand.New(rand.NewPCG(uint64(i), 29))
		text := "part: p\nunits: mm\n" + partstest.Random(rng, i%2 == 0, false)
		p, ps := form.Parse("random.yaml", []byte(text))
		if len(ps) > 0 {
			t.Fatalf("%v\n%s", ps, text)
		}
		s, ps := Make(p)
		if len(ps) > 0 {
			continue
		}
		made++
		slabs := 0.0
		for k := range s.slabs {
			slabs += s.slabs[k].region.Moments().Area * (s.heights[k+1] - s.heights[k])
		}
		if v := sliceVolume(s); math.Abs(v-slabs) > 1e-9*v {
			t.Fatalf("part %d: %g by columns, %g by slabs\n%s", i, v, slabs, text)
		}
	}
}
