package report

import (
	"fmt"

	"corerod/checker"
	"corerod/checker/report/words"
	"corerod/parts/source"
	"corerod/parts/subject"
)

// finding is one finding in words, with the number under which a page lists it. Its sentences have neither a capital nor a point.
type finding struct {
	number     int
	grade      string // stop, change or ask
	standing   string // what became of it since an earlier review, and whether it is conceded: begins with a comma, "" for neither
	rule       string
	subject    string // what was found
	on         string // what was found, with what was judged where that is another
	whole      bool   // it is of the part as a whole
	line       int    // of the part file
	where      string
	says       string
	also       []string // what other rules say of it
	compared   []string // failed comparisons; past the most that are asked for a count of the others
	change     string
	checked    []string // what its checked changes set and do
	none       bool     // all changes were looked at, and none clears it
	because    string
	sources    string // "" for none
	concession string // "" for none
}

// noChange says that a finding has no change.
const noChange = "no change of one or two numbers, or of structure, was found that clears it"

// findingOf words a finding, with so many comparisons at most. numbers are those under which the page lists the part's findings, by id.
func findingOf(p *checker.PartReview, f *checker.Finding, number int, numbers map[string]int, most int) finding {
	unit := p.Part.Unit
	out := finding{
		number: number, grade: string(f.Grade), standing: standing(f), rule: words.Rule(f.Rule.Name),
		subject: source.Plain(f.Subject.Place().Name), on: foundOn(f), whole: f.Subject.Kind() == subject.PartKind,
		line: f.At.Line, where: where(f, unit), says: source.Plain(f.Says), compared: words.Comparisons(f, unit, most),
		change: source.Plain(f.Rule.Change), because: source.Plain(f.Rule.Because), sources: words.Sources(f),
	}
	out.none = p.Search != nil && !p.Search.Stopped && len(f.Changes) == 0 // where the search ended is said once, at the end
	for _, g := range f.Also {
		out.also = append(out.also, words.Rule(g.Rule.Name)+": "+source.Plain(g.Says))
	}
	for _, c := range f.Changes {
		out.checked = append(out.checked, words.Change(c)+" "+words.Effect(c, numbers))
	}
	if f.Concession != nil {
		out.concession = words.Concession(f.Concession)
	}
	return out
}

// standing is what became of a finding since an earlier review, and whether it is conceded.
func standing(f *checker.Finding) (text string) {
	if f.Since != "" {
		text += ", " + string(f.Since)
	}
	if f.Conceded() {
		text += ", conceded"
	}
	return text
}

// foundOn names what a finding is of: what was judged and, where that is another, what was found beside it.
func foundOn(f *checker.Finding) string {
	name := f.Subject.Place().Name
	if f.Over != f.Subject && f.Over.Kind() != subject.PartKind {
		name = f.Over.Place().Name + " to " + name
	}
	return source.Plain(name)
}

// where says where a finding lies: line, and place on the part.
func where(f *checker.Finding, unit string) string {
	c := f.Subject.Place()
	line := fmt.Sprintf("line %d (%s)", f.At.Line, f.At.Path)
	for _, r := range f.Related {
		line += fmt.Sprintf(", line %d (%s)", r.Line, r.Path)
	}
	if f.Subject.Kind() == subject.PartKind {
		return line
	}
	at := fmt.Sprintf("at x %s, y %s, ", words.Coordinate(c.X, unit), words.Coordinate(c.Y, unit))
	if subject.Snap(c.ZLow) == subject.Snap(c.ZHigh) {
		at += "z " + words.Value(c.ZLow, subject.MM, unit)
	} else {
		at += "z " + words.Coordinate(c.ZLow, unit) + " to " + words.Value(c.ZHigh, subject.MM, unit)
	}
	if len(f.Places) > 1 {
		at += fmt.Sprintf(", the first of %d places alike", len(f.Places))
	}
	return at + "; " + line
}
