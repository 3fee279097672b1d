// Package words says what a review, its findings and their changes are in English, as every report for people and the messages of
// SARIF have it: numbers with their units in those of the part, comparisons, sources, changes, concessions, and what was in force.
// What comes from a file is free of characters that act on a terminal.
package words

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"corerod/checker"
	"corerod/parts"
	"corerod/rules"
)

// Caution ends every report for people.
const Caution = "This screens a drawing. It is no strength, press-safety or tool-strength calculation and no certificate: the shop, " +
	"local codes and licensed practice decide."

// Statuses say what a status means.
var Statuses = map[checker.Status]string{
	checker.Clear: "no finding at or above the grade that counts", checker.Found: "findings at or above the grade that counts",
	checker.Wrong: "problems in files or packs", checker.Nothing: "nothing was reviewed", checker.OurFault: "a fault of corerod itself",
}

// Grade is a grade as reports have it: clear where there is none.
func Grade(g rules.Grade) string { return cmp.Or(string(g), "clear") }

// ByGrade are findings by grade, place and rule: the order in which reports for people number them, from 1.
func ByGrade(fs []*checker.Finding) []*checker.Finding {
	all := slices.Clone(fs)
	slices.SortStableFunc(all, checker.ByGrade)
	return all
}

// Rule takes the hyphens out of a rule's name.
func Rule(name string) string { return strings.ReplaceAll(name, "-", " ") }

// Drawing names a part's drawing and its revision as the file has them; nothing where it names none.
func Drawing(p *parts.Part) []string {
	switch {
	case p.Drawing == "":
		return nil
	case p.Revision == "":
		return []string{"drawing " + p.Drawing}
	}
	return []string{"drawing " + p.Drawing + " revision " + p.Revision}
}

// Plural counts things that one word names.
func Plural(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	for one, many := range map[string]string{"punch": "punches", "shelf": "shelves"} {
		if rest, ok := strings.CutSuffix(what, one); ok {
			what = rest + many
			return fmt.Sprintf("%d %s", n, what)
		}
	}
	return fmt.Sprintf("%d %ss", n, what)
}

// Sentence begins text with a capital and ends it with a point.
func Sentence(s string) string {
	first, size := utf8.DecodeRuneInString(s)
	if size == 0 {
		return s
	}
	return string(unicode.ToUpper(first)) + strings.TrimSuffix(s[size:], ".") + "."
}

// Short cuts text to some characters.
func Short(s string, most int) string {
	if r := []rune(s); len(r) > most {
		return string(r[:most-1]) + "…"
	}
	return s
}

// Wordly tells the characters of names, which programs that look for mentions and links take to belong to them.
func Wordly(r rune) bool {
	return unicode.IsLetter(r) || unicode.IsDigit(r) || r == '_' || r > unicode.MaxASCII
}
