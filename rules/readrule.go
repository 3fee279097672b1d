package rules

import (
	"slices"

	"corerod/parts/source"
	"corerod/parts/stock"
	"corerod/parts/subject"
)

// Reserved are names that records of concessions use for what is no finding of a rule.
var Reserved = []string{"part-gone", "newly-machined"}

// rule reads one rule. Its expressions are read later: when they are needed, or when the pack is checked whole.
func (r *reading) rule(name, of *source.Node) {
	i := slices.IndexFunc(r.pack.Rules, func(other *Rule) bool { return other.Name == name.Value })
	if i >= 0 {
		first := r.pack.Rules[i]
		r.again(name, "the rule", Origin{File: first.File, Line: first.Line, Column: first.Column}, true)
		return
	}
	if !r.Map(of, "a rule", forms().rule.Known()...) {
		return
	}
	if slices.Contains(Reserved, name.Value) {
		r.Report(name, "a rule cannot be named `%s`: records of concessions use that name; choose another", name.Value)
	}
	rule := &Rule{Name: name.Value, Pack: r.pack, From: r.pack, File: r.File, Line: name.Line, Column: name.Column}
	r.ruleTexts(rule, of)
	r.ruleSubject(rule, of)
	r.ruleSources(rule, of)
	r.needs(rule, of)
	r.adjust(rule, of)
	r.with(rule, of)
	if n := of.At("since"); n != nil {
		rule.Since = r.version(n, "`since`")
		if p := r.pack; isVersion(rule.Since) && isVersion(p.Version) && laterVersion(rule.Since, p.Version) {
			r.Report(n, "`since` is %s, after the pack's own version %s; it is the version that brought the rule", rule.Since, p.Version)
		}
	}
	r.pack.Rules = append(r.pack.Rules, rule)
}

// ruleTexts reads what a rule prints.
func (r *reading) ruleTexts(rule *Rule, of *source.Node) {
	for _, t := range []struct {
		key string
		to  *string
	}{{"title", &rule.Title}, {"because", &rule.Because}, {"change", &rule.Change}, {"says", &rule.Says}} {
		if n := r.Require(of, "a rule", t.key); n != nil {
			*t.to = r.words(n, "`"+t.key+"`")
		}
	}
	n := of.At("says")
	if rule.Says == "" {
		return
	}
	var wrong *fault
	whole := phrase{rule: rule.Name, text: n.Value, file: r.File, node: n}
	if rule.says, wrong = cut(whole); wrong != nil {
		r.Problems = append(r.Problems, whole.problem(wrong.at, wrong.message))
	}
}

// ruleSubject reads when and over what a rule judges.
func (r *reading) ruleSubject(rule *Rule, of *source.Node) {
	if n := r.Require(of, "a rule", "stage"); n != nil {
		rule.Stage, _ = r.Word(n, "`stage`", Stages...)
	}
	if n := r.Require(of, "a rule", "over"); n != nil {
		var kinds []string
		for _, k := range subject.Kinds() {
			kinds = append(kinds, k.Name)
		}
		rule.Over, _ = r.Word(n, "`over`", kinds...)
	}
	if n := of.At("when"); n != nil {
		if p, ok := r.phrase(rule, n, "`when`"); ok {
			rule.When, rule.when = p.text, &p
		}
	}
}

// phrase reads an expression.
func (r *reading) phrase(rule *Rule, n *source.Node, what string) (phrase, bool) {
	s, ok := r.printable(n, what)
	return phrase{rule: rule.Name, text: s, file: r.File, node: n}, ok
}

// ruleSources reads a rule's own grounds: sources are published unless the rule gives another basis.
func (r *reading) ruleSources(rule *Rule, of *source.Node) {
	basis := stock.Basis("")
	if n := of.At("basis"); n != nil {
		w, _ := r.Word(n, "`basis`", stock.Bases...)
		basis = stock.Basis(w)
	}
	var items []*source.Node
	if n := of.At("sources"); n != nil {
		items, _ = r.List(n, "`sources`")
	}
	for _, n := range items {
		if key, ok := r.printable(n, "a source"); ok {
			c := Cited{Key: key, Basis: basis}
			if basis == "" {
				c.Basis = stock.Published
			}
			rule.Sources = append(rule.Sources, c)
		}
	}
	switch {
	case len(items) > 0 || basis == "":
	case basis == stock.Practice || basis == stock.Memory:
		rule.Sources = []Cited{{Basis: basis}}
	default:
		r.Report(of.At("basis"), "basis `%s` needs `sources`", basis)
		rule.Sources = []Cited{{Basis: basis}}
	}
}

// needs reads the conditions of a rule, worst grade first.
func (r *reading) needs(rule *Rule, of *source.Node) {
	n := r.Require(of, "a rule", "need")
	if n == nil {
		return
	}
	items, ok := r.List(n, "`need`")
	if ok && len(items) == 0 {
		r.Report(n, "`need` is empty; a rule needs at least one {grade, that}")
	}
	for _, item := range items {
		if !r.Map(item, "a need", forms().need.Known()...) {
			continue
		}
		var need Need
		if g := r.Require(item, "a need", "grade"); g != nil {
			w, _ := r.Word(g, "`grade`", string(Stop), string(Change), string(Ask))
			need.Grade = Grade(w)
			r.inOrder(rule, g, need.Grade)
		}
		if t := r.Require(item, "a need", "that"); t != nil {
			if need.at, ok = r.phrase(rule, t, "`that`"); ok {
				need.That = need.at.text
				rule.Needs = append(rule.Needs, need)
			}
		}
	}
}

// inOrder reports a need that stands before a worse one, or repeats a grade.
func (r *reading) inOrder(rule *Rule, at *source.Node, g Grade) {
	if g == "" || len(rule.Needs) == 0 {
		return
	}
	switch before := rule.Needs[len(rule.Needs)-1].Grade; {
	case slices.ContainsFunc(rule.Needs, func(n Need) bool { return n.Grade == g }):
		r.Report(at, "grade `%s` is already given; join its conditions by `&&`", g)
	case g.Worse(before):
		r.Report(at, "`%s` stands after `%s`; needs are written worst grade first: stop, change, ask", g, before)
	}
}

// with reads the rules that may find the same fault.
func (r *reading) with(rule *Rule, of *source.Node) {
	n := of.At("with")
	if n == nil {
		return
	}
	items, _ := r.List(n, "`with`")
	for _, item := range items {
		if s, ok := r.printable(item, "the name of a rule"); ok {
			rule.With, rule.with = append(rule.With, s), append(rule.with, item)
		}
	}
}

// adjust reads the measures that a change may move.
func (r *reading) adjust(rule *Rule, of *source.Node) {
	n := of.At("adjust")
	if n == nil {
		return
	}
	items, _ := r.List(n, "`adjust`")
	for _, item := range items {
		if s, ok := r.printable(item, "a measure to adjust"); ok {
			rule.Adjust, rule.adjust = append(rule.Adjust, s), append(rule.adjust, item)
		}
	}
}
