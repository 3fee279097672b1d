package measure

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"corerod/parts/plane"
	"corerod/parts/subject"
)

// TestBoundsOfSubjects: what lies at a bound of the program belongs to the one side, what lies a little past it to the other.
func TestBoundsOfSubjects(t *testing.T) {
	boss := func(share float64) string { // of the plan of a disc of 40 mm
		return fmt.Sprintf("bodies: {a: {circle: {diameter: 40}, from: 0, to: 10}, b: {circle: {diameter: %.9f}, from: 10, to: 12}}",
			40*math.Sqrt(share))
	}
	recess := func(plate, cut string) string {
		return "bodies: {a: {rectangle: {" + plate + "}, from: 0, to: 10}}\ncuts: {c: {rectangle: {" + cut + "}, open: top, depth: 2}}"
	}
	corner := func(turn float64) string { // the right end of a plate comes to a point of less than a half turn
		h := 10 * math.Tan(turn/2*math.Pi/180)
		return fmt.Sprintf(
			"bodies: {a: {polygon: {points: [[-20, -10], [20, -10], [%.9f, 0], [20, 10], [-20, 10]], corner: [3, 3, 0, 3, 3]}, from: 0, to: 10}}", 20+h)
	}
	for _, c := range []struct {
		name, text string
		count      func(p *subject.Part) int
		want       int
	}{
		{"a boss of a tenth of the plan", boss(0.1), func(p *subject.Part) int { return len(p.Bosses) }, 1},
		{"one of little less", boss(0.0999), func(p *subject.Part) int { return len(p.Bosses) }, 1},
		{"one of little more", boss(0.1001), func(p *subject.Part) int { return len(p.Bosses) }, 0},
		{"it is a level", boss(0.1001), func(p *subject.Part) int { return int(p.LevelsTop) }, 2},
		{"a groove a third as wide as long", recess("length: 40, width: 30", "length: 9, width: 3"), func(p *subject.Part) int { return len(p.Grooves) }, 1},
		{"a little shorter", recess("length: 40, width: 30", "length: 8.99, width: 3"), func(p *subject.Part) int { return len(p.Grooves) }, 0},
		{"it is a hole", recess("length: 40, width: 30", "length: 8.99, width: 3"), func(p *subject.Part) int { return len(p.Holes) }, 1},
		{"a groove of a quarter of the plan", recess("length: 30, width: 12", "length: 18, width: 5"), func(p *subject.Part) int { return len(p.Grooves) }, 1},
		{"of little more", recess("length: 30, width: 12", "length: 18.01, width: 5"), func(p *subject.Part) int { return len(p.Grooves) }, 0},
		{"a flange of half of the height", "bodies: {a: {circle: {diameter: 40}, from: 0, to: 10}, b: {circle: {diameter: 30}, from: 0, to: 20}}", func(p *subject.Part) int { return len(p.Flanges) }, 1},
		{"a little thicker", "bodies: {a: {circle: {diameter: 40}, from: 0, to: 10.01}, b: {circle: {diameter: 30}, from: 0, to: 20}}", func(p *subject.Part) int { return len(p.Flanges) }, 0},
		{"a corner of 15 degrees", corner(15), func(p *subject.Part) int { return len(p.Corners) }, 1},
		{"of little less", corner(14.99), func(p *subject.Part) int { return len(p.Corners) }, 0},
		{"a radius of 2 mm", "bodies: {a: {rectangle: {length: 30, width: 20, corner: 2}, from: 0, to: 10}}", func(p *subject.Part) int { return len(p.Corners) }, 0},
		{"of little less", "bodies: {a: {rectangle: {length: 30, width: 20, corner: 1.999}, from: 0, to: 10}}", func(p *subject.Part) int { return len(p.Corners) }, 1},
		{"a square corner is no tip", "bodies: {a: {polygon: {points: [[0, 0], [20, 0], [20, 10], [0, 10]]}, from: 0, to: 10}}", func(p *subject.Part) int { return len(p.Feathers) }, 0},
		{"a corner under it is one", "bodies: {a: {polygon: {points: [[0, 0], [20, 0], [19.99, 10], [0, 10]]}, from: 0, to: 10}}", func(p *subject.Part) int { return len(p.Feathers) }, 1},
	} {
		if got := c.count(made(t, c.text+"\n")); got != c.want {
			t.Errorf("%s: %d, want %d", c.name, got, c.want)
		}
	}
}

// TestBoundsOfTools: up to which overhang a shelf of the die forms a flange, which steps and blind holes have punches of
// their own, and which slopes are walls.
func TestBoundsOfTools(t *testing.T) {
	for text, want := range map[string]bool{
		"a: {circle: {diameter: 36}, from: 16, to: 20}":    true, // 3 mm
		"a: {circle: {diameter: 36.02}, from: 16, to: 20}": false,
		"a: {circle: {diameter: 34}, from: 18, to: 20}":    true, // 2 mm, and as thick
		"a: {circle: {diameter: 34.02}, from: 18, to: 20}": false,
		"a: {circle: {diameter: 34}, from: 16, to: 20}":    true,
	} {
		p := made(t, "bodies: {"+text+", b: {circle: {diameter: 30}, from: 0, to: 20}}\n")
		if f := the(t, p.Flanges, "a"); f.DieShelf != want {
			t.Errorf("%s: a shelf forms it: %v", text, f.DieShelf)
		}
	}
	for _, c := range []struct {
		back, high float64
		punch      string
		want       bool
	}{
		{17, 20, "", false}, {16.99, 20, "", true}, {17, 20, ", punch: own", true}, {10, 20, ", punch: face", false},
	} {
		text := fmt.Sprintf("bodies: {a: {circle: {diameter: 40}, from: 0, to: %g}, b: {circle: {diameter: 30}, from: 0, to: %g%s}}\n",
			c.back, c.high, c.punch)
		if s := made(t, text).Steps[0]; s.OwnPunch != c.want {
			t.Errorf("%s: own punch %v, share %g", text, s.OwnPunch, s.Share)
		}
	}
	// The plate lies high up, so that the step is low against the part and high against its own column.
	for from, want := range map[float64]bool{8: false, 8.01: true} {
		text := fmt.Sprintf(
			"bodies: {a: {rectangle: {length: 40, width: 20}, from: 0, to: 40}, p: {rectangle: {length: 20, width: 20, at: [30, 0]}, from: %g, to: 17}, q: {rectangle: {length: 20, width: 20, at: [50, 0]}, from: %g, to: 20}}\n", from, from)
		s := the(t, made(t, text).Steps, "p to q top")
		near(t, "local share", s.LocalShare, 3/(20-from))
		if s.OwnPunch != want {
			t.Errorf("from %g: own punch %v", from, s.OwnPunch)
		}
	}
	for angle, want := range map[string]string{"30": "die", "30.01": "punch", "5": "die"} {
		p := made(t, "bodies: {a: {circle: {diameter: 30}, from: 0, to: 4, draft: {angle: "+angle+", narrows: down}}}\n")
		if x := p.Tapers[0]; x.FormedBy != want {
			t.Errorf("a wall of %s degrees is formed by the %s", angle, x.FormedBy)
		}
	}
}

// TestHalfBareTapers: a leaning wall of which one side is bare is a taper, whichever side it is.
func TestHalfBareTapers(t *testing.T) {
	for _, turn := range []float64{0, 90, 180, 270} {
		at := plane.Turned(plane.Point{X: 15}, plane.Point{}, turn)
		text := fmt.Sprintf(
			"bodies: {a: {circle: {diameter: 20}, from: 0, to: 10, draft: {angle: 3, narrows: down}}, b: {rectangle: {length: 30, width: 60, at: [%.9f, %.9f], turn: %g}, from: 0, to: 10}}\n", at.X, at.Y, turn)
		p := made(t, text)
		if len(p.Tapers) != 1 || p.Tapers[0].FormedBy != "die" || p.Tapers[0].ZLow != 0 || p.Tapers[0].ZHigh != 10 {
			t.Errorf("covered toward %g degrees: %v", turn, show(p.Tapers))
		}
		cut := strings.NewReplacer("bodies: {a", "bodies: {d: {circle: {diameter: 90}, from: 0, to: 10}}\ncuts: {a", "narrows: down",
			"narrows: up", "length: 30, width: 60", "length: 30, width: 24").Replace(text)
		p = made(t, cut)
		if len(p.Tapers) != 1 || p.Tapers[0].FormedBy != "core" || p.Tapers[0].Reverse {
			t.Errorf("cut away toward %g degrees: %v", turn, show(p.Tapers))
		}
	}
}

// TestPlacesOfSteps: a step lies in the middle of its edge, a level in that of its area.
func TestPlacesOfSteps(t *testing.T) {
	p := made(t,
		"bodies: {a: {rectangle: {length: 40, width: 20, at: [5, 3]}, from: 0, to: 4}, b: {rectangle: {length: 20, width: 20, at: [-5, 3]}, from: 0, to: 10}}\n")
	s := the(t, p.Steps, "a to b top")
	near(t, "x", s.X, 5)
	near(t, "y", s.Y, 3)
	near(t, "low", s.ZLow, 4)
	near(t, "high", s.ZHigh, 10)
	near(t, "ledge", s.Ledge, 20)
	l := the(t, p.Levels, "a top")
	near(t, "x of the level", l.X, 15)
	near(t, "its y", l.Y, 3)
	near(t, "its area", l.Area, 400)
	r := the(t, p.Rims, "b top")
	near(t, "x of the rim", r.X, -5)
	near(t, "its y", r.Y, 3)
}

// TestUndercutHole: the floor of a blind hole is what lies under it, not what hangs over its wider part.
func TestUndercutHole(t *testing.T) {
	for side, cuts := range map[string]string{
		"top":    "m: {circle: {diameter: 6}, from: 7, to: 10}, w: {circle: {diameter: 12}, from: 4, to: 7}",
		"bottom": "m: {circle: {diameter: 6}, from: 0, to: 3}, w: {circle: {diameter: 12}, from: 3, to: 6}",
	} {
		h := the(t, made(t, "bodies: {a: {circle: {diameter: 30}, from: 0, to: 10}}\ncuts: {"+cuts+"}\n").Holes, "m and w")
		near(t, side+" floor", h.Floor.Value, 4)
		near(t, side+" depth", h.Depth, 6)
		near(t, side+" share", h.Share, 0.6)
		near(t, side+" width", h.Width, 6)
		near(t, side+" edge", h.Edge, 15-6)
		if h.Through || h.Open != side || !h.Floor.Known {
			t.Errorf("%s: %+v", side, h)
		}
	}
}

// TestHoleThatBreaksOut: a leaning hole is as deep as it is closed in plan.
func TestHoleThatBreaksOut(t *testing.T) {
	p := made(t,
		"bodies: {a: {rectangle: {length: 40, width: 30}, from: 0, to: 10}}\ncuts: {b: {circle: {diameter: 10, at: [15.5, 0]}, draft: {angle: 10, narrows: up}}}\n")
	h := the(t, p.Holes, "b")
	out := 0.5 / tan(10) // up to there it is wider than the 4.5 mm to the edge
	if math.Abs(h.Depth-(10-out)) > 1e-3 || math.Abs(h.ZLow-out) > 1e-3 || h.ZHigh != 10 || !h.Through {
		t.Errorf("%+v, want it from %g", h, out)
	}
}

// TestMembersOfDimensions: what forms a dimension of walls that lean, of faces, and of depths.
func TestMembersOfDimensions(t *testing.T) {
	p := made(t, `bodies: {a: {circle: {diameter: 40}, from: 0, to: 10}}
cuts:
  blind: {circle: {diameter: 8}, open: top, depth: 4, draft: {angle: 5, narrows: down}}
  below: {circle: {diameter: 8, at: [12, 0]}, open: bottom, depth: 4}
  bore:  {circle: {diameter: 6, at: [-12, 0]}, draft: {angle: 1, narrows: up}}
dimensions:
  d1: {of: blind.diameter, plus_minus: 0.1}
  d2: {of: blind.depth, plus_minus: 0.1}
  d3: {of: below.diameter, plus_minus: 0.1}
  d4: {of: below.depth, plus_minus: 0.1}
  d5: {of: bore.diameter, plus_minus: 0.1}
  d6: {of: a.diameter, plus_minus: 0.1}
  d7: {of: a.height, plus_minus: 0.1}
`)
	for name, want := range map[string][]string{
		"d1": {"upper-punch"}, "d2": {"upper-punch"}, "d3": {"lower-punch"}, "d4": {"lower-punch"}, "d5": {"core-rod"}, "d6": {"die"}, "d7": {"lower-punch", "upper-punch"},
	} {
		if d := the(t, p.Dimensions, name); !slices.Equal(d.Members, want) {
			t.Errorf("%s: %v, want %v", name, d.Members, want)
		}
	}
}

// TestGapsOfPrints: footprints that hold each other have no gap; outside of the box of another they have one.
func TestGapsOfPrints(t *testing.T) {
	circle := func(x, y, d float64) subject.Footprint {
		return regionPrint(plane.RegionOf(plane.Circle(plane.Point{X: x, Y: y}, d)))[0]
	}
	point := func(x, y float64) subject.Footprint { return pointPrint(plane.Point{X: x, Y: y})[0] }
	for _, c := range []struct {
		name string
		a, b subject.Footprint
		want float64
	}{
		{"in it", circle(0, 0, 20), circle(3, 1, 4), 0}, {"round the same middle", circle(0, 0, 20), circle(0, 0, 4), 0}, {"equal", circle(0, 0, 20), circle(0, 0, 20), 0},
		{"across", circle(0, 0, 20), circle(10, 0, 4), 0}, {"touching", circle(0, 0, 20), circle(12, 0, 4), 0},
		{"right of it", circle(0, 0, 20), circle(15, 0, 4), 3}, {"left of it", circle(0, 0, 20), circle(-15, 0, 4), 3},
		{"above it", circle(0, 0, 20), circle(0, 15, 4), 3}, {"below it", circle(0, 0, 20), circle(0, -15, 4), 3},
		{"in its box, outside of it", circle(0, 0, 20), circle(9, 9, 1), 9*math.Sqrt2 - 10.5},
		{"a point in it", circle(0, 0, 20), point(4, 4), 0}, {"a point in its box", circle(0, 0, 20), point(9, 9), 9*math.Sqrt2 - 10}, {"a point outside", circle(0, 0, 20), point(0, 12), 2},
		{"two points", point(0, 0), point(3, 4), 5}, {"one point", point(1, 2), point(1, 2), 0},
	} {
		if got, back := c.a.Gap(c.b), c.b.Gap(c.a); math.Abs(got-c.want) > 1e-9 || math.Abs(back-got) > 1e-12 {
			t.Errorf("%s: %g and %g, want %g", c.name, got, back, c.want)
		}
	}
	if circle(0, 0, 3).Size() != len(plane.Circle(plane.Point{}, 3)) && circle(0, 0, 3).Size() != 1 || point(0, 0).Size() != 1 {
		t.Errorf("sizes %d and %d", circle(0, 0, 3).Size(), point(0, 0).Size())
	}
}

// TestOrders: names in alphabetical order, coordinates within a nanometre as equal, the longest of several.
func TestOrders(t *testing.T) {
	for _, c := range []struct {
		features []string
		with     string
		want     string
	}{
		{nil, " and ", ""}, {[]string{"b"}, " and ", "b"}, {[]string{"b", "a"}, " and ", "a and b"}, {[]string{"c", "a", "b"}, " and ", "a, b and c"}, {[]string{"c", "a", "b"}, " to ", "a to b to c"},
	} {
		if got := joined(c.features, c.with); got != c.want {
			t.Errorf("%v: %q, want %q", c.features, got, c.want)
		}
	}
	for _, c := range []struct {
		a, b float64
		want int
	}{{1, 2, -1}, {2, 1, 1}, {1, 1, 0}, {0, sameCoordinate, 0}, {sameCoordinate, 0, 0}, {0, 2 * sameCoordinate, -1}} {
		if got := nearly(c.a, c.b); got != c.want {
			t.Errorf("%g and %g: %d, want %d", c.a, c.b, got, c.want)
		}
	}
	for _, c := range []struct {
		lengths map[string]float64
		want    string
	}{
		{map[string]float64{"die": 2, "core-rod": 1}, "die"}, {map[string]float64{"die": 1, "core-rod": 2}, "core-rod"}, {map[string]float64{"die": 1, "core-rod": 1}, "die"},
		{map[string]float64{"upper-punch": 3, "lower-punch": 3 + longer/2}, "upper-punch"}, {map[string]float64{"lower-punch": 0.5}, "lower-punch"}, {nil, ""},
	} {
		if got := (&rim{lengths: c.lengths}).member(); got != c.want {
			t.Errorf("%v: %s, want %s", c.lengths, got, c.want)
		}
	}
	low, high, hole := &End{Level: &subject.Level{Common: subject.Common{Name: "b"}}},
		&End{Level: &subject.Level{Common: subject.Common{Name: "a", ZLow: 2}}}, &End{Hole: &subject.Hole{}}
	same := &End{Level: &subject.Level{Common: subject.Common{Name: "c"}}}
	for _, c := range []struct {
		beside map[*End]float64
		want   *End
	}{
		{nil, nil}, {map[*End]float64{low: 1, high: 2}, high}, {map[*End]float64{low: 2, high: 2}, low}, {map[*End]float64{hole: 2, high: 2}, high}, {map[*End]float64{hole: 3, high: 2}, hole},
		{map[*End]float64{low: 2, same: 2}, low}, {map[*End]float64{low: 2, high: 2 + longer/2}, low},
	} {
		for range 8 { // the order of a map is another each time
			if got := longest(c.beside); got != c.want {
				t.Errorf("%v: %+v, want %+v", c.beside, got, c.want)
			}
		}
	}
}
