package checker

import (
	"context"
	"fmt"
	"testing"

	"corerod/checker/internal/samples"
	"corerod/rules"
)

// TestElementsListed: every element that fails is an entry of its own, with its own values.
func TestElementsListed(t *testing.T) {
	r := Run(context.Background(), []File{fileOf("bar.yaml", []byte(samples.Bar(1, 1.1, 1.2, 1.3, 1.4, 1.5, 1.6, 1.7, 1.8, 1.9, 2, 2.1)))},
		samples.ListBook(t, "part.holes.all(h, h.edge >= limits.edge)"), Options{StatusAt: rules.Change})
	all := r.Parts[0].Findings[0].Entries()
	if len(all) != 10 {
		t.Fatalf("%d entries", len(all))
	}
	for i, c := range all {
		if want := fmt.Sprintf("h%d %.1f", i, 1+0.1*float64(i)); c.Of == nil || fmt.Sprintf("%s %.1f", c.Of.Name, c.Value) != want {
			t.Errorf("entry %d is %+v, want %s", i, c, want)
		}
	}
}
