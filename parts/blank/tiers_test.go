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

// TestSectionsOfTiers: the radii of round outlines at a height, of their means between two heights, and how far walls go.
func TestSectionsOfTiers(t *testing.T) {
	half := func(r, u float64) float64 { return math.Sqrt(r*r - u*u) }
	mean := func(r, a, b float64) float64 { // of half the chord of a circle, by the sector and the triangle
		area := func(x float64) float64 { return (x*half(r, x) + r*r*math.Asin(x/r)) / 2 }
		return (area(b) - area(a)) / (b - a)
	}
	for _, c := range []struct {
		name, text    string
		tier          int
		u             float64 // a height
		at            []float64
		lo, hi        float64 // a stretch
		mean          []float64
		run           float64
		open          [2]bool
		reaches, from float64 // a radius, and the height at which a wall has it
	}{
		{"lower half of a ball", "ball: {diameter: 20, z: 3}", 0, 4, []float64{8}, 2, 4, []float64{mean(10, -8, -6)}, 8 - 6, [2]bool{true, false}, 8, 4},
		{"upper half of a ball", "ball: {diameter: 20, z: 3}", 1, 16, []float64{8}, 16, 18, []float64{mean(10, 6, 8)}, 8 - 6, [2]bool{false, true}, 6, 18},
		{"cap over a band", "ball: {diameter: 20, band: 12}", 2, 18, []float64{6}, 16, 18, []float64{mean(10, 6, 8)}, 2, [2]bool{false, true}, 6, 18},
		{"cap below a band", "ball: {diameter: 20, band: 12}", 0, 2, []float64{6}, 2, 4, []float64{mean(10, -8, -6)}, 2, [2]bool{true, false}, 8, 4},
		{"cone", "turned: {section: [[0, 5], [8, 5], [4, 13], [0, 13]]}", 0, 2, []float64{7}, 2, 4, []float64{6.5}, 1, [2]bool{false, false}, 6, 4},
		{"cone with a point", "turned: {section: [[0, 5], [8, 5], [0, 13]]}", 0, 2, []float64{6}, 2, 4, []float64{5}, 2, [2]bool{false, true}, 4, 4},
		{"ridge", "turned: {section: [[4, 0], [12, 0], [6, 8]]}", 0, 4, []float64{9, 5}, 2, 4, []float64{9.75, 4.75}, 0.5, [2]bool{false, true}, 9, 4},
		{"bulge", "turned: {section: [[0, 0], [3, 0], {arc: [8, 5], radius: 5, turn: ccw}, [0, 5]]}", 0, 2, []float64{3 + half(5, 3)}, 2, 4,
			[]float64{3 + mean(5, -3, -1)}, half(5, 1) - half(5, 3), [2]bool{false, false}, 7, 2},
		{"hollow", "turned: {section: [[0, 0], [8, 0], {arc: [3, 5], radius: 5, turn: cw}, [0, 5]]}", 0, 2, []float64{8 - half(5, 3)}, 2, 4,
			[]float64{8 - mean(5, -3, -1)}, half(5, 1) - half(5, 3), [2]bool{false, false}, 4, 2},
	} {
		x := tiersOf(t, c.text, 0)[c.tier]
		l, err := x.at(c.u)
		if got := radii(l); err != nil || !closeTo(got, c.at) || !closeTo(radii(x.walls(c.u)), c.at) {
			t.Errorf("%s: %v at %g, want %v", c.name, got, c.u, c.at)
		}
		l, err = x.mean(c.lo, c.hi)
		if got := radii(l); err != nil || !closeTo(got, c.mean) {
			t.Errorf("%s: %v between %g and %g, want %v", c.name, got, c.lo, c.hi, c.mean)
		}
		near(t, c.name+" run", x.run(c.lo, c.hi), c.run)
		if x.open != c.open || !x.sloped {
			t.Errorf("%s: open %v, want %v", c.name, x.open, c.open)
		}
		if us := x.reach(c.reaches); !slices.ContainsFunc(us, func(u float64) bool { return math.Abs(u-c.from) < 1e-9 }) {
			t.Errorf("%s has a radius of %g at %v, want %g", c.name, c.reaches, us, c.from)
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
			ends, sloped = append(ends, x.hi), append(sloped, x.sloped)
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
		mouth, open := c.depth, [2]bool{true, false}
		if c.open == "bottom" {
			mouth, open = 0, [2]bool{false, true}
		}
		near(t, c.name+" factor", x.factor(c.u), c.factor)
		near(t, c.name+" run", x.run(c.u, mouth), c.run)
		near(t, c.name+" lean", x.lean(), math.Atan2(2, c.depth)*180/math.Pi)
		if x.open != open {
			t.Errorf("%s: open %v", c.name, x.open)
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
		between, err := x.between(0, 2)
		if err != nil || math.Abs(between.Moments().Area-l.Moments().Area) > 1e-9 {
			t.Errorf("%s: its mean between 0 and 2 is not what it is at 1", way)
		}
	}
}

// TestHeightsOfRadii: where a line or an arc of a section has a radius; at its ends it has it too, past them not.
func TestHeightsOfRadii(t *testing.T) {
	line := plane.Line(plane.Point{X: 8, Y: 2}, plane.Point{X: 4, Y: 10})
	arc := plane.Arc(plane.Point{X: 3, Y: 5}, 5, -math.Pi/2, math.Pi)     // from (3, 0) over (8, 5) to (3, 10)
	hollow := plane.Arc(plane.Point{X: 9, Y: 5}, 5, -math.Pi/2, -math.Pi) // from (9, 0) over (4, 5) to (9, 10)
	upright := plane.Line(plane.Point{X: 4}, plane.Point{X: 4, Y: 10})
	for _, c := range []struct {
		name  string
		curve plane.Curve
		r     float64
		want  []float64
	}{
		{"in a line", line, 6, []float64{6}}, {"at its lower end", line, 8, []float64{2}}, {"at its upper end", line, 4, []float64{10}},
		{"past it", line, 8.1, nil}, {"before it", line, 3.9, nil},
		{"twice on an arc", arc, 6, []float64{1, 9}}, {"past the arc", arc, 8.1, nil}, {"behind its middle", arc, 2, nil},
		{"on a hollow arc", hollow, 6, []float64{1, 9}}, {"on the other side of its middle", hollow, 12, nil},
		{"upright", upright, 4, nil},
	} {
		got := heightsAt(&c.curve, c.r)
		if !closeTo(got, c.want) {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
		for _, z := range got {
			near(t, c.name, radiusAt(&c.curve, z), c.r)
		}
	}
	near(t, "hollow", onArc(&hollow, 2), 7)
	near(t, "bulge", onArc(&arc, 2), 5)
	near(t, "never past the axis", onArc(&hollow, 20), 0)
	near(t, "line", meanRadius(&line, 2, 6), 7)
	near(t, "half a circle", meanChord(3, -3, 3), math.Pi*3/4)
	near(t, "to the rim and no further", meanChord(3, 0, 4), math.Pi*9/4/4)
}

// TestSplit: slopes are divided at heights inside them, by more than a nanometre; upright tiers are not.
func TestSplit(t *testing.T) {
	slope := tier{lo: 2, hi: 10, sloped: true, open: [2]bool{true, false}}
	type piece struct {
		lo, hi float64
		open   [2]bool
	}
	for _, c := range []struct {
		name string
		of   tier
		at   []float64
		meet bool
		want []piece
	}{
		{"nowhere", slope, nil, false, []piece{{2, 10, [2]bool{true, false}}}},
		{"for a section", slope, []float64{4}, false, []piece{{2, 4, [2]bool{true, false}}, {4, 10, [2]bool{false, false}}}},
		{"where others meet it", slope, []float64{4, 7}, true, []piece{{2, 4, [2]bool{true, true}}, {4, 7, [2]bool{true, true}}, {7, 10, [2]bool{true, false}}}},
		{"at its ends and past them", slope, []float64{0, 2, 10, 12}, true, []piece{{2, 10, [2]bool{true, false}}}},
		{"a nanometre from its ends", slope, []float64{2 + SameHeight/2, 10 - SameHeight/2}, true, []piece{{2, 10, [2]bool{true, false}}}},
		{"some from its ends", slope, []float64{2 + 3*SameHeight}, true, []piece{{2, 2 + 3*SameHeight, [2]bool{true, true}}, {2 + 3*SameHeight, 10, [2]bool{true, false}}}},
		{"upright", tier{lo: 2, hi: 10}, []float64{4}, true, []piece{{2, 10, [2]bool{}}}},
	} {
		var got []piece
		ts := split([]tier{c.of}, c.at, c.meet)
		for _, x := range ts {
			got = append(got, piece{x.lo, x.hi, x.open})
			if (x.whole != nil) != c.of.sloped || x.whole != nil && (x.whole.lo != 2 || x.whole.hi != 10 || x.whole != ts[0].whole) {
				t.Errorf("%s: a part does not know the whole slope", c.name)
			}
		}
		if !slices.Equal(got, c.want) {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
	}
}

// TestCutsOfTiers: the heights between slices; ends that are not open have a thin slice each.
func TestCutsOfTiers(t *testing.T) {
	const e = EndSlice
	for _, c := range []struct {
		open [2]bool
		n    int
		want []float64
	}{
		{[2]bool{}, 2, []float64{0, e, 4, 8 - e, 8}},
		{[2]bool{true, false}, 2, []float64{0, (8 - e) / 2, 8 - e, 8}},
		{[2]bool{false, true}, 2, []float64{0, e, e + (8-e)/2, 8}},
		{[2]bool{true, true}, 4, []float64{0, 2, 4, 6, 8}},
		{[2]bool{}, 1, []float64{0, e, 8 - e, 8}},
		{[2]bool{}, 0, []float64{0, 4, 8}},
		{[2]bool{true, false}, 0, []float64{0, 8}},
		{[2]bool{false, true}, 0, []float64{0, 8}},
	} {
		x := tier{hi: 8, sloped: true, open: c.open}
		if got := x.cuts(c.n); !slices.EqualFunc(got, c.want, func(a, b float64) bool { return math.Abs(a-b) < 1e-12 }) {
			t.Errorf("open %v, %d slices: %v, want %v", c.open, c.n, got, c.want)
		}
	}
}

// TestSliced: a slope over the whole height has six slices and two thin ones, each as wide as its mean; a lower one has its
// share, at least one; where slices would be too near to each other there are fewer.
func TestSliced(t *testing.T) {
	for _, c := range []struct {
		name   string
		drop   float64 // what a wall of 8 mm goes in over its height
		whole  float64
		slices int
	}{
		{"over the whole part", 4, 8, 8}, {"over half of it", 4, 16, 5}, {"over little more than a third", 4, 20, 5}, {"over a tenth", 4, 80, 3},
		{"hardly leaning", 3.5 * apart, 8, 5}, {"leaning by less than slices need", apart / 2, 8, 2},
	} {
		lean := c.drop / 8
		x := tier{hi: 8, sloped: true, run: func(lo, hi float64) float64 { return lean * (hi - lo) },
			at: func(u float64) (plane.Loop, error) { return plane.Circle(plane.Point{}, 2*(20-lean*u)), nil }}
		ts := split([]tier{x}, nil, false)
		out, err := sliced(ts, c.whole)
		if err != nil || len(out) != c.slices {
			t.Errorf("%s: %d slices, want %d", c.name, len(out), c.slices)
			continue
		}
		n := float64(c.slices - 2)
		for i, s := range out {
			first, last := i == 0, i == len(out)-1
			if !s.leans || s.of != ts[0].whole || s.sloped != [2]bool{!first, !last} || i > 0 && s.lo != out[i-1].hi {
				t.Errorf("%s: slice %d from %g to %g, sloped ends %v", c.name, i, s.lo, s.hi, s.sloped)
			}
			want := 20 - lean*8*(float64(i)-0.5)/n
			switch {
			case first:
				want = 20
			case last:
				want = 20 - c.drop
			}
			near(t, c.name, s.loop[0].R, want)
		}
	}
	flat, err := sliced([]tier{{lo: 1, hi: 8, at: func(float64) (plane.Loop, error) { return plane.Circle(plane.Point{}, 3), nil }}}, 8)
	if err != nil || len(flat) != 1 || flat[0].leans || flat[0].of != nil || flat[0].sloped != [2]bool{} ||
		flat[0].lo != 1 || flat[0].hi != 8 {
		t.Errorf("an upright wall: %+v, %v", flat, err)
	}
	none, err := sliced([]tier{{hi: 8, at: func(float64) (plane.Loop, error) { return nil, nil }}}, 8)
	if err != nil || len(none) != 0 {
		t.Errorf("where nothing is left: %+v, %v", none, err)
	}
}
