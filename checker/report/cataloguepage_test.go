package report

import (
	"fmt"
	"strings"

	"corerod/checker/prove"
	"corerod/checker/report/reporttest"
	"corerod/checker/report/words"
	"corerod/rules"
)

// CataloguePage is the page of one rule, in Markdown. Its text comes from packs that are part of the program.
func CataloguePage(e *prove.Entry) string {
	r := e.Rule
	var b strings.Builder
	line := func(format string, args ...any) { fmt.Fprintf(&b, format+"\n", args...) }
	line("# %s", r.Title)
	line("")
	line("`%s`, of the pack %s, stage %s. Judged over each %s.", r.Name, r.From.Name, r.Stage, r.Over)
	line("")
	line("## What is measured")
	line("")
	for _, m := range e.Measures {
		line("- `%s.%s`: %s", m.Kind.Name, m.Field.Name, m.Field.Doc)
	}
	line("")
	line("## What is needed")
	line("")
	neededOn(line, e)
	line("")
	line("## Why, in the die")
	line("")
	line("%s", r.Because)
	line("")
	line("## What to change")
	line("")
	line("%s%s.", strings.ToUpper(r.Change[:1]), r.Change[1:])
	line("")
	line("## A part that it finds, and a near miss")
	for i, x := range []*prove.Tried{e.Fails, e.Misses} {
		if x == nil {
			continue
		}
		line("")
		line("`%s`:", trialText(x))
		line("")
		line("![The part, with a balloon where the finding lies](%s)", "pictures/"+reporttest.PictureFile(r, i == 0))
		line("")
		for _, f := range words.TrialFigures(x) {
			line("- %s", f)
		}
	}
	line("")
	line("## To concede")
	line("")
	line("`corerod concede PART --finding ID --until DATE --reason TEXT --by ROLE` records that a finding is agreed to for a time; it")
	line("covers the finding while it is no worse ([concessions](../concessions.md)).")
	return b.String()
}

// neededOn writes what a rule needs, the figures that it reads and what they stand on.
func neededOn(line func(format string, args ...any), e *prove.Entry) {
	r := e.Rule
	if r.When != "" && r.When != "true" {
		line("Only where `%s`.", words.OneLine(r.When))
		line("")
	}
	for _, n := range r.Needs {
		line("- else `%s`: `%s`", n.Grade, words.OneLine(n.That))
	}
	if len(e.Limits) > 0 {
		line("")
		line("| limit | value | ground |")
		line("|---|---|---|")
		for _, l := range e.Limits {
			line("| `%s` | %s | %s |", l.Name, figureText(l.Value, l.Unit), groundWords(r.Pack, l.Source, l.Basis, l.Note))
		}
	}
	for _, x := range e.Tables {
		line("")
		line("Table `%s`: %s. %s.", x.Name, tableText(x), groundWords(r.Pack, x.Source, x.Basis, x.Note))
	}
	for i, c := range r.Sources {
		if i == 0 {
			line("")
		}
		line("- Ground: %s.", words.Source(r.Pack, c.Key, c.Basis))
	}
}

// CatalogueIndex lists all rules by stage, in Markdown.
func CatalogueIndex(entries []prove.Entry) string {
	var b strings.Builder
	b.WriteString(
		"# Catalogue of rules\n\nThe rules of the built-in packs, by the stage at which a part meets them. Each page says what is " +
			"measured, the limit with\nits ground, why it matters in the die, what to change, and shows a part that the rule finds beside one that " +
			"it nearly\nfinds. The pages are generated from the packs; `corerod pack show RULE` prints the same.\n")
	for _, stage := range rules.Stages {
		first := true
		for i := range entries {
			r := entries[i].Rule
			if r.Stage != stage {
				continue
			}
			if first {
				fmt.Fprintf(&b, "\n## %s%s\n\n| rule | judges | grades | pack |\n|---|---|---|---|\n",
					strings.ToUpper(stage[:1]), stage[1:])
				first = false
			}
			var grades []string
			for _, n := range r.Needs {
				if len(grades) == 0 || grades[len(grades)-1] != string(n.Grade) {
					grades = append(grades, string(n.Grade))
				}
			}
			fmt.Fprintf(&b, "| [%s](%s.md) | %s | %s | %s |\n", r.Title, r.Name, r.Over, strings.Join(grades, ", "), r.From.Name)
		}
	}
	return b.String()
}
