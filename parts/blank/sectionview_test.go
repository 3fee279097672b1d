package blank

import (
	"math"
	"os"
	"path/filepath"
	"testing"

	"corerod/parts/form"
	"corerod/parts/plane"
)

// across is the cutting path along x through the origin, long enough for every part.
var across = []Leg{{From: -300, To: 300, At: plane.Point{X: -300}, Toward: plane.Point{X: 1}}}

func shapeOf(t *testing.T, text string) *Shape {
	t.Helper()
	p, ps := form.Parse("x.yaml", []byte(text))
	if len(ps) > 0 {
		t.Fatal(ps)
	}
	b, ps := Make(p)
	if len(ps) > 0 {
		t.Fatal(ps)
	}
	return b
}

func moments(ls []plane.Loop) (m plane.Moments) {
	for _, l := range ls {
		m = m.Add(l.Moments())
	}
	return m
}

// TestCut: section areas against closed forms, and how many lines and arcs their outlines have: a round top ends in a line of
// less than a micrometre.
func TestCut(t *testing.T) {
	seg := func(r, h float64) float64 { // of a circle, cut off at a distance from its centre
		return r*r*math.Acos(h/r) - h*math.Sqrt(r*r-h*h)
	}
	for _, c := range []struct {
		name, text    string
		area          float64
		loops, curves int
	}{
		{"a bush is two walls", "bodies: {a: {circle: {diameter: 30}, from: 0, to: 20}}\ncuts: {b: {circle: {diameter: 16}}}", 2 * 7 * 20, 2, 8},
		{"a flanged bush", "bodies: {a: {circle: {diameter: 30}, from: 0, to: 20}, f: {circle: {diameter: 40}, from: 0, to: 5}}\ncuts: {b: {circle: {diameter: 16}}}", 2 * (7*20 + 5*5), 2, 12},
		{"a void inside", "bodies: {a: {circle: {diameter: 30}, from: 0, to: 20}}\ncuts: {b: {circle: {diameter: 10}, from: 5, to: 9}}", 30*20 - 10*4, 2, 8},
		{"a drafted disc, 20 - 10 tan 45 at the top", "bodies: {a: {circle: {diameter: 40}, from: 0, to: 10, draft: {angle: 45, narrows: up}}}", (40 + 20) / 2 * 10, 1, 4},
		{"a cone on a cone", "bodies: {a: {turned: {section: [[0, 0], [10, 0], [15, 10], [5, 20], [0, 20]]}}}", (20+30)/2*10 + (30+10)/2*10, 1, 6},
		{"a ball with a band of 6", "bodies: {a: {ball: {diameter: 20, band: 6}}}", math.Pi*100 - 2*seg(10, math.Sqrt(91)), 1, 4},
		{"a dome of a quarter circle", "bodies: {a: {turned: {section: [[0, 0], [10, 0], {arc: [0, 10], radius: 10, turn: ccw}]}}}", math.Pi * 50, 1, 2},
		{"a round groove of 2 mm deep and 4 wide", "bodies: {a: {rectangle: {length: 30, width: 20}, from: 0, to: 10}}\ncuts: {g: {rectangle: {length: 4, width: 40}, open: top, depth: 2, section: round}}", 30*10 - 2*math.Pi, 1, 6},
	} {
		ls := shapeOf(t, "part: a\nunits: mm\n"+c.text+"\n").Cut(across)
		curves := 0
		for _, l := range ls {
			curves += len(l)
		}
		if got := moments(ls).Area; math.Abs(got-c.area) > 1e-6*c.area || len(ls) != c.loops || curves != c.curves {
			t.Errorf("%s: %.9f in %d loops of %d curves, want %.9f, %d, %d", c.name, got, len(ls), curves, c.area, c.loops, c.curves)
		}
	}
}

// TestCutPaths: an aligned section of two rays, and one with an offset.
func TestCutPaths(t *testing.T) {
	b := shapeOf(t,
		"part: a\nunits: mm\nbodies: {a: {circle: {diameter: 60}, from: 0, to: 10}}\ncuts: {bore: {circle: {diameter: 20}}, x: {circle: {diameter: 6, at: [20, 0]}}, y: {circle: {diameter: 8, at: [0, 20]}}}\n")
	rays := []Leg{{From: -40, To: 0, At: plane.Point{Y: 40}, Toward: plane.Point{Y: -1}}, {From: 0, To: 40, Toward: plane.Point{X: 1}}}
	if got, want := moments(b.Cut(rays)).Area, 10.0*(60-20-6-8); math.Abs(got-want) > 1e-6 {
		t.Errorf("%.9f, want %g", got, want)
	}
	offset := []Leg{{From: -40, To: 15, At: plane.Point{X: -40}, Toward: plane.Point{X: 1}},
		{From: 15, To: 40, At: plane.Point{X: 15, Y: 20}, Toward: plane.Point{X: 1}}}
	if got, want := moments(b.Cut(offset)).Area, 10*(30+15-20+math.Sqrt(900-400)-15); math.Abs(got-want) > 1e-6 {
		t.Errorf("%.9f, want %.9f", got, want)
	}
}

// TestCutTurned: Pappus and Guldin: the half section of every part turned about the axis gives its volume.
func TestCutTurned(t *testing.T) {
	for _, name := range []string{"bush", "flanged-bush", "counterbore", "stepped-bore", "tapered-bore", "turned-pulley"} {
		text, err := os.ReadFile("../../testdata/solids/" + name + ".yaml")
		if err != nil {
			t.Fatal(err)
		}
		b := shapeOf(t, string(text))
		m := moments(b.Cut([]Leg{{From: 0, To: 300, Toward: plane.Point{X: 1}}}))
		want, _ := b.Volume()
		if got := 2 * math.Pi * m.Centroid().X * m.Area; math.Abs(got-want) > 1e-5*want {
			t.Errorf("%s: %.6f, and the volume is %.6f", name, got, want)
		}
	}
}

// TestCutSolids: the section of every part has the area that its stretches of material have, height by height.
func TestCutSolids(t *testing.T) {
	files, _ := filepath.Glob("../../testdata/solids/*.yaml")
	more, _ := filepath.Glob("../../testdata/mill/*.yaml")
	for _, name := range append(files, more...) {
		text, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		b := shapeOf(t, string(text))
		for _, degrees := range []float64{21, 107} { // along no wall
			sin, cos := math.Sincos(degrees * math.Pi / 180)
			path := []Leg{{From: -300, To: 300, At: plane.Point{X: 1.3 - 300*cos, Y: 0.173 - 300*sin}, Toward: plane.Point{X: cos, Y: sin}}}
			want := 0.0
			for i := 0; i+1 < len(b.stations); i++ {
				h := b.stations[i+1] - b.stations[i]
				for k := range 20 { // by the rule of 24 nodes in each of 20 layers: what ends as a root does, ends in one of them
					for _, n := range roundNodes() {
						want += h / 20 * n.Weight * lengthAt(t, b, &path[0], b.stations[i]+h*(float64(k)+n.At)/20)
					}
				}
			}
			if got := moments(b.Cut(path)).Area; math.Abs(got-want) > 5e-5*want+1e-6 {
				t.Errorf("%s: %.6f, want %.6f", name, got, want)
			}
		}
	}
}

// lengthAt is how much material a leg passes in the section at a height.
func lengthAt(t *testing.T, s *Shape, leg *Leg, z float64) (d float64) {
	t.Helper()
	x, err := s.sectionAt(z)
	if err != nil || x == nil {
		return 0
	}
	r := x.Overlay.Region(func(c int) bool { return x.Solid[c] }, func(int, int, int) int { return 0 })
	var loops []plane.Loop
	for i := range r.Rings {
		loops = append(loops, r.Rings[i].Loop())
	}
	l := *leg
	l.At = s.ToPlan(l.At)
	stops := plane.Meetings(plane.Line(l.At, l.Point(l.To)), loops)
	for i := 0; i+1 < len(stops); i++ {
		if r.Contains(l.Point(l.From + (stops[i]+stops[i+1])/2)) {
			d += stops[i+1] - stops[i]
		}
	}
	return d
}
