package checker

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"os"
	"slices"
	"strings"
	"testing"

	"corerod/parts/form"
	"corerod/parts/source"
	"corerod/rules"
)

// planted is a sound part with one fault in it.
type planted struct {
	fault *fault
	text  []byte
}

// plantedParts are n sound parts with one fault each, every fault in turn.
func plantedParts(t *testing.T, n int) (all []planted) {
	t.Helper()
	for i := 0; len(all) < n; i++ {
		s, f := soundPart(i), &faults[(i/6+i)%len(faults)]
		if !f.fits(s) {
			continue
		}
		all = append(all, planted{f, edited(t, s.text, f.plant(s))})
	}
	return all
}

// edited is a part file with some values set.
func edited(t *testing.T, text string, values map[string]string) []byte {
	t.Helper()
	doc, ps := source.Open("part.yaml", []byte(text))
	if len(ps) > 0 {
		t.Fatal(ps, text)
	}
	var edits []source.Edit
	for path, v := range values {
		edits = append(edits, source.Edit{Path: path, Text: v})
	}
	slices.SortFunc(edits, func(a, b source.Edit) int { return cmp.Compare(a.Path, b.Path) })
	b, err := doc.With(edits...)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

func changed(t *testing.T, book *rules.Book, text []byte, n int) *PartReview {
	t.Helper()
	r := Run(context.Background(), []File{fileOf("part.yaml", text)}, book, Options{StatusAt: rules.Change, Changes: n})
	if len(r.Parts) != 1 {
		t.Fatalf("%v %v\n%s", r.Unread, r.Faults, text)
	}
	return r.Parts[0]
}

// tally counts findings by rule, subjects alike each, from a grade on.
func tally(p *PartReview, from rules.Grade) map[string]int {
	n := map[string]int{}
	for _, f := range p.Findings {
		if !from.Worse(f.Grade) {
			n[f.Rule.Name] += max(1, len(f.Places))
		}
	}
	return n
}

// checkChange makes a change to the file and reviews it, without the search: the finding is gone or milder, and no rule
// has more findings as bad.
func checkChange(t *testing.T, book *rules.Book, text []byte, p *PartReview, f *Finding, c *Change) {
	t.Helper()
	doc, _ := source.Open("part.yaml", text)
	b, err := doc.With(editsOf(c.Sets)...)
	if err != nil {
		t.Fatal(err)
	}
	if want, err := doc.Splices(editsOf(c.Sets)...); err != nil || !slices.Equal(c.Splices, want) {
		t.Errorf("%v: it says to change the text at %v, not %v (%v)", c.Sets, c.Splices, want, err)
	}
	after := changed(t, book, b, 0)
	from := f.Grade
	if c.Clears {
		from = rules.Ask
	}
	if was, is := tally(p, from)[f.Rule.Name], tally(after, from)[f.Rule.Name]; is >= was {
		t.Errorf("%s, %v: %d findings, %d before\n%s", f.Rule.Name, c.Sets, is, was, text)
	}
	was := tally(p, f.Grade)
	for rule, n := range tally(after, f.Grade) {
		if n > was[rule] {
			t.Errorf("%s, %v: brings %s\n%s", f.Rule.Name, c.Sets, rule, text)
		}
	}
}

// TestChanges: of 200 parts with one planted fault each 95 in a hundred get a change that clears it, and every change
// that is shown does what is said of it.
func TestChanges(t *testing.T) {
	n := 200
	if testing.Short() {
		n = 30
	}
	book, without := standardBook(t), 0
	for _, x := range plantedParts(t, n) {
		p := changed(t, book, x.text, 3)
		clears := false
		for _, f := range p.Findings {
			for _, c := range f.Changes {
				clears = clears || f.Rule.Name == x.fault.rule && c.Clears
				checkChange(t, book, x.text, p, f, c)
			}
		}
		if !clears {
			without++
			t.Logf("%s: no change clears it\n%s", x.fault.name, x.text)
		}
		if p.Search.Tried > MostTried || p.Search.Stopped {
			t.Errorf("%s: %d changed parts, stopped %t", x.fault.name, p.Search.Tried, p.Search.Stopped)
		}
	}
	t.Logf("%d of %d parts without a change that clears the planted fault", without, n)
	if without*20 > n {
		t.Errorf("%d of %d parts have no change that clears the planted fault", without, n)
	}
}

// TestChangesScanned: a scan of 20 steps either way of every number finds no smaller one that clears a finding, in 95 of
// a hundred. It is slow, and runs where COREROD_LONG is set.
func TestChangesScanned(t *testing.T) {
	if os.Getenv("COREROD_LONG") == "" {
		t.Skip("COREROD_LONG is not set")
	}
	book, found, smaller := standardBook(t), 0, 0
	for _, x := range plantedParts(t, 40) {
		p := changed(t, book, x.text, 1000)
		doc, _ := source.Open("part.yaml", x.text)
		for _, n := range form.Numbers(doc.Root) {
			for _, f := range p.Findings {
				to, ok := scan(t, book, doc, p, f, n)
				if !ok {
					continue
				}
				found++
				i := slices.IndexFunc(f.Changes, func(c *Change) bool { return len(c.Sets) == 1+len(n.Along) && c.Sets[0].Path == n.Path })
				if i < 0 {
					smaller++
					t.Logf("%s: %s from %s to %g is not found\n%s", f.Rule.Name, n.Path, n.From, to, x.text)
					continue
				}
				var shown float64
				fmt.Sscan(strings.TrimLeft(f.Changes[i].Sets[0].To, "ABCDEFGHJSabcdefghjkmnprs"), &shown)
				if math.Abs(shown-n.Value) > math.Abs(to-n.Value)+1e-9 {
					smaller++
					t.Logf("%s: %s from %s to %g, and %g is enough\n%s", f.Rule.Name, n.Path, n.From, shown, to, x.text)
				}
			}
		}
	}
	t.Logf("%d single numbers found by the scan, %d smaller than the search's", found, smaller)
	if found == 0 || smaller*20 > found {
		t.Errorf("%d of %d", smaller, found)
	}
}

// scan finds the nearest of 20 steps either way of a number that clears a finding by itself.
func scan(t *testing.T, book *rules.Book, doc *source.Document, p *PartReview, f *Finding, n form.Number) (float64, bool) {
	if n.Held {
		return 0, false
	}
	for k := 1; k <= 20; k++ {
		for _, way := range []int{1, -1} {
			to, ok := n.Move(way * k)
			if !ok {
				continue
			}
			b, err := doc.With(n.Edits(to)...)
			if err != nil {
				continue
			}
			r := Run(context.Background(), []File{fileOf("part.yaml", b)}, book, Options{StatusAt: rules.Change})
			if len(r.Parts) == 1 && clearsAlone(p, r.Parts[0], f) {
				return to, true
			}
		}
	}
	return 0, false
}

// clearsAlone tells whether a finding is gone, its subject still there, and no rule has more findings as bad.
func clearsAlone(before, after *PartReview, f *Finding) bool {
	was, is := tally(before, rules.Ask), tally(after, rules.Ask)
	if is[f.Rule.Name] > was[f.Rule.Name]-max(1, len(f.Places)) || find(after.Subject, f.Over.Kind(), f.Over.Place().Name) == nil || len(after.Subject.Holes) != len(before.Subject.Holes) {
		return false
	}
	was, is = tally(before, f.Grade), tally(after, f.Grade)
	for rule, n := range is {
		if n > was[rule] {
			return false
		}
	}
	return true
}
