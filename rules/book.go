package rules

import (
	"cmp"
	"maps"
	"slices"

	"corerod/parts/source"
	"corerod/parts/stock"
)

// Book is the packs in force together. It is not changed and may be used from several goroutines at once.
type Book struct {
	Packs []*Pack
	Rules []*Rule // of all packs, in order of name
}

// NewBook puts packs in force together. Two packs that give a rule or a figure of one name are a problem: which one is
// meant cannot be told.
func NewBook(packs ...*Pack) (*Book, source.Problems) {
	b := &Book{Packs: packs}
	var ps source.Problems
	for i, p := range packs {
		for _, earlier := range packs[:i] {
			ps = append(ps, clashes(earlier, p)...)
		}
		b.Rules = append(b.Rules, p.Rules...)
	}
	if len(ps) > 0 {
		return nil, ps.Sorted()
	}
	slices.SortStableFunc(b.Rules, func(a, b *Rule) int { return cmp.Compare(a.Name, b.Name) })
	return b, nil
}

// clashes lists what both packs give under one name.
func clashes(a, b *Pack) (ps source.Problems) {
	both := func(what, name string, there Origin) {
		ps = append(ps, source.Problem{File: there.File, Line: there.Line, Column: there.Column,
			Message: "packs `" + a.Name + "` and `" + b.Name + "` both give the " + what + " `" + name +
				"`; leave it in one of them, or put one pack in force"})
	}
	for _, name := range sortedKeys(b.Limits) {
		if a.Limits[name] != nil {
			both("limit", name, b.Limits[name].Origin)
		}
	}
	for _, name := range sortedKeys(b.Materials) {
		if a.Materials[name] != nil {
			both("material", name, b.Materials[name].Origin)
		}
	}
	for _, name := range sortedKeys(b.Curves) {
		if a.Curves[name] != nil {
			both("curve", name, b.Curves[name].Origin)
		}
	}
	for _, name := range sortedKeys(b.Presses) {
		if a.Presses[name] != nil {
			both("press", name, b.Presses[name].Origin)
		}
	}
	for _, r := range b.Rules {
		if slices.ContainsFunc(a.Rules, func(other *Rule) bool { return other.Name == r.Name }) {
			both("rule", r.Name, Origin{File: r.File, Line: r.Line, Column: r.Column})
		}
	}
	return ps
}

// Material is what a part file states of its material.
type Material struct {
	Name string // as the part file has it; "" where it states none
}

// Material looks a material up in the packs in force.
func (b *Book) Material(name string) (stock.Material, bool) {
	for _, p := range b.Packs {
		if m := p.Materials[name]; m != nil {
			return m.Material, true
		}
	}
	return stock.Material{}, false
}

// Materials are the names of the materials of the packs in force, in order.
func (b *Book) Materials() []string {
	var all []string
	for _, p := range b.Packs {
		all = append(all, slices.Collect(maps.Keys(p.Materials))...)
	}
	slices.Sort(all)
	return slices.Compact(all)
}

// Curve looks a curve of pressure and green density up in the packs in force.
func (b *Book) Curve(name string) (stock.Curve, bool) {
	for _, p := range b.Packs {
		if c := p.Curves[name]; c != nil {
			return c.Curve, true
		}
	}
	return stock.Curve{}, false
}

// Presses are those of the packs in force, in order of name.
func (b *Book) Presses() (all []*Press) {
	for _, p := range b.Packs {
		for _, x := range p.Presses {
			all = append(all, x)
		}
	}
	slices.SortFunc(all, func(a, b *Press) int { return cmp.Compare(a.Name, b.Name) })
	return all
}

// Limit looks a limit up in the packs in force, and the pack that gives it.
func (b *Book) Limit(name string) (*Limit, *Pack) {
	for _, p := range b.Packs {
		if l := p.Limits[name]; l != nil {
			return l, p
		}
	}
	return nil, nil
}

// Alone is the book with one rule.
func (b *Book) Alone(rule string) *Book {
	i := slices.IndexFunc(b.Rules, func(r *Rule) bool { return r.Name == rule })
	return &Book{Packs: b.Packs, Rules: b.Rules[i : i+1]}
}

// With is the book with the materials, curves and presses that a trial offers.
func (b *Book) With(offers *Pack) *Book {
	if offers == nil {
		return b
	}
	return &Book{Packs: append(slices.Clone(b.Packs), offers), Rules: b.Rules}
}
