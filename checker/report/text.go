// Package report writes the result of a review: pure functions from a review to text and machine formats. Text that
// comes from a file is escaped for where it goes, so that nothing in a part or pack can act on what shows it.
package report

import (
	"fmt"
	"strings"
	"unicode/utf8"

	"corerod/checker"
	"corerod/checker/report/words"
	"corerod/parts"
	"corerod/parts/source"
	"corerod/parts/subject"
	"corerod/rules"
)

// textWriter writes text for people. With apart its lines and tables are kept in blocks instead, for a medium that lays
// them out itself.
type textWriter struct {
	b      strings.Builder
	begun  bool // a line was written
	apart  bool
	blocks []block
	colour bool
	grades []gradeAt
}

// block is a titled stretch of a report.
type block struct {
	title string
	lines []string
	rows  [][]string
}

// most is the length of a line, in characters; longer ones go on below, set in by two more.
const most = 100

func (t *textWriter) line(format string, args ...any) {
	text := format
	if len(args) > 0 {
		text = fmt.Sprintf(format, args...)
	}
	if t.apart {
		if text = strings.TrimSpace(text); text != "" {
			last := &t.blocks[len(t.blocks)-1]
			last.lines = append(last.lines, text)
		}
		return
	}
	indent := text[:len(text)-len(strings.TrimLeft(text, " "))]
	if indent != "" {
		indent += "  "
	}
	t.wrapped(text, indent)
}

// wrapped writes text in lines, those after the first set in.
func (t *textWriter) wrapped(text, indent string) {
	for {
		cut := breakAt(text, len(indent))
		t.begun = true
		t.b.WriteString(text[:cut])
		t.b.WriteByte('\n')
		if cut == len(text) {
			return
		}
		text = indent + text[cut+1:]
	}
}

// breakAt is where a line is to end: at its last space before most, or whole where it has none.
func breakAt(text string, indent int) int {
	if utf8.RuneCountInString(text) <= most {
		return len(text)
	}
	end := len(string([]rune(text)[:most+1]))
	if cut := strings.LastIndexByte(text[:end], ' '); cut > indent {
		return cut
	}
	if cut := strings.IndexByte(text[end:], ' '); cut >= 0 {
		return end + cut
	}
	return len(text)
}

// head names a part as its drawing does, and its file.
func (t *textWriter) head(p *parts.Part) {
	head := []string{p.Name}
	if p.Title != "" {
		head = append(head, source.Plain(p.Title))
	}
	for _, d := range words.Drawing(p) {
		head = append(head, source.Plain(d))
	}
	t.wrapped(strings.Join(head, ", "), "  ") // no line begins with text of the file
	t.line("  %s", source.Plain(p.File))
}

func (t *textWriter) part(p *checker.PartReview) {
	t.head(p.Part)
	t.graded(4, "  %s", verdict(p))
	t.line("  %s", figures(p))
	findings := words.ByGrade(p.Findings)
	numbers := map[string]int{}
	for i, f := range findings {
		numbers[f.ID] = i + 1
	}
	for i, f := range findings {
		t.line("")
		t.finding(i+1, f, p.Part.Unit)
		t.changes(p, f, numbers)
		t.ground(f)
		t.conceded(f.Concession)
	}
	t.since(p)
	t.renewed(p)
	t.searched(p)
	t.concessions(p)
	if len(p.Notes) > 0 {
		t.line("")
		for _, n := range p.Notes {
			t.line("  Note, line %d: %s.", n.At.Line, source.Plain(n.Says))
		}
	}
	if len(p.Narrowest) > 0 {
		t.line("")
		t.line("  Met most narrowly:")
		for _, m := range p.Narrowest {
			t.line("    %s", margin(m, p.Part.Unit))
		}
	}
	t.account(p)
}

// margin words a limit that was met.
func margin(m rules.Margin, unit string) string {
	return fmt.Sprintf("%s, %s: %s, needed %s", words.Rule(m.Rule.Name), source.Plain(m.Subject.Place().Name), words.Value(m.Compared.Value, m.Compared.Unit, unit), words.Needed(&m.Compared, unit))
}

// account tells of every rule whether it applied, and why not.
func (t *textWriter) account(p *checker.PartReview) {
	if len(p.Account) == 0 {
		return
	}
	t.line("")
	t.line("  Account of the rules:")
	for _, a := range p.Account {
		switch {
		case a.Why != "":
			t.line("    %s: not applicable; %s", words.Rule(a.Rule.Name), source.Plain(a.Why))
		case a.Found == 0:
			t.line("    %s: applied to %d of %s, no finding", words.Rule(a.Rule.Name), a.Applied, words.Plural(a.Subjects, a.Rule.Over))
		default:
			t.line("    %s: applied to %d of %s, %s", words.Rule(a.Rule.Name), a.Applied, words.Plural(a.Subjects, a.Rule.Over), words.Plural(a.Found, "finding"))
		}
	}
}

// verdict states the part's grade and how many findings of each there are.
func verdict(p *checker.PartReview) string {
	judged := fmt.Sprintf("%s applied, %d not applicable", words.Plural(p.Applied, "rule"), p.NotApplicable)
	conceded := 0
	for _, f := range p.Findings {
		if f.Conceded() {
			conceded++
		}
	}
	var counts []string
	if p.Grade == "" {
		counts = append(counts, "clear")
	}
	for _, g := range []rules.Grade{rules.Stop, rules.Change, rules.Ask} {
		n := 0
		for _, f := range p.Findings {
			if f.Grade == g && !f.Conceded() {
				n++
			}
		}
		if n > 0 {
			counts = append(counts, fmt.Sprintf("%d %s", n, g))
		}
	}
	if conceded > 0 {
		counts = append(counts, fmt.Sprintf("%d conceded", conceded))
	}
	return strings.Join(counts, ", ") + ": " + judged
}

// figures states the part's main sizes.
func figures(p *checker.PartReview) string {
	s, u := p.Subject, p.Part.Unit
	parts := []string{
		fmt.Sprintf("%s high, %s across", words.Value(s.Height, subject.MM, u), words.Value(s.Outside, subject.MM, u)),
		fmt.Sprintf("plan %s, volume %s", words.Area(s.PlanArea, u), words.Volume(s.Volume, u)),
	}
	if s.Mass.Known {
		parts = append(parts, words.Digits(s.Mass.Value)+" g at "+words.Digits(s.Density.Value)+" g/cm3")
	}
	parts = append(parts, fmt.Sprintf("%s on top, %s below, class %s", words.Plural(int(s.LevelsTop), "level"), words.Plural(int(s.LevelsBottom), "level"), words.Class(s.Class)))
	if s.Force.Known {
		parts = append(parts, words.Digits(s.Force.Value)+" kN to press")
	}
	return strings.Join(parts, "; ")
}

// finding writes one finding: grade, rule and subject; place; measured, needed and missed; advice.
func (t *textWriter) finding(n int, f *checker.Finding, unit string) {
	t.graded(1, "  %d. %s: %s, %s", n, gradeText(f), words.Rule(f.Rule.Name), source.Plain(foundOn(f)))
	t.line("     %s", where(f, unit))
	t.line("     %s.", source.Plain(f.Says))
	for _, l := range words.Comparisons(f, unit, words.MostCompared) {
		t.line("     %s", l)
	}
	t.line("     Change: %s.", source.Plain(f.Rule.Change))
}

// foundOn names what a finding is of: what was judged and, where that is another, what was found beside it.
func foundOn(f *checker.Finding) string {
	name := f.Subject.Place().Name
	if f.Over == f.Subject || f.Over.Kind() == subject.PartKind {
		return name
	}
	return f.Over.Place().Name + " to " + name
}

// gradeText is the grade of a finding, what became of it since an earlier review, and whether it is conceded.
func gradeText(f *checker.Finding) string {
	text := string(f.Grade)
	if f.Since != "" {
		text += ", " + string(f.Since)
	}
	if f.Conceded() {
		text += ", conceded"
	}
	return text
}

// ground says why a finding matters, and what its limits stand on.
func (t *textWriter) ground(f *checker.Finding) {
	t.line("     In the die: %s", source.Plain(f.Rule.Because))
	if s := words.Sources(f); s != "" {
		t.line("     Ground: %s.", s)
	}
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

func (t *textWriter) unread(r *checker.Review) {
	file := ""
	for i, u := range r.Unread {
		if i == 0 || u.File != file {
			if t.begun {
				t.line("")
			}
			t.line("Problems in %s:", source.Plain(u.File))
			file = u.File
		}
		at := ""
		if u.Line > 0 {
			at = fmt.Sprintf("line %d, column %d: ", u.Line, u.Column)
		}
		t.line("  %s%s", at, source.Plain(u.Message))
	}
	for _, f := range r.Faults {
		t.line("")
		t.line("A fault of corerod itself; please report it with the part file: %s", source.Plain(f))
	}
}

// tally counts the parts by grade.
func (t *textWriter) tally(r *checker.Review) {
	var all []string
	for _, g := range []rules.Grade{rules.Stop, rules.Change, rules.Ask, ""} {
		if n := r.Graded[g]; n > 0 {
			all = append(all, fmt.Sprintf("%d %s", n, words.Grade(g)))
		}
	}
	t.graded(4, "%s reviewed: %s.", words.Plural(r.Reviewed(), "part"), strings.Join(all, ", "))
}

func (t *textWriter) inForce(r *checker.Review) {
	if len(r.Only) > 0 {
		t.line("Judged by these rules alone: %s.", strings.Join(r.Only, ", "))
	}
	for i, f := range r.Forces {
		if len(r.Forces) > 1 {
			t.line("%s of %d, from grade %s on:", []string{"Rules", "Other rules"}[min(i, 1)], len(r.Forces), f.StatusAt)
		}
		t.force(f.Book.Packs, f.Shop)
		if f.Concede != nil {
			t.line("Concessions: %s, %s, sha256 %.12s.", source.Plain(f.Concede.File), words.Plural(len(f.Concede.Records), "record"), f.Concede.SHA256)
		}
	}
	for _, f := range r.NotInForce {
		t.line("Not in force: %s.", source.Plain(f))
	}
}

// force names the shop file and the packs in force, and what they leave out and change.
func (t *textWriter) force(packs []*rules.Pack, shop *rules.Shop) {
	for _, l := range words.Force(packs, shop) {
		t.line("%s", l)
	}
}
