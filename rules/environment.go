package rules

import (
	"fmt"
	"sync"

	"corerod/parts/subject"

	"github.com/google/cel-go/cel"
	celenv "github.com/google/cel-go/common/env"
	"github.com/google/cel-go/common/operators"
	"github.com/google/cel-go/common/types"
	"github.com/google/cel-go/common/types/ref"
)

// Bounds of one expression.
const (
	mostCharacters = 2000
	mostDepth      = 50
	mostNodes      = 2000
	mostNesting    = 2
	mostSteps      = 1_000_000 // only where the steps of the budget do not bound the time, see counted
)

// environment reads the expressions of one pack. Each distinct text is compiled once.
type environment struct {
	pack   *Pack
	cel    *cel.Env
	broken error // why there is no cel
	limits *object
	shapes map[string]*shape // of part, material, limits and the kinds, by variable

	mu    sync.Mutex
	texts map[string]*expression
}

// newEnvironment makes the environment of a pack. A failure is a fault of every expression read in it.
func newEnvironment(p *Pack) *environment {
	e := &environment{pack: p, shapes: map[string]*shape{"material": materialShape()}, texts: map[string]*expression{}}
	limits := limitShape(p)
	e.shapes["limits"] = limits
	e.limits = &object{shape: limits}
	for name, s := range kindShapes() {
		e.shapes[name] = s
	}
	options := append(standard(), e.tableOptions()...)
	for name, s := range e.shapes {
		options = append(options, cel.Types(descriptor{s}), cel.Variable(name, s.typ))
	}
	env, err := cel.NewCustomEnv(options...)
	if err != nil {
		e.broken = fmt.Errorf("expressions of this pack cannot be read: %w", err)
	}
	e.cel = env
	return e
}

// limitShape has one number for each limit of the pack.
func limitShape(p *Pack) *shape {
	s := newShape("limits")
	for name, l := range p.Limits {
		v := types.Double(l.Value)
		s.add(&field{name: name, unit: l.Unit, sign: signOf(l.Value), get: func(*object) (ref.Val, bool) { return v, true }},
			types.DoubleType)
	}
	return s
}

// signOf is 1, 0 or -1.
func signOf(v float64) int {
	switch {
	case v > 0:
		return 1
	case v < 0:
		return -1
	}
	return 0
}

// standard is what every pack's expressions share: the cut standard library, our operators, the bounds.
var standard = sync.OnceValue(func() []cel.EnvOption {
	library := celenv.NewLibrarySubset().AddIncludedMacros(operators.Has, operators.All, operators.Exists,
		operators.ExistsOne, operators.Filter)
	for _, name := range []string{operators.LogicalAnd, operators.LogicalOr, operators.LogicalNot, operators.Conditional,
		operators.Equals, operators.NotEquals, operators.In, operators.NotStrictlyFalse, "startsWith", "endsWith", "contains"} {
		library.AddIncludedFunctions(celenv.NewFunction(name))
	}
	options := []cel.EnvOption{
		cel.StdLib(cel.StdLibSubset(library)),
		cel.HomogeneousAggregateLiterals(),
		cel.EnableMacroCallTracking(),
		cel.ParserExpressionSizeLimit(mostCharacters),
		cel.ParserRecursionLimit(mostDepth),
		cel.ExpressionNodeLimit(mostNodes),
		cel.ASTValidators(cel.ValidateComprehensionNestingLimit(mostNesting)),
	}
	options = append(options, operatorOptions()...)
	options = append(options, overListOptions()...)
	options = append(options, printOptions()...)
	options = append(options, distanceOption())
	return options[:len(options):len(options)]
})

// tableOptions declare table("name", x) and within("name", x). The name is known: it is a literal, checked at load.
func (e *environment) tableOptions() []cel.EnvOption {
	arguments := []*cel.Type{cel.StringType, cel.DoubleType}
	look := func(get func(*Table, float64) ref.Val) cel.OverloadOpt {
		return cel.BinaryBinding(func(name, x ref.Val) ref.Val {
			t := e.pack.Tables[string(name.(types.String))]
			if t == nil {
				return types.NewErr("there is no table %s", name)
			}
			return get(t, float64(x.(types.Double)))
		})
	}
	return []cel.EnvOption{
		cel.Function("table", cel.Overload("table_value", arguments, cel.DoubleType,
			look(func(t *Table, x float64) ref.Val { return finite(subject.Snap(t.At(x))) }))),
		cel.Function("within", cel.Overload("table_within", arguments, cel.BoolType,
			look(func(t *Table, x float64) ref.Val { return types.Bool(t.Within(x)) }))),
	}
}

// expression returns the expression of a text, compiled when it is first asked for.
func (e *environment) expression(text string) *expression {
	e.mu.Lock()
	x, ok := e.texts[text]
	if !ok {
		x = &expression{env: e, text: []rune(text)}
		e.texts[text] = x
	}
	e.mu.Unlock()
	x.once.Do(x.compile)
	return x
}
