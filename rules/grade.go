package rules

import "slices"

// Grade is how serious a finding is. The zero Grade is that of a part without findings.
type Grade string

const (
	Stop   Grade = "stop"   // cannot be pressed, ejected or handled as drawn
	Change Grade = "change" // outside a limit: change it, or accept cost and tool risk
	Ask    Grade = "ask"    // possible with care, or the evidence is thin: talk to the shop
)

// grades from the mildest to the worst; the zero Grade stands before them.
var grades = []Grade{"", Ask, Change, Stop}

// Worse tells whether g is a worse grade than another.
func (g Grade) Worse(than Grade) bool {
	return slices.Index(grades, g) > slices.Index(grades, than)
}

// ParseGrade reads the word of a grade: stop, change or ask.
func ParseGrade(word string) (Grade, bool) {
	g := Grade(word)
	return g, g != "" && slices.Contains(grades, g)
}
