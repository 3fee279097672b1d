package form

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"corerod/parts/source"
)

// guess is a key that drawings elsewhere have for one of a form's own: what to write in its place.
type guess struct {
	key    string
	means  string                         // the form's own key; a form without it has another answer
	answer func(g *guessed) (text string) // "" where it is no guess at this one
}

// guessed is a key that a map has and its form does not.
type guessed struct {
	r     *reader
	in    *source.Node // the map
	value *source.Node
	known []string
	path  string // of the map
}

// guesses are the keys that engineers tried first, with what they meant.
func guesses() []guess {
	rename := func(key, means, more string) guess {
		return guess{key, means, func(g *guessed) string { return fmt.Sprintf("write `%s: %s`%s", means, g.number("30"), more) }}
	}
	at := func(key string) guess {
		return guess{key, "at", func(g *guessed) string { return "write `at: " + g.point() + "`, where it lies in plan" }}
	}
	step := func(key string) guess {
		return guess{key, "step", func(g *guessed) string {
			if p := pointOf(g.value); p != "" {
				return "write `step: " + p + "`, from one copy to the next"
			}
			return "write `step: [" + g.number("10") + ", 0]`, from one copy to the next"
		}}
	}
	return []guess{
		{"radius", "diameter", func(g *guessed) string {
			if g.number("") == "" {
				return "write its `diameter`"
			}
			return "write `diameter: " + decimal(2*value(g.value)) + "`"
		}},
		{"angle", "over", func(g *guessed) string {
			return "copies are spread evenly over 360 degrees; leave it out, or write `over: 180` for part of a circle, to the last copy"
		}},
		rename("angle", "turn", ", degrees counter-clockwise"), rename("rotation", "turn", ", degrees counter-clockwise"),
		rename("angle", "slope", ", degrees from the end face"),
		rename("start", "first", ", degrees by which the first copy is turned"), rename("start_angle", "first", ""),
		at("axis"), at("center"), at("centre"), at("position"), step("pitch"), step("spacing"),
		{"height", "depth", func(g *guessed) string { return "write `open: top, depth: " + g.number("5") + "`, or `from` and `to`" }},
		{"height", "from", func(g *guessed) string {
			return "write `from: 0, to: " + g.number("10") + "`, its lower and upper end along z"
		}},
		{"thickness", "from", func(g *guessed) string {
			return "write `from: 0, to: " + g.number("10") + "`, its lower and upper end along z"
		}},
		{"tolerance", "at", (*guessed).tolerance}, {"tolerance", "from", (*guessed).tolerance},
		{"plus", "plus_minus", (*guessed).limits}, {"minus", "plus_minus", (*guessed).limits},
		{"corner", "width", (*guessed).slotWithCorners},
		{"hole", "circle", func(g *guessed) string {
			return "along the pressing axis it is `circle: {diameter: " + numberOr(g.value.At("diameter"), "5") +
				"}`; a hole across stands under `sides`"
		}},
	}
}

// guessAt is the answer to a key that a form does not know, with the key that it stands for; "" where it is no guess at one.
func (g *guessed) guessAt(key string) (answer, means string) {
	for _, x := range guesses() {
		if x.key == key && slices.Contains(g.known, x.means) {
			if answer = x.answer(g); answer != "" {
				return answer, x.means
			}
		}
	}
	return "", ""
}

// number is what the file has under the key, or another where it is no number.
func (g *guessed) number(other string) string { return numberOr(g.value, other) }

func numberOr(n *source.Node, other string) string {
	if n == nil {
		return other
	}
	if _, ok := (&source.Reader{}).Number(n, ""); !ok {
		return other
	}
	return n.Value
}

// point is the point that the file has under the key, or the origin.
func (g *guessed) point() string {
	if p := pointOf(g.value); p != "" {
		return p
	}
	return "[0, 0]"
}

// pointOf is a list of two numbers as a file writes it; "" for anything else.
func pointOf(n *source.Node) string {
	if n == nil || n.Shape != source.Sequence || len(n.Items) != 2 {
		return ""
	}
	x, y := numberOr(n.Items[0], ""), numberOr(n.Items[1], "")
	if x == "" || y == "" {
		return ""
	}
	return "[" + x + ", " + y + "]"
}

// tolerance answers a tolerance that stands with the size which it is of.
func (g *guessed) tolerance() string {
	all := strings.Split(g.path, ".")
	if len(all) < 2 || all[0] != "bodies" && all[0] != "cuts" {
		return ""
	}
	of := "height"
	for _, key := range []string{"diameter", "width", "length", "across_flats", "major", "module"} {
		if slices.Contains(g.known, key) {
			of = key
			break
		}
	}
	return fmt.Sprintf("tolerances stand under `dimensions`: write `dimensions: {%[1]s-size: {of: %[1]s.%[2]s, plus_minus: %[3]s}}`",
		all[1], of, g.number("0.05"))
}

// limits answers a tolerance that differs both ways.
func (g *guessed) limits() string {
	of := g.in.At("of")
	plus, minus := numberOr(g.in.At("plus"), "0"), numberOr(g.in.At("minus"), "0")
	if of == nil || of.Shape != source.Scalar {
		return "write `limits: [least, greatest]`"
	}
	t, wrong := numbersOf(g.r.root, of.Value)
	if wrong != "" || len(t.numbers) > 1 && !t.height {
		return "write `limits: [least, greatest]`"
	}
	size := value(t.numbers[0].node)
	if t.height {
		size = value(t.numbers[1].node) - size
	}
	up, _ := strconv.ParseFloat(plus, 64)
	down, _ := strconv.ParseFloat(strings.TrimPrefix(minus, "-"), 64)
	return fmt.Sprintf("write `limits: [%s, %s]`, the limits of size", decimal(size-down), decimal(size+up))
}

// slotWithCorners answers corners of a slot, whose ends are round.
func (g *guessed) slotWithCorners() string {
	if !strings.HasSuffix(g.path, ".slot") {
		return ""
	}
	text := "rectangle: {length: " + numberOr(g.in.At("length"), "20") + ", width: " + numberOr(g.in.At("width"), "10")
	if p := pointOf(g.in.At("at")); p != "" {
		text += ", at: " + p
	}
	if turn := numberOr(g.in.At("turn"), ""); turn != "" {
		text += ", turn: " + turn
	}
	return "the ends of a slot are round; with corners it is `" + text + ", corner: " + g.number("2") + "}`"
}

// soleNumber is the answer to a number that stands where a map with one such number should; "" where that is another fault.
func soleNumber(f *Form, n *source.Node, path string) string {
	only := ""
	for i := range f.Keys {
		if k := &f.Keys[i]; k.Required {
			if only != "" || k.Form().Type != source.FormNumber {
				return ""
			}
			only = k.Name
		}
	}
	v := numberOr(n, "")
	if only == "" || v == "" {
		return ""
	}
	return fmt.Sprintf("write `%s: {%s: %s}`", path[strings.LastIndex(path, ".")+1:], only, v)
}

// listed is the answer to a list of points where one point should be; "" where that is another fault.
func listed(n *source.Node) string {
	if n.Shape != source.Sequence || len(n.Items) == 0 {
		return ""
	}
	for _, it := range n.Items {
		if pointOf(it) == "" {
			return ""
		}
	}
	text := "write `at: " + pointOf(n.Items[0]) + "`"
	if len(n.Items) > 1 {
		a, b := n.Items[0].Items, n.Items[1].Items
		text += fmt.Sprintf(" and, for copies in one line, `repeat: {count: %d, step: [%s, %s]}`; others are features of their own",
			len(n.Items), decimal(value(b[0])-value(a[0])), decimal(value(b[1])-value(a[1])))
	}
	return text
}

// grid is the answer to a list where one count of copies should be; "" where that is another fault.
func grid(f *Form, n *source.Node, what string) string {
	if f.Quantity != Count || n.Shape != source.Sequence || what != "count" {
		return ""
	}
	counts := [2]string{"2", "2"}
	for i, it := range n.Items {
		if i < len(counts) {
			counts[i] = numberOr(it, "2")
		}
	}
	return fmt.Sprintf("a grid is two patterns: `repeat: [{count: %s, step: [10, 0]}, {count: %s, step: [0, 10]}]`", counts[0], counts[1])
}
