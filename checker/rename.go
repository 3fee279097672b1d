package checker

import (
	"slices"
	"strconv"
	"strings"

	"corerod/parts"
	"corerod/parts/source"
)

// rename finds the features that have another name and are otherwise the same: of one section, with the same content,
// in which references to features that were renamed count by what they refer to. Of several alike the first is taken.
func (d *redrawing) rename() {
	for _, section := range parts.Named() {
		before, now := d.old.At(section), d.new.At(section)
		if before == nil || now == nil {
			continue
		}
		alike := map[string][]string{} // new names by content
		for _, n := range now.In {
			if before.At(n.Key) == nil {
				c := d.content(n, false)
				alike[c] = append(alike[c], n.Key)
			}
		}
		for _, o := range before.In {
			if now.At(o.Key) != nil {
				continue
			}
			c := d.content(o, true)
			if names := alike[c]; len(names) > 0 {
				d.namesOf(section)[o.Key] = names[0]
				alike[c] = names[1:]
			}
		}
	}
}

// namesOf are the new names of a section: those of dimensions stand by themselves.
func (d *redrawing) namesOf(section string) map[string]string {
	if section == "dimensions" {
		return d.sizes
	}
	return d.names
}

// renamed is the name that an old entry of a section has in the new file.
func (d *redrawing) renamed(section, name string) string {
	if to, ok := d.namesOf(section)[name]; ok {
		return to
	}
	return name
}

// content writes what a value says in one way only: keys in order, numbers by what they are.
func (d *redrawing) content(v *parts.Value, old bool) string {
	var all []string
	switch v.Shape {
	case source.Scalar:
		switch {
		case v.Numeric:
			return strconv.FormatFloat(v.MM(), 'g', 12, 64)
		case old && refers(v):
			return strconv.Quote(d.reference(v.Text))
		}
		return strconv.Quote(v.Text)
	case source.Map:
		for _, in := range v.In {
			all = append(all, in.Key+": "+d.content(in, old))
		}
		slices.Sort(all)
	default:
		for _, in := range v.In {
			all = append(all, d.content(in, old))
		}
		if isSet(v) {
			slices.Sort(all)
		}
	}
	return "{" + strings.Join(all, ", ") + "}"
}

// refers tells whether a text names a feature, its face or one of its numbers.
func refers(v *parts.Value) bool {
	key, _, _ := strings.Cut(v.Path[strings.LastIndex(v.Path, ".")+1:], "[")
	return !v.Numeric && slices.Contains([]string{"of", "in", "on", "to", "seats", "hold"}, key)
}

// reference is the text of a reference of the old file with the names of the new one.
func (d *redrawing) reference(text string) string {
	keys := strings.Split(text, ".")
	if slices.Contains(parts.Named(), keys[0]) && len(keys) > 1 && d.old.At(keys[0]) != nil {
		keys[1] = d.renamed(keys[0], keys[1])
	} else {
		keys[0] = d.renamed("", keys[0])
	}
	return strings.Join(keys, ".")
}

// called is a subject's name of the old part with the names of the new one, its words in alphabetical order and its
// ordinal left out: a name lists its features in alphabetical order.
func (d *redrawing) called(kind, name string, old bool) string {
	words := strings.FieldsFunc(name, func(r rune) bool { return strings.ContainsRune(" ,;", r) })
	if n := len(words); n > 1 && ordinal(words[n-1]) {
		words = words[:n-1]
	}
	if old {
		section := ""
		if kind == "dimension" {
			section = "dimensions"
		}
		for i, w := range words {
			words[i] = d.renamed(section, w)
		}
	}
	slices.Sort(words)
	return strings.Join(words, " ")
}

// ordinal tells the number of a subject in its name from a feature's name, which begins with a letter.
func ordinal(word string) bool {
	_, err := strconv.Atoi(word)
	return err == nil
}
