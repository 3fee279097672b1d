package report

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"os"
	"reflect"
	"regexp"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/santhosh-tekuri/jsonschema/v6"

	"corerod/checker"
	"corerod/checker/compare"
	"corerod/parts/source"
)

// compared compares two part files.
func comparedParts(t *testing.T, old, new string) (*compare.Comparison, InForce) {
	t.Helper()
	var files []checker.File
	var roots []*source.Node
	for i, text := range []string{old, new} {
		name := []string{"old.yaml", "new.yaml"}[i]
		files = append(files, checker.File{Name: name, Open: func() (io.ReadCloser, error) { return io.NopCloser(strings.NewReader(text)), nil }})
		root, _ := source.Parse(name, []byte(text))
		roots = append(roots, root)
	}
	b := book(t)
	r := checker.Run(context.Background(), files, b, checker.Options{Account: true})
	if len(r.Parts) != 2 {
		t.Fatal(r.Unread, r.Faults)
	}
	return compare.Revisions(r.Parts[0], r.Parts[1], roots[0], roots[1]), InForce{Packs: b.Packs}
}

// mill reads a demo part.
func mill(t *testing.T, name string) string {
	t.Helper()
	b, err := os.ReadFile("../../testdata/mill/" + name + ".yaml")
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

// formats are all that a comparison is written in.
var formats = map[string]func(io.Writer, *compare.Comparison, InForce) error{"text": Compare, "json": CompareJSON, "markdown": CompareMarkdown}

func formatted(t *testing.T, format string, c *compare.Comparison, in InForce) string {
	t.Helper()
	var b bytes.Buffer
	if err := formats[format](&b, c, in); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// TestCompareSchema: docs/compare.schema.json describes what CompareJSON writes, and comparisons of demo parts, which differ
// in all that can differ, are valid by it. COREROD_UPDATE=1 writes it.
func TestCompareSchema(t *testing.T) {
	const file = "../../docs/compare.schema.json"
	s := schemaOf(reflect.TypeFor[jsonCompare]())
	s["$schema"] = "https://json-schema.org/draft/2020-12/schema"
	s["title"] = "corerod comparison, format 1"
	s["description"] = "Values of the part files in their own units; all else in mm, degrees, mm2, mm3, g, g/cm3, kN; numbers have at most 12 significant digits."
	want, err := json.MarshalIndent(s, "", "  ")
	if err != nil {
		t.Fatal(err)
	}
	want = append(want, '\n')
	if os.Getenv("COREROD_UPDATE") != "" {
		if err := os.WriteFile(file, want, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	if got, err := os.ReadFile(file); err != nil || !bytes.Equal(got, want) {
		t.Errorf("docs/compare.schema.json is stale (%v); run COREROD_UPDATE=1 go test ./checker/report", err)
	}
	schema, err := jsonschema.NewCompiler().Compile(file)
	if err != nil {
		t.Fatal(err)
	}
	names := []string{"crank-hub", "guide-bush", "pawl", "ratchet-wheel", "feed-gear", "cam-plate", "thrust-washer"}
	filled := map[string]bool{}
	for i, old := range names {
		c, in := comparedParts(t, mill(t, old), mill(t, names[(i+1)%len(names)]))
		in.Unused = "corerod.yaml"
		doc, err := jsonschema.UnmarshalJSON(strings.NewReader(formatted(t, "json", c, in)))
		if err != nil {
			t.Fatal(err)
		}
		if err := schema.Validate(doc); err != nil {
			t.Errorf("%s: %v", old, err)
		}
		for key, v := range doc.(map[string]any) {
			if l, ok := v.([]any); ok && len(l) > 0 {
				filled[key] = true
			}
		}
		doc.(map[string]any)["colour"] = "red"
		if schema.Validate(doc) == nil {
			t.Error("the schema lets an unknown key pass")
		}
	}
	if len(filled) != 7 {
		t.Errorf("of the lists only %v have entries", filled)
	}
}

// TestCompareSame: two runs give the same bytes, in every format.
func TestCompareSame(t *testing.T) {
	for format := range formats {
		first := ""
		for range 3 {
			c, in := comparedParts(t, mill(t, "crank-hub"), mill(t, "feed-gear"))
			text := formatted(t, format, c, in)
			if first != "" && text != first {
				t.Errorf("%s differs:\n%s\n%s", format, first, text)
			}
			first = text
		}
	}
}

// TestCompareMarkdownLong: a page of very many findings is cut before 60,000 characters, says how many lines it leaves out,
// and still ends with what was in force and the caution; the text has all. Long texts are shortened.
func TestCompareMarkdownLong(t *testing.T) {
	var b strings.Builder
	b.WriteString("part: sieve\nunits: mm\ntitle: " + strings.Repeat("sieve | ", 500) + "\nbodies:\n  plate: {rectangle: {length: 320, width: 320, corner: 5}, from: 0, to: 3}\n")
	old := b.String()
	b.WriteString("cuts:\n")
	for i := range 240 {
		fmt.Fprintf(&b, "  hole-%d: {circle: {diameter: %g, at: [%d, %d]}}\n", i, 0.3+float64(i)/1000, i%15*20-140, i/15*20-150)
	}
	c, in := comparedParts(t, old, b.String())
	if n := c.Count(compare.Gained); n < 200 {
		t.Fatalf("%d findings", n)
	}
	page, text := formatted(t, "markdown", c, in), formatted(t, "text", c, in)
	if n := utf8.RuneCountInString(page); n > 60_000 || n < 50_000 {
		t.Errorf("the page has %d characters", n)
	}
	cut := regexp.MustCompile(`\n(\d+) lines were left out here: the page would be longer than 60000 characters.`).FindStringSubmatch(page)
	if cut == nil || !strings.HasSuffix(page, "\n"+markdown(Caution)+"\n") || !strings.Contains(page, "In force: press-and-sinter") {
		t.Errorf("the page ends\n%s", page[len(page)-600:])
	}
	if n := strings.Count(text, "gained, "); n != c.Count(compare.Gained) {
		t.Errorf("the text has %d of %d findings", n, c.Count(compare.Gained))
	}
	if head, _, _ := strings.Cut(page, "\n"); len(head) > 3*mostCell+200 || !strings.HasSuffix(head, "...") {
		t.Errorf("the head is %s", head)
	}
}

// TestCompareWords: how values, shares and figures are worded.
func TestCompareWords(t *testing.T) {
	for share, want := range map[float64]string{0.5: "+50 %", -0.0123: "-1.2 %", 2.345: "+235 %", -0.000006: "-0.0006 %", 1e-12: "+1e-10 %"} {
		if got := percent(share); got != want {
			t.Errorf("%g is %s, want %s", share, got, want)
		}
	}
	const part = "part: a\nunits: mm\nbodies:\n  a: {circle: {diameter: 20}, from: 0, to: 6}\n"
	for _, x := range []struct{ old, new, want string }{
		{"diameter: 20", "diameter: 20.000000001", "changed: bodies.a, line 4: circle.diameter from 20 to 20.000000001 mm\n"},
		{"diameter: 20", "diameter: 20.00001", "across  20 mm              20.00001 mm        +0.00005 %\n"},
		{"to: 6", "to: 6.5", "changed: bodies.a, line 4: `to` from 6 to 6.5 mm\n"},
		{"{diameter: 20}", "{diameter: 20, at: [1, -2]}", "circle.at added as [1, -2] mm\n"},
		{"circle: {diameter: 20}", "hexagon: {across_flats: 20}", "circle becomes hexagon; hexagon.across_flats added as 20 mm;\n"},
		{"bodies:", "title: a b\nbodies:", "title added as `a b`, line 3\n"},
	} {
		c, in := comparedParts(t, part, strings.Replace(part, x.old, x.new, 1))
		if text := formatted(t, "text", c, in); !strings.Contains(text, x.want) {
			t.Errorf("%s: there is no %q in\n%s", x.new, x.want, text)
		}
	}
}
