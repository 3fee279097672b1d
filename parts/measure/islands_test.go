package measure

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"corerod/parts/plane"
)

// wedge is a plate with a tip of an angle that points to +x, cut off over a width; its other corners are blunt.
func wedge(degrees, flat float64) string {
	h := 10 * math.Tan(degrees/2*math.Pi/180)
	cut := flat / 2 / math.Tan(degrees/2*math.Pi/180)
	points := fmt.Sprintf("[%.12f, %.12f], [%.12f, %.12f]", 10-cut, -flat/2, 10-cut, flat/2)
	if flat == 0 {
		points = "[10, 0]"
	}
	return fmt.Sprintf("bodies: {tip: {polygon: {points: [%s, [0, %.12f], [-3, %.12f], [-3, %.12f], [0, %.12f]]}, from: 0, to: 4}}\n",
		points, h, h, -h, -h)
}

// TestFeatherAngles: the angle of a wedge is what it was drawn with, sharp, blunted by a short edge, or as a notch.
func TestFeatherAngles(t *testing.T) {
	for degrees := 5.0; degrees <= 80; degrees += 2.5 {
		f := made(t, wedge(degrees, 0)).Feathers
		if len(f) != 1 || f[0].Of != "material" || f[0].Radius != 0 || math.Abs(f[0].Angle-degrees) > 1e-7 {
			t.Errorf("%g degrees: %+v", degrees, f)
		}
		// Blunted over 0.2 mm: an arc that touches both flanks over it has this radius.
		radius := 0.2 / (2 * math.Cos(degrees/2*math.Pi/180))
		f = made(t, wedge(degrees, 0.2)).Feathers
		if len(f) != 1 || math.Abs(f[0].Angle-degrees) > 1e-7 || math.Abs(f[0].Radius-radius) > 1e-7 {
			t.Errorf("%g degrees blunted: %+v, want radius %g", degrees, f, radius)
		}
		notch := strings.Replace(wedge(degrees, 0), "bodies: {tip:",
			"bodies: {plate: {rectangle: {length: 60, width: 60}, from: 0, to: 4}}\ncuts: {tip:", 1)
		f = made(t, notch).Feathers
		if len(f) != 1 || f[0].Of != "tool" || math.Abs(f[0].Angle-degrees) > 1e-7 || f[0].ZHigh != 4 {
			t.Errorf("notch of %g degrees: %+v", degrees, f)
		}
	}
	for _, text := range []string{
		wedge(20, 0.6), // blunted to R 0.305
		"bodies: {a: {rectangle: {length: 10, width: 10}, from: 0, to: 4}}\n",
		"bodies: {a: {rectangle: {length: 10, width: 0.4}, from: 0, to: 4}}\n", // thin, with square corners
		"bodies: {a: {polygon: {points: [[0, 0], [10, 0], [5, 8.66]], corner: 0.25}, from: 0, to: 4}}\n",
		"bodies: {a: {slot: {length: 10, width: 0.4}, from: 0, to: 4}}\n",
	} {
		if f := made(t, text).Feathers; len(f) > 0 {
			t.Errorf("%s: %+v", text, f[0])
		}
	}
	f := made(t, "bodies: {a: {polygon: {points: [[0, 0], [10, 0], [5, 8.66]], corner: 0.24}, from: 0, to: 4}}\n").Feathers
	tips := 0
	for _, x := range f {
		tips += max(1, len(x.Places))
	}
	if tips != 3 {
		t.Errorf("%d tips of R 0.24, want 3", tips)
	}
}

// TestFlanges: overhangs between circles, from a rectangle's corner, and on both sides of a web.
func TestFlanges(t *testing.T) {
	p := made(t, crankHub)
	f := the(t, p.Flanges, "flange")
	near(t, "thickness", f.Thickness, 6)
	near(t, "overhang", f.Overhang, 24-15)
	near(t, "ratio", f.Ratio, 9.0/6)
	if f.DieShelf || len(p.Flanges) != 1 {
		t.Errorf("%+v", f)
	}
	square := made(t,
		"bodies: {plate: {rectangle: {length: 30, width: 20}, from: 0, to: 4}, hub: {circle: {diameter: 10}, from: 0, to: 20}}\n")
	near(t, "from a corner", the(t, square.Flanges, "plate").Overhang, math.Hypot(15, 10)-5)
	shelf := made(t, "bodies: {head: {circle: {diameter: 20}, from: 12, to: 15}, stem: {circle: {diameter: 15}, from: 0, to: 15}}\n")
	if f := the(t, shelf.Flanges, "head"); !f.DieShelf || math.Abs(f.Overhang-2.5) > 1e-9 {
		t.Errorf("%+v", f)
	}
	for _, text := range []string{
		"bodies: {head: {circle: {diameter: 20}, from: 7, to: 15}, stem: {circle: {diameter: 15}, from: 0, to: 15}}\n", // thick
		"bodies: {plate: {circle: {diameter: 20}, from: 0, to: 4}}\n",
		// no free edge
		"bodies: {rim: {circle: {diameter: 40}, from: 0, to: 12}}\ncuts: {well: {circle: {diameter: 30}, open: top, depth: 8}}\n",
	} {
		if f := made(t, text).Flanges; len(f) > 0 {
			t.Errorf("%s: %+v", text, f[0])
		}
	}
	for text, shelf := range map[string]bool{
		"head: {circle: {diameter: 20}, from: 12, to: 15}, stem: {circle: {diameter: 15}, from: 0, to: 18}": true,
		"head: {circle: {diameter: 20}, from: 0, to: 3}, stem: {circle: {diameter: 15}, from: 0, to: 15}":   false, // faces up
		// hangs over by more than it is thick
		"head: {circle: {diameter: 20}, from: 12, to: 14}, stem: {circle: {diameter: 15}, from: 0, to: 14}": false,
		"head: {circle: {diameter: 22}, from: 11, to: 15}, stem: {circle: {diameter: 15}, from: 0, to: 15}": false, // by more than 3 mm
	} {
		if f := the(t, made(t, "bodies: {"+text+"}\n").Flanges, "head"); f.DieShelf != shelf {
			t.Errorf("%s: %+v", text, f)
		}
	}
}

// TestFarthest against closed forms: concentric circles, an eccentric one, and a kink between two curves.
func TestFarthest(t *testing.T) {
	near(t, "eccentric", plane.Farthest(plane.Circle(plane.Point{X: 2}, 20), plane.Circle(plane.Point{}, 10)), 10+2-5)
	a := []plane.Curve{plane.Line(plane.Point{X: -4, Y: 3}, plane.Point{X: 7, Y: 3})}
	b := []plane.Curve{plane.Line(plane.Point{X: -4}, plane.Point{X: -3}), plane.Line(plane.Point{X: 6}, plane.Point{X: 7})}
	near(t, "kink", plane.Farthest(a, b), math.Hypot(4.5, 3))
}

// TestBossesAndGrooves measures them by what was drawn.
func TestBossesAndGrooves(t *testing.T) {
	q := made(t, `
bodies: {disc: {circle: {diameter: 40}, from: 0, to: 15}, pin: {circle: {diameter: 6, at: [10, 0]}, from: 15, to: 20}, foot: {rectangle: {length: 5, width: 4, at: [-10, 0]}, from: -2, to: 0}}
cuts: {way: {slot: {length: 20, width: 3, at: [0, -10]}, open: top, depth: 2}}
`)
	pin, foot := the(t, q.Bosses, "pin"), the(t, q.Bosses, "foot")
	near(t, "rise", pin.Rise, 5)
	near(t, "share", pin.Share, 5.0/22)
	near(t, "width", pin.Width, 6)
	near(t, "foot", foot.Width, 4)
	if pin.Face != "top" || foot.Face != "bottom" || len(q.Bosses) != 2 || foot.ZLow != -2 || foot.ZHigh != 0 {
		t.Errorf("%+v %+v", pin, foot)
	}
	way := the(t, q.Grooves, "way")
	near(t, "depth", way.Depth, 2)
	near(t, "width", way.Width, 3)
	near(t, "share", way.Share, 2.0/22)
	if way.Curved || way.Face != "top" || len(q.Grooves) != 1 {
		t.Errorf("%+v", way)
	}
	r := made(t, `
bodies: {ring: {circle: {diameter: 40}, from: 0, to: 10}}
cuts: {bore: {circle: {diameter: 20}}, way: {path: {start: [14, 0], steps: [{arc: [-14, 0], radius: 14, turn: ccw}, {line: [-16, 0]}, {arc: [16, 0], radius: 16, turn: cw}]}, open: bottom, depth: 2}, slit: {rectangle: {length: 60, width: 2, at: [0, -15]}, open: top, depth: 1}}
`)
	if g := the(t, r.Grooves, "way"); !g.Curved || g.Face != "bottom" || math.Abs(g.Width-2) > 1e-9 {
		t.Errorf("%+v", g)
	}
	slit := the(t, r.Grooves, "slit")
	if slit.Curved || slit.Depth != 1 || slit.Width != 2 {
		t.Errorf("%+v", slit)
	}
	var names []string
	for _, l := range r.Levels {
		names = append(names, l.Name)
	}
	if len(r.Levels) != 2 || slices.Contains(names, "slit top") {
		t.Errorf("a groove's floor is no level: %v", names)
	}
}
