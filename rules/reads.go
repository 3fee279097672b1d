package rules

import (
	"corerod/parts/subject"
	"slices"

	"github.com/google/cel-go/common/ast"
)

// Limits lists the limits that the rule's conditions read, each once, in their order.
func (r *Rule) Limits() []string {
	limits, _ := r.figures()
	return limits
}

// Tables lists the tables that the rule's conditions look up, each once, in their order.
func (r *Rule) Tables() []string {
	_, tables := r.figures()
	return tables
}

func (r *Rule) figures() (limits, tables []string) {
	add := func(to *[]string, name string, known bool) {
		for _, n := range *to {
			known = known && n != name
		}
		if known {
			*to = append(*to, name)
		}
	}
	for _, text := range r.conditions() {
		x := r.Pack.env().expression(text)
		if x.tree == nil {
			continue
		}
		figures(x.tree, x.tree.Expr(), func(limit, table string) {
			add(&limits, limit, r.Pack.Limits[limit] != nil)
			add(&tables, table, r.Pack.Tables[table] != nil)
		})
	}
	return limits, tables
}

// ReadsText tells whether a condition of the rule holds a text that it writes out against one of some texts of subjects, such as
// name; of one kind of subject, or of all but the part.
func (r *Rule) ReadsText(kind string, names ...string) bool {
	for _, text := range r.conditions() {
		x := r.Pack.env().expression(text)
		if x.tree != nil && heldAgainst(x.tree, x.tree.Expr(), kind, names) {
			return true
		}
	}
	return false
}

func heldAgainst(tree *ast.AST, e ast.Expr, kind string, names []string) bool {
	in := parts(tree, e)
	written := slices.ContainsFunc(in, func(a ast.Expr) bool {
		_, ok := textLiteral(a)
		return ok || a.Kind() == ast.ListKind && constant(a)
	})
	if e.Kind() == ast.CallKind && written && slices.ContainsFunc(in, func(a ast.Expr) bool { return readsText(tree, a, kind, names) }) {
		return true
	}
	return slices.ContainsFunc(in, func(a ast.Expr) bool { return heldAgainst(tree, a, kind, names) })
}

func readsText(tree *ast.AST, e ast.Expr, kind string, names []string) bool {
	if e.Kind() == ast.SelectKind && slices.Contains(names, e.AsSelect().FieldName()) {
		of := ""
		if o := e.AsSelect().Operand(); o.Kind() == ast.IdentKind {
			of = o.AsIdent()
		}
		if of == kind || kind == "" && of != "material" && of != subject.PartKind.Name {
			return true
		}
	}
	return slices.ContainsFunc(parts(tree, e), func(in ast.Expr) bool { return readsText(tree, in, kind, names) })
}

// Reads tells whether a condition of the rule reads a limit.
func (r *Rule) Reads(limit string) bool { return slices.Contains(r.Limits(), limit) }
