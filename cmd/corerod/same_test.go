package main

import (
	"bytes"
	"crypto/sha256"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"testing"
)

// TestSameBytes: 24 runs, a hundred where COREROD_LONG is set, of the command write the same bytes in every format, on one
// processor, two and sixteen, whatever the order in which the folder was filled, the time zone and the language.
func TestSameBytes(t *testing.T) {
	if testing.Short() {
		t.Skip("starts many processes")
	}
	bin := built(t)
	mill, err := filepath.Abs("../../testdata/mill")
	if err != nil {
		t.Fatal(err)
	}
	names, err := filepath.Glob(filepath.Join(mill, "*.yaml"))
	if err != nil || len(names) < 5 {
		t.Fatal(names, err)
	}
	processors, zones, languages := []string{"1", "2", "16"}, []string{"UTC", "Pacific/Kiritimati"},
		[]string{"C", "de_DE.UTF-8", "ja_JP.eucJP", "tr_TR.UTF-8"}
	var first map[string]string
	runs := 24
	if os.Getenv("COREROD_LONG") != "" {
		runs = 100
	}
	for n := range runs {
		random := rand.New(rand.NewPCG(7, uint64(n)))
		random.Shuffle(len(names), func(i, k int) { names[i], names[k] = names[k], names[i] })
		dir := t.TempDir()
		for _, name := range names {
			b, err := os.ReadFile(name)
			if err != nil {
				t.Fatal(err)
			}
			sub := "parts"
			if bytes.Contains(b, []byte("gear")) {
				sub = "parts/toothed"
			}
			if err := os.MkdirAll(filepath.Join(dir, sub), 0o755); err != nil {
				t.Fatal(err)
			}
			if err := os.WriteFile(filepath.Join(dir, sub, filepath.Base(name)), b, 0o644); err != nil {
				t.Fatal(err)
			}
		}
		args := []string{"review", "parts", "--account"}
		for _, f := range []string{"text", "json", "sarif", "markdown", "html", "svg"} {
			args = append(args, "--to", f+"=out-"+f)
		}
		env := append(slices.Clone(os.Environ()), "GOMAXPROCS="+processors[n%3], "TZ="+zones[n%2], "LANG="+languages[n%4],
			"LC_ALL="+languages[n%4])
		commands := [][]string{args}
		if n%10 < 3 { // with each number of processors
			commands = append(commands, []string{"review", "parts/pawl.yaml", "--changes", "3", "--to", "json=out-changes"})
		}
		for _, args := range commands {
			c := exec.Command(bin, args...)
			c.Dir, c.Env = dir, env
			if out, err := c.CombinedOutput(); c.ProcessState.ExitCode() != 1 {
				t.Fatalf("%v: %v\n%s", args, err, out)
			}
		}
		got := digests(t, dir)
		if first == nil {
			if first = got; len(first) < 7+2*len(names)+2 {
				t.Fatalf("%d files", len(first))
			}
		}
		for name, d := range got {
			if d != first[name] {
				t.Errorf("run %d: %s is another", n, name)
			}
		}
	}
}

// digests of all files of a folder but for its parts.
func digests(t *testing.T, dir string) map[string]string {
	t.Helper()
	all := map[string]string{}
	t.Chdir(dir)
	for name, text := range tree(t) {
		all[filepath.ToSlash(name)] = fmt.Sprintf("%x", sha256.Sum256([]byte(text)))
	}
	return all
}
