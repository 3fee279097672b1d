package main

import (
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// TestNewProfile: a profile is added in three places, its type, its curves and its row in the table, and is then read, measured,
// drawn, digested and turned over. The places are laid over the tree for a test run of their own.
func TestNewProfile(t *testing.T) {
	if testing.Short() {
		t.Skip("it compiles the program anew")
	}
	read := func(name string) string {
		b, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		return string(b)
	}
	added := func(name string) string { return read("testdata/newprofile/" + name + ".txt") }
	table := read("../../parts/form/profiles.go")
	const end = "\t}\n})\n"
	if strings.Count(table, end) != 1 {
		t.Fatalf("the table of profiles ends %d times", strings.Count(table, end))
	}
	dir := t.TempDir()
	over := map[string]string{}
	for place, text := range map[string]string{
		"../../parts/cross.go":         added("type"),
		"../../parts/plane/cross.go":   added("curves"),
		"../../parts/form/profiles.go": strings.Replace(table, end, added("row")+end, 1) + added("keys"),
		"cross_test.go":                added("test"),
	} {
		at, err := filepath.Abs(place)
		if err != nil {
			t.Fatal(err)
		}
		over[at] = filepath.Join(dir, strings.ReplaceAll(strings.TrimPrefix(place, "../../"), "/", "-"))
		if err := os.WriteFile(over[at], []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	b, err := json.Marshal(map[string]any{"Replace": over})
	if err != nil {
		t.Fatal(err)
	}
	overlay := filepath.Join(dir, "overlay.json")
	if err := os.WriteFile(overlay, b, 0o644); err != nil {
		t.Fatal(err)
	}
	out, err := exec.Command("go", "test", "-overlay", overlay, "-count=1", "-run", "^TestCross$", "-v", ".").CombinedOutput()
	if err != nil || !strings.Contains(string(out), "--- PASS: TestCross") {
		t.Errorf("%v\n%s", err, out)
	}
}
