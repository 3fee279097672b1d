package rules

import (
	"math"
	"slices"

	"github.com/google/cel-go/cel"
	"github.com/google/cel-go/common/ast"
	"github.com/google/cel-go/common/operators"
	"github.com/google/cel-go/common/types"
	"github.com/google/cel-go/common/types/ref"
)

// overFunction is a function that takes a number of each element of a list.
type overFunction struct {
	name  string
	begin float64 // what stands for no element at all
	step  func(so, next float64) float64
}

// overLists are the functions over lists, as in sum(list, x, number). They are expanded to comprehensions as the library's
// own are. The functions that step from one element to the next are called the same with an @, which no author can write.
var overLists = []overFunction{
	{"sum", 0, func(so, next float64) float64 { return so + next }},
	{"least", math.Inf(1), math.Min},
	{"greatest", math.Inf(-1), math.Max},
}

// isOverList tells whether a function takes a number of each element of a list.
func isOverList(name string) bool {
	return slices.ContainsFunc(overLists, func(f overFunction) bool { return f.name == name })
}

// overListOptions declare the functions over lists and their steps.
func overListOptions() (all []cel.EnvOption) {
	var macros []cel.Macro
	for _, f := range overLists {
		macros = append(macros, cel.GlobalMacro(f.name, 3, overList(f.name)))
		all = append(all, cel.Function("@"+f.name,
			cel.Overload("begin_"+f.name, nil, cel.DoubleType,
				cel.FunctionBinding(func(...ref.Val) ref.Val { return types.Double(f.begin) })),
			cel.Overload("step_"+f.name, two, cel.DoubleType, cel.BinaryBinding(func(a, b ref.Val) ref.Val {
				return finite(f.step(float64(a.(types.Double)), float64(b.(types.Double))))
			})),
			cel.Overload("end_"+f.name, one, cel.DoubleType, cel.UnaryBinding(func(v ref.Val) ref.Val {
				if math.IsInf(float64(v.(types.Double)), 0) {
					return types.NewErr("`%s` has no value: the list is empty", f.name)
				}
				return v
			}))))
	}
	return append(all, cel.Macros(macros...))
}

// needsName begins the complaint about a function over a list whose second argument names nothing.
const needsName = "the second argument of `"

// overList expands a call of a function over a list.
func overList(name string) cel.MacroFactory {
	return func(eh cel.MacroExprFactory, _ ast.Expr, args []ast.Expr) (ast.Expr, *cel.Error) {
		if args[1].Kind() != ast.IdentKind {
			says := needsName + name + "` names each element of the list, as in `" + name + "(part.holes, h, h.width)`"
			if name != "sum" {
				says += "; of three numbers write `" + name + "(a, " + name + "(b, c))`"
			}
			return nil, eh.NewError(args[1].ID(), says)
		}
		f := "@" + name
		return eh.NewComprehension(args[0], args[1].AsIdent(), eh.AccuIdentName(), eh.NewCall(f), eh.NewLiteral(types.True),
			eh.NewCall(f, eh.NewAccuIdent(), args[2]), eh.NewCall(f, eh.NewAccuIdent())), nil
	}
}

// filled is what is known where a list is not empty.
func filled(tree *ast.AST, list ast.Expr) string { return "size(" + spelled(tree, list) + ")" }

// filledWhen lists the lists that are surely not empty when a comparison or comprehension has a given outcome.
func filledWhen(tree *ast.AST, x ast.Expr, outcome bool) facts {
	if l, ok := asLoop(tree, x); ok {
		if l.macro == operators.Exists && outcome || l.macro == operators.ExistsOne && outcome || l.macro == operators.All && !outcome {
			return facts{filled(tree, l.list): true}
		}
		return nil
	}
	if x.Kind() != ast.CallKind || symbols[x.AsCall().FunctionName()] == "" {
		return nil
	}
	sides, symbol := x.AsCall().Args(), symbols[x.AsCall().FunctionName()]
	if _, ok := sizeOf(sides[0]); !ok {
		sides, symbol = []ast.Expr{sides[1], sides[0]}, firstOf(turned[symbol], symbol)
	}
	list, ok := sizeOf(sides[0])
	if !ok || sides[1].Kind() != ast.LiteralKind {
		return nil
	}
	n, ok := sides[1].AsLiteral().(types.Double)
	if !outcome {
		symbol = negated[symbol]
	}
	if ok && aboveZero(symbol, float64(n)) {
		return facts{filled(tree, list): true}
	}
	return nil
}

// aboveZero tells whether a size that compares with n by a symbol is surely not 0.
func aboveZero(symbol string, n float64) bool {
	return symbol == ">" && n >= 0 || symbol == ">=" && n >= 1 || symbol == "==" && n >= 1 || symbol == "!=" && n == 0
}

// sizeOf is the list whose size an expression asks for.
func sizeOf(x ast.Expr) (ast.Expr, bool) {
	if !isCall(x, "size") {
		return nil, false
	}
	c := x.AsCall()
	if c.IsMemberFunction() {
		return c.Target(), len(c.Args()) == 0
	}
	if len(c.Args()) != 1 {
		return nil, false
	}
	return c.Args()[0], true
}
