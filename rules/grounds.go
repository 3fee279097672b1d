package rules

import (
	"slices"
	"strings"

	"corerod/parts/source"
	"corerod/parts/stock"

	"github.com/google/cel-go/common/ast"
)

// grounded reports a need without a ground, and a stop that rests on memory alone.
func (r *Rule) grounded(n *Need) source.Problems {
	cited := r.grounds(n)
	if len(cited) == 0 {
		return source.Problems{
			n.at.problem(0, "nothing grounds this need; compare with one of `limits`, or give the rule `sources` or a `basis`")}
	}
	for _, c := range cited {
		if n.Grade != Stop || c.Basis != stock.Memory {
			return nil
		}
	}
	return source.Problems{n.at.problem(0, "a `stop` cannot rest on memory alone; give a published source, or grade it `change`")}
}

// Grounds lists the rule's own sources and those of the limits and tables that it reads, each once.
func (r *Rule) Grounds() (all []Cited) {
	for i := range r.Needs {
		for _, c := range r.grounds(&r.Needs[i]) {
			if !slices.Contains(all, c) {
				all = append(all, c)
			}
		}
	}
	return all
}

// grounds lists the rule's own sources and those of the limits and tables that a need reads, each once, in the order
// in which the need reads them.
func (r *Rule) grounds(n *Need) (all []Cited) {
	seen := map[Cited]bool{}
	add := func(c Cited) {
		if !seen[c] {
			seen[c] = true
			all = append(all, c)
		}
	}
	for _, c := range r.Sources {
		add(c)
	}
	tree := r.Pack.env().expression(n.That).tree
	if tree == nil {
		return all
	}
	figures(tree, tree.Expr(), func(limit, table string) {
		if l, ok := r.Pack.Limits[limit]; ok {
			add(Cited{l.Source, l.Basis})
		}
		if t, ok := r.Pack.Tables[table]; ok {
			add(Cited{t.Source, t.Basis})
		}
	})
	return all
}

// figures calls f for every limit and table that an expression reads, left to right.
func figures(tree *ast.AST, x ast.Expr, f func(limit, table string)) {
	if x.Kind() == ast.SelectKind {
		if name, ok := strings.CutPrefix(dotted(x), "limits."); ok {
			f(name, "")
		}
	}
	if isCall(x, "table") || isCall(x, "within") {
		if args := x.AsCall().Args(); len(args) > 0 {
			name, _ := textLiteral(args[0])
			f("", name)
		}
	}
	for _, p := range parts(tree, x) {
		figures(tree, p, f)
	}
}
