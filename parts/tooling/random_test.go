package tooling

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"corerod/parts/form"
	"corerod/parts/measure"
	"corerod/parts/subject"
)

// randomPart writes a part of upright bodies and cuts, and the same part turned over.
func randomPart(rng *rand.Rand) (as, over string) {
	const h = 20.0
	var a, o strings.Builder
	body := func(name, profile string, lo, hi float64) {
		fmt.Fprintf(&a, "  %s: {%s, from: %g, to: %g}\n", name, profile, lo, hi)
		fmt.Fprintf(&o, "  %s: {%s, from: %g, to: %g}\n", name, profile, h-hi, h-lo)
	}
	round := func(least, most, off float64) string {
		return fmt.Sprintf("circle: {diameter: %.2f, at: [%.2f, %.2f]}", least+(most-least)*rng.Float64(), off*(rng.Float64()-0.5),
			off*(rng.Float64()-0.5))
	}
	both := func(s string) { a.WriteString(s); o.WriteString(s) }
	both("part: p\nunits: mm\nbodies:\n")
	z := math.Round(8 * rng.Float64())
	body("base", round(30, 60, 0), z, z+4+math.Round(8*rng.Float64()))
	body("hub", round(14, 28, 6), 0, h)
	for i := range rng.IntN(3) {
		lo := math.Round(10 * rng.Float64())
		body(fmt.Sprintf("body-%d", i), round(6, 40, 20), lo, lo+2+math.Round((h-lo-2)*rng.Float64()))
	}
	both("cuts:\n  bore: {circle: {diameter: 9}}\n")
	for i := range rng.IntN(4) {
		end := rng.IntN(3)
		profile, depth := round(3, 12, 30), 1+math.Round(6*rng.Float64())
		for side, b := range map[bool]*strings.Builder{false: &a, true: &o} {
			where := [...]string{"", ", open: top, depth: %g",
				", open: bottom, depth: %g"}[[2][3]int{{0, 1, 2}, {0, 2, 1}}[map[bool]int{false: 0, true: 1}[side]][end]]
			if where != "" {
				where = fmt.Sprintf(where, depth)
			}
			fmt.Fprintf(b, "  cut-%d: {%s%s}\n", i, profile, where)
		}
	}
	return a.String(), o.String()
}

// TestRandomLayouts: on random parts both sides take up the whole plan, powder is conserved, forces balance but for what
// the walls take, sections fit each other; and turned over upper and lower punches swap.
func TestRandomLayouts(t *testing.T) {
	n := 400
	if testing.Short() {
		n = 60
	}
	made := 0
	for i := range n {
		as, over := randomPart(rand.New(rand.NewPCG(uint64(i), 5)))
		l, s := layOf("way_up: as-drawn\n"+as, i)
		m, _ := layOf("way_up: as-drawn\n"+over, i)
		if l == nil || m == nil {
			if (l == nil) != (m == nil) {
				t.Errorf("part %d is refused one way up only", i)
			}
			continue
		}
		made++
		area := map[string]float64{}
		force := map[string]float64{}
		for _, x := range l.Members {
			if x.Kind != CoreRod {
				area[x.Kind] += x.Area.Value
				force[x.Kind] += x.Force.Value
			}
			if x.Kind != Die && (x.Section.Value <= 0 || x.StepSection.Known && x.Kind != CoreRod && x.StepSection.Value <= 0) {
				t.Errorf("%s %s: section %v, step section %v", x.Kind, x.Name, x.Section, x.StepSection)
			}
		}
		near := func(what string, a, b float64) {
			t.Helper()
			if math.Abs(a-b) > 1e-6*math.Max(1, math.Abs(b)) {
				t.Errorf("part %d: %s: %g and %g", i, what, a, b)
			}
		}
		near("plan of the upper punches", area[UpperPunch], s.PlanArea)
		near("plan of lower punches and shelves", area[LowerPunch]+area[Die], s.PlanArea)
		near("press force", l.Force.Value, force[UpperPunch])
		loose, moved, lower := 0.0, 0.0, 0.0
		for _, c := range l.all {
			loose += c.Fill.Value * c.Area
			moved += c.Transfer.Value * c.Area
			lower += Force(l.Mean.Value*c.Profile.Bottom, c.Area)
		}
		near("powder", loose*3, s.Volume*7)
		near("powder that moves", moved/s.PlanArea, 0)
		near("force below", lower, force[LowerPunch]+force[Die])
		if l.Shelves+m.Shelves > 0 {
			continue
		}
		if l.Upper != m.Lower || l.Lower != m.Upper || l.Class != m.Class {
			t.Errorf("part %d: %d and %d punches, turned over %d and %d", i, l.Upper, l.Lower, m.Upper, m.Lower)
			continue
		}
		near("ejection turned over", m.Ejection.Value, l.Ejection.Value)
		near("force turned over", m.Force.Value, l.Force.Value)
		if t.Failed() {
			t.Fatal(as)
		}
	}
	if made < n/2 {
		t.Errorf("only %d of %d parts could be made", made, n)
	}
}

// layOf lays out a part; nil where it is refused, as where a cut misses it.
func layOf(text string, i int) (*Layout, *subject.Part) {
	p, ps := form.Parse("test.yaml", []byte(text))
	if len(ps) > 0 {
		return nil, nil
	}
	b, ps := measure.Part(p)
	if len(ps) > 0 {
		return nil, nil
	}
	d := powderData{sintered: 7, apparent: 3, pressure: 600, friction: 0.02 * float64(i%6), ratio: 0.5}.data()
	return Lay(b, d), b.Subject
}
