package report

import (
	"fmt"
	"io"
	"strings"

	"corerod/checker/compare"
	"corerod/checker/report/words"
	"corerod/parts"
	"corerod/parts/source"
)

// Compare writes what a revision changes for people: findings, what is drawn otherwise, figures, measures; then what was
// in force.
func Compare(w io.Writer, c *compare.Comparison, in words.InForce) error {
	return writeText(w, pageOf(c, &in))
}

// pageOf words a comparison.
func pageOf(c *compare.Comparison, in *words.InForce) *page {
	p := &page{head: revisions(c.Old.Part, c.New.Part), closing: in.Lines()}
	p.facts = items([]string{
		"old: " + source.Plain(c.Old.File) + ", " + verdictOf(c.Old).String(),
		"new: " + source.Plain(c.New.File) + ", " + verdictOf(c.New).String(),
		summary(c),
	})
	if c.Units {
		p.facts = append(p.facts,
			item(fmt.Sprintf("drawn in %s, before in %s: lengths are compared in mm", c.New.Part.Unit, c.Old.Part.Unit)))
	}
	for _, s := range []section{findingsSection(c), drawnSection(c), figuresSection(c), movedSection(c)} {
		if !s.empty() {
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
func summary(c *compare.Comparison) string {
	if c.Nothing() {
		return "nothing changed: both files say the same"
	}
	var all []string
	for _, how := range []compare.How{compare.Gained, compare.Worsened, compare.Eased, compare.Cleared, compare.Unchanged} {
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
func unitFor(c *compare.Comparison) string {
	if c.Units {
		return "mm"
	}
	return c.New.Part.Unit
}
