package compare

import (
	"math"
	"slices"
	"strconv"

	"corerod/checker"
	"corerod/parts/subject"
	"corerod/parts/tooling"
)

// Figure is a main figure of a part before and after.
type Figure struct {
	Name     string // as in the JSON of a comparison
	Unit     string // a subject's unit
	Old, New subject.Optional
}

// Differs tells whether the two differ by more than sameMeasure.
func (f *Figure) Differs() bool {
	a, b := f.Old.Value, f.New.Value
	return f.Old.Known != f.New.Known || math.Abs(a-b) > sameMeasure*math.Max(1, math.Max(math.Abs(a), math.Abs(b)))
}

// MembersOf are the tool members of one kind before and after.
type MembersOf struct {
	Kind     string
	Old, New []*tooling.Member
	Differs  bool // in number or names, but for features that were renamed
}

func figuresOf(old, new *checker.PartReview) (all []Figure) {
	add := func(name, unit string, of func(*checker.PartReview) subject.Optional) {
		all = append(all, Figure{name, unit, of(old), of(new)})
	}
	some := func(of func(*subject.Part) float64) func(*checker.PartReview) subject.Optional {
		return func(r *checker.PartReview) subject.Optional { return subject.Some(of(r.Subject)) }
	}
	add("height", subject.MM, some(func(p *subject.Part) float64 { return p.Height }))
	add("across", subject.MM, some(func(p *subject.Part) float64 { return p.Outside }))
	add("plan_area", subject.MM2, some(func(p *subject.Part) float64 { return p.PlanArea }))
	add("volume", subject.MM3, some(func(p *subject.Part) float64 { return p.Volume }))
	add("mass", subject.Gram, func(r *checker.PartReview) subject.Optional { return r.Subject.Mass })
	add("density", subject.Density, func(r *checker.PartReview) subject.Optional { return r.Subject.Density })
	add("class", subject.Count, some(func(p *subject.Part) float64 { return p.Class }))
	add("force", subject.KN, func(r *checker.PartReview) subject.Optional { return r.Layout.Force })
	add("ejection", subject.KN, func(r *checker.PartReview) subject.Optional { return r.Layout.Ejection })
	return all
}

// membersOf compares the tool members of every kind.
func membersOf(old, new *checker.PartReview, d *redrawing) (all []MembersOf) {
	for _, kind := range []string{tooling.Die, tooling.UpperPunch, tooling.LowerPunch, tooling.CoreRod} {
		m := MembersOf{Kind: kind, Old: old.Layout.Of(kind), New: new.Layout.Of(kind)}
		m.Differs = kind != tooling.Die && !slices.Equal(d.memberNames(m.Old, true), d.memberNames(m.New, false))
		all = append(all, m)
	}
	return all
}

func (d *redrawing) memberNames(ms []*tooling.Member, old bool) (names []string) {
	for _, m := range ms {
		names = append(names, d.called(m.Kind, m.Name, old)+" "+strconv.Itoa(m.Count))
	}
	slices.Sort(names)
	return names
}

// Rods counts members, core rods alike each.
func Rods(ms []*tooling.Member) (n int) {
	for _, m := range ms {
		n += m.Count
	}
	return n
}
