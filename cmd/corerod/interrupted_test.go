package main

import (
	"bytes"
	"fmt"
	"io/fs"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	"corerod/checker/concession"
)

// conceding is a folder with parts that have a finding each, and the arguments that concede it.
func conceding(t *testing.T, parts int) (dir string, args [][]string) {
	t.Helper()
	dir = t.TempDir()
	t.Chdir(dir)
	writeTree(t, map[string]string{"corerod.yaml": "concessions: concessions.yaml\n"})
	for i := range parts {
		name := fmt.Sprintf("plate-%d", i)
		writeTree(t, map[string]string{name + ".yaml": plate(name, 0.7)})
		out, _, _ := run([]string{"review", name + ".yaml", "--to", "json=-", "--rule", "wall-thickness", "--changes", "0"}, "")
		_, id, _ := strings.Cut(out, `"id": "`)
		id, _, _ = strings.Cut(id, `"`)
		args = append(args, []string{"concede", name + ".yaml", "--finding", id, "--until", "2027-03-31", "--reason", "agreed",
			"--by", "engineer"})
	}
	return dir, args
}

// recordsIn counts the records of a file of concessions.
func recordsIn(t *testing.T, name string) int {
	t.Helper()
	b, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	all, ps := concession.Read(name, b, time.Now())
	if len(ps) > 0 {
		t.Fatal(ps)
	}
	return len(all.Records)
}

// TestConcedeAtOnce: fifty people who concede at once on one file leave fifty records.
func TestConcedeAtOnce(t *testing.T) {
	if testing.Short() {
		t.Skip("builds the command")
	}
	bin := built(t)
	dir, all := conceding(t, 50)
	for i := range all {
		all[i][5] = time.Now().AddDate(0, 6, 0).Format(time.DateOnly)
	}
	var wait sync.WaitGroup
	for _, args := range all {
		wait.Go(func() {
			c := exec.Command(bin, args...)
			c.Dir = dir
			if out, err := c.CombinedOutput(); err != nil {
				t.Errorf("%v: %v\n%s", args, err, out)
			}
		})
	}
	wait.Wait()
	if n := recordsIn(t, "concessions.yaml"); n != 50 {
		t.Errorf("%d records", n)
	}
	nothingLeft(t, dir)
}

// nothingLeft checks that no temporary file and no lock is left.
func nothingLeft(t *testing.T, dir string) {
	t.Helper()
	err := filepath.WalkDir(dir, func(p string, d fs.DirEntry, err error) error {
		if strings.HasPrefix(d.Name(), ".corerod-") || strings.HasPrefix(d.Name(), "corerod-") || strings.HasSuffix(d.Name(), ".lock") {
			t.Errorf("%s is left", p)
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
}

// TestLock: a lock is waited for, never broken, and named with its owner where it stays.
func TestLock(t *testing.T) {
	_, all := conceding(t, 1)
	const lock = "concessions.yaml.lock"
	writeTree(t, map[string]string{lock: "host toolroom, process 7, since 2026-11-25T10:00:00Z\n"})
	go func() {
		time.Sleep(100 * time.Millisecond)
		_ = os.Remove(lock)
	}()
	if out, errs, status := run(all[0], ""); status != "0" || recordsIn(t, "concessions.yaml") != 1 {
		t.Errorf("status %s\n%s%s", status, out, errs)
	}
	if os.Getenv("COREROD_LONG") == "" {
		return
	}
	writeTree(t, map[string]string{lock: "host toolroom, process 7, since 2026-11-25T10:00:00Z\n", "concessions.yaml": "concessions: []\n"})
	_, errs, status := run(all[0], "")
	if status != "2" || !strings.Contains(errs, "concessions.yaml.lock is held: host toolroom, process 7") ||
		recordsIn(t, "concessions.yaml") != 0 {
		t.Errorf("status %s\n%s", status, errs)
	}
	if _, err := os.Stat(lock); err != nil {
		t.Error("the lock was broken")
	}
}

// TestInterrupted: an interrupted command ends with its status; what it wrote is whole or as it was, and nothing else is left.
func TestInterrupted(t *testing.T) {
	if testing.Short() {
		t.Skip("builds the command")
	}
	tries := 8
	if os.Getenv("COREROD_LONG") != "" {
		tries = 200
	}
	bin := built(t)
	mill, err := filepath.Abs("../../testdata/mill")
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		name, file string
		args       []string
	}{
		{"revise", "plate-0.yaml", []string{"revise", "plate-0.yaml", "--write"}},
		{"sheets", "sheets/pawl.html", []string{"review", mill, "--to", "html=sheets", "--changes", "1"}},
		{"concede", "concessions.yaml", nil},
	} {
		t.Run(c.name, func(t *testing.T) {
			dir, all := conceding(t, 1)
			if c.args == nil {
				all[0][5] = time.Now().AddDate(0, 6, 0).Format(time.DateOnly)
				c.args = all[0]
				writeTree(t, map[string]string{"concessions.yaml": "concessions: []\n"})
			}
			before, _ := os.ReadFile(c.file)
			work := t.TempDir()
			start := time.Now()
			whole := exec.Command(bin, c.args...)
			whole.Dir = dir
			_ = whole.Run() // a status of 1 is a finding
			took := time.Since(start)
			after, _ := os.ReadFile(c.file)
			if len(after) == 0 || bytes.Equal(before, after) {
				t.Fatal("nothing is written")
			}
			stopped := 0
			for i := range tries {
				restore(t, c.file, before)
				signal, status := os.Interrupt, 130
				switch i % 3 {
				case 1:
					signal, status = os.Signal(syscall.SIGTERM), 143
				case 2:
					signal, status = os.Signal(syscall.SIGHUP), 129
				}
				p := exec.Command(bin, c.args...)
				p.Dir, p.Env = dir, append(os.Environ(), "TMPDIR="+work)
				if err := p.Start(); err != nil {
					t.Fatal(err)
				}
				time.Sleep(time.Duration(rand.Int64N(int64(took) + 1)))
				_ = p.Process.Signal(signal) // it may have ended
				_ = p.Wait()
				got := p.ProcessState.ExitCode()
				if got == status || got == -1 { // -1: before it could listen
					stopped++
				} else if got > 1 {
					t.Fatalf("try %d: status %d", i, got)
				}
				if b, _ := os.ReadFile(c.file); !bytes.Equal(b, before) && !bytes.Equal(b, after) {
					t.Fatalf("try %d: the file is neither as it was nor whole:\n%s", i, b)
				}
				nothingLeft(t, dir)
				nothingLeft(t, work)
			}
			t.Logf("%d of %d tries were interrupted", stopped, tries)
		})
	}
}

// restore makes a file what it was, nothing where there was none.
func restore(t *testing.T, name string, b []byte) {
	t.Helper()
	err := os.Remove(name)
	if b != nil {
		err = os.WriteFile(name, b, 0o644)
	}
	if err != nil && !os.IsNotExist(err) {
		t.Fatal(err)
	}
}
