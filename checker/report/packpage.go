package report

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"corerod/checker/prove"
	"corerod/checker/report/words"
	"corerod/parts/source"
	"corerod/parts/stock"
	"corerod/parts/subject"
	"corerod/rules"
)

// PackShow writes a pack for people: its limits, tables, materials, curves and presses with the origin of each figure, and
// its rules by stage.
func PackShow(w io.Writer, p *rules.Pack) error { return writeText(w, packPage(p)) }

// writeText writes a page as text.
func writeText(w io.Writer, p *page) error {
	t := &textWriter{}
	t.page(p)
	_, err := io.WriteString(w, t.b.String())
	return err
}

// packPage words a pack.
func packPage(p *rules.Pack) *page {
	out := &page{head: fmt.Sprintf("%s %s: %s", p.Name, source.Plain(p.Version), source.Plain(p.Title))}
	for _, q := range p.All()[1:] {
		out.facts = append(out.facts, item(fmt.Sprintf("builds on %s %s", q.Name, source.Plain(q.Version))))
	}
	rows := [][]string{{"", "value", "basis", "source", "given in"}}
	for _, l := range words.Limits(p) {
		rows = append(rows, []string{l.Name, figureText(l.Value, l.Unit), basisWords(l.Basis), firstWord(l.Source), given(l.Origin)})
	}
	out.sections = []section{{title: "Limits", table: rows}, tables(p), materials(p), presses(p)}
	for _, stage := range rules.Stages {
		out.sections = append(out.sections, rulesOf(p, stage))
	}
	out.sections = slices.DeleteFunc(out.sections, func(s section) bool { return s.empty() })
	return out
}

// given says in which pack and file something is written.
func given(o rules.Origin) string {
	return fmt.Sprintf("%s, %s, line %d", o.Pack, source.Plain(o.File), o.Line)
}

// firstWord is the key of a source; - for none.
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

// tables are those of a pack, each on one line with what it stands on.
func tables(p *rules.Pack) section {
	s := section{title: "Tables"}
	for _, x := range words.Tables(p) {
		s.entries = append(s.entries, item(x.Name+": "+tableText(x), fmt.Sprintf("%s, %s; %s", basisWords(x.Basis), firstWord(x.Source),
			given(x.Origin))))
	}
	return s
}

// tableText is a table in one line.
func tableText(x *rules.Table) string {
	var rows []string
	for _, r := range x.Rows {
		rows = append(rows, fmt.Sprintf("%s: %s", figureText(r[0], x.XUnit), figureText(r[1], x.YUnit)))
	}
	between := map[stock.Between]string{stock.NextRow: "between rows the next one holds",
		stock.PreviousRow: "between rows the one before holds", stock.Line: "on straight lines between rows"}
	return fmt.Sprintf("%s by %s; %s; %s", source.Plain(x.Y), source.Plain(x.X), strings.Join(rows, ", "), between[x.Between])
}

// materials are those of a pack.
func materials(p *rules.Pack) section {
	s := section{title: "Materials"}
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
	for i, m := range words.Materials(p) {
		if i == 0 {
			s.table = [][]string{{"", "density g/cm3", "without pores", "apparent", "size change percent", "curve", "given in"}}
		}
		s.table = append(s.table, []string{m.Name, span(m.DensityLow, m.DensityHigh), figure(m.PoreFree), figure(m.Apparent),
			span(m.SizeChangeLow, m.SizeChangeHigh),
			firstWord(m.Curve), given(m.Origin)})
	}
	return s
}

// presses are those that a pack lists.
func presses(p *rules.Pack) section {
	s := section{title: "Presses"}
	var all []*rules.Press
	for _, x := range p.Presses {
		all = append(all, x)
	}
	slices.SortFunc(all, func(a, b *rules.Press) int { return strings.Compare(a.Name, b.Name) })
	for i, x := range all {
		if i == 0 {
			s.table = [][]string{{"", "capacity kN", "fill mm", "ejection kN", "stroke mm", "upper", "lower"}}
		}
		row := []string{x.Name}
		for _, v := range []float64{x.Capacity, x.Fill, x.Eject, x.EjectionStroke, x.Upper, x.Lower} {
			row = append(row, words.Six(v))
		}
		s.table = append(s.table, row)
	}
	return s
}

// rulesOf lists the rules of one stage.
func rulesOf(p *rules.Pack, stage string) section {
	s := section{title: "Rules of the stage " + stage}
	for _, r := range p.Rules {
		if r.Stage != stage {
			continue
		}
		var grades []string
		for _, n := range r.Needs {
			grades = append(grades, string(n.Grade))
		}
		s.table = append(s.table, []string{r.Name, strings.Join(slices.Compact(grades), ", "), "over " + r.Over, r.From.Name})
	}
	return s
}

// RuleShow writes one rule in full for people.
func RuleShow(w io.Writer, e *prove.Entry) error { return writeText(w, rulePage(e)) }

// rulePage words one rule in full.
func rulePage(e *prove.Entry) *page {
	r := e.Rule
	p := &page{head: fmt.Sprintf("%s (%s): %s", r.Name, r.From.Name, source.Plain(r.Title))}
	add := func(format string, args ...any) { p.facts = append(p.facts, item(fmt.Sprintf(format, args...))) }
	add("%s, line %d; stage %s, judged over %s", source.Plain(r.File), r.Line, r.Stage, r.Over)
	if r.When != "" && r.When != "true" {
		add("Only where: %s", source.Plain(words.OneLine(r.When)))
	}
	for _, n := range r.Needs {
		add("Needs, else %s: %s", n.Grade, source.Plain(words.OneLine(n.That)))
	}
	read := &p.facts[len(p.facts)-1].below
	for _, l := range e.Limits {
		*read = append(*read, item(fmt.Sprintf("limits.%s is %s, %s", l.Name, figureText(l.Value, l.Unit), limitGround(r, l))))
	}
	for _, x := range e.Tables {
		*read = append(*read, item(fmt.Sprintf("table %s: %s, %s", x.Name, tableText(x), groundWords(r.Pack, x.Source, x.Basis, x.Note))))
	}
	for _, m := range e.Measures {
		*read = append(*read, item(fmt.Sprintf("%s.%s: %s", m.Kind.Name, m.Field.Name, m.Field.Doc)))
	}
	for _, c := range r.Sources {
		add("Ground: %s", groundWords(r.Pack, c.Key, c.Basis, ""))
	}
	add("In the die: %s", source.Plain(r.Because))
	add("Change: %s.", source.Plain(r.Change))
	if e.Fails != nil {
		p.facts = append(p.facts, item("A trial that it finds: "+trialText(e.Fails), words.TrialFigures(e.Fails)...))
	}
	if e.Misses != nil {
		p.facts = append(p.facts, item("A near miss: "+trialText(e.Misses), words.TrialFigures(e.Misses)...))
	}
	return p
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

// trialText names a trial's part and what is set in it.
func trialText(x *prove.Tried) string {
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

// basisWords say what a figure stands on.
func basisWords(b stock.Basis) string {
	switch b {
	case stock.Practice:
		return "common practice, no source"
	case stock.Memory:
		return "from memory, unverified"
	case stock.Shop:
		return "the shop's own"
	}
	return string(b)
}
