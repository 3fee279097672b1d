package rules

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"corerod/parts/subject"
)

// ruleOf is the one rule of a pack.
func ruleOf(t *testing.T, over, when, that string) (*Book, *Rule) {
	t.Helper()
	text := withNeed(over, that)
	if when != "" {
		text = strings.Replace(text, "    need:", "    when: '"+strings.ReplaceAll(when, "'", "''")+"'\n    need:", 1)
	}
	b := bookOf(t, text)
	return b, b.Rules[0]
}

// seen writes clauses one a line, with T where one was seen true and F where false.
func seen(w *Watched) (all []string) {
	for _, c := range w.Clauses {
		s := c.Text + " "
		if c.True {
			s += "T"
		}
		if c.False {
			s += "F"
		}
		all = append(all, s)
	}
	return all
}

// TestWatch: the clauses of a rule are its comparisons and measures that are true or false, from `when` on, without those that
// only ask whether a measure is there; each is seen true or false as parts are shown, also behind one that decides already.
func TestWatch(t *testing.T) {
	thin, thick := quiet(), quiet()
	thin.Walls = []*subject.Wall{wall(1)}
	thick.Walls = []*subject.Wall{wall(3)}
	web := quiet()
	web.Walls = []*subject.Wall{{Thickness: 1, Height: 9, Ratio: 9, Web: true}}
	for _, c := range []struct {
		name, over, when, that string
		shown                  []*subject.Part
		want                   []string
	}{
		{"not shown", "wall", "", "wall.thickness >= 2", nil, []string{"wall.thickness >= 2 "}},
		{"true", "wall", "", "wall.thickness >= 2", []*subject.Part{thick}, []string{"wall.thickness >= 2 T"}},
		{"false", "wall", "", "wall.thickness >= 2", []*subject.Part{thin}, []string{"wall.thickness >= 2 F"}},
		{"both", "wall", "", "wall.thickness >= 2", []*subject.Part{thin, thick}, []string{"wall.thickness >= 2 TF"}},
		{"behind one that decides", "wall", "", "wall.thickness >= 2 || wall.height < 5 || wall.web", []*subject.Part{thick},
			[]string{"wall.thickness >= 2 T", "wall.height < 5 T", "wall.web F"}},
		{"behind one that fails", "wall", "", "wall.thickness >= 2 && wall.height < 5", []*subject.Part{web},
			[]string{"wall.thickness >= 2 F", "wall.height < 5 F"}},
		{"not", "wall", "", "!wall.web && !(wall.height > 5)", []*subject.Part{web}, []string{"wall.web T", "wall.height > 5 T"}},
		{"when holds", "wall", "wall.height < 5", "wall.thickness >= 2", []*subject.Part{thin}, []string{"wall.height < 5 T",
			"wall.thickness >= 2 F"}},
		{"when does not hold", "wall", "wall.height < 5", "wall.thickness >= 2", []*subject.Part{web}, []string{"wall.height < 5 F",
			"wall.thickness >= 2 "}},
		{"when is true", "wall", "true", "wall.thickness >= 2", []*subject.Part{thin}, []string{"wall.thickness >= 2 F"}},
		{"has is none", "hole", "", "has(hole.bore) && hole.bore > 1", []*subject.Part{alone(through(3, 6))}, []string{"hole.bore > 1 T"}},
		{"has that does not hold", "hole", "", "!has(hole.floor) || hole.floor > 1", []*subject.Part{alone(through(3, 6))},
			[]string{"hole.floor > 1 "}},
		{"names and lists", "hole", "", "hole.name == 'bore' || hole.name != 'x' || hole.open in ['top'] || " +
			"hole.name.startsWith('b') || hole.name.endsWith('x') || hole.name.contains('or')", []*subject.Part{alone(through(3, 6))},
			[]string{"hole.name == 'bore' T", "hole.name != 'x' T", "hole.open in ['top'] F", "hole.name.startsWith('b') T",
				"hole.name.endsWith('x') F", "hole.name.contains('or') T"}},
		{"of each element", "part", "", "part.walls.all(w, w.thickness >= 2 || w.web)", []*subject.Part{withWalls(wall(1), wall(3))},
			[]string{"w.thickness >= 2 TF", "w.web F"}},
		{"of the elements that pass", "part", "", "part.walls.filter(w, w.web).all(v, v.height < 5)", []*subject.Part{web},
			[]string{"w.web T", "v.height < 5 F"}},
		{"of no element", "part", "", "part.walls.all(w, w.thickness >= 2)", []*subject.Part{quiet()}, []string{"w.thickness >= 2 "}},
		{"of elements within elements", "part", "", "part.walls.all(w, part.walls.exists(v, v.thickness > w.thickness))",
			[]*subject.Part{withWalls(wall(1), wall(3))}, []string{"v.thickness > w.thickness TF"}},
		{"chosen", "wall", "", "wall.web ? wall.height < 5 : wall.thickness > 2", []*subject.Part{thick}, []string{"wall.web F",
			"wall.height < 5 T", "wall.thickness > 2 T"}},
	} {
		b, r := ruleOf(t, c.over, c.when, c.that)
		w := r.Watch()
		if w.Rule != r {
			t.Errorf("%s: of another rule", c.name)
		}
		for _, p := range c.shown {
			w.Show(b, Case{Part: p, Unit: "mm"})
		}
		if got := seen(w); !slices.Equal(got, c.want) {
			t.Errorf("%s:\n%q, want\n%q", c.name, got, c.want)
		}
		for _, k := range w.Clauses {
			if k.Always || k.Origin.File != "pack.yaml" || k.Origin.Line < 20 || k.Origin.Column < 2 {
				t.Errorf("%s: %+v", c.name, k)
			}
		}
	}
	// A clause stands where its operator does: that of the text which begins in column 32.
	_, r := ruleOf(t, "wall", "", "wall.thickness >= 2 || wall.web")
	if c := r.Watch().Clauses; c[0].Origin.Line != 23 || c[0].Origin.Column != 32+15 || c[1].Origin.Column != 32+27 {
		t.Errorf("%+v and %+v", c[0].Origin, c[1].Origin)
	}
}

// withWalls is a quiet part with walls.
func withWalls(ws ...*subject.Wall) *subject.Part {
	p := quiet()
	p.Walls = ws
	return p
}

// TestWatchExists: whether a measure that is always above zero is zero asks whether there is such a subject at all: it is true
// where the part has none. Another measure, another limit, another comparison and another subject do not ask that.
func TestWatchExists(t *testing.T) {
	for _, c := range []struct {
		over, that string
		always     bool
	}{
		{"trap", "trap.height <= 0", true}, {"trap", "trap.height < 0", false}, {"trap", "trap.height <= 1", false}, {"trap",
			"0 >= trap.height", false},
		{"hole", "hole.draft <= 0", false}, {"trap", "part.height <= 0", false}, {"trap", "part.traps.all(x, x.height <= 0)", false},
		{"trap", "trap.height - 1 <= 0", false},
	} {
		b, r := ruleOf(t, c.over, "", c.that)
		w := r.Watch()
		if len(w.Clauses) != 1 || w.Clauses[0].Always != c.always {
			t.Errorf("%s: %+v", c.that, w.Clauses[0])
			continue
		}
		w.Show(b, Case{Part: quiet(), Unit: "mm"})
		if got := w.Clauses[0]; got.True != c.always || got.False {
			t.Errorf("%s, without a subject: seen true %v, false %v", c.that, got.True, got.False)
		}
		p := quiet()
		p.Traps = []*subject.Trap{{Height: 2, Area: 1}}
		p.Holes = []*subject.Hole{through(3, 6)}
		w = r.Watch()
		w.Show(b, Case{Part: p, Unit: "mm"})
		if got := w.Clauses[0]; got.Always && (got.True || !got.False) {
			t.Errorf("%s, with a subject: seen true %v, false %v", c.that, got.True, got.False)
		}
	}
}

// TestReadsText: a rule reads a text where a condition holds it against one that is written out, of the kind that is asked for, or of
// any subject but the part and the material.
func TestReadsText(t *testing.T) {
	for _, c := range []struct {
		over, when, that string
		kind             string
		names            []string
		want             bool
	}{
		{"hole", "", "hole.name == 'bore'", "hole", []string{"name"}, true},
		{"hole", "", "'bore' != hole.name", "hole", []string{"name"}, true},
		{"hole", "", "hole.name in ['bore', 'eye']", "hole", []string{"name"}, true},
		{"hole", "", "hole.name.startsWith('b')", "hole", []string{"name"}, true},
		{"hole", "hole.name == 'bore'", "hole.width > 1", "hole", []string{"name"}, true},
		{"hole", "", "hole.width > 1", "hole", []string{"name"}, false},
		{"hole", "", "hole.name == 'bore'", "wall", []string{"name"}, false},
		{"hole", "", "hole.name == 'bore'", "hole", []string{"open"}, false},
		{"hole", "", "hole.open == 'top'", "hole", []string{"name", "open"}, true},
		{"hole", "", "hole.name == 'bore'", "", []string{"name"}, true},
		{"part", "", "part.name == 'washer'", "", []string{"name"}, false},
		{"part", "", "part.name == 'washer'", "part", []string{"name"}, true},
		{"part", "", "has(material.name) && material.name == 'x'", "", []string{"name"}, false},
		{"part", "", "has(material.name) && material.name == 'x'", "material", []string{"name"}, true},
		{"hole", "", "hole.name == part.name", "hole", []string{"name"}, false},
		{"part", "", "part.holes.all(h, h.width > 1 || h.name == 'bore')", "", []string{"name"}, true},
	} {
		_, r := ruleOf(t, c.over, c.when, c.that)
		if got := r.ReadsText(c.kind, c.names...); got != c.want {
			t.Errorf("when %q, %s reads %q of %q: %v", c.when, c.that, c.names, c.kind, got)
		}
	}
}

// TestReads: a rule reads the limits that its conditions name.
func TestReads(t *testing.T) {
	_, r := ruleOf(t, "wall", "wall.height > limits.special", "wall.thickness >= limits.least")
	for limit, want := range map[string]bool{"least": true, "special": true, "guess": false} {
		if r.Reads(limit) != want {
			t.Errorf("reads %s: %v", limit, !want)
		}
	}
}

// TestAloneAndWith: a book with one rule of several, and one with what a trial offers; the book itself stays.
func TestAloneAndWith(t *testing.T) {
	text := withNeed("wall", "wall.thickness >= 1")
	i := strings.Index(text, "  trial:\n    title")
	rule := text[i:]
	text += strings.Replace(rule, "  trial:", "  another:", 1) + strings.Replace(rule, "  trial:", "  zebra:", 1)
	b := bookOf(t, text)
	if len(b.Rules) != 3 {
		t.Fatalf("%d rules", len(b.Rules))
	}
	for _, name := range []string{"another", "trial", "zebra"} {
		if one := b.Alone(name); len(one.Rules) != 1 || one.Rules[0].Name != name || len(one.Packs) != 1 || len(b.Rules) != 3 {
			t.Errorf("%s alone: %+v", name, one.Rules)
		}
	}
	if b.With(nil) != b {
		t.Error("nothing offered makes another book")
	}
	offers := &Pack{Name: "offered", Materials: map[string]*StockMaterial{"M": {Name: "M"}}}
	with := b.With(offers)
	if _, ok := with.Material("M"); !ok || len(with.Packs) != 2 || len(with.Rules) != 3 || len(b.Packs) != 1 {
		t.Errorf("%d and %d packs, %d rules", len(with.Packs), len(b.Packs), len(with.Rules))
	}
	if _, ok := b.Material("M"); ok {
		t.Error("the book itself has the material")
	}
}

// TestComparisons: a number at a limit, to a part in a thousand million of it and to as much of one below one, meets `<=` and `>=`
// and does not meet `<` and `>`.
func TestComparisons(t *testing.T) {
	for _, c := range []struct {
		value, limit  float64
		below, at, up bool // value < limit; both <= and >=; value > limit
	}{
		{1, 2, true, false, false}, {3, 2, false, false, true}, {2, 2, false, true, false},
		{1 - 1e-9, 1, false, true, false}, {1e-9, 0, false, true, false}, {-1e-9, 0, false, true, false}, {2 + 1e-9, 2, false, true,
			false}, {2 - 1e-9, 2, false, true, false}, {2 + 4e-9, 2, false, false, true}, {2 - 4e-9, 2, true, false, false},
		{1e6 + 5e-4, 1e6, false, true, false}, {1e6 + 2e-3, 1e6, false, false, true}, {-1e6 - 5e-4, -1e6, false, true, false},
		{-1e6 - 2e-3, -1e6, true, false, false},
		{5e-10, 0, false, true, false}, {2e-9, 0, false, false, true}, {-2e-9, 0, true, false, false},
	} {
		for op, want := range map[string]bool{"_<_": c.below, "_<=_": c.below || c.at, "_>_": c.up, "_>=_": c.up || c.at} {
			if got := comparisons[op](c.value, c.limit); got != want {
				t.Errorf("%.12g %s %g: %v", c.value, op, c.limit, got)
			}
		}
	}
}

// TestMeets: a rule is met by a subject of that name that meets its last need, and by none that it is not about.
func TestMeets(t *testing.T) {
	text := withNeed("wall", "wall.thickness >= 1")
	text = strings.Replace(text, "need: [{", "need: [{grade: change, that: 'wall.thickness >= 0.5'}, {", 1)
	i := strings.Index(text, "  trial:\n    title")
	text += strings.Replace(strings.Replace(text[i:], "  trial:", "  other:", 1), ">= 1'", ">= 9'", 1)
	b := bookOf(t, text)
	p := quiet()
	for name, v := range map[string]float64{"thick": 2, "thin": 0.7, "thinner": 0.2} {
		w := wall(v)
		w.Name = name
		p.Walls = append(p.Walls, w)
	}
	out := b.Judge(Case{Part: p, Unit: "mm"})
	var got []string
	for _, r := range b.Rules {
		for _, name := range []string{"thick", "thin", "thinner", "none"} {
			if out.Meets(r, name) {
				got = append(got, r.Name+" "+name)
			}
		}
	}
	if want := "[trial thick]"; fmt.Sprint(got) != want {
		t.Errorf("met: %v, want %s", got, want)
	}
}
