package report

import (
	"fmt"

	"corerod/checker"
	"corerod/checker/concession"
	"corerod/checker/report/words"
	"corerod/parts/source"
)

// sincePart is what became of a part since an earlier review.
type sincePart struct {
	changed []string // where it was, names and statements that are others now
	cleared []string // findings that are gone
	renewed []renewed
}

// renewed is a record that a change with new names needs once it is merged, as lines of the file of concessions, and the line of the
// record whose place it takes.
type renewed struct {
	line   int
	record []string
}

// renewedHead leads to such records.
const renewedHead = "Concessions under new names. This change needs these records instead of the old ones, unless it has them already:"

// sinceOf words what became of a part.
func sinceOf(p *checker.PartReview) (out sincePart) {
	if from := p.Moved(); from != "" {
		out.changed = append(out.changed, fmt.Sprintf("Moved: it was %s.", source.Plain(from)))
	}
	for _, x := range p.Renamed {
		out.changed = append(out.changed, fmt.Sprintf("Renamed: %s was %s.", source.Plain(x.To), source.Plain(x.From)))
	}
	for i := range p.Restated {
		out.changed = append(out.changed, source.Plain(words.Restated(&p.Restated[i])))
	}
	for _, x := range p.Cleared {
		out.cleared = append(out.cleared, fmt.Sprintf("Cleared: %s, %s, %s.", source.Plain(string(x.Grade)),
			words.Rule(source.Plain(x.Rule)), source.Plain(x.Name)))
	}
	for _, k := range p.Concessions {
		if k.Next == nil {
			continue
		}
		x := renewed{line: k.Line}
		for _, l := range concession.Lines(k.Next) {
			x.record = append(x.record, source.Plain(l))
		}
		out.renewed = append(out.renewed, x)
	}
	return out
}

// lines are what changed and what is cleared.
func (s *sincePart) lines() []string {
	return append(s.changed[:len(s.changed):len(s.changed)], s.cleared...)
}

// sinceReview tells what a review was compared with, what was added and what is gone; nothing where it was compared with none.
func sinceReview(r *checker.Review) (lines []string) {
	a := r.Against
	if a == nil {
		return nil
	}
	count := map[checker.Since]int{}
	cleared := 0
	for _, p := range r.Parts {
		cleared += len(p.Cleared)
		for _, f := range p.Findings {
			count[f.Since]++
		}
	}
	lines = append(lines, fmt.Sprintf("Since %s: %d new, %d worsened, %d unchanged, %d cleared; new and worsened findings count.",
		source.Plain(a.From), count[checker.SinceNew], count[checker.SinceWorse], count[checker.SinceSame], cleared))
	switch {
	case a.Parts == 0:
		lines = append(lines, "There was no part before: every part is new. A folder to compare with must hold the same tree.")
	case a.Paired == 0:
		lines = append(lines, "Not one earlier part was found again. Check that the earlier review is of the same tree.")
	}
	for i := range a.Gone {
		lines = append(lines, words.Gone(&a.Gone[i]))
	}
	for _, p := range r.Parts {
		if p.Added {
			lines = append(lines, fmt.Sprintf("Added: the part %s of %s, %s.", source.Plain(named(p)), source.Plain(p.File),
				words.Grade(p.Grade)))
		}
	}
	if a.PacksDiffer {
		lines = append(lines, "Other packs, or other versions of them, were in force then. Compare the digests.")
	}
	return lines
}
