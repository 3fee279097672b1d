package rules

import (
	"math"

	"corerod/parts/fit"

	"github.com/google/cel-go/cel"
	"github.com/google/cel-go/common/operators"
	"github.com/google/cel-go/common/types"
	"github.com/google/cel-go/common/types/ref"
	"github.com/google/cel-go/common/types/traits"
)

// allowance is how far apart two numbers may be and still count as equal to `<`, `<=`, `>` and `>=`, so that a part
// drawn at a limit meets it.
func allowance(a, b float64) float64 {
	return atLimit * max(1, math.Abs(a), math.Abs(b))
}

// comparisons of two numbers by operator.
var comparisons = map[string]func(a, b float64) bool{
	operators.Less:          func(a, b float64) bool { return a < b-allowance(a, b) },
	operators.LessEquals:    func(a, b float64) bool { return a <= b+allowance(a, b) },
	operators.Greater:       func(a, b float64) bool { return a > b+allowance(a, b) },
	operators.GreaterEquals: func(a, b float64) bool { return a >= b-allowance(a, b) },
}

// arithmetic of two numbers by operator.
var arithmetic = map[string]func(a, b float64) float64{
	operators.Add:      func(a, b float64) float64 { return a + b },
	operators.Subtract: func(a, b float64) float64 { return a - b },
	operators.Multiply: func(a, b float64) float64 { return a * b },
	operators.Divide:   func(a, b float64) float64 { return a / b },
}

// pairs of two numbers by function name.
var pairs = map[string]func(a, b float64) float64{"least": math.Min, "greatest": math.Max, "grade_width": fit.WidthAt}

// singles of one number by function name.
var singles = map[string]func(float64) float64{
	operators.Negate: func(v float64) float64 { return -v },
	"abs":            math.Abs,
	"round":          math.Round,
	"from_inch":      func(v float64) float64 { return v * inch },
}

// finite turns a result into a value, or into a fault where it is not a finite number.
func finite(v float64) ref.Val {
	if math.IsInf(v, 0) || math.IsNaN(v) {
		return types.NewErr("the result is not a finite number")
	}
	return types.Double(v)
}

// one and two list the arguments of functions of numbers.
var (
	one = []*cel.Type{cel.DoubleType}
	two = []*cel.Type{cel.DoubleType, cel.DoubleType}
)

// operatorOptions declare our operators and functions on numbers, texts and lists.
func operatorOptions() (all []cel.EnvOption) {
	item := cel.TypeParamType("A")
	list := cel.ListType(item)
	for op, holds := range comparisons {
		all = append(all, cel.Function(op, cel.Overload("compare"+op, two, cel.BoolType,
			cel.BinaryBinding(func(a, b ref.Val) ref.Val {
				return types.Bool(holds(float64(a.(types.Double)), float64(b.(types.Double))))
			}))))
	}
	calculate := func(op string, f func(a, b float64) float64) cel.FunctionOpt {
		return cel.Overload("number"+op, two, cel.DoubleType, cel.BinaryBinding(func(a, b ref.Val) ref.Val {
			return finite(f(float64(a.(types.Double)), float64(b.(types.Double))))
		}))
	}
	for op, f := range arithmetic {
		options := []cel.FunctionOpt{calculate(op, f)}
		if op == operators.Add {
			options = append(options, cel.Overload("list"+op, []*cel.Type{list, list}, list,
				cel.BinaryBinding(func(a, b ref.Val) ref.Val { return a.(traits.Adder).Add(b) })))
		}
		all = append(all, cel.Function(op, options...))
	}
	for name, f := range pairs {
		all = append(all, cel.Function(name, calculate(name, f)))
	}
	for name, f := range singles {
		all = append(all, cel.Function(name, cel.Overload("number"+name, one, cel.DoubleType,
			cel.UnaryBinding(func(v ref.Val) ref.Val { return finite(f(float64(v.(types.Double)))) }))))
	}
	return append(all, sizeOption(list), cel.Function(operators.Index,
		cel.Overload("list_index", []*cel.Type{list, cel.DoubleType}, item)))
}

// sizeOption declares size as a number like any other.
func sizeOption(list *cel.Type) cel.EnvOption {
	count := cel.UnaryBinding(func(v ref.Val) ref.Val {
		n, ok := v.(traits.Sizer).Size().(types.Int)
		if !ok {
			return types.NewErr("the size is not known")
		}
		return types.Double(n)
	})
	return cel.Function("size",
		cel.Overload("size_list", []*cel.Type{list}, cel.DoubleType, count),
		cel.Overload("size_text", []*cel.Type{cel.StringType}, cel.DoubleType, count),
		cel.MemberOverload("list_size", []*cel.Type{list}, cel.DoubleType, count),
		cel.MemberOverload("text_size", []*cel.Type{cel.StringType}, cel.DoubleType, count))
}

// figureType is the type of a printed number: what the unit functions give, and nothing but a text takes.
var figureType = cel.OpaqueType("Figure")

// figure is a number and the unit function that prints it.
type figure struct {
	function string
	value    float64
}

// printOptions declare the unit functions.
func printOptions() (all []cel.EnvOption) {
	for _, name := range printing {
		all = append(all, cel.Function(name, cel.Overload("print_"+name, one, figureType,
			cel.UnaryBinding(func(v ref.Val) ref.Val { return figure{name, float64(v.(types.Double))} }))))
	}
	return all
}
