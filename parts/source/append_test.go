package source

import (
	"strings"
	"testing"
)

// TestAppend: an item is added at the end of the list, in the way the list is written; nothing else differs, and the list is made
// where it is missing.
func TestAppend(t *testing.T) {
	one := []Pair{{"rule", "wall"}, {"by", `"A B"`}}
	for _, c := range []struct{ name, text, want string }{
		{"to lines", "a: 1\nlist:\n  - rule: x # why\n    by: y\nb: 2\n",
			"a: 1\nlist:\n  - rule: x # why\n    by: y\n  - rule: wall\n    by: \"A B\"\nb: 2\n"},
		{"to lines as deep as their key", "list:\n- {rule: x}\nb: 2\n", "list:\n- {rule: x}\n- rule: wall\n  by: \"A B\"\nb: 2\n"},
		{"behind a comment", "list:\n  - x # {y: [\nb: 2\n", "list:\n  - x # {y: [\n  - rule: wall\n    by: \"A B\"\nb: 2\n"},
		{"to lines with carriage returns", "list:\r\n  - {rule: x}\r\nb: 2\r\n",
			"list:\r\n  - {rule: x}\r\n  - rule: wall\r\n    by: \"A B\"\r\nb: 2\r\n"},
		{"at the end without a line end", "list:\n  - rule: x", "list:\n  - rule: x\n  - rule: wall\n    by: \"A B\""},
		{"to brackets", "list: [{rule: x}] # why\nb: 2\n", "list: [{rule: x}, {rule: wall, by: \"A B\"}] # why\nb: 2\n"},
		{"to brackets with a comma at the end", "list: [1, 2, ]\n", "list: [1, 2, {rule: wall, by: \"A B\"}, ]\n"},
		{"to brackets over lines", "list: [\n  1, # one\n  2\n]\n", "list: [\n  1, # one\n  2, {rule: wall, by: \"A B\"}\n]\n"},
		{"to a file in braces", `{"a":1,"list":[{"rule":"x"}]}`, `{"a":1,"list":[{"rule":"x"}, {rule: wall, by: "A B"}]}`},
		{"made", "a: 1\nb: 2 # two\n", "a: 1\nb: 2 # two\nlist:\n  - rule: wall\n    by: \"A B\"\n"},
		{"made with carriage returns", "a: 1\r\n", "a: 1\r\nlist:\r\n  - rule: wall\r\n    by: \"A B\"\r\n"},
		{"made behind a text block", "a: |\n  one\n  two\n", "a: |\n  one\n  two\nlist:\n  - rule: wall\n    by: \"A B\"\n"},
		{"made in braces", "{a: 1, b: 2}\n", "{a: 1, b: 2, list: [{rule: wall, by: \"A B\"}]}\n"},
		{"in the place of an empty list", "list: []\nb: 2\n", "list: [{rule: wall, by: \"A B\"}]\nb: 2\n"},
		{"in the place of nothing", "list:\nb: 2\n", "list: [{rule: wall, by: \"A B\"}]\nb: 2\n"},
		{"in the place of null", "list: null # none\nb: 2\n", "list: [{rule: wall, by: \"A B\"}] # none\nb: 2\n"},
	} {
		doc := rewritten(t, []byte(c.text))
		got, err := doc.Append("list", one)
		if err != nil || string(got) != c.want {
			t.Errorf("%s: %v\n%q\nwant\n%q", c.name, err, got, c.want)
			continue
		}
		list := rewritten(t, got).At("list")
		last := list.Items[len(list.Items)-1]
		if last.At("rule").Value != "wall" || last.At("by").Value != "A B" || len(last.Items) != 2 {
			t.Errorf("%s: %+v", c.name, last)
		}
		if before := doc.At("list"); before != nil && before.Shape == Sequence && len(list.Items) != len(before.Items)+1 {
			t.Errorf("%s: %d items, from %d", c.name, len(list.Items), len(before.Items))
		}
	}
	for _, c := range []struct{ text, says string }{
		{"list: {a: 1}\n", "`list` is no list"}, {"list: one\n", "`list` is no list"}, {"{}\n", "nothing can be added to an empty map"},
	} {
		if got, err := rewritten(t, []byte(c.text)).Append("list", one); err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%q: %q, %v", c.text, got, err)
		}
	}
}

// TestWritten: text is written without quotes where YAML reads it back as that text wherever it stands, else in quotes.
func TestWritten(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{"wall", "wall"}, {"A. Smith-Jones 2", "A. Smith-Jones 2"}, {"a_b.c", "a_b.c"}, {"a  b", `"a  b"`}, {"a ", `"a "`}, {"", `""`},
		{"1.5", `"1.5"`}, {"-a", `"-a"`},
		{"a: b", `"a: b"`}, {"a #b", `"a #b"`}, {"a<b&c", `"a<b&c"`}, {"é", `"é"`}, {`say "x"`, `"say \"x\""`}, {"a\nb", `"a\nb"`},
		{"true", `"true"`}, {"Yes", `"Yes"`}, {"NULL", `"NULL"`}, {"off", `"off"`}, {"n", `"n"`}, {"nothing", "nothing"}, {"on time",
			"on time"},
	} {
		got := Written(c.text)
		if got != c.want {
			t.Errorf("%q is written %s, want %s", c.text, got, c.want)
		}
		for _, form := range []string{"k: %\n", "{k: %}\n", "k: [%]\n"} {
			n := rewritten(t, []byte(strings.Replace(form, "%", got, 1))).At("k")
			if n.Shape == Sequence {
				n = n.Items[0]
			}
			if n.Shape != Scalar || n.Value != c.text || n.Null {
				t.Errorf("%q in %q is read as %+v", got, form, n)
			}
		}
	}
}

// TestSplicesInOrder: several changes come in the order of the file, those at one place as they were given, and their places are
// those of the unchanged file.
func TestSplicesInOrder(t *testing.T) {
	doc := rewritten(t, []byte("a:\n  b: 1\n  c: 2\nd: {e: 3}\n"))
	got, err := doc.Splices(Edit{Path: "d.e", Text: "30"}, Edit{Path: "d.g", Text: "5"}, Edit{Path: "d.f", Text: "4"}, Edit{Path: "a.c",
		Text: "20", Key: "k"}, Edit{Path: "new.x", Text: "7"}, Edit{Path: "new.y", Text: "8"})
	want := []Splice{{3, 3, 3, 4, "k"}, {3, 6, 3, 7, "20"}, {4, 8, 4, 9, "30"}, {4, 9, 4, 9, ", g: 5"}, {4, 9, 4, 9, ", f: 4"}, {4, 10,
		4, 10, "\nnew: {x: 7, y: 8}"}}
	if err != nil || len(got) != len(want) {
		t.Fatalf("%v %v", got, err)
	}
	for i := range got {
		if got[i] != want[i] {
			t.Errorf("change %d: %+v, want %+v", i, got[i], want[i])
		}
	}
	for _, edits := range [][]Edit{
		{{Path: "d", Text: "{}"}, {Path: "d.e", Text: "4"}},
		{{Path: "a.b", Text: "{}"}, {Path: "a.b", Text: "4"}},
		{{Path: "x.y.z", Text: "1"}},
		{{Path: "x[0].z", Text: "1"}},
		{{Path: "x.y", Key: "z"}},
		{{Path: "a.b", Text: "1"}, {Path: "q.r", Key: "s", Text: "1"}},
	} {
		if got, err := doc.Splices(edits...); err == nil {
			t.Errorf("%v gives %v", edits, got)
		}
	}
	// Changes that touch but do not overlap are made both.
	b, err := rewritten(t, []byte("{a: 1,b: 2}\n")).With(Edit{Path: "a", Text: "10"}, Edit{Path: "b", Text: "20"}, Edit{Path: "c",
		Text: "30"})
	if want := "{a: 10,b: 20, c: 30}\n"; err != nil || string(b) != want {
		t.Errorf("%q %v", b, err)
	}
}

// TestAt: a path leads to a value by keys and indices; past the end, to a key that is not there and into a value it leads nowhere.
func TestAt(t *testing.T) {
	doc := rewritten(t, []byte("a: [1, {b: 2}, [3, 4]]\nc: {d: 5}\n"))
	for path, want := range map[string]string{"a[0]": "1", "a[1].b": "2", "a[2][1]": "4", "c.d": "5", "a[3]": "", "a[-1]": "",
		"a.b": "", "c[0]": "", "c.d.e": "", "x": "", "x.y[0]": ""} {
		n := doc.At(path)
		if (n == nil) != (want == "") || n != nil && n.Value != want {
			t.Errorf("%s leads to %+v, want %q", path, n, want)
		}
	}
	for _, c := range [][3]string{{"a.b[0]", "a.b", "[0]"}, {"a.b", "a", "b"}, {"a", "", "a"}, {"a[0].b", "a[0]", "b"}} {
		if parent, key := cutPath(c[0]); parent != c[1] || key != c[2] {
			t.Errorf("%s is cut into %q and %q", c[0], parent, key)
		}
	}
}
