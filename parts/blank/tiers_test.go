package blank

import (
	"math"
	"slices"
	"testing"

	"corerod/parts"
	"corerod/parts/form"
	"corerod/parts/plane"
)

// featureOf is a feature of a part file that is read without its shape.
func featureOf(t *testing.T, text string) *parts.Feature {
	t.Helper()
	p, ps := form.Parse("x.yaml", []byte("part: a\nunits: mm\nbodies: {base: {circle: {diameter: 90}, from: 0, to: 30}}\n"+text+"\n"))
	if len(ps) > 0 {
		t.Fatal(ps)
	}
	return p.Features()[1]
}

// tiersOf are the tiers of the one cut of a text.
func tiersOf(t *testing.T, text string, height float64) []tier {
	t.Helper()
	ts, err := tiers(featureOf(t, "cuts: {c: {"+text+"}}"), height)
	if err != nil {
		t.Fatal(err)
	}
	return ts
}

// radii are those of the circles of an outline, in the order in which they are drawn.
func radii(l plane.Loop) (rs []float64) {
	for i := 0; i < len(l); i += 2 {
		rs = append(rs, l[i].R)
	}
	return rs
}

func closeTo(got, want []float64) bool {
	return slices.EqualFunc(got, want, func(a, b float64) bool { return math.Abs(a-b) <= 1e-9 })
}

// TestSectionsOfTiers: the radii of round outlines at a height, how far walls go, how they lean, and back from a radius to the height.
func TestSectionsOfTiers(t *testing.T) {
	half := func(r, u float64) float64 { return math.Sqrt(r*r - u*u) }
	for _, c := range []struct {
		name, text string
		tier       int
		u          float64 // a height
		at         []float64
		rate       float64 // of the outer radius there, mm for each mm
		lo, hi     float64 // a stretch
		run        float64
		tip        [2]bool
	}{
		{"lower half of a ball", "ball: {diameter: 20, z: 3}", 0, 4, []float64{8}, 6.0 / 8, 2, 4, 8 - 6, [2]bool{true, false}},
		{"upper half of a ball", "ball: {diameter: 20, z: 3}", 1, 16, []float64{8}, -6.0 / 8, 16, 18, 8 - 6, [2]bool{false, true}},
		{"cap over a band", "ball: {diameter: 20, band: 12}", 2, 18, []float64{6}, -8.0 / 6, 16, 18, 2, [2]bool{false, true}},
		{"cap below a band", "ball: {diameter: 20, band: 12}", 0, 2, []float64{6}, 8.0 / 6, 2, 4, 2, [2]bool{true, false}},
		{"cone", "turned: {section: [[0, 5], [8, 5], [4, 13], [0, 13]]}", 0, 2, []float64{7}, -0.5, 2, 4, 1, [2]bool{}},
		{"cone with a point", "turned: {section: [[0, 5], [8, 5], [0, 13]]}", 0, 2, []float64{6}, -1, 2, 4, 2, [2]bool{false, true}},
		{"ridge", "turned: {section: [[4, 0], [12, 0], [6, 8]]}", 0, 4, []float64{9, 5}, -0.75, 2, 4, 0.5, [2]bool{false, true}},
		{"bulge", "turned: {section: [[0, 0], [3, 0], {arc: [8, 5], radius: 5, turn: ccw}, [0, 5]]}", 0, 2, []float64{3 + half(5, 3)}, 3.0 / 4, 2, 4,
			half(5, 1) - half(5, 3), [2]bool{}},
		{"hollow", "turned: {section: [[0, 0], [8, 0], {arc: [3, 5], radius: 5, turn: cw}, [0, 5]]}", 0, 2, []float64{8 - half(5, 3)}, -3.0 / 4, 2, 4,
			half(5, 1) - half(5, 3), [2]bool{}},
		{"over the middle of an arc", "turned: {section: [[0, 0], [4, 0], {arc: [4, 6], radius: 5, turn: ccw}, [0, 6]]}", 1, 5, []float64{half(5, 2)},
			-2 / half(5, 2), 3, 6, 1, [2]bool{}},
	} {
		x := tiersOf(t, c.text, 0)[c.tier]
		l, err := x.at(c.u)
		if got := radii(l); err != nil || !closeTo(got, c.at) {
			t.Errorf("%s: %v at %g, want %v", c.name, got, c.u, c.at)
		}
		near(t, c.name+" rate", -x.moves[0].rate(c.u), c.rate)
		for i := range l {
			if m := x.moves[i]; !math.IsInf(m.slope, 0) {
				near(t, c.name+" back", m.up(m.off(c.u)), c.u)
			}
		}
		near(t, c.name+" run", x.run(c.lo, c.hi), c.run)
		if x.tip != c.tip || !x.sloped() {
			t.Errorf("%s: tips %v, want %v", c.name, x.tip, c.tip)
		}
		for end, u := range [2]float64{x.lo, x.hi} {
			if l, _ := x.at(u); (len(l) == 0) != c.tip[end] {
				t.Errorf("%s: %d sides at its end", c.name, len(l))
			}
		}
	}
}

// TestUprightTiers: those with upright walls do not slope, and end where they are drawn to.
func TestUprightTiers(t *testing.T) {
	for _, c := range []struct {
		name, text string
		height     float64
		ends       []float64 // of the tiers, from the lowest up
		sloped     []bool
	}{
		{"plain", "circle: {diameter: 6}", 30, []float64{0, 30}, []bool{false}},
		{"draft", "circle: {diameter: 6}, open: top, depth: 4, draft: {angle: 3, narrows: down}", 4, []float64{0, 4}, []bool{true}},
		{"ball", "ball: {diameter: 20}", 20, []float64{0, 10, 20}, []bool{true, true}},
		{"ball with a band", "ball: {diameter: 20, band: 6}", 20, []float64{0, 7, 13, 20}, []bool{true, false, true}},
		{"section", "turned: {section: [[0, 5], [8, 5], [8, 7], [4, 11], [4, 12], [0, 12]]}", 7, []float64{0, 2, 6, 7}, []bool{false, true, false}},
		{"ring", "turned: {section: [[5, 5], [8, 5], [8, 7], [6, 7], [6, 9], [5, 9]]}", 4, []float64{0, 2, 4}, []bool{false, false}},
	} {
		ts := tiersOf(t, c.text, c.height)
		ends := []float64{ts[0].lo}
		var sloped []bool
		for _, x := range ts {
			ends, sloped = append(ends, x.hi), append(sloped, x.sloped())
		}
		if !closeTo(ends, c.ends) || !slices.Equal(sloped, c.sloped) {
			t.Errorf("%s: ends %v, sloped %v; want %v, %v", c.name, ends, sloped, c.ends, c.sloped)
		}
	}
}

// TestGrooveTiers: a groove is as wide as drawn at its mouth, 4 mm, and comes to nothing at its floor.
func TestGrooveTiers(t *testing.T) {
	const long, wide = 50.0, 4.0
	round := 2.5 // the radius of a round groove 4 mm wide and 1 deep: (4 + 1) / 2
	for _, c := range []struct {
		name, section, open string
		depth, u            float64 // over its lower end
		half                float64 // half its width there
		factor, run         float64 // of its walls there, and from there to its mouth
	}{
		{"v in the top", "v", "top", 2, 0.5, 0.5, math.Sqrt2, 1.5},
		{"v in the bottom", "v", "bottom", 2, 1.5, 0.5, math.Sqrt2, 1.5},
		{"flat v", "v", "top", 1, 0.25, 0.5, math.Sqrt(5), 1.5},
		{"round in the top", "round", "top", 1, 0.5, math.Sqrt(2.25), round / 1.5, 0.5},
		{"round in the bottom", "round", "bottom", 1, 0.5, math.Sqrt(2.25), round / 1.5, 0.5},
		{"half round", "round", "top", 2, 0.4, 1.2, 2 / 1.2, 0.8},
	} {
		x := tiersOf(t, "rectangle: {length: 50, width: 4}, depth: "+map[float64]string{1: "1", 2: "2"}[c.depth]+", open: "+c.open+
			", section: "+c.section, c.depth)[0]
		l, err := x.at(c.u)
		if err != nil {
			t.Fatal(err)
		}
		near(t, c.name, l.Moments().Area, 2*c.half*(long-wide+2*c.half))
		mouth, tip := c.depth, [2]bool{true, false}
		if c.open == "bottom" {
			mouth, tip = 0, [2]bool{false, true}
		}
		near(t, c.name+" factor", math.Hypot(1, x.moves[0].rate(c.u)), c.factor)
		near(t, c.name+" back", x.moves[0].up(x.moves[0].off(c.u)), c.u)
		near(t, c.name+" run", x.run(c.u, mouth), c.run)
		near(t, c.name+" lean", x.lean(), math.Atan2(2, c.depth)*180/math.Pi)
		if x.tip != tip {
			t.Errorf("%s: tips %v", c.name, x.tip)
		}
	}
}

// TestDraftedTiers: the drawn outline is the wide end, and each millimetre takes the tangent of the angle from it.
func TestDraftedTiers(t *testing.T) {
	for way, at := range map[string]float64{"up": 1, "down": 3} { // from the wide end
		x := tiersOf(t, "rectangle: {length: 20, width: 10}, from: 2, to: 6, draft: {angle: 7, narrows: "+way+"}", 4)[0]
		l, err := x.at(1)
		if in := 2 * at * tan(7); err != nil || math.Abs(l.Moments().Area-(20-in)*(10-in)) > 1e-9 {
			t.Errorf("%s: %g, %v", way, l.Moments().Area, err)
		}
		near(t, way+" run", x.run(1, 3), 2*tan(7))
		near(t, way+" lean", x.lean(), 7)
	}
}
