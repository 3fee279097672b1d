package compare

import (
	"cmp"
	"slices"
	"strings"

	"corerod/checker"
	"corerod/parts/subject"
	"corerod/rules"
)

// item is a finding of one subject at one place. The findings of two reviews are compared item by item.
type item struct {
	of       int // the record that it stands in
	rule     string
	over     string // what the rule was judged on, where a list of it was compared
	grade    rules.Grade
	at       *instance
	to       *instance // the other element, where two were compared; else nil
	compared []rules.Compared
}

// itemPair is what is left of an item in another review; one of both may be nil.
type itemPair struct{ old, new *item }

// itemsOf are the items of records on one side of a matching. A list is compared element by element, anything else at every
// place of what the rule was judged on.
func (m *matching) itemsOf(records []*checker.EarlierFinding, old bool) (all []*item) {
	for i, f := range records {
		var whole []rules.Compared
		at := map[string]*item{}
		for _, c := range f.Compared {
			if c.Of == nil {
				whole = append(whole, c)
				continue
			}
			key := spotKey(*c.Of)
			if c.To != nil {
				key += "\n" + spotKey(*c.To)
			}
			x := at[key]
			if x == nil {
				x = &item{of: i, rule: f.Rule, over: m.named(judged(f)[0], old), grade: f.Grade, at: m.instance(*c.Of, old)}
				if c.To != nil {
					x.to = m.instance(*c.To, old)
				}
				at[key] = x
				all = append(all, x)
			}
			x.compared = append(x.compared, c)
		}
		if len(whole) == 0 && len(at) > 0 {
			continue
		}
		for _, spot := range judged(f) {
			all = append(all, &item{of: i, rule: f.Rule, grade: f.Grade, at: m.instance(spot, old), compared: whole})
		}
	}
	slices.SortStableFunc(all, worstItem)
	return all
}

// instance is the one at a spot; one without a mate where the part has none there.
func (m *matching) instance(s subject.Spot, old bool) *instance {
	side := m.at[1]
	if old {
		side = m.at[0]
	}
	if i := side[spotKey(s)]; i != nil {
		return i
	}
	return &instance{Spot: s}
}

// pair pairs the items of two lists of records: of one rule on the subject that both parts have, and else on the same features
// where neither part has the other's subject.
func (m *matching) pair(old, new []*checker.EarlierFinding) (all []itemPair) {
	was, now := m.itemsOf(old, true), m.itemsOf(new, false)
	next := map[any][]*item{}
	for _, n := range now {
		key := m.key(n, false)
		next[key] = append(next[key], n)
	}
	mated := map[*item]bool{}
	for _, o := range was {
		x := itemPair{old: o}
		if key := m.key(o, true); len(next[key]) > 0 {
			x.new, next[key] = next[key][0], next[key][1:]
			mated[x.new] = true
		}
		all = append(all, x)
	}
	for _, n := range now {
		if !mated[n] {
			all = append(all, itemPair{new: n})
		}
	}
	return all
}

// worstItem orders items so that of several on the same features the worst are one.
func worstItem(a, b *item) int {
	return checker.WorstFirst(&rules.Finding{Grade: a.grade, Compared: a.compared}, &rules.Finding{Grade: b.grade, Compared: b.compared})
}

// key is what an item is found again by: rule and subject, or rule, kind and features where only one part has the subject. An
// item on a feature that took another's name has none in common with another review.
func (m *matching) key(x *item, old bool) any {
	type bySubject struct {
		rule, over string
		at, to     *instance // on the new part
	}
	mates := x.at.mate != nil && (x.to == nil || x.to.mate != nil)
	switch {
	case m.foreign(x.at.Features), x.to != nil && m.foreign(x.to.Features):
		return x
	case mates && old:
		return bySubject{x.rule, x.over, x.at.mate, x.to.mateOf()}
	case mates:
		return bySubject{x.rule, x.over, x.at, x.to}
	}
	names := []string{x.rule, x.over, x.at.Kind, m.features(x.at, old)}
	if x.to != nil {
		names = append(names, x.to.Kind, m.features(x.to, old))
	}
	return strings.Join(names, "\n")
}

// mateOf is the mate of an instance; nil for none.
func (i *instance) mateOf() *instance {
	if i == nil {
		return nil
	}
	return i.mate
}

// features are those of an instance as they are called now, in order of their names.
func (m *matching) features(i *instance, old bool) string {
	names := slices.Clone(i.Features)
	for k, f := range names {
		if old {
			names[k] = m.renamed("", f)
		}
	}
	slices.Sort(names)
	return strings.Join(names, " ")
}

// placed tells whether the pair is of an element of a list.
func (x itemPair) placed() bool {
	has := func(i *item) bool { return i != nil && len(i.compared) > 0 && i.compared[0].Of != nil }
	return has(x.old) || has(x.new)
}

// how says what became of an item. Where some of its comparisons are worse and some better, it is worse.
func (x itemPair) how() How {
	switch {
	case x.old == nil:
		return Gained
	case x.new == nil:
		return Cleared
	case x.new.grade.Worse(x.old.grade):
		return Worsened
	case x.old.grade.Worse(x.new.grade):
		return Eased
	}
	was, is := byMeasure(x.old.compared), byMeasure(x.new.compared)
	eased := false
	for key, now := range is {
		before := was[key]
		if len(now) > len(before) {
			return Worsened
		}
		eased = eased || len(now) < len(before)
		for i := range now {
			switch by := further(&before[i], &now[i]); {
			case by > furtherBy:
				return Worsened
			case by < -furtherBy:
				eased = true
			}
		}
	}
	if eased || len(is) < len(was) {
		return Eased
	}
	return Unchanged
}

// byMeasure sorts comparisons by what they measure and need, those of one that miss most first.
func byMeasure(all []rules.Compared) map[[2]string][]rules.Compared {
	sorted := map[[2]string][]rules.Compared{}
	for _, c := range all {
		key := [2]string{c.Measure, c.Needs}
		sorted[key] = append(sorted[key], c)
	}
	for _, s := range sorted {
		slices.SortStableFunc(s, func(a, b rules.Compared) int { return cmp.Compare(missedBy(&b), missedBy(&a)) })
	}
	return sorted
}

func missedBy(c *rules.Compared) float64 {
	if c.MissesBy == nil {
		return 0
	}
	return *c.MissesBy
}

// further is by how much more a comparison misses than before. One that is no number is further where it is another.
func further(was, is *rules.Compared) float64 {
	if was.MissesBy != nil && is.MissesBy != nil {
		return *is.MissesBy - *was.MissesBy
	}
	if was.Value != is.Value {
		return 1
	}
	return 0
}
