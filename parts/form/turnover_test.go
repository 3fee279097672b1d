package form

import (
	"math"
	"strings"
	"testing"

	"corerod/parts"
	"corerod/parts/source"
)

// TestTurnOver: y changes sign, a height z becomes 14 - z, faces and ways change places; what lies along x and sizes stay.
func TestTurnOver(t *testing.T) {
	p := turnedOver(t, bracket, 14)
	plate, pin, holes, bowl := p.Bodies[0], p.Bodies[1], p.Cuts[0], p.Cuts[1]
	near := func(what string, got, want float64) {
		t.Helper()
		if math.Abs(got-want) > 1e-9 {
			t.Errorf("%s is %g, want %g", what, got, want)
		}
	}
	near("plate from", plate.Extent.From, 8)
	near("plate to", plate.Extent.To, 14)
	near("plate x", Centre(plate.Profile).X, 1)
	near("plate y", Centre(plate.Profile).Y, -2)
	near("pin from", pin.Extent.From, 0)
	near("pin to", pin.Extent.To, 8)
	near("holes y", Centre(holes.Profile).Y, -5)
	near("holes about", holes.Repeat[0].About.Y, -1)
	near("oil hole", p.Sides[0].At, 11)
	near("oil hole toward", p.Sides[0].Toward, -90)
	near("mark", p.Marks[0].At.Y, 4)
	if pin.Draft.Up || p.Edges[0].Face != "bottom" || p.Marks[0].On != (parts.Face{Feature: "plate", Face: "bottom"}) {
		t.Errorf("%+v, %+v, %+v", pin.Draft, p.Edges[0], p.Marks[0])
	}
	section, _ := HalfSection(bowl.Profile)
	if section.Start != (parts.Point{X: 0, Y: 10}) || section.Steps[1].To != (parts.Point{X: 5, Y: 8}) || !section.Steps[1].Clockwise {
		t.Errorf("%+v", section)
	}
}

// turnedOver reads a part file that is turned over.
func turnedOver(t *testing.T, text string, ends float64) *parts.Part {
	t.Helper()
	doc, ps := source.Open("x.yaml", []byte(text))
	if len(ps) > 0 {
		t.Fatal(ps)
	}
	edits, ok := TurnOver(doc.Root, ends)
	if !ok {
		t.Fatal("it cannot be turned over")
	}
	b, err := doc.With(edits...)
	if err != nil {
		t.Fatal(err)
	}
	p, ps := Parse("x.yaml", b)
	if len(ps) > 0 {
		t.Fatalf("%v\n%s", ps, b)
	}
	return p
}

// TestTurnOverTwice: turned over twice a part is what it was, by the digest of all that its file draws.
func TestTurnOverTwice(t *testing.T) {
	for _, text := range []string{bracket,
		"part: p\nunits: in\nbodies: {b: {ball: {diameter: 1, band: 0.2}}}\ncuts: {c: {path: {start: [0, 0.1], steps: [{line: [0.2, 0.1]}, {arc: [0, 0.3], radius: 0.2, turn: ccw}]}, open: top, depth: 0.2}}\n",
		"part: p\nunits: mm\nbodies: {g: {gear: {module: 1, teeth: 20, helix: 15, hand: left, turn: 4}, from: 0, to: 6}}\nseats: [g.bottom]\n",
		"part: p\nunits: mm\nbodies: {a: {circle: {diameter: 30}, from: 0, to: 6, tilt: {face: top, angle: 3, toward: 20}, ramp: {face: bottom, start_angle: 5, end_angle: 95, rise: 1, inner: 12}}}\ncuts: {c: {circle: {diameter: 6}, open: top, depth: 2, island: {rectangle: {length: 2, width: 1, turn: 30, at: [0, 0.5], corner: [0, 0.1, 0.2, 0.3]}}}}\n",
		"part: p\nunits: mm\nbodies: {a: {circle: {diameter: 30}, from: 0, to: 6, face_teeth: {face: bottom, count: 5, depth: 0.5, angle: 60, inner: 12, outer: 30, turn: 4}}}\n"} {
		doc, ps := source.Open("x.yaml", []byte(text))
		if len(ps) > 0 {
			t.Fatal(ps)
		}
		was := ShapeOf(DrawnOf(Values(doc.Root)))
		for _, ends := range []float64{6, 6} {
			edits, ok := TurnOver(doc.Root, ends)
			if !ok {
				t.Fatal("it cannot be turned over")
			}
			b, err := doc.With(edits...)
			if err != nil {
				t.Fatal(err)
			}
			if doc, ps = source.Open("x.yaml", b); len(ps) > 0 {
				t.Fatalf("%v\n%s", ps, b)
			}
		}
		now := ShapeOf(DrawnOf(Values(doc.Root)))
		if strings.Contains(text, "ball:") { // its height, which was not written, now is
			continue
		}
		if was != now {
			t.Errorf("%s became\n%s", text, doc.Bytes)
		}
	}
}

// TestNotTurnedOver: what the file format cannot say of the part turned over.
func TestNotTurnedOver(t *testing.T) {
	const plain = "part: p\nunits: mm\nbodies: {b: {rectangle: {length: 9, width: 5, at: [0, 1]}, from: 0, to: 6}}\n"
	for _, more := range []string{
		"cuts: {c: {circle: {diameter: 1, at: [2, 0]}, repeat: {count: 3, over: 90}}}\n",
		"sides: {s: {flat: {distance: 2, toward: 0, z: 3}, in: b, made_by: machining}}\n",
		"dimensions: {d: {of: b.to, plus_minus: 0.1}}\n",
		"dimensions: {d: {of: \"b.at[1]\", plus_minus: 0.1}}\n",
	} {
		if _, ok := TurnOver(tree(t, plain+more), 6); ok {
			t.Errorf("turned over: %s", more)
		}
	}
	for _, more := range []string{"", "dimensions: {d: {of: b.height, plus_minus: 0.1}}\n",
		"dimensions: {d: {of: \"b.at[0]\", plus_minus: 0.1}}\n",
		"dimensions: {d: {of: b.top, flatness: 0.1}}\n", "hold: [b.to]\n", "cuts: {c: {circle: {diameter: 1, at: [2, 0]}, repeat: {count: 3, over: 360}}}\n"} {
		if _, ok := TurnOver(tree(t, plain+more), 6); !ok {
			t.Errorf("not turned over: %s", more)
		}
	}
}
