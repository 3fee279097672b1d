package rules

import (
	"maps"
	"slices"

	"github.com/google/cel-go/common/ast"
	"github.com/google/cel-go/common/types"

	"corerod/parts/tape"
)

// keepTree writes a checked condition in a compact form that keptTree reads back. The library's own form of a checked
// tree takes longer to read than everything else that judging one part takes.
func keepTree(tree *ast.AST) string {
	var w treeWriter
	w.expr(tree.Expr())
	info := tree.SourceInfo()
	writeMap(&w, info.OffsetRanges(), func(o ast.OffsetRange) {
		w.Number(int(o.Start))
		w.Number(int(o.Stop - o.Start))
	})
	writeMap(&w, info.MacroCalls(), w.expr)
	writeMap(&w, tree.TypeMap(), w.typ)
	writeMap(&w, tree.ReferenceMap(), func(r *ast.ReferenceInfo) {
		w.Text(r.Name)
		w.Number(len(r.OverloadIDs))
		for _, id := range r.OverloadIDs {
			w.Text(id)
		}
	})
	return string(w.Writer)
}

type treeWriter struct{ tape.Writer }

// writeMap writes a map by ids, in their order.
func writeMap[V any](w *treeWriter, m map[int64]V, value func(V)) {
	w.Number(len(m))
	for _, id := range slices.Sorted(maps.Keys(m)) {
		w.Number(int(id))
		value(m[id])
	}
}

func (w *treeWriter) expr(e ast.Expr) {
	w.Number(int(e.Kind()))
	w.Number(int(e.ID()))
	switch e.Kind() {
	case ast.LiteralKind:
		switch v := e.AsLiteral().(type) {
		case types.String:
			w.Number(keptText)
			w.Text(string(v))
		case types.Double:
			w.Number(keptReal)
			w.Real(float64(v))
		case types.Bool:
			w.Number(keptTruth)
			w.truth(bool(v))
		}
	case ast.IdentKind:
		w.Text(e.AsIdent())
	case ast.SelectKind:
		s := e.AsSelect()
		w.truth(s.IsTestOnly())
		w.expr(s.Operand())
		w.Text(s.FieldName())
	case ast.CallKind:
		c := e.AsCall()
		w.Text(c.FunctionName())
		w.truth(c.IsMemberFunction())
		if c.IsMemberFunction() {
			w.expr(c.Target())
		}
		w.exprs(c.Args())
	case ast.ListKind:
		w.exprs(e.AsList().Elements())
	case ast.ComprehensionKind:
		c := e.AsComprehension()
		w.Text(c.IterVar())
		w.Text(c.AccuVar())
		w.exprs([]ast.Expr{c.IterRange(), c.AccuInit(), c.LoopCondition(), c.LoopStep(), c.Result()})
	}
}

func (w *treeWriter) exprs(list []ast.Expr) {
	w.Number(len(list))
	for _, e := range list {
		w.expr(e)
	}
}

func (w *treeWriter) truth(v bool) {
	if v {
		w.Number(1)
	} else {
		w.Number(0)
	}
}

func (w *treeWriter) typ(t *types.Type) {
	w.Number(int(t.Kind()))
	w.Text(t.TypeName())
	w.Number(len(t.Parameters()))
	for _, p := range t.Parameters() {
		w.typ(p)
	}
}
