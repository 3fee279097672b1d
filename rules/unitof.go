package rules

import (
	"maps"
	"strings"

	"corerod/parts/subject"

	"github.com/google/cel-go/common/ast"
	"github.com/google/cel-go/common/operators"
)

// scope is an expression with what is known of its comprehensions' variables.
type scope struct {
	*expression
	loops map[string]sort
}

// unit works out the unit of a number from the units of what it is made of; "" where that is not known.
func (d *scope) unit(e ast.Expr) string {
	switch e.Kind() {
	case ast.SelectKind:
		if s := d.shapeOf(e.AsSelect().Operand()); s != nil && s.fields[e.AsSelect().FieldName()] != nil {
			return s.fields[e.AsSelect().FieldName()].unit
		}
	case ast.IdentKind:
		return d.loops[e.AsIdent()].unit
	case ast.ListKind:
		return d.common(e.AsList().Elements())
	case ast.ComprehensionKind:
		return d.loopUnit(e)
	case ast.CallKind:
		return d.callUnit(e.AsCall())
	}
	return ""
}

// loopUnit is the unit of a comprehension's numbers: those of the list that it filters, or those it takes of each element.
func (d *scope) loopUnit(e ast.Expr) string {
	l, ok := asLoop(d.tree, e)
	switch {
	case ok && l.macro == operators.Filter:
		return d.unit(l.list)
	case ok && isOverList(l.macro):
		inner := &scope{d.expression, maps.Clone(d.loops)}
		if inner.loops == nil {
			inner.loops = map[string]sort{}
		}
		inner.loops[l.variable] = d.element(l.list)
		return inner.unit(l.condition)
	}
	return ""
}

func (d *scope) callUnit(c ast.CallExpr) string {
	args := c.Args()
	if len(args) == 0 && c.FunctionName() != "size" {
		return ""
	}
	switch c.FunctionName() {
	case operators.Add, operators.Subtract, "least", "greatest":
		return d.common(args)
	case operators.Conditional:
		return d.common(args[1:])
	case operators.Negate, "abs", "round":
		return d.unit(args[0])
	case operators.Multiply:
		return d.product(args[0], args[1])
	case operators.Divide:
		return d.quotient(args[0], args[1])
	case "size":
		return subject.Count
	case "from_inch", "grade_width", "distance":
		return subject.MM
	case "table":
		name, _ := textLiteral(args[0])
		if t := d.env.pack.Tables[name]; t != nil {
			return t.YUnit
		}
	}
	return ""
}

// common is the unit that all of several numbers have, as far as their units are known; "" where two differ.
func (d *scope) common(args []ast.Expr) (unit string) {
	for _, a := range args {
		u := d.unit(a)
		if unit != "" && u != "" && u != unit {
			return ""
		}
		unit = firstOf(unit, u)
	}
	return unit
}

// pure tells whether a number surely has no dimension: a literal, ratio or count.
func (d *scope) pure(e ast.Expr) bool {
	u := d.unit(e)
	return constant(e) || u == subject.Ratio || u == subject.Count
}

func (d *scope) product(a, b ast.Expr) string {
	ua, ub := d.unit(a), d.unit(b)
	switch {
	case ua == unitPercent || ub == unitPercent:
		return "" // it may have been turned into a share
	case constant(a) || ua == subject.Ratio, ua == subject.Count && ub != "" && ub != subject.Ratio:
		return ub
	case d.pure(b):
		return ua
	case ua == subject.MM && ub == subject.MM:
		return subject.MM2
	case ua == subject.MM && ub == subject.MM2, ua == subject.MM2 && ub == subject.MM:
		return subject.MM3
	}
	return ""
}

func (d *scope) quotient(a, b ast.Expr) string {
	ua, ub := d.unit(a), d.unit(b)
	switch {
	case ua != "" && ua == ub:
		return subject.Ratio
	case ua == unitPercent:
		return "" // it may have been turned into a share
	case d.pure(b):
		return ua
	case ua == subject.MM3 && ub == subject.MM2, ua == subject.MM2 && ub == subject.MM:
		return subject.MM
	case ua == subject.MM3 && ub == subject.MM:
		return subject.MM2
	}
	return ""
}

// shapeOf is the shape that a name stands for, or nil.
func (d *scope) shapeOf(e ast.Expr) *shape {
	if e.Kind() == ast.IdentKind {
		if s, ok := d.loops[e.AsIdent()]; ok {
			return s.shape
		}
		return d.env.shapes[e.AsIdent()]
	}
	return nil
}

// element is what is known of the items of a list.
func (d *scope) element(list ast.Expr) sort {
	return sort{shape: d.listShape(list), unit: d.unit(list)}
}

// listShape is the shape of the subjects of a list, or nil. The list is one of the part's or of a subject's, or filtered
// from one.
func (d *scope) listShape(e ast.Expr) *shape {
	switch e.Kind() {
	case ast.ComprehensionKind:
		if l, ok := asLoop(d.tree, e); ok {
			return d.listShape(l.list)
		}
	case ast.SelectKind:
		if s := d.shapeOf(e.AsSelect().Operand()); s != nil && s.fields[e.AsSelect().FieldName()] != nil {
			return s.fields[e.AsSelect().FieldName()].of
		}
	}
	return nil
}

// tooLong puts the library's complaint about the step limit into words; other complaints come back unchanged.
func tooLong(err error) error {
	if err != nil && strings.Contains(err.Error(), "cost limit exceeded") {
		return errTooLong
	}
	return err
}
