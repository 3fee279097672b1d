package parts

import (
	"fmt"
	"slices"
	"strings"

	"corerod/parts/source"
)

// Change is one value of a part file that is to be another: by the path of its number or by a feature's short name.
type Change struct {
	Path  string
	Value *source.Node // a null takes the key out
}

// ParseWith is Parse of the file with some values changed. A key that the file does not have is added; what cannot be
// found is told by its number in changes.
func ParseWith(file string, b []byte, changes []Change) (p *Part, ps source.Problems, wrong map[int]string) {
	root, ps := source.Parse(file, b)
	if root != nil {
		for i, c := range changes {
			if err := alter(root, c); err != nil {
				if wrong == nil {
					wrong = map[int]string{}
				}
				wrong[i] = err.Error()
			}
		}
	}
	p, ps = decode(file, root, ps)
	return p, ps, wrong
}

// alter sets one value in the tree of a part file.
func alter(root *source.Node, c Change) error {
	keys := strings.Split(c.Path, ".")
	at := root
	if slices.Contains(namedSections, keys[0]) && root.At(keys[0]) == nil {
		set(root, keys[0], &source.Node{Shape: source.Map, Line: c.Value.Line, Column: c.Value.Column})
	}
	if root.At(keys[0]) == nil && len(keys) > 1 {
		if at = featureNode(root, keys[0]); at == nil {
			return fmt.Errorf("there is no feature %s", source.Quote(keys[0]))
		}
		keys = keys[1:]
		if keys[0] == "height" && len(keys) == 1 {
			return setHeight(at, c.Value)
		}
		for _, p := range slices.Concat(profileKeys, sideKinds, []string{"chamfer", "round", "repeat"}) {
			if in := at.At(p); in != nil && at.At(keys[0]) == nil && in.At(keys[0]) != nil {
				at = in
				break
			}
		}
	}
	for _, k := range keys[:len(keys)-1] {
		next := at.At(k)
		if next == nil {
			return fmt.Errorf("%s is not given there", source.Quote(k))
		}
		at = next
	}
	if at.Shape != source.Map {
		return fmt.Errorf("%s is no place that has keys", source.Quote(c.Path))
	}
	set(at, keys[len(keys)-1], c.Value)
	return nil
}

// namedSections hold what has a name of its own.
var namedSections = []string{"bodies", "cuts", "blends", "edges", "sides", "marks", "dimensions"}

// featureNode finds what has a name of its own in a part file.
func featureNode(root *source.Node, name string) *source.Node {
	for _, section := range namedSections {
		if n := root.At(section).At(name); n != nil {
			return n
		}
	}
	return nil
}

// setHeight moves the upper end of a feature.
func setHeight(at, value *source.Node) error {
	var r source.Reader
	from, ok1 := r.Number(at.At("from"), "from")
	height, ok2 := r.Number(value, "height")
	if !ok1 || !ok2 {
		return fmt.Errorf("a height is a number, of what has from and to")
	}
	v := *value
	v.Value = fmt.Sprint(from + height)
	set(at, "to", &v)
	return nil
}

// set gives a key of a map a value, adds it, or takes it out.
func set(at *source.Node, key string, value *source.Node) {
	i := slices.IndexFunc(at.Keys, func(k *source.Node) bool { return k.Value == key })
	switch {
	case i < 0 && value.Null:
	case i < 0:
		k := &source.Node{Shape: source.Scalar, Value: key, Line: value.Line, Column: value.Column}
		at.Keys, at.Items = append(at.Keys, k), append(at.Items, value)
	case value.Null:
		at.Keys, at.Items = slices.Delete(slices.Clone(at.Keys), i, i+1), slices.Delete(slices.Clone(at.Items), i, i+1)
	default:
		at.Items = slices.Clone(at.Items)
		at.Items[i] = value
	}
}
