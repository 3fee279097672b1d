package report

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"corerod/checker/report/words"
	"corerod/parts/source"
	"corerod/parts/subject"
)

// measuresOfKind are the subjects of one kind with their measures. Lengths are mm, as rules see them, whatever the part is drawn in.
type measuresOfKind struct {
	list     string // the name by which rules read the subjects
	part     bool   // there is one subject, the part
	columns  []measure
	subjects []measured
}

// measure is a measure of a kind with its unit, "" for none.
type measure struct{ name, unit string }

// measured is one subject: its name, where it lies, and the value of each column of its kind.
type measured struct {
	name, place string
	values      []string
}

// absent is the value of a measure that a subject does not have.
const absent = "-"

// measuresOf are the measures of the wanted kinds, or of all that the part has where none is named.
func measuresOf(p *subject.Part, wanted []*subject.Kind) (out []measuresOfKind) {
	for _, k := range subject.Kinds() {
		all := subject.Of(p, k)
		if len(wanted) > 0 && !slices.Contains(wanted, k) || len(wanted) == 0 && len(all) == 0 {
			continue
		}
		of := measuresOfKind{list: k.List, part: k == subject.PartKind}
		var fields []*subject.Field
		for i := range k.Fields {
			if f := &k.Fields[i]; f.Type != subject.List && !isPlace(f) {
				fields = append(fields, f)
				of.columns = append(of.columns, measure{f.Name, unitOf(f)})
			}
		}
		for _, s := range all {
			m := measured{name: source.Plain(s.Place().Name), place: placed(s.Place())}
			for _, f := range fields {
				m.values = append(m.values, valueOf(f, s))
			}
			of.subjects = append(of.subjects, m)
		}
		out = append(out, of)
	}
	return out
}

// isPlace tells the name and the coordinates, which stand first and last, from the other measures. Features are in the
// name.
func isPlace(f *subject.Field) bool {
	return f.Placing || slices.Contains([]string{"name", "features", "x", "y", "z_low", "z_high"}, f.Name)
}

// unitOf is the unit of a number; counts and ratios have none.
func unitOf(f *subject.Field) string {
	if f.Type != subject.Number || f.Unit == subject.Ratio || f.Unit == subject.Count {
		return ""
	}
	return f.Unit
}

// valueOf writes a measure's value.
func valueOf(f *subject.Field, s subject.Subject) string {
	switch f.Type {
	case subject.Number:
		v, known := f.Number(s)
		if !known {
			return absent
		}
		return words.Six(v)
	case subject.Text:
		return cmp.Or(source.Plain(f.Text(s)), absent)
	case subject.Boolean:
		if f.Boolean(s) {
			return "yes"
		}
		return "no"
	}
	if all := f.Texts(s); len(all) > 0 {
		return source.Plain(strings.Join(all, ", "))
	}
	return absent
}

// placed writes where a subject lies: x, y and its range of z; and how often.
func placed(c *subject.Common) string {
	text := words.Six(c.X) + ", " + words.Six(c.Y) + ", z " + words.Six(c.ZLow)
	if c.ZHigh > c.ZLow {
		text += " to " + words.Six(c.ZHigh)
	}
	if n := len(c.Places); n > 1 {
		text += fmt.Sprintf(" and %d more", n-1)
	}
	return text
}
