package report

import (
	"fmt"
	"strings"
)

// Bounds of a Markdown page, which often is a comment on a change: in bytes, so at most so many characters.
const (
	mostMarkdown = 60_000
	mostClosing  = 6_000
	mostCell     = 400 // characters of one text, before it is escaped
)

// markdownWriter collects the lines of a page.
type markdownWriter struct {
	lines     []string
	shortened int
}

func (m *markdownWriter) add(line string) { m.lines = append(m.lines, line) }

// text escapes a text, and shortens one that is very long.
func (m *markdownWriter) text(s string) string {
	if r := []rune(s); len(r) > mostCell {
		m.shortened++
		s = string(r[:mostCell]) + "..."
	}
	return markdown(s)
}

// entries writes items of a list, what belongs to each as a list below it.
func (m *markdownWriter) entries(indent string, all []entry) {
	for i := range all {
		m.add(indent + "- " + m.text(all[i].head))
		m.entries(indent+"  ", all[i].below)
	}
}

func (m *markdownWriter) section(s *section) {
	m.add("\n#### " + m.text(s.title) + "\n")
	for i, row := range s.table {
		cells := make([]string, len(row))
		for j, c := range row {
			cells[j] = m.text(c)
		}
		m.add("| " + strings.Join(cells, " | ") + " |")
		if i == 0 {
			m.add(strings.Repeat("|---", len(row)) + "|")
		}
	}
	if len(s.table) > 0 && len(s.entries)+len(s.notes) > 0 {
		m.add("")
	}
	m.entries("", s.entries)
	for _, l := range s.notes {
		m.add("- " + m.text(l))
	}
}

// page joins the lines, those that fit, and tells how many do not.
func (m *markdownWriter) page(most int) string {
	const room = 200 // for what is said of the cut
	var b strings.Builder
	for i, l := range m.lines {
		if b.Len()+len(l)+1 > most-room {
			fmt.Fprintf(&b, "\n%s left out here: the page would be longer than %d characters. The text and the JSON have all.\n",
				linesWere(len(m.lines)-i), mostMarkdown)
			return b.String()
		}
		b.WriteString(l + "\n")
	}
	if m.shortened > 0 {
		fmt.Fprintf(&b, "\n%s shortened here. The text and the JSON have all.\n", textsWere(m.shortened))
	}
	return b.String()
}

func linesWere(n int) string {
	if n == 1 {
		return "1 line was"
	}
	return fmt.Sprintf("%d lines were", n)
}

func textsWere(n int) string {
	if n == 1 {
		return "1 long text was"
	}
	return fmt.Sprintf("%d long texts were", n)
}

// closingLines close a page with what was in force and the caution, which is the last and always there.
func closingLines(lines []string) string {
	m := &markdownWriter{}
	last := "\n" + m.text(lines[len(lines)-1]) + "\n"
	text := "\n"
	for i, l := range lines[:len(lines)-1] {
		l = "- " + m.text(l) + "\n"
		if len(text)+len(l)+len(last) > mostClosing {
			text += fmt.Sprintf("- and %d more of what was in force\n", len(lines)-1-i)
			break
		}
		text += l
	}
	return text + last
}

// under is a list below a heading; nothing where there is none.
func (m *markdownWriter) under(heading string, most int) string {
	if len(m.lines) == 0 {
		return ""
	}
	return "\n#### " + heading + "\n\n" + m.page(most)
}
