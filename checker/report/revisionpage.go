package report

import (
	"fmt"
	"io"

	"corerod/checker"
	"corerod/checker/change"
	"corerod/checker/report/words"
	"corerod/parts/source"
	"corerod/rules"
)

// revisionPage is a revision in words.
type revisionPage struct {
	heading
	before, after string  // verdicts
	chosen        []entry // findings with the changes that were made for them
	left          []entry // findings that are left, those of a stop or a change with the rule's own advice
	difference    []string
	outcome       string
}

// Revision writes the changes that were chosen for a part, what stays, and the difference of the part file.
func Revision(w io.Writer, r *change.Revision, written bool, packs []*rules.Pack, shop *rules.Shop) error {
	p, t := revisionOf(r, written), &textWriter{}
	t.heading(&p.heading)
	t.line("  Before, %s", p.before)
	t.line("  After, %s", p.after)
	for i, e := range p.chosen {
		t.line("")
		t.line("  %d. %s", i+1, e.head)
		t.entries("     ", e.below)
	}
	if len(p.left) > 0 {
		t.list("  ", []string{"Left:"})
		t.entries("    ", p.left)
	}
	if len(p.difference) > 0 {
		t.line("")
		for _, l := range p.difference {
			t.b.WriteString(l + "\n")
		}
	}
	t.list("", []string{p.outcome})
	t.list("", append(words.Force(packs, shop), words.Caution))
	_, err := io.WriteString(w, t.b.String())
	return err
}

// revisionOf words a revision, and whether it was written.
func revisionOf(r *change.Revision, written bool) *revisionPage {
	p := &revisionPage{heading: headingOf(r.Before.Part), before: verdictOf(r.Before).String(), after: verdictOf(r.After).String(),
		left: left(r)}
	for _, c := range r.Chosen {
		e := item(gradedName(c.Finding))
		if c.Change.Says != "" {
			e.below = append(e.below, item(source.Plain(c.Change.Says)))
		}
		e.below = append(e.below, item(words.Sets(c.Change)))
		p.chosen = append(p.chosen, e)
	}
	name := source.Plain(r.Before.File)
	if len(r.Chosen) > 0 {
		p.difference = []string{"--- " + name, "+++ " + name + ", revised"}
		for _, l := range hunks(difference(linesOf(r.Old), linesOf(r.New))) {
			p.difference = append(p.difference, l[:1]+source.Plain(l[1:]))
		}
	}
	switch {
	case len(r.Chosen) == 0:
		p.outcome = "Nothing is changed."
	case written:
		p.outcome = "Written: " + name + "."
	default:
		p.outcome = "Nothing is written; --write writes it."
	}
	return p
}

// gradedName is a finding's grade, rule and subject.
func gradedName(f *checker.Finding) string {
	return fmt.Sprintf("%s: %s, %s", f.Grade, words.Rule(f.Rule.Name), source.Plain(f.Subject.Place().Name))
}

// left are the findings that are left, and those of a stop or a change with the rule's own advice.
func left(r *change.Revision) (all []entry) {
	for _, f := range words.ByGrade(r.After.Findings) {
		e := item(gradedName(f))
		if f.Grade != rules.Ask {
			e.below = items([]string{"Change: " + source.Plain(f.Rule.Change) + "."})
		}
		all = append(all, e)
	}
	return all
}
