package report

import (
	"io"

	"corerod/checker/compare"
	"corerod/checker/report/words"
)

// CompareMarkdown writes what a revision changes as Markdown, in the order of Compare. A page that would be longer than
// 60,000 characters is cut between two lines, and says so.
func CompareMarkdown(w io.Writer, c *compare.Comparison, in words.InForce) error {
	p := pageOf(c, &in)
	m := &markdownWriter{}
	m.add("### " + m.text(p.head) + "\n")
	m.entries("", p.facts)
	for i := range p.sections {
		m.section(&p.sections[i])
	}
	closing := closingLines(p.closing)
	_, err := io.WriteString(w, m.page(mostMarkdown-len(closing))+closing)
	return err
}
