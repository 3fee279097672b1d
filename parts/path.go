package parts

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"corerod/parts/source"
)

// target is what a path of the part file leads to: one number, both coordinates of a point, or a height's two ends.
type target struct {
	feature string // the feature it belongs to, "" for none
	key     string // the last key, without an index
	numbers []*source.Node
	height  bool // numbers are `from` and `to`
}

// find follows a path or a feature's short name, and says what is wrong where it leads to no number.
func (r *reader) find(root *source.Node, path string) (t target, wrong string) {
	keys := strings.Split(path, ".")
	at := root.At(keys[0])
	switch {
	case at == nil || at.Shape != source.Map: // a feature's short name
		if at = r.nodes[keys[0]]; at == nil {
			return t, "but there is no feature of that name"
		}
		t.feature = keys[0]
		if len(keys) == 2 && keys[1] == "height" && at.At("from") != nil && at.At("to") != nil {
			t.key, t.height, t.numbers = "height", true, []*source.Node{at.At("from"), at.At("to")}
			return t, ""
		}
		for _, p := range slices.Concat(profileKeys, sideKinds, []string{"chamfer", "round"}) {
			if in := at.At(p); in != nil && len(keys) > 1 && at.At(keyOf(keys[1])) == nil {
				at = in
				break
			}
		}
	case len(keys) > 1:
		t.feature = keys[1]
	}
	for _, k := range keys[1:] {
		name, index, indexed := strings.Cut(k, "[")
		if at = at.At(name); at == nil {
			return t, fmt.Sprintf("but `%s` is not given there", source.Plain(name))
		}
		t.key = name
		for indexed {
			var item string
			item, index, indexed = strings.Cut(index, "[")
			i, err := strconv.Atoi(strings.TrimSuffix(item, "]"))
			if err != nil || at.Shape != source.Sequence || i < 0 || i >= len(at.Items) {
				return t, fmt.Sprintf("but `%s` has no item %s", source.Plain(name), source.Quote(item))
			}
			at = at.Items[i]
			if name == "section" && i == 1 && !indexed && strings.Count(k, "[") == 2 {
				t.key = "z" // of a point [radius, z]
			}
		}
	}
	t.numbers = []*source.Node{at}
	if at.Shape == source.Sequence {
		t.numbers = at.Items
	}
	for _, v := range t.numbers {
		probe := source.Reader{}
		if _, ok := probe.Number(v, "it"); !ok {
			return t, "which is not a number"
		}
	}
	return t, ""
}

func keyOf(k string) string {
	name, _, _ := strings.Cut(k, "[")
	return name
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
		if _, wrong := r.find(root, t); wrong != "" {
			r.Report(it, "hold names %s, %s", source.Quote(t), wrong)
			continue
		}
		r.part.Hold = append(r.part.Hold, t)
	}
}
