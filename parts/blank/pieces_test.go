package blank

import (
	"fmt"
	"strings"
	"testing"

	"corerod/parts/form"
)

// TestPieces: what is apart from the largest piece is named, and no other; of equal ones the first counts as the largest.
func TestPieces(t *testing.T) {
	disc := func(name string, x, d, from, to float64) string {
		return fmt.Sprintf("%s: {circle: {diameter: %g, at: [%g, 0]}, from: %g, to: %g}", name, d, x, from, to)
	}
	for _, c := range []struct {
		name   string
		bodies []string
		cuts   string
		loose  []string
		pieces int
	}{
		{"one", []string{disc("a", 0, 10, 0, 5)}, "", nil, 1},
		{"overlapping in height", []string{disc("a", 0, 10, 0, 5), disc("b", 6, 10, 3, 8)}, "", nil, 1},
		{"with a common face", []string{disc("a", 0, 10, 0, 5), disc("b", 0, 6, 5, 8)}, "", nil, 1},
		{"touching along an edge only", []string{disc("a", 0, 10, 0, 5), disc("b", 6, 10, 5, 8)}, "", nil, 1},
		{"beside each other", []string{disc("a", 0, 10, 0, 5), disc("b", 30, 12, 0, 5)}, "", []string{"a"}, 2},
		{"the first one larger", []string{disc("a", 0, 12, 0, 5), disc("b", 30, 10, 0, 5)}, "", []string{"b"}, 2},
		{"higher, and so larger", []string{disc("a", 0, 12, 0, 5), disc("b", 30, 10, 0, 8)}, "", []string{"a"}, 2},
		{"equal", []string{disc("a", 0, 10, 0, 5), disc("b", 30, 10, 0, 5)}, "", []string{"b"}, 2},
		{"three, the middle one largest", []string{disc("a", 0, 10, 0, 5), disc("b", 30, 14, 0, 5), disc("c", 60, 12, 0, 5)}, "", []string{"a", "c"}, 3},
		{"one over the other", []string{disc("a", 0, 10, 0, 5), disc("b", 0, 10, 6, 8)}, "", []string{"b"}, 2},
		{"a gap in height between neighbours", []string{disc("a", 0, 10, 0, 5), disc("b", 6, 10, 6, 13)}, "", []string{"a"}, 2},
		{"beside each other in one cell's columns", []string{disc("a", 0, 30, 0, 3), disc("b", 0, 20, 5, 9), disc("c", 11, 4, 3, 7)}, "", nil, 1},
		{"a pin cut loose", []string{disc("a", 0, 40, 0, 5), disc("b", 0, 4, 0, 9)}, "cuts: {c: {turned: {section: [[4, 0], [6, 0], [6, 5], [4, 5]]}}}", []string{"a", "b"}, 2},
	} {
		p, ps := form.Parse("x.yaml", []byte(inMM+"bodies: {"+strings.Join(c.bodies, ", ")+"}\n"+c.cuts+"\n"))
		if len(ps) > 0 {
			t.Fatal(ps)
		}
		_, ps = Make(p)
		if len(ps) != len(c.loose) {
			t.Errorf("%s: %v, want %v", c.name, ps, c.loose)
			continue
		}
		for i, name := range c.loose {
			if want := fmt.Sprintf("the part falls into %d pieces, and material of the body %s is apart", c.pieces,
				name); !strings.Contains(ps[i].Message, want) {
				t.Errorf("%s: %s, want %s", c.name, ps[i].Message, want)
			}
		}
	}
}

// TestIdleCuts: which cuts remove nothing, each told once, and why.
func TestIdleCuts(t *testing.T) {
	const outside, taken = "it cuts into no body", "other cuts take all that it would"
	const disc = "bodies: {a: {circle: {diameter: 40}, from: 0, to: 5}}\n"
	for _, c := range []struct {
		name, cuts string
		want       []string
	}{
		{"two apart", "b: {circle: {diameter: 3}}, c: {circle: {diameter: 3, at: [8, 0]}}", nil},
		{"overlapping", "b: {circle: {diameter: 6}}, c: {circle: {diameter: 6, at: [4, 0]}}", nil},
		{"equal", "b: {circle: {diameter: 6}}, c: {circle: {diameter: 6}}", []string{"the cut c removes nothing: " + taken}},
		{"in another", "b: {circle: {diameter: 6}}, c: {circle: {diameter: 9}}", []string{"the cut b removes nothing: " + taken}},
		{"in another, but deeper", "b: {circle: {diameter: 6}}, c: {circle: {diameter: 9}, open: top, depth: 2}", nil},
		{"in two others together", "b: {circle: {diameter: 6}}, c: {circle: {diameter: 9}, open: top, depth: 2}, d: {circle: {diameter: 9}, open: bottom, depth: 3}",
			[]string{"the cut b removes nothing: " + taken}},
		{"leaning and outside", "b: {circle: {diameter: 6, at: [40, 0]}, draft: {angle: 5, narrows: up}}", []string{"the cut b removes nothing: " + outside}},
		{"copies", "b: {circle: {diameter: 6}, repeat: {count: 3, step: [15, 0]}}", []string{"copy 3 of the cut b removes nothing: " + outside}},
		{"leaning copies", "b: {circle: {diameter: 6}, open: top, depth: 2, draft: {angle: 5, narrows: down}, repeat: {count: 4, step: [15, 0]}}",
			[]string{"copy 4 of the cut b removes nothing: " + outside, "copy 3 of the cut b removes nothing: " + outside}},
		{"above and outside", "b: {circle: {diameter: 3}, from: 6, to: 8}, c: {circle: {diameter: 3, at: [50, 0]}}", []string{"the cut c removes nothing: " + outside, "the cut b removes nothing: " + outside}},
		{"machined", "b: {circle: {diameter: 3, at: [50, 0]}, made_by: machining}, c: {circle: {diameter: 3}, made_by: sizing}", []string{"the cut b removes nothing: " + outside}},
		{"machined beside one pressed", "b: {circle: {diameter: 3}, made_by: machining}, c: {circle: {diameter: 3}}", nil},
		{"equal, both machined", "b: {circle: {diameter: 3}, made_by: machining}, c: {circle: {diameter: 3}, made_by: machining}", []string{"the cut c removes nothing: " + taken}},
	} {
		p, ps := form.Parse("x.yaml", []byte(inMM+disc+"cuts: {"+c.cuts+"}\n"))
		if len(ps) > 0 {
			t.Fatal(ps)
		}
		_, ps = Make(p)
		got := map[string]bool{}
		for _, x := range ps {
			for _, w := range c.want {
				if strings.HasPrefix(x.Message, w) {
					got[w] = true
				}
			}
		}
		if len(ps) != len(c.want) || len(got) != len(c.want) {
			t.Errorf("%s: %v, want %q", c.name, ps, c.want)
		}
	}
}

// TestLargest: parts and features of 500 mm are made, larger ones refused.
func TestLargest(t *testing.T) {
	for text, want := range map[string]string{
		"bodies: {a: {rectangle: {length: 500, width: 20}, from: 0, to: 5}}":                                                                                            "",
		"bodies: {a: {rectangle: {length: 20, width: 500}, from: 0, to: 5}}":                                                                                            "",
		"bodies: {a: {rectangle: {length: 20, width: 500.1}, from: 0, to: 5}}":                                                                                          "a is 500.1 mm across",
		"bodies: {a: {circle: {diameter: 20}, from: -250, to: 250}}":                                                                                                    "",
		"bodies: {a: {circle: {diameter: 20}, from: -250, to: 250.1}}":                                                                                                  "the part is 500.1 mm high",
		"bodies: {a: {rectangle: {length: 300, width: 20}, from: 0, to: 5}, b: {rectangle: {length: 300, width: 20, at: [200, 0]}, from: 0, to: 5}}":                    "",
		"bodies: {a: {rectangle: {length: 300, width: 20}, from: 0, to: 5}, b: {rectangle: {length: 300, width: 20, at: [201, 0]}, from: 0, to: 5}}":                    "the part is 501 mm across",
		"bodies: {a: {rectangle: {length: 20, width: 300}, from: 0, to: 5}, b: {rectangle: {length: 20, width: 300, at: [0, 201]}, from: 0, to: 5}}":                    "the part is 501 mm across",
		"bodies: {a: {circle: {diameter: 20}, from: 0, to: 300}, b: {circle: {diameter: 10}, from: 300, to: 501}}":                                                      "the part is 501 mm high",
		"bodies: {a: {rectangle: {length: 50, width: 20}, from: 0, to: 5}}\ncuts: {c: {rectangle: {length: 600, width: 2}, open: top, depth: 1}}":                       "c is 600 mm across",
		"bodies: {a: {rectangle: {length: 50, width: 20}, from: 0, to: 5}}\ncuts: {c: {rectangle: {length: 400, width: 2, at: [300, 0]}, open: top, depth: 1}}":         "the cut c removes nothing",
		"bodies: {a: {rectangle: {length: 50, width: 20}, from: 0, to: 5}}\ncuts: {c: {rectangle: {length: 400, width: 2, at: [190, 0]}, open: top, depth: 1}}":         "",
		"bodies: {a: {turned: {section: [[0, 0], [9, 0], {arc: [9, 4], radius: 8, turn: ccw}, [0, 4]]}}}":                                                               "",
		"bodies: {a: {turned: {section: [[0, 0], [9, 0], {arc: [7, 4], radius: 2.3, turn: ccw}, [0, 4]]}}}":                                                             "an arc of the section reaches above or below its ends",
		"bodies: {a: {turned: {section: [[6, 0], [9, 0], [9, 16], [6, 16], {arc: [6, 0], radius: 8, turn: ccw}]}}}":                                                     "an arc of the section crosses the axis",
		"bodies: {a: {turned: {section: [[8, 0], [20, 0], [20, 16], [8, 16], {arc: [8, 0], radius: 8, turn: ccw}]}}}":                                                   "",
		"bodies: {a: {rectangle: {length: 50, width: 20}, from: 0, to: 5}}\ncuts: {c: {rectangle: {length: 60, width: 4}, open: top, depth: 2, section: round}}":        "",
		"bodies: {a: {rectangle: {length: 50, width: 20}, from: 0, to: 5}}\ncuts: {c: {rectangle: {length: 60, width: 4}, open: top, depth: 2.1, section: round}}":      "a round groove 4 mm wide is at most 2 mm deep",
		"bodies: {a: {rectangle: {length: 50, width: 20}, from: 0, to: 5}}\ncuts: {c: {rectangle: {length: 60, width: 4}, open: top, depth: 2.000001, section: round}}": "",
	} {
		p, ps := form.Parse("x.yaml", []byte(inMM+text+"\n"))
		if len(ps) > 0 {
			t.Fatal(text, ps)
		}
		_, ps = Make(p)
		if want == "" && len(ps) == 0 {
			continue
		}
		if len(ps) != 1 || want == "" || !strings.Contains(ps[0].Message, want) {
			t.Errorf("%s: %v, want %s", text, ps, want)
		}
	}
}
