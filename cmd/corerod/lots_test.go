package main

import (
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"
)

// TestLots: the joined lots are the single review, byte for byte and in status, for 1 to 7 lots given in any order.
func TestLots(t *testing.T) {
	t.Chdir(t.TempDir())
	for i := range 11 {
		wall := 2.0
		if i%4 == 1 {
			wall = 0.9
		}
		if err := os.WriteFile(fmt.Sprintf("p%02d.yaml", i), []byte(plate(fmt.Sprintf("plate-%d", i), wall)), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	for _, bad := range []bool{false, true} {
		if bad {
			if err := os.WriteFile("p05b.yaml", []byte("part: X\nunits: cm\nbodies: 3\n"), 0o644); err != nil {
				t.Fatal(err)
			}
		}
		one, _, status := run([]string{"review", ".", "--to", "json=-", "--changes", "1"}, "")
		for lots := 1; lots <= 7; lots++ {
			var names []string
			for lot := 1; lot <= lots; lot++ {
				name := fmt.Sprintf("lot-%d-of-%d.json", lot, lots)
				run([]string{"review", ".", "--changes", "1", "--lot", fmt.Sprint(lot), "--lots", fmt.Sprint(lots), "--to", "json=" + name}, "")
				names = append(names, name)
			}
			slices.Reverse(names)
			joined, errs, joinedStatus := run(append([]string{"join"}, names...), "")
			if joined != one || joinedStatus != status {
				t.Errorf("%d lots: status %s, want %s; %s", lots, joinedStatus, status, errs)
			}
			if lots > 1 {
				if _, errs, s := run(append([]string{"join"}, names[1:]...), ""); s != "2" || !strings.Contains(errs, "files are given") {
					t.Errorf("a lot is missing: status %s, %s", s, errs)
				}
				if _, errs, s := run(append([]string{"join", names[0]}, names[:lots-1]...), ""); s != "2" || !strings.Contains(errs, "given twice") {
					t.Errorf("a lot twice: status %s, %s", s, errs)
				}
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
		"empty": "", "no JSON": "plate", "a list": "[]", "cut": good[:len(good)/2], "two": good + good, "another format": strings.Replace(good, `"format": 1`, `"format": 2`, 1),
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
