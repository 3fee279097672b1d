package report

import (
	"cmp"
	"fmt"
	"io"
	"slices"
	"strings"

	"corerod/checker"
	"corerod/checker/report/words"
	"corerod/rules"
)

// Bounds of the Markdown of a review, beside those of every page: of the table of parts, of the problems, of the
// folders that were passed over, of a name in the table, of what is said of cuts.
const (
	mostRows     = 100
	mostTable    = 12_000 // bytes
	mostProblems = 8_000  // bytes
	mostPassed   = 2_000  // bytes
	mostSince    = 6_000  // bytes
	mostName     = 100    // characters, before it is escaped
	roomForCut   = 600    // bytes
)

// mostKept is how many parts with findings are kept for a page. It has room for fewer findings than that.
const mostKept = 1000

// NewMarkdown writes a review as a page that fits a comment on a change: the verdict, a table of the parts that are not clear,
// the findings of all parts by grade, then what could not be read and what was in force. It is shorter than 60,000
// characters; where something had to go, it says how much. Of very many parts it keeps the worst.
func NewMarkdown(w io.Writer) Stream { return &reviewPage{w: w} }

// reviewPage is a review on its way to Markdown.
type reviewPage struct {
	markdownWriter
	w        io.Writer
	r        *checker.Review
	first    *checker.PartReview
	parts    []*checker.PartReview // with findings, the worst of them
	of, with int                   // all findings, and the parts that have any
	unused   markdownWriter        // concessions
	rows     int                   // parts that the table leaves out
	left     int                   // findings that are left out
	leftOf   int                   // parts that they are of
}

// Part implements Stream.
func (p *reviewPage) Part(x *checker.PartReview) {
	if p.first == nil {
		p.first = x
	}
	for _, l := range unused(x) {
		p.unused.add("- " + p.unused.text(x.Part.Name+": "+l))
	}
	if len(x.Findings) == 0 {
		return
	}
	p.of += len(x.Findings)
	p.with++
	if p.parts = append(p.parts, x); len(p.parts) == 2*mostKept {
		p.parts = slices.Clone(worstFirst(p.parts)[:mostKept])
	}
}

// End implements Stream.
func (p *reviewPage) End(r *checker.Review) error {
	p.r, p.parts = r, worstFirst(p.parts)
	head := p.verdict() + p.table() + p.since()
	tail := p.problems() + "\n#### Judged by\n" + closingLines(append(inForce(r), words.Caution))
	body := p.findings(mostMarkdown - len(head) - len(tail) - roomForCut)
	_, err := io.WriteString(p.w, head+body+p.cuts()+tail)
	return err
}

// worstFirst are parts by how many stops they have that count, then changes, then asks, then by their worst finding that does not
// count, then in the order of the files.
func worstFirst(ps []*checker.PartReview) []*checker.PartReview {
	all := slices.Clone(ps)
	slices.SortStableFunc(all, func(a, b *checker.PartReview) int {
		return cmp.Or(ranked(b, 0)-ranked(a, 0), ranked(b, 1)-ranked(a, 1), ranked(b, 2)-ranked(a, 2), leastRank(a)-leastRank(b))
	})
	return all
}

// ranked counts the findings of a part that have a rank.
func ranked(p *checker.PartReview, rank int) (n int) {
	for _, f := range p.Findings {
		if (onPage{f: f}).rank() == rank {
			n++
		}
	}
	return n
}

// leastRank is the rank of a part's finding that comes first on a page.
func leastRank(p *checker.PartReview) int {
	least := 1000
	for _, f := range p.Findings {
		least = min(least, onPage{f: f}.rank())
	}
	return least
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
			p.left, p.leftOf = p.of-i, p.with-shownWhole(all[:i])
			break
		}
		text += entry
	}
	return text
}

// shownWhole counts the parts all of whose findings are among some.
func shownWhole(some []onPage) (n int) {
	shown := map[*checker.PartReview]int{}
	for _, x := range some {
		if shown[x.part]++; shown[x.part] == len(x.part.Findings) {
			n++
		}
	}
	return n
}

// mostShown is the number of comparisons that a finding shows.
const mostShown = 3

// finding is one finding in short: an item of a numbered list, with one below it for each thing that is said.
func (p *reviewPage) finding(x onPage, numbers map[string]int) string {
	f := findingOf(x.part, x.f, x.number, numbers, mostShown)
	marker := fmt.Sprintf("%d. ", f.number)
	text := fmt.Sprintf("%s**%s**: %s; %s, line %d\n", marker, f.grade+f.standing, p.text(f.rule+", "+f.on),
		p.text(x.part.Part.Name+", "+x.part.File), f.line)
	line := func(s string) { text += strings.Repeat(" ", len(marker)) + "- " + p.text(s) + "\n" }
	line(strings.TrimSuffix(f.says, ".") + ".")
	for _, l := range f.compared {
		line(l)
	}
	for _, a := range f.also {
		line("Also " + a + ".")
	}
	if len(f.checked) == 0 {
		line("Change: " + f.change + ".")
	} else {
		line("Checked: " + f.checked[0])
	}
	if f.concession != "" {
		line("Concession: " + f.concession + ".")
	}
	return text
}

// cuts tell what the page leaves out.
func (p *reviewPage) cuts() string {
	text := ""
	if p.left > 0 {
		text += fmt.Sprintf("\n%s of %s left out here: the page would be longer than %d characters. The text and the JSON have all.\n",
			words.Plural(p.left, "more finding"), words.Plural(p.leftOf, "part"), mostMarkdown)
	}
	if p.shortened > 0 {
		text += fmt.Sprintf("\n%s shortened here. The text and the JSON have all.\n", textsWere(p.shortened))
	}
	return text
}
