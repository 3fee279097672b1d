package main

import (
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// TestDocCommands: the commands that the pages show are run in an empty folder, one after the other, with the files that
// they show; what comes out is what they show. COREROD_UPDATE=1 writes it. A command that no test runs is a fault.
func TestDocCommands(t *testing.T) {
	root, err := filepath.Abs("../..")
	if err != nil {
		t.Fatal(err)
	}
	shown := 0
	for name, page := range pages(t) {
		for _, line := range unplayed(name, page) {
			t.Errorf("%s shows %q, which no test runs", name, line)
		}
		if !strings.Contains(page, "\n```\n$ corerod ") {
			continue
		}
		shown++
		t.Run(name, func(t *testing.T) {
			t.Chdir(t.TempDir())
			want := played(t, page)
			if os.Getenv("COREROD_UPDATE") != "" {
				if err := os.WriteFile(filepath.Join(root, filepath.FromSlash(name)), []byte(want), 0o644); err != nil {
					t.Fatal(err)
				}
			} else if want != page {
				t.Errorf("%s is stale; run COREROD_UPDATE=1 go test ./cmd/corerod", name)
			}
		})
	}
	if shown < 7 {
		t.Errorf("only %d pages show commands", shown)
	}
}

// calls finds the lines of a block that call corerod, alone or after another command.
var calls = regexp.MustCompile(`^(?:.*[|(&;])?\s*(?:go run \./cmd/)?corerod [a-z-]`)

// unplayed are the command lines of a page's blocks, fenced or indented, that no test runs: played runs those of blocks that
// begin with "$ corerod", TestReadme the README's, and the tests of pull requests the scripts that have a name.
func unplayed(name, page string) (lines []string) {
	for i, text := range strings.Split(page, "```") {
		head, body, _ := strings.Cut(text, "\n")
		if i%2 == 0 {
			body = strings.Join(regexp.MustCompile(`(?m)^    .*$`).FindAllString(text, -1), "\n")
		}
		script := i%2 == 1 && slices.Contains(scriptNames, strings.TrimPrefix(head, "sh "))
		prompts := i%2 == 1 && strings.HasPrefix(body, "$ ")
		for line := range strings.Lines(body) {
			line = strings.TrimRight(line, "\n")
			command, prompt := strings.CutPrefix(line, "$ ")
			switch {
			case script || prompts && !prompt || !calls.MatchString(command):
			case prompts && head == "" && strings.HasPrefix(line, "$ corerod "):
			case name == "README.md" && line == "$ "+readmeCall:
			default:
				lines = append(lines, line)
			}
		}
	}
	return lines
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
