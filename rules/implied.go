package rules

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"corerod/parts/source"

	"github.com/google/cel-go/common/ast"
	"github.com/google/cel-go/common/operators"
	"github.com/google/cel-go/common/types"
)

// reachable reports needs that can never give a finding: one before them already asks for as much. Only figures
// written out and the pack's own limits are known; needs that differ otherwise are taken as independent.
func (r *Rule) reachable() (ps source.Problems) {
	env := r.Pack.env()
	for i := range r.Needs {
		later := env.expression(r.Needs[i].That)
		for j := range r.Needs[:i] {
			earlier := env.expression(r.Needs[j].That)
			if later.run == nil || earlier.run == nil || isTruth(later.tree.Expr(), true) || !r.Needs[j].Grade.Worse(r.Needs[i].Grade) {
				continue
			}
			m := implication{pack: r.Pack, a: earlier.tree, b: later.tree, names: map[string]string{}}
			if !m.holds(earlier.tree.Expr(), later.tree.Expr()) {
				continue
			}
			message := fmt.Sprintf("this need is never reached: whatever meets the `%s` before it meets this one too; "+
				"the milder grade needs the stricter limit", r.Needs[j].Grade)
			if m.same(earlier.tree.Expr(), later.tree.Expr()) {
				message = fmt.Sprintf("this need is the same as the `%s` before it, so it is never reached; "+
					"leave it out or give it a stricter limit", r.Needs[j].Grade)
			}
			ps = append(ps, r.Needs[i].at.problem(later.operator(), message))
			break
		}
	}
	return ps
}

// operator is the rune at which a condition's comparison has its operator; its first letter where it is none.
func (x *expression) operator() int {
	e := x.tree.Expr()
	if e.Kind() == ast.CallKind && symbols[e.AsCall().FunctionName()] != "" {
		return x.offset(e.ID())
	}
	return len(x.text) - len([]rune(strings.TrimLeft(string(x.text), " \t\n")))
}

// mostImplied bounds the pairs of conditions that are looked at; needs beyond it are taken as independent.
const mostImplied = 20_000

// implication tells whether one condition follows from another of the same rule.
type implication struct {
	pack  *Pack
	a, b  *ast.AST
	names map[string]string // comprehension variables of b, by those of a
	steps int
}

// holds tells whether b surely holds wherever a does.
func (m *implication) holds(a, b ast.Expr) bool {
	m.steps++
	switch {
	case m.steps > mostImplied:
		return false
	case m.same(a, b), isTruth(b, true), isTruth(a, false):
		return true
	case isCall(b, operators.LogicalAnd):
		return m.holds(a, b.AsCall().Args()[0]) && m.holds(a, b.AsCall().Args()[1])
	case isCall(a, operators.LogicalOr):
		return m.holds(a.AsCall().Args()[0], b) && m.holds(a.AsCall().Args()[1], b)
	case isCall(a, operators.Conditional) && isCall(b, operators.Conditional) && m.same(a.AsCall().Args()[0], b.AsCall().Args()[0]):
		return m.holds(a.AsCall().Args()[1], b.AsCall().Args()[1]) && m.holds(a.AsCall().Args()[2], b.AsCall().Args()[2])
	case isCall(b, operators.LogicalOr) && (m.holds(a, b.AsCall().Args()[0]) || m.holds(a, b.AsCall().Args()[1])):
		return true
	case isCall(a, operators.LogicalAnd):
		return m.holds(a.AsCall().Args()[0], b) || m.holds(a.AsCall().Args()[1], b)
	case isCall(a, operators.LogicalNot) && isCall(b, operators.LogicalNot):
		return m.turned().holds(b.AsCall().Args()[0], a.AsCall().Args()[0])
	case a.Kind() == ast.ComprehensionKind && b.Kind() == ast.ComprehensionKind:
		return m.elements(a, b)
	}
	return m.compared(a, b)
}

// turned looks from b to a.
func (m *implication) turned() *implication {
	t := &implication{pack: m.pack, a: m.b, b: m.a, names: map[string]string{}, steps: m.steps}
	for a, b := range m.names {
		t.names[b] = a
	}
	return t
}

// elements compares all() with all(), or exists() with exists(), over one list.
func (m *implication) elements(a, b ast.Expr) bool {
	x, ok1 := asLoop(m.a, a)
	y, ok2 := asLoop(m.b, b)
	if !ok1 || !ok2 || x.macro != y.macro || x.macro != operators.All && x.macro != operators.Exists || !m.same(x.list, y.list) {
		return false
	}
	m.names[x.variable] = y.variable
	defer delete(m.names, x.variable)
	return m.holds(x.condition, y.condition)
}

func isTruth(e ast.Expr, v bool) bool {
	if e.Kind() != ast.LiteralKind {
		return false
	}
	b, ok := e.AsLiteral().(types.Bool)
	return ok && bool(b) == v
}

// same tells whether two expressions are written alike, limits of one value counting as alike.
func (m *implication) same(a, b ast.Expr) bool {
	if x, ok := m.figure(a); ok {
		y, ok := m.figure(b)
		return ok && x == y
	}
	if a.Kind() != b.Kind() {
		return false
	}
	switch a.Kind() {
	case ast.LiteralKind:
		return a.AsLiteral().Equal(b.AsLiteral()) == types.True
	case ast.IdentKind:
		name, bound := m.names[a.AsIdent()]
		return bound && name == b.AsIdent() || !bound && a.AsIdent() == b.AsIdent()
	case ast.SelectKind:
		x, y := a.AsSelect(), b.AsSelect()
		return x.FieldName() == y.FieldName() && x.IsTestOnly() == y.IsTestOnly() && m.same(x.Operand(), y.Operand())
	case ast.CallKind:
		return a.AsCall().FunctionName() == b.AsCall().FunctionName() && m.sameParts(a, b)
	case ast.ComprehensionKind:
		return m.sameLoops(a, b)
	}
	return a.Kind() == ast.ListKind && m.sameParts(a, b)
}

func (m *implication) sameParts(a, b ast.Expr) bool {
	x, y := parts(m.a, a), parts(m.b, b)
	if len(x) != len(y) {
		return false
	}
	for i := range x {
		if !m.same(x[i], y[i]) {
			return false
		}
	}
	return true
}

func (m *implication) sameLoops(a, b ast.Expr) bool {
	x, ok1 := asLoop(m.a, a)
	y, ok2 := asLoop(m.b, b)
	if !ok1 || !ok2 || x.macro != y.macro || !m.same(x.list, y.list) {
		return false
	}
	m.names[x.variable] = y.variable
	defer delete(m.names, x.variable)
	return m.same(x.condition, y.condition)
}

// figure is the value of a number that is written out, a limit, or calculated from such.
func (m *implication) figure(e ast.Expr) (float64, bool) {
	switch e.Kind() {
	case ast.LiteralKind:
		v, ok := e.AsLiteral().(types.Double)
		return float64(v), ok
	case ast.SelectKind:
		name, ok := strings.CutPrefix(dotted(e), "limits.")
		if l := m.pack.Limits[name]; ok && l != nil {
			return l.Value, true
		}
	case ast.CallKind:
		return m.calculated(e.AsCall())
	}
	return 0, false
}

func (m *implication) calculated(c ast.CallExpr) (float64, bool) {
	values := make([]float64, len(c.Args()))
	for i, a := range c.Args() {
		v, ok := m.figure(a)
		if !ok {
			return 0, false
		}
		values[i] = v
	}
	result := math.NaN()
	if f := arithmetic[c.FunctionName()]; f != nil && len(values) == 2 {
		result = f(values[0], values[1])
	}
	if f := singles[c.FunctionName()]; f != nil && len(values) == 1 {
		result = f(values[0])
	}
	return result, !math.IsNaN(result) && !math.IsInf(result, 0)
}

// bounded is a comparison of something with a figure, the figure on the right.
type bounded struct {
	of     ast.Expr
	symbol string
	figure float64
}

// symbols of the comparisons that needs are compared by.
var symbols = map[string]string{operators.Less: "<", operators.LessEquals: "<=", operators.Greater: ">", operators.GreaterEquals: ">=",
	operators.Equals: "==", operators.NotEquals: "!="}

// bounded reads a comparison with a figure, also a negated one.
func (m *implication) bounded(e ast.Expr) (bounded, bool) {
	if isCall(e, operators.LogicalNot) {
		b, ok := m.bounded(e.AsCall().Args()[0])
		b.symbol = negated[b.symbol]
		return b, ok
	}
	if e.Kind() != ast.CallKind || symbols[e.AsCall().FunctionName()] == "" {
		return bounded{}, false
	}
	args, symbol := e.AsCall().Args(), symbols[e.AsCall().FunctionName()]
	if v, ok := m.figure(args[1]); ok {
		return bounded{args[0], symbol, v}, true
	}
	if v, ok := m.figure(args[0]); ok {
		return bounded{args[1], firstOf(turned[symbol], symbol), v}, true
	}
	return bounded{}, false
}

// apart tells whether one figure is above another by more than the allowances of two comparisons.
func apart(above, below float64) bool { return above-below > 4*allowance(above, below) }

// compared tells whether one comparison with a figure follows from another of the same measure.
func (m *implication) compared(a, b ast.Expr) bool {
	x, ok1 := m.bounded(a)
	y, ok2 := m.bounded(b)
	if !ok1 || !ok2 || !m.same(x.of, y.of) {
		return false
	}
	switch y.symbol {
	case ">=":
		return slices.Contains([]string{">", ">=", "=="}, x.symbol) && x.figure >= y.figure
	case ">":
		return x.symbol == ">" && x.figure >= y.figure || slices.Contains([]string{">=", "=="}, x.symbol) && apart(x.figure, y.figure)
	case "<=":
		return slices.Contains([]string{"<", "<=", "=="}, x.symbol) && x.figure <= y.figure
	case "<":
		return x.symbol == "<" && x.figure <= y.figure || slices.Contains([]string{"<=", "=="}, x.symbol) && apart(y.figure, x.figure)
	}
	return x.symbol == y.symbol && x.figure == y.figure
}
