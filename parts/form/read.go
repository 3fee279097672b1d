package form

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"corerod/parts"
	"corerod/parts/source"
)

// Parse reads a part file. The part is complete only where there are no problems; beside problems it holds what could
// be read, so that a caller can look for more of them.
func Parse(file string, b []byte) (*parts.Part, source.Problems) {
	root, ps := source.Parse(file, b)
	return read(file, root, ps)
}

// IsPart tells a part file from other YAML: it has a `part` key.
func IsPart(root *source.Node) bool { return root.At("part") != nil }

// reader reads values by their forms.
type reader struct {
	source.Reader
	part  *parts.Part
	root  *source.Node
	scale float64        // mm in one unit of the file
	names map[string]int // the line of each name
}

func read(file string, root *source.Node, ps source.Problems) (*parts.Part, source.Problems) {
	if root == nil {
		return nil, ps.Sorted()
	}
	r := &reader{Reader: source.Reader{File: file, Problems: ps}, root: root, scale: 1, names: map[string]int{}}
	r.part = &parts.Part{File: file, Place: parts.Place{Line: root.Line, Column: root.Column}, Root: root}
	r.value(part(r.part), root, "a part file", "")
	return r.part, r.Problems.Sorted()
}

// value reads a value by its form. what is its name in messages, path its place in the file.
func (r *reader) value(f *Form, n *source.Node, what, path string) {
	before := len(r.Problems)
	if f.called != "" {
		what = f.called
	}
	if f.place != nil {
		*f.place = parts.Place{Line: n.Line, Column: n.Column, Path: path}
	}
	ok := true
	switch f.Type {
	case source.FormText:
		ok = r.text(f, n, what)
	case source.FormNumber:
		if answer := grid(f, n, what); answer != "" {
			r.Report(n, "count is one number; %s", answer)
			ok = false
		} else {
			ok = r.number(f, n, what)
		}
	case source.FormBoolean:
		v, read := r.Boolean(n, what)
		ok = read && put(f.to, v)
	case source.FormWord:
		if n.Shape == source.Sequence && f.Lies == Ends {
			r.Report(n, "%[1]s is one end, `top` or `bottom`; write an entry for each, with `%[1]s: top` and `%[1]s: bottom`", what)
			ok = false
			break
		}
		w, read := r.Word(n, what, f.Words...)
		ok = read && put(f.to, w)
	case source.FormList:
		r.list(f, n, what, path)
	case source.FormMap:
		ok = r.keys(f, n, what, f.known(), path)
	case source.FormNamed:
		r.named(f, n, what)
	case source.FormEither:
		r.either(f, n, what, path)
	}
	if ok && f.check != nil {
		f.check(r, n, what)
	}
	if ok && f.done != nil {
		f.done(r, n, len(r.Problems) == before)
	}
}

// put gives a value to what a form is bound to.
func put[T any](to any, v T) bool {
	switch to := to.(type) {
	case *T:
		*to = v
	case func(T):
		to(v)
	}
	return true
}

// text reads text: a name of a feature or face where it refers to one.
func (r *reader) text(f *Form, n *source.Node, what string) bool {
	switch {
	case f.Refers == ToFace:
		face := r.face(n, what)
		return face.Feature != "" && put(f.to, face)
	case f.Refers == ToFeature:
		return r.feature(n) && put(f.to, n.Value)
	case f.Pattern == partPattern:
		v, ok := r.PartName(n, what)
		return ok && put(f.to, v)
	case f.Pattern == namePattern && f.Refers == Nothing:
		v, ok := r.Name(n, what)
		return ok && put(f.to, v)
	}
	v, ok := r.Text(n, what)
	return ok && put(f.to, v)
}

// keys reads a map: the one key of each group, and each other key that is there, in the order of the form.
func (r *reader) keys(f *Form, n *source.Node, what string, known []string, path string) bool {
	for key, answer := range f.elsewhere {
		if k := n.KeyNode(key); k != nil {
			r.Report(k, "%s", answer)
			known = append(known, key)
		}
	}
	if n.Shape == source.Scalar {
		if answer := soleNumber(f, n, path); answer != "" {
			r.Report(n, "%s needs keys with values; %s", what, answer)
			return false
		}
	}
	meant := r.guesses(n, what, &known, path)
	if !r.Map(n, what, known...) {
		return false
	}
	for _, g := range f.Sole {
		if g.Kind != "" && !slices.ContainsFunc(meant, func(key string) bool { return slices.Contains(g.Keys, key) }) {
			if key := r.sole(n, what, g); key != nil {
				r.value(f.Key(key.Value), n.At(key.Value), key.Value, below(path, key.Value))
			}
		}
	}
	for i := range f.Keys {
		k := &f.Keys[i]
		if g := f.among(k.Name); g != nil && g.Kind != "" {
			continue
		}
		v := n.At(k.Name)
		if k.Required && !slices.Contains(meant, k.Name) {
			v = r.Require(n, what, k.Name)
		}
		if v != nil {
			r.value(k.Form(), v, k.Name, below(path, k.Name))
		}
	}
	return len(meant) == 0
}

// guesses answers the keys of a map that stand for others of its form, which it gives; the rest of it is read as if they stood there.
func (r *reader) guesses(n *source.Node, what string, known *[]string, path string) (meant []string) {
	if n.Shape != source.Map {
		return nil
	}
	for i, k := range n.Keys {
		if slices.Contains(*known, k.Value) {
			continue
		}
		g := guessed{r: r, in: n, value: n.Items[i], known: *known, path: path}
		if answer, means := g.guessAt(k.Value); answer != "" {
			r.Report(k, "%s has no `%s`; %s", what, k.Value, answer)
			meant = append(meant, means)
			*known = append(*known, k.Value)
		}
	}
	return meant
}

// below is the path of what stands under a key.
func below(path, key string) string {
	if path == "" {
		return key
	}
	return path + "." + key
}

// sole finds the one key of a group that a map has.
func (r *reader) sole(n *source.Node, what string, g Group) *source.Node {
	var given []*source.Node
	for _, key := range g.Keys {
		if k := n.KeyNode(key); k != nil {
			given = append(given, k)
		}
	}
	slices.SortFunc(given, func(a, b *source.Node) int { return cmp.Or(a.Line-b.Line, a.Column-b.Column) })
	switch len(given) {
	case 0:
		r.Report(n, "%s needs a %s: one of %s", what, g.Kind, strings.Join(g.Keys, ", "))
	case 1:
		return given[0]
	default:
		r.Report(given[1], "%s has a second %s, `%s` beside `%s`; give one", what, g.Kind, given[1].Value, given[0].Value)
	}
	return nil
}

// named reads the entries of a section, in order. Names are unique over all sections but those that stand apart.
func (r *reader) named(f *Form, n *source.Node, section string) {
	if n.Shape != source.Map {
		r.Map(n, section)
		return
	}
	if f.Items[0] > 0 && len(n.Keys) == 0 {
		r.Report(n, "%s is empty; %s", section, f.needs)
	}
	for i, k := range n.Keys {
		name, ok := r.Name(k, "a name in "+section)
		if !ok {
			continue
		}
		if line, taken := r.names[name]; taken && !f.apart {
			r.Report(k, "the name `%s` is already given in line %d; names are unique over bodies, cuts, blends, edges, sides and marks",
				name, line)
			continue
		}
		if !f.apart {
			r.names[name] = k.Line
		}
		entry, path := f.Each(), section+"."+name
		entry.begin(name, parts.Place{Line: k.Line, Column: k.Column, Path: path})
		entry.called += " " + name
		r.value(entry, n.Items[i], name, path)
	}
}

// list reads a list: of a fixed length, or of items alike.
func (r *reader) list(f *Form, n *source.Node, what, path string) {
	items, ok := r.List(n, what)
	if !ok {
		return
	}
	if len(f.Tuple) == 2 && f.Tuple[1].Lies == Y {
		if answer := listed(n); answer != "" {
			r.Report(n, "%s is one point; %s", what, answer)
			return
		}
	}
	fits := f.Tuple == nil || len(items) == len(f.Tuple)
	if f.Tuple == nil && f.needs != "" {
		fits = len(items) >= f.Items[0] && (f.Items[1] == 0 || f.Items[1] == MostVertices || len(items) <= f.Items[1])
	}
	if !fits {
		r.Report(n, "%s needs %s, not %d", what, f.needs, len(items))
	}
	if f.Tuple != nil && !fits {
		return
	}
	if len(items) > MostVertices && f.needs != "" {
		r.Report(n, "%s has %d items; at most %d are read", what, len(items), MostVertices)
		return
	}
	for i, it := range items {
		index := "[" + strconv.Itoa(i) + "]"
		if f.Tuple != nil {
			r.value(f.Tuple[i], it, what+index, path+index)
		} else {
			r.value(f.Each(), it, what, path+index)
		}
	}
}

// either reads one of several forms. A map that begins with none of their keys is read as the last of them, and told all keys.
func (r *reader) either(f *Form, n *source.Node, what, path string) {
	if f.refusal != "" {
		r.Report(n, "%s", f.refusal)
		return
	}
	var maps []*Form
	for _, e := range f.Either {
		switch {
		case e.Type == source.FormEither && n.Shape != source.Sequence:
			r.value(e, n, what, path)
			return
		case e.Type == source.FormMap:
			maps = append(maps, e)
		case n.Shape == source.Sequence && e.Type == source.FormList:
			r.value(e, n, what, path)
			return
		}
	}
	if len(maps) == 1 {
		r.value(maps[0], n, what, path)
		return
	}
	if len(maps) == 0 {
		r.value(f.Either[0], n, what, path)
		return
	}
	var all []string
	for i, e := range maps {
		all = append(all, e.known()...)
		if is := n.KeyNode(e.Keys[0].Name) != nil; is || i == len(maps)-1 {
			if is {
				what = e.called
			}
			r.keys(e, n, what, all, path)
			return
		}
	}
}

// number reads a number within its bounds; of a length it is given in mm.
func (r *reader) number(f *Form, n *source.Node, what string) bool {
	v, ok := r.Number(n, what)
	if !ok {
		return false
	}
	if f.Quantity == Length || f.Quantity == Tolerance {
		if v *= r.scale; !r.reachable(n, v, what) {
			return false
		}
	}
	least, most := f.Bounds[0], f.Bounds[1]
	ok = !(v < least || v > most || f.Open && v == least || f.Quantity == Count && v != math.Trunc(v))
	says := ""
	switch {
	case ok:
	case f.refusal != "":
		r.Report(n, f.refusal, source.Quote(n.Value))
		return false
	case f.Quantity == Count:
		says = fmt.Sprintf("it must be a whole number from %d to %d", int(least), int(most))
	case f.Quantity == Angle:
		says = fmt.Sprintf("the angle must be from %g to %g degrees", least, most)
	case f.Quantity == Factor:
		says = fmt.Sprintf("it must be from %g to %g, in modules", least, most)
	case f.Quantity == Density || f.Quantity == Amount:
		says = fmt.Sprintf("it must be above 0 and at most %g", most)
	case f.Open:
		says = "it must be above 0"
	default:
		says = "it is 0 or more"
	}
	if !ok {
		r.Report(n, "%s is %s; %s", what, source.Quote(n.Value), says)
		return false
	}
	if whole, is := f.to.(*int); is {
		*whole = int(v)
		return true
	}
	return put(f.to, v)
}

// reachable tells whether a length in mm is one that drawings have.
func (r *reader) reachable(n *source.Node, v float64, what string) bool {
	switch {
	case math.Abs(v) > MostLength:
		r.Report(n, "%s is %s, past %d mm", what, source.Quote(n.Value), int(MostLength))
		return false
	case v != 0 && math.Abs(v) < LeastLength:
		r.Report(n, "%s is %s, other than 0 and under a nanometre", what, source.Quote(n.Value))
		return false
	}
	return true
}

// isFeature tells whether a node is the name of a body or cut.
func (r *reader) isFeature(n *source.Node) bool {
	return r.root.At("bodies").At(n.Value) != nil || r.root.At("cuts").At(n.Value) != nil || r.isIsland(n)
}

// isIsland tells whether a node is the name of an island: that of its cut with .island.
func (r *reader) isIsland(n *source.Node) bool {
	cut, is := strings.CutSuffix(n.Value, ".island")
	return is && r.root.At("cuts").At(cut).At("island") != nil
}

// feature reads the name of a body or cut of this part.
func (r *reader) feature(n *source.Node) bool {
	name, ok := r.Text(n, "a feature's name")
	if !ok || r.isFeature(n) {
		return ok
	}
	var all []string
	for _, section := range []string{"bodies", "cuts"} {
		if s := r.root.At(section); s != nil && s.Shape == source.Map {
			for _, k := range s.Keys {
				all = append(all, k.Value)
			}
		}
	}
	if near := source.Nearest(name, all); near != "" {
		r.Report(n, "there is no body or cut %s; did you mean `%s`?", source.Quote(name), source.Plain(near))
	} else {
		r.Report(n, "there is no body or cut %s", source.Quote(name))
	}
	return false
}

// face reads an end face of a feature: NAME.top or NAME.bottom.
func (r *reader) face(n *source.Node, what string) (f parts.Face) {
	t, ok := r.Text(n, what)
	if !ok {
		return f
	}
	name, face := t, ""
	if i := strings.LastIndex(t, "."); i >= 0 {
		name, face = t[:i], t[i+1:]
	}
	if face != "top" && face != "bottom" {
		r.Report(n, "%s is %s; write a feature's face: NAME.top or NAME.bottom", what, source.Quote(t))
		return f
	}
	named := *n
	named.Value = name
	if !r.feature(&named) {
		return f
	}
	return parts.Face{Feature: name, Face: face}
}

// foundIn tells whether a problem was found in an item of a list.
func (r *reader) foundIn(n *source.Node) bool {
	return slices.ContainsFunc(r.Problems, func(p source.Problem) bool {
		return slices.ContainsFunc(n.Items, func(it *source.Node) bool { return p.Line == it.Line && p.Column == it.Column })
	})
}

// value of a number that was read, and is told of elsewhere where it is wrong.
func value(n *source.Node) float64 {
	v, _ := (&source.Reader{}).Number(n, "")
	return v
}
