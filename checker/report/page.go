// Package report writes what a review, a comparison, a layout of the tool, a proof of a pack or a revision says, for people. Each is built
// once, as plain values: pages of sections and entries, in words that are free of characters that act on a terminal. Text, HTML and
// Markdown are writers of these values; each lays them out, shortens them and escapes them for its medium, so that nothing in a part or
// pack can act on what shows it.
package report

import (
	"strings"

	"corerod/checker/report/words"
	"corerod/parts"
	"corerod/parts/source"
	"corerod/rules"
)

// page is one report: its head, what is told first, sections, and what closes it.
type page struct {
	head     string
	facts    []entry
	sections []section
	closing  []string
}

// section is a titled part of a page. Each of its parts may be empty: what leads to the table, the table, whose first row heads the
// columns, entries and closing notes.
type section struct {
	title   string
	lead    []string
	table   [][]string
	entries []entry
	notes   []string
}

// entry is one line, and what belongs to it.
type entry struct {
	head  string
	bars  []bar
	below []entry
}

// bar is a length to draw beside others and where it ends before the right, as shares of the longest, and what it shows.
type bar struct {
	mark      string // of one character
	long, gap float64
	says      string
}

// item is an entry with one line for each thing that belongs to it.
func item(head string, below ...string) entry { return entry{head: head, below: items(below)} }

// items are entries of one line each.
func items(lines []string) (all []entry) {
	for _, l := range lines {
		all = append(all, entry{head: l})
	}
	return all
}

// heads are the first lines of entries.
func heads(all []entry) (lines []string) {
	for _, e := range all {
		lines = append(lines, e.head)
	}
	return lines
}

// empty tells whether a section says nothing but its title.
func (s *section) empty() bool {
	return len(s.lead)+len(s.table)+len(s.entries)+len(s.notes) == 0
}

// heading names a part as its drawing does, and its file.
type heading struct {
	name, title string // "" where the file has no title
	drawing     []string
	file        string
}

func headingOf(p *parts.Part) heading {
	h := heading{name: p.Name, title: source.Plain(p.Title), file: source.Plain(p.File)}
	for _, d := range words.Drawing(p) {
		h.drawing = append(h.drawing, source.Plain(d))
	}
	return h
}

// line is a heading on one line, without the file.
func (h *heading) line() string {
	all := []string{h.name}
	if h.title != "" {
		all = append(all, h.title)
	}
	return strings.Join(append(all, h.drawing...), ", ")
}

// verdict counts parts or findings by grade: what leads to the counts, and what follows them.
type verdict struct {
	before string
	counts []count
	after  string
}

// count is how many there are of a grade; the number is left out where it is 0. The word of the grade may be another, such as conceded.
type count struct {
	number int
	grade  string
}

// ofGrades are the grades that colour tells apart, from the worst to none.
var ofGrades = []rules.Grade{rules.Stop, rules.Change, rules.Ask, ""}
