package main

import (
	"os"
	"strings"
	"testing"
)

// TestLooks: a part file is told by its key, however it is written; what cannot be read as YAML may be one.
func TestLooks(t *testing.T) {
	for text, want := range map[string]likeness{
		"part: a\nunits: mm\n": wholly, "# x\npart : a\n": wholly, "part:\n": wholly, `"part": a`: wholly, "'part': a\n": wholly, `{"part": "a"}`: wholly, "{units: mm, part: a}": wholly,
		`"p\x61rt": a`: wholly, `"\u0070art": a`: wholly, "? part\n: a\n": wholly, "  part: a\n  units: mm\n": wholly, wide("part: a\n"): wholly, strings.TrimPrefix(wide("part: a\n"), "\xff\xfe"): wholly, "\xff\xfe\x00\x00p\x00\x00\x00a\x00\x00\x00r\x00\x00\x00t\x00\x00\x00:\x00\x00\x00": wholly, "\x00\x00\x00p\x00\x00\x00a\x00\x00\x00r\x00\x00\x00t\x00\x00\x00:": wholly, "part: [\n": wholly, "\"pa\\\n  rt\": a\n": partly,
		"{part: a": partly, "units: mm\n\"part\": [\n": partly, "a: &x 1\n*x : 2\n? part\n: [": partly, "&k part: a\nx: [": partly, "!!str part: a\n[": partly,
		"": none, "parts: 1\n": none, "x: {part: a}\n": none, "- part: a\n": none, "a part: b\n": none, "x: part\n": none, wide("x: 1\n"): none, "spare-part: a\n": none, "x: [part\n": none, "\x00\x01": none,
	} {
		if got := looks([]byte(text)); got != want {
			t.Errorf("%q is %d, not %d", text, got, want)
		}
	}
}

// TestOverlooked: without an earlier review, what looks like a part file and was not reviewed is listed in every report.
func TestOverlooked(t *testing.T) {
	t.Chdir(t.TempDir())
	writeTree(t, map[string]string{"plate.yaml": plate("plate", 2), "big.YAML": plate("big", 0.5), "brace.yml": "{units: mm, part: a",
		"a.json": `{"part": "a"}`, "other.json": `{"x": {"part": 1}}`, "own/pack.yaml": "pack: own\n"})
	if err := os.Symlink("plate.yaml", "linked.yaml"); err != nil {
		t.Skip(err)
	}
	for _, format := range []string{"text", "json", "markdown", "sarif"} {
		out, errs, status := run([]string{"review", ".", "--to", format + "=-"}, "")
		if status != "0" {
			t.Errorf("%s: status %s, %s", format, status, errs)
		}
		for _, name := range []string{"big.YAML", "brace.yml", "a.json", "linked.yaml", "own"} {
			if !strings.Contains(strings.ReplaceAll(out, `\.`, "."), name) {
				t.Errorf("%s does not name %s\n%s", format, name, out)
			}
		}
		if strings.Contains(out, "other.json") {
			t.Errorf("%s names other.json", format)
		}
	}
}
