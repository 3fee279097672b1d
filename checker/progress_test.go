package checker

import (
	"context"
	"fmt"
	"testing"

	"corerod/checker/internal/samples"
	"corerod/rules"
)

// TestProgress: each part is told once, one after the other, with the findings so far; a file that cannot be read counts as
// done, and telling changes no result.
func TestProgress(t *testing.T) {
	const thin = "part: thin\nunits: mm\nbodies: {a: {circle: {diameter: 20}, from: 0, to: 6}}\ncuts: {b: {circle: {diameter: 19}}}\n"
	var files []File
	for i := range 9 {
		files = append(files, fileOf(fmt.Sprintf("thin-%d.yaml", i), []byte(thin)))
	}
	files = append(files, fileOf("bad.yaml", []byte("part: X")))
	for _, workers := range []int{1, 4} {
		quiet := Run(context.Background(), files, samples.StandardBook(t), Options{StatusAt: rules.Change, Workers: workers})
		parts, before := 0, 0
		r := Run(context.Background(), files, samples.StandardBook(t),
			Options{StatusAt: rules.Change, Workers: workers, Progress: func(done, all, findings int) {
				parts++
				if done != parts || all != len(files) || findings < before {
					t.Errorf("told of %d of %d parts and %d findings after %d parts and %d", done, all, findings, parts, before)
				}
				before = findings
			}})
		found := 0
		for i, p := range r.Parts {
			found += len(p.Findings)
			if outcome(p) != outcome(quiet.Parts[i]) {
				t.Errorf("%s is reviewed otherwise where somebody is told", p.File)
			}
		}
		if parts != len(files) || before != found || found < 9 {
			t.Errorf("told of %d parts and %d findings, not of %d and %d", parts, before, len(files), found)
		}
	}
}
