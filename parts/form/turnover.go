package form

import (
	"math"
	"strconv"
	"strings"

	"corerod/parts/source"
)

// TurnOver gives the edits that turn a part over about the x axis: y becomes -y, and z becomes ends - z, where ends is
// the sum of the heights of its two end faces in the file's units. The part stays what it is, with its other end up. It is
// false where the file format cannot say it: for part of a circle of copies, for flats across the axis, and where a
// dimension is of a number that changes.
func TurnOver(root *source.Node, ends float64) ([]source.Edit, bool) {
	t := &turner{root: root, ends: math.Round(ends*1e6) / 1e6, ok: true}
	t.walk(forms(), root, "")
	return t.edits, t.ok
}

type turner struct {
	root  *source.Node
	ends  float64
	edits []source.Edit
	ok    bool
}

// walk turns a value over by how its form lies in the part.
func (t *turner) walk(f *Form, n *source.Node, path string) {
	f = f.choose(n)
	switch {
	case f == nil || n == nil:
	case f.Type == source.FormMap && n.Shape == source.Map && f.Swaps:
		other := map[string]string{"top": "bottom", "bottom": "top"}
		var all []string
		for i, k := range n.Keys {
			all = append(all, other[k.Value]+": "+n.Items[i].Value)
		}
		t.edits = append(t.edits, source.Edit{Path: path, Text: "{" + strings.Join(all, ", ") + "}"})
	case f.Type == source.FormMap && n.Shape == source.Map:
		t.keys(f, n, path)
	case f.Type == source.FormNamed && n.Shape == source.Map:
		for i, k := range n.Keys {
			t.walk(f.Key(k.Value), n.Items[i], below(path, k.Value))
		}
	case f.Type == source.FormList && n.Shape == source.Sequence && f.Order != asWritten:
		first := int(f.Order - backward) // that stays
		for i, it := range n.Items[first:] {
			t.put(path+"["+strconv.Itoa(first+i)+"]", it, value(n.Items[len(n.Items)-1-i]))
		}
	case f.Type == source.FormList && n.Shape == source.Sequence:
		for i, it := range n.Items {
			t.walk(f.item(i), it, path+"["+strconv.Itoa(i)+"]")
		}
	default:
		t.single(f, n, path)
	}
}

// keys turns a map over, in the order of its form. A height that it does not give turns over too.
func (t *turner) keys(f *Form, n *source.Node, path string) {
	for _, k := range f.Keys {
		v, form := n.At(k.Name), k.Form()
		switch {
		case v == nil && form.Lies == Z && form.Default != "" && t.ends != 0:
			t.edits = append(t.edits, source.Edit{Path: below(path, k.Name), Text: decimal(t.ends)})
		case v == nil:
		case form.Lies == Low && n.At("to") != nil:
			t.put(path+".from", v, t.ends-value(n.At("to")))
		case form.Lies == High && n.At("from") != nil:
			t.put(path+".to", v, t.ends-value(n.At("from")))
		default:
			t.walk(form, v, below(path, k.Name))
		}
	}
}

// single turns a number, word or text over.
func (t *turner) single(f *Form, n *source.Node, path string) {
	switch f.Lies {
	case Y, Turn:
		t.put(path, n, -value(n))
	case Z:
		t.put(path, n, t.ends-value(n))
	case Ends:
		t.swap(path, n, "top", "bottom")
	case Way:
		t.swap(path, n, "up", "down")
	case Sense:
		t.swap(path, n, "cw", "ccw")
	case Spread:
		t.ok = t.ok && value(n) == 360
	case Foot:
		t.ok = false
	}
	if f.Refers == Nothing {
		return
	}
	for _, face := range [][2]string{{".top", ".bottom"}, {".bottom", ".top"}} {
		if name, is := strings.CutSuffix(n.Value, face[0]); is {
			t.edits = append(t.edits, source.Edit{Path: path, Text: name + face[1]})
			return
		}
	}
	if g, wrong := numbersOf(t.root, n.Value); wrong == "" && f.Refers == ToNumber && strings.HasPrefix(path, "dimensions.") && !g.height {
		for _, v := range g.numbers {
			t.ok = t.ok && !v.form.turns()
		}
	}
}

// turns tells whether turning over changes a number.
func (f *Form) turns() bool {
	return f != nil && (f.Lies == Y || f.Lies == Turn || f.Lies == Low || f.Lies == High || f.Lies == Z || f.Lies == Foot)
}

// swap changes one of two words for the other.
func (t *turner) swap(path string, n *source.Node, a, b string) {
	switch n.Value {
	case a:
		t.edits = append(t.edits, source.Edit{Path: path, Text: b})
	case b:
		t.edits = append(t.edits, source.Edit{Path: path, Text: a})
	}
}

// put sets a number that is another than before.
func (t *turner) put(path string, n *source.Node, to float64) {
	if round(to) != round(value(n)) {
		t.edits = append(t.edits, source.Edit{Path: path, Text: decimal(to)})
	}
}
