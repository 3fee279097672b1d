package rules

import (
	"strings"

	"github.com/google/cel-go/common/ast"
	"github.com/google/cel-go/common/operators"
	"github.com/google/cel-go/common/types"
)

// sign is 1 where a number is surely above zero, -1 where it is surely below, 0 where it is not known.
func (e *examiner) sign(x ast.Expr) int {
	switch x.Kind() {
	case ast.LiteralKind:
		if v, ok := x.AsLiteral().(types.Double); ok {
			return signOf(float64(v))
		}
	case ast.SelectKind:
		f := e.fieldOf(x)
		if name, ok := strings.CutPrefix(dotted(x), "limits."); ok && e.env.pack.isRefused("limits", name) {
			return 1
		}
		if f != nil {
			return f.sign
		}
	case ast.CallKind:
		if list, ok := sizeOf(x); ok && e.given[filled(e.tree, list)] {
			return 1
		}
		return e.callSign(x.AsCall())
	}
	return 0
}

// sizeGuard ends the message on a divisor that is the size of a list.
func (e *examiner) sizeGuard(divisor ast.Expr) string {
	if _, ok := sizeOf(divisor); !ok {
		return ""
	}
	return "; of a list ask first: `size(list) > 0 && ...`"
}

// callSign is the sign of an operator's or function's result; how many arguments it has is checked later.
func (e *examiner) callSign(c ast.CallExpr) int {
	if len(c.Args()) == 0 {
		return 0
	}
	signs := make([]int, len(c.Args()))
	for i, a := range c.Args() {
		signs[i] = e.sign(a)
	}
	same := func(a, b int) int {
		if a == b {
			return a
		}
		return 0
	}
	switch c.FunctionName() {
	case operators.Multiply, operators.Divide:
		return signs[0] * signs[1]
	case operators.Add, "least", "greatest":
		return same(signs[0], signs[len(signs)-1])
	case operators.Subtract:
		return same(signs[0], -signs[1])
	case operators.Negate:
		return -signs[0]
	case operators.Conditional:
		return same(signs[1], signs[2])
	case "abs":
		return signs[0] * signs[0]
	case "from_inch":
		return signs[0]
	case "grade_width":
		return 1
	case "table":
		return e.tableSign(c)
	}
	return 0
}

// tableSign is the sign that all rows of a table share.
func (e *examiner) tableSign(c ast.CallExpr) int {
	name, _ := textLiteral(c.Args()[0])
	t := e.env.pack.Tables[name]
	if t == nil {
		return 0
	}
	sign := signOf(t.Rows[0][1])
	for _, r := range t.Rows {
		if signOf(r[1]) != sign {
			return 0
		}
	}
	return sign
}

// fieldOf is the field that a chain of names reads, or nil.
func (e *examiner) fieldOf(x ast.Expr) *field {
	operand := x.AsSelect().Operand()
	if operand.Kind() != ast.IdentKind {
		return nil
	}
	s := e.loops[operand.AsIdent()].shape
	if s == nil {
		s = e.env.shapes[operand.AsIdent()]
	}
	if s == nil {
		return nil
	}
	return s.fields[x.AsSelect().FieldName()]
}
