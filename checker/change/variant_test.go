package change

import (
	"context"
	"slices"
	"testing"

	"corerod/checker"
	"corerod/parts/source"
	"corerod/parts/subject"
	"corerod/rules"
)

// TestMisses: by how much a target is missed at most, and the worst grade, over its own subjects and rule alone.
func TestMisses(t *testing.T) {
	r, other := &rules.Rule{Name: "wall"}, &rules.Rule{Name: "rim"}
	ab, ac, ad := wallOf("a-b", 0.5, "a", "b"), wallOf("a-c", 0.5, "a", "c"), wallOf("a-d", 0.5, "a", "d")
	tg := &target{finding: &checker.Finding{Finding: rules.Finding{Rule: r}}, names: []string{"a-b", "a-c"}}
	for _, c := range []struct {
		name  string
		found []rules.Finding
		most  float64
		grade rules.Grade
	}{
		{"nothing", nil, 0, ""},
		{"one of it", []rules.Finding{thin(r, rules.Ask, ab, 0.2)}, 0.2, rules.Ask},
		{"another wall", []rules.Finding{thin(r, rules.Stop, ad, 0.4)}, 0, ""},
		{"another rule", []rules.Finding{thin(other, rules.Stop, ab, 0.4)}, 0, ""},
		{"others stand before", []rules.Finding{thin(other, rules.Stop, ab, 0.4), thin(r, rules.Stop, ad, 0.4), thin(r, rules.Ask, ac,
			0.1)}, 0.1, rules.Ask},
		{"the most of one and the grade of another", []rules.Finding{thin(r, rules.Ask, ab, 0.4), thin(r, rules.Change, ac, 0.1)}, 0.4,
			rules.Change},
		{"in the other order", []rules.Finding{thin(r, rules.Change, ac, 0.1), thin(r, rules.Ask, ab, 0.4)}, 0.4, rules.Change},
	} {
		most, grade := tg.misses(&variant{out: &rules.Outcome{Findings: c.found}})
		if most != c.most || grade != c.grade {
			t.Errorf("%s: %g and %q, want %g and %q", c.name, most, grade, c.most, c.grade)
		}
	}
}

// TestFewer: as many findings less on the target's features as it stands for, whatever names they have.
func TestFewer(t *testing.T) {
	r, other := &rules.Rule{Name: "wall"}, &rules.Rule{Name: "rim"}
	first, second, third := wallOf("a-b", 0.5, "a", "b"), wallOf("a-b 2", 0.5, "a", "b"), wallOf("a-b 3", 0.5, "a", "b")
	elsewhere := thin(r, rules.Ask, wallOf("a-c", 0.5, "a", "c"), 0.2)
	base := []rules.Finding{thin(r, rules.Ask, first, 0.2), thin(r, rules.Ask, second, 0.2), thin(r, rules.Ask, third, 0.4), elsewhere}
	for _, c := range []struct {
		name  string
		stand int // findings that the target stands for
		left  []rules.Finding
		want  bool
	}{
		{"one of three is gone", 1, []rules.Finding{thin(r, rules.Ask, first, 0.2), thin(r, rules.Ask, second, 0.2)}, true},
		{"as many as before", 1, base, false},
		{"one of two", 2, []rules.Finding{thin(r, rules.Ask, first, 0.2), thin(r, rules.Ask, second, 0.2)}, false},
		{"both of two", 2, []rules.Finding{thin(r, rules.Ask, first, 0.2)}, true},
		{"others do not count", 2, []rules.Finding{thin(r, rules.Ask, first, 0.2), elsewhere, elsewhere, thin(other, rules.Ask, first,
			0.2)}, true},
		{"all are gone", 3, nil, true},
	} {
		tg := &target{base: &variant{out: &rules.Outcome{Findings: base}}}
		for i := range c.stand {
			tg.all = append(tg.all, &base[i])
		}
		if got := tg.fewer(&variant{out: &rules.Outcome{Findings: c.left}}); got != c.want {
			t.Errorf("%s: %t", c.name, got)
		}
	}
}

// TestGone: a target is gone where neither its subjects have it any more nor others of its features have taken it over.
func TestGone(t *testing.T) {
	r := &rules.Rule{Name: "wall"}
	ab, other, ac := wallOf("a-b", 0.5, "a", "b"), wallOf("a-b 2", 0.5, "a", "b"), wallOf("a-c", 0.5, "a", "c")
	base := []rules.Finding{thin(r, rules.Ask, ab, 0.2), thin(r, rules.Ask, other, 0.2)}
	tg := &target{finding: &checker.Finding{Finding: base[0]}, base: &variant{out: &rules.Outcome{Findings: base}},
		all:   []*rules.Finding{&base[0]},
		names: []string{"a-b"}}
	s := &search{base: tg.base}
	for _, c := range []struct {
		name string
		left []rules.Finding
		want bool
	}{
		{"nothing is left", nil, true},
		{"the other one is left", []rules.Finding{base[1]}, true},
		{"both are", base, false},
		{"it is, and the other one is gone", []rules.Finding{base[0]}, false},
		{"a third one has come", []rules.Finding{base[1], thin(r, rules.Ask, wallOf("a-b 3", 0.5, "a", "b"), 0.2)}, false},
		{"one of other features has come", []rules.Finding{base[1], thin(r, rules.Ask, ac, 0.2)}, true},
	} {
		if got := s.gone(tg, &variant{out: &rules.Outcome{Findings: c.left}}); got != c.want {
			t.Errorf("%s: %t", c.name, got)
		}
	}
}

// TestTarget: a finding stands for those of its rule that are alike, and is numeric where one of them misses by a number.
func TestTarget(t *testing.T) {
	s := searchOf(t, wallBook(t), "bodies: {a: {rectangle: {length: 60, width: 30, corner: 3}, from: 0, to: 8}}\ncuts: {b: {circle: "+
		"{diameter: 4, at: [-15, 12]}, repeat: {count: 3, step: [15, 0]}}, c: {circle: {diameter: 4, at: [0, -12]}}}")
	if len(s.of.Findings) != 2 {
		t.Fatalf("%d findings, not one of three holes and one of one", len(s.of.Findings))
	}
	total := 0
	for _, f := range s.of.Findings {
		tg := s.target(f)
		total += len(tg.all)
		if !tg.numeric || tg.base != s.base || len(tg.names) != len(tg.all) {
			t.Errorf("%+v", tg)
		}
		for i, g := range tg.all {
			if g.Rule != f.Rule || tg.names[i] != g.Over.Place().Name || !slices.Equal(g.Subject.Place().Features,
				f.Subject.Place().Features) {
				t.Errorf("%s stands for %s", f.Subject.Place().Name, tg.names[i])
			}
		}
	}
	if total != len(s.base.out.Findings) {
		t.Errorf("the targets stand for %d of %d findings", total, len(s.base.out.Findings))
	}
	flag := "  web: {title: B, stage: fill, basis: practice, over: wall, need: [{grade: stop, that: wall.web}], says: x, because: x, " +
		"change: x}\n"
	s = searchOf(t, wallBook(t, flag), tube("27.2"))
	for _, f := range s.of.Findings {
		if got, want := s.target(f).numeric, f.Rule.Name == "wall"; got != want {
			t.Errorf("%s is numeric: %t", f.Rule.Name, got)
		}
	}
}

// TestCleared: a finding is cleared where its subjects are there still, its rule applies to them and what it lets a change move has moved.
func TestCleared(t *testing.T) {
	more := "  low: {title: L, stage: fill, basis: practice, over: wall, when: wall.height > 5.0, need: [{grade: change, that: " +
		"wall.height <= 4.0 * wall.thickness}], says: x, because: x, change: x, adjust: [wall.thickness]}\n"
	whole := "  whole: {title: L, stage: fill, basis: practice, over: wall, need: [{grade: change, that: wall.thickness * 1.0 >= " +
		"1.45}], says: x, because: x, change: x}\n"
	pocket := "bodies: {a: {circle: {diameter: 30}, from: 0, to: 8}}\ncuts: {b: {circle: {diameter: 27.2}}}"
	eye := "bodies: {a: {circle: {diameter: 30}, from: 0, to: 8}}\ncuts: {b: {circle: {diameter: 6, at: [11, 0]}}}" // 1 mm to the edge
	for _, c := range []struct {
		name, text, rule, path, to string
		want                       bool
	}{
		{"thick enough", pocket, "wall", "cuts.b.circle.diameter", "27", true},
		{"not thick enough", pocket, "wall", "cuts.b.circle.diameter", "27.1", false},
		{"it runs out of the part: no hole is left", eye, "wall", "cuts.b.circle.at[0]", "14", false},
		{"to the middle", eye, "wall", "cuts.b.circle.at[0]", "10.5", true},
		{"low enough by its thickness", pocket, "low", "cuts.b.circle.diameter", "26", true},
		{"low enough by its height, which no change is to move", pocket, "low", "bodies.a.to", "5.2", false},
		{"so low that the rule does not apply", pocket, "low", "bodies.a.to", "4", false},
		{"lower, and thicker", pocket, "low", "bodies.a.circle.diameter", "31.2", true},
		{"a rule that names nothing to adjust", pocket, "whole", "cuts.b.circle.diameter", "27", true},
	} {
		s := searchOf(t, wallBook(t, more, whole), c.text)
		i := slices.IndexFunc(s.of.Findings, func(f *checker.Finding) bool { return f.Rule.Name == c.rule })
		if i < 0 {
			t.Errorf("%s: %s finds nothing", c.name, c.rule)
			continue
		}
		v := s.review([]source.Edit{{Path: c.path, Text: c.to}})
		if v.derived == nil {
			t.Errorf("%s: the part is refused", c.name)
			continue
		}
		if got := s.cleared(s.target(s.of.Findings[i]), v); got != c.want {
			t.Errorf("%s: %t", c.name, got)
		}
	}
}

// TestClearedGone: a void that is closed along the axis may be gone, since that is what is wrong with it.
func TestClearedGone(t *testing.T) {
	traps := "  trap: {title: T, stage: eject, basis: practice, over: trap, need: [{grade: stop, that: trap.height < 0.5}], says: x, " +
		"because: x, change: x}\n"
	s := searchOf(t, wallBook(t, traps), plainDisc+"cuts: {b: {circle: {diameter: 6}, from: 6, to: 8}, c: {circle: {diameter: 6, at: "+
		"[10, 0]}}}")
	if len(s.of.Findings) != 1 {
		t.Fatalf("%d findings", len(s.of.Findings))
	}
	tg := s.target(s.of.Findings[0])
	for to, want := range map[string]bool{"10": true, "7": false, "6.4": true} {
		if got := s.cleared(tg, s.review([]source.Edit{{Path: "cuts.b.to", Text: to}})); got != want {
			t.Errorf("up to %s: %t", to, got)
		}
	}
}

// TestStays: a part keeps its holes, each place of those alike counted, but where the finding is of what goes with them.
func TestStays(t *testing.T) {
	hole := func(places int) *subject.Hole {
		return &subject.Hole{Common: subject.Common{Places: make([]subject.Point, places)}}
	}
	of := func(holes ...*subject.Hole) *variant {
		return &variant{derived: &checker.Derived{Subject: &subject.Part{Holes: holes}}}
	}
	over := func(s subject.Subject) *target {
		return &target{finding: &checker.Finding{Finding: rules.Finding{Over: s}}, base: of(hole(0), hole(3))}
	}
	for _, c := range []struct {
		v          *variant
		wall, trap bool
	}{
		{of(hole(0), hole(3)), true, true},
		{of(hole(2), hole(2)), true, true}, // four in all
		{of(hole(0), hole(0)), false, true},
		{of(hole(0), hole(2)), false, true},
		{of(hole(0), hole(0), hole(0), hole(0)), true, true},
		{of(), false, true},
	} {
		if got := over(&subject.Wall{}).stays(c.v); got != c.wall {
			t.Errorf("%d holes instead of 4: %t", holes(c.v.derived.Subject), got)
		}
		if got := over(&subject.Trap{}).stays(c.v); got != c.trap {
			t.Errorf("of a trap, %d holes instead of 4: %t", holes(c.v.derived.Subject), got)
		}
	}
}

// TestAdjusted: what a rule lets a change move has moved: of the subject any of those named, of the part always.
func TestAdjusted(t *testing.T) {
	hole := func(width, depth float64, bore subject.Optional) *subject.Hole {
		return &subject.Hole{Width: width, Depth: depth, Bore: bore}
	}
	known, unknown := subject.Some(0), subject.Optional{}
	for _, c := range []struct {
		name   string
		adjust []string
		now    *subject.Hole
		want   bool
	}{
		{"nothing is named", nil, hole(6, 10, known), true},
		{"it has moved", []string{"hole.width"}, hole(7, 10, known), true},
		{"it has not", []string{"hole.width"}, hole(6, 12, known), false},
		{"the second one has", []string{"hole.width", "hole.depth"}, hole(6, 12, known), true},
		{"neither has", []string{"hole.width", "hole.depth"}, hole(6, 10, known), false},
		{"of the part", []string{"part.height"}, hole(6, 10, known), true},
		{"of the part, behind one that has not", []string{"hole.width", "part.height"}, hole(6, 10, known), true},
		{"it is no longer known", []string{"hole.bore"}, hole(6, 10, unknown), true},
		{"it is known as before", []string{"hole.bore"}, hole(7, 12, known), false},
	} {
		f := &rules.Finding{Rule: &rules.Rule{Adjust: c.adjust}, Over: hole(6, 10, known)}
		if got := adjusted(f, c.now); got != c.want {
			t.Errorf("%s: %t", c.name, got)
		}
	}
}

// TestFind: the subject of a kind and name, and the part whatever it is called.
func TestFind(t *testing.T) {
	wall, hole := wallOf("x", 2), &subject.Hole{Common: subject.Common{Name: "x"}}
	p := &subject.Part{Walls: []*subject.Wall{wallOf("w", 1), wall}, Holes: []*subject.Hole{hole}}
	for _, c := range []struct {
		kind *subject.Kind
		name string
		want subject.Subject
	}{{subject.WallKind, "x", wall}, {subject.HoleKind, "x", hole}, {subject.HoleKind, "w", nil}, {subject.GapKind, "x", nil},
		{subject.PartKind, "any", p}} {
		if got := find(p, c.kind, c.name); got != c.want {
			t.Errorf("%s %s: %v", c.kind.Name, c.name, got)
		}
	}
}

// TestReviewVariant: a changed part is reviewed once, whatever was refused; one that is refused, or at which a rule fails that did not fail
// before, has nothing derived; nothing is reviewed, and nothing kept, once the context has ended.
func TestReviewVariant(t *testing.T) {
	deep := "  deep: {title: D, stage: fill, basis: practice, over: wall, need: [{grade: ask, that: wall.height <= 9.0}], says: " +
		"\"{wall.between[5]}\", because: x, change: x}\n"
	s := searchOf(t, wallBook(t, deep), tube("27.2"))
	edit := func(path, text string) []source.Edit { return []source.Edit{{Path: path, Text: text}} }
	good := s.review(edit("bodies.a.to", "8.5"))
	if good.derived == nil || good.derived.Subject.Height != 8.5 || len(good.edits) != 1 || len(good.out.Findings) != 1 {
		t.Errorf("%+v", good)
	}
	if s.review(edit("bodies.a.to", "8.5")) != good || s.review(edit("bodies.a.to", "8.6")) == good {
		t.Error("the same edits are the same variant, others are not")
	}
	for _, e := range [][]source.Edit{edit("bodies.a.to", "none"), edit("bodies.a.to", "-1"), edit("bodies.z.circle.diameter", "1"),
		edit("cuts.b.circle.diameter", "31")} {
		v := s.review(e)
		if v.derived != nil || v.out != nil || s.review(e) != v {
			t.Errorf("%v: %+v", e, v)
		}
	}
	if v := s.review(edit("bodies.a.to", "10")); v.derived != nil {
		t.Error("a rule that fails on the changed part is passed over")
	}
	if base := s.review(nil); base.derived == nil || base.derived.Subject.Height != 8 {
		t.Errorf("without edits: %+v", base)
	}
	ended, cancel := context.WithCancel(context.Background())
	cancel()
	was := s.ctx
	s.ctx = ended
	if v := s.review(edit("bodies.a.to", "7")); v.derived != nil {
		t.Error("it is reviewed though the context has ended")
	}
	if s.review(edit("bodies.a.to", "8.5")) != good {
		t.Error("what was reviewed is forgotten")
	}
	if s.ctx = was; s.review(edit("bodies.a.to", "7")).derived == nil {
		t.Error("what was not reviewed is taken as refused")
	}
}
