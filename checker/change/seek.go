package change

import (
	"cmp"
	"context"
	"slices"

	"corerod/checker"
	"corerod/parts/source"
	"corerod/parts/subject"
	"corerod/rules"
)

// MostTried is the number of changed parts that are reviewed for one part at most.
const MostTried = 600

// leastTried is the number for a part whose shape is as large as any that is reviewed, and patchesTried the number of patches of all of
// them together: cells times slabs.
const (
	leastTried   = 24
	patchesTried = 200_000
)

// byWorth orders changes: those that clear before those that ease, those that bring nothing, then by how much of the
// drawing they touch.
func byWorth(a, b *candidate) int {
	no := func(yes bool) int {
		if yes {
			return 0
		}
		return 1
	}
	return cmp.Or(
		cmp.Compare(no(a.Clears), no(b.Clears)),
		cmp.Compare(no(len(a.Brings) == 0), no(len(b.Brings) == 0)),
		cmp.Compare(no(len(a.Worsens) == 0), no(len(b.Worsens) == 0)),
		cmp.Compare(len(a.Sets), len(b.Sets)),
		cmp.Compare(a.Moved, b.Moved),
		cmp.Compare(a.Relative, b.Relative),
		cmp.Compare(a.Sets[0].Path, b.Sets[0].Path),
		cmp.Compare(a.Sets[0].To, b.Sets[0].To))
}

// seek finds the changes of a reviewed part, at most n for each finding, and puts them to its findings. Where the context ends, it
// ends soon after, with some of them or none.
func seek(ctx context.Context, r *checker.PartReview, b []byte, book *rules.Book, n, workers int) {
	doc, ps := source.Open(r.File, b)
	if len(ps) > 0 || len(r.Findings) == 0 {
		return
	}
	s := newSearch(ctx, doc, book, r, workers)
	findings := slices.Clone(r.Findings)
	slices.SortStableFunc(findings, checker.ByGrade)
	s.probe(findings)
	found := make([][]*candidate, len(findings))
	for i, f := range findings {
		if s.left() < 1 || ctx.Err() != nil {
			s.stopped = true
			break
		}
		found[i] = s.changes(s.target(f))
	}
	for i, f := range findings {
		all := found[i]
		if len(all) == 0 {
			all = s.shared(f, found)
		}
		for _, c := range all[:min(n, len(all))] {
			c.Splices, _ = doc.Splices(c.edits...) // they were made and read already
			f.Changes = append(f.Changes, &c.Change)
		}
	}
	r.Search = &checker.Search{Tried: s.tried, Stopped: s.stopped}
}

// shared are the changes of other findings that clear one too, best first: they were reviewed already.
func (s *search) shared(f *checker.Finding, found [][]*candidate) (good []*candidate) {
	t := s.target(f)
	for _, other := range slices.Concat(found...) {
		same := func(c *candidate) bool { return slices.Equal(c.edits, other.edits) }
		if !slices.Contains(other.ClearsToo, f.ID) || slices.ContainsFunc(good, same) {
			continue
		}
		c := s.weigh(t, other.Sets, s.review(other.edits))
		if c.Says = other.Says; c.Clears && !c.spoilt {
			good = append(good, c)
		}
	}
	slices.SortStableFunc(good, byWorth)
	return good
}

// unformable are the kinds of subjects that stand in the way of pressing by what they are, not by their size.
var unformable = []*subject.Kind{subject.TrapKind, subject.TaperKind, subject.CrossingKind}

// changes are those of one finding, best first: single numbers, else two, else the structure of the part and the
// numbers that ease it. What no tool can form or leave is cleared by structure first: a number would only make it small.
func (s *search) changes(t *target) []*candidate {
	if slices.Contains(unformable, t.finding.Subject.Kind()) {
		if found := s.structures(t); len(found) > 0 {
			slices.SortStableFunc(found, byWorth)
			return found
		}
	}
	found, spoilt := s.singles(t)
	if len(found) == 0 {
		found = s.pairs(t, spoilt)
	}
	if len(found) == 0 {
		found = s.structures(t)
		if t.finding.Grade != rules.Ask {
			found = append(found, s.easing(t)...)
		}
	}
	slices.SortStableFunc(found, byWorth)
	return found
}
