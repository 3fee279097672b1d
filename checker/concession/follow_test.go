package concession

import (
	"context"
	"testing"

	"corerod/checker"
	"corerod/checker/compare"
	"corerod/checker/internal/samples"
	"corerod/rules"
)

// TestFollowNew: a new finding that a concession covers does not count.
func TestFollowNew(t *testing.T) {
	all, ps := Read("c.yaml", []byte(thinWall()), day(t, "2026-11-25T12:00:00Z"))
	if len(ps) > 0 {
		t.Fatal(ps)
	}
	book := samples.StandardBook(t)
	old := checker.Run(context.Background(), []checker.File{fileOf("a.yaml", []byte(samples.ThinEye(2, "A")))}, book,
		checker.Options{StatusAt: rules.Change})
	r := checker.Run(context.Background(), []checker.File{fileOf("a.yaml", []byte(samples.ThinEye(0.7, "A")))}, book,
		checker.Options{StatusAt: rules.Change, Concede: all, Steps: []checker.Step{Cover}})
	compare.WithEarlier(r, compare.EarlierOf(old, "old"))
	Follow(r)
	p := r.Parts[0]
	if len(p.Findings) != 1 || len(p.Cleared)+len(p.Renamed)+len(p.Restated)+len(r.Against.Gone) > 0 {
		t.Fatalf("%+v", p)
	}
	if f := p.Findings[0]; f.Rule.Name != "wall-thickness" || f.Since != checker.SinceNew || r.Status != checker.Clear {
		t.Errorf("%s %s, status %d", f.Rule.Name, f.Since, r.Status)
	}
}
