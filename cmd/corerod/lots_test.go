package main

import (
	"bytes"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// panicking is a file system with a file at which corerod is at fault.
type panicking struct {
	System
	at string
}

func (p panicking) Open(name string) (io.ReadCloser, error) {
	if name == p.at {
		panic("a fault")
	}
	return p.System.Open(name)
}

// TestLots: the joined lots are the single review, byte for byte and in status, for 1 to 7 lots given in any order: of sound
// parts and others, with one that cannot be read, and with one at which corerod is at fault.
func TestLots(t *testing.T) {
	t.Chdir(t.TempDir())
	names := []string{"review", "--changes", "1"}
	for i := range 11 {
		wall := 2.0
		if i%4 == 1 {
			wall = 0.7
		}
		names = append(names, fmt.Sprintf("p%02d.yaml", i))
		writeTree(t, map[string]string{names[i+3]: plate(fmt.Sprintf("plate-%d", i), wall)})
	}
	var files Files = System{}
	run := func(args []string) (string, string, int) {
		var out, errs bytes.Buffer
		status := runOn(args, strings.NewReader(""), &out, &errs, files)
		return out.String(), errs.String(), status
	}
	for round, want := range []int{1, 2, 4} {
		switch round {
		case 1:
			writeTree(t, map[string]string{"p03.yaml": "part: X\nunits: cm\nbodies: 3\n"})
		case 2:
			files = panicking{at: "p07.yaml"}
		}
		one, _, status := run(slices.Concat(names, []string{"--to", "json=-"}))
		if status != want || (round == 2) != strings.Contains(one, `"p07.yaml: a fault"`) {
			t.Errorf("status %d, want %d", status, want)
		}
		for lots := 1; lots <= 7; lots++ {
			var files []string
			for lot := 1; lot <= lots; lot++ {
				file := fmt.Sprintf("lot-%d-of-%d.json", lot, lots)
				run(slices.Concat(names, []string{"--lot", fmt.Sprint(lot), "--lots", fmt.Sprint(lots), "--to", "json=" + file}))
				files = append(files, file)
			}
			slices.Reverse(files)
			joined, errs, joinedStatus := run(append([]string{"join"}, files...))
			if joined != one || joinedStatus != status {
				t.Errorf("%d lots: status %d, want %d; %s", lots, joinedStatus, status, errs)
			}
			if lots > 1 {
				if _, errs, s := run(append([]string{"join"}, files[1:]...)); s != 2 || !strings.Contains(errs, "files are given") {
					t.Errorf("a lot is missing: status %d, %s", s, errs)
				}
				if _, errs, s := run(append([]string{"join", files[0]}, files[:lots-1]...)); s != 2 ||
					!strings.Contains(errs, "given twice") {
					t.Errorf("a lot twice: status %d, %s", s, errs)
				}
			}
		}
	}
}

// TestLotsOfSheets: lots write their sheets into one folder beside each other, each with a front page of its own that leads to
// them.
func TestLotsOfSheets(t *testing.T) {
	t.Chdir(t.TempDir())
	writeTree(t, map[string]string{"parts/a/eye.yaml": plate("one", 2), "parts/b/eye.yaml": plate("two", 2),
		"parts/c/eye.yaml": plate("three", 2), "parts/d/index-2.yaml": plate("four", 2)})
	for _, lot := range []string{"1", "2"} {
		if _, errs, status := run([]string{"review", "parts", "--lot", lot, "--lots", "2", "--to", "html=out"}, ""); status != "0" {
			t.Fatal(status, errs)
		}
	}
	all := tree(t)
	for name, part := range map[string]string{"eye": "one", "eye-2": "two", "eye-3": "three", "part-index-2": "four"} {
		if !strings.Contains(all[filepath.Join("out", name+".html")], "<h1>"+part+"</h1>") {
			t.Errorf("%s.html is not of the part %s", name, part)
		}
	}
	for page, names := range map[string][]string{"index-1": {"eye", "eye-2"}, "index-2": {"eye-3", "part-index-2"}} {
		for _, name := range names {
			if !strings.Contains(all[filepath.Join("out", page+".html")], `href="`+name+`.html"`) {
				t.Errorf("%s.html does not lead to %s", page, name)
			}
		}
	}
}

// TestEarlierRefused: an earlier review that is none is refused in words, whatever it is.
func TestEarlierRefused(t *testing.T) {
	t.Chdir(t.TempDir())
	if err := os.WriteFile("plate.yaml", []byte(plate("plate", 2)), 0o644); err != nil {
		t.Fatal(err)
	}
	good, _, _ := run([]string{"review", "plate.yaml", "--to", "json=-"}, "")
	for name, text := range map[string]string{
		"empty": "", "no JSON": "plate", "a list": "[]", "cut": good[:len(good)/2], "two": good + good, "another format": strings.Replace(good, `"format": 2`, `"format": 1`, 1),
		"unknown key": strings.Replace(good, `"parts"`, `"colour": 1, "parts"`, 1), "deep": strings.Repeat("[", 20000), "a number": "1e999",
	} {
		if err := os.WriteFile("earlier.json", []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
		out, errs, status := run([]string{"review", "plate.yaml", "--earlier", "earlier.json"}, "")
		if status != "2" || out != "" || !strings.Contains(errs, "the earlier review earlier.json cannot be used") {
			t.Errorf("%s: status %s, %s%s", name, status, out, errs)
		}
	}
	if err := os.WriteFile("earlier.json", []byte(good), 0o644); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile("plate.yaml", []byte(plate("plate", 0.7)), 0o644); err != nil {
		t.Fatal(err)
	}
	out, errs, status := run([]string{"review", ".", "--earlier", "earlier.json"}, "")
	if status != "1" || !strings.Contains(out, "Since earlier.json: 1 new") {
		t.Errorf("status %s, %s%s", status, out, errs)
	}
}

// TestEarlierRule: a review by one rule says nothing of the findings of others that an earlier JSON has.
func TestEarlierRule(t *testing.T) {
	t.Chdir(t.TempDir())
	writeTree(t, map[string]string{"plate.yaml": plate("plate", 0.5)})
	run([]string{"review", "plate.yaml", "--changes", "0", "--to", "json=old.json"}, "")
	for rule, want := range map[string]string{
		"wall-thickness":   "Since old.json: 0 new, 0 worsened, 1 unchanged, 0 cleared;",
		"bore-slenderness": "Since old.json: 0 new, 0 worsened, 0 unchanged, 0 cleared;",
	} {
		if out, errs, status := run([]string{"review", "plate.yaml", "--rule", rule, "--earlier", "old.json"}, ""); status != "0" ||
			!strings.Contains(out, want) {
			t.Errorf("%s: status %s\n%s%s", rule, status, out, errs)
		}
	}
}
