package rules

import (
	"github.com/google/cel-go/common"
	"github.com/google/cel-go/common/ast"
	"github.com/google/cel-go/common/types"
	"github.com/google/cel-go/common/types/ref"

	"corerod/parts/tape"
)

// What a literal is.
const (
	keptText = iota
	keptReal
	keptTruth
)

// readTree reads what keepTree wrote of the condition in text, or returns nil.
func readTree(kept, text string) *ast.AST {
	r := treeReader{Reader: tape.Reader{Rest: kept}, factory: ast.NewExprFactory()}
	root := r.expr()
	info := ast.NewSourceInfo(common.NewTextSource(text))
	readMap(&r, info.OffsetRanges(), func() ast.OffsetRange {
		start := int32(r.Number())
		return ast.OffsetRange{Start: start, Stop: start + int32(r.Number())}
	})
	readMap(&r, info.MacroCalls(), r.expr)
	typeMap := readMap(&r, map[int64]*types.Type{}, r.typ)
	refMap := readMap(&r, map[int64]*ast.ReferenceInfo{}, func() *ast.ReferenceInfo {
		named := ast.NewIdentReference(r.Text(), nil)
		for range r.Number() {
			if r.Broken {
				break
			}
			named.AddOverload(r.Text())
		}
		return named
	})
	if !r.Done() {
		return nil
	}
	return ast.NewCheckedAST(ast.NewAST(root, info), typeMap, refMap)
}

type treeReader struct {
	tape.Reader
	factory ast.ExprFactory
}

// readMap reads a map by ids.
func readMap[V any](r *treeReader, m map[int64]V, value func() V) map[int64]V {
	for range r.Number() {
		if r.Broken {
			break
		}
		id := int64(r.Number())
		m[id] = value()
	}
	return m
}

func (r *treeReader) expr() ast.Expr {
	kind, id := ast.ExprKind(r.Number()), int64(r.Number())
	switch kind {
	case ast.LiteralKind:
		return r.factory.NewLiteral(id, r.literal())
	case ast.IdentKind:
		return r.factory.NewIdent(id, r.Text())
	case ast.SelectKind:
		if r.truth() {
			return r.factory.NewPresenceTest(id, r.expr(), r.Text())
		}
		return r.factory.NewSelect(id, r.expr(), r.Text())
	case ast.CallKind:
		function := r.Text()
		if r.truth() {
			return r.factory.NewMemberCall(id, function, r.expr(), r.exprs()...)
		}
		return r.factory.NewCall(id, function, r.exprs()...)
	case ast.ListKind:
		return r.factory.NewList(id, r.exprs(), []int32{})
	case ast.ComprehensionKind:
		variable, result := r.Text(), r.Text()
		p := r.exprs()
		if len(p) != 5 {
			break
		}
		return r.factory.NewComprehension(id, p[0], variable, result, p[1], p[2], p[3], p[4])
	case ast.UnspecifiedExprKind:
		return r.factory.NewUnspecifiedExpr(id)
	}
	r.Break()
	return r.factory.NewUnspecifiedExpr(id)
}

func (r *treeReader) exprs() []ast.Expr {
	n := r.Number()
	if n > len(r.Rest) {
		r.Break()
		return nil
	}
	list := make([]ast.Expr, n)
	for i := range list {
		list[i] = r.expr()
	}
	return list
}

func (r *treeReader) literal() ref.Val {
	switch r.Number() {
	case keptText:
		return types.String(r.Text())
	case keptReal:
		return types.Double(r.Real())
	}
	return types.Bool(r.truth())
}

func (r *treeReader) truth() bool { return r.Number() == 1 }

// typ reads a type: one of those that expressions of a pack can have.
func (r *treeReader) typ() *types.Type {
	kind, name := types.Kind(r.Number()), r.Text()
	var of []*types.Type
	for range r.Number() {
		if r.Broken {
			break
		}
		of = append(of, r.typ())
	}
	switch {
	case kind == types.BoolKind:
		return types.BoolType
	case kind == types.DoubleKind:
		return types.DoubleType
	case kind == types.StringKind:
		return types.StringType
	case kind == types.ListKind && len(of) == 1:
		return types.NewListType(of[0])
	case kind == types.StructKind:
		return types.NewObjectType(name)
	case kind == types.OpaqueKind:
		return types.NewOpaqueType(name, of...)
	}
	r.Break()
	return types.DoubleType
}
