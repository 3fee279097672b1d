package report

import (
	"fmt"
	"io"
	"strings"

	"corerod/checker"
	"corerod/checker/report/words"
	"corerod/parts/source"
)

// Proof writes for people what a pack's trials prove and what they leave open.
func Proof(w io.Writer, p *checker.Proof) error {
	t := &textWriter{}
	what := fmt.Sprintf("%s, %s, %s", words.Plural(p.Rules, "rule"), words.Plural(len(p.Trials), "trial"), words.Plural(p.Clauses, "condition"))
	if moved := movedFigures(p); moved != "" {
		what += ", " + moved + " moved by the last digit both ways"
	}
	t.line("%s %s: %s", p.Pack.Name, source.Plain(p.Pack.Version), what)
	if len(p.Unproven) == 0 {
		t.line("  Proven: every rule finds what it should and passes what nearly fails.")
	} else {
		t.line("  Unproven, in %s:", words.Plural(len(p.Unproven), "place"))
	}
	file := ""
	for _, u := range p.Unproven {
		if u.File != file {
			t.line("  %s", source.Plain(u.File))
			file = u.File
		}
		t.line("    line %d, column %d: %s", u.Line, u.Column, source.Plain(u.Message))
		if x := p.Failed[u]; x != nil {
			measuredIn(t, x)
		}
	}
	_, err := io.WriteString(w, t.b.String())
	return err
}

// movedFigures counts what was moved, "" where nothing was.
func movedFigures(p *checker.Proof) string {
	var all []string
	if p.Limits > 0 {
		all = append(all, words.Plural(p.Limits, "limit"))
	}
	if p.Rows > 0 {
		all = append(all, words.Plural(p.Rows, "row")+" of tables")
	}
	if p.Figures > 0 {
		all = append(all, words.Plural(p.Figures, "figure")+" of materials")
	}
	return strings.Join(all, ", ")
}

// measuredIn shows what the rule measured in a trial, or why it did not apply.
func measuredIn(t *textWriter, x *checker.Tried) {
	for _, c := range x.Measured() {
		t.line("      %s", words.Compared(&c, x.Derived.Part.Unit))
	}
	if why := x.Outcome.Account[0].Why; why != "" {
		t.line("      the rule did not apply: %s", source.Plain(why))
	}
}
