package measure

import (
	"math"
	"testing"

	"corerod/parts/blank"
	"corerod/parts/form"
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
	w, ps := treated(s, rims, feet, nil)
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
	spandrel := 1 - pi/4               // of a square of 1, outside its quarter circle
	off := (5.0/6 - pi/4) / (1 - pi/4) // of its centroid from the centre of the circle, in both directions
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
  b: {of: bore, face: bottom, round: {radius: 1}}
`, bush - ringOf(spandrel, 9+off) - ringOf(spandrel, 6-off), 0},
		"feet": {`
bodies:
  plate: {circle: {diameter: 40}, from: 0, to: 5}
  hub: {circle: {diameter: 20}, from: 5, to: 15}
cuts: {sink: {circle: {diameter: 6}, open: bottom, depth: 3}}
edges:
  a: {of: hub, at: foot, round: {radius: 1}}
  b: {of: sink, at: foot, round: {radius: 1}}
`, pi*400*5 + pi*100*10 - pi*9*3 + ringOf(spandrel, 11-off) + ringOf(spandrel, 2+off), 0},
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
