package rules

import "corerod/parts/subject"

// Judged is the account of one rule on one part.
type Judged struct {
	Rule     *Rule
	Subjects int    // subjects of the rule's kind on the part
	Applied  int    // of these, those that pass `when`
	Found    int    // of these, those with a finding
	Why      string // why the rule did not apply, in words; "" where it did
}

// Account tells of every rule, in order of name, how many subjects it was held against and how many it found
// something on. A rule whose expressions fail on the part says so: it is not taken as passed.
func (b *Book) Account(c Case) []Judged {
	s := b.scene(c)
	all := make([]Judged, 0, len(b.Rules))
	for _, r := range b.Rules {
		all = append(all, r.account(s))
	}
	return all
}

// account counts what one rule is held against.
func (r *Rule) account(s *scene) Judged {
	kind := subject.KindNamed(r.Over)
	j := Judged{Rule: r, Subjects: len(s.of(kind))}
	failed := false
	s.next()
	for _, o := range s.of(kind) {
		if s.spent() != nil {
			failed = true
			break
		}
		in := &bound{scene: s, over: o, limits: r.Pack.env().limits}
		applies, f := r.applies(in)
		failed = failed || f != nil
		if !applies {
			continue
		}
		j.Applied++
		need, f := r.fails(in)
		failed = failed || f != nil
		if need != nil {
			j.Found++
		}
	}
	switch {
	case failed:
		j.Why = "it failed on this part; see its fault"
	case j.Applied > 0:
	case j.Subjects == 0:
		j.Why = "the part has no " + kind.List
	case kind == subject.PartKind:
		j.Why = "the part does not pass `when`: " + r.when.shown()
	default:
		j.Why = "no " + kind.Name + " passes `when`: " + r.when.shown()
	}
	return j
}
