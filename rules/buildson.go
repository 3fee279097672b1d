package rules

import (
	"cmp"
	"maps"
	"slices"

	"corerod/parts/source"
)

// Base is another pack that a pack builds on, as its file names it.
type Base struct {
	Name   string
	SHA256 string // that its files must have; "" for any
	Origin Origin
}

// Resolve finds a pack that another builds on.
type Resolve func(b Base) (*Pack, source.Problems)

// Builtins finds built-in packs.
func Builtins(b Base) (*Pack, source.Problems) {
	p, err := LoadBuiltin(b.Name)
	if err != nil {
		return nil, source.Problems{b.Origin.problem("`builds_on` names " + source.Quote(b.Name) + ": " + err.Error())}
	}
	return p, nil
}

// Problem is a fault in what is said of the base.
func (b Base) Problem(message string) source.Problems {
	return source.Problems{b.Origin.problem(message)}
}

func (o Origin) problem(message string) source.Problem {
	return source.Problem{File: o.File, Line: o.Line, Column: o.Column, Message: message}
}

// buildsOn reads the names of packs.
func (r *reading) buildsOn(n *source.Node, what string) {
	items, _ := r.List(n, what)
	for _, it := range items {
		b := Base{Origin: r.origin(it)}
		if it.Shape == source.Map {
			if !r.Map(it, "an entry of "+what, forms().base.Known()...) {
				continue
			}
			if v := r.Require(it, "an entry of "+what, "pack"); v != nil {
				b.Name, _ = r.Text(v, "`pack`")
			}
			if v := it.At("sha256"); v != nil {
				b.SHA256, _ = r.Text(v, "`sha256`")
			}
		} else {
			name, ok := r.Text(it, "an entry of "+what)
			if b.Name = name; ok && name == "" {
				r.Report(it, "an entry of %s is empty; it names a pack", what)
			}
		}
		if b.Name == "" {
			continue
		}
		if slices.ContainsFunc(r.pack.Bases, func(o Base) bool { return o.Name == b.Name }) {
			r.Report(it, "%s names %s twice", what, source.Quote(b.Name))
			continue
		}
		r.pack.Bases = append(r.pack.Bases, b)
	}
}

// build takes in what the packs below give: what this pack gives under the same name replaces it, in the same unit.
func (p *Pack) build(resolve Resolve) (ps source.Problems) {
	if resolve == nil {
		resolve = Builtins
	}
	for _, b := range p.Bases {
		q, found := resolve(b)
		ps = append(ps, found...)
		if q == nil {
			continue
		}
		if b.SHA256 != "" && b.SHA256 != q.Digest {
			ps = append(ps, b.Origin.problem("the pack "+source.Quote(b.Name)+" has changed: its sha256 is "+q.Digest))
		}
		p.On = append(p.On, q)
	}
	own := Pack{Limits: maps.Clone(p.Limits), Tables: maps.Clone(p.Tables), Materials: maps.Clone(p.Materials),
		Curves: maps.Clone(p.Curves), Presses: maps.Clone(p.Presses)}
	for _, q := range p.On {
		ps = append(ps, take(p, p.Limits, own.Limits, q.Limits, "limit", func(l *Limit) Origin { return l.Origin },
			func(old, l *Limit) string {
				if old.Unit != l.Unit {
					return "it is " + old.Unit + " there, and " + l.Unit + " here"
				}
				return ""
			})...)
		ps = append(ps, take(p, p.Tables, own.Tables, q.Tables, "table", func(t *Table) Origin { return t.Origin },
			func(old, t *Table) string {
				if old.XUnit != t.XUnit || old.YUnit != t.YUnit {
					return "its units are others there"
				}
				return ""
			})...)
		ps = append(ps, take(p, p.Materials, own.Materials, q.Materials, "material",
			func(m *StockMaterial) Origin { return m.Origin }, nil)...)
		ps = append(ps, take(p, p.Curves, own.Curves, q.Curves, "curve", func(c *Curve) Origin { return c.Origin }, nil)...)
		ps = append(ps, take(p, p.Presses, own.Presses, q.Presses, "press", func(x *Press) Origin { return x.Origin }, nil)...)
		for name, s := range q.Sources {
			if _, ok := p.Sources[name]; !ok {
				p.Sources[name] = s
			}
		}
		ps = append(ps, p.takeRules(q)...)
	}
	ps = append(ps, p.change()...)
	slices.SortFunc(p.Rules, func(a, b *Rule) int { return cmp.Compare(a.Name, b.Name) })
	return ps
}

// take adds what a base gives. What the pack gives itself stays, where same finds no fault; of two bases the one that
// builds on the other holds, and two that do not clash.
func take[T any](p *Pack, to, own, from map[string]*T, what string, origin func(*T) Origin,
	same func(old, new *T) string) (ps source.Problems) {
	for _, name := range sortedKeys(from) {
		x, mine := from[name], to[name]
		switch {
		case mine == nil:
			to[name] = x
		case mine == x:
		case own[name] == mine:
			if same == nil {
				continue
			}
			if fault := same(x, mine); fault != "" {
				ps = append(ps, origin(mine).problem("the "+what+" `"+name+"` replaces that of the pack "+origin(x).Pack+": "+fault))
			}
		case p.stands(origin(mine).Pack, origin(x).Pack):
		case p.stands(origin(x).Pack, origin(mine).Pack):
			to[name] = x
		default:
			ps = append(ps, origin(x).problem("the packs "+origin(mine).Pack+" and "+origin(x).Pack+" both give the "+what+" `"+name+
				"`; give it in the pack that builds on both"))
		}
	}
	return ps
}

// stands tells whether one pack below builds on another.
func (p *Pack) stands(on, below string) bool {
	for _, q := range p.All() {
		if q != p && q.Name == on {
			return slices.ContainsFunc(q.All()[1:], func(x *Pack) bool { return x.Name == below })
		}
	}
	return false
}

// takeRules adds a base's rules, judged by the figures of this pack.
func (p *Pack) takeRules(q *Pack) (ps source.Problems) {
	for _, r := range q.Rules {
		i := slices.IndexFunc(p.Rules, func(o *Rule) bool { return o.Name == r.Name })
		switch {
		case i >= 0 && p.Rules[i].From == r.From:
			continue
		case i >= 0:
			o := p.Rules[i]
			here := Origin{File: o.File, Line: o.Line, Column: o.Column}
			ps = append(ps, here.problem("the rule `"+r.Name+"` is already given by the pack "+r.From.Name+"; give yours another name"))
			continue
		}
		c := *r
		c.Pack = p
		p.Rules = append(p.Rules, &c)
	}
	return ps
}

// InForce lists packs and those they build on, each once.
func InForce(packs []*Pack) (all []*Pack) {
	for _, p := range packs {
		for _, x := range p.All() {
			if !slices.Contains(all, x) {
				all = append(all, x)
			}
		}
	}
	return all
}

// All lists a pack and the packs it builds on, each once, the lowest last.
func (p *Pack) All() (all []*Pack) {
	all = []*Pack{p}
	for _, q := range p.On {
		for _, x := range q.All() {
			if !slices.Contains(all, x) {
				all = append(all, x)
			}
		}
	}
	return all
}
