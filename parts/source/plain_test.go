package source

import (
	"strings"
	"testing"
)

// TestMessagesArePlain gives files whose text would act on a terminal if a message printed it as it stands.
func TestMessagesArePlain(t *testing.T) {
	for _, text := range []string{
		"\"a\\e[31m\": 1\n", "\"nam\\e\": 1\n", "\"a\\e\": 1\n\"a\\e\": 2\n", "a: &x\u00ad 1\n", "a: *x\u00ad\n", "a: !x\u00ad 1\n", "name: \"on\\e\"\nn: 0x\u00ad1\n",
	} {
		root, ps := Parse("f.yaml", []byte(text))
		r := Reader{File: "f.yaml", Problems: ps}
		if root != nil && r.Map(root, "a thing", "name", "n") {
			if n := root.At("name"); n != nil {
				r.Word(n, "`name`", "one")
			}
			if n := root.At("n"); n != nil {
				r.Number(n, "`n`")
			}
		}
		if len(r.Problems) == 0 {
			t.Errorf("%q: nothing reported", text)
		}
		for _, p := range r.Problems {
			if p.Message != Plain(p.Message) || strings.Contains(p.Message, "\x1b") {
				t.Errorf("%q: %q", text, p.Message)
			}
		}
	}
}

// TestLinesExist places what is left empty at the end of a file inside the file.
func TestLinesExist(t *testing.T) {
	for _, text := range []string{"---", "a: 1\n---", "? a\n---"} {
		root, ps := Parse("f.yaml", []byte(text))
		r := Reader{File: "f.yaml", Problems: ps}
		if root != nil {
			r.Map(root, "a thing", "b")
		}
		if len(r.Problems) == 0 {
			t.Errorf("%q: nothing reported", text)
		}
		for _, p := range r.Problems {
			if p.Line > strings.Count(text, "\n")+1 {
				t.Errorf("%q: line %d: %s", text, p.Line, p.Message)
			}
		}
	}
}
