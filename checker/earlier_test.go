package checker

import (
	"context"
	"fmt"
	"strings"
	"testing"

	"corerod/rules"
)

// marked lists what became of findings, restatements and what is gone, in short.
func marked(r *Review) string {
	var all []string
	for _, p := range r.Parts {
		for _, f := range p.Findings {
			all = append(all, fmt.Sprintf("%s %s %s", p.Part.Name, f.Rule.Name, f.Since))
		}
		for _, x := range p.Cleared {
			all = append(all, fmt.Sprintf("%s %s cleared", p.Part.Name, x.Rule))
		}
		for _, x := range p.Renamed {
			all = append(all, x.To+" was "+x.From)
		}
		for _, x := range p.Restated {
			all = append(all, fmt.Sprintf("%s %s: %s to %s", p.Part.Name, x.What, x.From, x.To))
		}
	}
	for _, g := range r.Against.Gone {
		all = append(all, g.Part+" gone")
	}
	return strings.Join(all, "; ")
}

// TestCompareWith: what is new, worsened, unchanged, cleared, restated and gone since an earlier review, and the status.
func TestCompareWith(t *testing.T) {
	book := standardBook(t)
	review := func(texts ...string) *Review {
		var files []File
		for i, x := range texts {
			name, text, named := strings.Cut(x, "|")
			if !named {
				name, text = fmt.Sprintf("%d.yaml", i), x
			}
			files = append(files, fileOf(name, []byte(text)))
		}
		return Run(context.Background(), files, book, Options{StatusAt: rules.Change})
	}
	thin := thinEye(0.7, "A")
	seats := strings.Replace(thin, "units:", "seats: [plate.top]\nunits:", 1)
	for _, c := range []struct {
		name     string
		old, now []string
		want     string
		status   Status
	}{
		{"the same", []string{thin}, []string{thin}, "plate wall-thickness unchanged", Clear},
		{"other lines", []string{thin}, []string{"# a note\n\n" + thin}, "plate wall-thickness unchanged", Clear},
		{"another file", []string{"a.yaml|" + thin}, []string{"b/c.yaml|" + thin}, "plate wall-thickness unchanged", Clear},
		{"another name", []string{thin}, []string{strings.Replace(thin, "part: plate", "part: slab", 1)}, "slab wall-thickness new; plate gone", Found},
		{"a feature renamed", []string{thin}, []string{strings.Replace(thin, "eye:", "eyelet:", 1)}, "plate wall-thickness unchanged; eyelet was eye", Clear},
		{"thinner", []string{thin}, []string{thinEye(0.6, "A")}, "plate wall-thickness worsened", Found},
		{"thicker", []string{thin}, []string{thinEye(0.75, "A")}, "plate wall-thickness unchanged", Clear},
		{"a milder grade", []string{thin}, []string{thinEye(1, "A")}, "plate wall-thickness unchanged", Clear},
		{"a worse grade", []string{thinEye(1, "A")}, []string{thin}, "plate wall-thickness worsened", Found},
		{"new", []string{thinEye(2, "A")}, []string{thin}, "plate wall-thickness new", Found},
		{"new and mild", []string{thinEye(2, "A")}, []string{thinEye(1, "A")}, "plate wall-thickness new", Clear},
		{"cleared", []string{thin}, []string{thinEye(2, "A")}, "plate wall-thickness cleared", Clear},
		{"a new part with a finding", []string{thin}, []string{thin, strings.Replace(thin, "part: plate", "part: slab", 1)}, "plate wall-thickness unchanged; slab wall-thickness new", Found},
		{"a copy in an earlier file", []string{"b.yaml|" + thin}, []string{"a.yaml|" + thin, "b.yaml|" + thin}, "plate wall-thickness new; plate wall-thickness unchanged", Found},
		{"a part gone", []string{thin, strings.Replace(thin, "part: plate", "part: slab", 1)}, []string{thin}, "plate wall-thickness unchanged; slab gone", Found},
		{"machined now", []string{thin}, []string{strings.Replace(thin, "at: [0, 11.3]}", "at: [0, 11.3]}, made_by: machining", 1)}, "plate wall-thickness cleared; plate made after pressing:  to machining eye", Found},
		{"machined before", []string{strings.Replace(thin, "at: [0, 11.3]}", "at: [0, 11.3]}, made_by: machining", 1)}, []string{strings.Replace(thin, "at: [0, 11.3]}", "at: [0, 11.3]}, made_by: machining", 1)}, "", Clear},
		{"sized by a cut now", []string{thin}, []string{strings.Replace(thin, "at: [0, 11.3]}", "at: [0, 11.3]}, made_by: sizing", 1)}, "plate wall-thickness cleared; plate made after pressing:  to sizing eye", Found},
		{"another density", []string{thin}, []string{strings.Replace(thin, "units:", "material: {density: 6.8}\nunits:", 1)}, "plate wall-thickness unchanged; plate density: none to 6.8 g/cm3", Clear},
		{"another quantity", []string{thin}, []string{strings.Replace(thin, "units:", "quantity: 50000\nunits:", 1)}, "plate wall-thickness unchanged; plate quantity: none to 50000 a year", Clear},
		{"pressed from the top", []string{thin}, []string{strings.Replace(thin, "units:", "pressing: top\nunits:", 1)}, "plate wall-thickness unchanged; plate pressing: both to top", Clear},
		{"sized", []string{thin}, []string{strings.Replace(thin, "units:", "sized: true\nunits:", 1)}, "plate wall-thickness unchanged; plate sized: false to true", Clear},
		{"no seat", []string{seats}, []string{thin}, "plate wall-thickness unchanged; plate seats: plate.top to none", Clear},
		{"held", []string{thin}, []string{thin + "hold: [eye.diameter]\n"}, "plate wall-thickness unchanged; plate hold: none to eye.diameter", Clear},
	} {
		r := review(c.now...)
		r.CompareWith(EarlierOf(review(c.old...), "old"))
		if got := marked(r); got != c.want || r.Status != c.status {
			t.Errorf("%s: %q, status %d; want %q, %d", c.name, got, r.Status, c.want, c.status)
		}
	}
}

// TestCompareWithConceded: a new finding that a concession covers does not count.
func TestCompareWithConceded(t *testing.T) {
	all, ps := ReadConcessions("c.yaml", []byte(thinWall()), day(t, "2026-11-25T12:00:00Z"))
	if len(ps) > 0 {
		t.Fatal(ps)
	}
	book := standardBook(t)
	old := Run(context.Background(), []File{fileOf("a.yaml", []byte(thinEye(2, "A")))}, book, Options{StatusAt: rules.Change})
	r := Run(context.Background(), []File{fileOf("a.yaml", []byte(thinEye(0.7, "A")))}, book, Options{StatusAt: rules.Change, Concede: all})
	r.CompareWith(EarlierOf(old, "old"))
	if got := marked(r); got != "plate wall-thickness new" || r.Status != Clear {
		t.Errorf("%s, status %d", got, r.Status)
	}
}
