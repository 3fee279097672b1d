package checker

import (
	"cmp"
	"math"
	"slices"

	"corerod/parts"
	"corerod/parts/subject"
	"corerod/rules"
)

// Finding is a rule's finding with its place in the part file.
type Finding struct {
	rules.Finding
	ID         string          // of part, rule, subject and features; no line in it
	At         parts.Place     // the feature declared last among the subject's
	Related    []parts.Place   // the others
	Places     []subject.Point // every place, where one finding stands for several alike; empty for a single one
	Since      Since           // what became of it since an earlier review
	Concession *Conceded       // the record for it, nil for none

	Changes []*Change        // that were checked, best first
	Alike   []*rules.Finding // the others, where it stands for several

	Was     *EarlierFinding  // in an earlier review; nil where there is none or it is new
	Ordered []rules.Compared // the entries, those first that are new or worse since an earlier review; nil where all are alike
}

// Entries are the comparisons that failed. Of a need over a list they are those of all findings that this one stands for: each
// element of the list is an entry of its own.
func (f *Finding) Entries() []rules.Compared {
	if !slices.ContainsFunc(f.Compared, func(c rules.Compared) bool { return c.Of != nil }) {
		return f.Compared
	}
	all := slices.Clone(f.Compared)
	for _, g := range f.Alike {
		all = append(all, g.Compared...)
	}
	return all
}

// Shown are the entries in the order in which a report for people shows them: what is new or worse since an earlier review first.
func (f *Finding) Shown() []rules.Compared {
	if f.Ordered != nil {
		return f.Ordered
	}
	return f.Entries()
}

// Groups tells whether two findings are one in several places: of one rule and grade, on the same features, with equal
// values and limits; where none of them is a number, with the same words too.
func (f *Finding) Groups(g *Finding) bool {
	if f.Rule != g.Rule || f.Grade != g.Grade || !slices.Equal(f.Subject.Place().Features, g.Subject.Place().Features) ||
		len(f.Compared) != len(g.Compared) {
		return false
	}
	figures := false
	for i := range f.Compared {
		a, b := &f.Compared[i], &g.Compared[i]
		if a.Measure != b.Measure || !equal(a.Value, b.Value) || !equal(a.Limit, b.Limit) {
			return false
		}
		_, number := a.Value.(float64)
		figures = figures || number
	}
	return figures || f.Says == g.Says
}

// equal tells whether two compared values are equal, numbers within sameValue.
func equal(a, b any) bool {
	x, number := a.(float64)
	y, other := b.(float64)
	if number && other {
		return math.Abs(x-y) <= sameValue
	}
	return a == b
}

// join adds a finding alike, and its places, each once.
func (f *Finding) join(g *Finding) {
	f.Alike = append(f.Alike, &g.Finding)
	all := f.allPlaces()
	for _, p := range g.allPlaces() {
		if !slices.ContainsFunc(all, func(q subject.Point) bool { return onePlace(p, q) }) {
			all = append(all, p)
		}
	}
	if len(all) > 1 {
		f.Places = all
	}
}

// onePlace tells whether two places are one but for rounding.
func onePlace(p, q subject.Point) bool {
	return math.Max(math.Abs(p.X-q.X), math.Abs(p.Y-q.Y)) <= samePlace &&
		math.Max(math.Abs(p.ZLow-q.ZLow), math.Abs(p.ZHigh-q.ZHigh)) <= samePlace
}

// allPlaces are the finding's places, one at least.
func (f *Finding) allPlaces() []subject.Point {
	if len(f.Places) > 0 {
		return f.Places
	}
	c := f.Subject.Place()
	return []subject.Point{{X: c.X, Y: c.Y, ZLow: c.ZLow, ZHigh: c.ZHigh}}
}

// ByPlace orders findings by place in the file, then in the part, then by rule.
func ByPlace(a, b *Finding) int {
	p, q := a.Subject.Place(), b.Subject.Place()
	return cmp.Or(cmp.Compare(a.At.Line, b.At.Line), cmp.Compare(a.At.Column, b.At.Column),
		cmp.Compare(p.ZLow, q.ZLow), cmp.Compare(p.X, q.X), cmp.Compare(p.Y, q.Y),
		cmp.Compare(a.Rule.Name, b.Rule.Name), cmp.Compare(p.Name, q.Name))
}

// ByGrade orders findings by grade, worst first, then as ByPlace.
func ByGrade(a, b *Finding) int {
	if by := byGrade(a.Grade, b.Grade); by != 0 {
		return by
	}
	return ByPlace(a, b)
}
