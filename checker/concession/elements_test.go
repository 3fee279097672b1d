package concession

import (
	"context"
	"fmt"
	"strings"
	"testing"

	"corerod/checker"
	"corerod/checker/compare"
	"corerod/checker/internal/samples"
	"corerod/rules"
)

// TestConcededElements: a record has the value of each element; one more, and one that is worse, are not covered.
func TestConcededElements(t *testing.T) {
	book, now := samples.ListBook(t, "part.holes.all(h, h.edge >= limits.edge)"), day(t, "2026-11-25T12:00:00Z")
	none, _ := Read("c.yaml", nil, now)
	review := func(c *checker.Concessions, edges ...float64) *checker.PartReview {
		return checker.Run(context.Background(), []checker.File{fileOf("bar.yaml", []byte(samples.Bar(edges...)))}, book,
			checker.Options{StatusAt: rules.Change, Concede: c, Steps: []checker.Step{Cover}}).Parts[0]
	}
	p := review(nil, 1.5, 1.6, 3, 3)
	b, err := Add(none, nil, p, p.Findings[0], Agreement{"x", "y", "2027-03-31"})
	if err != nil {
		t.Fatal(err)
	}
	if want := "accepted: [{of: h0, h.edge: 1.5}, {of: h1, h.edge: 1.6}]"; !strings.Contains(string(b), want) {
		t.Errorf("no %s in\n%s", want, b)
	}
	all, ps := Read("c.yaml", b, now)
	if len(ps) > 0 {
		t.Fatal(ps)
	}
	for _, c := range []struct {
		edges []float64
		state checker.State
		says  string
	}{
		{[]float64{1.5, 1.6, 3, 3}, checker.Covering, ""}, {[]float64{1.7, 1.6, 3, 3}, checker.Covering, ""}, {[]float64{3, 1.6, 3, 3}, checker.Covering, ""},
		{[]float64{1.5, 1.55, 3, 3}, checker.Exceeded, "h.edge of h1 is 1.55, accepted was 1.6"}, {[]float64{1.5, 1.6, 1.9, 3}, checker.Exceeded, "no value of h.edge of h2 was accepted"},
		{[]float64{3, 3, 3, 1.9}, checker.Exceeded, "no value of h.edge of h3 was accepted"},
	} {
		f := review(all, c.edges...).Findings[0]
		if f.Concession == nil || f.Concession.State != c.state || f.Concession.Says != c.says {
			t.Errorf("%v: %+v", c.edges, f.Concession)
		}
	}
	old := strings.Replace(string(b), "[{of: h0, h.edge: 1.5}, {of: h1, h.edge: 1.6}]", "{h.edge: 1.5}", 1) // as format 1 has it
	all, ps = Read("c.yaml", []byte(old), now)
	if len(ps) > 0 {
		t.Fatal(ps)
	}
	if f := review(all, 1.5, 3, 3, 3).Findings[0]; !f.Conceded() {
		t.Errorf("a record of format 1 does not cover: %+v", f.Concession)
	}
	if f := review(all, 1.5, 1.6, 3, 3).Findings[0]; f.Conceded() {
		t.Error("a record of one value covers two elements")
	}
}

// TestConcededPairs: a record of a need over pairs covers the pairs that it names; other pairs of the same subjects it does not.
func TestConcededPairs(t *testing.T) {
	book, now := samples.ListBook(t, "part.holes.all(h, part.holes.all(g, h == g || distance(h, g) >= limits.edge))"),
		day(t, "2026-11-25T12:00:00Z")
	at := func(points ...string) string {
		text := "part: bar\nunits: mm\nbodies: {bar: {rectangle: {length: 100, width: 60, corner: 3}, from: 0, to: 6}}\ncuts:\n"
		for i, p := range points {
			text += fmt.Sprintf("  %c: {circle: {diameter: 5, at: [%s]}}\n", 'a'+i, p)
		}
		return text
	}
	review := func(c *checker.Concessions, text string) *checker.Review {
		return checker.Run(context.Background(), []checker.File{fileOf("bar.yaml", []byte(text))}, book,
			checker.Options{StatusAt: rules.Change, Concede: c, Steps: []checker.Step{Cover}})
	}
	near := at("-30, 10", "-23.5, 10", "23.5, 10", "30, 10")
	p := review(nil, near).Parts[0]
	none, _ := Read("c.yaml", nil, now)
	b, err := Add(none, nil, p, p.Findings[0], Agreement{"x", "y", "2027-03-31"})
	if err != nil {
		t.Fatal(err)
	}
	if want := `{of: b, to: a, "distance(h, g)": 1.5}`; !strings.Contains(string(b), want) {
		t.Errorf("no %s in\n%s", want, b)
	}
	all, ps := Read("c.yaml", b, now)
	if len(ps) > 0 {
		t.Fatal(ps)
	}
	for text, covered := range map[string]bool{
		near: true, at("-30, 10", "-23, 10", "23.5, 10", "30, 10"): true, at("-30, 10", "-23.6, 10", "23.5, 10", "30, 10"): false,
		at("-30, 10", "-30, -20", "-23.5, 10", "-23.5, -20"): false, // a beside c, b beside d
	} {
		if f := review(all, text).Parts[0].Findings[0]; f.Conceded() != covered {
			t.Errorf("covered: %t, %+v\n%s", f.Conceded(), f.Concession, text)
		}
	}
	r := review(nil, at("-30, 10", "-30, -20", "-23.5, 10", "-23.5, -20"))
	compare.WithEarlier(r, compare.EarlierOf(review(nil, near), "old"))
	Follow(r)
	if r.Status != checker.Found {
		t.Error("other pairs pass as those that were there")
	}
}

// TestRecordOfCopies: a record of copies of one feature covers each copy with its own value; copies that were told apart by nothing
// before do not stand for those that are.
func TestRecordOfCopies(t *testing.T) {
	book, now := samples.ListBook(t, "part.holes.all(h, h.edge >= limits.edge)"), day(t, "2026-11-25T12:00:00Z")
	row := func(count int, step string) []byte {
		return fmt.Appendf(nil,
			"part: plate\nunits: mm\nbodies: {plate: {rectangle: {length: 80, width: 50, corner: 3}, from: 0, to: 8}}\ncuts: {pins: {circle: {diameter: 5, at: [-15, -21.5]}, repeat: {count: %d, step: [10, %s]}}}\n", count, step)
	}
	review := func(c *checker.Concessions, text []byte) *checker.Review {
		return checker.Run(context.Background(), []checker.File{fileOf("plate.yaml", text)}, book,
			checker.Options{StatusAt: rules.Change, Concede: c, Steps: []checker.Step{Cover}})
	}
	for _, before := range []string{"0.1", "0"} {
		p := review(nil, row(4, before)).Parts[0]
		none, _ := Read("c.yaml", nil, now)
		b, err := Add(none, nil, p, p.Findings[0], Agreement{"x", "y", "2027-03-31"})
		if err != nil {
			t.Fatal(err)
		}
		all, ps := Read("c.yaml", b, now)
		if len(ps) > 0 {
			t.Fatal(ps)
		}
		for _, x := range []struct {
			count  int
			step   string
			status checker.Status
		}{{4, before, checker.Clear}, {4, "0.05", map[string]checker.Status{"0.1": checker.Found, "0": checker.Found}[before]},
			{5, before, checker.Found}, {5, "0.2", checker.Found}, {4, "-0.1", checker.Found}} {
			r := review(all, row(x.count, x.step))
			compare.WithEarlier(r, compare.EarlierOf(review(all, row(4, before)), "old"))
			Follow(r)
			if r.Status != x.status {
				t.Errorf("from 4 by %s to %d by %s: status %d, %+v", before, x.count, x.step, r.Status, r.Parts[0].Findings[0].Concession)
			}
			if k := r.Parts[0].Findings[0].Concession; k != nil && k.Next != nil {
				t.Error("a record is to be written though nothing was renamed")
			}
		}
	}
}

// TestReservedNames: no rule takes the name of a record that is for no finding.
func TestReservedNames(t *testing.T) {
	for _, name := range []string{checker.PartGone, checker.NewlyMachined} {
		text := "pack: p\nversion: 1.0.0\ntitle: P\nrules: {" + name +
			": {title: T, stage: fill, over: part, basis: practice, need: [{grade: ask, that: part.sized}], says: x, because: y, change: z, since: 1.0.0}}\n"
		if _, ps := rules.LoadPack([]rules.File{{Name: "p.yaml", Bytes: []byte(text)}}, nil); len(ps) != 1 ||
			!strings.Contains(ps[0].Message, "a rule cannot be named") {
			t.Errorf("%s: %v", name, ps)
		}
	}
}
