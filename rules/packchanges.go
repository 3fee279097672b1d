package rules

import (
	"cmp"
	"fmt"
	"slices"

	"corerod/parts/source"
	"corerod/parts/stock"
)

// change leaves rules out and changes grades, of rules of the packs below: what they change themselves, and what this
// pack does.
func (p *Pack) change() (ps source.Problems) {
	var known []string
	for _, r := range p.Rules {
		if r.From != p {
			known = append(known, r.Name)
		}
	}
	names := func(c change, key string) bool {
		switch {
		case slices.Contains(known, c.name):
			return true
		case len(p.On) == 0:
			ps = append(ps, c.at.problem("`"+key+"` names "+source.Quote(c.name)+", and the pack builds on none that could have it"))
		default:
			ps = append(ps,
				c.at.problem("`"+key+"` names "+source.Quote(c.name)+", which is no rule of a pack below"+suggest(c.name, known)))
		}
		return false
	}
	for _, q := range p.On {
		p.LeftOut = append(p.LeftOut, q.LeftOut...)
		p.Regraded = append(p.Regraded, q.Regraded...)
	}
	for _, c := range p.leaves {
		if names(c, "leave_out") {
			p.LeftOut = append(p.LeftOut, LeftOut{c.name, c.reason, p.Name})
		}
	}
	for _, c := range p.grades {
		if names(c, "grades") {
			p.Regraded = append(slices.DeleteFunc(p.Regraded, func(x Regraded) bool { return x.Rule == c.name }),
				Regraded{c.name, c.grade, p.Name})
		}
	}
	p.LeftOut, p.Regraded = once(p.LeftOut), once(p.Regraded)
	p.Rules = slices.DeleteFunc(p.Rules, func(r *Rule) bool {
		return r.From != p && slices.ContainsFunc(p.LeftOut, func(x LeftOut) bool { return x.Rule == r.Name })
	})
	for _, x := range p.Regraded {
		for _, r := range p.Rules {
			if r.Name == x.Rule && r.From != p {
				r.regrade(x.Grade)
			}
		}
	}
	for _, c := range p.grades {
		if i := slices.IndexFunc(p.Rules, func(r *Rule) bool { return r.Name == c.name }); i >= 0 && c.grade == Stop {
			ps = append(ps, p.hardened(p.Rules[i], c)...)
		}
	}
	return ps
}

// once keeps each entry once, in a fixed order whatever the order of the packs was.
func once[T LeftOut | Regraded](all []T) []T {
	slices.SortFunc(all, func(a, b T) int { return cmp.Compare(fmt.Sprint(a), fmt.Sprint(b)) })
	return slices.Compact(all)
}

// regrade makes a grade the worst of a rule: milder ones stay.
func (r *Rule) regrade(g Grade) {
	r.Needs = slices.Clone(r.Needs)
	if g.Worse(r.Needs[0].Grade) {
		r.Needs[0].Grade = g
	}
	for k := range r.Needs {
		if r.Needs[k].Grade.Worse(g) {
			r.Needs[k].Grade = g
		}
	}
}

// hardened refuses a stop that would rest on memory alone.
func (p *Pack) hardened(r *Rule, c change) (ps source.Problems) {
	for _, f := range r.grounded(&r.Needs[0]) {
		ps = append(ps, c.at.problem(f.Message))
	}
	return ps
}

// idle reports limits of a pack that replace none and that nothing reads: most are misspelt.
func (p *Pack) idle() (ps source.Problems) {
	var known []string
	for name, l := range p.Limits {
		if l.Origin.Pack != p.Name {
			known = append(known, name)
		}
	}
	slices.Sort(known)
	for _, name := range sortedKeys(p.Limits) {
		l := p.Limits[name]
		if l.Origin.Pack != p.Name || len(p.On) == 0 || stock.ToolFigureNamed(name) != nil || p.replaces(name) ||
			slices.ContainsFunc(p.Rules, func(r *Rule) bool { return r.From == p && r.Reads(name) }) {
			continue
		}
		meant := "; leave it out, or let a rule read it"
		if near := source.Nearest(name, known); near != "" {
			meant = "; did you mean `" + near + "`?"
		}
		ps = append(ps, l.Origin.problem("the limit `"+name+"` replaces none of the packs below, and no rule here reads it"+meant))
	}
	return ps
}

// replaces tells whether a limit of the pack stands for one below.
func (p *Pack) replaces(limit string) bool {
	return slices.ContainsFunc(p.On, func(q *Pack) bool { return q.Limits[limit] != nil })
}

// LeftOut is a rule that a pack leaves out.
type LeftOut struct{ Rule, Reason, Pack string }

// Regraded is a rule whose grade a pack changes.
type Regraded struct {
	Rule  string
	Grade Grade
	Pack  string
}

// changes reads what a pack changes in the rules below it.
func (r *reading) changes(root *source.Node) {
	each := func(key, needs string, read func(name, of *source.Node)) {
		n := root.At(key)
		switch {
		case n == nil || n.Null:
		case n.Shape != source.Map:
			r.Report(n, "`%s` needs rules with %s, not %s", key, needs, n.Shape)
		default:
			for i, k := range n.Keys {
				read(k, n.Items[i])
			}
		}
	}
	each("grades", "a grade each", func(name, of *source.Node) {
		if w, ok := r.Word(of, "the grade of "+source.Quote(name.Value), string(Stop), string(Change), string(Ask)); ok {
			r.pack.grades = append(r.pack.grades, change{name: name.Value, grade: Grade(w), at: r.origin(name)})
		}
	})
	each("leave_out", "a reason each", func(name, of *source.Node) {
		r.pack.leaves = append(r.pack.leaves, change{name: name.Value,
			reason: r.words(of, "the reason to leave "+source.Quote(name.Value)+" out"), at: r.origin(name)})
	})
}

// change is what a pack changes in one rule below it.
type change struct {
	name, reason string
	grade        Grade
	at           Origin
}
