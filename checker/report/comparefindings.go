package report

import (
	"fmt"
	"strings"

	"corerod/checker/compare"
	"corerod/checker/report/words"
	"corerod/parts/source"
	"corerod/parts/subject"
	"corerod/rules"
)

// findingsSection tells what became of each finding that differs, the gained first, and counts the others.
func findingsSection(c *compare.Comparison) section {
	s := section{title: "Findings"}
	at, alike := map[string]int{}, map[int]int{}
	for i := range c.Findings {
		p := &c.Findings[i]
		e := pairEntry(c, p)
		key := fmt.Sprint(p.How, p.Finding().Grade, p.Finding().Rule.Name, p.Finding().Subject.Place().Features, heads(e.below))
		if j, ok := at[key]; ok {
			alike[j]++
			continue
		}
		at[key] = len(s.entries)
		s.entries = append(s.entries, e)
	}
	for i, n := range alike {
		s.entries[i].head += fmt.Sprintf(", and %d more alike", n)
	}
	if n := len(c.Same); n > 0 {
		s.notes = []string{"unchanged: " + gradeCounts(c.Same)}
	}
	return s
}

// gradeCounts counts findings by grade.
func gradeCounts(all []compare.FindingPair) string {
	var counts []string
	for _, g := range []rules.Grade{rules.Stop, rules.Change, rules.Ask} {
		n := 0
		for i := range all {
			if all[i].Finding().Grade == g {
				n++
			}
		}
		if n > 0 {
			counts = append(counts, fmt.Sprintf("%d %s", n, g))
		}
	}
	return strings.Join(counts, ", ")
}

// pairEntry is one finding that differs, with its figures before and now.
func pairEntry(c *compare.Comparison, p *compare.FindingPair) entry {
	f, unit := p.Finding(), unitFor(c)
	s := p.NewSubject
	if p.New == nil {
		s = p.OldSubject
	}
	grade := string(f.Grade)
	if p.Old != nil && p.New != nil && p.Old.Grade != p.New.Grade {
		grade = fmt.Sprintf("%s to %s", p.Old.Grade, p.New.Grade)
	}
	head := fmt.Sprintf("%s, %s: %s, %s%s", p.How, grade, words.Rule(f.Rule.Name), source.Plain(s.Place().Name), placesWords(p))
	var lines []string
	if p.How == compare.Gained || p.How == compare.Worsened {
		lines = append(lines, where(f, unit), source.Plain(f.Says)+".")
	}
	lines = append(lines, pairLines(p, unit)...)
	if p.How == compare.Gained || p.How == compare.Worsened {
		lines = append(lines, "Change: "+source.Plain(f.Rule.Change)+".")
	}
	return item(head, lines...)
}

// placesWords say at how many places a finding fared so.
func placesWords(p *compare.FindingPair) string {
	n, f := max(p.OldPlaces, p.NewPlaces), p.Finding()
	switch {
	case n < len(f.Places):
		return fmt.Sprintf(", at %d of %d places", n, len(f.Places))
	case n > 1:
		return fmt.Sprintf(", at %d places", n)
	}
	return ""
}

// pairLines give the figures of a finding before and now.
func pairLines(p *compare.FindingPair, unit string) (lines []string) {
	if p.How == compare.Cleared {
		return []string{clearedLine(p, unit)}
	}
	for i := range min(len(p.NewCompared), words.MostCompared) {
		c := &p.NewCompared[i]
		of := words.Element(p.NewCompared, i, unit)
		before := before(p, i)
		if before == nil {
			lines = append(lines, of+words.Compared(c, unit))
			continue
		}
		was, is := twoValues(before, c.Value, c.Unit, unit)
		line := fmt.Sprintf("%s%s was %s, is %s, needed %s", of, source.Plain(c.Measure), was, is, words.Needed(c, unit))
		if c.MissesBy != nil {
			line += ", missed by " + words.Value(*c.MissesBy, c.Unit, unit)
		}
		lines = append(lines, line)
	}
	if more := len(p.NewCompared) - words.MostCompared; more > 0 {
		lines = append(lines, "and "+words.Plural(more, "more comparison"))
	}
	if p.How == compare.Gained && p.Other == nil {
		if before := otherSide(p, p.OldSubject, "before", "was", unit); before != "" {
			lines = append(lines, before)
		}
	}
	return lines
}

// before is the value of a comparison on the old part; nil where that did not fail in it.
func before(p *compare.FindingPair, i int) any {
	switch {
	case p.How == compare.Gained && i == 0:
		return p.Other
	case p.How == compare.Gained || i >= len(p.OldCompared):
		return nil
	}
	old, new := &p.OldCompared[i], &p.NewCompared[i]
	if old.Measure != new.Measure || old.Needs != new.Needs || i > 0 && new.Of == nil {
		return nil
	}
	return old.Value
}

func clearedLine(p *compare.FindingPair, unit string) string {
	line := "before: " + source.Plain(p.Old.Says)
	if len(p.OldCompared) > 0 {
		a := &p.OldCompared[0]
		line = fmt.Sprintf("%s was %s, needed %s", source.Plain(a.Measure), words.Value(a.Value, a.Unit, unit), words.Needed(a, unit))
	}
	if now := otherSide(p, p.NewSubject, "now", "is", unit); now != "" {
		line += "; " + now
	}
	return line
}

// otherSide says what the part without the finding has instead, where that can be told.
func otherSide(p *compare.FindingPair, s subject.Subject, when, verb, unit string) string {
	f := p.Finding()
	switch {
	case s == nil:
		return fmt.Sprintf("%s there %s no such %s", when, verb, f.Subject.Kind().Name)
	case p.Unapplied != "":
		return fmt.Sprintf("%s the rule %s not applicable: %s", when, verb, source.Plain(p.Unapplied))
	case p.Other != nil:
		c := &f.Compared[0]
		other, _ := twoValues(p.Other, c.Value, c.Unit, unit)
		return fmt.Sprintf("%s it %s %s", when, verb, other)
	}
	return ""
}

// twoValues writes two values of one measure, with as many digits as tell them apart.
func twoValues(a, b any, unit, own string) (string, string) {
	x, y := words.Value(a, unit, own), words.Value(b, unit, own)
	v, number := a.(float64)
	w, other := b.(float64)
	if x != y || !number || !other || v == w {
		return x, y
	}
	return words.Exact(v, unit, own), words.Exact(w, unit, own)
}
