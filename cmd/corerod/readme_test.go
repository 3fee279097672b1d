package main

import (
	"os"
	"strings"
	"testing"
)

// readmeCall is the command that the README shows.
const readmeCall = "go run ./cmd/corerod review " + readmePart

const readmePart = "testdata/readme/link.yaml"

// TestReadme: the part and the output that the README shows are the real ones. COREROD_UPDATE=1 writes them.
func TestReadme(t *testing.T) {
	t.Chdir("../..")
	text, err := os.ReadFile("README.md")
	if err != nil {
		t.Fatal(err)
	}
	yaml, err := os.ReadFile(readmePart)
	if err != nil {
		t.Fatal(err)
	}
	stdout, stderr, status := run([]string{"review", readmePart}, "")
	if stderr != "" || status != "1" {
		t.Errorf("status %s, %s", status, stderr)
	}
	want := block(string(text), "```yaml\n", string(yaml))
	want = block(want, "```\n$ "+readmeCall+"\n", stdout)
	if os.Getenv("COREROD_UPDATE") != "" {
		if err := os.WriteFile("README.md", []byte(want), 0o644); err != nil {
			t.Fatal(err)
		}
	} else if want != string(text) {
		t.Error("the README's part or output is stale; run COREROD_UPDATE=1 go test ./cmd/corerod")
	}
	if n := strings.Count(want, "\n"); n > 180 {
		t.Errorf("the README has %d lines, more than 180", n)
	}
}

// block replaces what stands between a block's opening and its end.
func block(text, opening, content string) string {
	before, after, ok := strings.Cut(text, opening)
	if !ok {
		return text + "\n" + opening + content + "```\n"
	}
	_, rest, _ := strings.Cut(after, "```")
	return before + opening + content + "```" + rest
}
