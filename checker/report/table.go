package report

import (
	"bytes"
	"cmp"
	"fmt"
	"io"
	"slices"
	"strings"
	"text/tabwriter"

	"corerod/checker/report/words"
	"corerod/parts/source"
	"corerod/parts/subject"
	"corerod/rules"
)

// Table writes the subjects of a part for people: of each of the wanted kinds, or of all that the part has where none
// is named, with unit and place. Lengths are mm, as rules see them, whatever the part is drawn in.
func Table(w io.Writer, p *subject.Part, wanted []*subject.Kind, packs []*rules.Pack, shop *rules.Shop) error {
	var b bytes.Buffer
	fmt.Fprintf(&b, "%s as rules see it: lengths in mm, angles in degrees; x, y, z in the frame of the part file\n", source.Plain(p.Name))
	for _, k := range subject.Kinds() {
		all := subject.Of(p, k)
		if len(wanted) > 0 && !slices.Contains(wanted, k) || len(wanted) == 0 && len(all) == 0 {
			continue
		}
		if k == subject.PartKind {
			b.WriteString("\npart\n")
			single(&b, all[0])
			continue
		}
		fmt.Fprintf(&b, "\n%s\n", k.List)
		if len(all) == 0 {
			b.WriteString("  none\n")
			continue
		}
		several(&b, k, all)
	}
	t := &textWriter{}
	t.line("")
	t.force(packs, shop)
	b.WriteString(t.b.String())
	_, err := w.Write(b.Bytes())
	return err
}

// single writes one subject, a measure a line.
func single(w io.Writer, s subject.Subject) {
	t := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	fmt.Fprintf(t, "  place\t%s\n", placed(s.Place()))
	for i := range s.Kind().Fields {
		if f := &s.Kind().Fields[i]; f.Type != subject.List && !isPlace(f) {
			value := measured(f, s)
			if value != "-" {
				value = strings.TrimSpace(value + " " + unitOf(f))
			}
			fmt.Fprintf(t, "  %s\t%s\n", f.Name, value)
		}
	}
	_ = t.Flush() // to a buffer
}

// several writes subjects of one kind, one a row.
func several(w io.Writer, k *subject.Kind, all []subject.Subject) {
	t := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	row := []string{"  name"}
	for i := range k.Fields {
		if f := &k.Fields[i]; !isPlace(f) {
			row = append(row, strings.TrimSpace(f.Name+" "+unitOf(f)))
		}
	}
	fmt.Fprintln(t, strings.Join(append(row, "place"), "\t"))
	for _, s := range all {
		row = []string{"  " + source.Plain(s.Place().Name)}
		for i := range k.Fields {
			if f := &k.Fields[i]; !isPlace(f) {
				row = append(row, measured(f, s))
			}
		}
		fmt.Fprintln(t, strings.Join(append(row, placed(s.Place())), "\t"))
	}
	_ = t.Flush() // to a buffer
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

// measured writes a measure's value; - for an absent one.
func measured(f *subject.Field, s subject.Subject) string {
	switch f.Type {
	case subject.Number:
		v, known := f.Number(s)
		if !known {
			return "-"
		}
		return words.Six(v)
	case subject.Text:
		return cmp.Or(source.Plain(f.Text(s)), "-")
	case subject.Boolean:
		if f.Boolean(s) {
			return "yes"
		}
		return "no"
	}
	if all := f.Texts(s); len(all) > 0 {
		return source.Plain(strings.Join(all, ", "))
	}
	return "-"
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
