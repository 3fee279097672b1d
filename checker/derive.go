// Package checker joins the steps of a review: a part file's bytes become a part, its as-pressed shape, the layout of
// its tool, subjects, findings and a result that reports are written from. It knows no file system, no clock and no
// environment: files, packs and options come in, values come out, and the same input gives the same result at any
// parallelism.
//
// Run reviews files side by side. What a part goes through beyond being judged is a Step of the options, from packages above: that
// its findings are covered by records of concessions (concession), and that changes are sought for them (change). What became of
// findings since an earlier review is added to a finished one (compare). The types of what these find are here, since findings and
// parts carry it.
package checker

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"

	"corerod/parts"
	"corerod/parts/blank"
	"corerod/parts/form"
	"corerod/parts/measure"
	"corerod/parts/source"
	"corerod/parts/stock"
	"corerod/parts/subject"
	"corerod/parts/tooling"
	"corerod/rules"
)

// Derived is a part with all that rules judge of it.
type Derived struct {
	Part    *parts.Part
	Subject *subject.Part
	Layout  *tooling.Layout
}

// Case is the part as rules judge it.
func (d *Derived) Case() rules.Case {
	return rules.Case{Part: d.Subject, Material: rules.Material{Name: d.Part.Material.Name}, Unit: d.Part.Unit}
}

// Derive computes everything about a part that was read without problems, by what the packs in force say of its material.
// A density that the material cannot have is a problem of the part file.
func Derive(p *parts.Part, book *rules.Book) (*Derived, parts.Problems) {
	b, ps := measure.Part(p)
	if len(ps) > 0 {
		return nil, ps
	}
	d := data(p, book)
	l := tooling.Lay(b, d)
	if p.Material.Name != "" {
		b.Subject.Powders = append(b.Subject.Powders, powder(p, d.Material != nil, book))
	}
	if ps := possible(p, b.Subject, d); len(ps) > 0 {
		return nil, ps
	}
	return &Derived{p, b.Subject, l}, nil
}

// Read reads a part file and derives its subjects; problems of the reading and of the profiles come together.
func Read(file string, b []byte, book *rules.Book) (*Derived, parts.Problems) {
	p, ps := form.Parse(file, b)
	if len(ps) > 0 {
		if p != nil {
			ps = append(ps, blank.Check(p)...).Sorted()
		}
		return nil, ps
	}
	return Derive(p, book)
}

// powder is the material that a part file names, with the names that it may have meant where it is not known.
func powder(p *parts.Part, known bool, book *rules.Book) *subject.Powder {
	x := &subject.Powder{Known: known, Nearest: []string{}}
	x.Name, x.Features = source.Plain(p.Material.Name), []string{}
	if known {
		return x
	}
	names := map[string]string{} // by their small letters
	for _, name := range book.Materials() {
		names[strings.ToLower(name)] = name
	}
	if near, ok := names[source.Nearest(x.Name, slices.Sorted(maps.Keys(names)))]; ok {
		x.Nearest = append(x.Nearest, near)
	}
	return x
}

// data is what the packs in force say of the part's material, of friction and of presses.
func data(p *parts.Part, book *rules.Book) *tooling.Data {
	d := &tooling.Data{Density: p.Material.Density, Name: p.Material.Name}
	if m, ok := book.Material(p.Material.Name); ok {
		d.Material = &m
		if c, ok := book.Curve(m.Curve); ok {
			d.Curve = &c
		}
	}
	d.Figure = func(name string) (tooling.Figure, bool) {
		l, pack := book.Limit(name)
		if l == nil {
			return tooling.Figure{}, false
		}
		return tooling.Figure{Limit: l.Limit, Pack: pack.Name}, true
	}
	for _, x := range book.Presses() {
		d.Presses = append(d.Presses, tooling.Press{Press: x.Press, Name: x.Name})
	}
	return d
}

// possible sets the porosity, and refuses densities that the material cannot have, sintered or green.
func possible(p *parts.Part, s *subject.Part, d *tooling.Data) source.Problems {
	m := d.Material
	if m == nil || d.Density == 0 {
		return nil
	}
	over := func(density float64, free stock.Figure) bool { return free.Known && density > free.Value+overDensity }
	switch {
	case over(d.Density, m.PoreFree):
		return source.Problems{p.Problem(p.Material.At, fmt.Sprintf("density %g g/cm3 is impossible: %s without pores has %.4g", d.Density,
			source.Plain(d.Name), m.PoreFree.Value))}
	case s.GreenDensity.Known && over(s.GreenDensity.Value, m.PoreFreeGreen):
		return source.Problems{p.Problem(p.Material.At,
			fmt.Sprintf("density %g g/cm3 is impossible: it would need a green density of %.4g, "+
				"and %s with its lubricant has %.4g without pores",
				d.Density, s.GreenDensity.Value, source.Plain(d.Name), m.PoreFreeGreen.Value))}
	}
	if m.PoreFree.Known {
		s.Porosity = subject.Some(math.Max(0, 1-d.Density/m.PoreFree.Value))
	}
	return nil
}
