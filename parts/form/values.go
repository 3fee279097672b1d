package form

import (
	"slices"
	"strconv"

	"corerod/parts/source"
)

// Value is one value of a part file by its form: a number, word or text, or keys or a list of further values.
type Value struct {
	Key     string // its own name in what holds it; of an item of a list its index
	Path    string // keys joined by points, items of lists by index: bodies.hub.circle.diameter
	Line    int    // of the key, or of the item
	Shape   source.Shape
	Shaping bool    // of a feature: the profile, kind or treatment that its other numbers belong to
	Text    string  // of a Scalar, as written
	Number  float64 // of a Scalar that is Numeric, in Unit
	Numeric bool
	Unit    string   // mm, in, deg or g/cm3; "" for counts, factors, words and text
	In      []*Value // of a Map and a Sequence, in the order of the file

	form *Form // nil where none is declared
}

// Sections are the sections of a part file whose entries have names, in the order in which they are read.
func Sections() []string { return slices.Clone(sections) }

// Values are the values of a part file that was read without problems.
func Values(root *source.Node) *Value {
	w := valueWalk{unit: unitOf(root)}
	return w.value(forms(), root, Value{Line: root.Line})
}

// At returns what stands under a key, or nil.
func (v *Value) At(key string) *Value {
	if v == nil || v.Shape != source.Map {
		return nil
	}
	for _, in := range v.In {
		if in.Key == key {
			return in
		}
	}
	return nil
}

// MM is a length in millimetres, and any other number as it is.
func (v *Value) MM() float64 {
	if v.Unit == "in" {
		return v.Number * inch
	}
	return v.Number
}

// Refers tells whether a text names a feature, its face or one of its numbers.
func (v *Value) Refers() bool { return v.form != nil && v.form.Refers != Nothing }

// AnyOrder tells whether the order of a list says nothing.
func (v *Value) AnyOrder() bool { return v.form != nil && v.form.Any }

type valueWalk struct{ unit string }

// value fills in what a node holds.
func (w valueWalk) value(f *Form, n *source.Node, v Value) *Value {
	f = f.choose(n)
	v.Shape, v.form = n.Shape, f
	switch n.Shape {
	case source.Map:
		for i, k := range n.Keys {
			form, path := f.Key(k.Value), k.Value
			if v.Path != "" {
				path = v.Path + "." + k.Value
			}
			shapes := f.among(k.Value) != nil && form.Type == source.FormMap && n.Items[i].Shape == source.Map
			v.In = append(v.In, w.value(form, n.Items[i], Value{Key: k.Value, Path: path, Line: k.Line, Shaping: shapes}))
		}
	case source.Sequence:
		for i, it := range n.Items {
			index := strconv.Itoa(i)
			v.In = append(v.In, w.value(f.item(i), it, Value{Key: index, Path: v.Path + "[" + index + "]", Line: it.Line}))
		}
	default:
		v.Text = n.Value
		if f != nil && f.Type == source.FormNumber {
			if v.Number, v.Numeric = (&source.Reader{}).Number(n, "it"); v.Numeric {
				v.Unit = f.unit(w.unit)
			}
		}
	}
	return &v
}
