package main

import (
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path"
	"slices"
	"strings"
	"testing"
)

// allowed lists what each package may import of the project and of others; the standard library is free.
var allowed = map[string][]string{
	"parts/tape":             {},
	"parts/source":           {"gopkg.in/yaml.v3"},
	"parts/subject":          {},
	"parts/stock":            {},
	"parts/plane":            {},
	"parts/fit":              {},
	"parts/partstest":        {},
	"parts":                  {"corerod/parts/source"},
	"parts/form":             {"corerod/parts", "corerod/parts/source", "corerod/parts/fit", "corerod/parts/plane"},
	"parts/blank":            {"corerod/parts", "corerod/parts/form", "corerod/parts/plane"},
	"parts/measure":          {"corerod/parts", "corerod/parts/form", "corerod/parts/blank", "corerod/parts/fit", "corerod/parts/plane", "corerod/parts/subject"},
	"parts/tooling":          {"corerod/parts/measure", "corerod/parts/blank", "corerod/parts/stock", "corerod/parts/subject"},
	"rules":                  {"corerod/parts/tape", "corerod/parts/fit", "corerod/parts/source", "corerod/parts/subject", "corerod/parts/stock", "github.com/google/cel-go"},
	"checker":                {"corerod/parts", "corerod/parts/form", "corerod/parts/plane", "corerod/parts/source", "corerod/parts/subject", "corerod/parts/blank", "corerod/parts/measure", "corerod/parts/stock", "corerod/parts/tooling", "corerod/rules"},
	"checker/report/words":   {"corerod/checker", "corerod/checker/prove", "corerod/parts", "corerod/parts/source", "corerod/parts/stock", "corerod/parts/subject", "corerod/rules"},
	"checker/report/data":    {"corerod/checker", "corerod/checker/change", "corerod/checker/compare", "corerod/checker/prove", "corerod/parts/form", "corerod/checker/report/words", "corerod/parts", "corerod/parts/source", "corerod/parts/stock", "corerod/parts/subject", "corerod/parts/tooling", "corerod/rules"},
	"checker/report/drawing": {"corerod/checker", "corerod/checker/report/words", "corerod/parts/plane", "corerod/parts/subject", "corerod/parts/tooling", "corerod/rules"},
	"checker/report":         {"corerod/checker", "corerod/checker/change", "corerod/checker/compare", "corerod/checker/concession", "corerod/checker/prove", "corerod/parts/form", "corerod/checker/report/drawing", "corerod/checker/report/words", "corerod/parts", "corerod/parts/source", "corerod/parts/subject", "corerod/parts/stock", "corerod/parts/tooling", "corerod/rules"},
	// for tests
	"checker/report/reporttest": {"corerod/checker", "corerod/checker/change", "corerod/checker/compare", "corerod/checker/prove", "corerod/checker/report/words", "corerod/parts/plane", "corerod/parts/source", "corerod/rules"},
	"cmd/corerod": {"corerod/checker", "corerod/checker/change", "corerod/checker/compare", "corerod/checker/concession", "corerod/checker/prove", "corerod/parts/form", "corerod/checker/report", "corerod/checker/report/data", "corerod/checker/report/drawing", "corerod/checker/report/words", "corerod/parts/source", "corerod/parts/subject", "corerod/rules",
		"github.com/spf13/cobra", "github.com/spf13/pflag", "github.com/hashicorp/go-hclog"},

	"checker/concession": {"corerod/checker", "corerod/parts", "corerod/parts/form", "corerod/parts/source", "corerod/parts/subject", "corerod/rules"},
	"checker/change":     {"corerod/checker", "corerod/parts/blank", "corerod/parts/form", "corerod/parts/source", "corerod/parts/subject", "corerod/rules"},
	"checker/compare":    {"corerod/checker", "corerod/parts/form", "corerod/parts/source", "corerod/parts/subject", "corerod/parts/tooling", "corerod/rules"},
	"checker/prove":      {"corerod/checker", "corerod/parts/form", "corerod/parts/source", "corerod/parts/stock", "corerod/parts/subject", "corerod/rules"},

	"checker/internal/samples": {"corerod/parts/source", "corerod/rules"}, // parts and books for the tests of these
}

// TestImports walks the imports: they go one way, and only rules knows the expression library.
func TestImports(t *testing.T) {
	root := os.DirFS("../..")
	seen, imported := map[string]bool{}, map[string]bool{}
	err := fs.WalkDir(root, ".", func(p string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() && strings.HasPrefix(d.Name(), ".") && p != "." {
			return fs.SkipDir
		}
		if path.Ext(p) != ".go" || strings.HasSuffix(p, "_test.go") {
			return nil
		}
		b, err := fs.ReadFile(root, p)
		if err != nil {
			return err
		}
		f, err := parser.ParseFile(token.NewFileSet(), p, b, parser.ImportsOnly)
		if err != nil {
			return err
		}
		pkg := path.Dir(p)
		may, known := allowed[pkg]
		if !known {
			t.Errorf("%s: the package %s is not in the list of imports", p, pkg)
		}
		seen[pkg] = true
		for _, i := range f.Imports {
			name := strings.Trim(i.Path.Value, `"`)
			first, _, _ := strings.Cut(name, "/")
			standard := !strings.Contains(first, ".") && first != "corerod"
			i := slices.IndexFunc(may, func(m string) bool {
				return name == m || !strings.HasPrefix(m, "corerod") && strings.HasPrefix(name, m+"/")
			})
			switch {
			case i >= 0:
				imported[pkg+" "+may[i]] = true
			case !standard:
				t.Errorf("%s imports %s; %s may import %s", p, name, pkg, strings.Join(may, ", "))
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	for pkg, may := range allowed {
		if !seen[pkg] {
			t.Errorf("there is no package %s", pkg)
		}
		for _, m := range may {
			if !imported[pkg+" "+m] {
				t.Errorf("%s may import %s and does not", pkg, m)
			}
		}
	}
}

// TestDocShapes: every part of docs/shapes.md is read and reviewed, and none draws a finding worse than ask.
func TestDocShapes(t *testing.T) {
	b, err := os.ReadFile("../../docs/shapes.md")
	if err != nil {
		t.Fatal(err)
	}
	blocks := strings.Split(string(b), "```yaml\n")[1:]
	if len(blocks) < 8 {
		t.Fatalf("%d shapes", len(blocks))
	}
	for _, text := range blocks {
		text, _, _ = strings.Cut(text, "```")
		if out, errs, status := run([]string{"review", "--changes", "0", "-"}, text); status != "0" {
			t.Errorf("status %s\n%s\n%s%s", status, text, out, errs)
		}
	}
}

// TestDocExamples: the parts and the pack that the docs show are read and judged.
func TestDocExamples(t *testing.T) {
	yaml := func(file string, number int) string {
		b, err := os.ReadFile("../../docs/" + file)
		if err != nil {
			t.Fatal(err)
		}
		blocks := strings.Split(string(b), "```yaml\n")
		text, _, _ := strings.Cut(blocks[number], "```")
		return text
	}
	part, pack, stock, shop := yaml("part-file.md", 1), yaml("rule-pack.md", 1), yaml("rule-pack.md", 2), yaml("rule-pack.md", 3)
	toothed := "part: toothed\nunits: mm\n" + yaml("part-file.md", 2)
	for _, text := range []string{part, toothed} {
		if out, errs, status := run([]string{"review", "-"}, text); status != "0" && status != "1" {
			t.Errorf("docs/part-file.md: status %s\n%s%s", status, out, errs)
		}
	}
	t.Chdir(t.TempDir())
	if err := os.WriteFile("pack.yaml", []byte(pack), 0o644); err != nil {
		t.Fatal(err)
	}
	if out, errs, status := run([]string{"review", "--pack", ".", "-"}, part); status != "0" && status != "1" {
		t.Errorf("docs/rule-pack.md: status %s\n%s%s", status, out, errs)
	}
	for name, text := range map[string]string{"stock.yaml": stock, "corerod.yaml": shop} {
		if err := os.WriteFile(name, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	if out, errs, status := run([]string{"pack", "show", "--pack", "stock.yaml"}, ""); status != "0" ||
		!strings.Contains(out, "hilltop-iron") || !strings.Contains(out, "P160") {
		t.Errorf("docs/rule-pack.md: status %s\n%s%s", status, out, errs)
	}
	if out, errs, status := run([]string{"review", "-"}, part); status != "0" && status != "1" ||
		!strings.Contains(out, "Shop file: corerod.yaml") {
		t.Errorf("docs/rule-pack.md: status %s\n%s%s", status, out, errs)
	}
}
