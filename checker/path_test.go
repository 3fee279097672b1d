package checker

import (
	"fmt"
	"math"
	"testing"

	"corerod/parts/plane"
	"corerod/parts/subject"
	"corerod/rules"
)

// viewOf is the view of a part of a few lines, in mm, judged by nobody, with a finding on a subject at each of some points.
func viewOf(t *testing.T, text string, found ...plane.Point) viewer {
	t.Helper()
	d, ps := Read("a.yaml", []byte("part: a\nunits: mm\n"+text+"\n"), &rules.Book{})
	if len(ps) > 0 {
		t.Fatal(ps)
	}
	r := &PartReview{Part: d.Part, Subject: d.Subject, Layout: d.Layout}
	for i, p := range found {
		wall := &subject.Wall{Common: subject.Common{Name: fmt.Sprint("w", i+1), X: p.X, Y: p.Y}, Thickness: 1}
		r.Findings = append(r.Findings, &Finding{Finding: rules.Finding{Rule: &rules.Rule{Name: "r"}, Grade: rules.Ask, Over: wall,
			Subject: wall}})
	}
	return viewer{r, DrawPlan(r)}
}

// near tells whether two points are one, to a micrometre.
func near(p, q plane.Point) bool { return p.Distance(q) < 1e-3 }

// ends lists the legs of a path by where they start and end in plan.
func ends(path []Leg) string {
	s := ""
	for _, l := range path {
		long := l.To - l.From
		s += fmt.Sprintf(" %.3f,%.3f>%.3f,%.3f", l.At.X+0, l.At.Y+0, l.At.X+long*l.Toward.X+0, l.At.Y+long*l.Toward.Y+0)
	}
	return s
}

// checkPath: each leg goes on along the path where the one before ended, its direction is of length 1, and it starts and ends outside of
// the outline.
func checkPath(t *testing.T, name string, v viewer, path []Leg) {
	t.Helper()
	lo, hi := v.reach()
	for i, l := range path {
		if math.Abs(math.Hypot(l.Toward.X, l.Toward.Y)-1) > 1e-12 || l.To <= l.From {
			t.Errorf("%s: leg %d: %+v", name, i+1, l)
		}
		if i > 0 && l.From != path[i-1].To {
			t.Errorf("%s: leg %d starts at %g, the one before ends at %g", name, i+1, l.From, path[i-1].To)
		}
	}
	last := path[len(path)-1]
	from := path[0].At
	to := plane.Point{X: last.At.X + (last.To-last.From)*last.Toward.X, Y: last.At.Y + (last.To-last.From)*last.Toward.Y}
	for _, p := range []plane.Point{from, to} {
		if p.X > lo.X && p.X < hi.X && p.Y > lo.Y && p.Y < hi.Y {
			t.Errorf("%s: it ends within the part at %v", name, p)
		}
	}
}

// TestPassesLegs: the place along a path of two legs at which it goes through a point, on the line to a hundredth of a millimetre.
func TestPassesLegs(t *testing.T) {
	path := []Leg{{From: -10, To: 0, At: plane.Point{X: -10}, Toward: plane.Point{X: 1}}, {From: 0, To: 5, At: plane.Point{},
		Toward: plane.Point{X: 0.6, Y: 0.8}}}
	for _, c := range []struct {
		at   plane.Point
		want float64
		ok   bool
	}{
		{plane.Point{X: -10}, -10, true},
		{plane.Point{X: -4}, -4, true},
		{plane.Point{X: -4, Y: 0.009}, -4, true},
		{plane.Point{X: -4, Y: -0.009}, -4, true},
		{plane.Point{X: -4, Y: 0.011}, 0, false},
		{plane.Point{X: -10.009}, -10.009, true},
		{plane.Point{X: -10.011}, 0, false},
		{plane.Point{}, 0, true},
		{plane.Point{X: 1.2, Y: 1.6}, 2, true},
		{plane.Point{X: 3, Y: 4}, 5, true},
		{plane.Point{X: 3.005, Y: 4.006}, 5.0078, true},
		{plane.Point{X: 3.6, Y: 4.8}, 0, false},
		{plane.Point{X: 4}, 0, false}, // straight on from the first leg
	} {
		if at, ok := passes(path, c.at); ok != c.ok || math.Abs(at-c.want) > 1e-9 {
			t.Errorf("%v: %g %t, want %g %t", c.at, at, ok, c.want, c.ok)
		}
	}
	if _, ok := passes(nil, plane.Point{}); ok {
		t.Error("a path without legs goes through a point")
	}
}

// TestMiddle: the axis of the widest round feature near the middle of the part, within a tenth of its lesser side; else the middle.
func TestMiddle(t *testing.T) {
	plate := "bodies: {a: {rectangle: {length: 60, width: 40, at: [10, 5], corner: 3}, from: 0, to: 8}}\n"
	for _, c := range []struct {
		name, cuts string
		want       plane.Point
	}{
		{"nothing round", "", plane.Point{X: 10, Y: 5}},
		{"a bore 4 mm aside", "cuts: {b: {circle: {diameter: 10, at: [14, 5]}}}", plane.Point{X: 14, Y: 5}},
		{"a bore 4.1 mm aside", "cuts: {b: {circle: {diameter: 10, at: [14.1, 5]}}}", plane.Point{X: 10, Y: 5}},
		{"the wider one of two", "cuts: {b: {circle: {diameter: 3, at: [12, 5]}}, c: {circle: {diameter: 4, at: [7, 5]}}}",
			plane.Point{X: 7, Y: 5}},
		{"a wider one is further", "cuts: {b: {circle: {diameter: 3, at: [12, 5]}}, c: {circle: {diameter: 12, at: [25, 5]}}}",
			plane.Point{X: 12, Y: 5}},
	} {
		if got := viewOf(t, plate+c.cuts).middle(); !near(got, c.want) {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
	}
}

// TestReach: the box of the outline, its diagonal by which a path goes on past it, and the furthest corner from a point.
func TestReach(t *testing.T) {
	v := viewOf(t, "bodies: {a: {rectangle: {length: 30, width: 40, at: [10, 5]}, from: 0, to: 8}}")
	lo, hi := v.reach()
	if !near(lo, plane.Point{X: -5, Y: -15}) || !near(hi, plane.Point{X: 25, Y: 25}) {
		t.Errorf("%v to %v", lo, hi)
	}
	if m := v.margin(); math.Abs(m-2.5) > 1e-9 { // a twentieth of 50
		t.Errorf("a margin of %g", m)
	}
	for _, c := range []struct {
		at   plane.Point
		want float64
	}{{plane.Point{X: 10, Y: 5}, 25}, {plane.Point{X: -5, Y: -15}, 50}, {plane.Point{X: 25, Y: -15}, 50}, {plane.Point{X: -5, Y: 25},
		50}, {plane.Point{X: 25, Y: 25}, 50}} {
		if got := v.farthest(c.at); math.Abs(got-c.want) > 1e-9 {
			t.Errorf("from %v: %g, want %g", c.at, got, c.want)
		}
	}
}

// TestMainPath: along a part that is longer than 1.4 times its width, with a step aside to each round feature that does not lie on the
// way; through a rounder one by two rays from its axis. Ends are a twentieth of the diagonal outside of the box.
func TestMainPath(t *testing.T) {
	bar := func(cuts string) string {
		return "bodies: {a: {rectangle: {length: 80, width: 60}, from: 0, to: 8}}\n" + cuts
	} // a diagonal of 100
	long := func(cuts string) string {
		return "bodies: {a: {rectangle: {length: 120, width: 50}, from: 0, to: 8}}\n" + cuts // of 130
	}
	for _, c := range []struct{ name, text, want string }{
		{"a long bar", long(""), " -66.500,0.000>66.500,0.000"},
		{"upright", "bodies: {a: {rectangle: {length: 50, width: 120}, from: 0, to: 8}}", " 0.000,-66.500>0.000,66.500"},
		{"a hole on the way", long("cuts: {b: {circle: {diameter: 6, at: [40, 0]}}}"), " -66.500,0.000>66.500,0.000"},
		{"the only hole lies aside: all of it does", long("cuts: {b: {circle: {diameter: 6, at: [40, 12]}}}"),
			" -66.500,12.000>66.500,12.000"},
		{"a hole on the way and one aside: half-way between their rims", long("cuts: {b: {circle: {diameter: 10}}, c: {circle: " +
			"{diameter: 6, at: [40, 12]}}}"),
			" -66.500,0.000>21.000,0.000 21.000,12.000>66.500,12.000"},
		{"one before, one on the way, one behind", long("cuts: {b: {circle: {diameter: 6, at: [-40, -9]}}, c: {circle: {diameter: " +
			"10}}, d: {circle: {diameter: 6, at: [40, 9]}}}"),
			" -66.500,-9.000>-21.000,-9.000 -21.000,0.000>21.000,0.000 21.000,9.000>66.500,9.000"},
		{"two that stand side by side: the first", long("cuts: {b: {circle: {diameter: 10, at: [40, 12]}}, c: {circle: {diameter: 10, " +
			"at: [44, -12]}}}"), " -66.500,12.000>66.500,12.000"},
		{"upright with one aside, to the left", "bodies: {a: {rectangle: {length: 50, width: 120}, from: 0, to: 8}}\ncuts: {b: " +
			"{circle: {diameter: 10}}, c: {circle: {diameter: 6, at: [-12, 40]}}}",
			" 0.000,-66.500>0.000,21.000 -12.000,21.000>-12.000,66.500"},
		{"a rounder one: straight on", bar(""), " -55.000,0.000>0.000,0.000 0.000,0.000>55.000,0.000"},
		{"a hole above: in from the left", bar("cuts: {b: {circle: {diameter: 10}}, c: {circle: {diameter: 6, at: [0, 20]}}, d: " +
			"{circle: {diameter: 6, at: [-30, 0]}}}"),
			" -55.000,0.000>0.000,0.000 0.000,0.000>0.000,55.000"},
		{"by the hole at 3, 4 to that at -4, 3", bar("cuts: {b: {circle: {diameter: 10}}, c: {circle: {diameter: 4, at: [12, 16]}}, d: " +
			"{circle: {diameter: 4, at: [-16, 12]}}}"),
			" -44.000,33.000>0.000,0.000 0.000,0.000>33.000,44.000"},
	} {
		v := viewOf(t, c.text)
		path := v.main()
		checkPath(t, c.name, v, path)
		if got := ends(path); got != c.want {
			t.Errorf("%s:%s, want%s", c.name, got, c.want)
		}
	}
}

// TestMeets: what lies on a ray counts, in front and not behind; a finding counts three times a round feature or a hole.
func TestMeets(t *testing.T) {
	v := viewOf(t, "bodies: {a: {rectangle: {length: 80, width: 60}, from: 0, to: 8}}\ncuts: {b: {circle: {diameter: 6, at: [20, "+
		"0]}}}", plane.Point{X: 30}, plane.Point{Y: -20})
	for _, c := range []struct{ degrees, want float64 }{{0, 5}, {180, 0}, {270, 3}, {90, 0}, {1, 0}} {
		if got := v.meets(plane.Point{}, c.degrees); got != c.want {
			t.Errorf("at %g degrees: %g, want %g", c.degrees, got, c.want)
		}
	}
	if got := v.meets(plane.Point{X: 20}, 0); got != 3 {
		t.Errorf("where the ray starts: %g, want 3", got)
	}
	v.r.Findings = append(v.r.Findings, &Finding{Finding: rules.Finding{Subject: v.r.Subject, Over: v.r.Subject}})
	if n := len(v.aims()); n != 4 {
		t.Errorf("%d aims; two findings, a round feature and a hole, and none of the whole part", n)
	}
}

// TestRayDirections: exact along the axes.
func TestRayDirections(t *testing.T) {
	for _, c := range []struct {
		degrees float64
		want    plane.Point
	}{{0, plane.Point{X: 1}}, {90, plane.Point{Y: 1}}, {180, plane.Point{X: -1}}, {270, plane.Point{Y: -1}}} {
		if got := ray(c.degrees); got != c.want {
			t.Errorf("%g: %v", c.degrees, got)
		}
	}
	if got := ray(30); math.Abs(got.X-math.Sqrt(3)/2) > 1e-12 || math.Abs(got.Y-0.5) > 1e-12 {
		t.Errorf("30: %v", got)
	}
}

// TestThroughFinding: straight through the axis and what was found, from left to right or upward; through the middle upward.
func TestThroughFinding(t *testing.T) {
	plate := "bodies: {a: {rectangle: {length: 80, width: 60}, from: 0, to: 8}}"
	for _, c := range []struct {
		at   plane.Point
		want string
	}{
		{plane.Point{X: 20}, " -55.000,0.000>55.000,0.000"},
		{plane.Point{X: -20}, " -55.000,0.000>55.000,0.000"},
		{plane.Point{Y: -20}, " 0.000,-55.000>0.000,55.000"},
		{plane.Point{X: 12, Y: -16}, " -33.000,44.000>33.000,-44.000"},
		{plane.Point{X: -12, Y: 16}, " -33.000,44.000>33.000,-44.000"},
		{plane.Point{X: 0.05}, " 0.050,-55.040>0.050,55.040"}, // the furthest corners are 40.05 and 30 away
	} {
		v := viewOf(t, plate, c.at)
		path := v.through(v.r.Findings[0])
		checkPath(t, fmt.Sprint(c.at), v, path)
		if got := ends(path); got != c.want {
			t.Errorf("%v:%s, want%s", c.at, got, c.want)
		}
		if at, ok := passes(path, c.at); !ok || math.Abs(at) > 30 {
			t.Errorf("%v: it passes %g, %t", c.at, at, ok)
		}
	}
}

// TestSectionOf: a cut through a plate with a bore leaves two rectangles; it tells the middles and the findings that it goes through, and
// the worst of those that it misses.
func TestSectionOf(t *testing.T) {
	v := viewOf(t, "bodies: {a: {rectangle: {length: 120, width: 50}, from: 0, to: 8}}\ncuts: {b: {circle: {diameter: 10}}, c: "+
		"{circle: {diameter: 6, at: [40, 0]}}}",
		plane.Point{X: 20}, plane.Point{X: 30, Y: 10}, plane.Point{X: 30, Y: -10})
	v.r.Findings[2].Grade = rules.Stop
	s := v.section("A", v.main())
	area := 0.0
	for _, l := range s.Loops {
		area += l.Moments().Area
	}
	if len(s.Loops) != 3 || math.Abs(area-(120-16)*8) > 1e-6 || !s.cuts() || s.Letter != "A" {
		t.Errorf("%d loops of %g mm2", len(s.Loops), area)
	}
	if got := fmt.Sprint(s.Axes); got != "[0 40]" {
		t.Errorf("middles at %s", got)
	}
	if at, ok := s.Through[v.r.Findings[0]]; !ok || math.Abs(at-20) > 1e-9 || len(s.Through) != 1 {
		t.Errorf("through %v", s.Through)
	}
	if v.missed(s) != v.r.Findings[2] {
		t.Error("the worst finding that it misses is another")
	}
	v.r.Findings[2].Subject = v.r.Subject
	if v.missed(s) != v.r.Findings[1] {
		t.Error("a finding of the whole part has no place")
	}
	v.r.Findings[1].Subject = &subject.Dimension{}
	if v.missed(s) != nil {
		t.Error("a dimension has none either")
	}
	if empty := v.section("B", []Leg{{From: 0, To: 100, At: plane.Point{X: -50, Y: 30}, Toward: plane.Point{X: 1}}}); empty.cuts() {
		t.Error("a path beside the part cuts it")
	}
}

// TestFirstSection: where the rays meet nothing, as those to the two tips of a crescent do, the section is straight, and cuts something.
func TestFirstSection(t *testing.T) {
	// circles of 20 mm about 0 and of 18 mm about 4, 0 meet at x = (400 - 324 + 16) / 8 = 11.5
	tip := plane.Point{X: 11.5, Y: math.Sqrt(400 - 11.5*11.5)}
	v := viewOf(t, "bodies: {a: {circle: {diameter: 40}, from: 0, to: 8}}\ncuts: {b: {circle: {diameter: 36, at: [4, 0]}}}", tip,
		plane.Point{X: tip.X, Y: -tip.Y})
	if rays := v.section("A", v.main()); rays.cuts() || len(rays.Through) != 2 {
		t.Errorf("the rays to the tips cut %t, through %d findings", rays.cuts(), len(rays.Through))
	}
	s := v.first()
	if !s.cuts() || len(s.Path) != 1 || s.Path[0].Toward != (plane.Point{X: 1}) {
		t.Errorf("it cuts %t, along %+v", s.cuts(), s.Path)
	}
	if at := s.Path[0].At.Y; math.Abs(at) > 1e-9 { // of the box from -20 to 20
		t.Errorf("it is at %g, and at the middle there is something to cut", at)
	}
}
