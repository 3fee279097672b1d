package rules

import (
	"fmt"
	"reflect"
	"slices"
	"strings"
	"sync"

	"corerod/parts/subject"

	"github.com/google/cel-go/common/types"
	"github.com/google/cel-go/common/types/ref"
)

// shape is a type that expressions see: a kind of subject, the material, or the limits of a pack.
type shape struct {
	variable string // the name it is bound to
	typeName string
	typ      *types.Type
	fields   map[string]*field
	outlined bool // distances are measured from it
}

// field is one readable name of a shape.
type field struct {
	name     string
	typ      subject.Type
	unit     string   // of a number
	words    []string // all values of a text, nil for free text
	of       *shape   // of a list of subjects
	optional bool
	sign     int // 1 where it is always above zero, -1 where always below; 0 where not known
	get      func(*object) (ref.Val, bool)
	cel      *types.FieldType
}

// newShape makes a shape without fields.
func newShape(variable string) *shape {
	name := strings.ToUpper(variable[:1]) + variable[1:]
	return &shape{variable: variable, typeName: name, typ: types.NewObjectType(name), fields: map[string]*field{}}
}

// add declares a field.
func (s *shape) add(f *field, typ *types.Type) {
	f.cel = &types.FieldType{
		Type: typ,
		IsSet: func(o any) bool {
			x := o.(*object)
			if !x.spend() {
				return false
			}
			_, ok := f.get(x)
			return ok
		},
		GetFrom: func(o any) (any, error) {
			x := o.(*object)
			if !x.spend() {
				return nil, errSpent
			}
			v, ok := f.get(x)
			if !ok {
				return nil, fmt.Errorf("%s.%s is absent", s.variable, f.name)
			}
			return v, nil
		},
	}
	s.fields[f.name] = f
}

// names lists the fields, sorted.
func (s *shape) names() []string {
	all := make([]string, 0, len(s.fields))
	for name := range s.fields {
		all = append(all, name)
	}
	slices.Sort(all)
	return all
}

// kindShapes are the shapes of all kinds of subjects, by kind; made once, from the declarations.
var kindShapes = sync.OnceValue(func() map[string]*shape {
	all := map[string]*shape{}
	for _, k := range subject.Kinds() {
		all[k.Name] = newShape(k.Name)
		all[k.Name].outlined = k.Outline != ""
	}
	for _, k := range subject.Kinds() {
		for i := range k.Fields {
			f, typ := measure(&k.Fields[i], k, all)
			all[k.Name].add(f, typ)
		}
	}
	return all
})

// measure turns the declaration of a measure of a kind into a field.
func measure(d *subject.Field, of *subject.Kind, shapes map[string]*shape) (*field, *types.Type) {
	f := &field{name: d.Name, typ: d.Type, unit: d.Unit, words: d.Words, optional: d.Optional}
	if d.Positive {
		f.sign = 1
	}
	always := func(get func(*object) ref.Val) {
		f.get = func(o *object) (ref.Val, bool) { return get(o), true }
	}
	switch d.Type {
	case subject.Number:
		f.get = func(o *object) (ref.Val, bool) {
			v, ok := d.Number(o.subject)
			return types.Double(v), ok
		}
		return f, types.DoubleType
	case subject.Text:
		always(func(o *object) ref.Val { return types.String(d.Text(o.subject)) })
		return f, types.StringType
	case subject.Boolean:
		always(func(o *object) ref.Val { return types.Bool(d.Boolean(o.subject)) })
		return f, types.BoolType
	case subject.Texts:
		always(func(o *object) ref.Val { return types.NewStringList(types.DefaultTypeAdapter, d.Texts(o.subject)) })
		return f, types.NewListType(types.StringType)
	case subject.Alike:
		f.of = shapes[of.Name]
		always(func(o *object) ref.Val { return o.on.places(o) })
		return f, types.NewListType(f.of.typ)
	}
	f.of = shapes[d.Of.Name]
	always(func(o *object) ref.Val { return o.on.list(d.Of) })
	return f, types.NewListType(f.of.typ)
}

// object is a value of a shape.
type object struct {
	shape    *shape
	subject  subject.Subject // of a kind's shape
	place    int             // which of the places of its subject it lies at
	on       *scene          // of the part
	material *StockMaterial  // of the material's shape
}

// ConvertToNative is never used: no native value is asked for.
func (o *object) ConvertToNative(t reflect.Type) (any, error) {
	return nil, fmt.Errorf("%s has no value of type %v", o.shape.typeName, t)
}

// ConvertToType gives the type of the object; expressions have no other conversion.
func (o *object) ConvertToType(t ref.Type) ref.Val {
	if t == types.TypeType {
		return o.shape.typ
	}
	return types.NewErr("a %s is not a %s", o.shape.variable, t.TypeName())
}

// Equal holds for the same subject at the same place alone. A subject that a rule is over lies at its first place.
func (o *object) Equal(other ref.Val) ref.Val {
	p, ok := other.(*object)
	return types.Bool(ok && p.shape == o.shape && p.place == o.place && o.group() == p.group())
}

// group is the subject of the part's list that the object is, or is one copy of.
func (o *object) group() subject.Subject {
	if o.subject == nil {
		return nil
	}
	return subject.GroupOf(o.subject)
}

// Type is the shape's type.
func (o *object) Type() ref.Type { return o.shape.typ }

// Value is the object itself: fields are read from it.
func (o *object) Value() any { return o }

// descriptor registers a shape as a type of expressions.
type descriptor struct{ *shape }

// TypeName is the name of the type in expressions.
func (d descriptor) TypeName() string { return d.typeName }

// HasTrait is false: objects are only read from.
func (d descriptor) HasTrait(int) bool { return false }

// ReflectType is nil: no Go value is turned into an object by its type.
func (d descriptor) ReflectType() reflect.Type { return nil }

// FieldNames lists the fields, sorted.
func (d descriptor) FieldNames() []string { return d.names() }

// FindFieldType looks up a field.
func (d descriptor) FindFieldType(name string) (*types.FieldType, bool) {
	f, ok := d.fields[name]
	if !ok {
		return nil, false
	}
	return f.cel, true
}

// NewValue fails: expressions make no subjects.
func (d descriptor) NewValue(types.Adapter, map[string]ref.Val) ref.Val {
	return types.NewErr("a %s cannot be made in an expression", d.variable)
}

// Adapt takes an object as it is.
func (d descriptor) Adapt(_ types.Adapter, v any) ref.Val {
	if o, ok := v.(*object); ok {
		return o
	}
	return types.NewErr("%T is not a %s", v, d.variable)
}
