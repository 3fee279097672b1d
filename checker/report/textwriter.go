package report

import (
	"fmt"
	"math"
	"strings"
	"text/tabwriter"
)

// textWriter sets text for people: lines of at most so many characters, and tables with aligned columns.
type textWriter struct {
	b      strings.Builder
	begun  bool // a line was written
	colour bool
}

// most is the length of a line, in characters; longer ones go on below, set in by two more.
const most = 100

// line writes a line, with what follows set in by as many blanks as it begins with and two more.
func (t *textWriter) line(format string, args ...any) {
	text := format
	if len(args) > 0 {
		text = fmt.Sprintf(format, args...)
	}
	indent := text[:len(text)-len(strings.TrimLeft(text, " "))]
	if indent != "" {
		indent += "  "
	}
	t.wrapped(text, indent)
}

// lines writes lines after some blanks.
func (t *textWriter) lines(indent string, all []string) {
	for _, l := range all {
		t.line("%s%s", indent, l)
	}
}

// list writes lines after an empty one; nothing where there are none.
func (t *textWriter) list(indent string, all []string) {
	if len(all) > 0 {
		t.line("")
		t.lines(indent, all)
	}
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

// breakAt is where a line is to end: at its last space before most, or whole where it has none. Codes of colours take no room, so that
// lines break alike with colour and without.
func breakAt(text string, indent int) int {
	if len(text) <= most {
		return len(text)
	}
	end, n, code := -1, 0, false
	for i, r := range text {
		switch {
		case r == '\x1b':
			code = true
		case code:
			code = r != 'm'
		default:
			n++
		}
		if n == most+1 {
			end = i + len(string(r))
			break
		}
	}
	if end < 0 {
		return len(text)
	}
	if cut := strings.LastIndexByte(text[:end], ' '); cut > indent {
		return cut
	}
	if cut := strings.IndexByte(text[end:], ' '); cut >= 0 {
		return end + cut
	}
	return len(text)
}

// colours begin a bold word of each grade. The word says all; the colour only helps to find it.
var colours = map[string]string{"stop": "\x1b[1;31m", "change": "\x1b[1;33m", "ask": "\x1b[1;36m", "clear": "\x1b[1;32m"}

const plainAgain = "\x1b[0m"

// grade is the word of a grade, painted on a terminal.
func (t *textWriter) grade(word string) string {
	if code := colours[word]; t.colour && code != "" {
		return code + word + plainAgain
	}
	return word
}

// heading names a part and its file.
func (t *textWriter) heading(h *heading) {
	t.wrapped(h.line(), "  ") // no line begins with text of the file
	t.line("  %s", h.file)
}

// page writes a page whole.
func (t *textWriter) page(p *page) {
	t.line("%s", p.head)
	t.entries("  ", p.facts)
	for i := range p.sections {
		t.section(&p.sections[i])
	}
	t.list("", p.closing)
}

// section writes a section of a page.
func (t *textWriter) section(s *section) {
	t.line("")
	t.line("  %s", s.title)
	t.lines("    ", s.lead)
	t.table(s.table)
	t.entries("    ", s.entries)
	t.lines("    ", s.notes)
}

// entries writes entries, what belongs to each set in by two.
func (t *textWriter) entries(indent string, all []entry) {
	for i := range all {
		e := &all[i]
		t.line("%s%s", indent, e.head)
		for _, b := range e.bars {
			t.b.WriteString(indent + "  " + drawnBar(&b) + " " + b.says + "\n")
		}
		t.entries(indent+"  ", e.below)
	}
}

// table writes rows with aligned columns.
func (t *textWriter) table(rows [][]string) {
	if len(rows) == 0 {
		return
	}
	w := tabwriter.NewWriter(&t.b, 0, 0, 2, ' ', 0)
	for _, r := range rows {
		fmt.Fprintln(w, strings.TrimRight("    "+strings.Join(r, "\t"), "\t"))
	}
	_ = w.Flush() // to a builder
}

// barWidth is the width in which bars are drawn, characters.
const barWidth = 56

// drawnBar draws a bar between two strokes, one character at least.
func drawnBar(b *bar) string {
	chars := func(share float64) int { return int(math.Round(share * barWidth)) }
	n := max(1, chars(b.long))
	right := min(chars(b.gap), barWidth-n)
	return "|" + strings.Repeat(" ", barWidth-n-right) + strings.Repeat(b.mark, n) + strings.Repeat(" ", right) + "|"
}
