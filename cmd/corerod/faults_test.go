package main

import (
	"bytes"
	"context"
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"testing/iotest"
	"time"
)

// faulty is a file system in which reading or writing goes wrong.
type faulty struct {
	System
	file             string                    // its end names the file that is read as below; "" for every one
	read             func(io.Reader) io.Reader // nil for the file as it is
	write, temporary error
}

// faultyFile is an open file whose content is read otherwise.
type faultyFile struct {
	fs.File
	in io.Reader
}

func (f faultyFile) Read(b []byte) (int, error) { return f.in.Read(b) }

func (f faulty) Open(name string) (io.ReadCloser, error) {
	in, err := f.System.Open(name)
	if err != nil || f.read == nil || !strings.HasSuffix(name, f.file) {
		return in, err
	}
	return struct {
		io.Reader
		io.Closer
	}{f.read(in), in}, nil
}

func (f faulty) Root(folder string) (fs.FS, error) {
	root, err := f.System.Root(folder)
	return faultyRoot{root, f}, err
}

type faultyRoot struct {
	fs.FS
	of faulty
}

func (r faultyRoot) Open(name string) (fs.File, error) {
	in, err := r.FS.Open(name)
	if err != nil || r.of.read == nil || !strings.HasSuffix(name, ".yaml") || !strings.HasSuffix(name, r.of.file) {
		return in, err
	}
	return faultyFile{in, r.of.read(in)}, nil
}

func (r faultyRoot) Stat(name string) (fs.FileInfo, error)      { return fs.Stat(r.FS, name) }
func (r faultyRoot) ReadDir(name string) ([]fs.DirEntry, error) { return fs.ReadDir(r.FS, name) }

func (f faulty) Write(name string, content io.Reader) error {
	if f.write != nil {
		return &fs.PathError{Op: "write", Path: name, Err: f.write}
	}
	return f.System.Write(name, content)
}

func (f faulty) Temporary() (Temporary, error) {
	if f.temporary != nil {
		return nil, f.temporary
	}
	return f.System.Temporary()
}

// breaking gives the first n bytes and then an error of the device.
func breaking(n int64) func(io.Reader) io.Reader {
	return func(in io.Reader) io.Reader {
		return io.MultiReader(io.LimitReader(in, n), iotest.ErrReader(syscall.EIO))
	}
}

// full is a stream that takes some bytes and then no more.
type full struct {
	room int
	err  error
	took bytes.Buffer
}

func (f *full) Write(b []byte) (int, error) {
	n := min(len(b), f.room-f.took.Len())
	f.took.Write(b[:n])
	if n < len(b) {
		return n, f.err
	}
	return n, nil
}

// faultyTree makes a folder with everything that a command reads, and goes there.
func faultyTree(t *testing.T) {
	t.Helper()
	root, err := filepath.Abs("../../testdata/mill")
	if err != nil {
		t.Fatal(err)
	}
	t.Chdir(t.TempDir())
	copyIn := func(name string) {
		b, err := os.ReadFile(filepath.Join(root, name))
		if err != nil {
			t.Fatal(err)
		}
		writeTree(t, map[string]string{"parts/" + name: string(b)})
	}
	copyIn("pawl.yaml")
	copyIn("guide-bush.yaml")
	writeTree(t, map[string]string{
		"corerod.yaml":     "packs: [own]\nconcessions: concessions.yaml\n",
		"concessions.yaml": "concessions: []\n",
		"own/pack.yaml":    "pack: own\nversion: 1.0.0\ntitle: Own\nbuilds_on: [press-and-sinter]\n",
	})
	for _, lot := range []string{"1", "2"} {
		if _, errs, status := run([]string{"review", "parts", "--lot", lot, "--lots", "2", "--to", "json=lot-" + lot + ".json", "--to",
			"text=-"}, ""); status != "0" && status != "1" {
			t.Fatal(status, errs)
		}
	}
	if _, errs, status := run([]string{"join", "lot-1.json", "lot-2.json", "--to", "earlier.json"}, ""); status != "1" {
		t.Fatal(status, errs)
	}
}

func writeTree(t *testing.T, files map[string]string) {
	t.Helper()
	for name, text := range files {
		if err := os.MkdirAll(filepath.Dir(name), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(name, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

// tree is every file below the folder, with its content.
func tree(t *testing.T) map[string]string {
	t.Helper()
	all := map[string]string{}
	err := filepath.WalkDir(".", func(p string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
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

func sameTree(t *testing.T, before map[string]string) {
	t.Helper()
	after := tree(t)
	for name, text := range after {
		if was, ok := before[name]; !ok || was != text {
			t.Errorf("%s was written: %d bytes", name, len(text))
		}
	}
	if len(after) < len(before) {
		t.Errorf("%d files are left of %d", len(after), len(before))
	}
}

// readers are calls that read everything that corerod reads, one way and another.
var readers = [][]string{
	{"review", "parts"},
	{"review", "parts", "--to", "json=-", "--earlier", "earlier.json"},
	{"review", "parts", "--to", "sarif=-", "--changes", "1"},
	{"review", "parts", "--to", "markdown=-", "--rules-from", "."},
	{"review", "parts/pawl.yaml", "--to", "html=-"},
	{"review", "parts/pawl.yaml", "--to", "svg=-", "--account"},
	{"revise", "parts/pawl.yaml"},
	{"compare", "parts/pawl.yaml", "parts/guide-bush.yaml", "--to", "json=-"},
	{"tooling", "parts/pawl.yaml"},
	{"measure", "parts/pawl.yaml"},
	{"drawing", "parts/pawl.yaml"},
	{"join", "lot-1.json", "lot-2.json"},
	{"pack", "show", "own"},
	{"pack", "prove", "own"},
	{"schema", "part"},
}

func runOn(args []string, in io.Reader, out, errs io.Writer, files Files) int {
	return Run(context.Background(), args, Streams{In: in, Out: out, Err: errs}, func(string) string { return "" }, files,
		time.Date(2026, 11, 25, 12, 0, 0, 0, time.UTC))
}

// TestShortReads: files that come byte by byte, or whose last bytes come with the end, are read as any.
func TestShortReads(t *testing.T) {
	faultyTree(t)
	for _, args := range readers {
		out, errs, status := run(args, "")
		for name, read := range map[string]func(io.Reader) io.Reader{"byte by byte": iotest.OneByteReader,
			"end with data": iotest.DataErrReader} {
			var o, e bytes.Buffer
			if s := runOn(args, strings.NewReader(""), &o, &e, faulty{read: read}); o.String() != out || e.String() != errs ||
				"012345"[s:s+1] != status {
				t.Errorf("%v, %s: status %d, not %s\n%s", args, name, s, status, e.String())
			}
		}
	}
}

// TestReadErrors: each file that cannot be read, at its beginning or after some bytes, is named with status 2.
func TestReadErrors(t *testing.T) {
	faultyTree(t)
	before := tree(t)
	named, after := 0, []int64{0, 40}
	if testing.Short() {
		after = after[1:]
	}
	for _, file := range []string{"pawl.yaml", "corerod.yaml", "concessions.yaml", "pack.yaml", "earlier.json", "lot-2.json"} {
		for _, args := range readers {
			for _, n := range after {
				var opened bool
				var o, e bytes.Buffer
				status := runOn(args, strings.NewReader(""), &o, &e, faulty{file: file, read: func(in io.Reader) io.Reader {
					opened = true
					return breaking(n)(in)
				}})
				said := o.String() + e.String()
				if opened && (status != 2 || !strings.Contains(said, file) || !strings.Contains(said, "input/output error")) {
					t.Errorf("%v, %s after %d bytes: status %d\n%s", args, file, n, status, said)
				}
				if opened {
					named++
				}
			}
		}
	}
	if named < 30*len(after) {
		t.Errorf("%d reads went wrong", named)
	}
	var o, e bytes.Buffer
	if status := runOn([]string{"review", "-"}, iotest.ErrReader(syscall.EIO), &o, &e, System{}); status != 2 ||
		!strings.Contains(o.String(), "standard input") {
		t.Errorf("standard input: status %d\n%s%s", status, &o, &e)
	}
	sameTree(t, before)
}

// TestClosedOutput: where standard output or standard error takes no more, a command ends with status 2 and says so where it
// can; it never ends as if all had been written.
func TestClosedOutput(t *testing.T) {
	faultyTree(t)
	before := tree(t)
	for _, args := range append(readers, []string{"--help"}, []string{"help", "review"}, []string{"--version"}) {
		whole, _, _ := run(args, "")
		for _, room := range []int{0, 1, 100} {
			out, errs := &full{room: room, err: syscall.EPIPE}, &bytes.Buffer{}
			status := runOn(args, strings.NewReader(""), out, errs, System{})
			if len(whole) > room && (status != 2 || !strings.Contains(errs.String(), "standard output cannot be written: broken pipe")) {
				t.Errorf("%v, room for %d of %d bytes: status %d, %s", args, room, len(whole), status, errs)
			}
		}
		if status := runOn(args, strings.NewReader(""), &full{err: syscall.EPIPE}, &full{err: syscall.EPIPE}, System{}); status != 2 {
			t.Errorf("%v, nothing can be said: status %d", args, status)
		}
	}
	sameTree(t, before)
}

// TestFullDisk: a report that cannot be written is named with status 2; what was there stays, and nothing went to standard
// output as if all were well.
func TestFullDisk(t *testing.T) {
	faultyTree(t)
	writeTree(t, map[string]string{"there.txt": "what was there"})
	before := tree(t)
	for _, args := range [][]string{
		{"review", "parts", "--to", "json=there.txt"},
		{"review", "parts", "--to", "text=there.txt", "--to", "sarif=new.sarif"},
		{"review", "parts", "--to", "markdown=there.txt"},
		{"review", "parts", "--to", "html=."},
		{"review", "parts/pawl.yaml", "--to", "svg=there.txt"},
		{"drawing", "parts/pawl.yaml", "--to", "there.txt"},
		{"tooling", "parts/pawl.yaml", "--to", "json=there.txt"},
		{"measure", "parts/pawl.yaml", "--to", "json=there.txt"},
		{"compare", "parts/pawl.yaml", "parts/guide-bush.yaml", "--to", "json=there.txt"},
		{"join", "lot-1.json", "lot-2.json", "--to", "there.txt"},
		{"revise", "parts/pawl.yaml", "--write"},
		{"start", "first.yaml"},
	} {
		var o, e bytes.Buffer
		status := runOn(args, strings.NewReader(""), &o, &e, faulty{write: syscall.ENOSPC})
		if status != 2 || !strings.Contains(e.String(), "cannot be written: no space left on device") || o.Len() > 0 {
			t.Errorf("%v: status %d\n%s%s", args, status, &o, &e)
		}
		sameTree(t, before)
	}
}

// TestWriteStopped: a file whose new content ends in an error keeps what it had, and no other file is left beside it.
func TestWriteStopped(t *testing.T) {
	t.Chdir(t.TempDir())
	writeTree(t, map[string]string{"there.txt": "what was there"})
	before := tree(t)
	for _, name := range []string{"there.txt", "new.txt"} {
		if err := (System{}).Write(name, breaking(1000)(strings.NewReader(strings.Repeat("x", 5000)))); !errors.Is(err, syscall.EIO) {
			t.Error(name, err)
		}
	}
	sameTree(t, before)
}

// TestLargeReports: what is too large for memory goes through a temporary file, comes out as it went in, and leaves none.
func TestLargeReports(t *testing.T) {
	temp := t.TempDir()
	t.Setenv("TMPDIR", temp)
	var want bytes.Buffer
	o := &output{target: target{"json", "-"}, files: System{}}
	for i := 0; want.Len() < 3*mostInMemory; i++ {
		b := bytes.Repeat([]byte{byte(i)}, 100_003)
		want.Write(b)
		if n, err := o.Write(b); n != len(b) || err != nil {
			t.Fatal(n, err)
		}
	}
	if o.rest == nil || o.first.Len() > mostInMemory {
		t.Errorf("%d bytes are in memory", o.first.Len())
	}
	for range 2 {
		first := bytes.Clone(o.first.Bytes())
		content, err := o.content()
		if err != nil {
			t.Fatal(err)
		}
		if got, err := io.ReadAll(content); err != nil || !bytes.Equal(got, want.Bytes()) {
			t.Error("another content comes out", len(got), err)
		}
		o.first = *bytes.NewBuffer(first)
	}
	outputs{o}.close()
	if left, err := os.ReadDir(temp); err != nil || len(left) > 0 {
		t.Error(left, err)
	}
	t.Setenv("TMPDIR", filepath.Join(temp, "none"))
	for _, files := range []Files{faulty{temporary: syscall.ENOSPC}, System{}} {
		var w wrongCall
		o := &output{files: files}
		if _, err := o.Write(make([]byte, mostInMemory+1)); !errors.As(err, &w) ||
			!strings.Contains(err.Error(), "a temporary file cannot be made") {
			t.Error(err)
		}
	}
}
