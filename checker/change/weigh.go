package change

import (
	"maps"
	"math"
	"slices"
	"strconv"
	"strings"

	"corerod/checker"
	"corerod/parts/source"
	"corerod/parts/subject"
	"corerod/rules"
)

// candidate is a change while it is sought.
type candidate struct {
	checker.Change
	edits  []source.Edit // of the file
	spoilt bool          // it brings a finding as bad as the one it is for
}

// weigh says what a change does, from the review of the changed part.
func (s *search) weigh(t *target, sets []checker.Set, v *variant) *candidate {
	c := &candidate{Change: checker.Change{Sets: sets}, edits: v.edits}
	_, grade := t.misses(v)
	c.Clears = s.gone(t, v)
	c.Eases = !c.Clears && t.finding.Grade.Worse(grade) && grade != ""
	c.others(t.finding, s.base.out, v.out)
	for _, f := range s.of.Findings {
		if f != t.finding && s.gone(s.target(f), v) {
			c.ClearsToo = append(c.ClearsToo, f.ID)
		}
	}
	c.Moved = t.measures(s.base.derived.Subject, v.derived.Subject)
	for _, x := range sets {
		c.Relative = math.Max(c.Relative, relative(&x))
	}
	return c
}

// gone tells whether nothing of a target is left on a variant.
func (s *search) gone(t *target, v *variant) bool {
	_, grade := t.misses(v)
	return grade == "" && t.fewer(v)
}

// relative is how far a number moves, as a share of the greater of its two values; 1 for what is no number.
func relative(x *checker.Set) float64 {
	from, err1 := strconv.ParseFloat(x.From, 64)
	to, err2 := strconv.ParseFloat(x.To, 64)
	if err1 != nil || err2 != nil || from == to {
		return 1
	}
	return math.Abs(to-from) / math.Max(math.Abs(from), math.Abs(to))
}

// others lists the findings that a change brings or makes worse. A change that brings one as bad as the finding it is for is spoilt.
func (c *candidate) others(f *checker.Finding, before, after *rules.Outcome) {
	for _, x := range paired(before, after) {
		b := checker.Brought{Rule: x.now.Rule.Name, Grade: x.now.Grade, Kind: x.now.Subject.Kind().Name, Name: x.now.Subject.Place().Name}
		switch {
		case x.brought():
			c.spoilt = c.spoilt || !f.Grade.Worse(x.now.Grade)
			c.Brings = append(c.Brings, b)
		case x.worse():
			c.Worsens = append(c.Worsens, b)
		}
	}
}

// pair is a finding of a changed part, and what it was.
type pair struct{ now, was *rules.Finding } // was is nil for one that is new

// brought tells whether the finding is new or of a worse grade.
func (x pair) brought() bool { return x.was == nil || x.now.Grade.Worse(x.was.Grade) }

// worse tells whether the finding misses by more, with the same grade.
func (x pair) worse() bool {
	a, _ := checker.Missing(x.now)
	b, _ := checker.Missing(x.was)
	return x.now.Grade == x.was.Grade && a > b+worseBy
}

// paired pairs the findings of a changed part with those of the part as drawn: those of one rule on the same features, the worst
// with the worst.
func paired(before, after *rules.Outcome) (all []pair) {
	was, is := byFeatures(before), byFeatures(after)
	for _, key := range slices.Sorted(maps.Keys(is)) {
		for i, now := range is[key] {
			x := pair{now: now}
			if i < len(was[key]) {
				x.was = was[key][i]
			}
			all = append(all, x)
		}
	}
	return all
}

// byFeatures are the findings of each rule on the same features, worst first.
func byFeatures(out *rules.Outcome) map[string][]*rules.Finding {
	groups := map[string][]*rules.Finding{}
	for i := range out.Findings {
		f := &out.Findings[i]
		key := strings.Join(append([]string{f.Rule.Name}, f.Subject.Place().Features...), " ")
		groups[key] = append(groups[key], f)
	}
	for _, g := range groups {
		slices.SortStableFunc(g, checker.WorstFirst)
	}
	return groups
}

// pairs are changes of two numbers each: one clears the target and brings something as bad, and a second number takes
// that away without bringing the target back.
func (s *search) pairs(t *target, spoilt []*candidate) (good []*candidate) {
	const most = 4 // first numbers that are followed up
	for _, first := range spoilt[:min(most, len(spoilt))] {
		v := s.review(first.edits)
		other := s.brought(t, v)
		if other == nil {
			continue
		}
		second, _ := s.numbersFor(other, v, first.Sets, func(w *variant) bool { return s.gone(t, w) && s.cleared(other, w) })
		for _, c := range second {
			if c = s.weigh(t, c.Sets, s.review(c.edits)); c.Clears && !c.spoilt {
				good = append(good, c)
			}
		}
	}
	return good
}

// brought is the first finding as bad as a target's that a variant has more of than the part as drawn.
func (s *search) brought(t *target, v *variant) *target {
	for _, x := range paired(s.base.out, v.out) {
		if x.brought() && !t.finding.Grade.Worse(x.now.Grade) {
			g := x.now
			_, numeric := checker.Missing(g)
			return &target{finding: &checker.Finding{Finding: *g}, base: v, all: []*rules.Finding{g}, names: []string{g.Over.Place().Name},
				numeric: numeric}
		}
	}
	return nil
}

// measures counts the measures of other subjects than the target's that move by more than 1 % from one variant to
// another, subjects that come or go as one each.
func (t *target) measures(from, to *subject.Part) (moved int) {
	for _, k := range subject.Kinds() {
		if k == subject.PartKind {
			moved += fieldsMoved(from, to, moves)
			continue
		}
		seen := map[string]subject.Subject{}
		for _, x := range subject.Of(to, k) {
			seen[x.Place().Name] = x
		}
		for _, x := range subject.Of(from, k) {
			name := x.Place().Name
			y := seen[name]
			delete(seen, name)
			switch {
			case k == t.finding.Over.Kind() && slices.Contains(t.names, name):
			case y == nil:
				moved++
			default:
				moved += fieldsMoved(x, y, moves)
			}
		}
		moved += len(seen)
	}
	return moved
}

// fieldsMoved counts the measures that differ between two subjects of one kind by more than a share.
func fieldsMoved(x, y subject.Subject, share float64) (moved int) {
	for i := range x.Kind().Fields {
		f := &x.Kind().Fields[i]
		if f.Type != subject.Number || f.Placing || checker.Whereabouts(f) {
			continue
		}
		a, had := f.Number(x)
		b, has := f.Number(y)
		if had != has || math.Abs(a-b) > share*math.Max(math.Abs(a), math.Abs(b)) {
			moved++
		}
	}
	return moved
}

// editsOf are the edits that sets stand for.
func editsOf(sets []checker.Set) (all []source.Edit) {
	for _, x := range sets {
		all = append(all, source.Edit{Path: x.Path, Text: x.To, Key: x.Key, Remove: x.Remove})
	}
	return all
}
