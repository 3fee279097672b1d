package compare

import (
	"context"
	"testing"

	"corerod/checker"
	"corerod/checker/internal/samples"
	"corerod/rules"
)

// TestElementsAlone: each element of a list alone decides: one that comes is new, one that gets worse is worse, and one that gets
// better is not, wherever it is in the list and whatever else would do.
func TestElementsAlone(t *testing.T) {
	const n = 12
	for _, need := range []string{"part.holes.all(h, h.edge >= limits.edge)", "part.sized || part.holes.all(h, h.edge >= limits.edge)",
		"!part.holes.exists(h, h.edge < limits.edge)"} {
		book := samples.ListBook(t, need)
		for i := range n {
			for _, c := range []struct {
				was, is float64
				want    checker.Since
			}{{1.5, 1.45, checker.SinceWorse}, {1.5, 1.55, checker.SinceSame}, {1.5, 1.5, checker.SinceSame}, {3, 1.9, checker.SinceWorse},
				{1.5, 3, checker.SinceSame}} {
				was, is := make([]float64, n), make([]float64, n)
				for k := range n {
					was[k], is[k] = 1.5, 1.5
				}
				was[i], is[i] = c.was, c.is
				old := checker.Run(context.Background(), []checker.File{fileOf("bar.yaml", []byte(samples.Bar(was...)))}, book,
					checker.Options{StatusAt: rules.Change})
				for name, earlier := range map[string]*Earlier{"folder": EarlierOf(old, "old"), "kept": withoutSubjects(old)} {
					r := checker.Run(context.Background(), []checker.File{fileOf("bar.yaml", []byte(samples.Bar(is...)))}, book,
						checker.Options{StatusAt: rules.Change})
					WithEarlier(r, earlier)
					if got := r.Parts[0].Findings[0].Since; got != c.want {
						t.Errorf("%s, %s: hole %d from %g to %g is %s, not %s", need, name, i, c.was, c.is, got, c.want)
					}
				}
			}
		}
	}
}

// withoutSubjects is a review as it is kept: with findings alone.
func withoutSubjects(r *checker.Review) *Earlier {
	e := EarlierOf(r, "kept")
	for _, p := range e.Parts {
		p.Whole = nil
	}
	return e
}
