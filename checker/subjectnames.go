package checker

import (
	"slices"
	"strings"

	"corerod/parts/subject"
)

// NameWords are the words of a subject's name: those of its features, and its ordinal, by which copies of one feature are told apart.
func NameWords(name string) []string {
	return strings.FieldsFunc(name, func(r rune) bool { return strings.ContainsRune(" ,;", r) })
}

// Whereabouts tells a measure that says where a subject is, not what it is.
func Whereabouts(f *subject.Field) bool {
	return slices.Contains([]string{"x", "y", "z_low", "z_high"}, f.Name)
}
