package main

import (
	"fmt"
	"os"
	"strings"
)

// listed is an entry of the list of equivalent mutants.
type listed struct {
	file, function, change, reason string
}

// readEquivalent reads the list: three lines an entry, the file and function, the change as a run prints it, and the reason;
// blank lines and lines that start with # are left aside.
func readEquivalent(path string) (all []listed, err error) {
	text, err := os.ReadFile(path)
	if err != nil {
		return nil, err
	}
	var lines []string
	for i, line := range strings.Split(string(text), "\n") {
		line = strings.TrimSpace(line)
		if line == "" || strings.HasPrefix(line, "#") {
			continue
		}
		if lines = append(lines, line); len(lines) < 3 {
			continue
		}
		file, function, ok := strings.Cut(lines[0], " ")
		reason, because := strings.CutPrefix(lines[2], "because ")
		if !ok || !because {
			return nil, fmt.Errorf("%s:%d: an entry is a line with file and function, one with the change, and one with \"because\" "+
				"and the reason", path, i+1)
		}
		all = append(all, listed{file, function, lines[1], reason})
		lines = nil
	}
	if len(lines) > 0 {
		return nil, fmt.Errorf("%s: the last entry has no three lines", path)
	}
	return all, nil
}

// leaveOut takes the listed mutants of a folder out, and tells which entries are of no mutant that is there.
func leaveOut(all []mutant, same []listed, folder string) (kept []mutant, left int, stale []listed) {
	used := map[listed]bool{}
	for _, m := range all {
		found := false
		for _, s := range same {
			if s.file == m.file && s.function == m.function && s.change == m.change {
				used[s], found = true, true
			}
		}
		if found {
			left++
			continue
		}
		kept = append(kept, m)
	}
	for _, s := range same {
		if strings.HasPrefix(s.file, folder+"/") && !strings.Contains(s.file[len(folder)+1:], "/") && !used[s] {
			stale = append(stale, s)
		}
	}
	return kept, left, stale
}
