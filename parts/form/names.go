package form

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"corerod/parts/source"
)

// Names of values in a part file. A path leads from the root: bodies.hub.circle.diameter, cuts.bolts.circle.at[0]. A short name
// begins with a feature and may leave out what stands between it and the key, its profile, kind, treatment, draft or repeat:
// hub.diameter, bolts.at[0], bolts.count. A feature with two ends has a height: hub.height. One resolver follows them, for
// whatever holds, measures, sets or changes a value.

// spot is a value that a name leads to.
type spot struct {
	path string
	form *Form        // nil where none is declared
	node *source.Node // nil where the file does not give it
}

// found is what a name leads to.
type found struct {
	spot
	feature string // that it belongs to; "" for none
	height  bool   // the spot is that of the feature's upper end
}

// steps are the keys of a name and its indices, each behind a bracket: bolts, at, [0. What is no index stays as it is written.
func steps(name string) (all []string) {
	for key := range strings.SplitSeq(name, ".") {
		key, index, indexed := strings.Cut(key, "[")
		for all = append(all, key); indexed; {
			item, rest, closed := strings.Cut(index, "]")
			if !closed || rest != "" && rest[0] != '[' {
				return append(all, "[["+index)
			}
			all = append(all, "["+item)
			_, index, indexed = strings.Cut(rest, "[")
		}
	}
	return all
}

// find follows a name, and says what is wrong where it leads to nothing that the file has or could have.
func find(root *source.Node, name string) (f found, wrong string) {
	all := steps(name)
	f.spot = spot{form: forms(), node: root}
	first := root.At(all[0])
	switch feature := entry(root, all[0]); {
	case len(all) > 1 && first != nil && // a path
		(first.Shape == source.Map || first.Shape == source.Sequence && strings.HasPrefix(all[1], "[")):
	case feature.node != nil:
		f.spot, f.feature = feature, all[0]
		all = all[1:]
		if len(all) == 1 && all[0] == "height" && f.form.Key("to") != nil && f.node.At("from") != nil && f.node.At("to") != nil {
			f.height = true
			return f, f.step("to")
		}
		if len(all) > 0 {
			f.spot = f.shortened(all[0])
		}
	case forms().Key(all[0]) == nil:
		return f, "but there is no feature of that name"
	}
	for i, step := range all {
		if wrong := f.step(step); wrong != "" {
			return f, wrong
		}
		if i == 1 && f.feature == "" && slices.Contains(sections, all[0]) {
			f.feature = step
		}
	}
	return f, ""
}

// entry finds what has a name of its own.
func entry(root *source.Node, name string) spot {
	for _, section := range sections {
		if n := root.At(section).At(name); n != nil {
			return spot{section + "." + name, forms().Key(section).Key(name), n}
		}
	}
	return spot{}
}

// shortened is the map of a feature in which the key of a short name stands: the feature itself, or one of its own that has it or,
// if none has, could have it.
func (s spot) shortened(key string) spot {
	if s.node.At(key) != nil {
		return s
	}
	var inside []spot
	if s.node.Shape == source.Map {
		for i, k := range s.node.Keys {
			if form := s.form.Key(k.Value).choose(s.node.Items[i]); form != nil && form.Type == source.FormMap {
				inside = append(inside, spot{s.path + "." + k.Value, form, s.node.Items[i]})
			}
		}
	}
	slices.SortStableFunc(inside, func(a, b spot) int { return s.rank(a) - s.rank(b) })
	for i, in := range inside {
		if in.node.At(key) == nil {
			continue
		}
		for _, o := range inside[i+1:] {
			if s.rank(in) > 0 && o.node.At(key) != nil {
				return s // it may be either: the longer name tells them apart
			}
		}
		return in
	}
	if s.form.Key(key) == nil {
		for _, in := range inside {
			if in.form.Key(key) != nil {
				return in
			}
		}
	}
	return s
}

// rank puts the profile, kind or treatment of a feature before what else it has.
func (s spot) rank(in spot) int {
	if g := s.form.among(in.path[len(s.path)+1:]); g != nil && g.Kind != "" {
		return 0
	}
	return 1
}

// step goes on by one key or index. A key that the file does not give leads to a spot without a node where the form has it. The profile of
// an island may be left out, as that of a feature.
func (s *spot) step(key string) (wrong string) {
	if s.form != nil && s.form.Shared == "island" && s.node != nil {
		*s = s.shortened(key)
	}
	if item, is := strings.CutPrefix(key, "["); is {
		if s.node == nil {
			return fmt.Sprintf("but `%s` is not given there", source.Plain(s.path[strings.LastIndex(s.path, ".")+1:]))
		}
		i, err := strconv.Atoi(item)
		if err != nil || strconv.Itoa(i) != item || s.node.Shape != source.Sequence || i < 0 || i >= len(s.node.Items) {
			return fmt.Sprintf("but `%s` has no item %s", source.Plain(s.path[strings.LastIndex(s.path, ".")+1:]), source.Quote(item))
		}
		n := s.node.Items[i]
		*s = spot{s.path + "[" + item + "]", s.form.choose(s.node).item(i).choose(n), n}
		return ""
	}
	in := s.form
	if s.node != nil {
		in = in.choose(s.node)
	}
	n, form := s.node.At(key), in.Key(key)
	switch {
	case s.node == nil && (in == nil || in.Type != source.FormNamed):
		return fmt.Sprintf("but `%s` is not given there", source.Plain(s.path[strings.LastIndex(s.path, ".")+1:]))
	case form == nil && n == nil:
		return fmt.Sprintf("but `%s` is not given there", source.Plain(key))
	}
	if n != nil {
		form = form.choose(n)
	}
	*s = spot{below(s.path, key), form, n}
	return ""
}

// numbers are what a name of numbers leads to: one, the items of a list, or the two ends of a height.
type numbers struct {
	found
	numbers []spot
}

// numbersOf follows a name that is to lead to numbers which the file gives.
func numbersOf(root *source.Node, name string) (t numbers, wrong string) {
	f, wrong := find(root, name)
	t.found = f
	if wrong == "" && f.node == nil {
		wrong = fmt.Sprintf("but `%s` is not given there", source.Plain(f.path[strings.LastIndex(f.path, ".")+1:]))
	}
	if wrong != "" {
		return t, wrong
	}
	t.numbers = []spot{f.spot}
	switch {
	case f.height: // that its ends are numbers is told where they stand
		e := entry(root, f.feature)
		t.numbers = []spot{{e.path + ".from", e.form.Key("from"), e.node.At("from")}, f.spot}
		return t, ""
	case f.node.Shape == source.Sequence:
		t.numbers = nil
		for i, it := range f.node.Items {
			t.numbers = append(t.numbers, spot{f.path + "[" + strconv.Itoa(i) + "]", f.form.item(i).choose(it), it})
		}
	}
	if len(t.numbers) == 0 {
		return t, "which is not a number"
	}
	for _, v := range t.numbers {
		probe := source.Reader{}
		if _, ok := probe.Number(v.node, "it"); !ok {
			return t, "which is not a number"
		}
	}
	return t, ""
}

// Reference is a name with other names of features in it: bore.diameter, or cuts.bore.circle.diameter.
func Reference(text string, renamed map[string]string) string {
	keys := strings.Split(text, ".")
	at := 0
	if len(keys) > 1 && slices.Contains(sections, keys[0]) {
		at = 1
	}
	if to, ok := renamed[keys[at]]; ok {
		keys[at] = to
	}
	return strings.Join(keys, ".")
}
