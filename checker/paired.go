package checker

import (
	"cmp"
	"slices"
	"strings"

	"corerod/parts/subject"
	"corerod/rules"
)

// FindingPair is a finding of one or both of two revisions, and what became of it. Where one finding stands for several
// subjects that fared differently, there is a pair for each way.
type FindingPair struct {
	How                    How
	Old, New               *Finding        // nil where there is none
	OldSubject, NewSubject subject.Subject // the first of those it is about; nil where the part has none such
	OldPlaces, NewPlaces   int
	Other                  any    // of one that was gained or cleared: its first measure on the other part; nil where that has none
	Unapplied              string // why its rule applies to nothing on the other part; "" where it does
}

// Finding is the new finding, else the old one.
func (p *FindingPair) Finding() *Finding {
	if p.New != nil {
		return p.New
	}
	return p.Old
}

// item is a finding of the rules on one subject at one of its places.
type item struct {
	of  *Finding // that it stands in
	one *rules.Finding
	at  *instance
}

func items(r *PartReview, instances map[subject.Subject][]*instance) (all []*item) {
	for _, f := range r.Findings {
		for _, g := range append([]*rules.Finding{&f.Finding}, f.Alike...) {
			for _, i := range instances[g.Subject] {
				all = append(all, &item{f, g, i})
			}
		}
	}
	slices.SortStableFunc(all, worstFirst)
	return all
}

// findings pairs the findings of two reviews, place by place: of one rule on the subject that both parts have, and else on
// the same features where neither part has the other's subject.
func (m *matching) findings(old, new *PartReview) (differ, same []FindingPair) {
	was, now := items(old, m.old), items(new, m.new)
	next := map[any][]*item{}
	for _, n := range now {
		key := m.key(n, false)
		next[key] = append(next[key], n)
	}
	var j joiner
	mated := map[*item]bool{}
	for _, o := range was {
		var n *item
		if key := m.key(o, true); len(next[key]) > 0 {
			n, next[key] = next[key][0], next[key][1:]
			mated[n] = true
		}
		j.add(o, n)
	}
	for _, n := range now {
		if !mated[n] {
			j.add(nil, n)
		}
	}
	for i := range j.pairs {
		j.pairs[i].other(old, new)
	}
	return divide(j.pairs)
}

// worstFirst orders items so that of several on the same features the worst are one.
func worstFirst(a, b *item) int {
	switch {
	case a.of.Grade.Worse(b.of.Grade):
		return -1
	case b.of.Grade.Worse(a.of.Grade):
		return 1
	}
	x, _ := missing(a.one)
	y, _ := missing(b.one)
	return cmp.Compare(y, x)
}

// key is what an item is found again by: rule and subject, or rule, kind and features where only one part has the subject.
func (m *matching) key(x *item, old bool) any {
	type bySubject struct {
		rule string
		at   *instance // on the new part
	}
	switch {
	case x.at.mate != nil && old:
		return bySubject{x.of.Rule.Name, x.at.mate}
	case x.at.mate != nil:
		return bySubject{x.of.Rule.Name, x.at}
	}
	s := x.at.subject
	names := []string{x.of.Rule.Name, s.Kind().Name}
	for _, f := range s.Place().Features {
		if old {
			f = m.renamed("", f)
		}
		names = append(names, f)
	}
	slices.Sort(names[2:])
	return strings.Join(names, " ")
}

// joiner makes one pair of the items of the same two findings that fared alike.
type joiner struct {
	pairs []FindingPair
	at    map[ends]int
}

type ends struct {
	old, new *Finding
	how      How
}

func (j *joiner) add(old, new *item) {
	p := FindingPair{How: how(old, new)}
	if old != nil {
		p.Old, p.OldSubject, p.OldPlaces = old.of, old.at.subject, 1
		if new == nil && old.at.mate != nil {
			p.NewSubject = old.at.mate.subject
		}
	}
	if new != nil {
		p.New, p.NewSubject, p.NewPlaces = new.of, new.at.subject, 1
		if old == nil && new.at.mate != nil {
			p.OldSubject = new.at.mate.subject
		}
	}
	if j.at == nil {
		j.at = map[ends]int{}
	}
	key := ends{p.Old, p.New, p.How}
	if i, ok := j.at[key]; ok {
		j.pairs[i].OldPlaces += p.OldPlaces
		j.pairs[i].NewPlaces += p.NewPlaces
		return
	}
	j.at[key] = len(j.pairs)
	j.pairs = append(j.pairs, p)
}

// how says what became of an item.
func how(old, new *item) How {
	switch {
	case old == nil:
		return Gained
	case new == nil:
		return Cleared
	case new.of.Grade.Worse(old.of.Grade):
		return Worsened
	case old.of.Grade.Worse(new.of.Grade):
		return Eased
	}
	switch by := missedBy(new.one, old.one) - missedBy(old.one, new.one); {
	case by > 1e-9:
		return Worsened
	case by < -1e-9:
		return Eased
	}
	return Unchanged
}

// missedBy is by how much a finding misses in its first comparison, in the unit of its measure; where another has a
// different one first, the share of its limits that it misses in all.
func missedBy(f, other *rules.Finding) float64 {
	if len(f.Compared) > 0 && len(other.Compared) > 0 {
		a, b := &f.Compared[0], &other.Compared[0]
		if a.Measure == b.Measure && a.Needs == b.Needs && a.MissesBy != nil && b.MissesBy != nil {
			return *a.MissesBy
		}
	}
	share, _ := missing(f)
	return share
}

// divide parts the findings that differ, in order of importance, from those that do not.
func divide(all []FindingPair) (differ, same []FindingPair) {
	for _, p := range all {
		if p.How == Unchanged {
			same = append(same, p)
		} else {
			differ = append(differ, p)
		}
	}
	order := []How{Gained, Worsened, Eased, Cleared}
	by := func(a, b FindingPair) int {
		return cmp.Or(cmp.Compare(slices.Index(order, a.How), slices.Index(order, b.How)), ByGrade(a.Finding(), b.Finding()))
	}
	slices.SortStableFunc(differ, by)
	slices.SortStableFunc(same, by)
	return differ, same
}

// other looks at the part that a finding was gained or cleared against.
func (p *FindingPair) other(old, new *PartReview) {
	switch p.How {
	case Gained:
		p.Other, p.Unapplied = otherMeasure(p.New, p.OldSubject, old), unapplied(p.New, old)
	case Cleared:
		p.Other, p.Unapplied = otherMeasure(p.Old, p.NewSubject, new), unapplied(p.Old, new)
	}
}

// otherMeasure is the measure of a finding's first comparison on the other part, where the comparison is of one: a number,
// a word, yes or no; else nil.
func otherMeasure(f *Finding, s subject.Subject, r *PartReview) any {
	if len(f.Compared) == 0 {
		return nil
	}
	kind, name, _ := strings.Cut(f.Compared[0].Measure, ".")
	if kind == subject.PartKind.Name {
		s = r.Subject
	}
	if s == nil || s.Kind().Name != kind || s.Kind().Field(name) == nil {
		return nil
	}
	switch m := s.Kind().Field(name); m.Type {
	case subject.Number:
		if v, known := m.Number(s); known {
			return v
		}
	case subject.Text:
		return m.Text(s)
	case subject.Boolean:
		return m.Boolean(s)
	}
	return nil
}

// unapplied is why a finding's rule applies to nothing on a part, where its review has an account.
func unapplied(f *Finding, r *PartReview) string {
	i := slices.IndexFunc(r.Account, func(j rules.Judged) bool { return j.Rule.Name == f.Rule.Name })
	if i < 0 || r.Account[i].Applied > 0 {
		return ""
	}
	return r.Account[i].Why
}
