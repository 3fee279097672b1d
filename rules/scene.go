package rules

import (
	"corerod/parts/subject"

	"github.com/google/cel-go/common/types"
	"github.com/google/cel-go/common/types/ref"
	"github.com/google/cel-go/interpreter"
)

// scene is one part while it is judged: the objects that expressions see, each subject as one object. It belongs to
// one goroutine.
type scene struct {
	budget
	part     *object
	material *object
	unit     string
	shapes   map[string]*shape
	objects  map[*subject.Kind][]*object
	lists    map[*subject.Kind]ref.Val
}

// scene looks up the material that the part names; one that no pack has is known by its name alone.
func (b *Book) scene(c Case) *scene {
	m, _ := b.Material(c.Material.Name)
	s := &scene{budget: newBudget(subjects(c.Part)), unit: c.Unit, shapes: kindShapes(), objects: map[*subject.Kind][]*object{}, lists: map[*subject.Kind]ref.Val{}}
	s.part = &object{shape: s.shapes[subject.PartKind.Name], subject: c.Part, on: s}
	s.material = &object{shape: materialShape(), on: s, material: &StockMaterial{Material: m, Name: c.Material.Name}}
	s.objects[subject.PartKind] = []*object{s.part}
	return s
}

// of returns the objects of a kind, in the order of the part's list.
func (s *scene) of(k *subject.Kind) []*object {
	all, ok := s.objects[k]
	if !ok {
		for _, x := range subject.Of(s.part.subject.(*subject.Part), k) {
			all = append(all, &object{shape: s.shapes[k.Name], subject: x, on: s})
		}
		s.objects[k] = all
	}
	return all
}

// list returns the objects of a kind as an expression's list. Every reading costs as many steps as it has elements.
func (s *scene) list(k *subject.Kind) ref.Val {
	s.spend(len(s.of(k)))
	l, ok := s.lists[k]
	if !ok {
		objects := s.of(k)
		values := make([]ref.Val, len(objects))
		for i, o := range objects {
			values[i] = o
		}
		l = types.NewRefValList(types.DefaultTypeAdapter, values)
		s.lists[k] = l
	}
	return l
}

// bound is what one evaluation can read: the subject under its kind's name, the part, the material, the limits.
type bound struct {
	scene  *scene
	over   *object
	limits *object
}

// ResolveName looks up a variable of an expression.
func (b *bound) ResolveName(name string) (any, bool) {
	switch name {
	case b.over.shape.variable:
		return b.over, true
	case "part":
		return b.scene.part, true
	case "limits":
		return b.limits, true
	case "material":
		return b.scene.material, true
	}
	return nil, false
}

// Parent is nil: there are no other names.
func (b *bound) Parent() interpreter.Activation { return nil }

// element is a comprehension's variable on top of other names.
type element struct {
	interpreter.Activation
	name  string
	value ref.Val
}

// ResolveName looks up the comprehension's variable, then the names around it.
func (e *element) ResolveName(name string) (any, bool) {
	if name == e.name {
		return e.value, true
	}
	return e.Activation.ResolveName(name)
}
