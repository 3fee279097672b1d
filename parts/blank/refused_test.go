package blank

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"corerod/parts/form"
)

func TestRefused(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{"bodies: {a: {circle: {diameter: 10}, from: 0, to: 5}}\ncuts: {b: {circle: {diameter: 3, at: [20, 0]}}}", "the cut b removes nothing"},
		{"bodies: {a: {circle: {diameter: 10}, from: 0, to: 5}}\ncuts: {b: {circle: {diameter: 3}, from: 7, to: 9}}", "the cut b removes nothing"},
		{"bodies: {a: {circle: {diameter: 10}, from: 0, to: 5}}\ncuts: {b: {circle: {diameter: 3, at: [20, 0]}, made_by: machining}}", "the cut b removes nothing"},
		{"bodies: {a: {circle: {diameter: 10}, from: 0, to: 5}}\ncuts: {b: {circle: {diameter: 2, at: [3, 0]}, repeat: {count: 3, step: [2, 0]}}}", "copy 3 of the cut b removes nothing"},
		{"bodies: {a: {circle: {diameter: 10}, from: 0, to: 5}, b: {circle: {diameter: 4}, from: 9, to: 12}}", "material of the body b is apart from the largest"},
		{"bodies: {a: {circle: {diameter: 10}, from: 0, to: 5}, b: {circle: {diameter: 4, at: [30, 0]}, from: 0, to: 5}}", "material of the body b is apart from the largest"},
		{"bodies: {a: {circle: {diameter: 10}, from: 0, to: 5}, b: {circle: {diameter: 10, at: [10, 0]}, from: 0, to: 5}}", "the part falls into 2 pieces"},
		{"bodies: {a: {circle: {diameter: 10}, from: 0, to: 5}}\ncuts: {b: {circle: {diameter: 12}}}", "no material is left"},
		{"bodies: {a: {circle: {diameter: 10}, from: 0, to: 5}}\ncuts: {b: {rectangle: {length: 12, width: 2}}}", "the part falls into 2 pieces"},
		{"bodies: {a: {circle: {diameter: 20}, from: 0, to: 5}}\ncuts: {b: {circle: {diameter: 6}}, c: {circle: {diameter: 9}}}", "the cut b removes nothing: other cuts take all that it would"},
		{"bodies: {a: {circle: {diameter: 20}, from: 0, to: 5}}\ncuts: {b: {circle: {diameter: 6}, repeat: {count: 3}}}", "copy 2 of the cut b removes nothing: other cuts"},
		{"bodies: {a: {ball: {diameter: 30, z: 0}}, b: {ball: {diameter: 30, z: 0, at: [0.0001, 0]}}, c: {circle: {diameter: 5}, from: 0, to: 20}}",
			"a and b come too close to each other without meeting for their outlines to be told apart: give what they have in common the same numbers, or move one"},
		{"bodies: {a: {circle: {diameter: 501}, from: 0, to: 5}}", "501 mm across"},
		{"bodies: {a: {circle: {diameter: 50}, from: 0, to: 501}}", "501 mm high"},
		{"bodies: {a: {rectangle: {length: 10, width: 5, corner: 3}, from: 0, to: 5}}", "corner 3 does not fit: the shorter side is 5, so at most 2.5"},
		{"bodies: {a: {polygon: {points: [[0, 0], [10, 10], [10, 0], [0, 10]]}, from: 0, to: 5}}", "crosses or touches itself near (5, 5)"},
		{"bodies: {a: {polygon: {points: [[0, 0], [10, 0], [10, 10]], corner: 4}, from: 0, to: 5}}", "do not fit: they take 13.656854 of its 10"},
		{"bodies: {a: {slot: {length: 4, width: 6}, from: 0, to: 5}}", "a slot is at least as long as wide"},
		{"bodies: {a: {path: {start: [0, 0], steps: [{arc: [30, 0], radius: 10, turn: ccw}]}, from: 0, to: 5}}", "the arc's radius 10 does not reach: its ends are 30 apart, so at least 15"},
		{"bodies: {a: {flatted: {diameter: 10, flats: [6]}, from: 0, to: 5}}", "cuts nothing off"},
		{"bodies: {a: {circle: {diameter: 20}, from: 0, to: 5, tilt: {face: top, angle: 20, toward: 0}}}", "up to 14.03 degrees fit"}, // atan(5/20)
		{"bodies: {a: {circle: {diameter: 20}, from: 0, to: 5, face_teeth: {face: top, count: 4, depth: 6, angle: 60, inner: 12, outer: 20}}}",
			"tooth spaces 6 mm deep do not fit in a body 5 mm high"},
		{"bodies: {a: {circle: {diameter: 20}, from: 0, to: 5, ramp: {face: top, start_angle: 0, end_angle: 90, rise: 6, inner: 12}}}",
			"a ramp that rises by 6 mm does not fit in a body 5 mm high"},
		{"bodies: {a: {circle: {diameter: 20}, from: 0, to: 5, ramp: {face: top, start_angle: 0, end_angle: 90, rise: 2, inner: 22}}}",
			"outside the body; an inner diameter of less than 20 mm fits"},
		{"bodies: {a: {circle: {diameter: 20}, from: 0, to: 9, ramp: {face: top, start_angle: 0, end_angle: 10, rise: 3, inner: 12}}}",
			"steeper than a punch face forms; a rise of up to 1.813 mm fits"}, // tan 60 deg over 6 mm and 10 deg
		{"bodies: {a: {rectangle: {length: 40, width: 20}, from: 0, to: 9}}\ncuts: {b: {circle: {diameter: 16}, open: top, depth: 3, draft: {angle: 10, narrows: down}, island: {circle: {diameter: 15}}}}",
			"the island of b is too wide: where its recess is deepest it touches the wall or reaches past it; drawn 0.033 mm smaller all round it fits"}, // 7.5 - 8 + 3 tan 10 deg, and 4 micrometres
		{"bodies: {d: {circle: {diameter: 60}, from: 0, to: 8}, a: {rectangle: {length: 10, width: 4, at: [6, 0]}, from: 8, to: 10, tilt: {face: top, angle: 5, toward: 0}, repeat: {count: 2, step: [8, 1]}}}",
			"copy 2 of a reaches into what the relief of another copy takes away"},
	} {
		p, ps := form.Parse("test.yaml", []byte("part: test\nunits: mm\n"+c.text))
		if len(ps) > 0 {
			t.Fatal(ps)
		}
		_, ps = Make(p)
		if len(ps) == 0 || !strings.Contains(ps[0].Message, c.want) ||
			ps[0].Line < 3 && !strings.Contains(c.want, "5") && !strings.Contains(c.want, "material") {
			t.Errorf("%s\n got %v, want %q", c.text, ps, c.want)
		}
	}
}

// TestToothedProblem: a profile that cannot be drawn is refused where it stands.
func TestToothedProblem(t *testing.T) {
	p, ps := form.Parse("test.yaml", []byte("part: p\nunits: mm\nbodies: {rim: {gear: {module: 1, teeth: 8}, from: 0, to: 5}}"))
	if len(ps) > 0 {
		t.Fatal(ps)
	}
	_, ps = Make(p)
	if len(ps) != 1 || ps[0].Line != 3 || ps[0].Column != 16 ||
		!strings.HasPrefix(ps[0].Message, "rim: 8 teeth with a shift of 0 would be undercut") {
		t.Errorf("%+v", ps)
	}
}

// TestManySlopes: slopes that cross too often for a review of some seconds are refused.
func TestManySlopes(t *testing.T) {
	var b strings.Builder
	b.WriteString("part: p\nunits: mm\nbodies: {disc: {circle: {diameter: 60}, from: 0, to: 10}}\ncuts:\n")
	for i := range 16 {
		fmt.Fprintf(&b, "  b%d: {ball: {diameter: %.1f, at: [%.1f, %.1f], z: %.1f}}\n", i, 14+0.3*float64(i), -7.5+5.1*float64(i%4),
			-7.2+4.7*float64(i/4), 9+0.2*float64(i))
	}
	p, ps := form.Parse("test.yaml", []byte(b.String()))
	if len(ps) > 0 {
		t.Fatal(ps)
	}
	if _, ps = Make(p); len(ps) != 1 || ps[0].Line != 1 || !strings.HasPrefix(ps[0].Message, "the slopes of b0, b1, b2 and 13 more cross too often") {
		t.Errorf("%+v", ps)
	}
}

// TestNarrow: a feature that is nowhere 4 micrometres wide is refused in these words; a wider one is drawn.
func TestNarrow(t *testing.T) {
	const disc = "bodies: {a: {circle: {diameter: 40}, from: 0, to: 10}"
	for _, c := range []struct{ name, text, what string }{
		{"a slit", disc + "}\ncuts: {b: {rectangle: {length: 10, width: 0.003}}}", "cut b"},
		{"a slit of 4 micrometres", disc + "}\ncuts: {b: {rectangle: {length: 10, width: 0.004}}}", ""},
		{"a slit that is machined", disc + "}\ncuts: {b: {rectangle: {length: 10, width: 0.003}, made_by: machining}}", "cut b"},
		{"a pin hole", disc + "}\ncuts: {b: {circle: {diameter: 0.0039}}}", "cut b"},
		{"a pin hole of 5 micrometres", disc + "}\ncuts: {b: {circle: {diameter: 0.005}}}", ""},
		{"a ball", disc + "}\ncuts: {b: {ball: {diameter: 0.0039, z: 10}}}", "cut b"},
		{"a ring", disc + "}\ncuts: {b: {turned: {section: [[5, 5], [5.003, 5], [5.003, 10], [5, 10]]}}}", "cut b"},
		{"a ring that opens", disc + "}\ncuts: {b: {turned: {section: [[5, 5], [5.003, 5], [5.1, 10], [5, 10]]}}}", ""},
		{"a cone to a tip", disc + "}\ncuts: {b: {turned: {section: [[0, 5], [0.1, 10], [0, 10]]}}}", ""},
		{"a needle", disc + "}\ncuts: {b: {turned: {section: [[0, 5], [0.0019, 10], [0, 10]]}}}", "cut b"},
		{"a drafted slit", disc + "}\ncuts: {b: {rectangle: {length: 10, width: 0.0035}, open: top, depth: 0.001, draft: {angle: 1, narrows: down}}}", "cut b"},
		{"a body", disc + ", b: {rectangle: {length: 10, width: 0.002}, from: 0, to: 12}}", "body b"},
		{"the only body", "bodies: {b: {rectangle: {length: 10, width: 0.002}, from: 0, to: 12}}", "body b"},
	} {
		p, ps := form.Parse("x.yaml", []byte(inMM+c.text+"\n"))
		if len(ps) > 0 {
			t.Fatal(c.name, ps)
		}
		s, ps := Make(p)
		want := "the " + c.what + " is narrower than 0.004 mm, which is no more than the rounding of drawing numbers: draw it wider, or leave it out"
		switch {
		case c.what == "" && len(ps) > 0, c.what != "" && (len(ps) != 1 || ps[0].Message != want):
			t.Errorf("%s: %v", c.name, ps)
		case c.what == "":
			if v, _ := s.Volume(); v >= math.Pi*4000-1e-6 {
				t.Errorf("%s takes nothing away: %.9g", c.name, v)
			}
		}
	}
}

// TestSteepestDraft: a draft that leaves nothing of a side is refused with the greatest that fits: the arctangent of half the width over
// the height, rounded down.
func TestSteepestDraft(t *testing.T) {
	for _, x := range []struct {
		profile string
		want    float64
	}{
		{"circle: {diameter: 4}", 14.03}, // atan(2/8) = 14.036
		{"rectangle: {length: 8, width: 4}", 14.03},
		{"rectangle: {length: 8, width: 4, corner: 1}", 14.03}, // past 7.12 degrees without its radius
		{"slot: {length: 8, width: 4}", 14.03},
	} {
		p, ps := form.Parse("x.yaml", []byte(inMM+"bodies: {a: {circle: {diameter: 40}, from: 0, to: 10}}\n"+
			"cuts: {b: {"+x.profile+", open: top, depth: 8, draft: {angle: 20, narrows: down}}}\n"))
		if len(ps) > 0 {
			t.Fatal(ps)
		}
		_, ps = Make(p)
		if want := fmt.Sprintf("a draft of up to %g degrees fits", x.want); len(ps) != 1 || !strings.Contains(ps[0].Message, want) {
			t.Errorf("%s: %v, want %s", x.profile, ps, want)
		}
	}
}
