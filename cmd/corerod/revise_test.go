package main

import (
	"bytes"
	"context"
	"io"
	"os"
	"runtime"
	"strings"
	"testing"
	"time"
)

const bracket = "part: bracket # é\r\nunits: mm\r\nbodies:\r\n  plate: {rectangle: {length: 40, width: 30, corner: 3}, from: 0, to: 8}\r\ncuts:\r\n  eye: {circle: {diameter: 6, at: [0, 11.5]}} # \u00e4 note\r\n"

// TestReviseWrite: only the value that changes differs, and the permissions of the file stay.
func TestReviseWrite(t *testing.T) {
	t.Chdir(t.TempDir())
	if err := os.WriteFile("bracket.yaml", []byte(bracket), 0o640); err != nil {
		t.Fatal(err)
	}
	out, errs, status := run([]string{"revise", "bracket.yaml", "--write"}, "")
	if status != "0" || !strings.Contains(out, "Written: bracket.yaml.") {
		t.Errorf("status %s\n%s%s", status, out, errs)
	}
	got, err := os.ReadFile("bracket.yaml")
	if want := strings.Replace(bracket, "11.5", "10.5", 1); err != nil || string(got) != want {
		t.Errorf("%v\n%s\nwant\n%s", err, got, want)
	}
	if i, err := os.Stat("bracket.yaml"); err != nil || runtime.GOOS != "windows" && i.Mode().Perm() != 0o640 {
		t.Errorf("mode %v, %v", i.Mode(), err)
	}
	if entries, _ := os.ReadDir("."); len(entries) != 1 {
		t.Errorf("%d files are left", len(entries))
	}
}

// TestReviseLink: a link is read and not written.
func TestReviseLink(t *testing.T) {
	t.Chdir(t.TempDir())
	if err := os.WriteFile("bracket.yaml", []byte(bracket), 0o644); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink("bracket.yaml", "link.yaml"); err != nil {
		t.Skip("no links here:", err)
	}
	_, errs, status := run([]string{"revise", "link.yaml", "--write"}, "")
	if status != "2" || !strings.Contains(errs, "link.yaml cannot be written: it is a link") {
		t.Errorf("status %s: %s", status, errs)
	}
	if got, _ := os.ReadFile("bracket.yaml"); string(got) != bracket {
		t.Error("the file behind the link is changed")
	}
}

// moving is a file system in which a file changes between one reading and the next.
type moving struct {
	System
	opened int
}

func (m *moving) Open(name string) (io.ReadCloser, error) {
	m.opened++
	if m.opened > 1 {
		if err := os.WriteFile(name, []byte(bracket+"# more\r\n"), 0o644); err != nil {
			return nil, err
		}
	}
	return m.System.Open(name)
}

// TestReviseChanged: a file that has changed since it was read is left alone.
func TestReviseChanged(t *testing.T) {
	t.Chdir(t.TempDir())
	if err := os.WriteFile("bracket.yaml", []byte(bracket), 0o644); err != nil {
		t.Fatal(err)
	}
	var out, errs bytes.Buffer
	status := Run(context.Background(), []string{"revise", "bracket.yaml", "--write"},
		Streams{In: strings.NewReader(""), Out: &out, Err: &errs}, func(string) string { return "" }, &moving{}, time.Unix(0, 0))
	if status != 2 || !strings.Contains(errs.String(), "changed since it was read") || out.Len() > 0 {
		t.Errorf("status %d: %s%s", status, out.String(), errs.String())
	}
	if got, _ := os.ReadFile("bracket.yaml"); string(got) != bracket+"# more\r\n" {
		t.Errorf("%s", got)
	}
}
