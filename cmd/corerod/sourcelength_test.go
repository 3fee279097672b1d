package main

import (
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path"
	"strings"
	"testing"
	"unicode/utf8"
)

// How long lines and functions may be, and how many ways a function may go. A tab counts as four columns.
const (
	mostColumns    = 140
	mostLines      = 60
	mostComplexity = 20
	tabColumns     = 4
)

// inOnePiece begins the reason, in its comment, why a function is longer or has more ways than that.
const inOnePiece = "In one piece: "

// TestSourceLengths walks the code that is no test: its lines and functions keep to these lengths.
func TestSourceLengths(t *testing.T) {
	root, seen := os.DirFS("../.."), 0
	err := fs.WalkDir(root, ".", func(p string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() && strings.HasPrefix(d.Name(), ".git") {
			return fs.SkipDir
		}
		if path.Ext(p) != ".go" || strings.HasSuffix(p, "_test.go") {
			return nil
		}
		b, err := fs.ReadFile(root, p)
		if err != nil {
			return err
		}
		seen++
		for _, fault := range tooLong(string(b)) {
			t.Errorf("%s:%s", p, fault)
		}
		return nil
	})
	if err != nil || seen < 200 {
		t.Fatal(seen, err)
	}
}

// TestTooLong: what the walk refuses, and what it lets pass by a hair.
func TestTooLong(t *testing.T) {
	function := func(comment string, lines int, ways string) string {
		return "package p\n\n" + comment + "func f(a, b bool) {\n" + ways + strings.Repeat("\tprintln()\n", lines-2) + "}\n"
	}
	line := func(columns int) string {
		return "package p\n\nfunc f() {\n\tprintln() //" + strings.Repeat("x", columns-tabColumns-len("println() //")) + "\n}\n"
	}
	field := "package p\n\ntype t struct {\n\ta int `doc:\"" + strings.Repeat("x", mostColumns) + "\"`\n}\n"
	const reason = "// f tells. In one piece: a table.\n"
	for _, c := range []struct{ name, text, want string }{
		{"a line of the last column", line(140), ""},
		{"a line of one more", line(141), "4: 141 columns"},
		{"umlauts are one column each", strings.Replace(line(140), "x", "ü", 1), ""},
		{"a field with its description", field, ""},
		{"a field without", strings.Replace(field, "doc", "dok", 1), "4: 158 columns"},
		{"as many lines as may be", function("", 60, ""), ""},
		{"a line more", function("", 61, ""), "3: f has 61 lines and a complexity of 1"},
		{"a line more, with the reason", function(reason, 61, ""), ""},
		{"a line more, with another comment", function("// f is long.\n", 61, ""), "4: f has 61 lines and a complexity of 1"},
		{"as many ways as may be", function("", 2, strings.Repeat("\tif a {\n\t}\n", 19)), ""},
		{"a way more", function("", 2, strings.Repeat("\tif a {\n\t}\n", 20)), "3: f has 42 lines and a complexity of 21"},
		{"a way more by an operator", function("", 2, strings.Repeat("\tif a && b || b {\n\t}\n", 7)), "3: f has 16 lines and a complexity of 22"},
		{"cases count, defaults do not", function("", 2, "\tswitch {\n"+strings.Repeat("\tcase a:\n", 19)+"\tdefault:\n\t}\n"), ""},
		{"a case more", function("", 2, "\tswitch {\n"+strings.Repeat("\tcase a:\n", 20)+"\t}\n"), "3: f has 24 lines and a complexity of 21"},
		{"loops count", function("", 2, strings.Repeat("\tfor range 2 {\n\t}\n\tfor a {\n\t}\n", 10)), "3: f has 42 lines and a complexity of 21"},
		{"a way more, with the reason", function(reason, 2, strings.Repeat("\tif a {\n\t}\n", 20)), ""},
	} {
		if got := strings.Join(tooLong(c.text), "; "); got != c.want {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
	}
}

// tooLong lists the lines and functions of a source file that are too long, each with its line.
func tooLong(text string) (faults []string) {
	for i, line := range strings.Split(text, "\n") {
		columns := utf8.RuneCountInString(line) + (tabColumns-1)*strings.Count(line, "\t")
		if columns > mostColumns && !strings.Contains(line, "doc:\"") {
			faults = append(faults, fmt.Sprintf("%d: %d columns", i+1, columns))
		}
	}
	at := token.NewFileSet()
	f, err := parser.ParseFile(at, "", text, parser.ParseComments)
	if err != nil {
		return append(faults, err.Error())
	}
	for _, d := range f.Decls {
		fn, ok := d.(*ast.FuncDecl)
		if !ok || strings.Contains(strings.ReplaceAll(fn.Doc.Text(), "\n", " "), inOnePiece) {
			continue
		}
		first := at.Position(fn.Pos()).Line
		lines, ways := at.Position(fn.End()).Line-first+1, complexity(fn)
		if lines > mostLines || ways > mostComplexity {
			faults = append(faults, fmt.Sprintf("%d: %s has %d lines and a complexity of %d", first, fn.Name.Name, lines, ways))
		}
	}
	return faults
}

// complexity is the cyclomatic complexity of a function with those inside it: one, and one for each place where it branches.
func complexity(fn *ast.FuncDecl) int {
	ways := 1
	ast.Inspect(fn, func(n ast.Node) bool {
		switch x := n.(type) {
		case *ast.IfStmt, *ast.ForStmt, *ast.RangeStmt, *ast.CommClause:
			ways++
		case *ast.CaseClause:
			if x.List != nil {
				ways++
			}
		case *ast.BinaryExpr:
			if x.Op == token.LAND || x.Op == token.LOR {
				ways++
			}
		}
		return true
	})
	return ways
}
