package main

import (
	"bytes"
	"crypto/sha256"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"
)

// mutant is one change of one file.
type mutant struct {
	file, function string // the file from the root, the function or "" outside of one
	line           int
	change         string // the line before and after, or the statement that is dropped and the line before it
	after          string // what change is told with beside what the mutant is chosen by
	from, to       int    // bytes that are replaced
	by             string
	key            [sha256.Size]byte // by which mutants are chosen
}

// finder collects the mutants of one file.
type finder struct {
	file      string
	text      []byte
	places    *token.FileSet
	constants map[string]string // the named numbers of the package, as they are written
	function  string
	seen      map[[2]int]bool // statements that are dropped already
	all       []mutant
}

// find lists the mutants of a folder in the order of the seed.
func find(folder string, seed uint64) (all []mutant, err error) {
	names, err := filepath.Glob(filepath.Join(folder, "*.go"))
	if err != nil {
		return nil, err
	}
	places := token.NewFileSet()
	constants := map[string]string{}
	var finders []*finder
	var trees []*ast.File
	for _, name := range names {
		if strings.HasSuffix(name, "_test.go") {
			continue
		}
		text, err := os.ReadFile(name)
		if err != nil {
			return nil, err
		}
		tree, err := parser.ParseFile(places, name, text, parser.ParseComments)
		if err != nil {
			return nil, err
		}
		if ignored(tree) || ast.IsGenerated(tree) {
			continue
		}
		numbers(tree, constants)
		finders = append(finders, &finder{file: path.Join(folder, filepath.Base(name)), text: text, places: places,
			constants: constants, seen: map[[2]int]bool{}})
		trees = append(trees, tree)
	}
	again := map[string]int{}
	for i, f := range finders {
		f.walk(trees[i])
		for _, m := range f.all {
			says := fmt.Sprintf("%d\n%s\n%s\n%s", seed, m.file, m.function, m.change)
			again[says]++
			m.key = sha256.Sum256(fmt.Appendf(nil, "%s\n%d", says, again[says]))
			m.change += m.after
			all = append(all, m)
		}
	}
	slices.SortStableFunc(all, func(a, b mutant) int { return bytes.Compare(a.key[:], b.key[:]) })
	return all, nil
}

// ignored tells whether a file is no part of its package by a build constraint on the word ignore.
func ignored(tree *ast.File) bool {
	for _, g := range tree.Comments {
		for _, c := range g.List {
			if c.Pos() < tree.Package && c.Text == "//go:build ignore" {
				return true
			}
		}
	}
	return false
}

// numbers adds the named numbers that a file declares for its package.
func numbers(tree *ast.File, constants map[string]string) {
	for _, d := range tree.Decls {
		block, ok := d.(*ast.GenDecl)
		if !ok || block.Tok != token.CONST {
			continue
		}
		for _, s := range block.Specs {
			v := s.(*ast.ValueSpec)
			for i, name := range v.Names {
				if i >= len(v.Values) {
					continue
				}
				if b, ok := v.Values[i].(*ast.BasicLit); ok && (b.Kind == token.INT || b.Kind == token.FLOAT) {
					constants[name.Name] = b.Value
				}
			}
		}
	}
}

// walk collects the mutants of a file.
func (f *finder) walk(tree *ast.File) {
	for _, d := range tree.Decls {
		switch d := d.(type) {
		case *ast.FuncDecl:
			f.function = named(d)
			if d.Body != nil {
				f.inside(d.Body)
			}
		case *ast.GenDecl:
			f.function = "-"
			if d.Tok == token.CONST || d.Tok == token.VAR {
				f.inside(d)
			}
		}
	}
}

// named is a function as it is listed: a method with the type that it belongs to.
func named(d *ast.FuncDecl) string {
	if d.Recv == nil || len(d.Recv.List) == 0 {
		return d.Name.Name
	}
	t := d.Recv.List[0].Type
	if s, ok := t.(*ast.StarExpr); ok {
		t = s.X
	}
	if i, ok := t.(*ast.IndexExpr); ok {
		t = i.X
	}
	if n, ok := t.(*ast.Ident); ok {
		return n.Name + "." + d.Name.Name
	}
	return d.Name.Name
}

// inside collects the mutants below a node.
func (f *finder) inside(root ast.Node) {
	ast.Inspect(root, func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.ArrayType:
			return false // its length is no figure of the work
		case *ast.SelectorExpr:
			f.inside(n.X)
			return false
		case *ast.KeyValueExpr:
			if _, key := n.Key.(*ast.Ident); key {
				f.inside(n.Value)
				return false
			}
		case *ast.ValueSpec:
			for _, v := range n.Values {
				f.inside(v)
			}
			return false
		case *ast.BinaryExpr:
			f.operator(n)
		case *ast.BasicLit:
			f.literal(n)
		case *ast.Ident:
			f.constant(n)
		case *ast.IfStmt:
			f.body(n)
		case *ast.BlockStmt:
			f.statements(n.List)
		case *ast.CaseClause:
			f.statements(n.Body)
		case *ast.CommClause:
			f.statements(n.Body)
		}
		return true
	})
}
