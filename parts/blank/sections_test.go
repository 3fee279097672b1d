package blank

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"corerod/parts/form"
	"corerod/parts/source"
)

// TestNodes: the rules integrate what they are for: powers up to the ninth, and the area of half a circle.
func TestNodes(t *testing.T) {
	sum := func(ns []Node, f func(x float64) float64) (v float64) {
		for _, n := range ns {
			v += n.Weight * f(n.At)
		}
		return v
	}
	for k := range 10 {
		near(t, fmt.Sprint("power ", k), sum(legendre(5), func(x float64) float64 { return math.Pow(x, float64(k)) }), 1/float64(k+1))
		near(t, fmt.Sprint("power ", k), sum(roundNodes(), func(x float64) float64 { return math.Pow(x, float64(k)) }), 1/float64(k+1))
	}
	near(t, "half circle", sum(roundNodes(), func(x float64) float64 { return math.Sqrt(x * (1 - x)) }), math.Pi/8)
	if len(roundNodes()) != 24 {
		t.Errorf("%d nodes", len(roundNodes()))
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
		volume, surface := shapeOf(t, inMM+c.text+"\n").Volume()
		if math.Abs(volume/c.volume-1) > 1e-9 {
			t.Errorf("%s: volume %.12g, want %.12g", c.name, volume, c.volume)
		}
		if math.Abs(surface/c.surface-1) > 1e-9 {
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
		if !slices.EqualFunc(s.meets, c.want, func(a, b float64) bool { return math.Abs(a-b) < 1e-12 }) {
			t.Errorf("%s: %v, want %v", c.name, s.meets, c.want)
		}
	}
}

// TestManyMeetings: a cone with twelve bores beside its axis meets each of them at two heights. The volume of what a bore takes out is
// integrated by the trapezoidal rule round its axis, which is exact for what is smooth, and by the middles of 400 rings.
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
	if len(s.meets) != 24 {
		t.Errorf("they meet at %v", s.meets)
	}
	if volume, _ := s.Volume(); math.Abs(volume/want-1) > 1e-8 {
		t.Errorf("volume %.12g, want %.12g", volume, want)
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
