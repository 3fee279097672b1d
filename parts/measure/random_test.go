package measure

import (
	"math"
	"math/rand/v2"
	"os"
	"testing"

	"corerod/parts/blank"
	"corerod/parts/form"
	"corerod/parts/partstest"
	"corerod/parts/plane"
	"corerod/parts/subject"
)

// TestRandomParts: on random parts every measure is finite and fits the others, and the walls behind teeth are as thin as the
// outlines are near.
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
		text := "part: p\nunits: mm\n" + partstest.Random(rng, i%2 == 0, i%8 == 7)
		p, ps := form.Parse("random.yaml", []byte(text))
		if len(ps) > 0 {
			t.Fatalf("%v\n%s", ps, text)
		}
		s, ps := blank.Make(p)
		if len(ps) > 0 {
			continue // a cut outside, or in pieces
		}
		made++
		b, ps := onShape(s)
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
		checkRootWalls(t, s)
		if t.Failed() {
			t.Fatalf("part %d:\n%s", i, text)
		}
	}
	if made < n/4 || toothed < n/10 {
		t.Errorf("only %d of %d random parts could be made, %d with teeth", made, n, toothed)
	}
}

// checkRootWalls compares the walls behind teeth with the distance from each toothed outline to all other boundaries of
// a slab: the nearest points of the two have nothing between them, so where that is material it is such a wall, and
// none is less.
func checkRootWalls(t *testing.T, s *blank.Shape) {
	t.Helper()
	behind := behindTeeth(s, findNecks(s))
	for i := range s.Figures() {
		if !hasTeeth(s, i) {
			continue
		}
		found := rootWall(s, []int{i}, behind)
		wall, known := found.Value, found.Known
		least := math.Inf(1)
		for k := range s.Slabs() {
			var own, others []plane.Curve
			for _, p := range s.Region(k).Pieces() {
				if p.Owner == i {
					own = append(own, p.Curve)
				} else {
					others = append(others, p.Curve)
				}
			}
			d, p, q := plane.Between(own, others)
			least = math.Min(least, d)
			mid := plane.Point{X: (p.X + q.X) / 2, Y: (p.Y + q.Y) / 2}
			if d > 0.01 && !math.IsInf(d, 1) && s.Region(k).Contains(mid) && (!known || wall > d+1e-9) {
				t.Errorf("slab %d: %g from the teeth of figure %d to the next boundary at %v, their root wall is %g, %v", k,
					d, i, p, wall, known)
			}
		}
		if known && wall < least-1e-9 {
			t.Errorf("figure %d: a root wall of %g, nothing nearer than %g", i, wall, least)
		}
	}
}
