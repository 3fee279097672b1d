package rules

import (
	"slices"

	"github.com/google/cel-go/common/ast"
	"github.com/google/cel-go/common/operators"
	"github.com/google/cel-go/common/types"
	"github.com/google/cel-go/common/types/traits"

	"corerod/parts/subject"
)

// Clause is one condition in a rule that can come out either way: a comparison, or a measure that is true or false.
type Clause struct {
	Text   string
	Origin Origin
	True   bool // it was seen true
	False  bool // it was seen false
	Always bool // it asks whether there is such a subject at all: true where there is none
}

// Watched are the clauses of one rule, in order, as parts are shown to it.
type Watched struct {
	Rule    *Rule
	Clauses []*Clause

	by map[*phrase]map[int64]*Clause
}

// Watch lists the clauses of a rule.
func (r *Rule) Watch() *Watched {
	w := &Watched{Rule: r, by: map[*phrase]map[int64]*Clause{}}
	for _, p := range r.phrases() {
		x := r.Pack.env().expression(p.text)
		if x.run == nil {
			continue
		}
		w.by[p] = map[int64]*Clause{}
		w.list(p, x, x.tree.Expr())
	}
	return w
}

// phrases are the conditions of a rule with their places.
func (r *Rule) phrases() (all []*phrase) {
	if r.when != nil && r.When != "true" {
		all = append(all, r.when)
	}
	for i := range r.Needs {
		all = append(all, &r.Needs[i].at)
	}
	return all
}

// isClause tells whether an expression is a condition that is not made of others.
func isClause(x *expression, e ast.Expr) bool {
	switch e.Kind() {
	case ast.SelectKind:
		return !e.AsSelect().IsTestOnly() && x.tree.GetType(e.ID()).IsExactType(types.BoolType)
	case ast.CallKind:
		return slices.Contains([]string{operators.Less, operators.LessEquals, operators.Greater, operators.GreaterEquals, operators.Equals,
			operators.NotEquals, operators.In, "startsWith", "endsWith", "contains"},
			e.AsCall().FunctionName())
	}
	return false
}

// list finds the clauses in an expression.
func (w *Watched) list(p *phrase, x *expression, e ast.Expr) {
	if isClause(x, e) {
		at := x.offset(e.ID())
		text := clause(x.text, at)
		c := &Clause{Text: text, Origin: p.origin(at), Always: exists(w.Rule, e)}
		w.by[p][e.ID()] = c
		w.Clauses = append(w.Clauses, c)
		return
	}
	for _, in := range parts(x.tree, e) {
		w.list(p, x, in)
	}
}

// exists tells whether a comparison asks of a measure that is always above zero whether it is zero: it holds only where
// the rule has no subject at all.
func exists(r *Rule, e ast.Expr) bool {
	if !isCall(e, operators.LessEquals) || e.AsCall().Args()[0].Kind() != ast.SelectKind {
		return false
	}
	s, limit := e.AsCall().Args()[0].AsSelect(), e.AsCall().Args()[1]
	f := subject.KindNamed(r.Over).Field(s.FieldName())
	zero := limit.Kind() == ast.LiteralKind && limit.AsLiteral() == types.Double(0)
	return zero && f != nil && f.Positive && s.Operand().Kind() == ast.IdentKind && s.Operand().AsIdent() == r.Over
}

// Show shows one part to the rule.
func (w *Watched) Show(b *Book, c Case) {
	r, s := w.Rule, b.scene(c)
	s.next()
	all := s.of(subject.KindNamed(r.Over))
	for _, k := range w.Clauses {
		k.True = k.True || k.Always && len(all) == 0
	}
	for _, o := range all {
		in := &bound{scene: s, over: o, limits: r.Pack.env().limits}
		if r.when != nil && r.When != "true" {
			w.see(r.when, in)
		}
		if applies, f := r.applies(in); !applies || f != nil {
			continue
		}
		for i := range r.Needs {
			w.see(&r.Needs[i].at, in)
		}
	}
}

// see evaluates one condition with every value recorded.
func (w *Watched) see(p *phrase, in *bound) {
	x := w.Rule.Pack.env().expression(p.text)
	program, err := x.tracer()
	if err != nil {
		return
	}
	_, details, _ := program.Eval(in)
	if details != nil {
		w.record(p, x, x.tree.Expr(), recorded{state: details.State(), in: in})
	}
}

func (w *Watched) record(p *phrase, x *expression, e ast.Expr, v recorded) {
	if c := w.by[p][e.ID()]; c != nil {
		if got, known := v.truth(e); known {
			c.True, c.False = c.True || got, c.False || !got
		}
		return
	}
	if l, ok := asLoop(x.tree, e); ok {
		w.elements(p, x, l, v)
		w.record(p, x, l.list, v)
		return
	}
	for _, in := range parts(x.tree, e) {
		w.record(p, x, in, v)
	}
}

// elements records the condition of a comprehension for each of its elements.
func (w *Watched) elements(p *phrase, x *expression, l loop, v recorded) {
	list, ok := v.value(l.list).(traits.Lister)
	program, err := x.condition(l.id, l.condition)
	if !ok || err != nil {
		return
	}
	for it := list.Iterator(); it.HasNext() == types.True; {
		in := &element{v.in, l.variable, it.Next()}
		if _, details, _ := program.Eval(in); details != nil {
			w.record(p, x, l.condition, recorded{state: details.State(), in: in})
		}
	}
}
