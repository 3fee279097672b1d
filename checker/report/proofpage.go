package report

import (
	"fmt"
	"io"
	"strings"

	"corerod/checker/prove"
	"corerod/checker/report/words"
	"corerod/parts/source"
)

// Proof writes for people what a pack's trials prove and what they leave open.
func Proof(w io.Writer, p *prove.Proof) error { return writeText(w, proofPage(p)) }

// proofPage words a proof: what is unproven stands by the files of the pack.
func proofPage(p *prove.Proof) *page {
	what := fmt.Sprintf("%s, %s, %s", words.Plural(p.Rules, "rule"), words.Plural(len(p.Trials), "trial"),
		words.Plural(p.Clauses, "condition"))
	if moved := movedFigures(p); moved != "" {
		what += ", " + moved + " moved by the last digit both ways"
	}
	out := &page{head: fmt.Sprintf("%s %s: %s", p.Pack.Name, source.Plain(p.Pack.Version), what)}
	if len(p.Unproven) == 0 {
		out.facts = items([]string{"Proven: every rule finds what it should and passes what nearly fails."})
	} else {
		out.facts = items([]string{fmt.Sprintf("Unproven, in %s:", words.Plural(len(p.Unproven), "place"))})
	}
	file := ""
	for _, u := range p.Unproven {
		if u.File != file {
			out.facts = append(out.facts, item(source.Plain(u.File)))
			file = u.File
		}
		e := item(fmt.Sprintf("line %d, column %d: %s", u.Line, u.Column, source.Plain(u.Message)))
		if x := p.Failed[u]; x != nil {
			e.below = items(measuredIn(x))
		}
		last := &out.facts[len(out.facts)-1]
		last.below = append(last.below, e)
	}
	return out
}

// movedFigures counts what was moved, "" where nothing was.
func movedFigures(p *prove.Proof) string {
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

// measuredIn is what the rule measured in a trial, or why it did not apply.
func measuredIn(x *prove.Tried) (lines []string) {
	for _, c := range x.Measured() {
		lines = append(lines, words.Compared(&c, x.Derived.Part.Unit))
	}
	if why := x.Outcome.Account[0].Why; why != "" {
		lines = append(lines, "the rule did not apply: "+source.Plain(why))
	}
	return lines
}
