package report

import (
	"fmt"
	"io"

	"corerod/checker"
	"corerod/parts/source"
)

// Proof writes for people what a pack's trials prove and what they leave open.
func Proof(w io.Writer, p *checker.Proof) error {
	t := &textWriter{}
	what := fmt.Sprintf("%s, %s, %s", plural(p.Rules, "rule"), plural(len(p.Trials), "trial"), plural(p.Clauses, "condition"))
	if p.Limits > 0 {
		what += fmt.Sprintf(", %s moved by the last digit both ways", plural(p.Limits, "limit"))
	}
	t.line("%s %s: %s", p.Pack.Name, source.Plain(p.Pack.Version), what)
	if len(p.Unproven) == 0 {
		t.line("  Proven: every rule finds what it should and passes what nearly fails.")
	} else {
		t.line("  Unproven, in %s:", plural(len(p.Unproven), "place"))
	}
	file := ""
	for _, u := range p.Unproven {
		if u.File != file {
			t.line("  %s", source.Plain(u.File))
			file = u.File
		}
		t.line("    line %d, column %d: %s", u.Line, u.Column, source.Plain(u.Message))
	}
	_, err := io.WriteString(w, t.b.String())
	return err
}
