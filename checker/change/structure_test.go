package change

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"testing"

	"corerod/checker"
	"corerod/checker/internal/samples"
	"corerod/parts/source"
	"corerod/parts/subject"
	"corerod/rules"
)

// searchOf is the search for changes of a part of a few lines, in mm where it does not say.
func searchOf(t *testing.T, book *rules.Book, text string) *search {
	t.Helper()
	text = "part: a\n" + text + "\n"
	if !strings.Contains(text, "units:") {
		text = "units: mm\n" + text
	}
	doc, ps := source.Open("part.yaml", []byte(text))
	if len(ps) > 0 {
		t.Fatalf("%v\n%s", ps, text)
	}
	return newSearch(context.Background(), doc, book, changed(t, book, []byte(text), 0), 1)
}

// noRules is a book by which nothing is found.
func noRules(t *testing.T) *rules.Book {
	t.Helper()
	book, ps := rules.NewBook()
	if len(ps) > 0 {
		t.Fatal(ps)
	}
	return book
}

// written lists sets as path from -> to.
func written(sets []checker.Set) string {
	var all []string
	for _, x := range sets {
		all = append(all, strings.TrimPrefix(fmt.Sprintf("%s %s -> %s%s", x.Path, x.From, x.Key, x.To), " "))
	}
	return strings.Join(all, ", ")
}

const (
	plainDisc   = "bodies: {a: {circle: {diameter: 40}, from: 0, to: 10}}\n"
	steppedDisc = "bodies: {a: {circle: {diameter: 40}, from: 0, to: 10}, b: {circle: {diameter: 20}, from: 0, to: 11}}\n"
)

// TestProposals: what is tried with the structure of a part for a finding of each kind, in order. The parts are small; each is judged by
// nobody, and the finding is of the first subject of its kind, or the one named.
func TestProposals(t *testing.T) {
	for _, c := range []struct {
		name, kind, of, text string
		want                 []string
	}{
		{"a cross hole", "crossing", "", plainDisc + "sides: {s: {hole: {diameter: 3, toward: 0, z: 5}, in: a}}",
			[]string{"machine s after sintering: sides.s.made_by  -> machining"}},
		{"a cross hole said to be pressed", "crossing", "", plainDisc + "sides: {s: {hole: {diameter: 3, toward: 0, z: 5}, in: a, " +
			"made_by: pressing}}",
			[]string{"machine s after sintering: sides.s.made_by pressing -> machining"}},
		{"a cross hole that is machined", "crossing", "", plainDisc + "sides: {s: {hole: {diameter: 3, toward: 0, z: 5}, in: a, " +
			"made_by: machining}}", nil},
		{"raised letters", "mark", "", plainDisc + "marks: {m: {on: a.top, raised: 0.3, box: [0, 0, 6, 3]}}",
			[]string{"recess m instead of raising it: marks.m.raised 0.3 -> recessed0.3",
				"machine m after sintering: marks.m.made_by  -> machining"}},
		{"letters that are recessed", "mark", "", plainDisc + "marks: {m: {on: a.top, recessed: 0.3, box: [0, 0, 6, 3]}}",
			[]string{"machine m after sintering: marks.m.made_by  -> machining"}},
		{"a void nearer to the top", "trap", "", plainDisc + "cuts: {b: {circle: {diameter: 6}, from: 6, to: 8}}",
			[]string{"let b run out to the top: cuts.b.to 8 -> 10", "machine b after sintering: cuts.b.made_by  -> machining"}},
		{"a void nearer to the bottom", "trap", "", plainDisc + "cuts: {b: {circle: {diameter: 6}, from: 1, to: 3}}",
			[]string{"let b run out to the bottom: cuts.b.from 1 -> 0", "machine b after sintering: cuts.b.made_by  -> machining"}},
		{"a void between two plates", "trap", "", "bodies: {a: {circle: {diameter: 40}, from: 0, to: 4}, b: {circle: {diameter: 10}, " +
			"from: 0, to: 10}, c: {circle: {diameter: 30}, from: 6, to: 10}}",
			[]string{"carry a up over the void: bodies.a.to 4 -> 6", "carry c down over the void: bodies.c.from 6 -> 4"}},
		{"the same in inches", "trap", "", "units: in\nbodies: {a: {circle: {diameter: 4}, from: 0, to: 0.4}, b: {circle: {diameter: " +
			"1}, from: 0, to: 1}, c: {circle: {diameter: 3}, from: 0.60, to: 1}}",
			[]string{"carry a up over the void: bodies.a.to 0.4 -> 0.6", "carry c down over the void: bodies.c.from 0.60 -> 0.4"}},
		{"a bore that narrows downward", "taper", "b", plainDisc[:len(plainDisc)-2] +
			", c: {circle: {diameter: 50}, from: 0, to: 3}}\ncuts: {b: {circle: {diameter: 12}, draft: {angle: 2, narrows: down}}}",
			[]string{"let b narrow up: cuts.b.draft.narrows down -> up"}},
		{"a body that narrows upward", "taper", "", "way_up: as-drawn\nbodies: {a: {circle: {diameter: 40}, from: 0, to: 10, draft: {angle: 2, narrows: " +
			"up}}}",
			[]string{"let a narrow down: bodies.a.draft.narrows up -> down", "press the part the better way up: way_up as-drawn -> best"}},
		{"a step of a tenth of the height", "step", "", steppedDisc,
			[]string{"draw the levels at STEP at one height: bodies.a.to 10 -> 11",
				"draw the levels at STEP at one height: bodies.b.to 11 -> 10",
				"give the level of a a punch of its own: bodies.a.punch  -> own", "give the level of b a punch of its own: " +
					"bodies.b.punch  -> own"}},
		{"a step of a quarter, pressed from the top", "step", "", "pressing: top\nbodies: {a: {circle: {diameter: 40}, from: 0, to: " +
			"9}, b: {circle: {diameter: 20}, from: 0, to: 12, punch: own}}",
			[]string{"give the level of a a punch of its own: bodies.a.punch  -> own",
				"press the part from both ends: pressing top -> both"}},
		{"a step made by a cut", "step", "", plainDisc + "cuts: {b: {circle: {diameter: 28}, open: top, depth: 4, punch: face}, c: " +
			"{circle: {diameter: 12}}}",
			[]string{"give the level of a a punch of its own: bodies.a.punch  -> own",
				"give the level of b a punch of its own: cuts.b.punch face -> own"}},
		{"a rounded edge", "rim", "r", plainDisc + "edges: {r: {of: a, face: top, round: {radius: 1}}}",
			[]string{"draw a chamfer with a flat instead of the round r: edges.r.round  -> chamfer{width: 1, slope: 30, flat: 0.25}"}},
		{"a rounded edge in inches", "rim", "r", "units: in\nbodies: {a: {circle: {diameter: 2}, from: 0, to: 0.4}}\nedges: {r: {of: " +
			"a, face: top, round: {radius: 0.04}}}",
			[]string{"draw a chamfer with a flat instead of the round r: edges.r.round  -> chamfer{width: 0.04, slope: 30, flat: 0.01}"}},
		{"a chamfered edge", "rim", "r", plainDisc + "edges: {r: {of: a, face: top, chamfer: {width: 1, slope: 30}}}", nil},
		{"a tolerance", "dimension", "", plainDisc + "dimensions: {d: {of: a.height, plus_minus: 0.05}}",
			[]string{"size the part after sintering: sized  -> true"}},
		{"a tolerance of a sized part", "dimension", "", "sized: true\n" + plainDisc +
			"dimensions: {d: {of: a.height, plus_minus: 0.05}}", nil},
		{"a hole", "hole", "", plainDisc + "cuts: {b: {circle: {diameter: 6}}}",
			[]string{"machine b after sintering: cuts.b.made_by  -> machining",
				"give the level of b a punch of its own: cuts.b.punch  -> own"}},
		{"a wall", "wall", "", plainDisc + "cuts: {b: {circle: {diameter: 36}}}",
			[]string{"machine b after sintering: cuts.b.made_by  -> machining",
				"give the level of a a punch of its own: bodies.a.punch  -> own",
				"give the level of b a punch of its own: cuts.b.punch  -> own"}},
		{"a column", "column", "", plainDisc, []string{"give the level of a a punch of its own: bodies.a.punch  -> own"}},
		{"the whole part, with a blind cut, a bore, a low step and joints", "part", "", "pressing: top\n" +
			steppedDisc[:len(steppedDisc)-2] +
			", c: {slot: {length: 50, width: 8}, from: 0, to: 10}}\ncuts: {d: {circle: {diameter: 4, at: [4, 0]}, open: top, depth: " +
			"2}, e: {circle: {diameter: 4, at: [-4, 0]}}}",
			[]string{"state a radius where features meet: blends.a-c  -> {of: [a, c], radius: 0.2}",
				"state a radius where features meet: blends.a-c  -> {of: [a, c], radius: 0.3}",
				"state a radius where features meet: blends.a-c  -> {of: [a, c], radius: 0.5}",
				"state a radius where features meet: blends.a-c  -> {of: [a, c], radius: 0.8}",
				"press the part from both ends: pressing top -> both",
				"draw the levels at STEP at one height: bodies.a.to 10 -> 11", "draw the levels at STEP at one height: bodies.b.to 11 " +
					"-> 10",
				"draw the levels at STEP at one height: bodies.c.to 10 -> 11", "machine d after sintering: cuts.d.made_by  -> machining"}},
	} {
		s := searchOf(t, noRules(t), c.text)
		part := s.base.derived.Subject
		all := subject.Of(part, subject.KindNamed(c.kind))
		if i := slices.IndexFunc(all, func(x subject.Subject) bool {
			return c.of == "" || slices.Contains(x.Place().Features,
				c.of)
		}); i < 0 {
			t.Errorf("%s: there is none of %s", c.name, c.kind)
			continue
		} else {
			all = all[i:]
		}
		f := &checker.Finding{Finding: rules.Finding{Rule: &rules.Rule{}, Over: all[0], Subject: all[0]}}
		var got []string
		for _, p := range s.proposals(s.target(f)) {
			got = append(got, p.says+": "+written(p.sets))
		}
		want := slices.Clone(c.want)
		for i := range want {
			if len(part.Steps) > 0 {
				want[i] = strings.ReplaceAll(want[i], "STEP", part.Steps[0].Name)
			}
		}
		if !slices.Equal(got, want) {
			t.Errorf("%s:\n%s\nwant\n%s", c.name, strings.Join(got, "\n"), strings.Join(want, "\n"))
		}
	}
}

// TestMergedShare: two levels are drawn at one height where they are within 15 % of the part's height, and not where they are further.
func TestMergedShare(t *testing.T) {
	s := searchOf(t, noRules(t), "bodies: {a: {circle: {diameter: 40}, from: 0, to: 17}, b: {circle: {diameter: 20}, from: 0, to: 20}}")
	step := *s.base.derived.Subject.Steps[0]
	if step.Share != 0.15 || len(s.merged(&step)) != 2 {
		t.Errorf("a share of %g has %d proposals, not 2", step.Share, len(s.merged(&step)))
	}
	if step.Share = 0.151; len(s.merged(&step)) != 0 {
		t.Errorf("a share of 0.151 has %d proposals", len(s.merged(&step)))
	}
}

// TestUprighted: the cone of a turned feature becomes a cylinder at either of its ends; lines at other angles, and those of other
// features, stay.
func TestUprighted(t *testing.T) {
	s := searchOf(t, noRules(t), "bodies: {a: {turned: {section: [[5, 0], [20, 0], [20, 10], [6, 10]]}}, b: {circle: {diameter: 30}, "+
		"from: 0, to: 12}}")
	lean := 5.710593137499643 // atan(1 / 10)
	for _, c := range []struct {
		name  string
		names []string
		angle float64
		want  string
	}{
		{"the last line, back to the first point", []string{"a"}, lean, "bodies.a.turned.section[3][0] 6 -> 5; " +
			"bodies.a.turned.section[0][0] 5 -> 6"},
		{"the upright one, where asked for", []string{"a"}, 0, "bodies.a.turned.section[1][0] 20 -> 20; bodies.a.turned.section[2][0] " +
			"20 -> 20"},
		{"the flat ones", []string{"a"}, 90, "bodies.a.turned.section[0][0] 5 -> 20; bodies.a.turned.section[1][0] 20 -> 5; " +
			"bodies.a.turned.section[2][0] 20 -> 6; bodies.a.turned.section[3][0] 6 -> 20"},
		{"an angle within rounding", []string{"a"}, lean + 5e-7, "bodies.a.turned.section[3][0] 6 -> 5; bodies.a.turned.section[0][0] " +
			"5 -> 6"},
		{"another angle", []string{"a"}, lean + 2e-6, ""},
		{"no turned feature", []string{"b"}, 0, ""},
		{"no feature", []string{"c"}, lean, ""},
	} {
		var got []string
		for _, p := range s.uprighted(c.names, &subject.Taper{Angle: c.angle}) {
			if got = append(got, written(p.sets)); p.says != "draw the wall of a upright" {
				t.Errorf("%s: %s", c.name, p.says)
			}
		}
		if got := strings.Join(got, "; "); got != c.want {
			t.Errorf("%s: %s, want %s", c.name, got, c.want)
		}
	}
	doc, _ := source.Open("x.yaml", []byte("all: [[1, 2], [3, 4], [x, 2], [1, 2, 3], 5, [1, y]]\n"))
	items := doc.Root.At("all").Items
	for _, pair := range [][2]int{{0, 2}, {2, 0}, {0, 3}, {3, 0}, {0, 4}, {4, 0}, {0, 5}} {
		if leans(items[pair[0]], items[pair[1]], 45) || leans(items[pair[0]], items[pair[1]], 0) {
			t.Errorf("%v is a line", pair)
		}
	}
	if !leans(items[0], items[1], 45) || !leans(items[1], items[0], 45) {
		t.Error("a line of 45 degrees does not lean by them")
	}
}

// TestOpenJoints: each pair of features that meet in a corner without a radius, once, in order.
func TestOpenJoints(t *testing.T) {
	corner := func(joint bool, radius float64, features ...string) *subject.Corner {
		return &subject.Corner{Common: subject.Common{Features: features}, Joint: joint, Radius: radius}
	}
	for _, c := range []struct {
		name    string
		corners []*subject.Corner
		want    string
	}{
		{"none", nil, "[]"},
		{"in order", []*subject.Corner{corner(true, 0, "b", "c"), corner(true, 0, "a", "d"), corner(true, 0, "a", "c")},
			"[[a c] [a d] [b c]]"},
		{"each once", []*subject.Corner{corner(true, 0, "a", "c"), corner(true, 0, "a", "b"), corner(true, 0, "a", "c")}, "[[a b] [a c]]"},
		{"with a radius", []*subject.Corner{corner(true, 0.2, "a", "b")}, "[]"},
		{"of one profile", []*subject.Corner{corner(false, 0, "a", "b")}, "[]"},
		{"of one feature", []*subject.Corner{corner(true, 0, "a")}, "[]"},
		{"of three", []*subject.Corner{corner(true, 0, "a", "b", "c")}, "[[a b c]]"},
	} {
		if got := fmt.Sprint(openJoints(c.corners)); got != c.want {
			t.Errorf("%s: %s, want %s", c.name, got, c.want)
		}
	}
}

// TestFreeName: a name that no section has yet, with a count behind it where it is taken.
func TestFreeName(t *testing.T) {
	s := searchOf(t, noRules(t), "bodies: {a: {circle: {diameter: 40}, from: 0, to: 10}, x: {circle: {diameter: 4, at: [9, 0]}, from: 0, to: 11}, "+
		"x-2: {circle: {diameter: 4, at: [-9, 0]}, from: 0, to: 11}}\n"+
		"cuts: {x-3: {circle: {diameter: 4}}}\nedges: {e: {of: a, face: top, chamfer: {width: 1, slope: 30}}}\nsides: {s: {hole: "+
		"{diameter: 3, toward: 0, z: 5}, in: a}}\nmarks: {m: {on: a.top, raised: 0.3, box: [8, 8, 3, 1]}}")
	for name, want := range map[string]string{"free": "free", "x": "x-4", "x-3": "x-3-2", "e": "e-2", "s": "s-2", "m": "m-2", "e-2": "e-2",
		strings.Repeat("n", 70): strings.Repeat("n", 60), strings.Repeat("n", 60): strings.Repeat("n", 60)} {
		if got := s.freeName(name); got != want {
			t.Errorf("%s: %s, want %s", name, got, want)
		}
	}
}

// TestSet: a value is told with the line that it has or would be added at, and with its unit where it is a number.
func TestSet(t *testing.T) {
	s := searchOf(t, noRules(t), "# first\nbodies:\n  a:\n    circle: {diameter: 40}\n    from: 0\n    to: "+
		"10\n") // lines 4 to 8: units and the part stand before
	for _, c := range []struct{ path, want string }{
		{"bodies.a.to", "{bodies.a.to 8 10 9 mm  false}"},
		{"bodies.a.punch", "{bodies.a.punch 6  9   false}"},
		{"bodies.a.circle.diameter", "{bodies.a.circle.diameter 6 40 9 mm  false}"},
		{"bodies.b.draft.narrows", "{bodies.b.draft.narrows 5  9   false}"},
		{"bodies.a.circle.at[0]", "{bodies.a.circle.at[0] 6  9   false}"},
		{"sized", "{sized 1  9   false}"},
		{"blends.a-b", "{blends.a-b 1  9   false}"},
	} {
		if got := fmt.Sprint(s.set(c.path, "9")); got != c.want {
			t.Errorf("%s: %s, want %s", c.path, got, c.want)
		}
	}
}

// TestTouchesHeld: a change of structure keeps away from what is held, and from what that stands in.
func TestTouchesHeld(t *testing.T) {
	s := searchOf(t, noRules(t), "bodies: {a: {circle: {diameter: 40, at: [0, 0]}, from: 0, to: 10}, ab: {circle: {diameter: 4}, from: "+
		"0, to: 11}}\nhold: [a.at, a.height]")
	for path, want := range map[string]bool{"bodies.a.to": true, "bodies.a.from": true, "bodies.a": true, "bodies.a.circle": true,
		"bodies.a.circle.at":    true,
		"bodies.a.circle.at[1]": true, "bodies.a.circle.diameter": false, "bodies.a.circle.a": false, "bodies.a.t": false,
		"bodies.ab": false, "bodies.ab.to": false, "bodies.a.punch": false} {
		if got := s.touchesHeld([]checker.Set{{Path: "sized"}, {Path: path}}); got != want {
			t.Errorf("%s: %t", path, got)
		}
	}
	if s.touchesHeld(nil) {
		t.Error("nothing touches what is held")
	}
}

// TestLengths: lengths as the part file has them, whatever digits it writes.
func TestLengths(t *testing.T) {
	mm, in := searchOf(t, noRules(t), plainDisc), searchOf(t, noRules(t),
		"units: in\nbodies: {a: {circle: {diameter: 2}, from: 0, to: 0.4}}")
	if a, b := mm.length(12.7), in.length(12.7); a != "12.7" || b != "0.5" {
		t.Errorf("12.7 mm are %s and %s", a, b)
	}
	for text, want := range map[string]string{"10": "10", "10.0": "10", "1e1": "10", ".5": "0.5", "top": "top"} {
		if got := decimalOf(text); got != want {
			t.Errorf("%s: %s, want %s", text, got, want)
		}
	}
}

// TestStructures: of what is proposed only what clears or eases a finding is kept, one of each kind, and nothing is tried twice.
func TestStructures(t *testing.T) {
	book := samples.StandardBook(t)
	of := func(s *search, rule string) *target {
		i := slices.IndexFunc(s.of.Findings, func(f *checker.Finding) bool { return f.Rule.Name == rule })
		if i < 0 {
			t.Fatalf("%s finds nothing", rule)
		}
		return s.target(s.of.Findings[i])
	}
	void := plainDisc + "cuts: {b: {circle: {diameter: 6}, from: 6, to: 8}}\n"
	for _, c := range []struct {
		name, rule, text, want string
		left, tried            int
	}{
		{"run out or machined", "trapped-undercut", void, "cuts.b.to 8 -> 10; cuts.b.made_by  -> machining", MostTried, 2},
		{"its end is held", "trapped-undercut", void + "hold: [b.height]", "cuts.b.made_by  -> machining", MostTried, 1},
		{"one more may be tried", "trapped-undercut", void, "cuts.b.to 8 -> 10", 1, 1},
		{"no more may be tried", "trapped-undercut", void, "", 0, 0},
		{"the least radius of a corner that does", "joint-radius", plainDisc +
			"cuts: {bore: {circle: {diameter: 12}}, key: {rectangle: {length: 3, width: 6, at: [0, 5], corner: 0.3}}}",
			"blends.bore-key  -> {of: [bore, key], radius: 0.2}", MostTried, 1},
	} {
		s := searchOf(t, book, c.text)
		tg := of(s, c.rule)
		s.tried = MostTried - c.left
		var got []string
		for _, x := range s.structures(tg) {
			if got = append(got, written(x.Sets)); !x.Clears || x.Eases || x.spoilt || x.Says == "" || !slices.Equal(x.edits,
				editsOf(x.Sets)) {
				t.Errorf("%s: %+v", c.name, x)
			}
		}
		if got := strings.Join(got, "; "); got != c.want || s.tried != MostTried-c.left+c.tried {
			t.Errorf("%s: %s after %d, want %s after %d", c.name, got, s.tried-MostTried+c.left, c.want, c.tried)
		}
	}
}

// TestStructuresKept: what leaves a finding as it is, and what brings one as bad, is no change.
func TestStructuresKept(t *testing.T) {
	later := "  later: {title: L, stage: fill, basis: practice, over: part, need: [{grade: ask, that: size(part.holes) > 0}], says: x, " +
		"because: x, " +
		"change: x}\n"
	for _, c := range []struct{ more, want string }{
		{"", "cuts.b.made_by  -> machining"}, // a punch of its own leaves the wall as it is
		{later, ""},                          // then no hole is pressed
	} {
		s := searchOf(t, wallBook(t, c.more), tube("27.2"))
		var got []string
		for _, x := range s.structures(s.target(s.of.Findings[0])) {
			got = append(got, written(x.Sets))
		}
		if got := strings.Join(got, "; "); got != c.want {
			t.Errorf("%s, want %s", got, c.want)
		}
	}
}
