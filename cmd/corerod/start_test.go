package main

import (
	"os"
	"strings"
	"testing"
)

// TestFirstParts: a first part of every kind is written, is clear, and says of each section what it is.
func TestFirstParts(t *testing.T) {
	t.Chdir(t.TempDir())
	kinds := firstKinds()
	if len(kinds) != 8 {
		t.Errorf("%v", kinds)
	}
	for _, kind := range kinds {
		name := "HM-01.x_" + kind
		out, errs, status := run([]string{"start", name, "--like", kind}, "")
		if status != "0" || !strings.HasPrefix(out, name+".yaml is written") {
			t.Errorf("%s: %s%s", kind, out, errs)
			continue
		}
		text, err := os.ReadFile(name + ".yaml")
		if err != nil || strings.Contains(string(text), "NAME") || strings.Count(string(text), "#") < 6 {
			t.Errorf("%s: %v\n%s", kind, err, text)
		}
		out, errs, status = run([]string{"review", name + ".yaml", "--no-shop"}, "")
		if status != "0" || !strings.Contains(out, "  clear: ") {
			t.Errorf("%s: status %s\n%s%s", kind, status, out, errs)
		}
	}
}
