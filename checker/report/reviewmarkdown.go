package report

import (
	"cmp"
	"fmt"
	"io"
	"slices"
	"strings"

	"corerod/checker"
	"corerod/rules"
)

// Bounds of the Markdown of a review, beside those of every page: of the table of parts, of the problems, of the
// folders that were passed over, of a name in the table, of what is said of cuts.
const (
	mostRows     = 100
	mostTable    = 12_000 // bytes
	mostProblems = 8_000  // bytes
	mostPassed   = 2_000  // bytes
	mostName     = 100    // characters, before it is escaped
	roomForCut   = 600    // bytes
)

// Markdown writes a review as a page that fits a comment on a change: the verdict, a table of the parts that are not clear,
// the findings of all parts by grade, then what could not be read and what was in force. It is shorter than 60,000
// characters; where something had to go, it says how much.
func Markdown(w io.Writer, r *checker.Review) error {
	p := &reviewPage{r: r, parts: worstFirst(r.Parts)}
	head := p.verdict() + p.table() + p.only()
	tail := p.problems() + "\n#### Judged by\n" + closingLines(append(forceLines(r.Packs, r.Shop), Caution))
	body := p.findings(mostMarkdown - len(head) - len(tail) - roomForCut)
	_, err := io.WriteString(w, head+body+p.cuts()+tail)
	return err
}

// reviewPage is a review on its way to Markdown.
type reviewPage struct {
	markdownWriter
	r     *checker.Review
	parts []*checker.PartReview // the worst first
	rows  int                   // parts that the table leaves out
	left  int                   // findings that are left out
	of    int                   // parts that they are of
}

// worstFirst are parts by how many stops they have, then changes, then asks, then in the order of the files.
func worstFirst(ps []*checker.PartReview) []*checker.PartReview {
	all := slices.Clone(ps)
	slices.SortStableFunc(all, func(a, b *checker.PartReview) int {
		return cmp.Or(graded(b, rules.Stop)-graded(a, rules.Stop), graded(b, rules.Change)-graded(a, rules.Change), graded(b, rules.Ask)-graded(a, rules.Ask))
	})
	return all
}

// graded counts the findings of a part that have a grade.
func graded(p *checker.PartReview, g rules.Grade) (n int) {
	for _, f := range p.Findings {
		if f.Grade == g {
			n++
		}
	}
	return n
}

// verdict is the first line of the page, and what it counts.
func (p *reviewPage) verdict() string {
	r := p.r
	var all []string
	switch len(r.Parts) {
	case 0:
		all = append(all, "Nothing was reviewed")
	case 1:
		all = append(all, p.text(named(r.Parts[0]))+": "+verdict(r.Parts[0]))
	default:
		t := &textWriter{apart: true, blocks: []block{{}}}
		t.tally(r)
		all = append(all, strings.TrimSuffix(t.blocks[0].lines[0], "."))
	}
	if n := unreadFiles(r); n > 0 {
		all = append(all, "problems in "+plural(n, "file"))
	}
	if n := len(r.Faults); n > 0 {
		all = append(all, plural(n, "fault")+" of corerod itself")
	}
	return fmt.Sprintf("### %s\n\nStatus %d: %s (`%s`).\n", strings.Join(all, "; "), r.Status, exitWords[r.Status], r.StatusAt)
}

// named is a part as its drawing names it.
func named(p *checker.PartReview) string {
	text := p.Part.Name
	if p.Part.Drawing != "" {
		text += ", drawing " + short(p.Part.Drawing, mostName)
		if p.Part.Revision != "" {
			text += " revision " + short(p.Part.Revision, mostName)
		}
	}
	return text
}

// unreadFiles counts the files, of parts and of packs, that have problems.
func unreadFiles(r *checker.Review) int {
	files := map[string]bool{}
	for _, u := range r.Unread {
		files[u.File] = true
	}
	return len(files)
}

// table has a row for each part that is not clear, and for one that was reviewed alone.
func (p *reviewPage) table() string {
	var b strings.Builder
	clear, rows := 0, 0
	for _, x := range p.parts {
		if x.Grade == "" && len(p.parts) > 1 {
			clear++
			continue
		}
		row := "| " + strings.Join(p.row(x), " | ") + " |\n"
		if rows == mostRows || b.Len()+len(row) > mostTable {
			p.rows++
			continue
		}
		rows++
		b.WriteString(row)
	}
	if rows == 0 && p.rows == 0 {
		return ""
	}
	text := "\n| grade | part | file | stop | change | ask | height | across | mass, g | class | force, kN |\n" + strings.Repeat("|---", 11) + "|\n" + b.String()
	if p.rows > 0 {
		text += fmt.Sprintf("\n%s with findings left out of the table.\n", were(p.rows, "part"))
	}
	if clear > 0 {
		text += fmt.Sprintf("\n%s clear.\n", areOrIs(clear, "part"))
	}
	return text
}

func were(n int, what string) string {
	if n == 1 {
		return "1 more " + what + " was"
	}
	return fmt.Sprintf("%d more %ss were", n, what)
}

func areOrIs(n int, what string) string {
	if n == 1 {
		return "1 " + what + " is"
	}
	return fmt.Sprintf("%d %ss are", n, what)
}

// row is a part's row of the table.
func (p *reviewPage) row(x *checker.PartReview) []string {
	s, u := x.Subject, x.Part.Unit
	known := func(v *number) string {
		if v == nil {
			return ""
		}
		return digits(float64(*v))
	}
	cells := []string{gradeWord(x), markdown(short(named(x), mostName)), markdown(short(x.File, mostName))}
	for _, g := range []rules.Grade{rules.Stop, rules.Change, rules.Ask} {
		cells = append(cells, fmt.Sprint(graded(x, g)))
	}
	return append(cells, value(s.Height, "mm", u), value(s.Outside, "mm", u), known(optional(s.Mass)), classWord(s.Class), known(optional(s.Force)))
}

func (p *reviewPage) only() string {
	if len(p.r.Only) == 0 {
		return ""
	}
	return "\nJudged by these rules alone: " + p.text(strings.Join(p.r.Only, ", ")) + ".\n"
}

// onPage is a finding with its part and its number on the page.
type onPage struct {
	part   *checker.PartReview
	f      *checker.Finding
	number int
}

// all are the findings of all parts by grade, those of one grade by part, and the numbers of each part's by their ids.
func (p *reviewPage) all() (all []onPage, numbers map[*checker.PartReview]map[string]int) {
	numbers = map[*checker.PartReview]map[string]int{}
	for _, g := range []rules.Grade{rules.Stop, rules.Change, rules.Ask} {
		for _, x := range p.parts {
			for _, f := range x.Findings {
				if f.Grade != g {
					continue
				}
				all = append(all, onPage{x, f, len(all) + 1})
				if numbers[x] == nil {
					numbers[x] = map[string]int{}
				}
				numbers[x][f.ID] = len(all)
			}
		}
	}
	return all, numbers
}

// findings writes as many findings as there is room for, the worst first, and counts the others.
func (p *reviewPage) findings(room int) string {
	all, numbers := p.all()
	if len(all) == 0 {
		return ""
	}
	text := "\n#### Findings\n\n"
	for i, x := range all {
		shortened := p.shortened
		entry := p.finding(x, numbers[x.part])
		if len(text)+len(entry) > room {
			p.shortened = shortened
			p.left, p.of = len(all)-i, partsOf(all[i:])
			break
		}
		text += entry
	}
	return text
}

func partsOf(all []onPage) int {
	of := map[*checker.PartReview]bool{}
	for _, x := range all {
		of[x.part] = true
	}
	return len(of)
}

// mostShown is the number of comparisons that a finding shows.
const mostShown = 3

// finding is one finding in short: an item of a numbered list, with one below it for each thing that is said.
func (p *reviewPage) finding(x onPage, numbers map[string]int) string {
	f, unit := x.f, x.part.Part.Unit
	marker := fmt.Sprintf("%d. ", x.number)
	text := fmt.Sprintf("%s**%s**: %s; %s, line %d\n", marker, f.Grade, p.text(prose(f.Rule.Name)+", "+f.Subject.Place().Name),
		p.text(x.part.Part.Name+", "+x.part.File), f.At.Line)
	line := func(s string) { text += strings.Repeat(" ", len(marker)) + "- " + p.text(s) + "\n" }
	line(strings.TrimSuffix(f.Says, ".") + ".")
	shown := min(mostShown, len(f.Compared))
	for i := range shown {
		line(compared(&f.Compared[i], unit))
	}
	if more := len(f.Compared) - shown + f.More; more > 0 {
		line("and " + plural(more, "more comparison"))
	}
	if len(f.Changes) == 0 {
		line("Change: " + f.Rule.Change + ".")
	} else {
		line("Checked: " + changeText(f.Changes[0]) + " " + effect(f.Changes[0], numbers))
	}
	return text
}

// cuts tell what the page leaves out.
func (p *reviewPage) cuts() string {
	text := ""
	if p.left > 0 {
		text += fmt.Sprintf("\n%s of %s left out here: the page would be longer than %d characters. The text and the JSON have all.\n",
			plural(p.left, "more finding"), plural(p.of, "part"), mostMarkdown)
	}
	if p.shortened > 0 {
		text += fmt.Sprintf("\n%s shortened here. The text and the JSON have all.\n", textsWere(p.shortened))
	}
	return text
}

// problems lists those of files and packs and our own faults, then the folders that were passed over.
func (p *reviewPage) problems() string {
	m, passed := &markdownWriter{}, &markdownWriter{}
	for _, f := range p.r.Faults {
		m.add("- " + m.text("A fault of corerod itself; please report it with the part file: "+f))
	}
	for _, u := range p.r.Unread {
		at := ""
		if u.Line > 0 {
			at = fmt.Sprintf(", line %d, column %d", u.Line, u.Column)
		}
		m.add("- " + m.text(short(u.File, mostName)) + at + ": " + m.text(u.Message))
	}
	for _, f := range p.r.PassedOver {
		passed.add("- " + passed.text(short(f, mostName)+" holds a rule pack. Name it to review its trial parts."))
	}
	return m.under("Problems", mostProblems) + passed.under("Passed over", mostPassed)
}

// under is a list below a heading; nothing where there is none.
func (m *markdownWriter) under(heading string, most int) string {
	if len(m.lines) == 0 {
		return ""
	}
	return "\n#### " + heading + "\n\n" + m.page(most)
}
