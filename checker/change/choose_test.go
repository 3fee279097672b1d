package change

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"testing"

	"corerod/checker"
	"corerod/parts/source"
	"corerod/rules"
)

// twoEyes is a bar with two eyes near its edge: 1 mm and 1.3 mm of wall, where 1.2 is needed, and 1.5 asked for.
const twoEyes = "part: a\nunits: mm\nbodies: {a: {rectangle: {length: 60, width: 30, corner: 3}, from: 0, to: 8}}\n" +
	"cuts: {b: {circle: {diameter: 6, at: [-15, 11]}}, c: {circle: {diameter: 6, at: [15, 10.7]}}}\nhold: [a.width, b.diameter, " +
	"c.diameter]\n"

// TestReviseByHand: an id makes the best change of that finding, no id those of all stops and changes; asks stay, and do not count
// for the status.
func TestReviseByHand(t *testing.T) {
	book := wallBook(t)
	first := changed(t, book, []byte(twoEyes), 3)
	ids := map[string]string{}
	for _, f := range first.Findings {
		ids[f.Subject.Place().Features[1]] = f.ID
	}
	for _, c := range []struct {
		name, id, want string
		left           int
		status         checker.Status
	}{
		{"all", "", "cuts.b.circle.at[1] 11 -> 10.5", 1, checker.Clear},
		{"the first", ids["b"], "cuts.b.circle.at[1] 11 -> 10.5", 1, checker.Clear},
		{"the ask", ids["c"], "cuts.c.circle.at[1] 10.7 -> 10.5", 1, checker.Found},
	} {
		r, ps, err := Revise(context.Background(), fileOf("a.yaml", []byte(twoEyes)), book, c.id, checker.Options{})
		if err != nil || len(ps) > 0 {
			t.Fatal(ps, err)
		}
		var got []string
		for _, x := range r.Chosen {
			got = append(got, written(x.Change.Sets))
			if c.id != "" && x.Finding.ID != c.id {
				t.Errorf("%s: it is chosen for %s", c.name, x.Finding.ID)
			}
		}
		if got := strings.Join(got, "; "); got != c.want || len(r.After.Findings) != c.left || r.Status != c.status {
			t.Errorf("%s: %s, %d findings, status %d; want %s, %d and %d", c.name, got, len(r.After.Findings), r.Status, c.want,
				c.left, c.status)
		}
		if string(r.Old) != twoEyes || string(r.New) == twoEyes || len(r.Before.Findings) != 2 {
			t.Errorf("%s: what it was: %d findings\n%s", c.name, len(r.Before.Findings), r.Old)
		}
	}
	r, _, err := Revise(context.Background(), fileOf("a.yaml", []byte(twoEyes)), book, "nosuch", checker.Options{})
	if err == nil || !strings.Contains(err.Error(), "nosuch") || len(r.Chosen) > 0 || r.Status != checker.Found ||
		string(r.New) != twoEyes {
		t.Errorf("an id that is none: %v, %+v", err, r)
	}
	if _, ps, err := Revise(context.Background(), fileOf("a.yaml", []byte("part: a\nbodies: {")), book, "",
		checker.Options{}); len(ps) == 0 || err != nil {
		t.Errorf("no part file: %v %v", ps, err)
	}
}

// TestReviseConceded: what is conceded is left as it is, and does not count for the status.
func TestReviseConceded(t *testing.T) {
	book := wallBook(t)
	cover := func(_ context.Context, p *checker.PartReview, _ []byte) {
		for _, f := range p.Findings {
			f.Concession = &checker.Conceded{State: checker.Covering}
		}
	}
	r, _, err := Revise(context.Background(), fileOf("a.yaml", []byte(twoEyes)), book, "", checker.Options{Steps: []checker.Step{cover}})
	if err != nil || len(r.Chosen) > 0 || r.Status != checker.Clear || len(r.After.Findings) != 2 {
		t.Errorf("%v, %d chosen, status %d", err, len(r.Chosen), r.Status)
	}
}

// TestReviseApart: changes that would spoil each other together are made one by one, as long as the part gets better.
func TestReviseApart(t *testing.T) {
	// the bore leaves 1 mm to the rim and 1 mm to the eye beside it; where both walls are cleared by moving the bore, only one can be
	text := "part: a\nunits: mm\nbodies: {a: {circle: {diameter: 40}, from: 0, to: 8}}\n" +
		"cuts: {b: {circle: {diameter: 6, at: [16, 0]}}, c: {circle: {diameter: 6, at: [9, 0]}}}\nhold: [a.diameter, b.diameter, " +
		"c.diameter, \"b.at[1]\", \"c.at[1]\"]\n"
	r, ps, err := Revise(context.Background(), fileOf("a.yaml", []byte(text)), wallBook(t), "", checker.Options{})
	if err != nil || len(ps) > 0 {
		t.Fatal(ps, err)
	}
	for _, f := range r.After.Findings {
		if f.Grade != rules.Ask {
			t.Errorf("%s is left of %s", f.Rule.Name, r.New)
		}
	}
	if len(r.Chosen) == 0 || r.Status != checker.Clear || !better(r.After, r.Before) {
		t.Errorf("%d chosen, status %d", len(r.Chosen), r.Status)
	}
}

// TestMake: changes are kept only where they can be made and the part is better for them.
func TestMake(t *testing.T) {
	book := wallBook(t)
	v := &reviser{ctx: context.Background(), file: "a.yaml", force: &checker.Force{Book: book}}
	chosen := func(path, to string) []Chosen {
		return []Chosen{{&checker.Finding{ID: path}, &checker.Change{Sets: []checker.Set{{Path: path, To: to}}}}}
	}
	for _, c := range []struct {
		name, path, to string
		want           bool
	}{
		{"it clears a wall", "cuts.b.circle.at[1]", "10", true},
		{"no better", "cuts.b.circle.at[0]", "-14", false},
		{"worse", "cuts.c.circle.at[1]", "11.2", false},
		{"what is not there", "cuts.z.circle.at[1]", "10", false},
		{"no number", "cuts.b.circle.at[1]", "none", false},
		{"no part", "cuts.b.circle.diameter", "-1", false},
	} {
		p, ps := v.review([]byte(twoEyes))
		if len(ps) > 0 {
			t.Fatal(ps)
		}
		r := &Revision{Before: p, After: p, Old: []byte(twoEyes), New: []byte(twoEyes)}
		if got := v.make(r, chosen(c.path, c.to)); got != c.want {
			t.Errorf("%s: %t", c.name, got)
		}
		if made := string(r.New) != twoEyes; made != c.want || (r.After != p) != c.want || (len(r.Chosen) == 1) != c.want {
			t.Errorf("%s: made %t, %d chosen", c.name, made, len(r.Chosen))
		}
	}
	if r := (&Revision{New: []byte("part: [")}); v.make(r, chosen("a", "1")) {
		t.Error("a file that cannot be read is changed")
	}
}

// TestChangeInFull: everything that a change says of itself, by hand.
func TestChangeInFull(t *testing.T) {
	// walls of 1 mm and 1.3 mm in a bar; 0.5 mm more on each side of the width clears both, 0.2 mm of c its own
	text := strings.Replace(twoEyes, "hold: [a.width, b.diameter, c.diameter]\n", "hold: [b.diameter, c.diameter, \"b.at\", \"c.at\"]\n", 1)
	p := changed(t, wallBook(t), []byte(text), 9)
	if len(p.Findings) != 2 || p.Search == nil || p.Search.Stopped {
		t.Fatalf("%d findings, %+v", len(p.Findings), p.Search)
	}
	b, c := p.Findings[0], p.Findings[1]
	if b.Subject.Place().Features[1] != "b" {
		b, c = c, b
	}
	wide := b.Changes[0]
	if got := written(wide.Sets); got != "bodies.a.rectangle.width 30 -> 31" {
		t.Fatalf("%s", got)
	}
	if !wide.Clears || wide.Eases || fmt.Sprint(wide.ClearsToo) != "["+c.ID+"]" || len(wide.Brings)+len(wide.Worsens) > 0 ||
		wide.Relative != 1./31 || wide.Says != "" {
		t.Errorf("%+v", wide)
	}
	x := wide.Sets[0]
	if x.Line != 3 || x.Unit != "mm" || x.From != "30" || len(wide.Splices) != 1 {
		t.Errorf("%+v", wide)
	}
	narrow := c.Changes[0]
	if got := written(narrow.Sets); got != "bodies.a.rectangle.width 30 -> 30.4" || !narrow.Clears || len(narrow.ClearsToo) > 0 {
		t.Errorf("%s: %+v", got, narrow)
	}
}

// TestWeighEases: a change after which a finding is milder eases it; one after which it is as bad, or gone, does not.
func TestWeighEases(t *testing.T) {
	s := searchOf(t, wallBook(t), tube("28"))
	tg := s.target(s.of.Findings[0])
	for _, c := range []struct {
		to            string
		clears, eases bool
	}{{"27.9", false, false}, {"27.6", false, true}, {"27.1", false, true}, {"27", true, false}, {"28.2", false, false}} {
		x := s.weigh(tg, []checker.Set{{From: "28", To: c.to}}, s.review([]source.Edit{{Path: "cuts.b.circle.diameter", Text: c.to}}))
		if x.Clears != c.clears || x.Eases != c.eases || x.Relative == 0 || x.Moved == 0 {
			t.Errorf("%s: %+v", c.to, x.Change)
		}
		if (len(x.Worsens) > 0) != (c.to == "28.2") {
			t.Errorf("%s worsens %v", c.to, x.Worsens)
		}
	}
}

// TestEasing: the least numbers after which a finding is of a milder grade.
func TestEasing(t *testing.T) {
	s := searchOf(t, wallBook(t), tube("28"))
	s.probe(s.of.Findings)
	var got []string
	for _, x := range s.easing(s.target(s.of.Findings[0])) {
		if got = append(got, written(x.Sets)); !x.Eases || x.Clears {
			t.Errorf("%+v", x.Change)
		}
	}
	slices.Sort(got)
	if got, want := strings.Join(got, "; "), "bodies.a.circle.diameter 30 -> 30.4; cuts.b.circle.diameter 28 -> 27.6"; got != want {
		t.Errorf("%s, want %s", got, want)
	}
}

// TestSeekMost: as many changes for a finding as are asked for; none where nothing is found.
func TestSeekMost(t *testing.T) {
	text := []byte("part: a\nunits: mm\n" + tube("27.2") + "\n")
	for n := range 4 {
		p := changed(t, wallBook(t), text, n)
		if got := len(p.Findings[0].Changes); got != min(n, 2) {
			t.Errorf("%d changes of %d", got, n)
		}
		if (p.Search != nil) != (n > 0) {
			t.Errorf("%d changes are asked for: %+v", n, p.Search)
		}
	}
	if p := changed(t, wallBook(t), []byte("part: a\nunits: mm\n"+tube("20")+"\n"), 3); p.Search != nil {
		t.Errorf("nothing is found, and sought for: %+v", p.Search)
	}
}

// TestSeekAgainst: changed parts are judged by another book where one is given, such as one with the rules that were left out.
func TestSeekAgainst(t *testing.T) {
	text := []byte("part: a\nunits: mm\n" + tube("27.2") + "\nhold: [b.diameter]\n")
	more := "  wide: {title: W, stage: fill, basis: practice, over: part, need: [{grade: change, that: part.outside <= 30.1}], says: " +
		"x, because: x, change: x}\n"
	whole := wallBook(t, more)
	for _, c := range []struct {
		against func(*checker.Force) *rules.Book
		want    string
	}{
		{nil, "[bodies.a.circle.diameter 30 -> 30.2]"},
		{func(*checker.Force) *rules.Book { return whole }, "[cuts.b.made_by  -> machining]"},
	} {
		r := Run(context.Background(), []checker.File{fileOf("a.yaml", text)}, whole.Alone("wall"), Options{Changes: 3, Against: c.against})
		if len(r.Parts) != 1 {
			t.Fatal(r.Unread, r.Faults)
		}
		if got := fmt.Sprint(shown(r.Parts[0], "wall")); got != c.want {
			t.Errorf("%s, want %s", got, c.want)
		}
	}
}

// TestPairsKept: a second number that takes away what the first brings, and brings what is as bad as the finding, is no change; nor is it
// one where the finding is milder than what it brings.
func TestPairsKept(t *testing.T) {
	// a bore of 1.2 mm in a post of 3.6: widened to 1.5 it leaves (3.6 - 1.5) / 2 = 1.05 mm, below the 1.1 that no punch stands without
	rule := func(name, over, grade, that string) string {
		return fmt.Sprintf("  %s: {title: B, stage: tool, basis: practice, over: %s, need: [{grade: %s, that: %q}], says: x, because: "+
			"x, change: x}\n",
			name, over, grade, that)
	}
	pack := "pack: p\nversion: 1.0.0\ntitle: P\nrules:\n" + rule("bore", "hole", "change", "hole.width >= 1.5") + rule("wall", "wall",
		"stop", "wall.thickness >= 1.1")
	text := []byte("part: a\nunits: mm\nbodies: {a: {circle: {diameter: 3.6}, from: 0, to: 3}}\ncuts: {b: {circle: {diameter: 1.2}}}\n")
	for _, c := range []struct{ name, more, want string }{
		{"the wall alone", "", "cuts.b.circle.diameter 1.2 -> 1.5, bodies.a.circle.diameter 3.6 -> 3.7"},
		{"a milder limit of the outside", rule("outside", "part", "ask", "part.outside <= 3.65"),
			"cuts.b.circle.diameter 1.2 -> 1.5, bodies.a.circle.diameter 3.6 -> 3.7"},
		{"one as bad", rule("outside", "part", "change", "part.outside <= 3.65"), ""},
	} {
		p, ps := rules.LoadPack([]rules.File{{Name: "p.yaml", Bytes: []byte(pack + c.more)}}, nil)
		if len(ps) > 0 {
			t.Fatal(ps)
		}
		book, _ := rules.NewBook(p)
		two := ""
		for _, x := range shown(changed(t, book, text, 9), "bore") {
			if strings.Contains(x, ", ") && two == "" {
				two = x
			}
		}
		if two != c.want {
			t.Errorf("%s: %s, want %s", c.name, two, c.want)
		}
	}
}
