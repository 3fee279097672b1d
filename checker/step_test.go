package checker

import (
	"context"
	"slices"
	"testing"

	"corerod/checker/internal/samples"
	"corerod/rules"
)

// TestSteps: each part takes the steps in their order, with the bytes of its file, judged and not slimmed yet; what a step does to
// its grade counts for the review.
func TestSteps(t *testing.T) {
	texts := map[string]string{"a.yaml": samples.ThinEye(0.7, "A"), "b.yaml": samples.ThinEye(2, "A")}
	taken := map[string][]string{}
	step := func(name string) Step {
		return func(_ context.Context, p *PartReview, b []byte) {
			taken[p.File] = append(taken[p.File], name)
			if string(b) != texts[p.File] || p.Slimmed() || len(p.Subject.Walls) == 0 || p.Force == nil || p.States.Shape == "" {
				t.Errorf("%s takes the step %s as %+v", p.File, name, p)
			}
		}
	}
	clear := func(_ context.Context, p *PartReview, _ []byte) { p.Grade = "" }
	files := []File{fileOf("a.yaml", []byte(texts["a.yaml"])), fileOf("b.yaml", []byte(texts["b.yaml"]))}
	o := Options{StatusAt: rules.Change, Workers: 1, Slim: true, Steps: []Step{step("first"), step("second")}}
	r := Run(context.Background(), files, samples.StandardBook(t), o)
	for _, p := range r.Parts {
		if !slices.Equal(taken[p.File], []string{"first", "second"}) || !p.Slimmed() {
			t.Errorf("%s takes the steps %q, slimmed %t", p.File, taken[p.File], p.Slimmed())
		}
	}
	if r.Status != Found || r.Graded[rules.Change] != 1 {
		t.Errorf("status %d, %v", r.Status, r.Graded)
	}
	o.Steps = append(o.Steps, clear)
	if r = Run(context.Background(), files, samples.StandardBook(t), o); r.Status != Clear || r.Graded[""] != 2 {
		t.Errorf("with a step that clears the grade: status %d, %v", r.Status, r.Graded)
	}
}
