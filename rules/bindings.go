package rules

import (
	"corerod/parts/subject"

	"github.com/google/cel-go/common/types"
	"github.com/google/cel-go/common/types/ref"
	"github.com/google/cel-go/interpreter"
)

// scene is one part while it is judged: the objects that expressions see. A rule is over each subject once; lists hold
// each of its copies. It belongs to one goroutine.
type scene struct {
	budget
	part     *object
	material *object
	unit     string
	shapes   map[string]*shape
	objects  map[*subject.Kind][]*object
	lists    map[*subject.Kind][]ref.Val
	copies   map[subject.Subject][]ref.Val
}

// scene looks up the material that the part names; one that no pack has is known by its name alone.
func (b *Book) scene(c Case) *scene {
	m, _ := b.Material(c.Material.Name)
	s := &scene{budget: newBudget(c.Part), unit: c.Unit, shapes: kindShapes(), objects: map[*subject.Kind][]*object{},
		lists: map[*subject.Kind][]ref.Val{}, copies: map[subject.Subject][]ref.Val{}}
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

// list returns the objects of a kind as an expression's list, each copy by itself. Every reading costs as many steps as
// it has elements.
func (s *scene) list(k *subject.Kind) ref.Val {
	all, ok := s.lists[k]
	if !ok {
		for _, o := range s.of(k) {
			all = append(all, s.copiesOf(o.subject)...)
		}
		s.lists[k] = all
	}
	return s.listed(all)
}

// places returns the copies of the subject that an object is, or is one copy of; it costs as a list of the part does.
func (s *scene) places(o *object) ref.Val { return s.listed(s.copiesOf(o.group())) }

func (s *scene) listed(all []ref.Val) ref.Val {
	s.spend(len(all))
	return types.NewRefValList(types.DefaultTypeAdapter, all)
}

// copiesOf are the objects of a subject at each of its places, made once.
func (s *scene) copiesOf(of subject.Subject) []ref.Val {
	all, ok := s.copies[of]
	if !ok {
		for i, x := range subject.CopiesOf(of) {
			all = append(all, &object{shape: s.shapes[of.Kind().Name], subject: x, place: i, on: s})
		}
		s.copies[of] = all
	}
	return all
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
