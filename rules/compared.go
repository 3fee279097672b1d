package rules

import (
	"errors"
	"math"
	"slices"
	"strings"

	"corerod/parts/source"
	"corerod/parts/subject"

	"github.com/google/cel-go/common/ast"
	"github.com/google/cel-go/common/operators"
	"github.com/google/cel-go/common/types"
	"github.com/google/cel-go/common/types/ref"
	"github.com/google/cel-go/common/types/traits"
	"github.com/google/cel-go/interpreter"
)

// Compared is one comparison of a need with both sides' values.
type Compared struct {
	Measure  string   // the side that reads a subject, as written
	Value    any      // its value: float64, string or bool
	Needs    string   // < <= > >= == != in, "not in", contains or "not contains"
	Limit    any      // the other side's value
	From     string   // the other side as written, such as limits.wall_least; "" for a literal
	Unit     string   // of a number, "" where it is not known
	MissesBy *float64 // how far a number is from what is needed; nil where that is no number
	AnyOf    int      // one of so many would be enough; 0 where each is needed
	Together int      // those of one number, from 1, are needed together to be that one; 0 for one that is enough

	Of *subject.Spot // the element of a list that was compared; nil where the list or the subject was compared as a whole
	To *subject.Spot // the element of the list around it, where two were compared; else nil
}

// leaf is a comparison with what is needed to choose among comparisons.
type leaf struct {
	Compared
	element subject.Subject // of the comprehension around it, or nil
	slack   float64         // (value - limit) / |limit|, below zero where it is missed; NaN where there is none
	which   bool            // it asks which subject it is, or whether a measure is there: a drawing changes what it is
}

// decider finds the comparisons that decide an expression's outcome. Of a need that failed (met is false) they are
// those that must turn out otherwise; of one that holds, those that make it hold.
type decider struct {
	scope
	over *shape
	met  bool
}

// decisive evaluates a need again with every value recorded, and returns the comparisons that decided it.
func (r *Rule) decisive(n *Need, in *bound, met bool) ([]leaf, error) {
	x := r.Pack.env().expression(n.That)
	d := decider{scope: scope{x, map[string]sort{}}, over: r.Pack.env().shapes[r.Over], met: met}
	if d.quantified(x.tree.Expr()) {
		v := recorded{in: in, find: x.finder(in)}
		if outcome, known := v.truth(x.tree.Expr()); known && outcome == met {
			return d.decide(x.tree.Expr(), v), in.scene.spent()
		}
	}
	program, err := x.tracer()
	if err != nil {
		return nil, err
	}
	_, details, err := program.Eval(in)
	in.scene.spend(cost(details, err))
	if in.scene.spent() != nil {
		return nil, in.scene.spent()
	}
	if details == nil {
		return nil, tooLong(err)
	}
	v := recorded{state: details.State(), in: in}
	if outcome, known := v.truth(x.tree.Expr()); known && outcome == met {
		return d.decide(x.tree.Expr(), v), nil
	}
	if err != nil {
		return nil, tooLong(err)
	}
	return nil, errors.New("the condition gave another outcome when it was looked at again")
}

// recorded is one evaluation with the value of every part of the expression.
type recorded struct {
	state   interpreter.EvalState
	in      interpreter.Activation
	element subject.Subject
	around  subject.Subject        // the element of the list around that of element
	find    func(ast.Expr) ref.Val // instead of state: evaluates what is asked for
}

func (v recorded) value(e ast.Expr) ref.Val {
	if e.Kind() == ast.LiteralKind {
		return e.AsLiteral()
	}
	if v.find != nil {
		return v.find(e)
	}
	got, _ := v.state.Value(e.ID())
	return got
}

// truth is the outcome of a condition, and whether it has one.
func (v recorded) truth(e ast.Expr) (bool, bool) {
	b, ok := v.value(e).(types.Bool)
	return bool(b), ok
}

// decide returns the comparisons that make e what it is.
func (d *decider) decide(e ast.Expr, v recorded) []leaf {
	outcome, known := v.truth(e)
	if !known {
		return nil
	}
	if e.Kind() == ast.ComprehensionKind {
		if l, ok := asLoop(d.tree, e); ok && (l.macro == operators.All || l.macro == operators.Exists) {
			if leaves, ok := d.elements(l, v, outcome); ok {
				return leaves
			}
		}
		return []leaf{d.whole(e, v, outcome)}
	}
	if e.Kind() != ast.CallKind {
		return []leaf{d.whole(e, v, outcome)}
	}
	c := e.AsCall()
	switch op := c.FunctionName(); op {
	case operators.LogicalNot:
		return d.decide(c.Args()[0], v)
	case operators.LogicalAnd, operators.LogicalOr:
		return d.operands(chain(e, op), v, outcome, outcome == (op == operators.LogicalAnd))
	case operators.Conditional:
		if yes, _ := v.truth(c.Args()[0]); yes {
			return d.decide(c.Args()[1], v)
		}
		return d.decide(c.Args()[2], v)
	case operators.Less, operators.LessEquals, operators.Greater, operators.GreaterEquals, operators.Equals,
		operators.NotEquals, operators.In:
		return []leaf{d.comparison(e, v, outcome)}
	}
	return []leaf{d.whole(e, v, outcome)}
}

// operands returns the decisive comparisons of a logical chain. together is true where all operands must be as they
// are for the outcome: then any one of them turns it.
func (d *decider) operands(all []ast.Expr, v recorded, outcome, together bool) []leaf {
	var groups [][]leaf
	for _, a := range all {
		if got, known := v.truth(a); known && got == outcome {
			groups = append(groups, d.decide(a, v))
		}
	}
	switch {
	case d.met && !together:
		return widest(groups)
	case !d.met && together:
		ways := drawable(groups)
		return anyOf(ways, len(all)-len(groups)+len(ways))
	}
	return join(groups)
}

// drawable leaves out ways that ask which subject it is or whether a measure is there, unless there is no other.
func drawable(groups [][]leaf) [][]leaf {
	which := func(l leaf) bool { return l.which }
	left := slices.DeleteFunc(slices.Clone(groups), func(g []leaf) bool { return slices.ContainsFunc(g, which) })
	if len(left) == 0 {
		return groups
	}
	return left
}

// elements returns the decisive comparisons of all() or exists(), element by element.
func (d *decider) elements(l loop, v recorded, outcome bool) ([]leaf, bool) {
	list, ok := v.value(l.list).(traits.Lister)
	if !ok {
		return nil, false
	}
	d.loops[l.variable] = d.element(l.list)
	defer delete(d.loops, l.variable)
	var groups [][]leaf
	for it := list.Iterator(); it.HasNext() == types.True; {
		item := it.Next()
		in := &element{v.in, l.variable, item}
		if !d.gives(l, in, outcome) {
			continue
		}
		each, ok := d.look(l, in, v)
		if !ok {
			continue
		}
		if o, ok := item.(*object); ok {
			each.element, each.around = o.subject, v.element
		}
		if got, known := each.truth(l.condition); known && got == outcome {
			groups = append(groups, d.decide(l.condition, each))
		}
	}
	together := outcome == (l.macro == operators.All)
	switch {
	case len(groups) == 0:
		return nil, false
	case d.met && !together:
		return widest(groups), true
	case !d.met && together:
		return nearestOf(unplaced(nearest(groups)), len(groups)), true
	}
	return join(groups), true
}

// whole is a condition that is not taken apart: it is compared with what it would have to be.
func (d *decider) whole(e ast.Expr, v recorded, outcome bool) leaf {
	known := e.Kind() == ast.SelectKind && e.AsSelect().IsTestOnly() // has()
	return leaf{element: v.element, slack: math.NaN(), which: known, Compared: Compared{
		Measure: clause(d.text, d.offset(e.ID())), Value: outcome, Needs: "==", Limit: outcome == d.met, Of: spotOf(v.element),
		To: spotOf(v.around),
	}}
}

// spotOf is where an element lies; nil for none.
func spotOf(element subject.Subject) *subject.Spot {
	if element == nil {
		return nil
	}
	s := subject.SpotOf(element)
	return &s
}

// unplaced are the comparisons of an element that stands for its list: another may stand for it next time.
func unplaced(group []leaf) []leaf {
	for i := range group {
		group[i].Of, group[i].To = nil, nil
	}
	return group
}

// negated gives the operator that holds exactly where another does not, in symbols.
var negated = map[string]string{"<": ">=", "<=": ">", ">": "<=", ">=": "<", "==": "!=", "!=": "==", "in": "not in",
	"contains": "not contains"}

// turned gives the operator with its sides exchanged.
var turned = map[string]string{"<": ">", "<=": ">=", ">": "<", ">=": "<=", "in": "contains"}

// comparison reads one comparison with its values, the measure first.
func (d *decider) comparison(e ast.Expr, v recorded, outcome bool) leaf {
	c := e.AsCall()
	op := strings.Trim(c.FunctionName(), "_@")
	left, right := c.Args()[0], c.Args()[1]
	leftText, rightText := d.sides(d.offset(e.ID()))
	if !d.reads(left) && d.reads(right) {
		left, right, leftText, rightText = right, left, rightText, leftText
		if t, ok := turned[op]; ok {
			op = t
		}
	}
	if outcome != d.met {
		op = negated[op]
	}
	out := Compared{Measure: leftText, Value: plainValue(v.value(left)), Needs: op, Limit: plainValue(v.value(right)), From: rightText}
	if constant(right) {
		out.From = ""
	}
	l := leaf{Compared: out, element: v.element, slack: math.NaN()}
	l.Of, l.To = spotOf(v.element), spotOf(v.around)
	_, l.which = v.value(left).(*object)
	a, ok1 := out.Value.(float64)
	b, ok2 := out.Limit.(float64)
	if ok1 && ok2 {
		l.Unit = firstOf(d.unit(left), d.unit(right))
		l.MissesBy, l.slack = missing(op, a, b)
	}
	return l
}

// missing tells by how much a number misses what is needed, and the slack it has, as a share of the limit.
func missing(op string, value, limit float64) (*float64, float64) {
	var over float64
	switch op {
	case ">", ">=":
		over = value - limit
	case "<", "<=":
		over = limit - value
	case "==":
		m := subject.Snap(math.Abs(value - limit))
		return &m, math.NaN()
	default:
		return nil, math.NaN()
	}
	m := subject.Snap(math.Max(0, -over))
	return &m, over / math.Abs(limit)
}

// constant tells whether an expression is written out: a literal, its negative, or a list of them.
func constant(e ast.Expr) bool {
	switch e.Kind() {
	case ast.LiteralKind:
		return true
	case ast.ListKind:
		for _, item := range e.AsList().Elements() {
			if !constant(item) {
				return false
			}
		}
		return true
	}
	return isCall(e, operators.Negate) && constant(e.AsCall().Args()[0])
}

// reads tells whether an expression reads a subject: anything but limits, the material and literals.
func (d *decider) reads(e ast.Expr) bool {
	return mentions(d.tree, e, func(name string) bool { return name != "limits" && name != "material" })
}

// plainValue turns a value into a number, text that is safe to print, or boolean; a list into its text.
func plainValue(v ref.Val) any {
	switch v := v.(type) {
	case types.Double:
		return float64(v)
	case types.String:
		return source.Plain(string(v))
	case types.Bool:
		return bool(v)
	case traits.Lister:
		return firstOf(source.Plain(series(v)), "none")
	case *object:
		return v.subject.Place().Name
	}
	return nil
}

func firstOf(a, b string) string {
	if a != "" {
		return a
	}
	return b
}
