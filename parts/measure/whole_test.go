package measure

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"corerod/parts"
	"corerod/parts/blank"
	"corerod/parts/form"
	"corerod/parts/subject"
)

func wholeOf(t *testing.T, text string) *blank.Shape {
	t.Helper()
	p, ps := form.Parse("part.yaml", []byte(text))
	if len(ps) > 0 {
		t.Fatal(ps)
	}
	s, ps := blank.Make(p)
	if len(ps) > 0 {
		t.Fatal(ps)
	}
	rims, feet := findRims(s)
	if ps := checkEdges(s, rims, feet); len(ps) > 0 {
		t.Fatal(ps)
	}
	all, ps := treatments(s, rims, feet, func(*parts.Edge) bool { return true })
	if len(ps) > 0 {
		t.Fatal(ps)
	}
	w, ps := withChanges(s, all)
	if len(ps) > 0 {
		t.Fatal(ps)
	}
	return w
}

// ringOf is the volume of a figure of an area turned round an axis at the distance of its centroid, by Pappus.
func ringOf(area, r float64) float64 { return 2 * math.Pi * r * area }

// drafted is the volume of a cone's stump of 20 mm across its foot and 10 mm high, 10 deg from the axis, its rims round by 1 mm: the cone,
// less what lies between each radius and the corner, a kite of two right triangles less a sector.
func drafted() float64 {
	tan := math.Tan(10 * math.Pi / 180)
	top := 10 - 10*tan
	v := math.Pi * 10 / 3 * (100 + 10*top + top*top)
	for _, corner := range []struct{ r, angle float64 }{{top, 100}, {10, 80}} { // of the material, degrees
		half := corner.angle / 2 * math.Pi / 180
		side := 1 / math.Tan(half) // from the corner to where the radius begins
		out := math.Pi/2 - half    // half the turn of the arc
		kite, sector := side, out  // areas, the radius being 1
		far := 1 / math.Sin(half)  // of the centre from the corner
		// Along the bisector from the corner: the kite is two triangles with corners at 0, at far and where the radius begins.
		begins := side * math.Cos(half)
		at := (kite*(far+begins)/3 - sector*(far-2*math.Sin(out)/(3*out))) / (kite - sector)
		// The bisector leads inward, at half the angle from the end face.
		v -= ringOf(kite-sector, corner.r-at*math.Cos(half))
	}
	return v
}

// TestRimsByPappus: volume and surface of rims and feet in closed form.
func TestRimsByPappus(t *testing.T) {
	const pi = math.Pi
	spandrel := 1 - pi/4           // of a square of 1, outside its quarter circle
	off := 1 - (10-3*pi)/(12-3*pi) // of its centroid from the centre of the circle, in both directions
	bush := pi * (10*10 - 5*5) * 20
	for name, c := range map[string]struct {
		text            string
		volume, surface float64
	}{
		"chamfers": {`
bodies: {bush: {circle: {diameter: 20}, from: 0, to: 20}}
cuts: {bore: {circle: {diameter: 10}}}
edges:
  a: {of: bush, face: top, chamfer: {width: 0.5, slope: 45}}
  b: {of: bore, face: top, chamfer: {width: 0.4, slope: 45}}
`, bush - ringOf(0.125, 10-0.5/3) - ringOf(0.08, 5+0.4/3),
			2*pi*10*19.5 + 2*pi*5*19.6 + pi*(100-25) + pi*(9.5*9.5-5.4*5.4) + pi*(10+9.5)*0.5*math.Sqrt2 + pi*(5+5.4)*0.4*math.Sqrt2},
		"chamfer with a flat": {`
bodies: {bush: {circle: {diameter: 20}, from: 0, to: 20}}
cuts: {bore: {circle: {diameter: 10}}}
edges:
  a: {of: bush, face: bottom, chamfer: {width: 0.5, slope: 45, flat: 0.2}}
`, bush - ringOf(0.1, 9.9) - ringOf(0.125, 9.8-0.5/3), 0},
		"rounds": {`
bodies: {bush: {circle: {diameter: 20}, from: 0, to: 20}}
cuts: {bore: {circle: {diameter: 10}}}
edges:
  a: {of: bush, face: top, round: {radius: 1}}
  b: {of: bore, face: bottom, round: {radius: 0.8}}
`, bush - ringOf(spandrel, 9+off) - ringOf(0.64*spandrel, 5.8-0.8*off), 0},
		"feet": {`
bodies:
  plate: {circle: {diameter: 40}, from: 0, to: 5}
  hub: {circle: {diameter: 20}, from: 5, to: 15}
cuts: {sink: {circle: {diameter: 6}, open: bottom, depth: 3}}
edges:
  a: {of: hub, at: foot, round: {radius: 1}}
  b: {of: sink, at: foot, round: {radius: 0.5}}
`, pi*400*5 + pi*100*10 - pi*9*3 + ringOf(spandrel, 11-off) + ringOf(0.25*spandrel, 2.5+0.5*off), 0},
		"square": {`
bodies: {block: {rectangle: {length: 20, width: 10}, from: 0, to: 10}}
edges:
  a: {of: block, face: top, chamfer: {width: 0.5, slope: 45}}
`, 2000 - 30*0.25 + 4.0/3*0.125, 0},
		"rounded square past its radii": {`
bodies: {block: {rectangle: {length: 20, width: 10, corner: 0.3}, from: 0, to: 10}}
edges:
  a: {of: block, face: top, chamfer: {width: 0.5, slope: 45}}
`, 9.5*(200-(4-pi)*0.09) + 200*0.5 - 30*0.25 + 4.0/3*0.125 - (4-pi)*0.027/3, 0},
		"two heights": {`
bodies:
  plate: {rectangle: {length: 40, width: 40}, from: 0, to: 5}
  hub: {rectangle: {at: [10, 0], length: 20, width: 40}, from: 0, to: 9}
cuts: {slot: {rectangle: {length: 30, width: 4}}}
edges:
  a: {of: slot, face: top, chamfer: {width: 0.5, slope: 45}}
`, 1600*5 + 800*4 - 120*5 - 60*4 - 2*(30*0.125+4*0.125+2*0.125/3), 0},
		"drafted, round": {`
bodies: {stump: {circle: {diameter: 20}, from: 0, to: 10, draft: {angle: 10, narrows: up}}}
edges:
  a: {of: stump, face: top, round: {radius: 1}}
  b: {of: stump, face: bottom, round: {radius: 1}}
`, drafted(), 0},
	} {
		text := "part: p\nunits: mm\nmaterial: {name: iron-copper, density: 6.8}\n" + c.text
		w := wholeOf(t, text)
		volume, surface := w.Volume()
		if math.Abs(volume/c.volume-1) > 1e-9 {
			t.Errorf("%s: volume %.12g, by Pappus %.12g", name, volume, c.volume)
		}
		if c.surface > 0 && math.Abs(surface/c.surface-1) > 1e-9 {
			t.Errorf("%s: surface %.12g, by Pappus %.12g", name, surface, c.surface)
		}
	}
}

// TestRimsHoweverDrawn: a chamfer, a round and a foot give the same figures whether they are drawn as edges, in a turned section or as
// short drafts of bodies and cuts of their own.
func TestRimsHoweverDrawn(t *testing.T) {
	const head = "part: p\nunits: mm\nmaterial: {density: 6.8}\n"
	left := map[string]float64{"chamfers": 4 - 0.9, "flats and rounds": 4 - 0.7}
	for name, ways := range map[string][]string{
		"chamfers": {`
bodies: {bush: {circle: {diameter: 20}, from: 0, to: 20}}
cuts: {bore: {circle: {diameter: 12}}}
edges:
  a: {of: bush, face: top, chamfer: {width: 0.5, slope: 40}}
  b: {of: bore, face: top, chamfer: {width: 0.4, slope: 45}}
  c: {of: bore, face: bottom, chamfer: {width: 0.4, slope: 45}}
`, `
bodies:
  bush: {turned: {section: [[6.4, 0], [10, 0], [10, 19.580450184411386], [9.5, 20], [6.4, 20], [6, 19.6], [6, 0.4]]}}
`, `
bodies: {bush: {circle: {diameter: 20}, from: 0, to: 19.580450184411386}, rim: {circle: {diameter: 20}, from: 19.580450184411386,
  to: 20, draft: {angle: 50, narrows: up}}}
cuts:
  bore: {circle: {diameter: 12}}
  upper: {circle: {diameter: 12.8}, open: top, depth: 0.4, draft: {angle: 45, narrows: down}}
  lower: {turned: {section: [[0, -1], [7.4, -1], [6, 0.4], [0, 0.4]]}}
`, `
bodies: {bush: {circle: {diameter: 20}, from: 0, to: 20}}
cuts:
  bevel: {turned: {section: [[9.5, 20], [11.5, 18.321800737645545], [11.5, 20]]}}
  bore: {circle: {diameter: 12}}
  upper: {turned: {section: [[0, 13.6], [6.4, 20], [0, 20]]}}
  lower: {circle: {diameter: 12.8}, open: bottom, depth: 3, draft: {angle: 45, narrows: up}}
`},
		"flats and rounds": {`
bodies: {bush: {circle: {diameter: 20}, from: 0, to: 20}}
cuts: {bore: {circle: {diameter: 12}}}
edges:
  a: {of: bush, face: top, chamfer: {width: 0.5, slope: 45, flat: 0.2}}
  b: {of: bore, face: bottom, round: {radius: 0.6}}
`, `
bodies:
  bush: {turned: {section: [[6.6, 0], [10, 0], [10, 19.5], [9.8, 19.5], [9.3, 20], [6, 20], [6, 0.6], {arc: [6.6, 0], radius: 0.6, turn: ccw}]}}
`},
		"copies": {`
bodies: {bush: {rectangle: {length: 30, width: 12}, from: 0, to: 6}}
cuts: {h: {circle: {diameter: 5, at: [-7, 0]}, repeat: {count: 2, step: [14, 0]}}}
edges: {a: {of: h, face: top, chamfer: {width: 1, slope: 45}}}
`, `
bodies: {bush: {rectangle: {length: 30, width: 12}, from: 0, to: 6}}
cuts:
  h: {circle: {diameter: 5, at: [-7, 0]}, repeat: {count: 2, step: [14, 0]}}
  s: {turned: {at: [-7, 0], section: [[0, 5], [2.5, 5], [3.5, 6], [0, 6]]}, repeat: {count: 2, step: [14, 0]}}
`},
		"feet": {`
bodies:
  plate: {circle: {diameter: 40}, from: 0, to: 5}
  hub: {circle: {diameter: 20}, from: 0, to: 15}
edges:
  a: {of: hub, at: foot, round: {radius: 1}}
`, `
bodies:
  hub: {turned: {section: [[0, 0], [20, 0], [20, 5], [11, 5], {arc: [10, 6], radius: 1, turn: cw}, [10, 15], [0, 15]]}}
`},
	} {
		var first string
		for k, way := range ways {
			p, ps := form.Parse("part.yaml", []byte(head+way))
			if len(ps) > 0 {
				t.Fatal(name, ps)
			}
			m, ps := Part(p)
			if len(ps) > 0 {
				t.Fatal(name, ps)
			}
			q := m.Subject
			all := fmt.Sprintf("volume %.7f surface %.6f plan %.7f\n", q.Volume, q.Surface, q.PlanArea)
			for _, w := range q.Walls {
				all += fmt.Sprintf("wall %.9f at rim %.9f high %.9f ratio %.9f z %.6f %.6f\n", w.Thickness, w.AtRim.Value, w.Height, w.Ratio,
					w.ZLow, w.ZHigh)
			}
			slices.SortFunc(q.Rims, func(a, b *subject.Rim) int {
				return strings.Compare(fmt.Sprint(a.ZLow, a.Member), fmt.Sprint(b.ZLow, b.Member))
			})
			for _, r := range q.Rims {
				all += fmt.Sprintf("rim %s %s %.6f %s width %.9f rise %.9f slope %.7f flat %.9f\n", r.Treatment, r.Face, r.ZLow, r.Member, r.Width.Value,
					r.Rise.Value, r.Slope.Value, r.Flat.Value)
			}
			for _, x := range q.Steps {
				all += fmt.Sprintf("step %.9f foot %.9f\n", x.Rise, x.FootRadius.Value)
			}
			all += fmt.Sprintf("levels %v %v columns %d feathers %d tapers %d holes %d gaps %d", q.LevelsTop, q.LevelsBottom, len(q.Columns),
				len(q.Feathers), len(q.Tapers), len(q.Holes), len(q.Gaps))
			if left[name] > 0 {
				near(t, name+": wall at its rims", q.Walls[0].AtRim.Value, left[name])
			}
			if k == 0 {
				first = all
			} else if all != first {
				t.Errorf("%s, the way %d:\n%s\nthe first:\n%s", name, k+1, all, first)
			}
		}
	}
}
