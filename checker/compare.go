package checker

import (
	"slices"

	"corerod/parts/form"
	"corerod/parts/source"
)

// How says what became of something between two revisions of a part.
type How string

// What becomes of a finding, and of a feature or value of the part file.
const (
	Gained    How = "gained"
	Worsened  How = "worsened" // of a worse grade, or of the same and it misses by more
	Eased     How = "eased"
	Cleared   How = "cleared"
	Unchanged How = "unchanged"

	Added   How = "added"
	Removed How = "removed"
	Altered How = "changed"
	Renamed How = "renamed"
)

// Comparison is what a revision of a part does to it: two reviews by the same rules, and what their files say.
type Comparison struct {
	Old, New *PartReview
	Units    bool             // the two are drawn in different units
	Drawn    []Redrawn        // values outside features, in the order of the new file, then those that are gone
	Features []RedrawnFeature // by section; in each in the order of the new file, then those that are gone
	Findings []FindingPair    // gained, worsened, eased, cleared; in each by grade and place
	Same     []FindingPair    // unchanged ones
	Figures  []Figure
	Members  []MembersOf // of every kind of member
	Moved    []MovedSubject
	Came     []Lone // subjects that the old part does not have, by kind
	Went     []Lone // and those that the new one does not
	Status   Status // Found where a finding was gained or worsened
}

// Compare finds what a new revision of a part changes against an old one. Both were reviewed by the same rules; the trees
// are those of their files, read without problems.
func Compare(old, new *PartReview, oldFile, newFile *source.Node) *Comparison {
	c := &Comparison{Old: old, New: new, Units: old.Part.Unit != new.Part.Unit}
	d := newRedrawing(form.Values(oldFile), form.Values(newFile))
	c.Drawn, c.Features = d.outside(), d.features()
	m := match(instancesOf(old.Subject), instancesOf(new.Subject), d)
	c.Moved, c.Came, c.Went = m.moved(new.Subject), lone(new.Subject, m.new), lone(old.Subject, m.old)
	c.Findings, c.Same = m.findings(old, new)
	c.Figures, c.Members = figuresOf(old, new), membersOf(old, new, d)
	if c.Count(Gained)+c.Count(Worsened) > 0 {
		c.Status = Found
	}
	return c
}

// Count is the number of findings of which one thing became.
func (c *Comparison) Count(how How) (n int) {
	if how == Unchanged {
		return len(c.Same)
	}
	for i := range c.Findings {
		if c.Findings[i].How == how {
			n++
		}
	}
	return n
}

// Nothing tells whether the two files say the same, and nothing else differs.
func (c *Comparison) Nothing() bool {
	return len(c.Drawn)+len(c.Features)+len(c.Findings)+len(c.Moved)+len(c.Came)+len(c.Went) == 0 &&
		!slices.ContainsFunc(c.Figures, func(f Figure) bool { return f.Differs() }) &&
		!slices.ContainsFunc(c.Members, func(m MembersOf) bool { return m.Differs })
}
