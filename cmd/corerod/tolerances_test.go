package main

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path"
	"strconv"
	"strings"
	"testing"
)

// notTolerances are the small numbers outside of the tolerances.go files, by file and how they are written, with what they are.
var notTolerances = map[string]string{
	"parts/form/form.go 1e-6":      "the least length that a part file may give: a bound of the format",
	"parts/form/form.go 1e-3":      "the least angle over which copies are spread: a bound of the format",
	"parts/form/numbers.go 0.0005": "the step of tolerances on drawings in inches",
}

// TestTolerances: a number that decides whether two things are one has a name, a unit and a reason, in the tolerances.go of
// its package. A number with a negative exponent, or below 0.001, is one unless it is listed.
func TestTolerances(t *testing.T) {
	used := map[string]bool{}
	packages := 0
	eachSource(t, func(p string, files *token.FileSet, f *ast.File) {
		if path.Base(p) == "tolerances.go" {
			packages++
			explained(t, p, f)
			return
		}
		ast.Inspect(f, func(n ast.Node) bool {
			b, ok := n.(*ast.BasicLit)
			if !ok || !isSmall(b) {
				return true
			}
			key := p + " " + b.Value
			used[key] = true
			if _, listed := notTolerances[key]; !listed {
				t.Errorf("%s:%d: %s must be a named constant in the tolerances.go of its package, with unit and reason", p,
					files.Position(b.Pos()).Line, b.Value)
			}
			return true
		})
	})
	if packages < 10 {
		t.Errorf("%d packages have tolerances, expected at least 10", packages)
	}
	for key := range notTolerances {
		if !used[key] {
			t.Errorf("%s is listed as no tolerance, but is not there", key)
		}
	}
}

// isSmall tells whether a literal is a number with a negative exponent, or one between 0 and 0.001.
func isSmall(b *ast.BasicLit) bool {
	if b.Kind != token.FLOAT {
		return false
	}
	v, err := strconv.ParseFloat(strings.ReplaceAll(b.Value, "_", ""), 64)
	return strings.Contains(strings.ToLower(b.Value), "e-") || err == nil && v > 0 && v < 1e-3
}

// kindsOfTolerance are what the blocks of constants of a tolerances.go are of.
var kindsOfTolerance = []string{"near: ", "height: ", "angle: ", "share: ", "root: "}

// explained tells of constants without a comment that starts with their name, and of blocks that name no kind.
func explained(t *testing.T, p string, f *ast.File) {
	for _, d := range f.Decls {
		block, ok := d.(*ast.GenDecl)
		if !ok || block.Tok == token.IMPORT {
			continue
		}
		kind := false
		for _, k := range kindsOfTolerance {
			kind = kind || strings.HasPrefix(block.Doc.Text(), k)
		}
		if !kind {
			t.Errorf("%s: a block of constants starts with none of %q", p, kindsOfTolerance)
		}
		for _, s := range block.Specs {
			v, ok := s.(*ast.ValueSpec)
			if !ok || block.Tok != token.CONST {
				t.Errorf("%s holds more than constants", p)
				continue
			}
			if name := v.Names[0].Name; !strings.HasPrefix(v.Doc.Text(), name+" ") || len(strings.Fields(v.Doc.Text())) < 10 {
				t.Errorf("%s: %s needs a comment that gives its reason", p, name)
			}
		}
	}
}

// eachSource parses every Go file of the project that is no test.
func eachSource(t *testing.T, do func(p string, files *token.FileSet, f *ast.File)) {
	root := os.DirFS("../..")
	err := fs.WalkDir(root, ".", func(p string, d fs.DirEntry, err error) error {
		switch {
		case err != nil:
			return err
		case d.IsDir() && strings.HasPrefix(d.Name(), ".") && p != ".":
			return fs.SkipDir
		case path.Ext(p) != ".go" || strings.HasSuffix(p, "_test.go"):
			return nil
		}
		b, err := fs.ReadFile(root, p)
		if err != nil {
			return err
		}
		files := token.NewFileSet()
		f, err := parser.ParseFile(files, p, b, parser.ParseComments)
		if err != nil {
			return err
		}
		do(p, files, f)
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
}
