package rules

import (
	"fmt"
	"math"
	"sync"

	"github.com/google/cel-go/cel"
	"github.com/google/cel-go/common/ast"
	"github.com/google/cel-go/common/types"
	"github.com/google/cel-go/interpreter"
)

// expression is one text of a pack, parsed, checked and ready to run; or what is wrong with it.
type expression struct {
	env    *environment
	text   []rune
	once   sync.Once
	tree   *ast.AST    // parsed; nil where the text cannot be read
	faults []fault     // in order of place
	run    cel.Program // nil where there are faults

	counted bool // the steps of the budget bound its time, see counted

	traceOnce sync.Once
	trace     cel.Program // records every value, for the failed comparison
	traceErr  error
	mu        sync.Mutex
	inner     map[int64]cel.Program // conditions of comprehensions, by the comprehension's id; below 0 those that record nothing
	written   map[int][2]string     // both sides of comparisons, by the operator's rune
}

// fault is something wrong at a rune of a text.
type fault struct {
	at      int
	message string
}

// compile reads the text. A panic of the expression library ends here, as a fault of the text.
func (x *expression) compile() {
	defer func() {
		if r := recover(); r != nil {
			x.run, x.faults = nil, []fault{{0, "the expression cannot be read; write it more simply"}}
		}
	}()
	if x.env.broken != nil {
		x.faults = []fault{{0, x.env.broken.Error()}}
		return
	}
	if x.tree = x.env.keptTree(string(x.text)); x.tree == nil && x.read() == nil {
		return
	}
	x.counted = counted(x.tree)
	program, err := x.env.cel.PlanProgram(x.tree, x.planOptions()...)
	if err != nil {
		x.faults = []fault{{0, "the expression cannot be run: " + err.Error()}}
		return
	}
	x.run = program
}

// read parses and checks the text; nil where it has faults.
func (x *expression) read() *ast.AST {
	parsed, issues := x.env.cel.Parse(string(x.text))
	if issues.Err() != nil {
		x.faults = x.translate(issues.Errors(), true)
		return nil
	}
	x.tree = parsed.NativeRep()
	toDoubles(x.tree)
	checked, issues := x.env.cel.Check(parsed)
	if issues.Err() != nil {
		x.faults = x.translate(issues.Errors(), false)
		return nil
	}
	x.tree = checked.NativeRep()
	return x.tree
}

// toDoubles turns every integer literal into a number of the one kind that expressions have.
func toDoubles(tree *ast.AST) {
	factory := ast.NewExprFactory()
	ast.PostOrderVisit(tree.Expr(), ast.NewExprVisitor(func(e ast.Expr) {
		if e.Kind() == ast.LiteralKind {
			if i, ok := e.AsLiteral().(types.Int); ok {
				e.SetKindCase(factory.NewLiteral(e.ID(), types.Double(i)))
			}
		}
	}))
}

// planOptions bound the steps of an expression whose time the steps of the budget do not bound.
func (x *expression) planOptions() []cel.ProgramOption {
	options := []cel.ProgramOption{cel.EvalOptions(cel.OptOptimize), cel.CustomDecoratorV2(snapped)}
	if !x.counted {
		options = append(options, cel.CostLimit(mostSteps))
	}
	return options
}

// value evaluates the expression.
func (x *expression) value(in interpreter.Activation) (any, error) {
	if x.run == nil {
		return nil, fmt.Errorf("%s", x.faults[0].message)
	}
	v, details, err := x.run.Eval(in)
	if b, ok := in.(*bound); ok {
		b.scene.spend(cost(details, err))
		if b.scene.spent() != nil && tooLong(err) != errTooLong {
			return nil, b.scene.spent() // also where the outcome hides the failure, as || does
		}
	}
	if err != nil {
		return nil, tooLong(err)
	}
	return v, nil
}

// cost is what an evaluation costs beside the measures it read: the library's own count, where it counts.
func cost(details *cel.EvalDetails, err error) int {
	switch {
	case tooLong(err) == errTooLong:
		return mostSteps
	case details == nil || details.ActualCost() == nil:
		return 0
	}
	return int(min(*details.ActualCost(), mostSteps))
}

// holds evaluates a condition.
func (x *expression) holds(in interpreter.Activation) (bool, error) {
	v, err := x.value(in)
	if err != nil {
		return false, err
	}
	b, ok := v.(types.Bool)
	if !ok {
		return false, fmt.Errorf("the condition gives neither true nor false")
	}
	return bool(b), nil
}

// tracer returns the program that records every value of the expression.
func (x *expression) tracer() (cel.Program, error) {
	x.traceOnce.Do(func() { x.trace, x.traceErr = x.env.cel.PlanProgram(x.tree, x.traceOptions()...) })
	return x.trace, x.traceErr
}

// traceOptions bound the steps as planOptions do.
func (x *expression) traceOptions() []cel.ProgramOption {
	options := []cel.ProgramOption{cel.EvalOptions(cel.OptExhaustiveEval), cel.CustomDecoratorV2(snapped)}
	if !x.counted {
		options = append(options, cel.CostLimit(mostSteps))
	}
	return options
}

// condition returns the recording program of a comprehension's condition, to be run for one element.
func (x *expression) condition(comprehension int64, e ast.Expr) (cel.Program, error) {
	return x.planned(comprehension, e, x.traceOptions)
}

// planned returns the program of a part of the expression, made once for each key.
func (x *expression) planned(key int64, e ast.Expr, options func() []cel.ProgramOption) (cel.Program, error) {
	x.mu.Lock()
	defer x.mu.Unlock()
	if p, ok := x.inner[key]; ok {
		return p, nil
	}
	tree := ast.NewCheckedAST(ast.NewAST(e, x.tree.SourceInfo()), x.tree.TypeMap(), x.tree.ReferenceMap())
	p, err := x.env.cel.PlanProgram(tree, options()...)
	if err != nil {
		return nil, err
	}
	if x.inner == nil {
		x.inner = map[int64]cel.Program{}
	}
	x.inner[key] = p
	return p, nil
}

// gives tells whether a comprehension's condition may have an outcome for one element. Looking at an element with every
// value recorded takes many times as long, which matters where each of many subjects is compared with each.
func (x *expression) gives(l loop, in interpreter.Activation, outcome bool) bool {
	program, err := x.planned(-l.id, l.condition, x.planOptions)
	if err != nil || !x.counted {
		return true
	}
	v, _, err := program.Eval(in)
	b, ok := v.(types.Bool)
	return err != nil || !ok || bool(b) == outcome
}

// sides returns both sides of the comparison whose operator stands at a rune, as written.
func (x *expression) sides(at int) (left, right string) {
	x.mu.Lock()
	defer x.mu.Unlock()
	s, ok := x.written[at]
	if !ok {
		s[0], s[1] = operands(x.text, at)
		if x.written == nil {
			x.written = map[int][2]string{}
		}
		x.written[at] = s
	}
	return s[0], s[1]
}

// offset is the rune of the text at which a node of the tree stands.
func (x *expression) offset(id int64) int {
	if r, ok := x.tree.SourceInfo().GetOffsetRange(id); ok {
		return min(max(int(r.Start), 0), len(x.text))
	}
	return 0
}

// readable tells whether a literal can be a number of an expression.
func readable(v types.Double) bool {
	return !math.IsInf(float64(v), 0) && !math.IsNaN(float64(v))
}

// errTooLong is the failure of an expression that is stopped at the step limit.
var errTooLong = fmt.Errorf("the expression took more than %d steps on this part", mostSteps)
