package measure

import (
	"slices"
	"strings"

	"corerod/parts/blank"
	"corerod/parts/plane"
	"corerod/parts/subject"
)

// common fills what every subject has. Its name is made of its features in alphabetical order.
func common(s *blank.Shape, features []int, at plane.Point, low, high float64) subject.Common {
	c := subject.Common{Features: names(s, features), X: at.X, Y: at.Y, ZLow: low, ZHigh: high}
	c.Name = joined(c.Features, " and ")
	return c
}

// joined names features in alphabetical order.
func joined(features []string, with string) string {
	fs := slices.Clone(features)
	slices.Sort(fs)
	if len(fs) > 2 && with == " and " {
		return strings.Join(fs[:len(fs)-1], ", ") + with + fs[len(fs)-1]
	}
	return strings.Join(fs, with)
}

// names turns feature numbers into names, each once, in order of declaration.
func names(s *blank.Shape, features []int) []string {
	fs := slices.Clone(features)
	slices.Sort(fs)
	var out []string
	for _, f := range slices.Compact(fs) {
		if name := s.Feature(f).Name; !slices.Contains(out, name) { // a relief has that of its body
			out = append(out, name)
		}
	}
	return out
}
