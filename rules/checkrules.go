package rules

import (
	"fmt"
	"slices"
	"strings"

	"corerod/parts/source"
	"corerod/parts/subject"

	"github.com/google/cel-go/cel"
	"github.com/google/cel-go/common/types"
)

// checkRules compiles every expression of a pack and reports what a review would stumble on.
func (p *Pack) checkRules() (ps source.Problems) {
	for _, r := range p.Rules {
		if r.From == p { // those of a pack below are checked there
			ps = append(append(ps, r.check()...), p.checkWith(r)...)
		}
	}
	return ps
}

// checkWith checks that the rules that may find the same fault are there.
func (p *Pack) checkWith(r *Rule) (ps source.Problems) {
	var names []string
	for _, o := range p.Rules {
		names = append(names, o.Name)
	}
	for i, n := range r.with {
		switch name := r.With[i]; {
		case name == r.Name:
			ps = append(ps, source.Problem{File: r.File, Line: n.Line, Column: n.Column,
				Message: "`with` names the rule itself; leave it out"})
		case !slices.Contains(names, name):
			ps = append(ps, source.Problem{File: r.File, Line: n.Line, Column: n.Column, Message: fmt.Sprintf("`with` names %s, which "+
				"is no rule of this pack or one that it builds on%s", source.Quote(name), suggest(name, names))})
		}
	}
	return ps
}

// check examines the expressions of one rule and the grounds of its needs.
func (r *Rule) check() (ps source.Problems) {
	if r.Over == "" {
		return nil // reported already, and nothing can be told of its expressions
	}
	env := r.Pack.env()
	over := env.shapes[r.Over]
	var known facts
	if r.when != nil {
		ps = append(ps, r.condition(r.when, "when", over, nil)...)
		if x := env.expression(r.when.text); x.tree != nil {
			known = present(x.tree, x.tree.Expr(), true)
		}
	}
	for i := range r.Needs {
		n := &r.Needs[i]
		found := r.condition(&n.at, "that", over, known)
		if len(found) == 0 && env.expression(n.That).run != nil {
			found = append(r.constant(n), r.grounded(n)...)
		}
		ps = append(ps, found...)
	}
	ps = append(ps, r.reachable()...)
	for _, s := range r.says {
		if s.shows != nil {
			ps = append(ps, r.shown(s.shows, over, known)...)
		}
	}
	return append(ps, r.checkAdjust(over)...)
}

// condition examines a when or that: it must be true or false.
func (r *Rule) condition(p *phrase, key string, over *shape, known facts) source.Problems {
	faults, typ := r.Pack.env().expression(p.text).examine(over, false, known)
	if typ != nil && typ.Kind() != types.BoolKind {
		at := len(p.text) - len(strings.TrimLeft(p.text, " \t\n"))
		faults = []fault{{at, fmt.Sprintf("`%s` gives %s; it must give true or false, as a comparison does", key, typeWord(typ.String()))}}
	}
	return problems(p, faults)
}

// shown examines an expression of a text: it must give text, a list of text or a printed number.
func (r *Rule) shown(p *phrase, over *shape, known facts) source.Problems {
	faults, typ := r.Pack.env().expression(p.text).examine(over, true, known)
	at := len(p.text) - len(strings.TrimLeft(p.text, " \t\n"))
	switch {
	case typ == nil, typ.IsExactType(types.StringType), typ.IsExactType(figureType), typ.IsExactType(cel.ListType(types.StringType)):
	case typ.Kind() == types.DoubleKind:
		faults = []fault{{at, "a bare number has no unit; print it by `length( )` or by one of `" + strings.Join(printing, "`, `") + "`"}}
	default:
		faults = []fault{{at, "a text shows text, a list of text or a number with its unit, not " + typeWord(typ.String())}}
	}
	return problems(p, faults)
}

// problems gives faults of a phrase their places in the file.
func problems(p *phrase, faults []fault) (ps source.Problems) {
	for _, f := range faults {
		ps = append(ps, p.problem(f.at, f.message))
	}
	return ps
}

// constant reports a need whose outcome is the same for every part. `false` is not: with `when` it refuses what passes.
func (r *Rule) constant(n *Need) source.Problems {
	x := r.Pack.env().expression(n.That)
	root := x.tree.Expr()
	switch {
	case isTruth(root, true):
		return source.Problems{n.at.problem(0, "this need is always met; write what must hold, or leave it out")}
	case isTruth(root, false) || mentions(x.tree, root, func(name string) bool { return name != "limits" }):
		return nil
	}
	return source.Problems{n.at.problem(x.operator(),
		"this need reads no measure, so it is the same for every part; compare a measure of the part")}
}

// checkAdjust checks that the measures to adjust are numbers of the rule's subject or of the part.
func (r *Rule) checkAdjust(over *shape) (ps source.Problems) {
	for i, n := range r.adjust {
		variable, name, _ := strings.Cut(r.Adjust[i], ".")
		s := map[string]*shape{over.variable: over, "part": kindShapes()["part"]}[variable]
		var m string
		switch {
		case s == nil:
			m = fmt.Sprintf("%s is no measure of `%s` or of the part", source.Quote(r.Adjust[i]), over.variable)
		case s.fields[name] == nil:
			m = fmt.Sprintf("unknown measure %s%s", source.Quote(r.Adjust[i]), suggest(name, s.names()))
		case s.fields[name].typ != subject.Number:
			m = fmt.Sprintf("%s is not a number; a change moves a number", source.Quote(r.Adjust[i]))
		default:
			continue
		}
		ps = append(ps, source.Problem{File: r.File, Line: n.Line, Column: n.Column, Message: m})
	}
	return ps
}
