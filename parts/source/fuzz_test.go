package source

import (
	"bytes"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// FuzzDocument: in any file that is read, a value that is set, a key that is renamed or a key that is added changes that and
// nothing else, or is refused; the places told of the change are those of the changed bytes.
func FuzzDocument(f *testing.F) {
	mill, err := filepath.Glob("../../testdata/mill/*.yaml")
	if err != nil || len(mill) == 0 {
		f.Fatal("no demo parts", err)
	}
	for i, name := range mill {
		b, err := os.ReadFile(name)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(b, uint16(i*5))
	}
	for i, text := range []string{"a: 1", "a: {b: 'it''s', c: [1, \"\\x41\"]}\r\n", "a:\n- 1\n-\n  - 2\n",
		"a: |\n  one\n\n  two\nb: >-\n  x\n", "\ufeffa: é # x\n? b\n: c\n", "{a: , b: {}, c: []}", "a: one\n  two\nb: \"x\n  y\"\n", "a: [b: 1, {c}, d]\n", "{a: 1,\n# x\n b: [2,\n3]}\n", `{"a":1,"b":[{"c":"d"}]}`, "'a b': x\r\"c\": y\r"} {
		f.Add([]byte(text), uint16(i))
	}
	f.Fuzz(func(t *testing.T, text []byte, pick uint16) {
		doc, ps := Open("a.yaml", text)
		if len(ps) > 0 || doc.Root.Shape != Map {
			return
		}
		before := map[string]string{}
		flat(doc.Root, "", before)
		var paths []string
		for p := range before {
			if doc.At(p) != nil && !slices.Contains(steps(p), "") &&
				strings.Trim(p, "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789_-.[]") == "" {
				paths = append(paths, p)
			}
		}
		if len(paths) == 0 {
			return
		}
		slices.Sort(paths)
		p := paths[int(pick)%len(paths)]
		if n := doc.At(p); n.Shape != Scalar || n.Value != before[p] {
			return // a key with a point in it: a path leads elsewhere
		}
		checkEdit(t, doc, Edit{Path: p, Text: "99.5"}, func(m map[string]string) { m[p] = "99.5" })
		parent, key := cutPath(p)
		if strings.HasSuffix(key, "]") {
			return
		}
		in := strings.TrimSuffix(p, key)
		if before[in+"brand-new"] == "" && doc.At(in+"brand-new") == nil {
			checkEdit(t, doc, Edit{Path: p, Key: "brand-new"}, func(m map[string]string) { m[in+"brand-new"] = m[p]; delete(m, p) })
		}
		if parent != "" && doc.At(parent+".added") == nil {
			checkEdit(t, doc, Edit{Path: parent + ".added", Text: "{x: 1}"}, func(m map[string]string) { m[parent+".added.x"] = "1" })
		}
	})
}

// checkEdit makes one edit, and fails where more or less is changed.
func checkEdit(t *testing.T, doc *Document, e Edit, change func(map[string]string)) {
	t.Helper()
	want, after := map[string]string{}, map[string]string{}
	flat(doc.Root, "", want)
	change(want)
	got, err := doc.With(e)
	told, err2 := doc.Splices(e)
	if (err == nil) != (err2 == nil) {
		t.Fatalf("%+v: %v and %v", e, err, err2)
	}
	if err != nil {
		if err.Error() == "" || err.Error() != Plain(err.Error()) {
			t.Fatalf("%+v: %q", e, err)
		}
		return
	}
	again, ps := Open("a.yaml", got)
	if len(ps) > 0 {
		t.Fatalf("%+v makes of\n%q\n%q\n%v", e, doc.Bytes, got, ps)
	}
	flat(again.Root, "", after)
	for p, v := range want {
		if w, ok := after[p]; !ok || w != v {
			t.Fatalf("%+v: %s is %q, not %q:\n%q\n%q", e, p, w, v, doc.Bytes, got)
		}
	}
	if len(after) != len(want) {
		t.Fatalf("%+v: %d values, not %d:\n%q\n%q", e, len(after), len(want), doc.Bytes, got)
	}
	var out bytes.Buffer
	at := 0
	for _, s := range told {
		from, err := doc.offset(s.Line, s.Column)
		to, err2 := doc.offset(s.EndLine, s.EndColumn)
		if err != nil || err2 != nil || from < at || to < from {
			t.Fatalf("%+v of %q: %+v, %v, %v", e, doc.Bytes, s, err, err2)
		}
		out.Write(doc.Bytes[at:from])
		out.WriteString(s.Text)
		at = to
	}
	out.Write(doc.Bytes[at:])
	if !bytes.Equal(out.Bytes(), got) {
		t.Fatalf("%+v gives %q, and %q by its places", e, got, out.Bytes())
	}
}
