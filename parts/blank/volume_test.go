package blank

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"corerod/parts/form"
)

func tan(degrees float64) float64 { return math.Tan(degrees * math.Pi / 180) }

// frustum of a cone.
func frustum(r, s, h float64) float64 { return math.Pi * h * (r*r + r*s + s*s) / 3 }

// cone's wall.
func coneWall(r, s, h float64) float64 { return math.Pi * (r + s) * math.Hypot(r-s, h) }

// TestSlopedSolids: volume and surface by the closed forms of frustums, prismatoids, balls and rings of turning.
func TestSlopedSolids(t *testing.T) {
	in7 := 4 * tan(7) // what a wall 4 mm high leans at 7 degrees
	prismatoid := func(l, w, d, h float64) float64 {
		area := func(d float64) float64 { return (l - 2*d) * (w - 2*d) }
		return h / 6 * (area(0) + 4*area(d/2) + area(d))
	}
	shallow := 2.5*2.5*math.Asin(0.8) - 1.5*2 // the segment of a circle of radius 2.5 on a chord of 4
	for _, c := range []struct {
		name, text      string
		volume, surface float64
	}{
		{"drafted disc", "bodies: {a: {circle: {diameter: 20}, from: 1, to: 5, draft: {angle: 7, narrows: up}}}",
			frustum(10, 10-in7, 4), math.Pi*(100+(10-in7)*(10-in7)) + coneWall(10, 10-in7, 4)},
		{"the other way", "bodies: {a: {circle: {diameter: 20}, from: 1, to: 5, draft: {angle: 7, narrows: down}}}",
			frustum(10, 10-in7, 4), math.Pi*(100+(10-in7)*(10-in7)) + coneWall(10, 10-in7, 4)},
		{"drafted pocket", "bodies: {a: {rectangle: {length: 40, width: 30}, from: 0, to: 10}}\ncuts: {p: {rectangle: {length: 20, width: 12}, open: top, depth: 4, draft: {angle: 7, narrows: down}}}",
			40*30*10 - prismatoid(20, 12, in7, 4), 2*40*30 + 2*70*10 - 20*12 + (20-2*in7)*(12-2*in7) +
				2*(32+32-4*in7)/2*4/math.Cos(7*math.Pi/180)},
		{"tapered bore", "bodies: {a: {circle: {diameter: 30}, from: 0, to: 4}}\ncuts: {b: {circle: {diameter: 10}, draft: {angle: 7, narrows: up}}}",
			math.Pi*225*4 - frustum(5, 5-in7, 4), math.Pi*(2*225-25-(5-in7)*(5-in7)) + math.Pi*30*4 + coneWall(5, 5-in7, 4)},
		{"cone", "bodies: {a: {turned: {section: [[0, 0], [10, 0], [0, 8]]}}}", math.Pi * 100 * 8 / 3, math.Pi*100 + math.Pi*10*math.Hypot(10, 8)},
		{"ring of turning", "bodies: {a: {turned: {at: [3, -2], section: [[8, 0], [12, 0], [14, 5], [14, 9], [9, 9]]}}}",
			frustum(12, 14, 5) + math.Pi*196*4 - frustum(8, 9, 9),
			math.Pi*(144-64+196-81) + coneWall(12, 14, 5) + 2*math.Pi*14*4 + coneWall(8, 9, 9)},
		{"ball", "bodies: {a: {ball: {diameter: 20, z: 3}}}", 4.0 / 3 * math.Pi * 1000, 4 * math.Pi * 100},
		{"ball with a band", "bodies: {a: {ball: {diameter: 20, band: 6}}}", 2*math.Pi/3*7*7*(30-7) + math.Pi*91*6, 2*2*math.Pi*10*7 + 2*math.Pi*math.Sqrt(91)*6},
		{"ball bush", "bodies: {a: {ball: {diameter: 20, band: 6}}}\ncuts: {b: {circle: {diameter: 8}}, top: {circle: {diameter: 30}, from: 8, to: 11}, foot: {circle: {diameter: 30}, from: -11, to: -8}}",
			math.Pi*91*6 + 2*math.Pi*(100*5-(512-27)/3.0) - math.Pi*16*16,
			2*2*math.Pi*10*5 + 2*math.Pi*math.Sqrt(91)*6 + 2*math.Pi*(36-16) + 2*math.Pi*4*16},
		{"half round of turning", "bodies: {a: {turned: {section: [[6, 0], [10, 0], {arc: [10, 4], radius: 2, turn: ccw}, [6, 4]]}}}",
			math.Pi*(100-36)*4 + math.Pi*4/2*2*math.Pi*(10+4*2/(3*math.Pi)),
			2*math.Pi*(100-36) + 2*math.Pi*6*4 + math.Pi*2*2*math.Pi*(10+2*2/math.Pi)},
		{"v groove", "bodies: {a: {rectangle: {length: 40, width: 30}, from: 0, to: 10}}\ncuts: {g: {rectangle: {length: 50, width: 4}, open: top, depth: 2, section: v}}",
			40*30*10 - 40*4*2/2 /* the ends of the groove lie outside */, 2*40*30 + 2*70*10 - 40*4 + 2*40*math.Hypot(2, 2) - 2*4*2/2},
		{"round groove", "bodies: {a: {rectangle: {length: 40, width: 30}, from: 0, to: 10}}\ncuts: {g: {rectangle: {length: 60, width: 4}, open: top, depth: 2, section: round}}",
			40*30*10 - 40*math.Pi*4/2, 2*40*30 + 2*70*10 - 40*4 + 40*math.Pi*2 - 2*math.Pi*4/2},
		{"v groove below", "bodies: {a: {rectangle: {length: 40, width: 30}, from: 0, to: 10}}\ncuts: {g: {rectangle: {length: 50, width: 4}, open: bottom, depth: 2, section: v}}",
			40*30*10 - 40*4*2/2, 2*40*30 + 2*70*10 - 40*4 + 2*40*math.Hypot(2, 2) - 2*4*2/2},
		{"shallow round groove below", "bodies: {a: {rectangle: {length: 40, width: 30}, from: 0, to: 10}}\ncuts: {g: {rectangle: {length: 60, width: 4}, open: bottom, depth: 1, section: round}}",
			40*30*10 - 40*shallow, 2*40*30 + 2*70*10 - 40*4 + 40*2.5*2*math.Asin(0.8) - 2*shallow},
		{"countersink", "bodies: {a: {circle: {diameter: 30}, from: 0, to: 8}}\ncuts: {b: {circle: {diameter: 6}}, sink: {turned: {section: [[0, 5], [3, 5], [6, 8], [0, 8]]}}}",
			math.Pi*225*8 - math.Pi*9*5 - frustum(3, 6, 3), math.Pi*(225-9+225-36) + math.Pi*30*8 + 2*math.Pi*3*5 + coneWall(3, 6, 3)},
	} {
		volume, surface := shapeOf(t, "part: test\nunits: mm\n"+c.text).Volume()
		if math.Abs(volume/c.volume-1) > 1e-9 {
			t.Errorf("%s: volume %.12g, want %.12g (%.3g)", c.name, volume, c.volume, volume/c.volume-1)
		}
		if math.Abs(surface/c.surface-1) > 1e-9 {
			t.Errorf("%s: surface %.12g, want %.12g (%.3g)", c.name, surface, c.surface, surface/c.surface-1)
		}
	}
}

// TestVolumeOfPeak: a sink with a peak in its middle, wherever its centre is rounded to. The cones of its outside and of its peak meet
// in one circle, which bounds the cell of the peak.
func TestVolumeOfPeak(t *testing.T) {
	h, r, up := 5.6-2.7, 0.437, (7-0.437)/(6-2.7)
	big := r + up*h
	want := math.Pi * (400*5.6 - h*(r*r+r*big+big*big)/3 + r*r*0.3/3)
	for _, at := range []string{"[0, 0]", "[5, 3.6]", "[-5, -3.6]", "[-5, -3.5999999999999996]", "[3.1, -0.7]", "[-0.1, 0.3]", "[1.7, 2.9]"} {
		text := "part: p\nunits: mm\nbodies: {a: {circle: {diameter: 40}, from: 0, to: 5.6}}\n" +
			"cuts: {c: {turned: {at: " + at + ", section: [[0, 3], [0.437, 2.7], [7, 6], [0, 6]]}}}\n"
		p, ps := form.Parse("peak.yaml", []byte(text))
		if len(ps) > 0 {
			t.Fatal(ps)
		}
		s, ps := Make(p)
		if len(ps) > 0 {
			t.Fatal(ps)
		}
		if got, _ := s.Volume(); math.Abs(got-want) > 1e-9*want {
			t.Errorf("at %s: %.12g, want %.12g", at, got, want)
		}
	}
}

// TestMean: of the height of a cone of 45 degrees along a line that passes beside its axis, in closed form; of a kink to a thousandth of
// its size.
func TestMean(t *testing.T) {
	for _, off := range []float64{1, 0.1, 0.001} {
		want := math.Sqrt(1+off*off)/2 + off*off/2*math.Asinh(1/off)
		if got := Mean(func(t float64) float64 { return math.Hypot(2*t-1, off) }); math.Abs(got-want) > 1e-10 {
			t.Errorf("beside by %g: %.12g, want %.12g", off, got, want)
		}
	}
	if got := Mean(func(t float64) float64 { return math.Max(0, t-0.3) }); math.Abs(got-0.245) > 1e-6 {
		t.Errorf("with a kink %.9g, want 0.245", got)
	}
}

// TestNearlyCoaxial: two cones whose axes lie a little apart have the void of two on one axis, but for what the shift adds: by hand
// frustums that meet where the radii are the same; a shift changes the volume by its square alone.
func TestNearlyCoaxial(t *testing.T) {
	z := (2 - 10.0/6 - 3) / (1.0/4 - 5.0/6)
	r := 3 + z/4
	want := math.Pi*400*8 - frustum(3, r, z) - frustum(r, 7, 8-z)
	for _, e := range []float64{0, 1e-5, 1e-4, 1e-3, 0.01, 0.02, 0.05} {
		p, ps := form.Parse("x.yaml", []byte(inMM+fmt.Sprintf("bodies: {b: {circle: {diameter: 40}, from: 0, to: 8}}\n"+
			"cuts: {c0: {turned: {section: [[0, 2], [2, 2], [7, 8], [0, 8]]}}, c1: {turned: {at: [%f, 0], section: [[0, 0], [3, 0], [5, 8], [0, 8]]}}}\n", e)))
		if len(ps) > 0 {
			t.Fatal(ps)
		}
		s, ps := Make(p)
		if len(ps) > 0 {
			t.Fatal(ps)
		}
		if v, _ := s.Volume(); math.Abs(v-want) > 1e-6*want+20*e*e {
			t.Errorf("axes %g apart: %.9g, want %.9g", e, v, want)
		}
	}
}

// TestBallsThatGraze: two balls side by side at different heights whose surfaces cross by a micrometre or so meet over a stretch of height
// far shorter than the steps at which sections are compared: it is found.
func TestBallsThatGraze(t *testing.T) {
	for _, deep := range []float64{1e-5, 1e-4, 1e-3} {
		// Middles 8 apart in plan and 3 in height: sections meet at first and last where the circle in which the balls cross does.
		d := math.Hypot(8, 3)
		p, ps := form.Parse("x.yaml", []byte(inMM+fmt.Sprintf("bodies: {b: {circle: {diameter: 40}, from: 0, to: 12}}\n"+
			"cuts: {c0: {ball: {diameter: %.12f, at: [-4, 0], z: 4}}, c1: {ball: {diameter: %.12f, at: [4, 0], z: 7}}}\n", d+deep, d+deep)))
		if len(ps) > 0 {
			t.Fatal(ps)
		}
		s, ps := Make(p)
		if len(ps) > 0 {
			t.Fatal(ps)
		}
		radius := math.Sqrt((d+deep)*(d+deep)-d*d) / 2 // of the circle in which they cross
		reach := radius * 8 / d
		for _, want := range []float64{5.5 - reach, 5.5 + reach} {
			if !slices.ContainsFunc(s.stations, func(z float64) bool { return math.Abs(z-want) < 1e-6 }) {
				t.Errorf("%g deep: stations %v, want one at %.9f", deep, s.stations, want)
			}
		}
	}
}

// TestDraftsPastRadii: where a draft takes a corner radius away the corner is a mitre from there on. At a depth s the outline is the
// rectangle less what is left of the radii, (l - 2d)(w - 2d) - (1 - pi/4) sum (r - d)2 with d = s tan(angle); the walls are planes and cones
// that all lean alike, so that their area is what they take in plan over the sine of the angle.
func TestDraftsPastRadii(t *testing.T) {
	for _, x := range []struct {
		length, width, depth, angle float64
		radii                       []float64
	}{
		{24, 14, 9, 5, []float64{0.5, 0.5, 0.5, 0.5}},
		{24, 14, 9, 5, []float64{0.5, 0.3, 2, 0}},
		{24, 14, 9, 5, []float64{0.5, 0.3, 0.7, 0.1}},
		{10, 8, 6, 20, []float64{1, 1, 0.4, 0.4}},
	} {
		lean := tan(x.angle)
		e := x.depth * lean
		lost := func(d float64) (sum float64) {
			for _, r := range x.radii {
				sum += (1 - math.Pi/4) * math.Pow(math.Max(0, r-d), 2)
			}
			return sum
		}
		area := func(d float64) float64 { return (x.length-2*d)*(x.width-2*d) - lost(d) }
		pit := x.depth / 6 * (x.length*x.width + 4*(x.length-e)*(x.width-e) + (x.length-2*e)*(x.width-2*e))
		for _, r := range x.radii {
			pit -= (1 - math.Pi/4) * (r*r*r - math.Pow(math.Max(0, r-e), 3)) / 3 / lean
		}
		list := strings.Join(strings.Fields(fmt.Sprint(x.radii)), ", ")
		for _, way := range [2][2]string{{"top", "down"}, {"bottom", "up"}} {
			s := shapeOf(t, fmt.Sprintf("%sbodies: {a: {rectangle: {length: 60, width: 40}, from: 0, to: 14}}\ncuts: {p: {rectangle: {length: %g, "+
				"width: %g, turn: 12, corner: %s}, open: %s, depth: %g, draft: {angle: %g, narrows: %s}}}\n",
				inMM, x.length, x.width, list, way[0], x.depth, x.angle, way[1]))
			volume, surface := s.Volume()
			if want := 60*40*14 - pit; math.Abs(volume-want) > 1e-9*want {
				t.Errorf("%v, %s: volume %.12g, want %.12g", x, way[0], volume, want)
			}
			slope := (area(0) - area(e)) / math.Sin(x.angle*math.Pi/180)
			if want := 2*60*40 + 2*100*14 - area(0) + area(e) + slope; math.Abs(surface-want) > 1e-9*want {
				t.Errorf("%v, %s: surface %.12g, want %.12g", x, way[0], surface, want)
			}
			if !Mitres(s.part, s.part.Cuts[0]) {
				t.Errorf("%v: no note", x)
			}
		}
	}
}
