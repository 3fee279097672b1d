package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"maps"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"golang.org/x/tools/txtar"
)

// TestCommands runs the scripts in testdata/commands. Each is a txtar archive: its comment says what it shows, then
// gives one command line after "$ " and "status N"; its files are laid out in an empty folder, but for stdin, stdout and
// stderr, which are what goes in and what comes out, and those under written/, which are all that the command writes. Before
// the status "fault at NAME" makes reading or writing stdin, stdout or a file a fault of corerod, and "no room on NAME" keeps
// it from being written. COREROD_UPDATE=1 writes what came out into the scripts.
func TestCommands(t *testing.T) {
	root, err := filepath.Abs("../..")
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range commandScripts(t) {
		t.Run(strings.TrimSuffix(filepath.Base(s.path), ".txtar"), func(t *testing.T) { s.run(t, root) })
	}
}

// script is one of testdata/commands.
type script struct {
	path   string
	a      *txtar.Archive
	args   []string // as written, with $ROOT
	status string
	broken broken
}

// commandScripts reads all of them.
func commandScripts(t *testing.T) (all []script) {
	t.Helper()
	names, err := filepath.Glob("../../testdata/commands/*.txtar")
	if err != nil || len(names) == 0 {
		t.Fatal("no scripts", err)
	}
	for _, name := range names {
		path, err := filepath.Abs(name)
		if err != nil {
			t.Fatal(err)
		}
		a, err := txtar.ParseFile(path)
		if err != nil {
			t.Fatal(err)
		}
		s := script{path: path, a: a}
		for l := range strings.Lines(string(a.Comment)) {
			l = strings.TrimSpace(l)
			if c, ok := strings.CutPrefix(l, "$ corerod"); ok {
				s.args = strings.Fields(c)
			} else if c, ok := strings.CutPrefix(l, "fault at "); ok {
				s.broken = broken{at: c, fault: true}
			} else if c, ok := strings.CutPrefix(l, "no room on "); ok {
				s.broken = broken{at: c}
			} else if c, ok := strings.CutPrefix(l, "status "); ok {
				s.status = c
			}
		}
		all = append(all, s)
	}
	return all
}

func (s *script) run(t *testing.T, root string) {
	t.Chdir(t.TempDir())
	laid, want := map[string]string{}, map[string]string{}
	for _, f := range s.a.Files {
		if f.Name == "stdin" || comesOut(f.Name) {
			want[f.Name] = string(f.Data)
			continue
		}
		if err := os.MkdirAll(filepath.Dir(f.Name), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(f.Name, f.Data, 0o644); err != nil {
			t.Fatal(err)
		}
		laid[f.Name] = string(f.Data)
	}
	var args []string
	for _, a := range s.args {
		args = append(args, strings.ReplaceAll(a, "$ROOT", root))
	}
	var out, errs bytes.Buffer
	streams := Streams{In: brokenStream{s.broken, strings.NewReader(want["stdin"]), nil},
		Out: brokenStream{s.broken, nil, &out}, Err: &errs}
	status := fmt.Sprint(runIn(args, streams, s.broken))
	got := written(t, laid)
	got["stdout"], got["stderr"] = out.String(), errs.String()
	for name, text := range got {
		if text = strings.ReplaceAll(text, root, "$ROOT"); text != "" && !strings.HasSuffix(text, "\n") {
			t.Errorf("%s does not end with a line: %q", name, text)
		}
		got[name] = text
	}
	if os.Getenv("COREROD_UPDATE") != "" {
		s.rewrite(t, status, got)
		return
	}
	if status != s.status {
		t.Errorf("status %s, want %s", status, s.status)
	}
	for name := range want {
		if _, ok := got[name]; !ok && name != "stdin" {
			t.Errorf("%s is not there", name)
		}
	}
	for name, text := range got {
		if text != want[name] {
			t.Errorf("%s is\n%s\nwant\n%s", name, text, want[name])
		}
	}
}

// comesOut tells the files of a script that say what comes out.
func comesOut(name string) bool {
	return name == "stdout" || name == "stderr" || strings.HasPrefix(name, "written/")
}

// written are the files here that are not as they were laid out, under written/.
func written(t *testing.T, laid map[string]string) map[string]string {
	t.Helper()
	got, seen := map[string]string{}, 0
	err := fs.WalkDir(os.DirFS("."), ".", func(p string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		b, err := os.ReadFile(p)
		was, ok := laid[p]
		if ok {
			seen++
		}
		if !ok || was != string(b) {
			got["written/"+p] = string(b)
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	if seen != len(laid) {
		t.Errorf("%d of %d files are gone", len(laid)-seen, len(laid))
	}
	return got
}

// broken is what goes wrong in a script: using a stream or a file is a fault of corerod, or there is no room to write it.
type broken struct {
	System
	at    string
	fault bool
}

func (b broken) read(name string) {
	if b.fault && filepath.ToSlash(name) == b.at {
		panic("it was put in by a test")
	}
}

func (b broken) write(name string) error {
	b.read(name)
	if filepath.ToSlash(name) == b.at {
		return errors.New("no space left on device")
	}
	return nil
}

// Open implements Files.
func (b broken) Open(name string) (io.ReadCloser, error) {
	b.read(name)
	return b.System.Open(name)
}

// MakeFolder implements Files.
func (b broken) MakeFolder(name string) error {
	if err := b.write(name); err != nil {
		return err
	}
	return b.System.MakeFolder(name)
}

// Write implements Files.
func (b broken) Write(name string, content io.Reader) error {
	if err := b.write(name); err != nil {
		return err
	}
	return b.System.Write(name, content)
}

// brokenStream is standard input or output in a script.
type brokenStream struct {
	b broken
	io.Reader
	io.Writer
}

func (s brokenStream) Read(p []byte) (int, error) {
	s.b.read("stdin")
	return s.Reader.Read(p)
}

func (s brokenStream) Write(p []byte) (int, error) {
	if err := s.b.write("stdout"); err != nil {
		return 0, err
	}
	return s.Writer.Write(p)
}

// run runs a command in this process.
func run(args []string, stdin string) (stdout, stderr, status string) {
	var out, errs bytes.Buffer
	s := runIn(args, Streams{In: strings.NewReader(stdin), Out: &out, Err: &errs}, System{})
	return out.String(), errs.String(), fmt.Sprint(s)
}

func runIn(args []string, streams Streams, files Files) int {
	return Run(context.Background(), args, streams, func(string) string { return "" }, files,
		time.Date(2026, 11, 25, 12, 0, 0, 0, time.UTC))
}

// rewrite puts what came out into a script.
func (s *script) rewrite(t *testing.T, status string, got map[string]string) {
	t.Helper()
	comment := string(s.a.Comment)
	if i := strings.Index(comment, "\nstatus "); i >= 0 {
		comment = comment[:i+1]
	}
	s.a.Comment = []byte(comment + "status " + status + "\n\n")
	kept := slices.DeleteFunc(s.a.Files, func(f txtar.File) bool { return comesOut(f.Name) })
	names := slices.DeleteFunc(slices.Sorted(maps.Keys(got)), func(n string) bool { return n == "stdout" })
	for _, name := range append([]string{"stdout"}, names...) {
		if got[name] != "" || strings.HasPrefix(name, "written/") {
			kept = append(kept, txtar.File{Name: name, Data: []byte(got[name])})
		}
	}
	s.a.Files = kept
	if err := os.WriteFile(s.path, txtar.Format(s.a), 0o644); err != nil {
		t.Fatal(err)
	}
}

// TestFolders: links out of a folder, other styles of YAML, a file named twice, files that are none.
func TestFolders(t *testing.T) {
	t.Chdir(t.TempDir())
	const part = "{part: a, units: mm, bodies: {a: {circle: {diameter: 20}, from: 0, to: 6}}}"
	for name, text := range map[string]string{"in/flow.yaml": part, "in/sub/other.yml": strings.Replace(part, "part: a", "part: b", 1),
		"in/note.txt":  part,
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
	if out, _, _ := run([]string{"review", "out.yaml", filepath.Join(here, "out.yaml"), "-", "-"},
		part); strings.Count(out, "across") != 2 {
		t.Errorf("a file named in two ways, and standard input twice:\n%s", out)
	}
	for _, args := range [][]string{{"help", "nope"}, {"review", "in", "--trace=maybe"}, {"__complete", "review"},
		{"review", "in", "--to", "json=a", "--to", "text=./a"},
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
	if out, errs, status := run([]string{"review", "in", "--to", "json=result.json"}, ""); status != "0" ||
		!strings.Contains(out, "clear") {
		t.Errorf("status %s\n%s%s", status, out, errs)
	}
	if b, err := os.ReadFile("result.json"); err != nil || !bytes.Contains(b, []byte(`"status": 0`)) {
		t.Errorf("%v %s", err, b)
	}
	if _, errs, status := run([]string{"review", "in", "--to", "json=absent/result.json"}, ""); status != "2" ||
		!strings.Contains(errs, "absent") {
		t.Errorf("status %s, %s", status, errs)
	}
}

// built is the command as a program, built once.
func built(t *testing.T) string {
	t.Helper()
	bin, err := builtOnce()
	if err != nil {
		t.Fatal(err)
	}
	return bin
}

var builtIn string // the folder of the program; "" while it is not built

var builtOnce = sync.OnceValues(func() (string, error) {
	dir, err := os.MkdirTemp("", "corerod-built-*")
	if err != nil {
		return "", err
	}
	builtIn = dir
	bin := filepath.Join(dir, "corerod")
	if out, err := exec.Command("go", "build", "-o", bin, ".").CombinedOutput(); err != nil {
		return "", fmt.Errorf("%w\n%s", err, out)
	}
	return bin, nil
})

// TestMain removes the program that tests have built.
func TestMain(m *testing.M) {
	status := m.Run()
	if builtIn != "" {
		_ = os.RemoveAll(builtIn)
	}
	os.Exit(status)
}
