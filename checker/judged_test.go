package checker

import (
	"context"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"corerod/checker/internal/samples"
	"corerod/parts/form"
	"corerod/parts/source"
	"corerod/rules"
)

// judgement is one line of testdata/judged/table.yaml.
type judgement struct {
	part, rule, grade, feature string
	allowed                    string // a rule that may ask of a sound part
	line                       int
}

// judgements reads the table.
func judgements(t *testing.T) (all []judgement) {
	t.Helper()
	const file = "../testdata/judged/table.yaml"
	b, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	root, ps := source.Parse(file, b)
	if len(ps) > 0 {
		t.Fatal(ps)
	}
	for _, n := range root.Items {
		text := func(key string) string {
			if v := n.At(key); v != nil {
				return v.Value
			}
			return ""
		}
		all = append(all, judgement{text("part"), text("rule"), text("grade"), text("feature"), text("allowed"), n.Line})
	}
	return all
}

// notYet are lines of the table that no rule finds so far, by part and rule, and why.
var notYet = map[[2]string]string{
	{"gear-with-hub-3-faulty", "wall-thickness"}: "a sliver between a hole and a tooth is the root wall's finding, at the same grade",
}

// TestJudged: the parts of testdata/judged, whose table was written by hand before the rules: each planted mistake is found by its rule, at
// its grade, on its feature; a sound part has no finding but one that is allowed.
func TestJudged(t *testing.T) {
	book := samples.StandardBook(t)
	names, err := filepath.Glob("../testdata/judged/*-*.yaml")
	if err != nil || len(names) != 60 {
		t.Fatalf("%d parts, %v", len(names), err)
	}
	reviews := map[string]*PartReview{}
	for _, name := range names {
		b, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		p, ps := ReviewPart(context.Background(), name, b, &Force{Book: book}, Options{})
		if len(ps) > 0 {
			t.Fatal(ps)
		}
		reviews[strings.TrimSuffix(filepath.Base(name), ".yaml")] = p
	}
	allowed := map[string]string{}
	for _, j := range judgements(t) {
		p := reviews[j.part]
		if p == nil {
			t.Errorf("table.yaml, line %d: there is no part %s", j.line, j.part)
			continue
		}
		if j.allowed != "" {
			allowed[j.part] = j.allowed
			continue
		}
		found := slices.ContainsFunc(p.Findings, func(f *Finding) bool { return j.holds(&f.Finding) })
		if why := notYet[[2]string{j.part, j.rule}]; why != "" {
			if found {
				t.Errorf("table.yaml, line %d: %s is found; it is no longer to be excused by: %s", j.line, j.rule, why)
			}
			continue
		}
		if !found {
			t.Errorf("table.yaml, line %d: %s has no %s of %s on %q, but %v", j.line, j.part, j.grade, j.rule, j.feature, told(p))
		}
	}
	for _, name := range names {
		name = strings.TrimSuffix(filepath.Base(name), ".yaml")
		p := reviews[name]
		if !strings.HasSuffix(name, "-sound") {
			continue
		}
		for _, f := range p.Findings {
			if f.Grade != rules.Ask || f.Rule.Name != allowed[name] {
				t.Errorf("%s is sound, but %s", name, told(p))
				break
			}
		}
	}
}

// holds tells whether a finding, or one that is told with it, is what the table has.
func (j *judgement) holds(f *rules.Finding) bool {
	features := slices.Concat(f.Subject.Place().Features, f.Over.Place().Features, strings.Fields(f.Says)) // what it names
	if f.Rule.Name == j.rule && string(f.Grade) == j.grade && (j.feature == "" || slices.Contains(features, j.feature)) {
		return true
	}
	return slices.ContainsFunc(f.Also, j.holds)
}

// told lists the findings of a part.
func told(p *PartReview) (all []string) {
	for _, f := range p.Findings {
		all = append(all, string(f.Grade)+" "+f.Rule.Name+" on "+strings.Join(f.Subject.Place().Features, ", ")+": "+f.Says)
	}
	return all
}

// TestJudgedTurnedOver: a part of testdata/judged that is drawn turned over has the same findings.
func TestJudgedTurnedOver(t *testing.T) {
	book := samples.StandardBook(t)
	names, err := filepath.Glob("../testdata/judged/*-*.yaml")
	if err != nil {
		t.Fatal(err)
	}
	turned := 0
	for _, name := range names {
		b, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		doc, ps := source.Open(name, b)
		if len(ps) > 0 {
			t.Fatal(ps)
		}
		review := func(b []byte) *PartReview {
			p, ps := ReviewPart(context.Background(), name, b, &Force{Book: book}, Options{})
			if len(ps) > 0 {
				t.Fatal(ps)
			}
			return p
		}
		was := review(b)
		edits, ok := form.TurnOver(doc.Root, was.Subject.ZLow+was.Subject.ZHigh)
		if !ok {
			continue
		}
		over, err := doc.With(edits...)
		if err != nil {
			t.Fatal(name, err)
		}
		turned++
		if a, b := ruled(was), ruled(review(over)); !slices.Equal(a, b) {
			t.Errorf("%s: %v, drawn turned over %v", name, a, b)
		}
	}
	if turned < 40 {
		t.Errorf("%d parts were turned", turned)
	}
}

// ruled are the rules and grades of a part's findings, and of those that are told with them.
func ruled(p *PartReview) (all []string) {
	for _, f := range p.Findings {
		all = append(all, f.Rule.Name+" "+string(f.Grade))
		for _, g := range f.Also {
			all = append(all, f.Rule.Name+" also "+g.Rule.Name)
		}
	}
	slices.Sort(all)
	return all
}
