package form

import (
	"math"
	"testing"

	"corerod/parts/plane"
	"corerod/parts/source"
)

// TestTurnedOverProfiles: a profile of a part that is turned over about x is its mirror image, also where its corners or flats differ.
func TestTurnedOverProfiles(t *testing.T) {
	for _, profile := range []string{
		"rectangle: {length: 20, width: 12, at: [3, 4], turn: 25, corner: [1, 2, 3, 4]}",
		"polygon: {points: [[0, 0], [20, 0], [15, 9]], corner: [0.5, 1, 2]}",
		"path: {start: [0, 0], steps: [{line: [20, 0]}, {arc: [20, 10], radius: 6, turn: ccw}, {line: [0, 12]}], corner: [1, 0, 0, 2]}",
		"flatted: {diameter: 20, flats: [9, 8.5, 9.5, 8], at: [1, 2], turn: 12, corner: 0.4}",
		"flatted: {diameter: 20, flats: [9, 8.5], turn: 12}",
		"regular: {sides: 5, inscribed: 20, at: [1, 2], turn: 7, corner: 1}",
		"ellipse: {length: 20, width: 9, at: [1, 2], turn: 33}",
	} {
		text := "part: p\nunits: mm\nbodies: {a: {" + profile + ", from: 0, to: 4}}\n"
		doc, ps := source.Open("p.yaml", []byte(text))
		if len(ps) > 0 {
			t.Fatal(profile, ps)
		}
		edits, ok := TurnOver(doc.Root, 4)
		if !ok {
			t.Fatal(profile)
		}
		b, err := doc.With(edits...)
		if err != nil {
			t.Fatal(profile, err)
		}
		draw := func(b []byte) plane.Loop {
			p, ps := Parse("p.yaml", b)
			if len(ps) > 0 {
				t.Fatalf("%v\n%s", ps, b)
			}
			l, err := Draw(p.Bodies[0].Profile)
			if err != nil {
				t.Fatal(err)
			}
			return l
		}
		before, after := draw([]byte(text)), draw(b)
		for i := range before {
			for _, f := range []float64{0, 0.3, 0.5, 0.8} {
				at := before[i].At(f)
				at.Y = -at.Y
				if _, near := after.Nearest(at); near.Distance(at) > 1e-9 {
					t.Fatalf("%s: %v is %g off\n%s", profile, at, near.Distance(at), b)
				}
			}
		}
		if a, c := before.Moments().Area, after.Moments().Area; math.Abs(a-c) > 1e-9 {
			t.Errorf("%s: area %g, then %g", profile, a, c)
		}
	}
}
