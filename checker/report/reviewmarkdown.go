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
	mostSince    = 3_000  // bytes
	mostName     = 100    // characters, before it is escaped
	roomForCut   = 600    // bytes
)

// Markdown writes a review as a page that fits a comment on a change: the verdict, a table of the parts that are not clear,
// the findings of all parts by grade, then what could not be read and what was in force. It is shorter than 60,000
// characters; where something had to go, it says how much.
func Markdown(w io.Writer, r *checker.Review) error {
	p := &reviewPage{r: r, parts: worstFirst(r.Parts)}
	head := p.verdict() + p.table() + p.since()
	tail := p.problems() + "\n#### Judged by\n" + closingLines(append(asLines(func(t *textWriter) { t.inForce(r) }), Caution))
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

// graded counts the findings of a part that have a grade and are not conceded.
func graded(p *checker.PartReview, g rules.Grade) (n int) {
	for _, f := range p.Findings {
		if f.Grade == g && !f.Conceded() {
			n++
		}
	}
	return n
}

// onPage is a finding with its part and its number on the page.
type onPage struct {
	part   *checker.PartReview
	f      *checker.Finding
	number int
}

// all are the findings of all parts by grade, those of one grade by part, and the numbers of each part's by their ids. Those
// that an earlier review had come after the others, and those that are conceded last: they do not count.
func (p *reviewPage) all() (all []onPage, numbers map[*checker.PartReview]map[string]int) {
	for _, x := range p.parts {
		for _, f := range x.Findings {
			all = append(all, onPage{part: x, f: f})
		}
	}
	slices.SortStableFunc(all, func(a, b onPage) int { return a.rank() - b.rank() })
	numbers = map[*checker.PartReview]map[string]int{}
	for i := range all {
		x := &all[i]
		x.number = i + 1
		if numbers[x.part] == nil {
			numbers[x.part] = map[string]int{}
		}
		numbers[x.part][x.f.ID] = x.number
	}
	return all, numbers
}

// rank is a finding's place in the order of the page.
func (x onPage) rank() int {
	rank := slices.Index([]rules.Grade{rules.Stop, rules.Change, rules.Ask}, x.f.Grade)
	switch {
	case x.f.Conceded():
		rank += 20
	case x.f.Since == checker.SinceSame:
		rank += 10
	}
	return rank
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
	text := fmt.Sprintf("%s**%s**: %s; %s, line %d\n", marker, gradeText(f), p.text(prose(f.Rule.Name)+", "+f.Subject.Place().Name),
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
	if f.Concession != nil {
		line("Concession: " + concededText(f.Concession) + ".")
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
