package parts

import (
	"slices"
	"strconv"
	"strings"

	"corerod/parts/source"
)

// Value is one value of a part file by its form: a number, word or text, or keys or a list of further values.
type Value struct {
	Key     string // its own name in what holds it; of an item of a list its index
	Path    string // keys joined by points, items of lists by index: bodies.hub.circle.diameter
	Line    int    // of the key, or of the item
	Shape   source.Shape
	Form    bool    // of a feature: the profile, kind or treatment that its other numbers belong to
	Text    string  // of a Scalar, as written
	Number  float64 // of a Scalar that is Numeric, in Unit
	Numeric bool
	Unit    string   // mm, in, deg or g/cm3; "" for counts, factors, words and text
	In      []*Value // of a Map and a Sequence, in the order of the file
}

// Named are the sections of a part file whose entries have names, in the order in which they are read.
func Named() []string { return slices.Clone(namedSections) }

// densityUnit is the unit of densities in part files.
const densityUnit = "g/cm3"

// formKeys are the keys of an edge's treatment, which stand to it as a profile does to a body.
var formKeys = slices.Concat(profileKeys, sideKinds, []string{"chamfer", "round"})

// Values are the values of a part file that was read without problems.
func Values(root *source.Node) *Value {
	w := valueWalk{unit: "mm"}
	if u := root.At("units"); u != nil && u.Value == "in" {
		w.unit = "in"
	}
	return w.value(forms().part, root, Value{Line: root.Line}, 0)
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

type valueWalk struct{ unit string }

// value fills in what a node holds. depth counts the keys above it: 2 within a named feature.
func (w valueWalk) value(f *source.Form, n *source.Node, v Value, depth int) *Value {
	if f != nil && f.Type == source.FormEither {
		f = choose(f, n)
	}
	v.Shape = n.Shape
	switch n.Shape {
	case source.Map:
		for i, k := range n.Keys {
			in := Value{Key: k.Value, Path: k.Value, Line: k.Line, Form: depth == 2 && slices.Contains(formKeys, k.Value) && n.Items[i].Shape == source.Map}
			if v.Path != "" {
				in.Path = v.Path + "." + k.Value
			}
			v.In = append(v.In, w.value(below(f, k.Value), n.Items[i], in, depth+1))
		}
	case source.Sequence:
		for i, it := range n.Items {
			index := strconv.Itoa(i)
			v.In = append(v.In, w.value(below(f, index), it, Value{Key: index, Path: v.Path + "[" + index + "]", Line: it.Line}, depth+1))
		}
	default:
		w.scalar(&v, f, n)
	}
	return &v
}

// scalar reads a single value: a number where its form is one, else text.
func (w valueWalk) scalar(v *Value, f *source.Form, n *source.Node) {
	v.Text = n.Value
	if f == nil || f.Type != source.FormNumber {
		return
	}
	v.Number, v.Numeric = (&source.Reader{}).Number(n, "it")
	if v.Numeric {
		v.Unit = w.unitOf(v.Path)
	}
}

// unitOf is the unit of the number at a path.
func (w valueWalk) unitOf(path string) string {
	switch key := keyOf(path[strings.LastIndex(path, ".")+1:]); {
	case key == "density":
		return densityUnit
	case key == "pressure_angle", slices.Contains(angleKeys, key):
		return "deg"
	case slices.Contains(fixedKeys, key):
		return ""
	}
	return w.unit
}

// below is the form of what stands under a key or index of a form; nil where none is declared.
func below(f *source.Form, key string) *source.Form {
	switch {
	case f == nil:
		return nil
	case f.Type == source.FormMap:
		return f.Key(key)
	}
	return f.Each
}
