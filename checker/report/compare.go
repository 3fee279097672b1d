package report

import (
	"fmt"
	"io"
	"strings"
	"text/tabwriter"

	"corerod/checker"
	"corerod/checker/report/words"
	"corerod/parts"
	"corerod/parts/source"
)

// Compare writes what a revision changes for people: findings, what is drawn otherwise, figures, measures; then what was
// in force.
func Compare(w io.Writer, c *checker.Comparison, in words.InForce) error {
	p := pageOf(c)
	t := &textWriter{}
	t.line("%s", p.head)
	for _, l := range p.facts {
		t.line("  %s", l)
	}
	for _, s := range p.sections {
		t.section(&s)
	}
	t.line("")
	for _, l := range in.Lines() {
		t.line("%s", l)
	}
	_, err := io.WriteString(w, t.b.String())
	return err
}

func (t *textWriter) section(s *section) {
	t.line("")
	t.line("  %s", s.title)
	if len(s.table) > 0 {
		w := tabwriter.NewWriter(&t.b, 0, 0, 2, ' ', 0)
		for _, r := range s.table {
			fmt.Fprintln(w, strings.TrimRight("    "+strings.Join(r, "\t"), "\t"))
		}
		_ = w.Flush() // to a builder
	}
	for _, e := range s.entries {
		t.line("    %s", e.head)
		for _, l := range e.lines {
			t.line("      %s", l)
		}
	}
	for _, l := range s.notes {
		t.line("    %s", l)
	}
}

// comparePage is a comparison in words, before it is set as text or Markdown. All of it is free of characters that act on a
// terminal.
type comparePage struct {
	head     string
	facts    []string
	sections []section
}

// section is a part of a page: a table, entries and closing notes, each of which may be empty.
type section struct {
	title   string
	table   [][]string // the first row heads the columns
	entries []entry
	notes   []string
}

// entry is one line, and lines that belong to it.
type entry struct {
	head  string
	lines []string
}

func pageOf(c *checker.Comparison) *comparePage {
	p := &comparePage{head: revisions(c.Old.Part, c.New.Part)}
	p.facts = []string{
		"old: " + source.Plain(c.Old.File) + ", " + verdict(c.Old),
		"new: " + source.Plain(c.New.File) + ", " + verdict(c.New),
		summary(c),
	}
	if c.Units {
		p.facts = append(p.facts, fmt.Sprintf("drawn in %s, before in %s: lengths are compared in mm", c.New.Part.Unit, c.Old.Part.Unit))
	}
	for _, s := range []section{findingsSection(c), drawnSection(c), figuresSection(c), movedSection(c)} {
		if len(s.table)+len(s.entries)+len(s.notes) > 0 {
			p.sections = append(p.sections, s)
		}
	}
	return p
}

// revisions names a part as its drawing does, with both revisions.
func revisions(old, new *parts.Part) string {
	head := []string{new.Name}
	if new.Title != "" {
		head = append(head, source.Plain(new.Title))
	}
	if new.Drawing != "" {
		head = append(head, "drawing "+source.Plain(new.Drawing))
	}
	switch {
	case old.Revision != new.Revision && old.Revision != "" && new.Revision != "":
		head = append(head, "revision "+source.Plain(old.Revision)+" to "+source.Plain(new.Revision))
	case new.Revision != "":
		head = append(head, "revision "+source.Plain(new.Revision))
	}
	return strings.Join(head, ", ")
}

// summary counts what became of the findings.
func summary(c *checker.Comparison) string {
	if c.Nothing() {
		return "nothing changed: both files say the same"
	}
	var all []string
	for _, how := range []checker.How{checker.Gained, checker.Worsened, checker.Eased, checker.Cleared, checker.Unchanged} {
		if n := c.Count(how); n > 0 {
			all = append(all, fmt.Sprintf("%d %s", n, how))
		}
	}
	if len(all) == 0 {
		return "no findings, before or now"
	}
	return "findings: " + strings.Join(all, ", ")
}

// unitFor is the unit in which a comparison gives lengths: that of the drawings where they have one.
func unitFor(c *checker.Comparison) string {
	if c.Units {
		return "mm"
	}
	return c.New.Part.Unit
}
