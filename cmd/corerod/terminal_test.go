package main

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"os"
	"regexp"
	"runtime"
	"slices"
	"strings"
	"testing"
	"time"
)

const thinPart = "part: thin\nunits: mm\nbodies: {a: {circle: {diameter: 20}, from: 0, to: 6}}\ncuts: {b: {circle: {diameter: 19}}}\n"

// slow takes its time to open a part.
type slow struct {
	System
	by time.Duration
}

func (s slow) Open(name string) (io.ReadCloser, error) {
	if strings.HasPrefix(name, "thin") {
		time.Sleep(s.by)
	}
	return s.System.Open(name)
}

// thinParts writes n parts with a fault each into an empty folder and names them.
func thinParts(t *testing.T, n int) (names []string) {
	t.Helper()
	t.Chdir(t.TempDir())
	for i := range n {
		names = append(names, fmt.Sprintf("thin-%d.yaml", i))
		if err := os.WriteFile(names[i], []byte(strings.Replace(thinPart, "thin", fmt.Sprintf("thin-%d", i), 1)), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	return names
}

// onTerminals runs a command whose streams are terminals, with some variables set.
func onTerminals(args []string, files Files, out, errs bool, env map[string]string) (stdout, stderr string, status int) {
	var o, e bytes.Buffer
	status = Run(context.Background(), args, Streams{In: strings.NewReader(""), Out: &o, Err: &e, OutTerminal: out, ErrTerminal: errs},
		func(k string) string { return env[k] }, files, time.Unix(0, 0))
	return o.String(), e.String(), status
}

// TestProgress: a long review of several parts tells how far it is on one line of a terminal, and leaves nothing there; one
// of a single part, one that is traced and one whose errors go elsewhere do not.
func TestProgress(t *testing.T) {
	names := thinParts(t, 6)
	args := append([]string{"review", "--changes", "0"}, names...)
	quiet, errs, status := onTerminals(args, System{}, false, false, nil)
	if errs != "" || status != 1 {
		t.Fatalf("status %d, %s", status, errs)
	}
	long := slow{by: 250 * time.Millisecond} // of 6 parts, so that 2 at least are done after 300 ms whatever goes on at once
	if runtime.GOMAXPROCS(0) > 3 {
		defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(3))
	}
	out, errs, status := onTerminals(args, long, false, true, nil)
	if out != quiet || status != 1 {
		t.Errorf("status %d, and the result differs where progress is shown", status)
	}
	if !strings.Contains(errs, "\r6 of 6 parts, ") || strings.Contains(errs, "\n") || screen(errs) != "" ||
		!regexp.MustCompile(`\r6 of 6 parts, [1-9]\d* findings`).MatchString(errs) {
		t.Errorf("%q", errs)
	}
	long.by = wait + 20*time.Millisecond
	if _, errs, _ := onTerminals(args[:5], long, true, false, nil); errs != "" {
		t.Errorf("where errors are on no terminal: %q", errs)
	}
	if _, errs, _ := onTerminals(args[:4], long, false, true, nil); errs != "" {
		t.Errorf("of one part: %q", errs)
	}
	if _, errs, _ := onTerminals(append(args[:5], "--trace"), long, false, true, nil); strings.Contains(errs, "\r") || errs == "" {
		t.Errorf("traced: %q", errs)
	}
}

// screen is what a line shows in the end.
func screen(written string) string {
	var line []rune
	at := 0
	for _, r := range written {
		if r == '\r' {
			at = 0
			continue
		}
		for at >= len(line) {
			line = append(line, ' ')
		}
		line[at] = r
		at++
	}
	return strings.TrimRight(string(line), " ")
}

// TestProgressLine: the line is shown from 300 ms on, is rewritten in place and not too often, and covers a longer one before it.
func TestProgressLine(t *testing.T) {
	var b bytes.Buffer
	now := 299 * time.Millisecond
	p := &progress{w: &b, since: func() time.Duration { return now }}
	p.tell(1, 100, 1000)
	p.end()
	if b.Len() > 0 {
		t.Errorf("before its time: %q", b.String())
	}
	now = 300 * time.Millisecond
	for _, x := range []struct {
		done, findings int
		want           string
	}{{2, 1000, "2 of 100 parts, 1000 findings"}, {3, 1, "3 of 100 parts, 1 finding"}, {99, 12, "99 of 100 parts, 12 findings"}} {
		now += stay
		p.tell(x.done, 100, x.findings)
		p.tell(x.done+1-x.done/99, 100, 77) // too soon
		if got := screen(b.String()); got != x.want {
			t.Errorf("the line is %q, want %q", got, x.want)
		}
	}
	p.tell(100, 100, 3)
	if got := screen(b.String()); got != "100 of 100 parts, 3 findings" {
		t.Errorf("the last part is not told of at once: %q", got)
	}
	p.end()
	if got := screen(b.String()); got != "" || !strings.HasSuffix(b.String(), "\r") {
		t.Errorf("left on the line: %q", got)
	}
	var nobody *progress
	nobody.tell(1, 2, 3)
	nobody.end()
}

// TestColor: grades are coloured on a terminal that can and where the call says so; what is said is the same, and files
// never have codes.
func TestColor(t *testing.T) {
	args := []string{"review", "--changes", "0", thinParts(t, 1)[0]}
	plain, _, _ := onTerminals(args, System{}, false, false, nil)
	auto := runtime.GOOS != "windows"
	for _, x := range []struct {
		name     string
		more     []string
		terminal bool
		env      map[string]string
		want     bool
	}{
		{"a terminal", nil, true, nil, auto},
		{"no terminal", nil, false, nil, false},
		{"NO_COLOR", nil, true, map[string]string{"NO_COLOR": "1"}, false},
		{"NO_COLOR that is empty", nil, true, map[string]string{"NO_COLOR": ""}, auto},
		{"a terminal without colour", nil, true, map[string]string{"TERM": "dumb"}, false},
		{"never", []string{"--color", "never"}, true, nil, false},
		{"always", []string{"--color=always"}, false, map[string]string{"NO_COLOR": "1"}, true},
		{"text on standard output by name", []string{"--to", "text=-"}, true, nil, auto},
		{"a file", []string{"--color=always", "--to", "text=out.txt", "--to", "json=-"}, true, nil, false},
	} {
		out, errs, status := onTerminals(slices.Concat(args, x.more), System{}, x.terminal, false, x.env)
		if status != 1 || errs != "" {
			t.Errorf("%s: status %d, %s", x.name, status, errs)
		}
		if got := strings.Contains(out, "\x1b["); got != x.want {
			t.Errorf("%s: coloured is %t\n%q", x.name, got, out)
		}
		if x.want && regexp.MustCompile("\x1b\\[[0-9;]*m").ReplaceAllString(out, "") != plain {
			t.Errorf("%s: the text differs", x.name)
		}
	}
	if b, err := os.ReadFile("out.txt"); err != nil || string(b) != plain {
		t.Errorf("%v, the file is %q", err, b)
	}
}

// TestIsTerminal: a file is none.
func TestIsTerminal(t *testing.T) {
	f, err := os.Create(t.TempDir() + "/f")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if isTerminal(f) {
		t.Error("a plain file is taken for a terminal")
	}
}
