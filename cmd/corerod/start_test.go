package main

import (
	"os"
	"strings"
	"testing"
)

// TestStart: the first part file is written under its name, and is a part that is clear.
func TestStart(t *testing.T) {
	t.Chdir(t.TempDir())
	if _, errs, status := run([]string{"start", "feed-cam.yaml"}, ""); status != "0" || errs != "" {
		t.Fatalf("status %s: %s", status, errs)
	}
	b, err := os.ReadFile("feed-cam.yaml")
	if err != nil || !strings.Contains(string(b), "\npart: feed-cam\n") || strings.Contains(string(b), "NAME") {
		t.Fatalf("%v\n%s", err, b)
	}
	if out, errs, status := run([]string{"review", "feed-cam.yaml", "--status-at", "ask"}, ""); status != "0" {
		t.Errorf("status %s: %s%s", status, out, errs)
	}
}
