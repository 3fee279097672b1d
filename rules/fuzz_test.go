package rules

import (
	"bytes"
	"reflect"
	"strings"
	"testing"

	"corerod/parts/source"
)

// FuzzPack reads any text as a pack of one file: it gives a pack or problems, the same each time, every problem stands
// inside the file, and a pack that loads can judge a part.
func FuzzPack(f *testing.F) {
	files, err := builtinFiles("press-and-sinter")
	if err != nil {
		f.Fatal(err)
	}
	f.Add(files[0].Bytes)
	need := withNeed("wall", "part.walls.all(w, w.thickness >= limits.least) && has(material.name)")
	for _, text := range []string{
		"", "{}", "pack: x", "rules: {a: {need: [{grade: stop, that: '1'}]}}", head, need,
		strings.ReplaceAll(need, "\n", "\r\n"), strings.Replace(need, "that: '", "that: '((((", 1), strings.Replace(need, "name}", "na", 1),
		strings.Replace(need, "least", "leest", 1), strings.Replace(need, "rows: [[1", "rows: [[x", 1), "\ufeff" + need,
		withNeed("hole", "hole.bore / 0 > 1e999"), withNeed("part", "part.walls.map(w, [w])[0] == {}"), "limits:\n  a: {value: |\n", "rules: !x &a {a: *a}",
	} {
		f.Add([]byte(text))
	}
	f.Fuzz(func(t *testing.T, text []byte) {
		given := []File{{"pack.yaml", text}}
		p, ps := LoadPack(given)
		if (p == nil) == (len(ps) == 0) {
			t.Fatalf("a pack: %v, problems: %v", p != nil, ps)
		}
		_, again := LoadPack(given)
		if !reflect.DeepEqual(ps, again) {
			t.Fatalf("read twice:\n%v\n%v", ps, again)
		}
		lines := bytes.Count(text, []byte("\n")) + bytes.Count(text, []byte("\r")) + 1
		for _, problem := range ps {
			if problem.File != "pack.yaml" || problem.Message == "" || problem.Line < 0 || problem.Line > lines || problem.Line > 0 && problem.Column < 1 {
				t.Fatalf("%+v in a file of %d lines", problem, lines)
			}
			if problem.Message != source.Plain(problem.Message) {
				t.Fatalf("a message that a terminal would act on: %q", problem.Message)
			}
		}
		if p == nil {
			return
		}
		b, ps := NewBook(p)
		if len(ps) > 0 {
			t.Fatal(ps)
		}
		for _, finding := range b.Judge(Case{Part: sample(), Unit: "mm"}).Findings {
			if finding.Rule == nil || finding.Subject == nil {
				t.Fatalf("%+v", finding)
			}
		}
	})
}
