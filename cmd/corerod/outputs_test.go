package main

import (
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// TestJSONEscapes: the JSON of every command escapes what a folder's name could do to a terminal or to a reader's eye.
func TestJSONEscapes(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "a\u202eb\u2066c\u00a0\x1bd")
	if err := os.Mkdir(dir, 0o755); err != nil {
		t.Skip(err)
	}
	top := t.TempDir()
	t.Chdir(top)
	writeTree(t, map[string]string{"old.yaml": plate("plate", 2)})
	in := func(name string) string { return filepath.Join(dir, name) }
	for name, text := range map[string]string{"corerod.yaml": "packs: [press-and-sinter]\nconcessions: c.yaml\n",
		"plate.yaml": plate("plate", 0.7), "new.YAML": plate("x", 1)} {
		if err := os.WriteFile(in(name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	for _, args := range [][]string{
		{"measure", in("plate.yaml")}, {"tooling", in("plate.yaml")}, {"compare", "old.yaml", in("plate.yaml")}, {"review", dir}, {"review", in("plate.yaml"), "--earlier", dir},
		{"review", dir, "--to", "sarif=-"}, {"review", dir, "--to", "markdown=-"}, {"pack", "show"},
	} {
		if args[len(args)-2] != "--to" {
			args = append(args, "--to", "json=-")
		}
		out, errs, status := run(args, "")
		if status > "1" {
			t.Fatalf("%v: status %s %s", args, status, errs)
		}
		for _, c := range "\u202e\u2066\u00a0\x1b" {
			if strings.ContainsRune(out, c) {
				t.Errorf("%v: %q is written as it is", args, c)
			}
		}
	}
}

// TestOutputIsInput: no report takes the place of what is read, under whatever name, nor of another report.
func TestOutputIsInput(t *testing.T) {
	t.Chdir(t.TempDir())
	writeTree(t, map[string]string{
		"real/plate.yaml": plate("plate", 2), "real/corerod.yaml": "packs: [own]\nconcessions: agreed.yaml\n", "real/agreed.yaml": "concessions: []\n",
		"real/own/pack.yaml": "pack: own\nversion: 1.0.0\ntitle: Own\nbuilds_on: [press-and-sinter]\n", "base/real/plate.yaml": plate("plate", 2), "out/keep.txt": "", "stray.yaml": plate("stray", 2),
		"base/real/corerod.yaml": "packs: [own]\n", "base/real/own/pack.yaml": "pack: own\nversion: 1.0.0\ntitle: Own\nbuilds_on: [press-and-sinter]\n",
	})
	out, _, _ := run([]string{"review", "real", "--to", "json=-"}, "")
	writeTree(t, map[string]string{"earlier.json": out})
	for name, to := range map[string]string{"linked": "real", "other": "out"} {
		if err := os.Symlink(to, name); err != nil {
			t.Skip(err)
		}
	}
	for name, to := range map[string]string{"hard.yaml": "real/plate.yaml", "hard.json": "earlier.json",
		"hard-pack.yaml": "base/real/own/pack.yaml"} {
		if err := os.Link(to, name); err != nil {
			t.Skip(err)
		}
	}
	before := plainFiles(t)
	since := []string{"--earlier", "earlier.json"}
	from := []string{"--earlier", "base", "--rules-from", "base"}
	for _, c := range []struct {
		to   []string
		more []string
		says string
	}{
		{[]string{"json=real/plate.yaml"}, nil, "which is read"}, {[]string{"json=linked/plate.yaml"}, nil, "which is read"}, {[]string{"json=hard.yaml"}, nil, "which is read"},
		{[]string{"json=linked/corerod.yaml"}, nil, "which is read"}, {[]string{"json=linked/own/pack.yaml"}, nil, "which is read"}, {[]string{"json=linked/agreed.yaml"}, nil, "which is read"},
		{[]string{"json=earlier.json"}, since, "which is read"}, {[]string{"json=hard.json"}, since, "which is read"},
		{[]string{"json=real/corerod.yaml"}, from, "which is read"}, {[]string{"json=stray.yaml"}, nil, "which is a part file"},
		{[]string{"json=hard-pack.yaml"}, from, "which is read"}, {[]string{"json=base/real/plate.yaml"}, from, "which is read"},
		{[]string{"json=out/a", "sarif=other/a"}, nil, "each needs a file of its own"}, {[]string{"json=out/a", "sarif=out/A"}, nil, "each needs a file of its own"},
		{[]string{"json=out/../hard.json", "sarif=earlier.json"}, nil, ""},
	} {
		args := append([]string{"review", "real"}, c.more...)
		for _, to := range c.to {
			args = append(args, "--to", to)
		}
		_, errs, status := run(args, "")
		if c.says == "" {
			if status != "0" { // two names of one file that is not read: each gets its own
				t.Errorf("%v: status %s, %s", c.to, status, errs)
			}
			continue
		}
		if status != "2" || !strings.Contains(errs, c.says) {
			t.Errorf("%v: status %s, %s", c.to, status, errs)
		}
		if after := plainFiles(t); !maps.Equal(before, after) {
			t.Errorf("%v: files are changed", c.to)
		}
	}
}

// TestJoinKeepsLots: joining does not take the place of a lot, and a part on standard input stays.
func TestJoinKeepsLots(t *testing.T) {
	t.Chdir(t.TempDir())
	writeTree(t, map[string]string{"plate.yaml": plate("plate", 2), "other.yaml": plate("other", 2)})
	for _, lot := range []string{"1", "2"} {
		if _, errs, status := run([]string{"review", ".", "--lot", lot, "--lots", "2", "--to", "json=l" + lot + ".json"},
			""); status != "0" {
			t.Fatal(errs)
		}
	}
	if err := os.Link("l2.json", "hard.json"); err != nil {
		t.Skip(err)
	}
	before := plainFiles(t)
	for _, args := range [][]string{
		{"join", "l1.json", "l2.json", "--to", "l1.json"}, {"join", "l1.json", "l2.json", "--to", "hard.json"}, {"review", "-", "--name", "plate.yaml", "--to", "json=plate.yaml"},
	} {
		if _, errs, status := run(args, plate("plate", 2)); status != "2" || !strings.Contains(errs, "which is read") {
			t.Errorf("%v: status %s, %s", args, status, errs)
		}
	}
	if !maps.Equal(before, plainFiles(t)) {
		t.Error("a lot or a part is changed")
	}
}

// plainFiles are the plain files below the working folder with their text.
func plainFiles(t *testing.T) map[string]string {
	t.Helper()
	all := map[string]string{}
	err := filepath.WalkDir(".", func(p string, d fs.DirEntry, err error) error {
		if err != nil || !d.Type().IsRegular() {
			return err
		}
		b, err := os.ReadFile(p)
		all[p] = string(b)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return all
}
