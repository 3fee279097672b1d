package compare

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"corerod/checker"
	"corerod/parts/subject"
)

// MovedSubject is a subject that both parts have, with the measures that differ.
type MovedSubject struct {
	Old, New subject.Subject
	Measures []MovedMeasure // in the order of their declaration
}

// MovedMeasure is a measure that differs: by more than sameMeasure; a word; or yes
// and no.
type MovedMeasure struct {
	Field            *subject.Field
	Old, New         subject.Optional // of a Number
	OldWord, NewWord string           // of a Text or Boolean
}

// Whereabouts tells a measure that says where a subject is, not what it is.
func (m *MovedMeasure) Whereabouts() bool { return checker.Whereabouts(m.Field) }

// Share is by how much a number moved, as a share of the greater of its two values: 1 where it is absent from one, and
// where it is no number.
func (m *MovedMeasure) Share() float64 {
	if m.Field.Type != subject.Number || m.Old.Known != m.New.Known {
		return 1
	}
	return math.Abs(m.Old.Value-m.New.Value) / math.Max(math.Abs(m.Old.Value), math.Abs(m.New.Value))
}

// Lone is a subject that only one of two parts has, at some places at least.
type Lone struct {
	Subject subject.Subject
	Places  int
}

// instance is a subject at one of its places.
type instance struct {
	subject.Spot
	subject subject.Subject // nil where only its spot is known
	mate    *instance       // on the other part; nil where there is none
}

// instancesOf are those of all subjects of a part, in order.
func instancesOf(p *subject.Part) (all []*instance) {
	for _, k := range subject.Kinds() {
		for _, s := range subject.Of(p, k) {
			for _, spot := range subject.SpotsOf(s) {
				all = append(all, &instance{spot, s, nil})
			}
		}
	}
	return all
}

// matching pairs the subjects of two parts, each at every place where it stands.
type matching struct {
	*redrawing
	old, new map[subject.Subject][]*instance
	at       [2]map[string]*instance // by kind, name and place; the old ones first
}

// match finds each subject of a part on another: one of the same kind and name, but for features that were renamed and the
// ordinal. Of several that share a name those nearest to each other are one. A feature that took the name of another has no
// subject in common with it.
func match(old, new []*instance, d *redrawing) *matching {
	m := &matching{d, map[subject.Subject][]*instance{}, map[subject.Subject][]*instance{}, [2]map[string]*instance{{}, {}}}
	was, is := m.byName(old, m.old, m.at[0], true), m.byName(new, m.new, m.at[1], false)
	for name, all := range is {
		nearest(was[name], all)
	}
	return m
}

// byName sorts instances by what subjects are found again by.
func (m *matching) byName(all []*instance, of map[subject.Subject][]*instance, at map[string]*instance, old bool) map[string][]*instance {
	named := map[string][]*instance{}
	for _, i := range all {
		if i.subject != nil {
			of[i.subject] = append(of[i.subject], i)
		}
		at[spotKey(i.Spot)] = i
		if !m.foreign(i.Features) {
			name := m.named(i.Spot, old)
			named[name] = append(named[name], i)
		}
	}
	return named
}

// spotKey tells a spot from all others of a part.
func spotKey(s subject.Spot) string {
	if s.Kind == subject.PartKind.Name {
		return s.Kind
	}
	return s.Kind + "\n" + s.Name + "\n" + place(s.Point)
}

// named is what a subject is found by; there is one part on either side, whatever its name.
func (m *matching) named(s subject.Spot, old bool) string {
	if s.Kind == subject.PartKind.Name {
		return s.Kind
	}
	return s.Kind + "\n" + m.called(s.Kind, s.Name, old)
}

// foreign tells whether a feature among some has the name that another feature had.
func (d *redrawing) foreign(features []string) bool {
	return slices.ContainsFunc(features, func(f string) bool { return d.swapped[f] })
}

// mostPairs bounds the pairs of subjects of one name whose distances are looked at; past it they pair in order.
const mostPairs = 40_000

// nearest pairs subjects of one name: those at the same place first, then the nearest.
func nearest(old, new []*instance) {
	at := map[string]*instance{}
	for _, o := range old {
		at[place(o.Point)] = o
	}
	for _, n := range new {
		if o := at[place(n.Point)]; o != nil && o.mate == nil {
			o.mate, n.mate = n, o
		}
	}
	old, new = alone(old), alone(new)
	if len(old)*len(new) > mostPairs {
		for i := range min(len(old), len(new)) {
			old[i].mate, new[i].mate = new[i], old[i]
		}
		return
	}
	type couple struct {
		o, n *instance
		away float64
	}
	var all []couple
	for _, o := range old {
		for _, n := range new {
			all = append(all, couple{o, n, o.away(n)})
		}
	}
	slices.SortStableFunc(all, func(a, b couple) int { return cmp.Compare(a.away, b.away) })
	for _, c := range all {
		if c.o.mate == nil && c.n.mate == nil {
			c.o.mate, c.n.mate = c.n, c.o
		}
	}
}

func alone(all []*instance) []*instance {
	return slices.DeleteFunc(slices.Clone(all), func(i *instance) bool { return i.mate != nil })
}

// place is a point to a nanometre.
func place(p subject.Point) string {
	return fmt.Sprintf("%.6f %.6f %.6f %.6f", subject.Snap(p.X), subject.Snap(p.Y), subject.Snap(p.ZLow), subject.Snap(p.ZHigh))
}

// away is how far the places of two instances are from each other, mm.
func (i *instance) away(j *instance) float64 {
	p, q := i.Point, j.Point
	return subject.Snap(math.Hypot(p.X-q.X, p.Y-q.Y) + math.Abs(p.ZLow-q.ZLow) + math.Abs(p.ZHigh-q.ZHigh))
}

// lone are the subjects of one side that have no mate at some of their places, by kind and in the part's order.
func lone(p *subject.Part, all map[subject.Subject][]*instance) (out []Lone) {
	for _, k := range subject.Kinds() {
		for _, s := range subject.Of(p, k) {
			if n := len(alone(all[s])); n > 0 {
				out = append(out, Lone{s, n})
			}
		}
	}
	return out
}

// moved are the pairs of subjects that differ, with what differs, by kind and in the order of the new part.
func (m *matching) moved(new *subject.Part) (all []MovedSubject) {
	for _, k := range subject.Kinds() {
		for _, s := range subject.Of(new, k) {
			seen := map[subject.Subject]bool{}
			for _, i := range m.new[s] {
				if i.mate == nil || seen[i.mate.subject] {
					continue
				}
				seen[i.mate.subject] = true
				p := MovedSubject{Old: i.mate.subject, New: s}
				if p.compare(); len(p.Measures) > 0 {
					all = append(all, p)
				}
			}
		}
	}
	return all
}

// compare finds the measures that differ.
func (p *MovedSubject) compare() {
	for i := range p.New.Kind().Fields {
		if x, differs := compareMeasure(&p.New.Kind().Fields[i], p.Old, p.New); differs {
			p.Measures = append(p.Measures, x)
		}
	}
}

func compareMeasure(f *subject.Field, old, new subject.Subject) (m MovedMeasure, differs bool) {
	m.Field = f
	switch {
	case f.Label:
	case f.Type == subject.Number:
		m.Old, m.New = numberOf(f, old), numberOf(f, new)
		a, b := m.Old.Value, m.New.Value
		return m, m.Old.Known != m.New.Known || math.Abs(a-b) > sameMeasure*math.Max(1, math.Max(math.Abs(a), math.Abs(b)))
	case f.Type == subject.Text:
		m.OldWord, m.NewWord = f.Text(old), f.Text(new)
	case f.Type == subject.Boolean:
		words := map[bool]string{true: "yes", false: "no"}
		m.OldWord, m.NewWord = words[f.Boolean(old)], words[f.Boolean(new)]
	}
	return m, m.OldWord != m.NewWord
}

// numberOf is a measure of a subject, absent where it has none; 0 is its value then.
func numberOf(f *subject.Field, s subject.Subject) subject.Optional {
	v, known := f.Number(s)
	if !known {
		return subject.Optional{}
	}
	return subject.Some(v)
}
