package report

import (
	"bytes"
	"fmt"
	"io"
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
	all := measuresOf(p, wanted)
	for i := range all {
		k := &all[i]
		if k.part {
			b.WriteString("\npart\n")
			single(&b, k)
			continue
		}
		fmt.Fprintf(&b, "\n%s\n", k.list)
		if len(k.subjects) == 0 {
			b.WriteString("  none\n")
			continue
		}
		several(&b, k)
	}
	t := &textWriter{}
	t.list("", words.Force(packs, shop))
	b.WriteString(t.b.String())
	_, err := w.Write(b.Bytes())
	return err
}

// single writes one subject, a measure a line.
func single(w io.Writer, k *measuresOfKind) {
	t := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	s := &k.subjects[0]
	fmt.Fprintf(t, "  place\t%s\n", s.place)
	for i, v := range s.values {
		if v != absent {
			v = strings.TrimSpace(v + " " + k.columns[i].unit)
		}
		fmt.Fprintf(t, "  %s\t%s\n", k.columns[i].name, v)
	}
	_ = t.Flush() // to a buffer
}

// several writes subjects of one kind, one a row.
func several(w io.Writer, k *measuresOfKind) {
	t := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	row := []string{"  name"}
	for _, c := range k.columns {
		row = append(row, strings.TrimSpace(c.name+" "+c.unit))
	}
	fmt.Fprintln(t, strings.Join(append(row, "place"), "\t"))
	for _, s := range k.subjects {
		row = append([]string{"  " + s.name}, s.values...)
		fmt.Fprintln(t, strings.Join(append(row, s.place), "\t"))
	}
	_ = t.Flush() // to a buffer
}
