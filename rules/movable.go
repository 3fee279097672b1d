package rules

import (
	"fmt"
	"maps"
	"math"
	"slices"

	"corerod/parts/stock"
	"corerod/parts/subject"

	"github.com/google/cel-go/common/ast"
)

// Movable is one figure of a pack that a proof moves: a limit, a cell of a table, or a figure of a material.
type Movable struct {
	Limit, Table, Material string // name; one of the three
	Row, Column            int    // of a table: the row from 0, and 0 for x or 1 for y
	Field                  string // of a material, as expressions read it
	Value                  float64
	By                     float64 // by how much it is moved, one way and the other
	Origin                 Origin
}

// String names the figure in a message.
func (m Movable) String() string {
	switch {
	case m.Table != "":
		return fmt.Sprintf("%s in row %d of the table %s", [2]string{"x", "y"}[m.Column], m.Row+1, m.Table)
	case m.Material != "":
		return fmt.Sprintf("%s of the material %s", m.Field, m.Material)
	}
	return "the limit " + m.Limit
}

// Movables lists the figures that a pack itself gives, by section and name. Of a material they are those that it states;
// of a table those that can matter: an x between two rows of one y does not.
func (p *Pack) Movables() (all []Movable) {
	for _, name := range sortedKeys(p.Limits) {
		if l := p.Limits[name]; l.Origin.Pack == p.Name {
			all = append(all, Movable{Limit: name, Value: l.Value, By: l.Shift, Origin: l.Origin})
		}
	}
	for _, name := range sortedKeys(p.Tables) {
		if t := p.Tables[name]; t.Origin.Pack == p.Name {
			all = append(all, t.movables(slices.ContainsFunc(p.Rules, func(r *Rule) bool { return r.asksWithin(name) }))...)
		}
	}
	for _, name := range sortedKeys(p.Materials) {
		if m := p.Materials[name]; m.Origin.Pack == p.Name {
			all = append(all, m.movables()...)
		}
	}
	return all
}

// movables are the cells of a table, y before x. The outermost x matter only where a rule asks whether one is within.
func (t *Table) movables(within bool) (all []Movable) {
	for i, row := range t.Rows {
		if i >= len(t.cells) {
			break // a kept table: no proof reads it
		}
		c := t.cells[i]
		all = append(all, Movable{Table: t.Name, Row: i, Column: 1, Value: row[1], By: c.by[1], Origin: c.at[1]})
		if t.parts(i) || within && (i == 0 || i == len(t.Rows)-1) {
			all = append(all, Movable{Table: t.Name, Row: i, Value: row[0], By: math.Min(c.by[0], t.room(i)/2), Origin: c.at[0]})
		}
	}
	return all
}

// parts tells whether the y on one side of a row's x differs from that on the other.
func (t *Table) parts(row int) bool {
	differs := func(i int) bool { return i >= 0 && i < len(t.Rows) && t.Rows[i][1] != t.Rows[row][1] }
	switch t.Between {
	case stock.NextRow:
		return differs(row + 1)
	case stock.PreviousRow:
		return differs(row - 1)
	}
	return differs(row-1) || differs(row+1)
}

// room is how far a row's x is from its nearest neighbour.
func (t *Table) room(row int) float64 {
	d := math.Inf(1)
	for _, i := range [2]int{row - 1, row + 1} {
		if i >= 0 && i < len(t.Rows) {
			d = math.Min(d, math.Abs(t.Rows[i][0]-t.Rows[row][0]))
		}
	}
	return d
}

// materialField gives a figure of a material by its name in expressions.
func materialField(m *StockMaterial, field string) *stock.Figure {
	return map[string]*stock.Figure{"density_low": &m.DensityLow, "density_high": &m.DensityHigh, "apparent": &m.Apparent,
		"pore_free": &m.PoreFree, "pore_free_green": &m.PoreFreeGreen, "size_change_low": &m.SizeChangeLow,
		"size_change_high": &m.SizeChangeHigh}[field]
}

// movables are the figures that a material states, in the order of their names.
func (m *StockMaterial) movables() (all []Movable) {
	for _, field := range sortedKeys(m.stated) {
		c := m.stated[field]
		if v := materialField(m, field); v != nil && v.Known {
			all = append(all, Movable{Material: m.Name, Field: field, Value: v.Value, By: c.by, Origin: c.at})
		}
	}
	return all
}

// ReadBy tells whether a condition of a rule reads the figure.
func (m Movable) ReadBy(r *Rule) bool {
	switch {
	case m.Table != "":
		return slices.Contains(r.Tables(), m.Table)
	case m.Material != "":
		return r.anyPart(func(_ *ast.AST, e ast.Expr) bool {
			return e.Kind() == ast.SelectKind && !e.AsSelect().IsTestOnly() && dotted(e) == "material."+m.Field
		})
	}
	return r.Reads(m.Limit)
}

// asksWithin tells whether a condition asks whether a number is within a table.
func (r *Rule) asksWithin(table string) bool {
	return r.anyPart(func(_ *ast.AST, e ast.Expr) bool {
		if !isCall(e, "within") || len(e.AsCall().Args()) == 0 {
			return false
		}
		name, _ := textLiteral(e.AsCall().Args()[0])
		return name == table
	})
}

// anyPart tells whether some part of the rule's conditions is wanted.
func (r *Rule) anyPart(wanted func(tree *ast.AST, e ast.Expr) bool) bool {
	for _, text := range r.conditions() {
		tree := r.Pack.env().expression(text).tree
		if tree == nil {
			continue
		}
		var walk func(e ast.Expr) bool
		walk = func(e ast.Expr) bool { return wanted(tree, e) || slices.ContainsFunc(parts(tree, e), walk) }
		if walk(tree.Expr()) {
			return true
		}
	}
	return false
}

// Moved is the book with one figure of its packs moved by so much; whatever reads the figure reads the moved one.
func (b *Book) Moved(m Movable, by float64) *Book {
	out := &Book{}
	for _, p := range b.Packs {
		out.Packs = append(out.Packs, p.moved(m, subject.Snap(m.Value+by)))
	}
	for _, r := range b.Rules {
		for i, p := range b.Packs {
			if r.Pack == p && out.Packs[i] != p {
				c := *r
				c.Pack = out.Packs[i]
				r = &c
			}
		}
		out.Rules = append(out.Rules, r)
	}
	return out
}

// moved is the pack with another value of a figure; the pack itself where it has no such figure.
func (p *Pack) moved(m Movable, value float64) *Pack {
	q := *p
	switch {
	case p.Limits[m.Limit] != nil:
		l := *p.Limits[m.Limit]
		l.Value = value
		q.Limits = replaced(p.Limits, m.Limit, &l)
	case p.Tables[m.Table] != nil:
		t := *p.Tables[m.Table]
		t.Rows = slices.Clone(t.Rows)
		t.Rows[m.Row][m.Column] = value
		q.Tables = replaced(p.Tables, m.Table, &t)
	case p.Materials[m.Material] != nil:
		x := *p.Materials[m.Material]
		*materialField(&x, m.Field) = stock.Some(value)
		q.Materials = replaced(p.Materials, m.Material, &x)
	default:
		return p
	}
	q.ready()
	return &q
}

// replaced is a map with another value under one name.
func replaced[V any](all map[string]V, name string, v V) map[string]V {
	c := maps.Clone(all)
	c[name] = v
	return c
}
