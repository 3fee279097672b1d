package main

import (
	"strings"
	"testing"

	"corerod/rules"
)

// TestBuiltinProven: the trials of every built-in pack prove all its rules, and notice every limit that is moved.
func TestBuiltinProven(t *testing.T) {
	for _, name := range rules.Builtin() {
		out, errs, status := run([]string{"pack", "prove", name, "--shift"}, "")
		if status != "0" || errs != "" || !strings.Contains(out, "\n  Proven: ") {
			t.Errorf("%s: status %s\n%s%s", name, status, out, errs)
		}
	}
}
