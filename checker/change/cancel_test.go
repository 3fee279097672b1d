package change

import (
	"context"
	"os"
	"path/filepath"
	"testing"
	"time"

	"corerod/checker"
	"corerod/checker/internal/samples"
	"corerod/rules"
)

// TestCancelled: a review whose context has ended holds nothing more; one that is ended while changes are sought ends without trying
// what is left; a revision of it is an error.
func TestCancelled(t *testing.T) {
	ended, cancel := context.WithCancel(context.Background())
	cancel()
	book := samples.StandardBook(t)
	files := []checker.File{fileOf("a.yaml", []byte(gear40)), fileOf("b.yaml", []byte(fiveFindings))}
	if r := Run(ended, files, book, Options{Changes: 3, Options: checker.Options{StatusAt: rules.Ask}}); len(r.Parts) != 0 ||
		r.Status != checker.Nothing {
		t.Errorf("%d parts, status %d", len(r.Parts), r.Status)
	}
	if _, _, err := Revise(ended, files[0], book, "", checker.Options{}); err != context.Canceled {
		t.Errorf("a revision says %v", err)
	}
	whole := Run(context.Background(), files[:1], book,
		Options{Changes: 3, Options: checker.Options{StatusAt: rules.Ask, Workers: 1}}).Parts[0].Search.Tried
	ctx, cancel := context.WithCancel(context.Background())
	r := Run(ctx, files[:1], book, Options{Changes: 3,
		Options: checker.Options{StatusAt: rules.Ask, Workers: 1, Trace: func(step, _ string) {
			if step == "seek changes" {
				cancel()
			}
		}}})
	if !r.Parts[0].Search.Stopped || len(r.Parts[0].Findings[0].Changes) > 0 || whole < 20 {
		t.Errorf("%+v of %d trials", r.Parts[0].Search, whole)
	}
}

// BenchmarkCancel tells how long a review goes on at most after its context has ended, over the parts of testdata, while they are
// judged and while changes are sought for them.
func BenchmarkCancel(b *testing.B) {
	var files []checker.File
	for _, pattern := range []string{"../../testdata/mill/*.yaml", "../../testdata/solids/*.yaml"} {
		names, err := filepath.Glob(pattern)
		if err != nil {
			b.Fatal(err)
		}
		for _, name := range names {
			text, err := os.ReadFile(name)
			if err != nil {
				b.Fatal(err)
			}
			files = append(files, fileOf(name, text))
		}
	}
	book := samples.StandardBook(b)
	var most time.Duration
	for b.Loop() {
		for _, f := range files {
			for _, after := range []time.Duration{0, 2 * time.Millisecond, 10 * time.Millisecond} {
				ctx, cancel := context.WithTimeout(context.Background(), after)
				Run(ctx, []checker.File{f}, book, Options{Changes: 3, Options: checker.Options{Workers: 1}})
				if end, _ := ctx.Deadline(); ctx.Err() != nil {
					most = max(most, time.Since(end))
				}
				cancel()
			}
		}
	}
	b.ReportMetric(float64(most.Microseconds())/1000, "ms-most")
}
