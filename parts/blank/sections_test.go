package blank

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"corerod/parts/form"
	"corerod/parts/plane"
	"corerod/parts/source"
)

// TestTierOver: the tier at a height, its ends with it; past its face an open cut goes on with the tier there.
func TestTierOver(t *testing.T) {
	ts := []tier{{lo: 0, hi: 2}, {lo: 2, hi: 5}}
	for _, c := range []struct {
		u    float64
		open string
		want int // -1 for none
	}{
		{0, "", 0}, {1, "", 0}, {2, "", 0}, {3, "", 1}, {5, "", 1}, {5.1, "", -1}, {-0.1, "", -1},
		{5.1, "top", 1}, {-0.1, "top", -1}, {1, "top", 0}, {-0.1, "bottom", 0}, {5.1, "bottom", -1}, {4, "bottom", 1}, {5.1, "through", -1},
	} {
		got := -1
		for i := range ts {
			if tierOver(ts, c.u, c.open) == &ts[i] {
				got = i
			}
		}
		if got != c.want {
			t.Errorf("at %g of a cut open %q: tier %d, want %d", c.u, c.open, got, c.want)
		}
	}
}

// TestDrawn: a height at a thin slice is that of the end of its slope, the nearest of several; others stay.
func TestDrawn(t *testing.T) {
	s := &Shape{ends: []float64{0, 5, 5 + 0.75*EndSlice}, heights: []float64{0, EndSlice, 5, 5 + EndSlice/4}}
	for z, want := range map[float64]float64{0: 0, EndSlice: 0, -EndSlice: 0, 2 * EndSlice: 2 * EndSlice, 3: 3, 5: 5,
		5 + 0.7*EndSlice: 5 + 0.75*EndSlice, 5 - EndSlice: 5} {
		if got := s.Drawn(z); got != want {
			t.Errorf("%g stands for %g, want %g", z, got, want)
		}
	}
	near(t, "run", s.RunHeight(Run{0, 1}), 5)
	near(t, "nothing but the end of a slope", s.RunHeight(Run{0, 0}), SameHeight)
}

// TestNodes: the rules integrate what they are for: powers up to the ninth, and the area of half a circle.
func TestNodes(t *testing.T) {
	sum := func(ns []node, f func(x float64) float64) (v float64) {
		for _, n := range ns {
			v += n.weight * f(n.at)
		}
		return v
	}
	for k := range 10 {
		near(t, fmt.Sprint("power ", k), sum(plainNodes(), func(x float64) float64 { return math.Pow(x, float64(k)) }), 1/float64(k+1))
	}
	if got := sum(plainNodes(), func(x float64) float64 { return math.Pow(x, 10) }); math.Abs(got-1.0/11) < 1e-9 {
		t.Error("five nodes are not exact for the tenth power")
	}
	near(t, "half circle", sum(roundNodes(), func(x float64) float64 { return math.Sqrt(x * (1 - x)) }), math.Pi/8)
	if len(plainNodes()) != 5 || len(roundNodes()) != 24 {
		t.Errorf("%d and %d nodes", len(plainNodes()), len(roundNodes()))
	}
}

// TestVolumes: volume and surface of stepped, hollow and sloped parts, voids inside with them.
func TestVolumes(t *testing.T) {
	ring := func(r, s float64) float64 { return math.Pi * (r*r - s*s) }
	spandrel := 16*8 - 4*math.Pi*(10-16/(3*math.Pi)) // first moment of a square of 4 mm less a quarter circle about its far corner
	for _, c := range []struct {
		name, text      string
		volume, surface float64
	}{
		{"a void inside", "bodies: {a: {circle: {diameter: 30}, from: 0, to: 20}}\ncuts: {c: {circle: {diameter: 10}, from: 5, to: 9}}",
			ring(15, 0)*20 - ring(5, 0)*4, 2*ring(15, 0) + 30*math.Pi*20 + 2*ring(5, 0) + 10*math.Pi*4},
		{"a groove inside of a bore", "bodies: {a: {circle: {diameter: 30}, from: 0, to: 20}}\ncuts: {b: {circle: {diameter: 8}}, c: {circle: {diameter: 16}, from: 5, to: 9}}",
			ring(15, 4)*20 - ring(8, 4)*4, 2*ring(15, 4) + 30*math.Pi*20 + 8*math.Pi*16 + 2*ring(8, 4) + 16*math.Pi*4},
		{"steps", "bodies: {a: {circle: {diameter: 30}, from: 0, to: 5}, b: {circle: {diameter: 20}, from: 5, to: 9}, c: {circle: {diameter: 24}, from: -3, to: 0}}",
			ring(15, 0)*5 + ring(10, 0)*4 + ring(12, 0)*3, 2*ring(15, 0) + math.Pi*(30*5+20*4+24*3)},
		{"a cone with a void inside", "bodies: {a: {turned: {section: [[0, 0], [10, 0], [6, 8], [0, 8]]}}}\ncuts: {c: {circle: {diameter: 4}, from: 2, to: 5}}",
			frustum(10, 6, 8) - 4*math.Pi*3, ring(10, 0) + ring(6, 0) + coneWall(10, 6, 8) + 8*math.Pi + 4*math.Pi*3},
		{"a hollow fillet", "bodies: {a: {turned: {section: [[0, 0], [10, 0], {arc: [6, 4], radius: 4, turn: cw}, [6, 9], [0, 9]]}}}",
			ring(6, 0)*9 + 2*math.Pi*spandrel, ring(10, 0) + ring(6, 0) + 12*math.Pi*5 + 2*math.Pi*(2*math.Pi*10-16)},
		{"a ridge turned", "bodies: {a: {circle: {diameter: 40}, from: 0, to: 2}, r: {turned: {section: [[10, 2], [14, 2], [12, 6]]}}}",
			ring(20, 0)*2 + 2*math.Pi*12*8, 2*ring(20, 0) + 40*math.Pi*2 - ring(14, 10) + coneWall(14, 12, 4) + coneWall(12, 10, 4)},
		{"a cone up to a kink", "bodies: {a: {turned: {section: [[0, 0], [10, 0], [8, 4], [8, 6], [9, 8], [0, 8]]}}}",
			frustum(10, 8, 4) + ring(8, 0)*2 + frustum(8, 9, 2),
			ring(10, 0) + ring(9, 0) + coneWall(10, 8, 4) + 16*math.Pi*2 + coneWall(8, 9, 2)},
		{"two drafts", "bodies: {a: {circle: {diameter: 20}, from: 0, to: 4, draft: {angle: 7, narrows: up}}, b: {circle: {diameter: 20}, from: -4, to: 0, draft: {angle: 7, narrows: down}}}",
			2 * frustum(10, 10-4*tan(7), 4), 2*ring(10-4*tan(7), 0) + 2*coneWall(10, 10-4*tan(7), 4)},
		{"a bored ball", "bodies: {a: {ball: {diameter: 20}}}\ncuts: {b: {circle: {diameter: 12}}}", math.Pi / 6 * 16 * 16 * 16, 20*math.Pi*16 + 12*math.Pi*16},
	} {
		volume, surface, err := shapeOf(t, inMM+c.text+"\n").Volume()
		if err != nil || math.Abs(volume/c.volume-1) > 1e-8 {
			t.Errorf("%s: volume %.12g, want %.12g, %v", c.name, volume, c.volume, err)
		}
		if math.Abs(surface/c.surface-1) > 1e-8 {
			t.Errorf("%s: surface %.12g, want %.12g", c.name, surface, c.surface)
		}
	}
}

// TestMeetings: the heights at which sloped walls begin or cease to meet others.
func TestMeetings(t *testing.T) {
	const cone = "bodies: {a: {turned: {section: [[0, 0], [10, 0], [0, 10]]}}}\n" // 10 - z round
	for _, c := range []struct {
		name, text string
		want       []float64
	}{
		{"none", cone, nil},
		{"a bore on the axis", cone + "cuts: {b: {circle: {diameter: 6}}}", []float64{7}},
		{"a bore beside it", cone + "cuts: {b: {circle: {diameter: 2, at: [5, 0]}}}", []float64{4, 6}},
		{"a boss on a ball", "bodies: {a: {ball: {diameter: 20}}, b: {circle: {diameter: 12}, from: 0, to: 11}}", []float64{8}},
		{"a bored ball", "bodies: {a: {ball: {diameter: 20}}}\ncuts: {b: {circle: {diameter: 16}}}", []float64{-6, 6}},
		{"two cones", "bodies: {a: {turned: {section: [[0, 0], [10, 0], [2, 8], [0, 8]]}}, b: {turned: {section: [[0, 0], [4, 0], [8, 8], [0, 8]]}}}", []float64{4}},
	} {
		s := shapeOf(t, inMM+c.text+"\n")
		if !slices.EqualFunc(s.meets, c.want, func(a, b float64) bool { return math.Abs(a-b) < 1e-5 }) {
			t.Errorf("%s: %v, want %v", c.name, s.meets, c.want)
		}
	}
	for _, c := range []struct {
		es   []event
		want []float64
	}{
		{nil, nil},
		{[]event{{1, 1}, {2, 1}}, []float64{1, 2}},
		{[]event{{0, 1}, {apart / 2, 1}, {3, 1}}, []float64{0, 3}},
		{[]event{{0, 1}, {apart / 2, 2}, {3, 1}}, []float64{apart / 2, 3}},
		{[]event{{0, 2}, {apart / 2, 1}, {1.2 * apart, 3}}, []float64{0, 1.2 * apart}},
		{[]event{{0, 1}, {0.9 * apart, 3}, {1.5 * apart, 2}}, []float64{0.9 * apart}},
	} {
		if got := wellApart(c.es); !slices.Equal(got, c.want) {
			t.Errorf("%v: %v, want %v", c.es, got, c.want)
		}
	}
}

// TestManyMeetings: where slopes meet others at very many heights, slices do not end there, and the volume is right to a
// millionth or so.
func TestManyMeetings(t *testing.T) {
	const cone = "bodies: {a: {turned: {section: [[0, 0], [30, 0], [23, 7], [16, 14], [10, 20], [0, 20]]}}}\n"
	text := inMM + cone + "cuts: {\n"
	want := frustum(30, 10, 20)
	for i := range 12 {
		r := 11.8 + 1.5*float64(i)
		text += fmt.Sprintf("  b%d: {circle: {diameter: 1, at: [%.9f, %.9f]}},\n", i, r*math.Cos(float64(i)), r*math.Sin(float64(i)))
		const n = 400 // what a bore takes out: the height of the cone over its plan
		for k := range n {
			for m := range 16 {
				q, a := 0.5*(float64(k)+0.5)/n, 2*math.Pi*float64(m)/16
				want -= (30 - math.Hypot(r+q*math.Cos(a), q*math.Sin(a))) * q * 0.5 / n * 2 * math.Pi / 16
			}
		}
	}
	s := shapeOf(t, text+"}\n")
	if len(s.meets) <= mostMeets {
		t.Errorf("%d heights are found, want more than %d", len(s.meets), mostMeets)
	}
	if zs, alone := heightsOf(s), heightsOf(shapeOf(t, inMM+cone)); !slices.Equal(zs, alone) {
		t.Errorf("slices end at %v, want %v as without bores", zs, alone)
	}
	volume, _, err := s.Volume()
	if err != nil || math.Abs(volume/want-1) > 3e-6 {
		t.Errorf("volume %.9g, want %.9g, %v", volume, want, err)
	}
}

// TestTierEnds: every copy of every feature with its lower end, and the heights at which something ends, in the part.
func TestTierEnds(t *testing.T) {
	s := shapeOf(t,
		inMM+
			"bodies: {base: {circle: {diameter: 60}, from: 0, to: 5}, pin: {circle: {diameter: 8, at: [15, 0]}, from: 5, to: 13, draft: {angle: 7, narrows: up}, repeat: {count: 2}}}\n"+
			"cuts: {c: {circle: {diameter: 4}, from: 2, to: 20}, d: {circle: {diameter: 4, at: [0, 20]}, open: bottom, depth: 3}}\n")
	all, ends := s.tierEnds()
	type copyOf struct {
		feature, copy int
		z             float64
	}
	var got []copyOf
	for _, b := range all {
		got = append(got, copyOf{b.feature, b.copy, b.z})
	}
	if want := []copyOf{{0, 0, 0}, {1, 0, 5}, {1, 1, 5}, {2, 0, 2}, {3, 0, 0}}; !slices.Equal(got, want) ||
		!closeTo(ends, []float64{0, 2, 3, 5, 13}) {
		t.Errorf("%v, %v; want %v", got, ends, want)
	}
}

// overAt is a part's text turned over about the x axis at the sum of the heights of its ends.
func overAt(t *testing.T, text string, ends float64) string {
	t.Helper()
	doc, ps := source.Open("x.yaml", []byte(text))
	if len(ps) > 0 {
		t.Fatal(ps)
	}
	edits, ok := form.TurnOver(doc.Root, ends)
	if !ok {
		t.Fatal("the part cannot be turned over")
	}
	b, err := doc.With(edits...)
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

// TestFlatsOfSlopes: which flat a slope belongs to, and its height, on top and, turned over, below.
func TestFlatsOfSlopes(t *testing.T) {
	const disc = "bodies: {a: {circle: {diameter: 40}, from: 0, to: 10}}\ncuts: {"
	for _, c := range []struct {
		name, text string
		x, y, z    float64 // a place on the slope, and the height that it stands for
		with       float64 // x of a place on the flat it belongs to; 0 for none
		flats      int
	}{
		{"a cone's upper flat", "bodies: {a: {turned: {section: [[0, 0], [10, 0], [10, 2], [4, 10], [0, 10]]}}}", 7, 0, 10, 2, 1},
		{"between two flats a body's outer one", "bodies: {a: {turned: {section: [[0, 0], [14, 0], [14, 3], [11, 3], [6, 10], [0, 10]]}}}", 8, 0, 10, 2, 2},
		{"of a dish the outer one too", "bodies: {a: {turned: {section: [[0, 0], [14, 0], [14, 10], [11, 10], [6, 3], [0, 3]]}}}", 8, 0, 10, 12, 2},
		{"a cone with a point", "bodies: {a: {turned: {section: [[0, 0], [10, 0], [0, 10]]}}}", 5, 0, 10, 0, 1},
		{"between two floors a cut's inner one", disc + "c: {turned: {section: [[0, 4], [3, 4], [6, 7], [9, 7], [9, 10], [0, 10]]}}}", 4.5, 0, 4, 1, 3},
		{"the same drawn round a post", disc + "c: {turned: {section: [[3, 7], [6, 7], [9, 4], [12, 4], [12, 10], [3, 10]]}}}", 7.5, 0, 4, 11, 4},
		{"a countersink", disc + "b: {circle: {diameter: 6}}, c: {turned: {section: [[0, 7], [3, 7], [6, 10], [0, 10]]}}}", 4.5, 0, 10, 15, 1},
		{"a countersink in a step", "bodies: {a: {circle: {diameter: 40}, from: 0, to: 7}, h: {rectangle: {length: 20, width: 40, at: [-10, 0]}, from: 0, to: 10}}\ncuts: {b: {circle: {diameter: 6}}, " +
			"c: {turned: {section: [[0, 4], [3, 4], [6, 7], [6, 10], [0, 10]]}}}", 4.5, 0.5, 7, 15, 2},
		{"a drilled point", disc + "c: {turned: {section: [[0, 4], [5, 10], [0, 10]]}}}", 2, 0, 4, 0, 2},
		{"a drilled point beside a bore", disc + "b: {circle: {diameter: 3, at: [-15, 0]}}, c: {turned: {section: [[0, 4], [5, 10], [0, 10]]}}}", 2, 0, 4, 0, 2},
		{"a v groove over a bore", disc + "b: {circle: {diameter: 3}}, c: {rectangle: {length: 60, width: 6}, open: top, depth: 3, section: v}}", 10, 1, 7, 0, 3},
		{"a drafted pocket", disc + "c: {circle: {diameter: 10}, open: top, depth: 4, draft: {angle: 20, narrows: down}}}", 4.5, 0, 6, 1, 2},
		{"a drafted boss", "bodies: {a: {circle: {diameter: 40}, from: 0, to: 6}, b: {circle: {diameter: 10}, from: 6, to: 10, draft: {angle: 20, narrows: up}}}", 4.5, 0, 10, 1, 2},
		{"two cuts' slopes side by side", disc + "c: {turned: {section: [[0, 6], [2, 6], [4, 8], [4, 10], [0, 10]]}}, d: {turned: {section: [[4, 10], [4, 8], [6, 9], [6, 10]]}}}", 5, 0, 8, 0, 3},
	} {
		for _, side := range []string{"top", "bottom"} {
			text, z := inMM+c.text+"\n", c.z
			if side == "bottom" {
				text, z = overAt(t, text, 10), 10-c.z
			}
			s := shapeOf(t, text)
			y := c.y
			if side == "bottom" {
				y = -y
			}
			f, at := s.Face(side), cellNear(s, c.x, y)
			if !f.Sloped(at) || math.Abs(f.Z(at)-z) > 1e-5 || len(f.Flats()) != c.flats || f.Side() != side {
				t.Errorf("%s, %s: %g (sloped %v), %d flats; want %g, %d", c.name, side, f.Z(at), f.Sloped(at), len(f.Flats()), z, c.flats)
			}
			if c.with != 0 && f.Flat(cellNear(s, c.with, 0)) != f.Flat(at) {
				t.Errorf("%s, %s: it does not belong to the flat at x %g", c.name, side, c.with)
			}
		}
	}
}

// TestWallAt: where the two sides of a leaning wall come at its ends.
func TestWallAt(t *testing.T) {
	s := shapeOf(t,
		inMM+
			"bodies: {base: {circle: {diameter: 60, at: [7, -3]}, from: 0, to: 5}, c: {circle: {diameter: 20, at: [7, -3]}, from: 5, to: 9, draft: {angle: 20, narrows: up}}, "+
			"r: {turned: {at: [7, -3], section: [[16, 5], [20, 5], [18, 9]]}}}\n")
	last := map[int]int{}
	for i := range s.Figures() {
		last[s.FeatureOf(i)] = i
	}
	mid := s.ToPlan(plane.Point{X: 7, Y: -3})
	from := func(r float64) plane.Point { return plane.Point{X: mid.X + r, Y: mid.Y} }
	for _, c := range []struct {
		feature   int
		on        float64 // from the middle
		z, toward float64
		want      float64
	}{
		{0, 30, 5, 40, 30}, {1, 10, 5, 30, 10}, {1, 10, 9, 30, 10 - 4*tan(20)}, {1, 10, 9 - EndSlice, 30, 10 - 4*tan(20)}, {1, 10, 7, 30, 10 - 2*tan(20)},
		{2, 18.1, 9, 18, 18}, {2, 17.9, 9, 18, 18}, {2, 20, 5, 30, 20}, {2, 16, 5, 0, 16},
	} {
		at, ok := s.WallAt(last[c.feature], from(c.on), c.z, from(c.toward))
		if d := at.Distance(mid); !ok || math.Abs(d-c.want) > 1e-6 {
			t.Errorf("feature %d at %g: %g from the middle (%v), want %g", c.feature, c.z, d, ok, c.want)
		}
	}
	for i := range s.Figures() {
		ends := s.SlopedEnds(i)
		if s.Pointed(i) != (s.FeatureOf(i) == 2 && ends == [2]bool{true, true}) {
			t.Errorf("figure %d of feature %d is pointed: %v", i, s.FeatureOf(i), s.Pointed(i))
		}
	}
	ridge, ok := form.HalfSection(s.Feature(2).Profile)
	if !ok {
		t.Fatal("the ridge is drawn in section")
	}
	near(t, "a ridge's least radius", LeastRadius(ridge), 16)
}
