package rules

import (
	"github.com/google/cel-go/common/ast"
	"github.com/google/cel-go/common/operators"
	"github.com/google/cel-go/common/types/ref"
	"github.com/google/cel-go/interpreter"
)

// finder evaluates parts of an expression one by one when they are asked for. Recording every value of a comprehension
// inside another takes many times as long as judging it, and none of those values is used: its elements are looked at one
// by one.
func (x *expression) finder(in interpreter.Activation) func(ast.Expr) ref.Val {
	return func(e ast.Expr) ref.Val {
		program, err := x.planned(partKey-e.ID(), e, x.planOptions)
		if err != nil {
			return nil
		}
		v, _, _ := program.Eval(in)
		return v
	}
}

// partKey parts the keys of single parts from those of conditions.
const partKey = -1 << 40

// quantified tells whether an expression is an all or exists, which is decided by its elements, and its time is bounded by
// the steps of the budget.
func (d *decider) quantified(e ast.Expr) bool {
	l, ok := asLoop(d.tree, e)
	return ok && (l.macro == operators.All || l.macro == operators.Exists) && d.counted
}

// look looks again at a comprehension's condition for one element; false where nothing can be told of it.
func (d *decider) look(l loop, in interpreter.Activation, v recorded) (recorded, bool) {
	if d.quantified(l.condition) {
		return recorded{in: in, element: v.element, find: d.finder(in)}, true
	}
	program, err := d.condition(l.id, l.condition)
	if err != nil {
		return recorded{}, false
	}
	_, details, _ := program.Eval(in)
	if details == nil {
		return recorded{}, false
	}
	return recorded{state: details.State(), in: in, element: v.element}, true
}
