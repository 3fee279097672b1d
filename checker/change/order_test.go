package change

import (
	"cmp"
	"fmt"
	"math"
	"testing"

	"corerod/checker"
	"corerod/parts/form"
	"corerod/parts/subject"
	"corerod/rules"
)

// TestByWorth: each key of the order goes before all that follow it. The list is in order, and a candidate that is worse by one key is
// better by all later ones.
func TestByWorth(t *testing.T) {
	one := []checker.Brought{{Rule: "r"}}
	candidateOf := func(clears bool, brings, worsens []checker.Brought, moved int, relative float64, sets ...checker.Set) *candidate {
		return &candidate{Change: checker.Change{Clears: clears, Brings: brings, Worsens: worsens, Moved: moved, Relative: relative,
			Sets: sets}}
	}
	a1, a2, b1 := checker.Set{Path: "a", To: "1"}, checker.Set{Path: "a", To: "2"}, checker.Set{Path: "b", To: "1"}
	in := []*candidate{
		candidateOf(true, nil, nil, 1, 0.1, a1),
		candidateOf(true, nil, nil, 1, 0.1, a2),
		candidateOf(true, nil, nil, 1, 0.1, b1),
		candidateOf(true, nil, nil, 1, 0.2, a1),
		candidateOf(true, nil, nil, 2, 0.1, a1),
		candidateOf(true, nil, nil, 1, 0.1, a1, b1),
		candidateOf(true, nil, one, 1, 0.1, a1),
		candidateOf(true, one, nil, 1, 0.1, a1),
		candidateOf(false, nil, nil, 1, 0.1, a1),
	}
	for i, a := range in {
		for j, b := range in {
			if got, want := cmp.Compare(byWorth(a, b), 0), cmp.Compare(i, j); got != want {
				t.Errorf("%d against %d: %d, want %d", i, j, got, want)
			}
		}
	}
}

// TestRelative: by how much of its greater value a number moves; text moves wholly.
func TestRelative(t *testing.T) {
	for _, c := range []struct {
		from, to string
		want     float64
	}{
		{"10", "15", 1. / 3}, {"15", "10", 1. / 3}, {"-10", "-5", 0.5}, {"-5", "-10", 0.5}, {"-5", "5", 2}, {"0", "0.2", 1},
		{"H7", "9", 1}, {"9", "H7", 1}, {"", "0.25", 1}, {"5", "5", 1}, {"pressing", "machining", 1},
	} {
		if got := relative(&checker.Set{From: c.from, To: c.to}); math.Abs(got-c.want) > 1e-12 {
			t.Errorf("%q to %q: %g, want %g", c.from, c.to, got, c.want)
		}
	}
}

// TestFurthest: half of a number in steps, a hundred at least.
func TestFurthest(t *testing.T) {
	for _, c := range []struct {
		value, step float64
		want        int
	}{{30, 0.05, 300}, {-30, 0.05, 300}, {1, 0.05, 100}, {0, 0.5, 100}, {11, 0.05, 110}, {0.5, 0.002, 125}} {
		if got := furthest(&form.Number{Value: c.value, Step: c.step}); got != c.want {
			t.Errorf("%g by %g: %d, want %d", c.value, c.step, got, c.want)
		}
	}
}

// TestBracketNext: the number of steps that is tried next.
func TestBracketNext(t *testing.T) {
	for _, c := range []struct {
		name    string
		b       bracket
		reached bool
		want    int
	}{
		{"no slope: one more than twice as far", bracket{low: 3, beyond: 101, back: 1}, false, 7},
		{"no slope, nothing nearer yet", bracket{low: 0, beyond: 101, back: 1}, false, 1},
		{"that is just what is beyond: the middle", bracket{low: 2, beyond: 5, back: 1}, false, 3},
		{"further than what is beyond: the middle", bracket{low: 60, beyond: 101, back: 1}, false, 80},
		{"where the slope leads", bracket{low: 1, beyond: 101, missed: 0.25, slope: 0.05, back: 1}, false, 6},
		{"a part of a step counts as one", bracket{low: 1, beyond: 101, missed: 0.26, slope: 0.05, back: 1}, false, 7},
		{"rounding of the slope does not", bracket{low: 1, beyond: 101, missed: 0.25 + 1e-9, slope: 0.05, back: 1}, false, 6},
		{"next to nothing is missed: one step", bracket{low: 8, beyond: 101, missed: 1e-9, slope: 0.05, back: 1}, false, 9},
		{"a slope beyond what is too far: the middle", bracket{low: 1, beyond: 9, missed: 1, slope: 0.05, back: 1}, false, 5},
		{"hardly a slope", bracket{low: 1, beyond: 9, missed: 1, slope: 1e-300, back: 1}, false, 5},
		{"back by one from what reaches the goal", bracket{low: 2, beyond: 20, missed: 1, slope: 0.05, back: 1}, true, 19},
		{"then by twice as much", bracket{low: 2, beyond: 19, back: 4}, true, 15},
		{"back to what does not reach it: the middle", bracket{low: 5, beyond: 9, back: 4}, true, 7},
		{"and further", bracket{low: 5, beyond: 10, back: 8}, true, 7},
		{"one above what does not at least", bracket{low: 5, beyond: 7, back: 8}, true, 6},
	} {
		if got := c.b.next(c.reached); got != c.want {
			t.Errorf("%s: %d, want %d", c.name, got, c.want)
		}
	}
	b := bracket{low: 2, beyond: 40, back: 1}
	var got []int
	for range 4 {
		b.beyond = b.next(true)
		got = append(got, b.beyond)
	}
	if want := "[39 37 33 25]"; fmt.Sprint(got) != want {
		t.Errorf("back by 1, 2, 4 and 8: %v, want %s", got, want)
	}
}

// TestBetter: fewer stops go before fewer changes, and these before fewer asks; a finding in several places counts as so many, and
// one that is conceded not at all.
func TestBetter(t *testing.T) {
	three := &checker.Finding{Finding: rules.Finding{Grade: rules.Ask}, Places: make([]subject.Point, 3)}
	covered := &checker.Finding{Finding: rules.Finding{Grade: rules.Stop}, Concession: &checker.Conceded{State: checker.Covering}}
	lapsed := &checker.Finding{Finding: rules.Finding{Grade: rules.Stop}, Concession: &checker.Conceded{State: checker.Expired}}
	of := func(fs ...*checker.Finding) *checker.PartReview { return &checker.PartReview{Findings: fs} }
	graded := func(gs ...rules.Grade) *checker.PartReview {
		r := of()
		for _, g := range gs {
			r.Findings = append(r.Findings, &checker.Finding{Finding: rules.Finding{Grade: g}})
		}
		return r
	}
	for _, c := range []struct {
		name string
		a, b *checker.PartReview
		want bool
	}{
		{"nothing and an ask", of(), graded(rules.Ask), true},
		{"equal", graded(rules.Ask), graded(rules.Ask), false},
		{"one ask more", graded(rules.Ask, rules.Ask), graded(rules.Ask), false},
		{"three asks for a change", graded(rules.Ask, rules.Ask, rules.Ask), graded(rules.Change), true},
		{"three changes for a stop", graded(rules.Change, rules.Change, rules.Change), graded(rules.Stop), true},
		{"a stop for three changes", graded(rules.Stop), graded(rules.Change, rules.Change, rules.Change), false},
		{"one in three places for two", of(three), graded(rules.Ask, rules.Ask), false},
		{"two for one in three places", graded(rules.Ask, rules.Ask), of(three), true},
		{"a conceded stop for an ask", of(covered), graded(rules.Ask), true},
		{"a stop with a record that does not cover it, for an ask", of(lapsed), graded(rules.Ask), false},
	} {
		if got := better(c.a, c.b); got != c.want {
			t.Errorf("%s: %t", c.name, got)
		}
	}
	if n := count(of(three, covered, lapsed), rules.Stop); n != 1 {
		t.Errorf("%d stops, not 1", n)
	}
	if n := count(of(three, covered, lapsed), rules.Ask); n != 3 {
		t.Errorf("%d asks, not 3", n)
	}
}

// TestApart: of changes that are made together none sets what an earlier one sets, and none is for a finding that is cleared already.
func TestApart(t *testing.T) {
	chosen := func(id string, clearsToo []string, paths ...string) Chosen {
		c := &checker.Change{ClearsToo: clearsToo}
		for _, p := range paths {
			c.Sets = append(c.Sets, checker.Set{Path: p})
		}
		return Chosen{&checker.Finding{ID: id}, c}
	}
	var got []string
	for _, c := range apart([]Chosen{
		chosen("1", []string{"4"}, "a", "b"),
		chosen("2", nil, "c", "b"), // b is taken
		chosen("3", nil, "c"),      // what was left out takes nothing
		chosen("4", nil, "d"),      // cleared by the first
		chosen("5", nil, "d"),
		chosen("6", []string{"7"}, "d"), // d is taken
		chosen("7", nil, "e"),           // what was left out clears nothing
	}) {
		got = append(got, c.Finding.ID)
	}
	if want := "[1 3 5 7]"; fmt.Sprint(got) != want {
		t.Errorf("%v, want %s", got, want)
	}
}
