package change

import (
	"math"
	"slices"
	"strings"

	"corerod/checker"
	"corerod/parts/form"
	"corerod/parts/subject"
	"corerod/rules"
)

// moved is a variant with a number moved further by some steps, and the number's new value; nil where the file format or
// the shape does not allow it.
func (s *search) moved(from *variant, n *form.Number, steps int) (*variant, float64) {
	to, ok := n.Move(steps)
	if !ok {
		return nil, to
	}
	v := s.review(slices.Concat(from.edits, n.Edits(to)))
	if v.derived == nil {
		return nil, to
	}
	return v, to
}

// furthest is the number of steps that a number may move: half of itself, and a hundred in any case.
func furthest(n *form.Number) int {
	return max(100, int(math.Abs(n.Value)/2/n.Step))
}

// solution is the least movement of a number that reaches a goal.
type solution struct {
	number *form.Number
	to     float64
	at     *variant
}

// bracket holds the least number of steps that reaches a goal: low does not, beyond does or is too far.
type bracket struct {
	low, beyond   int
	missed, slope float64 // at low, and by how much less it is for each step
	back          int     // how far to go back below beyond
}

// mostSteps is the number of variants that one number is tried with.
const mostSteps = 24

// solve moves a number of a variant one way, from where the target is missed as it was found, to the least number of steps
// that reaches a goal: one step less does not. It follows the slope of what is missed, then closes the bracket. tried is how
// often it looked.
func (s *search) solve(from *variant, t *target, n *form.Number, way, most int, goal func(*variant) bool) (found *solution, tried int) {
	b := bracket{beyond: furthest(n) + 1, back: 1}
	var grade rules.Grade
	b.missed, grade = t.misses(t.base)
	for next := 1; tried < most && b.low+1 < b.beyond; next = b.next(found != nil) {
		tried++
		v, to := s.moved(from, n, way*next)
		if v != nil && goal(v) {
			b.beyond, found = next, &solution{n, to, v}
			continue
		}
		better := false
		if v != nil {
			m, g := t.misses(v)
			better = g != "" && (grade.Worse(g) || g == grade && m < b.missed-nearerBy)
			if better && g == grade {
				b.slope = (b.missed - m) / float64(next-b.low)
			}
			if better {
				b.missed, grade = m, g
			}
		}
		if better || found != nil {
			b.low = next
		} else {
			b.beyond = next // too far, or the wrong way
		}
	}
	if found != nil && b.low+1 < b.beyond {
		return nil, tried // perhaps not the least
	}
	return found, tried
}

// next is the number of steps to try: where the slope leads while nothing reaches the goal, then back from what does.
func (b *bracket) next(reached bool) int {
	guess := 2*b.low + 1
	switch {
	case reached:
		guess = b.beyond - b.back
		b.back *= 2
	case b.slope > 0:
		guess = b.low + max(1, int(math.Ceil(math.Min(b.missed/b.slope-onStep, 1e6))))
	}
	if guess <= b.low || guess >= b.beyond {
		guess = (b.low + b.beyond) / 2
	}
	return max(guess, b.low+1)
}

// singles are the changes of one number each that clear a target, and those that clear it and bring what is as bad.
func (s *search) singles(t *target) (good, spoilt []*candidate) {
	return s.numbersFor(t, s.base, nil, func(v *variant) bool { return s.cleared(t, v) })
}

// easing are the changes of one number each after which the target's finding is of a milder grade.
func (s *search) easing(t *target) []*candidate {
	good, _ := s.numbersFor(t, s.base, nil, func(v *variant) bool {
		_, grade := t.misses(v)
		return grade != "" && t.finding.Grade.Worse(grade) && t.stays(v)
	})
	return good
}

// numbersFor solves every number that moves a target, from a variant, for a goal. Sets are those of the variant.
func (s *search) numbersFor(t *target, from *variant, sets []checker.Set, goal func(*variant) bool) (good, spoilt []*candidate) {
	if !t.numeric {
		return nil, nil
	}
	numbers := s.movers(t, sets)
	solutions := make([]*solution, len(numbers))
	const at = 8 // at once, so that what is tried stays within bounds that do not depend on the workers
	for i := 0; i < len(numbers); i += at {
		some := numbers[i:min(i+at, len(numbers))]
		most := min(mostSteps, s.left()/len(some)-1)
		if most < 3 {
			s.stopped = true
			break
		}
		s.each(len(some), func(k int) int {
			found, tried := s.oneWay(t, from, some[k], most/2, goal)
			if found != nil {
				further, more := s.further(t, from, found, most-tried)
				found, tried = further, tried+more
			}
			solutions[i+k] = found
			return tried
		})
	}
	for _, x := range solutions {
		if x == nil {
			continue
		}
		c := s.weigh(t, append(slices.Clone(sets), setsOf(x.number, x.to)...), x.at)
		switch {
		case c.spoilt:
			spoilt = append(spoilt, c)
		case c.Clears || c.Eases:
			good = append(good, c)
		}
	}
	slices.SortStableFunc(good, byWorth)
	slices.SortStableFunc(spoilt, byWorth)
	return good, spoilt
}

// oneWay solves a number in the way in which a step misses less, upward first.
func (s *search) oneWay(t *target, from *variant, n *form.Number, most int, goal func(*variant) bool) (*solution, int) {
	found, tried := s.solve(from, t, n, 1, most, goal)
	if found != nil || tried > 1 {
		return found, tried
	}
	found, more := s.solve(from, t, n, -1, most, goal)
	return found, tried + more
}

// further moves a number that clears a target on, where it brings what is as bad, until that is gone too.
func (s *search) further(t *target, from *variant, x *solution, most int) (*solution, int) {
	next := s.brought(t, x.at)
	if next == nil || !next.numeric {
		return x, 0
	}
	n := x.number.At(x.to)
	way := 1
	if x.to < x.number.Value {
		way = -1
	}
	on, tried := s.solve(from, next, &n, way, most,
		func(v *variant) bool { return s.gone(t, v) && next.stays(v) && s.brought(t, v) == nil })
	if on == nil {
		return x, tried
	}
	return &solution{x.number, on.to, on.at}, tried
}

// movers are the numbers that move what a target misses, apart from those that are set already: they do so by one step
// from the part as drawn, or they are not in the file yet and belong to the target's features.
func (s *search) movers(t *target, sets []checker.Set) (all []*form.Number) {
	taken := func(path string) bool {
		return slices.ContainsFunc(sets, func(x checker.Set) bool { return x.Path == path })
	}
	for i := range s.numbers {
		if n := &s.numbers[i]; !taken(n.Path) && t.moves(s.base, s.probes[i]) {
			all = append(all, n)
		}
	}
	for _, name := range s.features(t) {
		for _, n := range form.Absent(s.doc.Root, name) {
			if !taken(n.Path) {
				all = append(all, &n)
			}
		}
	}
	return all
}

// moves tells whether a probe has another measure of a target's subjects, or could not be made.
func (t *target) moves(base, probe *variant) bool {
	if probe == nil {
		return true
	}
	differs := func(x subject.Subject) bool {
		before := find(base.derived.Subject, x.Kind(), x.Place().Name)
		now := find(probe.derived.Subject, x.Kind(), x.Place().Name)
		return before == nil || now == nil || fieldsMoved(before, now, movesAtAll) > 0 ||
			t.byDistance() && !slices.Equal(lies(before), lies(now))
	}
	return slices.ContainsFunc(t.all, func(f *rules.Finding) bool { return differs(f.Over) || f.Subject != f.Over && differs(f.Subject) })
}

// byDistance tells whether a target's findings compare a distance between subjects: then it matters where they lie.
func (t *target) byDistance() bool {
	return slices.ContainsFunc(t.finding.Compared, func(c rules.Compared) bool {
		return strings.Contains(c.Measure, "distance(") || strings.Contains(c.From, "distance(")
	})
}

// lies is where a subject lies, at each of its places.
func lies(s subject.Subject) []subject.Point {
	c := s.Place()
	return append([]subject.Point{{X: c.X, Y: c.Y, ZLow: c.ZLow, ZHigh: c.ZHigh}}, c.Places...)
}

func setsOf(n *form.Number, to float64) (sets []checker.Set) {
	for i, e := range n.Edits(to) {
		if i == 0 {
			sets = append(sets, checker.Set{Path: e.Path, Line: n.Line, From: n.From, To: e.Text, Unit: n.Unit})
			continue
		}
		sets = append(sets, checker.Set{Path: e.Path, Line: n.Along[i-1].Line, From: n.Along[i-1].From, To: e.Text, Unit: n.Unit})
	}
	return sets
}

// features are those of a target's subjects, or all of the part where they are of the part as a whole.
func (s *search) features(t *target) (names []string) {
	if names = t.finding.Subject.Place().Features; len(names) > 0 {
		return names
	}
	for _, f := range s.base.derived.Part.Features() {
		names = append(names, f.Name)
	}
	return names
}
