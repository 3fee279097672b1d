package rules

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"testing"

	"corerod/parts/source"
)

// checkProblems fails where a problem has no plain message or stands outside its file.
func checkProblems(t *testing.T, file string, text []byte, ps source.Problems) {
	t.Helper()
	lines := bytes.Count(text, []byte("\n")) + bytes.Count(text, []byte("\r")) + 1
	for _, p := range ps {
		if p.File != file || p.Message == "" || p.Line < 0 || p.Line > lines || p.Line > 0 && (p.Column < 1 || p.Column > len(text)+1) {
			t.Fatalf("%+v in a file of %d lines", p, lines)
		}
		if p.Message != source.Plain(p.Message) {
			t.Fatalf("a message that a terminal would act on: %q", p.Message)
		}
	}
}

// FuzzShop: a shop file is read or has problems inside it, the same each time; one that is read says what stands there, and a
// file written anew from what was read says the same.
func FuzzShop(f *testing.F) {
	for _, text := range []string{"", "{}", "packs: [press-and-sinter]\n", "packs: []\n", "packs: x\n",
		"packs: [a, {pack: b, sha256: \"00\"}, a]\n", "status_at: ask\n", "status_at: never\n", "status_at: Stop\n", "concessions: c.yaml\n",
		"concessions: ../c.yaml\n", "concessions: a/../c.yaml\n", "concessions: \"a\\\\b\"\n", "concessions: ~\n", "pack: x\n", "{packs: [{pack: \"\\e[31m\"}], status_at: stop, concessions: \"c\\n.yaml\"}\n", "packs: [{sha256: x}, [], ~, \"\"]\r\nstatus_at: change\r\n", "\ufeff# x\nstatus_at: stop\n"} {
		f.Add([]byte(text))
	}
	f.Fuzz(func(t *testing.T, text []byte) {
		s, ps := ReadShop("corerod.yaml", text)
		if (s == nil) == (len(ps) == 0) {
			t.Fatalf("a shop file: %v, problems: %v", s != nil, ps)
		}
		if again, problems := ReadShop("corerod.yaml", text); !reflect.DeepEqual(s, again) || !reflect.DeepEqual(ps, problems) {
			t.Fatalf("read twice: %+v %v, then %+v %v", s, ps, again, problems)
		}
		checkProblems(t, "corerod.yaml", text, ps)
		if s == nil {
			return
		}
		if d := sha256.Sum256(text); s.SHA256 != hex.EncodeToString(d[:]) {
			t.Fatal(s.SHA256)
		}
		if s.StatusAt != "" && !slices.Contains([]Grade{Stop, Change, Ask}, s.StatusAt) ||
			s.Concessions != "" && (strings.HasPrefix(s.Concessions, "/") || slices.Contains(strings.Split(s.Concessions, "/"), "..")) {
			t.Fatalf("%+v", s)
		}
		written := "# written anew\n"
		for i, b := range s.Packs {
			if b.Name == "" || slices.ContainsFunc(s.Packs[:i], func(o Base) bool { return o.Name == b.Name }) {
				t.Fatalf("%+v", s.Packs)
			}
			if i == 0 {
				written += "packs:\n"
			}
			written += fmt.Sprintf("- {pack: %s, sha256: %s}\n", strconv.QuoteToASCII(b.Name), strconv.QuoteToASCII(b.SHA256))
		}
		if s.StatusAt != "" {
			written += "status_at: " + string(s.StatusAt) + "\n"
		}
		if s.Concessions != "" {
			written += "concessions: " + strconv.QuoteToASCII(s.Concessions) + "\n"
		}
		if strings.Count(written, "\n") == 1 {
			return // it says nothing
		}
		again, ps := ReadShop("corerod.yaml", []byte(written))
		if len(ps) > 0 || again.StatusAt != s.StatusAt || again.Concessions != s.Concessions || len(again.Packs) != len(s.Packs) {
			t.Fatalf("%q is written anew as %q: %v", text, written, ps)
		}
		for i, b := range again.Packs {
			if b.Name != s.Packs[i].Name || b.SHA256 != s.Packs[i].SHA256 {
				t.Fatalf("%+v, written anew %+v", s.Packs[i], b)
			}
		}
	})
}
