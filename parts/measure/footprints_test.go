package measure

import (
	"math"
	"slices"
	"testing"

	"corerod/parts/subject"
)

// printsOf are the footprints of all subjects of a kind, each copy's by itself, with the places of the copies.
func printsOf(p *subject.Part, k *subject.Kind) (all []subject.Footprint, at []*subject.Common) {
	for _, s := range subject.Of(p, k) {
		for _, c := range subject.CopiesOf(s) {
			all, at = append(all, c.Place().Footprints...), append(at, c.Place())
		}
	}
	return all, at
}

// TestFootprints holds the gaps between subjects to closed forms: holes of every outline, walls along a chord and along a
// strip, corners, marks and bosses, and what lies in what.
func TestFootprints(t *testing.T) {
	p := made(t, `bodies:
  plate: {rectangle: {length: 80, width: 60}, from: 0, to: 10}
  boss: {circle: {diameter: 4, at: [30, -20]}, from: 10, to: 11}
cuts:
  pins: {circle: {diameter: 6, at: [0, 20]}, repeat: {count: 3, step: [10, 0]}}
  window: {rectangle: {length: 20, width: 10, at: [-20, 0]}}
  pocket: {circle: {diameter: 12, at: [25, 0]}, open: top, depth: 4}
marks:
  number: {on: plate.top, raised: 0.3, box: [0, -20, 8, 4], text: A}
`)
	hole := func(name string, n int) subject.Footprint {
		return subject.CopiesOf(the(t, p.Holes, name))[n].Place().Footprints[0]
	}
	boss, mark := p.Bosses[0].Footprints[0], p.Marks[0].Footprints[0]
	corner := func(x, y float64) subject.Footprint {
		prints, at := printsOf(p, subject.CornerKind)
		return prints[slices.IndexFunc(at, func(c *subject.Common) bool { return math.Hypot(c.X-x, c.Y-y) < 1e-9 })]
	}
	for _, c := range []struct {
		name string
		a, b subject.Footprint
		want float64
	}{
		{"neighbouring pins", hole("pins", 0), hole("pins", 1), 4},
		{"the outer pins", hole("pins", 0), hole("pins", 2), 14},
		{"pin to window corner", hole("pins", 0), hole("window", 0), math.Hypot(10, 15) - 3},
		{"pin to pocket", hole("pins", 2), hole("pocket", 0), math.Hypot(5, 20) - 9},
		{"window to its own corner", hole("window", 0), corner(-10, 5), 0},
		{"window to a corner of the plate", hole("window", 0), corner(-40, 30), math.Hypot(10, 25)},
		{"two corners", corner(-40, 30), corner(40, -30), 100},
		{"boss to mark", boss, mark, 24},
		{"boss to pocket", boss, hole("pocket", 0), math.Hypot(5, 20) - 8},
		{"mark to window", mark, hole("window", 0), math.Hypot(6, 13)},
	} {
		if got, back := c.a.Gap(c.b), c.b.Gap(c.a); math.Abs(got-c.want) > 1e-9 || got != back {
			t.Errorf("%s: %.12g and %.12g, not %.12g", c.name, got, back, c.want)
		}
	}
}

// TestFootprintsInside: what lies in another has no gap to it; what lies in the void of a ring is not in the ring.
func TestFootprintsInside(t *testing.T) {
	p := made(t, `bodies:
  disc: {circle: {diameter: 60}, from: 0, to: 10}
cuts:
  ring: {turned: {section: [[22, 8], [25, 8], [25, 10], [22, 10]]}}
  pin: {circle: {diameter: 3, at: [5, 0]}}
`)
	groove := p.Grooves[0].Footprints[0]
	pin := the(t, p.Holes, "pin").Footprints[0]
	if d := groove.Gap(pin); math.Abs(d-(22-6.5)) > 1e-9 {
		t.Errorf("ring groove to a pin in its middle: %g", d)
	}
	for _, s := range p.Holes {
		if d := s.Footprints[0].Gap(s.Footprints[0]); d != 0 {
			t.Errorf("%s to itself: %g", s.Name, d)
		}
	}
	for _, w := range p.Walls {
		if d := w.Footprints[0].Gap(pin); slices.Contains(w.Between, "pin") && d != 0 {
			t.Errorf("the wall %s ends on the pin, %g away", w.Name, d)
		}
	}
}

// TestFootprintsOfWalls: the wall between two parallel sides is the strip between them, the one between two circles a chord.
func TestFootprintsOfWalls(t *testing.T) {
	p := made(t, `bodies:
  plate: {rectangle: {length: 80, width: 40}, from: 0, to: 10}
cuts:
  left: {rectangle: {length: 10, width: 20, at: [-10, 0]}}
  right: {rectangle: {length: 10, width: 20, at: [2, 0]}}
  pin: {circle: {diameter: 6, at: [-4, 16]}}
`)
	web := the(t, p.Walls, "left to right")
	pin := the(t, p.Holes, "pin").Footprints[0]
	if d := web.Footprints[0].Gap(pin); math.Abs(d-3) > 1e-9 { // the strip ends at y 10, the pin begins at 13
		t.Errorf("web to pin: %g", d)
	}
	left, right := the(t, p.Holes, "left").Footprints[0], the(t, p.Holes, "right").Footprints[0]
	if d := left.Gap(right); math.Abs(d-web.Thickness) > 1e-9 || web.Footprints[0].Gap(left) != 0 || web.Footprints[0].Gap(right) != 0 {
		t.Errorf("%g between the windows, the web is %g thick", d, web.Thickness)
	}
}

// TestFootprintsOfKinds: subjects have a footprint for each of their places where their kind declares an outline, and
// none where it does not.
func TestFootprintsOfKinds(t *testing.T) {
	p := made(t, `bodies:
  plate: {rectangle: {length: 80, width: 60}, from: 0, to: 10}
  boss: {circle: {diameter: 4, at: [30, -20]}, from: 10, to: 11}
cuts:
  pins: {circle: {diameter: 6, at: [0, 20]}, repeat: {count: 3, step: [10, 0]}}
  notch: {polygon: {points: [[-50, 0], [-30, 5], [-30, -5]]}}
  ring: {turned: {section: [[8, 8], [10, 8], [10, 10], [8, 10]]}}
marks:
  number: {on: plate.top, raised: 0.3, box: [0, -20, 8, 4], text: A}
`)
	seen := map[string]bool{}
	for _, k := range subject.Kinds() {
		for _, s := range subject.Of(p, k) {
			c := s.Place()
			want := 0
			if k.Outline != "" {
				want, seen[k.Name] = max(1, len(c.Places)), true
			}
			if len(c.Footprints) != want {
				t.Errorf("%s %s has %d footprints, not %d", k.Name, c.Name, len(c.Footprints), want)
			}
		}
	}
	for _, k := range []string{"hole", "wall", "corner", "boss", "groove", "mark", "gap"} {
		if !seen[k] {
			t.Errorf("no %s was looked at", k)
		}
	}
}
