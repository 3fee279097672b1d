package rules

import (
	"github.com/google/cel-go/common/operators"
	"github.com/google/cel-go/common/types"
	"github.com/google/cel-go/common/types/ref"
	"github.com/google/cel-go/interpreter"

	"corerod/parts/subject"
)

// equality is `==` or `!=`. The library cannot be given others, as it can for `<`; so the plan of an expression is.
type equality struct {
	interpreter.InterpretableCall
	left, right interpreter.InterpretableV2
	equal       bool // for `==`
}

// snapped puts our equality into a plan.
func snapped(i interpreter.InterpretableV2) (interpreter.InterpretableV2, error) {
	call, ok := i.(interpreter.InterpretableCall)
	if !ok || call.Function() != operators.Equals && call.Function() != operators.NotEquals {
		return i, nil
	}
	return equality{call, call.Args()[0], call.Args()[1], call.Function() == operators.Equals}, nil
}

// Exec compares numbers as measures are snapped, so that 12 * 0.1 is 1.2; other values as the library does.
func (e equality) Exec(frame *interpreter.ExecutionFrame) ref.Val {
	l, r := e.left.Exec(frame), e.right.Exec(frame)
	a, ok1 := l.(types.Double)
	b, ok2 := r.(types.Double)
	switch {
	case ok1 && ok2:
		return types.Bool((subject.Snap(float64(a)) == subject.Snap(float64(b))) == e.equal)
	case types.IsUnknownOrError(l):
		return l
	case types.IsUnknownOrError(r):
		return r
	}
	return types.Bool((types.Equal(l, r) == types.True) == e.equal)
}

// Eval is Exec for callers without a frame.
func (e equality) Eval(in interpreter.Activation) ref.Val { return e.Exec(interpreter.AsFrame(in)) }
