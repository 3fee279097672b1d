package source

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
)

// TestDocument: only the value that is set differs, whatever stands round it.
func TestDocument(t *testing.T) {
	for _, c := range []struct{ name, text, path, to, want string }{
		{"block", "a:\n  b: 1 # one\n  c: 2\n", "a.b", "3", "a:\n  b: 3 # one\n  c: 2\n"},
		{"flow", "a: {b: 1, c: [2, 3]} # x\n", "a.c[1]", "4.5", "a: {b: 1, c: [2, 4.5]} # x\n"},
		{"after wide characters", "t: \"é日本\"\na: {é: 1, b: 2}\n", "a.b", "3", "t: \"é日本\"\na: {é: 1, b: 3}\n"},
		{"in double quotes", "a: {b: \"H\\x37\", c: 1}\n", "a.b", "H9", "a: {b: H9, c: 1}\n"},
		{"in single quotes", "a: {b: 'it''s', c: 1}\n", "a.b", "H9", "a: {b: H9, c: 1}\n"},
		{"no end of line", "a: 1", "a", "2", "a: 2"},
		{"carriage returns", "a: 1\r\nb: 2\r\n", "b", "3", "a: 1\r\nb: 3\r\n"},
		{"a mark at the start", "\xef\xbb\xbfa: 1\nb: 2\n", "a", "3", "\xef\xbb\xbfa: 3\nb: 2\n"},
		{"added to a block", "a:\n  b: 1 # one\n# two\nc: 2\n", "a.d", "3", "a:\n  b: 1 # one\n  d: 3\n# two\nc: 2\n"},
		{"added to a flow", "a: {b: 1, c: {d: 2}, }\n", "a.e", "3", "a: {b: 1, c: {d: 2}, e: 3, }\n"},
		{"added to a flow over lines", "a: {b: 1, # one\n  c: [2,\n 3] # two\n}\n", "a.e", "4", "a: {b: 1, # one\n  c: [2,\n 3], e: 4 # two\n}\n"},
		{"added at the end", "a:\n  b: 1", "a.c", "2", "a:\n  b: 1\n  c: 2"},
		{"added behind a text block", "a:\n  b: |\n    one\n    two\nc: 2\n", "a.d", "3", "a:\n  b: |\n    one\n    two\n  d: 3\nc: 2\n"},
		{"added with carriage returns", "a:\r\n  b: 1\r\nc: 2\r\n", "a.d", "3", "a:\r\n  b: 1\r\n  d: 3\r\nc: 2\r\n"},
		{"added with a section", "a: 1\n", "b.c", "{d: 2}", "a: 1\nb: {c: {d: 2}}\n"},
		{"a map for a map", "a: {b: {c: 1}, d: 2}\n", "a.b", "{e: 3}", "a: {b: {e: 3}, d: 2}\n"},
		{"a map in lines", "a:\n  b:\n    c: 1\n    d: 2\n  e: 3\n", "a.b", "{f: 4}", "a:\n  b:\n    {f: 4}\n  e: 3\n"},
		{"a list no deeper than its key", "a:\n- 1\n- 2\nb: 3\n", "a", "[4]", "a:\n [4]\nb: 3\n"},
		{"an empty block at the end", "b: 1\na: |", "a", "3", "b: 1\na: 3"},
		{"left empty", "a:\n  b: # one\n  c: 2\n", "a.b", "3", "a:\n  b: 3 # one\n  c: 2\n"},
		{"a key alone", "a: {b, c: 2}\n", "a.b", "3", "a: {b: 3, c: 2}\n"},
		{"a comment at a quote", "a: 'b'# one\n", "a", "3", "a: 3 # one\n"},
		{"left empty before a comment", "{a:\n# x\n, b: 1}\n", "a", "3", "{a: 3\n# x\n, b: 1}\n"},
		{"a key alone in its line", "{a: 1,\n b\n }\n", "b", "3", "{a: 1,\n b: 3\n }\n"},
		{"an item left empty", "a:\n-\n- 2\n", "a[0]", "3", "a:\n- 3\n- 2\n"},
		{"an item in lines", "a:\n  - [1, 2]\n  - - 3\n    - 4\n", "a[1][1]", "5", "a:\n  - [1, 2]\n  - - 3\n    - 5\n"},
	} {
		doc, ps := Open("x.yaml", []byte(c.text))
		if len(ps) > 0 {
			t.Fatal(c.name, ps)
		}
		got, err := doc.With(Edit{Path: c.path, Text: c.to})
		if err != nil || string(got) != c.want {
			t.Errorf("%s: %v\n%s\nwant\n%s", c.name, err, got, c.want)
			continue
		}
		if n := rewritten(t, got).At(c.path); n == nil {
			t.Errorf("%s: nothing is there", c.name)
		}
	}
}

func rewritten(t *testing.T, b []byte) *Document {
	t.Helper()
	doc, ps := Open("x.yaml", b)
	if len(ps) > 0 {
		t.Fatalf("%v\n%s", ps, b)
	}
	return doc
}

// TestDocumentKeys: a key takes another name, alone or with its value.
func TestDocumentKeys(t *testing.T) {
	doc := rewritten(t, []byte("a: {\"b\": 1, c: {d: 2}} # x\n"))
	got, err := doc.With(Edit{Path: "a.c", Key: "e", Text: "{f: 3}"}, Edit{Path: "a.b", Key: "g"})
	if want := "a: {g: 1, e: {f: 3}} # x\n"; err != nil || string(got) != want {
		t.Errorf("%v %s", err, got)
	}
	if got, err = doc.With(Edit{Path: "a", Key: "z"}); err != nil || string(got) != "z: {\"b\": 1, c: {d: 2}} # x\n" {
		t.Errorf("%v %s", err, got)
	}
	if got, err = rewritten(t, []byte(`{"a":{"b":1},"c":2}`)).With(Edit{Path: "a", Key: "z"}, Edit{Path: "a.b", Text: "3"}); err != nil ||
		string(got) != `{"z":{"b":3},"c":2}` {
		t.Errorf("%v %s", err, got)
	}
	if b, err := rewritten(t, []byte("a: [1, 2]\n")).With(Edit{Path: "a[0]", Key: "b"}); err == nil {
		t.Errorf("an item takes a key: %s", b)
	}
	if b, err := rewritten(t, []byte("a: [b: 1, c]\n")).With(Edit{Path: "a[0].d", Text: "2"}); err == nil {
		t.Errorf("a line in brackets: %s", b)
	}
	for _, e := range []Edit{{Path: "a.x.y", Text: "1"}, {Path: "a.x", Key: "y"}, {Path: "a.b.c", Text: "1"}, {Path: "x.y.z", Text: "1"}} {
		if b, err := doc.With(e); err == nil {
			t.Errorf("%v gives %s", e, b)
		}
	}
	if _, err := doc.With(Edit{Path: "a.b", Text: "2"}, Edit{Path: "a.b", Text: "3"}); err == nil {
		t.Error("two changes of one value")
	}
}

// layout writes a random document in a random layout, and keeps the paths of its numbers.
type layout struct {
	rng   *rand.Rand
	paths []string
}

func (l *layout) comment() string {
	return []string{"", "", "", " # {a: 1", "  # 'x", " # ]"}[l.rng.IntN(6)]
}

// inFlow writes a value in brackets.
func (l *layout) inFlow(path string, depth int) string {
	gap := []string{"", " ", "  "}[l.rng.IntN(3)]
	switch k := l.rng.IntN(4); {
	case depth > 2 || k < 2:
		return l.scalar(path)
	case k == 2:
		var items []string
		for i := range 1 + l.rng.IntN(3) {
			items = append(items, l.inFlow(fmt.Sprintf("%s[%d]", path, i), depth+1))
		}
		return "[" + gap + strings.Join(items, ","+gap) + gap + "]"
	}
	var items []string
	for i := range 1 + l.rng.IntN(3) {
		key := fmt.Sprintf("k%d", i)
		items = append(items, key+": "+l.inFlow(path+"."+key, depth+1))
	}
	return "{" + gap + strings.Join(items, ", "+gap) + []string{"", ","}[l.rng.IntN(2)] + gap + "}"
}

func (l *layout) scalar(path string) string {
	l.paths = append(l.paths, path)
	return []string{"1", "-2.50", "+3e1", "007", "'four'", `"fi\tve"`, "six", "é日"}[l.rng.IntN(8)]
}

// inLines writes a map on lines of its own.
func (l *layout) inLines(path, indent string, depth int) string {
	var b strings.Builder
	for i := range 1 + l.rng.IntN(4) {
		key := fmt.Sprintf("k%d", i)
		below := key
		if path != "" {
			below = path + "." + key
		}
		if l.rng.IntN(5) == 0 {
			b.WriteString(indent + "# a note: {x\n")
		}
		switch k := l.rng.IntN(5); {
		case k == 0 && depth < 3:
			b.WriteString(indent + key + ":" + l.comment() + "\n" + l.inLines(below, indent+"  ", depth+1))
		case k == 1:
			b.WriteString(indent + key + ":" + l.comment() + "\n")
			for j := range 1 + l.rng.IntN(3) {
				b.WriteString(indent + "- " + l.inFlow(fmt.Sprintf("%s[%d]", below, j), 1) + l.comment() + "\n")
			}
		default:
			b.WriteString(indent + key + ": " + l.inFlow(below, 0) + l.comment() + "\n")
		}
	}
	return b.String()
}

// flat lists every scalar of a document by its path.
func flat(n *Node, path string, into map[string]string) {
	switch n.Shape {
	case Scalar:
		into[path] = n.Value
	case Map:
		for i, k := range n.Keys {
			flat(n.Items[i], strings.TrimPrefix(path+"."+k.Value, "."), into)
		}
	case Sequence:
		for i, it := range n.Items {
			flat(it, fmt.Sprintf("%s[%d]", path, i), into)
		}
	}
}

// TestDocumentLayouts: over random layouts the changed file reads as the same document but for what was set or added, and
// outside those values its bytes are the same.
func TestDocumentLayouts(t *testing.T) {
	for i := range 3000 {
		l := &layout{rng: rand.New(rand.NewPCG(uint64(i), 8))}
		text := l.inLines("", "", 0)
		if i%3 == 1 {
			text = strings.ReplaceAll(text, "\n", "\r\n")
		}
		doc := rewritten(t, []byte(text))
		before := map[string]string{}
		flat(doc.Root, "", before)
		var edits []Edit
		for _, p := range l.paths {
			if l.rng.IntN(3) == 0 {
				edits = append(edits, Edit{Path: p, Text: "99.5"})
				before[p] = "99.5"
			}
		}
		added := "k0"
		if doc.At(added).Shape == Map {
			edits = append(edits, Edit{Path: added + ".new", Text: "{x: 1}"})
			before[added+".new.x"] = "1"
		}
		got, err := doc.With(edits...)
		if err != nil {
			t.Fatalf("%v\n%s", err, text)
		}
		after := map[string]string{}
		flat(rewritten(t, got).Root, "", after)
		for p, v := range before {
			if after[p] != v {
				t.Fatalf("%s is %q, not %q:\n%s\n%s", p, after[p], v, text, got)
			}
		}
		if len(before) != len(after) {
			t.Fatalf("%d values, not %d:\n%s\n%s", len(after), len(before), text, got)
		}
		if notes(string(got)) != notes(text) {
			t.Fatalf("comments differ:\n%s\n%s", text, got)
		}
	}
}

// notes are the comments of a text, in order.
func notes(text string) string {
	var all []string
	for line := range strings.Lines(text) {
		if i := strings.Index(line, "#"); i >= 0 {
			all = append(all, strings.TrimSpace(line[i:]))
		}
	}
	slices.Sort(all)
	return strings.Join(all, "\n")
}
