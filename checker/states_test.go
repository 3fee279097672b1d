package checker

import (
	"context"
	"testing"

	"corerod/checker/internal/samples"
	"corerod/parts/form"
	"corerod/rules"
)

// TestShapeDigests pins the digests of ten parts: they are of named values, so that nothing inside the program changes them. Where
// one must change, form.ShapeVersion rises.
func TestShapeDigests(t *testing.T) {
	for i, c := range []struct{ body, shape string }{
		{"bodies: {a: {circle: {diameter: 20}, from: 0, to: 6}}", "shape1:7b144b8c54bbc8e2"},
		{"bodies: {a: {rectangle: {length: 40, width: 30, corner: 3, turn: 15, at: [1.5, -2]}, from: 0, to: 4}}", "shape1:ad3273ad2a82a33b"},
		{"bodies: {a: {slot: {length: 40, width: 16}, from: 0, to: 7}}\ncuts: {pin: {circle: {diameter: 6, at: [3.4, 0]}}, seat: {circle: {diameter: 8, at: [-12, 0]}, open: top, depth: 2}}", "shape1:ccb7cdd0e040a36d"},
		{"bodies: {a: {polygon: {points: [[0, 0], [20, 0], [20, 12.7], [0, 12.7]], corner: 1.5}, from: 0, to: 5}}", "shape1:abf31bb4eca3599e"},
		{"bodies: {a: {path: {start: [0, 0], steps: [{line: [10, 0]}, {arc: [10, 10], radius: 5, turn: ccw}, {line: [0, 10]}]}, from: 0, to: 3}}", "shape1:0cb9abaf3c3d97d0"},
		{"bodies: {a: {gear: {module: 2, teeth: 24, helix: 10, hand: left}, from: 0, to: 8}}\ncuts: {bore: {circle: {diameter: 16}, made_by: machining}}", "shape1:e3c63ac28f511940"},
		{"bodies: {a: {circle: {diameter: 48}, from: 0, to: 6}}\ncuts: {bolts: {circle: {diameter: 4.2, at: [19.5, 0]}, repeat: {count: 4}}}", "shape1:c62f996dbdb6c26c"},
		{"bodies: {a: {turned: {section: [[5, 0], [15, 0], [12, 10], [5, 10]]}}}", "shape1:bb52a104e27e2e98"},
		{"bodies: {a: {circle: {diameter: 30}, from: 0, to: 22, draft: {angle: 2, narrows: up}}}\nsides: {oil: {hole: {diameter: 2.5, toward: 90, z: 15}, in: a, made_by: machining}}", "shape1:480d164369c17ccd"},
		{"bodies: {a: {circle: {diameter: 30}, from: 0, to: 6}}\nedges: {rim: {of: a, face: top, chamfer: {width: 0.6, slope: 30, flat: 0.2}}}\nmarks: {m: {on: a.top, recessed: 0.3, box: [0, 0, 6, 3], text: \"120\"}}\ndimensions: {d: {of: a.diameter, class: h9}}", "shape1:fd899a73c773a045"},
	} {
		p, ps := form.Parse("a.yaml", []byte("part: a\nunits: mm\n"+c.body+"\n"))
		if len(ps) > 0 {
			t.Fatal(ps)
		}
		if got := form.ShapeOf(form.DrawnBy(p)); got != c.shape {
			t.Errorf("part %d is %s, not %s", i, got, c.shape)
		}
	}
}

// TestShapesAlike: units, the order of keys, values that may be left out and places in the file do not change a shape; names of
// features change that of the part, and not that of the feature.
func TestShapesAlike(t *testing.T) {
	drawn := func(text string) []form.Drawn {
		p, ps := form.Parse("a.yaml", []byte(text))
		if len(ps) > 0 {
			t.Fatal(text, ps)
		}
		return form.DrawnBy(p)
	}
	was := drawn(
		"part: a\nunits: mm\nbodies: {a: {circle: {diameter: 25.4}, from: 0, to: 6.35}}\ncuts: {b: {rectangle: {length: 5.08, width: 2.54}, made_by: machining}}\n")
	for _, text := range []string{
		"part: b\ntitle: x\nunits: in\ncuts:\n  b:\n    made_by: machining\n    rectangle: {width: 0.1, length: 0.2}\nbodies: {a: {to: 0.25, from: 0, circle: {diameter: 1}}}\n",
		"part: a\nunits: mm\nbodies: {a: {circle: {diameter: 25.40, at: [0, 0]}, from: 0, to: 6.35}}\ncuts: {b: {rectangle: {length: 5.08, width: 2.54, turn: 0, corner: 0, at: [0, 0.0]}, made_by: machining}}\n",
	} {
		if form.ShapeOf(drawn(text)) != form.ShapeOf(was) {
			t.Errorf("another shape:\n%s", text)
		}
	}
	named := drawn(
		"part: a\nunits: mm\nbodies: {z: {circle: {diameter: 25.4}, from: 0, to: 6.35}}\ncuts: {b: {rectangle: {length: 5.08, width: 2.54}, made_by: machining}}\n")
	if form.ShapeOf(named) == form.ShapeOf(was) || named[0].Shape != was[0].Shape {
		t.Error("a name changes the shape of its feature, or not that of the part")
	}
	if r := Run(context.Background(), []File{fileOf("a.yaml", []byte(samples.ThinEye(2, "A")))}, samples.StandardBook(t),
		Options{StatusAt: rules.Change}); r.Parts[0].States.Shape == "" {
		t.Error("a review has no shape")
	}
}
