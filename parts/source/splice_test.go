package source

import (
	"math/rand/v2"
	"regexp"
	"strings"
	"testing"
)

// TestSplices: where the text of a change stands, and what it takes the place of.
func TestSplices(t *testing.T) {
	for _, c := range []struct {
		name, text string
		edit       Edit
		want       Splice
	}{
		{"a scalar", "a:\n  b: 1 # one\n", Edit{Path: "a.b", Text: "3"}, Splice{2, 6, 2, 7, "3"}},
		{"behind wide characters", "a: {é日𝄞: \"x\", b: 22}\n", Edit{Path: "a.b", Text: "3"}, Splice{1, 18, 1, 20, "3"}},
		{"behind a mark at the start", "\xef\xbb\xbfa: 1\n", Edit{Path: "a", Text: "3"}, Splice{1, 4, 1, 5, "3"}},
		{"carriage returns", "a: 1\r\nb: 2\r\n", Edit{Path: "b", Text: "3"}, Splice{2, 4, 2, 5, "3"}},
		{"carriage returns alone", "a: 1\rb: 2\r", Edit{Path: "b", Text: "3"}, Splice{2, 4, 2, 5, "3"}},
		{"a map over lines", "a:\n  b: {c: 1,\n    d: 2}\n", Edit{Path: "a.b", Text: "{}"}, Splice{2, 6, 3, 10, "{}"}},
		{"a key", "a: {b: 1}\n", Edit{Path: "a.b", Key: "cd"}, Splice{1, 5, 1, 6, "cd"}},
		{"added to a flow", "a: {b: 1 }\n", Edit{Path: "a.c", Text: "2"}, Splice{1, 9, 1, 9, ", c: 2"}},
		{"added to lines", "a:\r\n  b: 1 # é\r\n", Edit{Path: "a.c", Text: "2"}, Splice{2, 11, 2, 11, "\r\n  c: 2"}},
		{"taken out of lines", "a:\n  b: 1\n  c: 2\n", Edit{Path: "a.b", Remove: true}, Splice{2, 3, 3, 3, ""}},
		{"taken out of a flow", "a: {b: 1, c: 2}\n", Edit{Path: "a.c", Remove: true}, Splice{1, 9, 1, 15, ""}},
		{"added at the end", "a: 1", Edit{Path: "b", Text: "2"}, Splice{1, 5, 1, 5, "\nb: 2"}},
	} {
		got, err := rewritten(t, []byte(c.text)).Splices(c.edit)
		if err != nil || len(got) != 1 || got[0] != c.want {
			t.Errorf("%s: %v %v, want %v", c.name, got, err, c.want)
		}
	}
	doc := rewritten(t, []byte("a: {b: 1}\n"))
	for _, edits := range [][]Edit{{{Path: "a.x.y", Text: "1"}}, {{Path: "a.b", Text: "2"}, {Path: "a.b", Text: "3"}},
		{{Path: "a.b", Text: "2"}, {Path: "a", Remove: true}}, {{Path: "a.x", Remove: true}}, {{Path: "x.y", Remove: true}}} {
		if s, err := doc.Splices(edits...); err == nil {
			t.Errorf("%v gives %v", edits, s)
		}
	}
}

var lineEnd = regexp.MustCompile("\r\n|\n|\r")

// spliced makes changes in a text by their lines and columns alone, the last first.
func spliced(text string, all []Splice) string {
	ends := append([][]int{{0, 0}}, lineEnd.FindAllStringIndex(text, -1)...)
	if strings.HasPrefix(text, "\ufeff") {
		ends[0][1] = len("\ufeff")
	}
	offset := func(line, column int) int {
		at := ends[line-1][1]
		for range column - 1 {
			at += len(string([]rune(text[at:])[:1]))
		}
		return at
	}
	for i := len(all) - 1; i >= 0; i-- {
		s := all[i]
		text = text[:offset(s.Line, s.Column)] + s.Text + text[offset(s.EndLine, s.EndColumn):]
	}
	return text
}

// TestSplicesLayouts: over random layouts, splices applied by line and column give what With gives.
func TestSplicesLayouts(t *testing.T) {
	for i := range 500 {
		l := &layout{rng: rand.New(rand.NewPCG(uint64(i), 11))}
		text := []string{"", "\ufeff"}[i%2] + l.inLines("", "", 0)
		if i%3 == 1 {
			text = strings.ReplaceAll(text, "\n", "\r\n")
		}
		doc := rewritten(t, []byte(text))
		edits := []Edit{{Path: "fresh.key", Text: "{x: 1}"}, {Path: "fresh.other", Text: "2"}, {Path: "last", Text: "é"}}
		for _, p := range l.paths {
			if l.rng.IntN(3) == 0 {
				edits = append(edits, Edit{Path: p, Text: "99.5"})
			}
		}
		want, err := doc.With(edits...)
		if err != nil {
			t.Fatal(err)
		}
		all, err := doc.Splices(edits...)
		if err != nil {
			t.Fatal(err)
		}
		if got := spliced(text, all); got != string(want) {
			t.Fatalf("%q\nbecomes %q\nnot %q\nby %v", text, got, want, all)
		}
	}
}
