package change

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"corerod/checker"
	"corerod/parts/source"
	"corerod/parts/subject"
	"corerod/rules"
)

// variant is the part with some edits, as it was reviewed.
type variant struct {
	edits   []source.Edit
	derived *checker.Derived // nil where the changed file is refused
	out     *rules.Outcome
}

// review makes the changed file, reads it and judges it by the whole book: a change is checked on the very bytes that
// it would leave.
func (s *search) review(edits []source.Edit) *variant {
	key := ""
	for _, e := range edits {
		key += fmt.Sprintf("%q %q %q %v\n", e.Path, e.Key, e.Text, e.Remove)
	}
	s.mu.Lock()
	v := s.known[key]
	s.mu.Unlock()
	if v != nil {
		return v
	}
	v = &variant{edits: edits}
	if s.ctx.Err() != nil {
		return v // as one that is refused: the search ends
	}
	if b, err := s.doc.With(edits...); err == nil {
		if d, ps := checker.Read(s.doc.File, b, s.book); len(ps) == 0 {
			out := s.book.Judge(d.Case())
			if len(out.Faults) <= len(s.base.out.Faults) {
				v.derived, v.out = &checker.Derived{Subject: d.Subject}, out // the shape itself is not looked at again
			}
		}
	}
	s.mu.Lock()
	s.known[key] = v
	s.mu.Unlock()
	return v
}

// target is a finding to be cleared: every finding of the rules that it stands for.
type target struct {
	finding *checker.Finding
	base    *variant // on which it was found
	all     []*rules.Finding
	names   []string // of the subjects that they were judged on
	numeric bool     // it misses by numbers, so numbers can clear it
}

func (s *search) target(f *checker.Finding) *target {
	t := &target{finding: f, base: s.base}
	for i := range s.base.out.Findings {
		g := &s.base.out.Findings[i]
		if g.Rule != f.Rule {
			continue
		}
		if g.Subject == f.Subject || f.Groups(&checker.Finding{Finding: *g}) {
			t.all, t.names = append(t.all, g), append(t.names, g.Over.Place().Name)
			_, numeric := checker.Missing(g)
			t.numeric = t.numeric || numeric
		}
	}
	return t
}

// misses is by how much a target is missed on a variant, and the grade of what is left of it: 0 and "" where it is gone.
func (t *target) misses(v *variant) (most float64, grade rules.Grade) {
	for i := range v.out.Findings {
		f := &v.out.Findings[i]
		if f.Rule != t.finding.Rule || !slices.Contains(t.names, f.Over.Place().Name) {
			continue
		}
		m, _ := checker.Missing(f)
		if most = math.Max(most, m); grade == "" || f.Grade.Worse(grade) {
			grade = f.Grade
		}
	}
	return most, grade
}

// mayVanish are the kinds of subjects that are gone where what is wrong with them is.
var mayVanish = []*subject.Kind{subject.TrapKind, subject.FeatherKind, subject.TaperKind, subject.StepKind, subject.FlangeKind,
	subject.CrossingKind}

// cleared tells whether nothing of a target is left on a variant, for the right reason: its subjects are still there, the
// rule applies to them, and what moved is a measure that a change may move.
func (s *search) cleared(t *target, v *variant) bool {
	if _, grade := t.misses(v); grade != "" || !t.fewer(v) {
		return false
	}
	for i, f := range t.all {
		over := find(v.derived.Subject, f.Over.Kind(), t.names[i])
		if over == nil {
			if !slices.Contains(mayVanish, f.Over.Kind()) {
				return false
			}
			continue
		}
		if !v.out.Meets(f.Rule, t.names[i]) || !adjusted(f, over) {
			return false
		}
	}
	return t.stays(v)
}

// stays tells whether a part has as many holes as before, where the target is not what goes with them: a hole that runs
// into another or out of the part is no change of a number.
func (t *target) stays(v *variant) bool {
	if slices.Contains(mayVanish, t.finding.Over.Kind()) {
		return true
	}
	return holes(v.derived.Subject) == holes(t.base.derived.Subject)
}

func holes(p *subject.Part) (n int) {
	for _, h := range p.Holes {
		n += max(1, len(h.Places))
	}
	return n
}

// fewer tells whether a variant has fewer findings of the target's rule on its features: names count subjects of one
// pair of features, and another may have taken the name.
func (t *target) fewer(v *variant) bool {
	count := func(out *rules.Outcome) (n int) {
		for i := range out.Findings {
			if alike(&out.Findings[i], t.all[0]) {
				n++
			}
		}
		return n
	}
	return count(v.out) <= count(t.base.out)-len(t.all)
}

// alike tells whether two findings are of one rule on the same features.
func alike(a, b *rules.Finding) bool {
	return a.Rule == b.Rule && slices.Equal(a.Subject.Place().Features, b.Subject.Place().Features)
}

// find is the subject of a kind and name.
func find(p *subject.Part, k *subject.Kind, name string) subject.Subject {
	if k == subject.PartKind {
		return p
	}
	for _, s := range subject.Of(p, k) {
		if s.Place().Name == name {
			return s
		}
	}
	return nil
}

// adjusted tells whether a measure that the rule lets a change move has moved on a subject.
func adjusted(f *rules.Finding, now subject.Subject) bool {
	if len(f.Rule.Adjust) == 0 {
		return true
	}
	for _, a := range f.Rule.Adjust {
		kind, name, _ := strings.Cut(a, ".")
		if kind != f.Over.Kind().Name {
			return true // of the part as a whole, which every change moves
		}
		if m := now.Kind().Field(name); m != nil {
			before, had := m.Number(f.Over)
			after, has := m.Number(now)
			if before != after || had != has {
				return true
			}
		}
	}
	return false
}
