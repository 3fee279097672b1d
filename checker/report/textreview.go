package report

import (
	"io"

	"corerod/checker"
	"corerod/checker/report/words"
	"corerod/parts/source"
)

// Text writes a review for people. Each part has its verdict, its findings by grade, place and rule, and the limits that it comes
// closest to. Files that could not be read follow, then the packs and the shop file that were used.
func Text(w io.Writer, r *checker.Review) error { return whole(NewText(w, false), r) }

// NewText writes what Text writes, part by part; in colour for a terminal.
func NewText(w io.Writer, colour bool) Stream {
	return &textStream{w: w, t: textWriter{colour: colour}}
}

type textStream struct {
	w   io.Writer
	t   textWriter
	err error
}

// Part implements Stream.
func (s *textStream) Part(p *checker.PartReview) {
	if s.t.begun {
		s.t.line("")
	}
	s.t.part(pageOfPart(p))
	s.flush()
}

// flush writes what there is, unless something could not be written.
func (s *textStream) flush() {
	if s.err == nil {
		_, s.err = io.WriteString(s.w, s.t.b.String())
	}
	s.t.b.Reset()
}

// End implements Stream.
func (s *textStream) End(r *checker.Review) error {
	t, n := &s.t, r.Reviewed()
	for _, u := range unreadOf(r) {
		if t.begun {
			t.line("")
		}
		t.line("%s", u.head())
		t.lines("  ", u.problems)
	}
	for _, f := range faults(r) {
		t.list("", []string{f})
	}
	for _, f := range r.PassedOver {
		t.list("", []string{"Passed over: " + source.Plain(f.File) + " " + source.Plain(f.Why) + "."})
	}
	if n == 0 && len(r.Unread) == 0 && len(r.Faults) == 0 {
		t.line("Nothing was reviewed: no part file was found. A part file is YAML with a `part` key.")
	}
	if n > 1 {
		v := tally(r)
		t.list("", []string{v.words(t.grade) + "."})
	}
	t.list("", sinceReview(r))
	if n > 0 {
		t.list("", append(inForce(r), words.Caution))
	}
	s.flush()
	return s.err
}

// part writes the review of one part.
func (t *textWriter) part(p *partPage) {
	t.heading(&p.heading)
	t.line("  %s", p.verdict.words(t.grade))
	t.line("  %s", p.figures)
	if p.wayUp != "" {
		t.line("  %s", p.wayUp)
	}
	for i := range p.findings {
		t.line("")
		t.finding(&p.findings[i])
	}
	t.lines("  ", p.since.changed)
	t.list("  ", p.since.cleared)
	for i, x := range p.since.renewed {
		if i == 0 {
			t.list("  ", []string{renewedHead})
		}
		t.line("    in place of line %d:", x.line)
		t.lines("    ", x.record)
	}
	if p.search != "" {
		t.list("  ", []string{p.search})
	}
	for _, l := range p.unused {
		t.list("  ", []string{l})
	}
	if len(p.notes) > 0 {
		t.line("")
		for _, n := range p.notes {
			t.line("  Note, line %d: %s.", n.line, n.says)
		}
	}
	t.under("Not judged:", p.notJudged)
	t.under("Met most narrowly:", p.narrowest)
	t.under("Account of the rules:", p.account)
}

// under writes lines below one that leads to them; nothing where there are none.
func (t *textWriter) under(head string, all []string) {
	if len(all) > 0 {
		t.list("  ", []string{head})
		t.lines("    ", all)
	}
}

// finding writes one finding: grade, rule and subject; place; measured, needed and missed; advice, and what it stands on.
func (t *textWriter) finding(f *finding) {
	t.line("  %d. %s%s: %s, %s", f.number, t.grade(f.grade), f.standing, f.rule, f.on)
	t.line("     %s", f.where)
	t.line("     %s.", f.says)
	t.lines("     ", f.compared)
	for _, a := range f.also {
		t.line("     Also %s.", a)
	}
	t.line("     Change: %s.", f.change)
	if f.none {
		t.line("     Checked: %s.", noChange)
	}
	for _, c := range f.checked {
		t.line("     Checked: %s", c)
	}
	t.line("     In the die: %s", f.because)
	if f.sources != "" {
		t.line("     Ground: %s.", f.sources)
	}
	if f.concession != "" {
		t.line("     Concession: %s.", f.concession)
	}
}
