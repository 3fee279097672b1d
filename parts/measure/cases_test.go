package measure

import (
	"fmt"
	"math"
	"testing"

	"corerod/parts/subject"
)

// TestKnownCases measures parts that are drawn as do and don't cases of the trade: a bevel with and without its flat and
// a full radius on an end face (a trade journal's introduction to powder metallurgy; Bralla, Design for
// Manufacturability Handbook), sharp and round plan corners (the same introduction), bosses in a punch face (the
// industry federation's public design pages: 15 % of the height, 12 degrees), lettering on a seat (Bralla), ball bushes
// with and without a band (ISO 2795). What is measured here is what rules judge.
func TestKnownCases(t *testing.T) {
	disc := "bodies: {a: {circle: {diameter: 30}, from: 0, to: 10}}\n"
	rim := func(edge string) *subject.Rim {
		return the(t, made(t, disc+"edges: {e: {of: a, face: top, "+edge+"}}\n").Rims, "a top")
	}
	if r := rim("chamfer: {width: 0.5, slope: 45}"); r.Treatment != "chamfer" || r.Slope.Value != 45 || !r.Flat.Known || r.Flat.Value != 0 {
		t.Errorf("bevel without a flat: %+v", r)
	}
	if r := rim("chamfer: {width: 0.5, slope: 45, flat: 0.2}"); r.Flat.Value != 0.2 || math.Abs(r.Rise.Value-0.5) > 1e-9 || r.Land.Known {
		t.Errorf("bevel with a flat: %+v", r)
	}
	if r := rim("round: {radius: 1}"); r.Treatment != "round" || r.Slope.Known || r.Flat.Known {
		t.Errorf("full radius: %+v", r)
	}
	for corner, radius := range map[string]float64{"": 0, ", corner: 0.5": 0.5} {
		p := made(t, "bodies: {a: {rectangle: {length: 30, width: 20"+corner+"}, from: 0, to: 8}}\n")
		if len(p.Corners) != 1 || p.Corners[0].Radius != radius || p.Corners[0].Inside || len(p.Corners[0].Places) != 4 {
			t.Errorf("plan corners of %g: %+v", radius, p.Corners)
		}
	}
	boss := func(rise string) *subject.Boss {
		p := made(t, "bodies: {disc: {circle: {diameter: 40}, from: 0, to: "+map[string]string{"5": "15", "3": "17"}[rise]+
			"}, boss: {circle: {diameter: 6, at: [8, 0]}, from: "+
			map[string]string{"5": "15, to: 20", "3": "17, to: 20, draft: {angle: 12, narrows: up}"}[rise]+"}}\n")
		return the(t, p.Bosses, "boss")
	}
	if b := boss("5"); b.Share != 0.25 || b.Draft != 0 {
		t.Errorf("high straight boss: %+v", b)
	}
	if b := boss("3"); math.Abs(b.Share-0.15) > 1e-9 || b.Draft != 12 || b.Width != 6 {
		t.Errorf("low drafted boss: %+v", b)
	}
	mark := func(height, seats string) *subject.Mark {
		return made(t, disc+seats+"marks: {m: {on: a.top, "+height+": 0.3, box: [0, 0, 6, 3], text: A}}\n").Marks[0]
	}
	if m := mark("raised", "seats: [a.top]\n"); !m.Seating || m.Rise != 0.3 {
		t.Errorf("raised on a seat: %+v", m)
	}
	if m := mark("recessed", "seats: [a.bottom]\n"); m.Seating || m.Rise != -0.3 || math.Abs(m.Share-0.03) > 1e-9 {
		t.Errorf("recessed: %+v", m)
	}
	for band, least := range map[string]float64{"": 0, ", band: 6": 6} {
		p := made(t, "bodies: {ball: {ball: {diameter: 20"+band+"}}}\ncuts: {bore: {circle: {diameter: 8}}}\n")
		if got := belt(p); math.Abs(got-least) > 1e-5 || !p.Band.Known || math.Abs(p.Band.Value-least) > 1e-9 {
			t.Errorf("a ball's band is %g high, said to be %v, drawn %g", got, p.Band, least)
		}
	}
	for text, band := range map[string]float64{
		"bodies: {a: {turned: {section: [[0, 0], [6, 0], [10, 4], [10, 6], [6, 10], [0, 10]]}}}\n":                                      2,
		"bodies: {a: {turned: {section: [[0, 0], [6, 0], [10, 4], [6, 8], [0, 8]]}}}\n":                                                 0,
		"bodies: {a: {turned: {section: [[0, 0], [10, 0], [6, 8], [0, 8]]}}}\n":                                                         -1,
		"bodies: {a: {ball: {diameter: 20}}, b: {circle: {diameter: 24}, from: -3, to: 3}}\n":                                           -1,
		"bodies: {a: {ball: {diameter: 20}}, b: {circle: {diameter: 10}, from: -13, to: 3}}\ncuts: {c: {ball: {diameter: 4, z: 10}}}\n": 0,
		"bodies: {a: {circle: {diameter: 20}, from: 0, to: 8}}\n":                                                                       -1,
	} {
		if p := made(t, text); p.Band.Known != (band >= 0) || p.Band.Known && math.Abs(p.Band.Value-band) > 1e-9 {
			t.Errorf("band %v, want %g:\n%s", p.Band, band, text)
		}
	}
}

// belt is the height of the wall between bore and outside at its thickest: the band.
func belt(p *subject.Part) float64 {
	if p.Width < 19.9 {
		return 2 * math.Sqrt(100-p.Width*p.Width/4)
	}
	return 0
}

// TestKnownTeeth measures gears that are drawn as do and don't cases: a hub near the roots (the industry federation's public
// design pages), fine pitches (a gear association's powder-metal specification, as a trade article quotes it), steep
// helices (common practice, no source).
func TestKnownTeeth(t *testing.T) {
	for _, clear := range []float64{0.8, 2.0} {
		root := 2.0 * (20 - 2*1.25) / 2 // the root radius of 20 teeth of module 2
		p := made(t,
			fmt.Sprintf(
				"bodies: {teeth: {gear: {module: 2, teeth: 20}, from: 0, to: 8}, hub: {circle: {diameter: %g}, from: 0, to: 14}}\ncuts: {bore: {circle: {diameter: 10}}}\n", 2*(root-clear)))
		if q := the(t, p.Teeth, "teeth"); !q.RootWall.Known || math.Abs(q.RootWall.Value-clear) > 1e-6 {
			t.Errorf("a hub %g from the roots: %+v", clear, q.RootWall)
		}
	}
	for _, module := range []float64{0.2, 0.4, 0.8} {
		p := made(t, fmt.Sprintf("bodies: {teeth: {gear: {module: %g, teeth: 30}, from: 0, to: 5}}\n", module))
		if q := the(t, p.Teeth, "teeth"); q.Module.Value != module || q.Count != 30 || q.Helix != 0 || q.Internal {
			t.Errorf("module %g: %+v", module, q)
		}
	}
	for _, helix := range []float64{20, 35} {
		p := made(t, fmt.Sprintf("bodies: {teeth: {gear: {module: 1, teeth: 30, helix: %g, hand: left}, from: 0, to: 5}}\n", helix))
		if q := the(t, p.Teeth, "teeth"); q.Helix != helix ||
			math.Abs(q.Lead.Value-math.Pi*30/math.Cos(helix*math.Pi/180)/math.Tan(helix*math.Pi/180)) > 1e-9 || q.Module.Value != 1 ||
			math.Abs(p.Outside-(30/math.Cos(helix*math.Pi/180)+2)) > 1e-6 {
			t.Errorf("helix %g: %+v, outside %g", helix, q, p.Outside)
		}
	}
}
