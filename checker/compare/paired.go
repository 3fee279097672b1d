package compare

import (
	"cmp"
	"slices"
	"strings"

	"corerod/checker"
	"corerod/parts/subject"
	"corerod/rules"
)

// FindingPair is a finding of one or both of two revisions, and what became of it. Where one finding stands for several
// subjects that fared differently, there is a pair for each way.
type FindingPair struct {
	How                      How
	Old, New                 *checker.Finding // nil where there is none
	OldSubject, NewSubject   subject.Subject  // the first of those it is about; nil where the part has none such
	OldPlaces, NewPlaces     int
	OldCompared, NewCompared []rules.Compared // what failed; of a list the elements that fared so
	// Other is, of one that was gained or cleared, its first measure on the other part; nil where that has none.
	Other     any
	Unapplied string // why its rule applies to nothing on the other part; "" where it does
}

// Finding is the new finding, else the old one.
func (p *FindingPair) Finding() *checker.Finding {
	if p.New != nil {
		return p.New
	}
	return p.Old
}

// findings pairs the findings of two reviews, and tells those that differ from those that do not.
func (m *matching) findings(old, new *checker.PartReview) (differ, same []FindingPair) {
	was, is := recordsOf(old), recordsOf(new)
	var j joiner
	for _, x := range m.pair(was, is) {
		j.add(x, old, new)
	}
	for i := range j.pairs {
		j.pairs[i].other(old, new)
	}
	return divide(j.pairs)
}

// joiner makes one pair of the items of the same two findings that fared alike.
type joiner struct {
	pairs []FindingPair
	at    map[ends]int
}

type ends struct {
	old, new *checker.Finding
	how      How
}

func (j *joiner) add(x itemPair, old, new *checker.PartReview) {
	p := FindingPair{How: x.how()}
	if x.old != nil {
		p.Old, p.OldSubject, p.OldPlaces, p.OldCompared = old.Findings[x.old.of], x.old.at.subject, 1, x.old.compared
		if x.new == nil && x.old.at.mate != nil {
			p.NewSubject = x.old.at.mate.subject
		}
	}
	if x.new != nil {
		p.New, p.NewSubject, p.NewPlaces, p.NewCompared = new.Findings[x.new.of], x.new.at.subject, 1, x.new.compared
		if x.old == nil && x.new.at.mate != nil {
			p.OldSubject = x.new.at.mate.subject
		}
	}
	if j.at == nil {
		j.at = map[ends]int{}
	}
	key := ends{p.Old, p.New, p.How}
	i, ok := j.at[key]
	if !ok {
		j.at[key] = len(j.pairs)
		j.pairs = append(j.pairs, p)
		return
	}
	q := &j.pairs[i]
	q.OldPlaces += p.OldPlaces
	q.NewPlaces += p.NewPlaces
	if x.placed() {
		q.OldCompared, q.NewCompared = slices.Concat(q.OldCompared, p.OldCompared), slices.Concat(q.NewCompared, p.NewCompared)
	}
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
		return cmp.Or(cmp.Compare(slices.Index(order, a.How), slices.Index(order, b.How)), checker.ByGrade(a.Finding(), b.Finding()))
	}
	slices.SortStableFunc(differ, by)
	slices.SortStableFunc(same, by)
	return differ, same
}

// other looks at the part that a finding was gained or cleared against.
func (p *FindingPair) other(old, new *checker.PartReview) {
	switch p.How {
	case Gained:
		p.Other, p.Unapplied = otherMeasure(p.NewCompared, p.OldSubject, old), unapplied(p.New, old)
	case Cleared:
		p.Other, p.Unapplied = otherMeasure(p.OldCompared, p.NewSubject, new), unapplied(p.Old, new)
	}
}

// otherMeasure is the measure of a finding's first comparison on the other part, where the comparison is of one: a number,
// a word, yes or no; else nil.
func otherMeasure(compared []rules.Compared, s subject.Subject, r *checker.PartReview) any {
	if len(compared) == 0 {
		return nil
	}
	kind, name, _ := strings.Cut(compared[0].Measure, ".")
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
func unapplied(f *checker.Finding, r *checker.PartReview) string {
	i := slices.IndexFunc(r.Account, func(j rules.Judged) bool { return j.Rule.Name == f.Rule.Name })
	if i < 0 || r.Account[i].Applied > 0 {
		return ""
	}
	return r.Account[i].Why
}
