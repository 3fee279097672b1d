package rules

import (
	"fmt"
	"reflect"

	"github.com/google/cel-go/common/types"
	"github.com/google/cel-go/common/types/ref"
)

// ConvertToNative is never used: a figure is only printed.
func (f figure) ConvertToNative(t reflect.Type) (any, error) {
	return nil, fmt.Errorf("a printed number has no value of type %v", t)
}

// ConvertToType fails: expressions have no conversions.
func (f figure) ConvertToType(t ref.Type) ref.Val {
	return types.NewErr("a printed number is not a %s", t.TypeName())
}

// Equal compares number and unit.
func (f figure) Equal(other ref.Val) ref.Val { return types.Bool(other == ref.Val(f)) }

// Type is the type of printed numbers.
func (f figure) Type() ref.Type { return figureType }

// Value is the number.
func (f figure) Value() any { return f.value }
