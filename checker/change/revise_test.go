package change

import (
	"context"
	"fmt"
	"math/rand/v2"
	"os"
	"slices"
	"strings"
	"testing"

	"corerod/checker"
	"corerod/checker/internal/samples"
	"corerod/parts/form"
	"corerod/parts/source"
	"corerod/rules"
)

// laidOut writes a document again in a random layout: maps and lists in lines or in brackets, comments between.
func laidOut(n *source.Node, indent string, rng *rand.Rand) string {
	if n.Shape == source.Scalar || indent != "" && rng.IntN(2) == 0 {
		return " " + inBrackets(n, rng) + []string{"", "  # note: {"}[rng.IntN(2)] + "\n"
	}
	var b strings.Builder
	b.WriteString("\n")
	if indent == "" {
		b.Reset()
	}
	for i, it := range n.Items {
		if rng.IntN(4) == 0 {
			b.WriteString(indent + "# a word: between\n")
		}
		if n.Shape == source.Map {
			b.WriteString(indent + n.Keys[i].Value + ":" + laidOut(it, indent+"  ", rng))
		} else {
			b.WriteString(indent + "- " + inBrackets(it, rng) + "\n")
		}
	}
	return b.String()
}

func inBrackets(n *source.Node, rng *rand.Rand) string {
	gap := []string{"", " "}[rng.IntN(2)]
	var items []string
	for i, it := range n.Items {
		if n.Shape == source.Map {
			items = append(items, n.Keys[i].Value+": "+inBrackets(it, rng))
		} else {
			items = append(items, inBrackets(it, rng))
		}
	}
	switch n.Shape {
	case source.Map:
		return "{" + gap + strings.Join(items, ", ") + gap + "}"
	case source.Sequence:
		return "[" + gap + strings.Join(items, ","+gap) + gap + "]"
	}
	return n.Value
}

// inInches is a part file with its lengths in inches, to a ten-thousandth.
func inInches(t *testing.T, text []byte) []byte {
	t.Helper()
	doc, _ := source.Open("x.yaml", text)
	edits := []source.Edit{{Path: "units", Text: "in"}}
	for _, n := range form.Numbers(doc.Root) {
		if n.Unit == "mm" {
			edits = append(edits, source.Edit{Path: n.Path, Text: fmt.Sprintf("%.4f", n.Value/25.4)})
		}
		for _, a := range n.Along {
			edits = append(edits, source.Edit{Path: a.Path, Text: fmt.Sprintf("%.4f", a.Value/25.4)})
		}
	}
	b, err := doc.With(edits...)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// scalars lists every scalar of a file by its path.
func scalars(t *testing.T, b []byte) map[string]string {
	t.Helper()
	root, ps := source.Parse("x.yaml", b)
	if len(ps) > 0 {
		t.Fatalf("%v\n%s", ps, b)
	}
	all := map[string]string{}
	var walk func(n *source.Node, path string)
	walk = func(n *source.Node, path string) {
		if n.Shape == source.Scalar {
			all[strings.TrimPrefix(path, ".")] = n.Value
		}
		for i, it := range n.Items {
			if n.Shape == source.Map {
				walk(it, path+"."+n.Keys[i].Value)
			} else {
				walk(it, fmt.Sprintf("%s[%d]", path, i))
			}
		}
	}
	walk(root, "")
	return all
}

// TestRevise: over random layouts the revised file reads as the same document but for what was chosen, comments stay, and
// reviewing it shows fewer findings; what is left has no change that makes it better.
func TestRevise(t *testing.T) {
	n := 32
	switch {
	case os.Getenv("COREROD_LONG") != "":
		n = 80
	case testing.Short():
		n = 16
	}
	book, revised := samples.StandardBook(t), 0
	for i, x := range samples.PlantedParts(t, n) {
		rng := rand.New(rand.NewPCG(uint64(i), 13))
		if i%4 == 2 {
			x.Text = inInches(t, x.Text)
		}
		root, _ := source.Parse("x.yaml", x.Text)
		text := []byte(laidOut(root, "", rng))
		if i%4 == 1 {
			text = []byte(strings.ReplaceAll(string(text), "\n", "\r\n"))
		}
		r, ps, err := Revise(context.Background(), fileOf("part.yaml", text), book, "", checker.Options{Workers: 2})
		if err != nil || len(ps) > 0 {
			t.Fatalf("%v %v\n%s", err, ps, text)
		}
		want, got := scalars(t, r.Old), scalars(t, r.New)
		for _, c := range r.Chosen {
			for _, s := range c.Change.Sets {
				for path := range want {
					if path == s.Path || strings.HasPrefix(path, s.Path+".") {
						delete(want, path)
					}
				}
				parent := s.Path[:max(0, strings.LastIndexAny(s.Path, ".["))]
				for path := range got {
					if path == s.Path || strings.HasPrefix(path, s.Path+".") || s.Key != "" && strings.HasPrefix(path, parent+"."+s.Key) {
						delete(got, path)
					}
				}
			}
		}
		if fmt.Sprint(want) != fmt.Sprint(got) {
			t.Errorf("other values differ: %v\nnot %v\n%s\n%s", got, want, r.Old, r.New)
		}
		if a, b := strings.Count(string(r.Old), "#"), strings.Count(string(r.New), "#"); a != b {
			t.Errorf("%d comments, %d before\n%s\n%s", b, a, r.Old, r.New)
		}
		again := changed(t, book, r.New, 0)
		if len(r.Chosen) > 0 {
			revised++
			if !better(again, r.Before) {
				t.Errorf("no better:\n%s\n%s", r.Old, r.New)
			}
		}
		serious := slices.ContainsFunc(again.Findings, func(f *checker.Finding) bool { return f.Grade != rules.Ask })
		if serious != (r.Status == checker.Found) {
			t.Errorf("status %d with a stop or change left: %t", r.Status, serious)
		}
	}
	if revised*10 < n*8 {
		t.Errorf("%d of %d parts are better", revised, n)
	}
}

// TestReviseOne: one finding by its id, and an id that is none.
func TestReviseOne(t *testing.T) {
	book := samples.StandardBook(t)
	text := []byte(
		"part: a\nunits: in\nbodies: {a: {circle: {diameter: 1.6}, from: 0, to: 0.4}}\ncuts:\n  b: {circle: {diameter: 0.05, at: [0.4, 0]}}  # pin\n  c: {circle: {diameter: 0.2, at: [-0.68, 0]}}\n")
	first := changed(t, book, text, 3)
	for _, f := range first.Findings {
		if len(f.Changes) == 0 {
			t.Errorf("%s has no change", f.Rule.Name)
			continue
		}
		r, _, err := Revise(context.Background(), fileOf("part.yaml", text), book, f.ID, checker.Options{})
		if err != nil || len(r.Chosen) != 1 || slices.ContainsFunc(r.After.Findings,
			func(g *checker.Finding) bool { return g.ID == f.ID }) {
			t.Errorf("%s: %v %v", f.Rule.Name, err, r.Chosen)
		}
	}
	if r, _, err := Revise(context.Background(), fileOf("part.yaml", text), book, "none", checker.Options{}); err == nil ||
		len(r.Chosen) > 0 {
		t.Error("a wrong id is taken")
	}
}
