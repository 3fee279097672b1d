package rules

import (
	"bytes"
	"reflect"
	"strings"
	"testing"

	"corerod/parts/source"
	"corerod/parts/subject"
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
		withNeed("hole", "hole.bore / 0 > 1e999"), withNeed("part", "part.walls.map(w, [w])[0] == {}"),
		withNeed("part", "size(part.holes) > 0 && least(part.holes, h, h.width) < sum(part.walls, w, round(w.height))"),
		withNeed("hole", "part.holes.all(h, h == hole || distance(h, hole) > 1) && hole.name.contains('a')"), "limits:\n  a: {value: |\n",
		"rules: !x &a {a: *a}",
	} {
		f.Add([]byte(text))
	}
	f.Fuzz(func(t *testing.T, text []byte) {
		given := []File{{"pack.yaml", text}}
		p, ps := LoadPack(given, nil)
		if (p == nil) == (len(ps) == 0) {
			t.Fatalf("a pack: %v, problems: %v", p != nil, ps)
		}
		_, again := LoadPack(given, nil)
		if !reflect.DeepEqual(ps, again) {
			t.Fatalf("read twice:\n%v\n%v", ps, again)
		}
		lines := bytes.Count(text, []byte("\n")) + bytes.Count(text, []byte("\r")) + 1
		for _, problem := range ps {
			if problem.File != "pack.yaml" || problem.Message == "" || problem.Line < 0 || problem.Line > lines ||
				problem.Line > 0 && problem.Column < 1 {
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

// FuzzExpression examines any text as a condition and as an expression of a text: it never panics, what is wrong
// stands inside the text, and a condition that nothing is wrong with can be run and taken apart.
func FuzzExpression(f *testing.F) {
	p, ps := load(withNeed("hole", "hole.keyed"))
	if len(ps) > 0 {
		f.Fatal(ps)
	}
	for _, text := range []string{
		"hole.depth / table() > 1", "hole.depth / least() > 1", "1 / abs() / greatest(1) > -hole.draft", "table('depths', hole.width) > 1",
		"part.walls.all(w, has(w.x) && part.holes.exists(h, h == hole))", "part.walls.filter(w, w.web)[0].name == \"é\" // why", "1 / (1 - 1) in [1, 'a']",
		"has(hole.bore) ? hole.bore > 1 : !(hole.open in ['top'])", "size(part.open_joints + ['a']) == 1.", "length(hole.width)", "a.b.c(d)[e]{f: g}", "((", "\"", "0x1u",
		"limits", "part.exists(x, x)", "[1].all(x, x > 0)", "[hole].exists(h, h.keyed)", "hole.name.size() < 'abc'.size()", `r'\' == '''a'''`, "{}.x", "`a` == .hole.name",
	} {
		f.Add(text)
	}
	over := p.env().shapes["hole"]
	f.Fuzz(func(t *testing.T, text string) {
		for _, inText := range []bool{false, true} {
			x := p.env().expression(text)
			faults, typ := x.examine(over, inText, nil)
			if (typ == nil) == (len(faults) == 0) {
				t.Fatalf("type %v, faults %v", typ, faults)
			}
			for _, fault := range faults {
				if fault.at < 0 || fault.at > len(x.text) || fault.message != source.Plain(fault.message) {
					t.Fatalf("%+v of a text of %d", fault, len(x.text))
				}
			}
			if typ == nil || typ.String() != "bool" || inText {
				continue
			}
			s := (&Book{}).scene(Case{Part: sample(), Unit: "mm"})
			in := &bound{scene: s, over: s.of(subject.HoleKind)[0], limits: p.env().limits}
			holds, err := x.holds(in)
			if err != nil {
				continue
			}
			leaves, err := p.Rules[0].decisive(&Need{Grade: Ask, That: text}, in, holds)
			if err == nil && len(leaves) == 0 {
				t.Fatal("nothing decides it")
			}
		}
	})
}
