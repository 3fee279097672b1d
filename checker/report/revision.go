package report

import (
	"io"

	"corerod/checker"
	"corerod/checker/report/words"
	"corerod/parts/source"
	"corerod/rules"
)

// Revision writes the changes that were chosen for a part, what stays, and the difference of the part file.
func Revision(w io.Writer, r *checker.Revision, written bool, packs []*rules.Pack, shop *rules.Shop) error {
	t := &textWriter{}
	t.head(r.Before.Part)
	t.line("  Before, %s", verdict(r.Before))
	t.line("  After, %s", verdict(r.After))
	for i, c := range r.Chosen {
		f := c.Finding
		t.line("")
		t.line("  %d. %s: %s, %s", i+1, f.Grade, words.Rule(f.Rule.Name), source.Plain(f.Subject.Place().Name))
		if c.Change.Says != "" {
			t.line("     %s", source.Plain(c.Change.Says))
		}
		t.line("     %s", words.Sets(c.Change))
	}
	t.stays(r)
	if len(r.Chosen) > 0 {
		t.line("")
		name := source.Plain(r.Before.File)
		t.b.WriteString("--- " + name + "\n+++ " + name + ", revised\n")
		for _, l := range hunks(difference(linesOf(r.Old), linesOf(r.New))) {
			t.b.WriteString(l[:1] + source.Plain(l[1:]) + "\n")
		}
	}
	t.line("")
	switch {
	case len(r.Chosen) == 0:
		t.line("Nothing is changed.")
	case written:
		t.line("Written: %s.", source.Plain(r.Before.File))
	default:
		t.line("Nothing is written; --write writes it.")
	}
	t.line("")
	t.force(packs, shop)
	t.line(words.Caution)
	_, err := io.WriteString(w, t.b.String())
	return err
}

// stays lists the findings that are left, and those of a stop or a change with the rule's own advice.
func (t *textWriter) stays(r *checker.Revision) {
	for i, f := range words.ByGrade(r.After.Findings) {
		if i == 0 {
			t.line("")
			t.line("  Left:")
		}
		t.line("    %s: %s, %s", f.Grade, words.Rule(f.Rule.Name), source.Plain(f.Subject.Place().Name))
		if f.Grade != rules.Ask {
			t.line("      Change: %s.", source.Plain(f.Rule.Change))
		}
	}
}
