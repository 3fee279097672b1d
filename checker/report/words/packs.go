package words

import (
	"fmt"
	"slices"
	"strings"

	"corerod/checker"
	"corerod/checker/prove"
	"corerod/parts/source"
	"corerod/rules"
)

// Limits are those of a pack in the order of their names.
func Limits(p *rules.Pack) (all []*rules.Limit) {
	for _, l := range p.Limits {
		all = append(all, l)
	}
	slices.SortFunc(all, func(a, b *rules.Limit) int { return strings.Compare(a.Name, b.Name) })
	return all
}

// Tables are those of a pack in the order of their names.
func Tables(p *rules.Pack) (all []*rules.Table) {
	for _, x := range p.Tables {
		all = append(all, x)
	}
	slices.SortFunc(all, func(a, b *rules.Table) int { return strings.Compare(a.Name, b.Name) })
	return all
}

// Materials are those of a pack in the order of their names.
func Materials(p *rules.Pack) (all []*rules.StockMaterial) {
	for _, x := range p.Materials {
		all = append(all, x)
	}
	slices.SortFunc(all, func(a, b *rules.StockMaterial) int { return strings.Compare(a.Name, b.Name) })
	return all
}

// OneLine sets an expression on one line.
func OneLine(text string) string { return strings.Join(strings.Fields(text), " ") }

// Node writes a value of a trial as YAML would.
func Node(n *source.Node) string {
	switch {
	case n.Null:
		return "left out"
	case n.Shape == source.Scalar:
		return n.Value
	}
	var items []string
	for i, it := range n.Items {
		text := Node(it)
		if n.Shape == source.Map {
			text = n.Keys[i].Value + ": " + text
		}
		items = append(items, text)
	}
	if n.Shape == source.Map {
		return "{" + strings.Join(items, ", ") + "}"
	}
	return "[" + strings.Join(items, ", ") + "]"
}

// TrialFigures are what a trial's finding compares, or what its near miss meets.
func TrialFigures(x *prove.Tried) (all []string) {
	unit := x.Case.Unit
	for i := range x.Outcome.Findings {
		f := &x.Outcome.Findings[i]
		if f.Grade != x.Finds {
			continue
		}
		all = append(all, fmt.Sprintf("%s: %s", f.Grade, source.Plain(f.Says)))
		return append(all, Comparisons(&checker.Finding{Finding: *f}, unit, MostCompared)...)
	}
	for _, m := range x.Outcome.Narrowest(2) {
		all = append(all, fmt.Sprintf("%s is %s, needed %s", source.Plain(m.Compared.Measure),
			Value(m.Compared.Value, m.Compared.Unit, unit), Needed(&m.Compared, unit)))
	}
	if len(all) == 0 {
		all = append(all, "nothing is found")
	}
	return all
}
