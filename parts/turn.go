package parts

import (
	"fmt"
	"math"
	"strings"

	"corerod/parts/source"
)

// TurnOver gives the edits that turn a part over about the x axis: y becomes -y, and z becomes ends - z, where ends is
// the sum of the heights of its two end faces in the file's units. The part stays what it is, with its other end up. It is
// false where the file format cannot say it: for part of a circle of copies, for flats across the axis, and where a
// dimension is of a number that changes.
func TurnOver(root *source.Node, ends float64) ([]source.Edit, bool) {
	t := &turner{ends: math.Round(ends*1e6) / 1e6, ok: true}
	for _, section := range []string{"bodies", "cuts"} {
		t.each(root, section, t.feature)
	}
	t.each(root, "edges", func(path string, n *source.Node) { t.swap(path+".face", n.At("face"), "top", "bottom") })
	t.each(root, "marks", func(path string, n *source.Node) {
		t.face(path+".on", n.At("on"))
		t.negate(path+".box[1]", item(n.At("box"), 1))
		t.repeat(path+".repeat", n.At("repeat"))
	})
	t.each(root, "sides", t.side)
	t.each(root, "dimensions", func(path string, n *source.Node) { t.dimension(path+".of", n.At("of")) })
	if seats := root.At("seats"); seats != nil {
		for i, it := range seats.Items {
			t.face(fmt.Sprintf("seats[%d]", i), it)
		}
	}
	return t.edits, t.ok
}

type turner struct {
	ends  float64
	edits []source.Edit
	ok    bool
}

func (t *turner) each(root *source.Node, section string, turn func(path string, n *source.Node)) {
	n := root.At(section)
	if n == nil {
		return
	}
	for i, k := range n.Keys {
		turn(section+"."+k.Value, n.Items[i])
	}
}

func (t *turner) feature(path string, n *source.Node) {
	if from, to := n.At("from"), n.At("to"); from != nil && to != nil {
		t.put(path+".from", from, t.ends-value(to))
		t.put(path+".to", to, t.ends-value(from))
	}
	t.swap(path+".open", n.At("open"), "top", "bottom")
	t.swap(path+".draft.narrows", n.At("draft").At("narrows"), "up", "down")
	t.repeat(path+".repeat", n.At("repeat"))
	for _, p := range profileKeys {
		if in := n.At(p); in != nil {
			t.profile(path+"."+p, in)
		}
	}
}

// profile turns a plan profile over, or a half section, in which z is the second number of a point.
func (t *turner) profile(path string, n *source.Node) {
	t.negate(path+".at[1]", item(n.At("at"), 1))
	t.negate(path+".turn", n.At("turn"))
	if z := n.At("z"); z != nil {
		t.put(path+".z", z, t.ends-value(z))
	} else if strings.HasSuffix(path, ".ball") && t.ends != 0 {
		t.edits = append(t.edits, source.Edit{Path: path + ".z", Text: decimal(t.ends)})
	}
	inSection := n.At("section") != nil
	points, paths := corners(n, path)
	for i, p := range points {
		if inSection {
			t.put(paths[i]+"[1]", p.Items[1], t.ends-value(p.Items[1]))
		} else {
			t.negate(paths[i]+"[1]", p.Items[1])
		}
	}
	for _, key := range []string{"steps", "section"} {
		if list := n.At(key); list != nil {
			for i, it := range list.Items {
				t.swap(fmt.Sprintf("%s.%s[%d].turn", path, key, i), it.At("turn"), "cw", "ccw")
			}
		}
	}
}

func (t *turner) repeat(path string, n *source.Node) {
	t.negate(path+".about[1]", item(n.At("about"), 1))
	t.negate(path+".step[1]", item(n.At("step"), 1))
	if over := n.At("over"); over != nil && value(over) != 360 {
		t.ok = false
	}
}

func (t *turner) side(path string, n *source.Node) {
	for _, kind := range sideKinds {
		in := n.At(kind)
		if in == nil {
			continue
		}
		if z := in.At("z"); z != nil {
			t.put(path+"."+kind+".z", z, t.ends-value(z))
		}
		t.negate(path+"."+kind+".toward", in.At("toward"))
		t.ok = t.ok && kind != "flat"
	}
}

// dimension turns what a dimension is of, where that is a face; a size must not be one of the numbers that change.
func (t *turner) dimension(path string, of *source.Node) {
	if of == nil {
		return
	}
	switch key := of.Value[strings.LastIndex(of.Value, ".")+1:]; key {
	case "top", "bottom":
		t.face(path, of)
	case "from", "to", "z", "at[1]":
		t.ok = false
	}
}

func (t *turner) face(path string, n *source.Node) {
	if n == nil {
		return
	}
	if name, up := strings.CutSuffix(n.Value, ".top"); up {
		t.edits = append(t.edits, source.Edit{Path: path, Text: name + ".bottom"})
	} else if name, down := strings.CutSuffix(n.Value, ".bottom"); down {
		t.edits = append(t.edits, source.Edit{Path: path, Text: name + ".top"})
	}
}

// swap changes one of two words for the other.
func (t *turner) swap(path string, n *source.Node, a, b string) {
	switch {
	case n == nil:
	case n.Value == a:
		t.edits = append(t.edits, source.Edit{Path: path, Text: b})
	case n.Value == b:
		t.edits = append(t.edits, source.Edit{Path: path, Text: a})
	}
}

func (t *turner) negate(path string, n *source.Node) {
	if n != nil {
		t.put(path, n, -value(n))
	}
}

// put sets a number that is another than before.
func (t *turner) put(path string, n *source.Node, to float64) {
	if round(to) != round(value(n)) {
		t.edits = append(t.edits, source.Edit{Path: path, Text: decimal(to)})
	}
}

func value(n *source.Node) float64 {
	v, _ := (&source.Reader{}).Number(n, "")
	return v
}

func item(n *source.Node, i int) *source.Node {
	if n == nil || i >= len(n.Items) {
		return nil
	}
	return n.Items[i]
}
