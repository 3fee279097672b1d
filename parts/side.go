package parts

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"corerod/parts/source"
)

// sideKeys are the fields of each kind of side; all are required but a thread's inside.
var sideKeys = map[string][]string{
	"hole":   {"diameter", "toward", "z"},
	"groove": {"width", "depth", "z"},
	"thread": {"size", "inside"},
	"knurl":  {"pattern"},
	"flat":   {"distance", "toward", "z"},
}

var sideKinds = []string{"hole", "groove", "thread", "knurl", "flat"}

func (r *reader) side(name string, at Place, n *source.Node) {
	what := "the side feature " + name
	if !r.Map(n, what, append(slices.Clone(sideKinds), "in", "made_by")...) {
		return
	}
	s := Side{Name: name, Place: at, MadeBy: "pressing"}
	if v := r.Require(n, what, "in"); v != nil {
		s.In, _ = r.featureName(v)
	}
	if v := n.At("made_by"); v != nil {
		if w, ok := r.Word(v, "made_by", "pressing", "machining", "sizing"); ok {
			s.MadeBy = w
		}
	}
	kind := r.sole(n, what, "kind", sideKinds, nil)
	if kind == nil {
		return
	}
	s.Kind = kind.Value
	r.sideFields(&s, n.At(s.Kind))
	r.part.Sides = append(r.part.Sides, s)
}

func (r *reader) sideFields(s *Side, n *source.Node) {
	what := "a " + s.Kind
	if !r.Map(n, what, sideKeys[s.Kind]...) {
		return
	}
	for _, key := range sideKeys[s.Kind] {
		v := n.At(key)
		if v == nil {
			if key != "inside" {
				r.Require(n, what, key)
			}
			continue
		}
		switch key {
		case "diameter", "width":
			s.Width = r.size(v, key)
		case "depth":
			s.Depth = r.size(v, key)
		case "distance":
			s.Away = r.size(v, key)
		case "z":
			s.At = r.length(v, key)
		case "toward":
			s.Toward = r.angle(v, key, -360, 360)
		case "size":
			s.Size, _ = r.Text(v, key)
		case "inside":
			s.Inside, _ = r.Boolean(v, key)
		case "pattern":
			w, _ := r.Word(v, key, "straight", "crossed")
			s.Crossed = w == "crossed"
		}
	}
}

// hold reads what no change may touch: each entry is a number of the file, by its path or a feature's short name.
func (r *reader) hold(root *source.Node) {
	n := root.At("hold")
	if n == nil {
		return
	}
	items, _ := r.List(n, "hold")
	for _, it := range items {
		t, ok := r.Text(it, "an entry of hold")
		if !ok {
			continue
		}
		if wrong := r.resolve(root, t); wrong != "" {
			r.Report(it, "hold names %s, %s", source.Quote(t), wrong)
			continue
		}
		r.part.Hold = append(r.part.Hold, t)
	}
}

// resolve checks that a path or short name leads to a number or to a point, and says what is wrong where it does not.
func (r *reader) resolve(root *source.Node, path string) string {
	keys := strings.Split(path, ".")
	at := root.At(keys[0])
	if at == nil || at.Shape != source.Map { // a feature's short name
		at = r.nodes[keys[0]]
		if at == nil {
			return "but there is no feature of that name"
		}
		if len(keys) == 2 && keys[1] == "height" && at.At("from") != nil && at.At("to") != nil {
			return ""
		}
		for _, p := range append(slices.Clone(profileKeys), sideKinds...) {
			if in := at.At(p); in != nil && len(keys) > 1 && at.At(keyOf(keys[1])) == nil {
				at = in
				break
			}
		}
	}
	for _, k := range keys[1:] {
		name, index, indexed := strings.Cut(k, "[")
		if at = at.At(name); at == nil {
			return fmt.Sprintf("but `%s` is not given there", source.Plain(name))
		}
		if indexed {
			i, err := strconv.Atoi(strings.TrimSuffix(index, "]"))
			if err != nil || at.Shape != source.Sequence || i < 0 || i >= len(at.Items) {
				return fmt.Sprintf("but `%s` has no item %s", source.Plain(name), source.Quote(index))
			}
			at = at.Items[i]
		}
	}
	numbers := []*source.Node{at}
	if at.Shape == source.Sequence {
		numbers = at.Items
	}
	for _, v := range numbers {
		probe := source.Reader{}
		if _, ok := probe.Number(v, "it"); !ok {
			return "which is not a number"
		}
	}
	return ""
}

func keyOf(k string) string {
	name, _, _ := strings.Cut(k, "[")
	return name
}
