package checker

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"

	"corerod/checker/internal/samples"
	"corerod/parts/partstest"
	"corerod/parts/subject"
	"corerod/rules"
)

// TestSameFindingsInOtherWays: a part written in another way has the same findings, by rule, grade and number of places. Turned over it
// may have others: the die is below. A part of which a measure comes within a millionth of what is needed is left out.
func TestSameFindingsInOtherWays(t *testing.T) {
	n := 100
	if os.Getenv("COREROD_LONG") != "" {
		n = 2000
	} else if testing.Short() {
		n = 10
	}
	book := samples.StandardBook(t)
	review := func(text string) (p *PartReview, why string) {
		r := Run(context.Background(), []File{fileOf("way.yaml", []byte(text))}, book, Options{StatusAt: rules.Change, Workers: 1})
		if len(r.Parts) != 1 {
			return nil, fmt.Sprint(r.Unread)
		}
		return r.Parts[0], ""
	}
	first, _ := strconv.Atoi(os.Getenv("COREROD_FIRST"))
	made := func(d partstest.Drawing) bool {
		p, _ := review(d.Text("mm"))
		return p != nil && !barely(p)
	}
	if !partstest.Each(first, n, made, func(d partstest.Drawing, rng *rand.Rand) {
		p, _ := review(d.Text("mm"))
		for _, w := range partstest.Ways(rng) {
			other, ok := w.Rewrite(d, p.Subject.ZLow+p.Subject.ZHigh)
			if !ok || w.Over {
				continue
			}
			q, why := review(other.Text(w.Units))
			if w.Name == "a body in two" && strings.Contains(why, "adds nothing") {
				continue // the half of a hub inside its flange
			}
			if q == nil {
				t.Errorf("%s a part is refused: %s\n%s", w.Name, why, other.Text(w.Units))
				continue
			}
			if a, b := tally(p), tally(q); !slices.Equal(a, b) && !barely(q) {
				t.Errorf("as drawn %v,\n%s %v:\n%s", a, w.Name, b, d.Text("mm"))
			}
		}
	}) {
		t.Errorf("fewer than %d parts could be made", n)
	}
}

// tally counts the places of a part's findings by rule and grade, each once: two walls that cross in a point may be of one feature or not.
func tally(p *PartReview) (all []string) {
	places := map[string][]subject.Point{}
	for _, f := range p.Findings {
		k := f.Rule.Name + " " + string(f.Grade)
		for _, at := range f.allPlaces() {
			if !slices.ContainsFunc(places[k], func(o subject.Point) bool { return onePlace(o, at) }) {
				places[k] = append(places[k], at)
			}
		}
	}
	for k, v := range places {
		all = append(all, fmt.Sprintf("%s x%d", k, len(v)))
	}
	slices.Sort(all)
	return all
}

// barely tells whether a finding is one by less than a millionth.
func barely(p *PartReview) bool {
	for _, f := range p.Findings {
		for _, c := range f.Entries() {
			if c.MissesBy != nil && math.Abs(*c.MissesBy) < 1e-6 {
				return true
			}
		}
	}
	return false
}
