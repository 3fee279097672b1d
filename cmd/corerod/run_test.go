package main

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"golang.org/x/tools/txtar"
)

// TestCommands runs the scripts in testdata/commands. Each is a txtar archive: its comment says what it shows, then
// gives one command line after "$ " and "status N"; its files are laid out in an empty folder, but for stdin, stdout and
// stderr, which are what goes in and what comes out. COREROD_UPDATE=1 writes what came out into the scripts.
func TestCommands(t *testing.T) {
	scripts, err := filepath.Glob("../../testdata/commands/*.txtar")
	if err != nil || len(scripts) == 0 {
		t.Fatal("no scripts", err)
	}
	root, err := filepath.Abs("../..")
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range scripts {
		path, err := filepath.Abs(name)
		if err != nil {
			t.Fatal(err)
		}
		t.Run(strings.TrimSuffix(filepath.Base(name), ".txtar"), func(t *testing.T) { runScript(t, root, path) })
	}
}

func runScript(t *testing.T, root, path string) {
	a, err := txtar.ParseFile(path)
	if err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	want := map[string]string{}
	for _, f := range a.Files {
		switch f.Name {
		case "stdin", "stdout", "stderr":
			want[f.Name] = string(f.Data)
			continue
		}
		to := filepath.Join(dir, filepath.FromSlash(f.Name))
		if err := os.MkdirAll(filepath.Dir(to), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(to, f.Data, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	var line, status string
	for l := range strings.Lines(string(a.Comment)) {
		l = strings.TrimSpace(l)
		if c, ok := strings.CutPrefix(l, "$ corerod"); ok {
			line = c
		} else if s, ok := strings.CutPrefix(l, "status "); ok {
			status = s
		}
	}
	t.Chdir(dir)
	args := strings.Fields(strings.ReplaceAll(line, "$ROOT", root))
	got := map[string]string{}
	got["stdout"], got["stderr"], got["status"] = run(args, want["stdin"])
	for k, v := range got {
		got[k] = strings.ReplaceAll(v, root, "$ROOT")
	}
	if os.Getenv("COREROD_UPDATE") != "" {
		rewrite(t, path, a, got)
		return
	}
	if got["status"] != status {
		t.Errorf("status %s, want %s", got["status"], status)
	}
	for _, stream := range []string{"stdout", "stderr"} {
		if got[stream] != want[stream] {
			t.Errorf("%s is\n%s\nwant\n%s", stream, got[stream], want[stream])
		}
	}
}

// run runs a command in this process.
func run(args []string, stdin string) (stdout, stderr, status string) {
	var out, errs bytes.Buffer
	s := Run(context.Background(), args, Streams{In: strings.NewReader(stdin), Out: &out, Err: &errs}, func(string) string { return "" }, System{}, time.Date(2026, 11, 25, 12, 0, 0, 0, time.UTC))
	return out.String(), errs.String(), fmt.Sprint(s)
}

// rewrite puts what came out into a script.
func rewrite(t *testing.T, path string, a *txtar.Archive, got map[string]string) {
	t.Helper()
	comment := string(a.Comment)
	if i := strings.Index(comment, "\nstatus "); i >= 0 {
		comment = comment[:i+1]
	}
	a.Comment = []byte(comment + "status " + got["status"] + "\n\n")
	var kept []txtar.File
	for _, f := range a.Files {
		if f.Name != "stdout" && f.Name != "stderr" {
			kept = append(kept, f)
		}
	}
	for _, stream := range []string{"stdout", "stderr"} {
		if got[stream] != "" {
			kept = append(kept, txtar.File{Name: stream, Data: []byte(got[stream])})
		}
	}
	a.Files = kept
	if err := os.WriteFile(path, txtar.Format(a), 0o644); err != nil {
		t.Fatal(err)
	}
}

// TestFolders: links out of a folder, other styles of YAML, a file named twice, files that are none.
func TestFolders(t *testing.T) {
	t.Chdir(t.TempDir())
	const part = "{part: a, units: mm, bodies: {a: {circle: {diameter: 20}, from: 0, to: 6}}}"
	for name, text := range map[string]string{"in/flow.yaml": part, "in/sub/other.yml": strings.Replace(part, "part: a", "part: b", 1), "in/note.txt": part,
		"in/list.yaml": "- part\n", "out.yaml": part} {
		if err := os.MkdirAll(filepath.Dir(name), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(name, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	if err := os.Symlink("../out.yaml", "in/link.yaml"); err != nil {
		t.Skip("no links here:", err)
	}
	if err := os.Symlink("../../out.yaml", "in/sub/link.yaml"); err != nil {
		t.Fatal(err)
	}
	out, _, status := run([]string{"review", "in", "in/flow.yaml", "in"}, "")
	if status != "0" || strings.Count(out, "across") != 2 || !strings.Contains(out, "in/sub/other.yml") {
		t.Errorf("status %s:\n%s", status, out)
	}
	if out, errs, status := run([]string{"review", "in/link.yaml"}, ""); status != "0" {
		t.Errorf("a link that was asked for by name: %s %s %s", status, out, errs)
	}
	here, err := os.Getwd()
	if err != nil {
		t.Fatal(err)
	}
	if out, _, _ := run([]string{"review", "out.yaml", filepath.Join(here, "out.yaml"), "-", "-"}, part); strings.Count(out, "across") != 2 {
		t.Errorf("a file named in two ways, and standard input twice:\n%s", out)
	}
	for _, args := range [][]string{{"help", "nope"}, {"review", "in", "--trace=maybe"}, {"__complete", "review"}, {"review", "in", "--to", "json=a", "--to", "text=./a"},
		{"review", "--pack", "press-and-sinter", "--pack", "press-and-sinter", "in"}} {
		if out, errs, status := run(args, ""); status != "2" || !strings.HasPrefix(errs, "corerod: ") || strings.Contains(errs, "strconv") {
			t.Errorf("%q: status %s, %s%s", args, status, out, errs)
		}
	}
	if out, _, status := run([]string{"help", "review"}, ""); status != "0" || !strings.Contains(out, "--status-at") {
		t.Errorf("help review: %s %s", status, out)
	}
	if _, errs, status := run([]string{"review", "in", "--to", "json=in/link.yaml"}, ""); status != "2" || !strings.Contains(errs, "link") {
		t.Errorf("a link was written through: %s %s", status, errs)
	}
	if out, errs, status := run([]string{"review", "in", "--to", "json=result.json"}, ""); status != "0" || !strings.Contains(out, "clear") {
		t.Errorf("status %s\n%s%s", status, out, errs)
	}
	if b, err := os.ReadFile("result.json"); err != nil || !bytes.Contains(b, []byte(`"status": 0`)) {
		t.Errorf("%v %s", err, b)
	}
	if _, errs, status := run([]string{"review", "in", "--to", "json=absent/result.json"}, ""); status != "2" || !strings.Contains(errs, "absent") {
		t.Errorf("status %s, %s", status, errs)
	}
}
