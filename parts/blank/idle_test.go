package blank

import (
	"slices"
	"strings"
	"testing"

	"corerod/parts/form"
)

// TestIdleBodies: a body that changes nothing is reported, copy by copy, with the reason; one that adds anything is not.
func TestIdleBodies(t *testing.T) {
	const disc = "a: {circle: {diameter: 40}, from: 0, to: 10}"
	covered, cut := "other bodies cover all of it", "cuts take all of it away"
	for _, c := range []struct {
		name, bodies, cuts string
		want               []string
	}{
		{"in a plate", disc + ", hub: {circle: {diameter: 20}, from: 2, to: 10}", "", []string{"the body hub adds nothing: " + covered}},
		{"through a plate", disc + ", hub: {circle: {diameter: 20}, from: 2, to: 10.01}", "", nil},
		{"of two equal ones the later", disc + ", b: {circle: {diameter: 40}, from: 0, to: 10}", "", []string{"the body b adds nothing: " + covered}},
		{"the plate itself, where the later body is greater", disc + ", b: {circle: {diameter: 41}, from: 0, to: 10}", "",
			[]string{"the body a adds nothing: " + covered}},
		{"by two together", "a: {rectangle: {length: 20, width: 20, at: [-10, 0]}, from: 0, to: 5}, b: {rectangle: {length: 20, width: 20, at: [10, 0]}, from: 0, to: 5}, " +
			"c: {circle: {diameter: 10}, from: 0, to: 5}", "", []string{"the body c adds nothing: " + covered}},
		{"by one above the other", disc + ", b: {circle: {diameter: 30}, from: 10, to: 20}, c: {circle: {diameter: 20}, from: 5, to: 15}", "",
			[]string{"the body c adds nothing: " + covered}},
		{"copies", disc + ", ear: {circle: {diameter: 6, at: [15, 0]}, from: 0, to: 10, repeat: {count: 3, step: [4, 0]}}", "",
			[]string{"copy 1 of the body ear adds nothing: " + covered}},
		{"equal copies", disc + ", ear: {circle: {diameter: 6}, from: 0, to: 12, repeat: {count: 2}}", "",
			[]string{"copy 2 of the body ear adds nothing: " + covered}},
		{"in a bore", disc + ", pin: {circle: {diameter: 6}, from: 0, to: 12}", "b: {circle: {diameter: 8}}",
			[]string{"the body pin adds nothing: " + cut}},
		{"in a bore and below it", disc + ", pin: {circle: {diameter: 6}, from: 2, to: 12}", "b: {circle: {diameter: 8}, open: top, depth: 6}",
			[]string{"the body pin adds nothing: " + covered + " that cuts leave"}},
		{"in a bore that is machined", disc + ", pin: {circle: {diameter: 6}, from: 0, to: 12}", "b: {circle: {diameter: 8}, made_by: machining}", nil},
		{"no material", disc + ", b: {circle: {diameter: 30}, from: 0, to: 10}", "c: {circle: {diameter: 50}}",
			[]string{"the cuts take everything away: no material is left"}},
		{"three micrometres out", disc + ", b: {circle: {diameter: 40.006}, from: 0, to: 8}", "",
			[]string{"the body b adds nothing: " + covered + ", but for less than 0.004 mm"}},
		{"five micrometres out", disc + ", b: {circle: {diameter: 40.01}, from: 0, to: 8}", "", nil},
		{"a cut three micrometres in", disc, "d: {rectangle: {length: 1, width: 40, at: [20.497, 0]}}",
			[]string{"the cut d removes nothing: it cuts into no body, but for less than 0.004 mm"}},
		{"a cone in a disc", disc + ", b: {circle: {diameter: 30}, from: 0, to: 10, draft: {angle: 10, narrows: up}}", "",
			[]string{"the body b adds nothing: " + covered}},
		{"a cone in a cone", "a: {circle: {diameter: 30}, from: 0, to: 10, draft: {angle: 10, narrows: up}}, " +
			"b: {circle: {diameter: 30}, from: 0, to: 10, draft: {angle: 11, narrows: up}}", "", []string{"the body b adds nothing: " + covered}},
		{"a cone that crosses a cone", "a: {circle: {diameter: 30}, from: 0, to: 10, draft: {angle: 10, narrows: up}}, " +
			"b: {circle: {diameter: 29}, from: 0, to: 10, draft: {angle: 6, narrows: up}}", "", nil},
		{"equal cones", "a: {circle: {diameter: 30}, from: 0, to: 10, draft: {angle: 10, narrows: up}}, " +
			"b: {circle: {diameter: 30}, from: 0, to: 10, draft: {angle: 10, narrows: up}}", "", []string{"the body b adds nothing: " + covered}},
		{"a cone with the ends of a ball, inside it", "a: {ball: {diameter: 20, z: 0}}, b: {turned: {section: [[0, -8], [6, -8], [10, 0], [6, 8], [0, 8]]}}",
			"", []string{"the body b adds nothing: " + covered}},
		{"a ball with the ends of a cone, outside it", "a: {turned: {section: [[0, -8], [6, -8], [10, 0], [6, 8], [0, 8]]}}, b: {ball: {diameter: 20, z: 0}}",
			"", []string{"the body a adds nothing: " + covered}},
		{"half a ball over a cone with its ends", "a: {turned: {section: [[0, -8], [9, -8], [10, 0], [6, 8], [0, 8]]}}, b: {ball: {diameter: 20, z: 0}}", "", nil},
	} {
		text := inMM + "bodies: {" + c.bodies + "}\n"
		if c.cuts != "" {
			text += "cuts: {" + c.cuts + "}\n"
		}
		p, ps := form.Parse("x.yaml", []byte(text))
		if len(ps) > 0 {
			t.Fatal(c.name, ps)
		}
		_, ps = Make(p)
		var got []string
		for _, x := range ps {
			got = append(got, x.Message)
		}
		if !slices.Equal(got, c.want) {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
	}
}

// TestIdle: a body is idle where none of its copies adds anything, and not where one does.
func TestIdle(t *testing.T) {
	for text, want := range map[string]string{
		"a: {circle: {diameter: 40}, from: 0, to: 10}": "",
		"a: {circle: {diameter: 40}, from: 0, to: 10}, b: {circle: {diameter: 4, at: [9, 0]}, from: 0, to: 10, repeat: {count: 3}}":               "b",
		"a: {circle: {diameter: 40}, from: 0, to: 10}, b: {circle: {diameter: 4, at: [9, 0]}, from: 0, to: 10, repeat: {count: 3, step: [6, 0]}}": "",
		"b: {circle: {diameter: 4}, from: 1, to: 9}, a: {circle: {diameter: 40}, from: 0, to: 10}, c: {circle: {diameter: 4}, from: 2, to: 9}":    "b c",
		"a: {rectangle: {length: 10, width: 5, corner: 3}, from: 0, to: 5}":                                                                       "",
	} {
		p, ps := form.Parse("x.yaml", []byte(inMM+"bodies: {"+text+"}\n"))
		if len(ps) > 0 {
			t.Fatal(text, ps)
		}
		if got := strings.Join(Idle(p), " "); got != want {
			t.Errorf("%s: %q, want %q", text, got, want)
		}
	}
}
