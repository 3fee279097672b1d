package report

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"corerod/checker"
	"corerod/checker/report/words"
	"corerod/parts/source"
	"corerod/parts/stock"
	"corerod/parts/subject"
	"corerod/rules"
)

// PackShow writes a pack for people: its limits, tables, materials, curves and presses with the origin of each figure, and
// its rules by stage.
func PackShow(w io.Writer, p *rules.Pack) error {
	t := &toolingWriter{}
	t.line("%s %s: %s", p.Name, source.Plain(p.Version), source.Plain(p.Title))
	for _, q := range p.All()[1:] {
		t.line("  builds on %s %s", q.Name, source.Plain(q.Version))
	}
	t.title("Limits")
	rows := [][]string{{"", "value", "basis", "source", "given in"}}
	for _, l := range words.Limits(p) {
		rows = append(rows, []string{l.Name, figureText(l.Value, l.Unit), basisWords(l.Basis), firstWord(l.Source), given(l.Origin)})
	}
	t.table(rows)
	t.tables(p)
	t.materials(p)
	for _, stage := range rules.Stages {
		t.stage(p, stage)
	}
	_, err := io.WriteString(w, t.b.String())
	return err
}

// given says in which pack and file something is written.
func given(o rules.Origin) string {
	return fmt.Sprintf("%s, %s, line %d", o.Pack, source.Plain(o.File), o.Line)
}

func firstWord(key string) string {
	if key == "" {
		return "-"
	}
	return source.Plain(key)
}

// figureText is a figure with its unit.
func figureText(v float64, unit string) string {
	return strings.TrimSpace(words.Six(v) + " " + unitWord(unit))
}

// unitWord is a unit as it is shown: a ratio or a count has none.
func unitWord(unit string) string {
	if unit == subject.Ratio || unit == subject.Count {
		return ""
	}
	return unit
}

func (t *toolingWriter) tables(p *rules.Pack) {
	all := words.Tables(p)
	if len(all) == 0 {
		return
	}
	t.title("Tables")
	for _, x := range all {
		t.line("    %s: %s", x.Name, tableText(x))
		t.line("      %s, %s; %s", basisWords(x.Basis), firstWord(x.Source), given(x.Origin))
	}
}

// tableText is a table in one line.
func tableText(x *rules.Table) string {
	var rows []string
	for _, r := range x.Rows {
		rows = append(rows, fmt.Sprintf("%s: %s", figureText(r[0], x.XUnit), figureText(r[1], x.YUnit)))
	}
	between := map[stock.Between]string{stock.NextRow: "between rows the next one holds", stock.PreviousRow: "between rows the one before holds", stock.Line: "on straight lines between rows"}
	return fmt.Sprintf("%s by %s; %s; %s", source.Plain(x.Y), source.Plain(x.X), strings.Join(rows, ", "), between[x.Between])
}

func (t *toolingWriter) materials(p *rules.Pack) {
	if len(p.Materials) > 0 {
		t.title("Materials")
		rows := [][]string{{"", "density g/cm3", "without pores", "apparent", "size change percent", "curve", "given in"}}
		span := func(a, b stock.Figure) string {
			if !a.Known {
				return "-"
			}
			return words.Six(a.Value) + " to " + words.Six(b.Value)
		}
		figure := func(f stock.Figure) string {
			if !f.Known {
				return "-"
			}
			return words.Six(f.Value)
		}
		for _, m := range words.Materials(p) {
			rows = append(rows, []string{m.Name, span(m.DensityLow, m.DensityHigh), figure(m.PoreFree), figure(m.Apparent), span(m.SizeChangeLow, m.SizeChangeHigh), firstWord(m.Curve), given(m.Origin)})
		}
		t.table(rows)
	}
	if len(p.Presses) > 0 {
		t.title("Presses")
		rows := [][]string{{"", "capacity kN", "fill mm", "ejection kN", "stroke mm", "upper", "lower"}}
		var all []*rules.Press
		for _, x := range p.Presses {
			all = append(all, x)
		}
		slices.SortFunc(all, func(a, b *rules.Press) int { return strings.Compare(a.Name, b.Name) })
		for _, x := range all {
			rows = append(rows, []string{x.Name, words.Six(x.Capacity), words.Six(x.Fill), words.Six(x.Eject), words.Six(x.EjectionStroke), words.Six(x.Upper), words.Six(x.Lower)})
		}
		t.table(rows)
	}
}

// stage lists the rules of one stage.
func (t *toolingWriter) stage(p *rules.Pack, stage string) {
	rows := [][]string{}
	for _, r := range p.Rules {
		if r.Stage != stage {
			continue
		}
		var grades []string
		for _, n := range r.Needs {
			grades = append(grades, string(n.Grade))
		}
		rows = append(rows, []string{r.Name, strings.Join(slices.Compact(grades), ", "), "over " + r.Over, r.From.Name})
	}
	if len(rows) > 0 {
		t.title("Rules of the stage " + stage)
		t.table(rows)
	}
}

// RuleShow writes one rule in full for people.
func RuleShow(w io.Writer, e *checker.Entry) error {
	t := &textWriter{}
	r := e.Rule
	t.line("%s (%s): %s", r.Name, r.From.Name, source.Plain(r.Title))
	t.line("  %s, line %d; stage %s, judged over %s", source.Plain(r.File), r.Line, r.Stage, r.Over)
	if r.When != "" && r.When != "true" {
		t.line("  Only where: %s", source.Plain(words.OneLine(r.When)))
	}
	for _, n := range r.Needs {
		t.line("  Needs, else %s: %s", n.Grade, source.Plain(words.OneLine(n.That)))
	}
	for _, l := range e.Limits {
		t.line("    limits.%s is %s, %s", l.Name, figureText(l.Value, l.Unit), limitGround(r, l))
	}
	for _, x := range e.Tables {
		t.line("    table %s: %s, %s", x.Name, tableText(x), groundWords(r.Pack, x.Source, x.Basis, x.Note))
	}
	for _, m := range e.Measures {
		t.line("    %s.%s: %s", m.Kind.Name, m.Field.Name, m.Field.Doc)
	}
	for _, c := range r.Sources {
		t.line("  Ground: %s", groundWords(r.Pack, c.Key, c.Basis, ""))
	}
	t.line("  In the die: %s", source.Plain(r.Because))
	t.line("  Change: %s.", source.Plain(r.Change))
	t.trial("A trial that it finds", e.Fails)
	t.trial("A near miss", e.Misses)
	_, err := io.WriteString(w, t.b.String())
	return err
}

// limitGround says on what a limit stands, and where it is given.
func limitGround(r *rules.Rule, l *rules.Limit) string {
	return groundWords(r.Pack, l.Source, l.Basis, l.Note) + "; " + given(l.Origin)
}

// groundWords are the words for a source with its basis and note.
func groundWords(p *rules.Pack, key string, basis stock.Basis, note string) string {
	text := words.Source(p, key, basis)
	if note != "" {
		text += " (" + source.Plain(note) + ")"
	}
	return text
}

// trial shows one trial with its figures.
func (t *textWriter) trial(what string, x *checker.Tried) {
	if x == nil {
		return
	}
	t.line("  %s: %s", what, trialText(x))
	for _, f := range words.TrialFigures(x) {
		t.line("    %s", f)
	}
}

// trialText names a trial's part and what is set in it.
func trialText(x *checker.Tried) string {
	text := source.Plain(x.Trial.Part)
	var sets []string
	for _, s := range x.Trial.Set {
		sets = append(sets, source.Plain(s.Path)+" "+source.Plain(words.Node(s.Value)))
	}
	if len(sets) > 0 {
		text += " with " + strings.Join(sets, ", ")
	}
	return text
}
