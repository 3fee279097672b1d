package change

import (
	"context"
	"fmt"
	"math"
	"os"
	"slices"
	"strings"
	"testing"

	"corerod/checker"
	"corerod/checker/internal/samples"
	"corerod/parts/form"
	"corerod/parts/source"
	"corerod/rules"
)

func changed(t *testing.T, book *rules.Book, text []byte, n int) *checker.PartReview {
	t.Helper()
	r := Run(context.Background(), []checker.File{fileOf("part.yaml", text)}, book,
		Options{Changes: n, Options: checker.Options{StatusAt: rules.Change}})
	if len(r.Parts) != 1 {
		t.Fatalf("%v %v\n%s", r.Unread, r.Faults, text)
	}
	return r.Parts[0]
}

// tally counts findings by rule, subjects alike each, from a grade on.
func tally(p *checker.PartReview, from rules.Grade) map[string]int {
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
func checkChange(t *testing.T, book *rules.Book, text []byte, p *checker.PartReview, f *checker.Finding, c *checker.Change) {
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

// TestChanges: of 80 parts with one planted fault each, 200 where COREROD_LONG is set, 95 in a hundred get a change that clears
// it, and every change that is shown does what is said of it.
func TestChanges(t *testing.T) {
	n := 80
	switch {
	case os.Getenv("COREROD_LONG") != "":
		n = 200
	case testing.Short():
		n = 30
	}
	book, without := samples.StandardBook(t), 0
	for _, x := range samples.PlantedParts(t, n) {
		p := changed(t, book, x.Text, 3)
		clears := false
		for _, f := range p.Findings {
			for _, c := range f.Changes {
				clears = clears || f.Rule.Name == x.Fault.Rule && c.Clears
				checkChange(t, book, x.Text, p, f, c)
			}
		}
		if !clears {
			without++
			t.Logf("%s: no change clears it\n%s", x.Fault.Name, x.Text)
		}
		if p.Search.Tried > MostTried || p.Search.Stopped {
			t.Errorf("%s: %d changed parts, stopped %t", x.Fault.Name, p.Search.Tried, p.Search.Stopped)
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
	book, found, smaller := samples.StandardBook(t), 0, 0
	for _, x := range samples.PlantedParts(t, 40) {
		p := changed(t, book, x.Text, 1000)
		doc, _ := source.Open("part.yaml", x.Text)
		for _, n := range form.Numbers(doc.Root) {
			for _, f := range p.Findings {
				to, ok := scan(t, book, doc, p, f, n)
				if !ok {
					continue
				}
				found++
				i := slices.IndexFunc(f.Changes, func(c *checker.Change) bool {
					return len(c.Sets) == 1+len(n.Along) && c.Sets[0].Path == n.Path
				})
				if i < 0 {
					smaller++
					t.Logf("%s: %s from %s to %g is not found\n%s", f.Rule.Name, n.Path, n.From, to, x.Text)
					continue
				}
				var shown float64
				fmt.Sscan(strings.TrimLeft(f.Changes[i].Sets[0].To, "ABCDEFGHJSabcdefghjkmnprs"), &shown)
				if math.Abs(shown-n.Value) > math.Abs(to-n.Value)+1e-9 {
					smaller++
					t.Logf("%s: %s from %s to %g, and %g is enough\n%s", f.Rule.Name, n.Path, n.From, shown, to, x.Text)
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
func scan(t *testing.T, book *rules.Book, doc *source.Document, p *checker.PartReview, f *checker.Finding, n form.Number) (float64, bool) {
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
			r := Run(context.Background(), []checker.File{fileOf("part.yaml", b)}, book,
				Options{Options: checker.Options{StatusAt: rules.Change}})
			if len(r.Parts) == 1 && clearsAlone(p, r.Parts[0], f) {
				return to, true
			}
		}
	}
	return 0, false
}

// clearsAlone tells whether a finding is gone, its subject still there, no wall come to nothing, and no rule has more findings as bad.
func clearsAlone(before, after *checker.PartReview, f *checker.Finding) bool {
	was, is := tally(before, rules.Ask), tally(after, rules.Ask)
	if is[f.Rule.Name] > was[f.Rule.Name]-max(1, len(f.Places)) || find(after.Subject, f.Over.Kind(), f.Over.Place().Name) == nil ||
		len(after.Subject.Holes) != len(before.Subject.Holes) || runOuts(after) > runOuts(before) {
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

// runOuts counts the walls that come to nothing: what is said of a wall's size then no longer applies.
func runOuts(p *checker.PartReview) (n int) {
	for _, w := range p.Subject.Walls {
		if w.RunsOut {
			n++
		}
	}
	return n
}
