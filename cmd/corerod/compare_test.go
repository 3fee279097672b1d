package main

import (
	"os"
	"strings"
	"testing"
)

// TestCompareFiles: every format goes to its own file, text to standard output where none names it; names of files act
// neither on a terminal nor in Markdown; a call that fails writes nothing.
func TestCompareFiles(t *testing.T) {
	t.Chdir(t.TempDir())
	const part = "part: a\nunits: mm\nbodies: {a: {circle: {diameter: 20}, from: 0, to: 6}}\n"
	const hostile = "x\x1b[31m @all `|` <b>#1.yaml"
	for name, text := range map[string]string{"old.yaml": part, hostile: strings.Replace(part, "to: 6", "to: 7", 1),
		"bad.yaml": strings.Replace(part, "to: 6", "to: x", 1)} {
		if err := os.WriteFile(name, []byte(text), 0o644); err != nil {
			t.Skip("no such file name here:", err)
		}
	}
	out, errs, status := run([]string{"compare", "old.yaml", hostile, "--to", "json=c.json", "--to", "markdown=c.md"}, "")
	if status != "0" || errs != "" || !strings.Contains(out, "`to` from 6 to 7 mm") || strings.Contains(out, "\x1b") {
		t.Errorf("status %s\n%s%s", status, out, errs)
	}
	for file, has := range map[string]string{"c.json": `"status": 0`,
		"c.md": "x\\\\x1b\\[31m \\@&#8288;all \\`&#124;\\` &lt;b&gt;\\#&#8288;`1.yaml`"} {
		if b, err := os.ReadFile(file); err != nil || !strings.Contains(string(b), has) {
			t.Errorf("%s: %v\n%s", file, err, b)
		}
	}
	out, errs, status = run([]string{"compare", hostile, "bad.yaml", "--to", "json=d.json"}, "")
	if _, err := os.Stat("d.json"); status != "2" || out != "" || err == nil || !strings.Contains(errs, "bad.yaml") {
		t.Errorf("status %s, %v\n%s%s", status, err, out, errs)
	}
	if _, errs, status := run([]string{"compare", "old.yaml", "absent\x1b[31m.yaml"}, ""); status != "2" || strings.Contains(errs, "\x1b") {
		t.Errorf("status %s: %q", status, errs)
	}
	if _, errs, status := run([]string{"compare", "old.yaml", hostile, "--trace"}, ""); status != "0" ||
		strings.Count(errs, "judge") != 2 || strings.Contains(errs, "\x1b") {
		t.Errorf("status %s: %q", status, errs)
	}
}
