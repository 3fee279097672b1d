package rules

import (
	"corerod/parts/stock"
	"corerod/parts/tape"
)

// codec writes a pack to a tape or reads it from one: each field is named once, for both ways.
type codec struct {
	to   *tape.Writer // nil when reading
	from *tape.Reader
}

func (c *codec) text(s *string) {
	if c.to != nil {
		c.to.Text(*s)
		return
	}
	*s = c.from.Text()
}

func (c *codec) number(n *int) {
	if c.to != nil {
		c.to.Number(*n)
		return
	}
	*n = c.from.Number()
}

func (c *codec) real(v *float64) {
	if c.to != nil {
		c.to.Real(*v)
		return
	}
	*v = c.from.Real()
}

func (c *codec) figure(f *stock.Figure) {
	known := 0
	if f.Known {
		known = 1
	}
	if c.number(&known); known == 1 {
		f.Known = true
		c.real(&f.Value)
	}
}

// basis and grade are words.
func (c *codec) basis(b *stock.Basis) { c.text((*string)(b)) }
func (c *codec) grade(g *Grade)       { c.text((*string)(g)) }

func (c *codec) origin(o *Origin) {
	c.text(&o.File)
	c.number(&o.Line)
	c.number(&o.Column)
	c.text(&o.Pack)
}

// list writes or reads the items of a list one by one.
func list[T any](c *codec, all *[]T, item func(*T)) {
	n := len(*all)
	if c.number(&n); c.to == nil {
		if n > len(c.from.Rest) { // each takes a byte at least
			c.from.Break()
			n = 0
		}
		if n > 0 {
			*all = make([]T, n)
		}
	}
	for i := range *all {
		item(&(*all)[i])
	}
}

// each writes or reads what has names, in order of name.
func each[T any](c *codec, all map[string]*T, item func(*T)) {
	names := sortedKeys(all)
	list(c, &names, c.text)
	for _, name := range names {
		if all[name] == nil {
			all[name] = new(T)
		}
		item(all[name])
	}
}

func (c *codec) pair(p *[2]float64) {
	c.real(&p[0])
	c.real(&p[1])
}

// pack writes or reads what a pack gives by itself; what it builds on is found again.
func (c *codec) pack(p *Pack) {
	for _, s := range []*string{&p.Name, &p.Version, &p.Title} {
		c.text(s)
	}
	list(c, &p.Bases, func(b *Base) {
		c.text(&b.Name)
		c.text(&b.SHA256)
		c.origin(&b.Origin)
	})
	keys := sortedKeys(p.Sources)
	list(c, &keys, c.text)
	for _, k := range keys {
		s := p.Sources[k]
		for _, t := range []*string{&s.Title, &s.By, &s.At} {
			c.text(t)
		}
		c.origin(&s.Origin)
		p.Sources[k] = s
	}
	each(c, p.Limits, func(l *Limit) {
		c.text(&l.Name)
		c.real(&l.Value)
		c.real(&l.Shift)
		c.text(&l.Unit)
		c.ground(&l.Basis, &l.Source, &l.Note, &l.Origin)
	})
	each(c, p.Tables, func(t *Table) {
		for _, s := range []*string{&t.Name, &t.X, &t.Y, &t.XUnit, &t.YUnit, (*string)(&t.Between)} {
			c.text(s)
		}
		list(c, &t.Rows, c.pair)
		c.ground(&t.Basis, &t.Source, &t.Note, &t.Origin)
	})
	each(c, p.Materials, c.material)
	each(c, p.Curves, func(x *Curve) {
		c.text(&x.Name)
		list(c, &x.Points, c.pair)
		list(c, &x.Strength, c.pair)
		c.ground(&x.Basis, &x.Source, &x.Note, &x.Origin)
	})
	each(c, p.Presses, func(x *Press) {
		c.text(&x.Name)
		for _, v := range []*float64{&x.Capacity, &x.Fill, &x.Eject, &x.EjectionStroke, &x.Upper, &x.Lower} {
			c.real(v)
		}
		c.ground(&x.Basis, &x.Source, &x.Note, &x.Origin)
	})
	list(c, &p.Rules, func(r **Rule) {
		if *r == nil {
			*r = &Rule{Pack: p, From: p}
		}
		c.rule(*r)
	})
}

func (c *codec) ground(b *stock.Basis, source, note *string, o *Origin) {
	c.basis(b)
	c.text(source)
	c.text(note)
	c.origin(o)
}

func (c *codec) material(m *StockMaterial) {
	c.text(&m.Name)
	for _, f := range []*stock.Figure{&m.DensityLow, &m.DensityHigh, &m.Apparent, &m.PoreFree, &m.PoreFreeGreen, &m.SizeChangeLow,
		&m.SizeChangeHigh, &m.Lubricant} {
		c.figure(f)
	}
	list(c, &m.Composition, func(s *stock.Share) {
		c.text(&s.Element)
		c.real(&s.Percent)
	})
	c.text(&m.Curve)
	c.text(&m.Family)
	c.text(&m.SizeChangeFrom)
	keys := sortedKeys(m.Bases)
	list(c, &keys, c.text)
	if m.Bases == nil {
		m.Bases = map[string]stock.Basis{}
	}
	for _, k := range keys {
		b := m.Bases[k]
		c.basis(&b)
		m.Bases[k] = b
	}
	c.ground(&m.Basis, &m.Source, &m.Note, &m.Origin)
}

func (c *codec) rule(r *Rule) {
	for _, s := range []*string{&r.Name, &r.Title, &r.Stage, &r.Over, &r.When, &r.Says, &r.Because, &r.Change, &r.Since, &r.File} {
		c.text(s)
	}
	c.number(&r.Line)
	c.number(&r.Column)
	list(c, &r.Needs, func(n *Need) {
		c.grade(&n.Grade)
		c.text(&n.That)
		c.phrase(&n.at, n.That, r)
	})
	if r.When != "" && r.when == nil {
		r.when = &phrase{}
	}
	if r.when != nil {
		c.phrase(r.when, r.When, r)
	}
	list(c, &r.Sources, func(s *Cited) {
		c.text(&s.Key)
		c.basis(&s.Basis)
	})
	list(c, &r.Adjust, c.text)
	list(c, &r.With, c.text)
}

// phrase writes or reads where a condition begins.
func (c *codec) phrase(p *phrase, text string, r *Rule) {
	at := p.origin(0)
	c.number(&at.Line)
	c.number(&at.Column)
	if c.to == nil {
		*p = phrase{rule: r.Name, text: text, file: r.File, at: at}
	}
}

// keptPack reads a kept pack; nil where it is none.
func keptPack(s string) *Pack {
	p := newPack()
	r := tape.Reader{Rest: s}
	(&codec{from: &r}).pack(p)
	if !r.Done() {
		return nil
	}
	return p
}
