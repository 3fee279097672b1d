package checker

import (
	"corerod/parts/form"
	"slices"
	"strconv"
	"strings"
)

// rename finds the features that have another name.
func (d *redrawing) rename(old, new []form.Drawn) {
	d.names, d.sizes = form.Renames(old, new)
	d.swapped = form.Swapped(old, new, d.names)
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

// reference is the text of a reference of the old file with the names of the new one.
func (d *redrawing) reference(text string) string { return form.Reference(text, d.names) }

// called is a subject's name of the old part with the names of the new one, its words in alphabetical order and its
// ordinal left out: a name lists its features in alphabetical order.
func (d *redrawing) called(kind, name string, old bool) string {
	words := splitName(name)
	if n := len(words); n > 1 && ordinal(words[n-1]) {
		words = words[:n-1]
	}
	return strings.Join(d.now(kind, words, old), " ")
}

// words are those of a name with its ordinal: copies of one feature are told apart by it.
func (d *redrawing) words(name string, old bool) []string { return d.now("", splitName(name), old) }

func splitName(name string) []string {
	return strings.FieldsFunc(name, func(r rune) bool { return strings.ContainsRune(" ,;", r) })
}

// now are the words of an old name as they are now, in alphabetical order.
func (d *redrawing) now(kind string, words []string, old bool) []string {
	section := ""
	if kind == "dimension" {
		section = "dimensions"
	}
	for i, w := range words {
		if old {
			words[i] = d.renamed(section, w)
		}
	}
	slices.Sort(words)
	return words
}

// ordinal tells the number of a subject in its name from a feature's name, which begins with a letter.
func ordinal(word string) bool {
	_, err := strconv.Atoi(word)
	return err == nil
}
