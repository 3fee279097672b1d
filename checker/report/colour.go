package report

import (
	"strings"

	"corerod/parts/source"
)

// gradeAt is a grade's word in what was written.
type gradeAt struct{ from, to int }

// colours begin a bold word of each grade. The word says all; the colour only helps to find it.
var colours = map[string]string{"stop": "\x1b[1;31m", "change": "\x1b[1;33m", "ask": "\x1b[1;36m", "clear": "\x1b[1;32m"}

const plainAgain = "\x1b[0m"

var gradeWords = source.Pattern(`\b(stop|change|ask|clear)\b`)

// graded writes a line as line does; its first words that are grades, so many at most, are painted.
func (t *textWriter) graded(most int, format string, args ...any) {
	start := t.b.Len()
	t.line(format, args...)
	if !t.colour {
		return
	}
	for _, at := range gradeWords().FindAllStringIndex(t.b.String()[start:], most) {
		t.grades = append(t.grades, gradeAt{start + at[0], start + at[1]})
	}
}

// painted is all that was written; lines were broken before, so that they break alike with colour and without.
func (t *textWriter) painted() string {
	text, at := t.b.String(), 0
	var b strings.Builder
	for _, g := range t.grades {
		b.WriteString(text[at:g.from] + colours[text[g.from:g.to]] + text[g.from:g.to] + plainAgain)
		at = g.to
	}
	return b.String() + text[at:]
}
