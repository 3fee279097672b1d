package blank

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"strings"
	"testing"

	"corerod/parts"
	"corerod/parts/plane"
	"corerod/parts/subject"
)

// randomPart writes a part of random bodies and cuts; coarse says that sizes are whole millimetres, which makes
// outlines touch and coincide; slopes that some of its walls may lean.
func randomPart(rng *rand.Rand, coarse, slopes bool) string {
	size := func(lo, hi float64) float64 {
		v := lo + (hi-lo)*rng.Float64()
		if coarse {
			return math.Max(1, math.Round(v))
		}
		return math.Round(v*1000) / 1000
	}
	profile := func(big bool) string {
		k := 1.0
		if !big {
			k = 0.25
		}
		at := fmt.Sprintf("at: [%g, %g]", size(-14, 14)*(1.3-k), size(-14, 14)*(1.3-k))
		turn := []float64{0, 0, 90, 30, 45, rng.Float64() * 360}[rng.IntN(6)]
		kind := rng.IntN(13) / 2
		if slopes {
			kind %= 6 // teeth and slopes together make too many outlines to try many
		}
		switch kind {
		case 6:
			if rng.IntN(3) > 0 {
				d := size(20*k, 40*k)
				if rng.IntN(2) == 0 {
					return fmt.Sprintf("spline: {major: %g, minor: %g, teeth: %d, tooth_width: %g, turn: %g, %s}", d+2*k, d, 3+rng.IntN(6), 4*k, turn, at)
				}
				return fmt.Sprintf("serration: {major: %g, minor: %g, teeth: %d, angle: 60, tip_radius: 0.05, turn: %g, %s}", 1.06*d, d, 20+rng.IntN(10), turn, at)
			}
			return fmt.Sprintf("gear: {module: %g, teeth: %d, internal: %v, pressure_angle: 25, addendum: 0.8, turn: %g, %s}", 1.2*k, 14+rng.IntN(20), !big, turn, at)
		case 0, 1:
			return fmt.Sprintf("circle: {diameter: %g, %s}", size(20*k, 44*k), at)
		case 2:
			return fmt.Sprintf("rectangle: {length: %g, width: %g, turn: %g, %s}", size(20*k, 50*k), size(16*k, 30*k), turn, at)
		case 3:
			w := size(10*k, 20*k)
			return fmt.Sprintf("slot: {length: %g, width: %g, turn: %g, %s}", w+size(4*k, 30*k), w, turn, at)
		case 4:
			return fmt.Sprintf("hexagon: {across_flats: %g, turn: %g, %s}", size(20*k, 40*k), turn, at)
		}
		return fmt.Sprintf("flatted: {diameter: %g, flats: [%g], turn: %g, %s}", size(30*k, 40*k), 9*k, turn, at)
	}
	drafts := 0 // of which two make many slices
	draft := func() string {
		if !slopes || drafts >= 2 || rng.IntN(3) > 0 {
			return ""
		}
		drafts++
		return fmt.Sprintf(", draft: {angle: %g, narrows: %s}", size(1, 9), []string{"up", "down"}[rng.IntN(2)])
	}
	turned := func(r, z, h float64) string {
		s := size(0.3, 0.9)
		return fmt.Sprintf("turned: {at: [%g, %g], section: [[0, %g], [%g, %g], [%g, %g], [0, %g]]}", size(-9, 9), size(-9, 9), z, r, z, r*s, z+h, z+h)
	}
	var t strings.Builder
	t.WriteString("bodies:\n  base: {circle: {diameter: 50}, from: 0, to: 8}\n")
	for i := range 1 + rng.IntN(3) {
		from := size(0, 7)
		fmt.Fprintf(&t, "  body-%d: {%s, from: %g, to: %g%s}\n", i, profile(true), from, from+size(2, 14), draft())
	}
	more := 2
	if slopes {
		more = rng.IntN(6)
	}
	switch more {
	case 0:
		fmt.Fprintf(&t, "  cone: {%s}\n", turned(size(4, 20), size(0, 7), size(2, 9)))
	case 1:
		fmt.Fprintf(&t, "  ball: {ball: {diameter: %g, z: %g}}\n", size(10, 30), size(0, 8))
	}
	t.WriteString("cuts:\n")
	for i := range rng.IntN(6) {
		z := []string{"", ", open: top, depth: 3", ", open: bottom, depth: 2", ", from: 2, to: 5"}[rng.IntN(4)]
		repeat := []string{"", "", ", repeat: {count: 3}", ", repeat: {count: 2, step: [5, 2]}"}[rng.IntN(4)]
		fmt.Fprintf(&t, "  cut-%d: {%s%s%s%s}\n", i, profile(false), z, draft(), repeat)
	}
	if slopes && rng.IntN(6) == 0 {
		fmt.Fprintf(&t, "  sink: {%s}\n", turned(size(2, 8), size(2, 8), size(2, 6)))
	}
	if strings.HasSuffix(t.String(), "cuts:\n") {
		return strings.TrimSuffix(t.String(), "cuts:\n")
	}
	return t.String()
}

// TestRandomParts: on random parts every measure is finite and fits the others, and the volume, the walls and the
// holes agree with what sampling finds: whether points are solid is decided from the profiles alone.
func TestRandomParts(t *testing.T) {
	n := 300
	if os.Getenv("COREROD_LONG") != "" {
		n = 6000
	} else if testing.Short() {
		n = 40
	}
	made, toothed := 0, 0
	for i := range n {
		rng := rand.New(rand.NewPCG(uint64(i), 17))
		text := "part: p\nunits: mm\n" + randomPart(rng, i%2 == 0, i%8 == 7)
		p, ps := parts.Parse("random.yaml", []byte(text))
		if len(ps) > 0 {
			t.Fatalf("%v\n%s", ps, text)
		}
		s, ps := newShape(p)
		if len(ps) > 0 || len(s.whole()) > 0 {
			continue // a cut outside, or in pieces
		}
		made++
		s.cutSlabs()
		s.findFaces()
		b, ps := s.measure()
		if len(ps) > 0 {
			continue // outlines a few nanometres apart
		}
		toothed += min(1, len(b.Subject.Teeth))
		for _, k := range subject.Kinds() {
			for _, x := range subject.Of(b.Subject, k) {
				checkFinite(t, x)
			}
		}
		area := 0.0
		for _, c := range b.Columns {
			area += c.Area
		}
		if math.Abs(area-b.Subject.PlanArea) > 1e-6*b.Subject.PlanArea {
			t.Errorf("columns of %g in a plan of %g", area, b.Subject.PlanArea)
		}
		if v := sliceVolume(s); math.Abs(v-b.Subject.Volume) > 0.02*b.Subject.Volume {
			t.Errorf("a volume of %g by exact sections, %g by slices", b.Subject.Volume, v)
		}
		drawn := drawnRegions(s)
		samplePoints(t, rng, s, drawn)
		sampleWalls(t, s, drawn)
		checkRootWalls(t, s)
		if t.Failed() {
			t.Fatalf("part %d:\n%s", i, text)
		}
	}
	if made < n/4 || toothed < n/10 {
		t.Errorf("only %d of %d random parts could be made, %d with teeth", made, n, toothed)
	}
}

// sliceVolume sums the cells over their slabs.
func sliceVolume(s *shape) (v float64) {
	for c := range s.cells {
		for _, r := range s.cells[c].runs {
			v += s.area(c) * (s.top(r) - s.bottom(r))
		}
	}
	return v
}

// drawnRegions are the profiles, each by itself, by figure.
func drawnRegions(s *shape) (drawn []*plane.Region) {
	for _, o := range s.outlines {
		drawn = append(drawn, plane.RegionOf(o.loop))
	}
	return drawn
}

// solidAt decides from the profiles alone whether a point of the overlay's frame is solid in slab k.
func solidAt(s *shape, drawn []*plane.Region, q plane.Point, k int) bool {
	body, cut := false, false
	for i, o := range s.outlines {
		if s.covers(i, k) && drawn[i].Contains(q) {
			body, cut = body || o.feature < s.bodies, cut || o.feature >= s.bodies
		}
	}
	return body && !cut
}

// wrongAt tells whether the profiles say otherwise at a point, and 10 micrometres to each side of it: slivers between
// slices are thin enough to be merged.
func wrongAt(s *shape, drawn []*plane.Region, q plane.Point, k int, void bool) bool {
	around := []plane.Point{q}
	if s.hasSlopes() {
		around = append(around, plane.Point{X: q.X - 0.01, Y: q.Y}, plane.Point{X: q.X + 0.01, Y: q.Y}, plane.Point{X: q.X, Y: q.Y - 0.01}, plane.Point{X: q.X, Y: q.Y + 0.01})
	}
	for _, p := range around {
		if solidAt(s, drawn, p, k) != void {
			return false
		}
	}
	return true
}

// samplePoints compares the overlay's cells with the profiles at random points away from the outlines.
func samplePoints(t *testing.T, rng *rand.Rand, s *shape, drawn []*plane.Region) {
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
func sampleWalls(t *testing.T, s *shape, drawn []*plane.Region) {
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
		text := "part: p\nunits: mm\n" + randomPart(rng, i%2 == 0, false)
		p, ps := parts.Parse("random.yaml", []byte(text))
		if len(ps) > 0 {
			t.Fatalf("%v\n%s", ps, text)
		}
		s, ps := newShape(p)
		if len(ps) > 0 || len(s.whole()) > 0 {
			continue
		}
		made++
		s.cutSlabs()
		s.findFaces()
		slabs := 0.0
		for k := range s.slabs {
			slabs += s.slabs[k].region.Moments().Area * (s.heights[k+1] - s.heights[k])
		}
		if v := sliceVolume(s); math.Abs(v-slabs) > 1e-9*v {
			t.Fatalf("part %d: %g by columns, %g by slabs\n%s", i, v, slabs, text)
		}
	}
}

// checkRootWalls compares the walls behind teeth with the distance from each toothed outline to all other boundaries of
// a slab: the nearest points of the two have nothing between them, so where that is material it is such a wall, and
// none is less.
func checkRootWalls(t *testing.T, s *shape) {
	t.Helper()
	walls := s.rootWalls(s.findNecks())
	for i := range s.outlines {
		if !s.hasTeeth(i) {
			continue
		}
		wall, known := walls[i]
		least := math.Inf(1)
		for k := range s.slabs {
			var own, others []plane.Curve
			for _, p := range s.slabs[k].region.Pieces() {
				if p.Owner == i {
					own = append(own, p.Curve)
				} else {
					others = append(others, p.Curve)
				}
			}
			d, p, q := plane.Between(own, others)
			least = math.Min(least, d)
			mid := plane.Point{X: (p.X + q.X) / 2, Y: (p.Y + q.Y) / 2}
			if d > 0.01 && !math.IsInf(d, 1) && s.slabs[k].region.Contains(mid) && (!known || wall > d+1e-9) {
				t.Errorf("slab %d: %g from the teeth of figure %d to the next boundary at %v, their root wall is %g, %v", k, d, i, p, wall, known)
			}
		}
		if known && wall < least-1e-9 {
			t.Errorf("figure %d: a root wall of %g, nothing nearer than %g", i, wall, least)
		}
	}
}
