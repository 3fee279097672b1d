package rules

import (
	"fmt"
	"strings"

	"github.com/google/cel-go/common/ast"
	"github.com/google/cel-go/common/operators"
	"github.com/google/cel-go/common/types"
)

// loop is a comprehension as its author wrote it: list.macro(variable, condition), or macro(list, variable, number).
type loop struct {
	id        int64
	macro     string // all, exists, exists_one or filter; sum, least or greatest
	variable  string
	at        int64 // id of the variable as written
	list      ast.Expr
	condition ast.Expr // or the number of each element
}

// asLoop reads a comprehension back from its expansion.
func asLoop(tree *ast.AST, e ast.Expr) (loop, bool) {
	call, ok := tree.SourceInfo().GetMacroCall(e.ID())
	if !ok || e.Kind() != ast.ComprehensionKind {
		return loop{}, false
	}
	written := call.AsCall().Args()
	if !call.AsCall().IsMemberFunction() && len(written) > 0 {
		written = written[1:] // the list stands first
	}
	c, step := e.AsComprehension(), e.AsComprehension().LoopStep()
	if len(written) != 2 || step.Kind() != ast.CallKind || len(step.AsCall().Args()) < 2 {
		return loop{}, false
	}
	l := loop{id: e.ID(), macro: call.AsCall().FunctionName(), variable: c.IterVar(), at: written[0].ID(), list: c.IterRange()}
	if l.macro == operators.Filter || l.macro == operators.ExistsOne {
		l.condition = step.AsCall().Args()[0]
	} else {
		l.condition = step.AsCall().Args()[1]
	}
	return l, true
}

// parts lists the expressions inside one, as written: macros are not expanded.
func parts(tree *ast.AST, e ast.Expr) []ast.Expr {
	switch e.Kind() {
	case ast.CallKind:
		c := e.AsCall()
		if c.IsMemberFunction() {
			return append([]ast.Expr{c.Target()}, c.Args()...)
		}
		return c.Args()
	case ast.SelectKind:
		return []ast.Expr{e.AsSelect().Operand()}
	case ast.ListKind:
		return e.AsList().Elements()
	case ast.ComprehensionKind:
		if l, ok := asLoop(tree, e); ok {
			return []ast.Expr{l.list, l.condition}
		}
	}
	return nil
}

// isCall tells whether e is a call of a function or operator.
func isCall(e ast.Expr, function string) bool {
	return e.Kind() == ast.CallKind && e.AsCall().FunctionName() == function
}

// chain lists the operands of a chain of one logical operator, left to right.
func chain(e ast.Expr, operator string) []ast.Expr {
	if !isCall(e, operator) {
		return []ast.Expr{e}
	}
	var all []ast.Expr
	for _, a := range e.AsCall().Args() {
		all = append(all, chain(a, operator)...)
	}
	return all
}

// dotted writes a chain of names, such as hole.bore; "" for anything else.
func dotted(e ast.Expr) string {
	var names []string
	for e.Kind() == ast.SelectKind {
		names = append(names, e.AsSelect().FieldName())
		e = e.AsSelect().Operand()
	}
	if e.Kind() != ast.IdentKind {
		return ""
	}
	p := e.AsIdent()
	for i := len(names) - 1; i >= 0; i-- {
		p += "." + names[i]
	}
	return p
}

// spelled writes an expression in one way however its author spaced it, so that two that are alike are known.
func spelled(tree *ast.AST, e ast.Expr) string {
	name := ""
	switch e.Kind() {
	case ast.LiteralKind:
		return fmt.Sprintf("%T %v", e.AsLiteral(), e.AsLiteral())
	case ast.IdentKind:
		return e.AsIdent()
	case ast.SelectKind:
		name = "." + e.AsSelect().FieldName()
		if e.AsSelect().IsTestOnly() {
			name = ".has " + e.AsSelect().FieldName()
		}
	case ast.CallKind:
		name = e.AsCall().FunctionName()
	case ast.ComprehensionKind:
		if l, ok := asLoop(tree, e); ok {
			name = l.macro + " " + l.variable
		}
	}
	var of []string
	for _, p := range parts(tree, e) {
		of = append(of, spelled(tree, p))
	}
	if strings.HasPrefix(name, ".") && !strings.HasPrefix(name, ".has") {
		return of[0] + name
	}
	return name + "(" + strings.Join(of, ", ") + ")"
}

// textLiteral returns the text of a literal.
func textLiteral(e ast.Expr) (string, bool) {
	if e.Kind() != ast.LiteralKind {
		return "", false
	}
	s, ok := e.AsLiteral().(types.String)
	return string(s), ok
}

// mentions tells whether an expression reads one of the wanted names.
func mentions(tree *ast.AST, e ast.Expr, wanted func(name string) bool) bool {
	if e.Kind() == ast.IdentKind {
		return wanted(e.AsIdent())
	}
	for _, p := range parts(tree, e) {
		if mentions(tree, p, wanted) {
			return true
		}
	}
	return false
}

// counted tells whether the steps of the budget surely bound the time that an expression takes: a comprehension inside
// another reads the list of subjects that it visits, which costs a step for each of them; no lists are joined, and inside
// a comprehension no other list is searched.
func counted(tree *ast.AST) bool {
	var walk func(e ast.Expr, inside bool) bool
	walk = func(e ast.Expr, inside bool) bool {
		switch e.Kind() {
		case ast.ComprehensionKind:
			l, ok := asLoop(tree, e)
			return ok && (!inside || readsSubjects(tree, l.list)) && walk(l.list, inside) && walk(l.condition, true)
		case ast.CallKind:
			c := e.AsCall()
			if c.FunctionName() == operators.Add && tree.GetType(e.ID()).Kind() != types.DoubleKind {
				return false
			}
			if inside && c.FunctionName() == operators.In && c.Args()[1].Kind() != ast.ListKind {
				return false
			}
			if inside && strings.HasSuffix(c.FunctionName(), "=_") && tree.GetType(c.Args()[0].ID()).Kind() == types.ListKind {
				return false
			}
		}
		for _, p := range parts(tree, e) {
			if !walk(p, inside) {
				return false
			}
		}
		return true
	}
	return walk(tree.Expr(), false)
}

// readsSubjects tells whether a list is one of subjects, read from the part or a subject, or filtered from such a list.
func readsSubjects(tree *ast.AST, list ast.Expr) bool {
	if l, ok := asLoop(tree, list); ok && l.macro == operators.Filter {
		return readsSubjects(tree, l.list)
	}
	of := tree.GetType(list.ID()).Parameters()
	return list.Kind() == ast.SelectKind && len(of) == 1 && of[0].Kind() == types.StructKind
}
