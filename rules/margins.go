package rules

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"corerod/parts/subject"
)

// Margin is a numeric comparison that a subject meets, and how narrowly.
type Margin struct {
	Rule     *Rule
	Subject  subject.Subject
	Compared Compared
	Share    float64 // (value - limit) / |limit|, or (limit - value) / |limit| for an upper limit
}

// Narrowest returns the n limits that the part meets most narrowly, the narrowest first. One limit of a rule is given
// once, with the subject that is nearest to it; comparisons with 0, of counts, and of values other than numbers by < <= > >=,
// have no share and are left out.
func (out *Outcome) Narrowest(n int) []Margin {
	all := out.margins()
	slices.SortStableFunc(all, func(a, b Margin) int { return cmp.Compare(a.Share, b.Share) })
	seen := map[[4]string]bool{}
	var narrowest []Margin
	for _, m := range all {
		limit := m.Compared.From
		if limit == "" {
			limit = fmt.Sprint(m.Compared.Limit)
		}
		key := [4]string{m.Rule.Name, m.Compared.Measure, m.Compared.Needs, limit}
		if !seen[key] && len(narrowest) < n {
			seen[key] = true
			narrowest = append(narrowest, m)
		}
	}
	return narrowest
}

// margins lists the numeric comparisons of the needs that are met. Looking at them has a budget of its own.
func (out *Outcome) margins() (all []Margin) {
	s := out.scene
	s.restart()
	for i, met := range out.met {
		if i == 0 || out.met[i-1].rule != met.rule {
			s.next()
		}
		if s.spent() != nil || met.cost > mostMarginSteps {
			continue
		}
		leaves, err := met.rule.decisive(met.need, met.in, true)
		if err != nil {
			continue
		}
		for _, l := range leaves {
			if l.Unit == subject.Count || math.IsNaN(l.slack) || math.IsInf(l.slack, 0) {
				continue
			}
			m := Margin{Rule: met.rule, Subject: met.in.over.subject, Compared: l.Compared, Share: math.Max(0, l.slack)}
			if l.element != nil {
				m.Subject = l.element
			}
			all = append(all, m)
		}
	}
	return all
}

// mostMarginSteps is the cost from which a need that is met is not looked at for its margins: recording every value of a
// comparison of each subject with each takes many times as long as judging it.
const mostMarginSteps = 100_000
