package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// TestDocCommands: the commands that the guides show are run in an empty folder, one after the other, with the files that
// they show; what comes out is what they show. COREROD_UPDATE=1 writes it.
func TestDocCommands(t *testing.T) {
	for _, name := range []string{"writing-rules.md", "editors.md", "changes.md", "concessions.md", "getting-started.md", "comparing.md", "formats.md"} {
		file, err := filepath.Abs("../../docs/" + name)
		if err != nil {
			t.Fatal(err)
		}
		t.Run(name, func(t *testing.T) {
			b, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			t.Chdir(t.TempDir())
			want := played(t, string(b))
			if os.Getenv("COREROD_UPDATE") != "" {
				if err := os.WriteFile(file, []byte(want), 0o644); err != nil {
					t.Fatal(err)
				}
			} else if want != string(b) {
				t.Errorf("docs/%s is stale; run COREROD_UPDATE=1 go test ./cmd/corerod", name)
			}
		})
	}
}

// played is a page with what its commands print; its files are written as they come.
func played(t *testing.T, page string) string {
	t.Helper()
	var out strings.Builder
	for rest := page; ; {
		before, block, ok := strings.Cut(rest, "```")
		out.WriteString(before)
		if !ok {
			return out.String()
		}
		block, rest, _ = strings.Cut(block, "```")
		head, body, _ := strings.Cut(block, "\n")
		if _, file, ok := strings.Cut(head, "yaml "); ok {
			if err := os.MkdirAll(filepath.Dir(file), 0o755); err != nil {
				t.Fatal(err)
			}
			if err := os.WriteFile(file, []byte(body), 0o644); err != nil {
				t.Fatal(err)
			}
		}
		if head == "" && strings.HasPrefix(body, "$ corerod ") {
			body = ""
			for line := range strings.Lines(block) {
				if args, ok := strings.CutPrefix(strings.TrimSpace(line), "$ corerod "); ok {
					stdout, stderr, _ := run(strings.Fields(args), "")
					body += "$ corerod " + args + "\n" + stdout + stderr
				}
			}
		}
		out.WriteString("```" + head + "\n" + body + "```")
	}
}
