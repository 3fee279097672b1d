package compare

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"testing"

	"corerod/checker"
	"corerod/checker/internal/samples"
	"corerod/rules"
)

// marked lists what became of findings, restatements and what is gone, in short.
func marked(r *checker.Review) string {
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

// TestWithEarlier: what is new, worsened, unchanged, cleared, restated and gone since an earlier review, and the status.
func TestWithEarlier(t *testing.T) {
	book := samples.StandardBook(t)
	review := func(texts ...string) *checker.Review {
		var files []checker.File
		for i, x := range texts {
			name, text, named := strings.Cut(x, "|")
			if !named {
				name, text = fmt.Sprintf("%d.yaml", i), x
			}
			files = append(files, fileOf(name, []byte(text)))
		}
		return checker.Run(context.Background(), files, book, checker.Options{StatusAt: rules.Change})
	}
	thin := samples.ThinEye(0.7, "A")
	seats := strings.Replace(thin, "units:", "seats: [plate.top]\nunits:", 1)
	for _, c := range []struct {
		name     string
		old, now []string
		want     string
		status   checker.Status
	}{
		{"the same", []string{thin}, []string{thin}, "plate wall-thickness unchanged", checker.Clear},
		{"other lines", []string{thin}, []string{"# a note\n\n" + thin}, "plate wall-thickness unchanged", checker.Clear},
		{"another file", []string{"a.yaml|" + thin}, []string{"b/c.yaml|" + thin}, "plate wall-thickness unchanged", checker.Clear},
		{"another name", []string{thin}, []string{strings.Replace(thin, "part: plate", "part: slab", 1)}, "slab wall-thickness new; plate gone", checker.Found},
		{"a feature renamed", []string{thin}, []string{strings.Replace(thin, "eye:", "eyelet:", 1)}, "plate wall-thickness unchanged; eyelet was eye", checker.Clear},
		{"thinner", []string{thin}, []string{samples.ThinEye(0.6, "A")}, "plate wall-thickness worsened", checker.Found},
		{"thicker", []string{thin}, []string{samples.ThinEye(0.75, "A")}, "plate wall-thickness unchanged", checker.Clear},
		{"a milder grade", []string{thin}, []string{samples.ThinEye(1, "A")}, "plate wall-thickness unchanged", checker.Clear},
		{"a worse grade", []string{samples.ThinEye(1, "A")}, []string{thin}, "plate wall-thickness worsened", checker.Found},
		{"new", []string{samples.ThinEye(2, "A")}, []string{thin}, "plate wall-thickness new", checker.Found},
		{"new and mild", []string{samples.ThinEye(2, "A")}, []string{samples.ThinEye(1, "A")}, "plate wall-thickness new", checker.Clear},
		{"cleared", []string{thin}, []string{samples.ThinEye(2, "A")}, "plate wall-thickness cleared", checker.Clear},
		{"a new part with a finding", []string{thin}, []string{thin, strings.Replace(thin, "part: plate", "part: slab", 1)}, "plate wall-thickness unchanged; slab wall-thickness new", checker.Found},
		{"a copy in an earlier file", []string{"b.yaml|" + thin}, []string{"a.yaml|" + thin, "b.yaml|" + thin}, "plate wall-thickness new; plate wall-thickness unchanged", checker.Found},
		{"a part gone", []string{thin, strings.Replace(thin, "part: plate", "part: slab", 1)}, []string{thin}, "plate wall-thickness unchanged; slab gone", checker.Found},
		{"machined now", []string{thin}, []string{strings.Replace(thin, "at: [0, 11.3]}", "at: [0, 11.3]}, made_by: machining", 1)}, "plate wall-thickness cleared; plate made after pressing:  to machining eye", checker.Found},
		{"machined before", []string{strings.Replace(thin, "at: [0, 11.3]}", "at: [0, 11.3]}, made_by: machining", 1)}, []string{strings.Replace(thin, "at: [0, 11.3]}", "at: [0, 11.3]}, made_by: machining", 1)}, "", checker.Clear},
		{"sized by a cut now", []string{thin}, []string{strings.Replace(thin, "at: [0, 11.3]}", "at: [0, 11.3]}, made_by: sizing", 1)}, "plate wall-thickness cleared; plate made after pressing:  to sizing eye", checker.Found},
		{"another density", []string{thin}, []string{strings.Replace(thin, "units:", "material: {density: 6.8}\nunits:", 1)}, "plate wall-thickness unchanged; plate density: none to 6.8 g/cm3", checker.Clear},
		{"another quantity", []string{thin}, []string{strings.Replace(thin, "units:", "quantity: 50000\nunits:", 1)}, "plate wall-thickness unchanged; plate quantity: none to 50000 a year", checker.Clear},
		{"pressed from the top", []string{thin}, []string{strings.Replace(thin, "units:", "pressing: top\nunits:", 1)}, "plate wall-thickness unchanged; plate pressing: both to top", checker.Clear},
		{"sized", []string{thin}, []string{strings.Replace(thin, "units:", "sized: true\nunits:", 1)}, "plate wall-thickness unchanged; plate sized: false to true", checker.Clear},
		{"no seat", []string{seats}, []string{thin}, "plate wall-thickness unchanged; plate seats: plate.top to none", checker.Clear},
		{"held", []string{thin}, []string{thin + "hold: [eye.diameter]\n"}, "plate wall-thickness unchanged; plate hold: none to eye.diameter", checker.Clear},
	} {
		r := review(c.now...)
		WithEarlier(r, EarlierOf(review(c.old...), "old"))
		if got := marked(r); got != c.want || r.Status != c.status {
			t.Errorf("%s: %q, status %d; want %q, %d", c.name, got, r.Status, c.want, c.status)
		}
	}
}

// TestDigestsOfAnotherVersion: where a feature is machined, digests of another version are refused; where none is, they matter not.
func TestDigestsOfAnotherVersion(t *testing.T) {
	machined := strings.Replace(samples.ThinEye(2, "A"), "at: [0, 10]}", "at: [0, 10]}, made_by: machining", 1)
	for text, want := range map[string]checker.Status{machined: checker.Wrong, samples.ThinEye(2, "A"): checker.Clear} {
		e := EarlierOf(checker.Run(context.Background(), []checker.File{fileOf("a.yaml", []byte(text))}, samples.StandardBook(t),
			checker.Options{StatusAt: rules.Change}), "old")
		for i := range e.Parts[0].States.Drawn {
			d := &e.Parts[0].States.Drawn[i]
			d.Shape = strings.Replace(d.Shape, "shape1:", "shape2:", 1)
		}
		r := checker.Run(context.Background(), []checker.File{fileOf("a.yaml", []byte(text))}, samples.StandardBook(t),
			checker.Options{StatusAt: rules.Change})
		WithEarlier(r, e)
		if r.Status != want || want == checker.Wrong && !strings.Contains(r.Unread[0].Message, "not comparable") {
			t.Errorf("status %d, %v", r.Status, r.Unread)
		}
	}
}

// TestNamesThatRulesRead: a new name, title or customer counts where a rule reads it.
func TestNamesThatRulesRead(t *testing.T) {
	text := "part: plate\ntitle: Plate\ncustomer: Millworks\nunits: mm\nbodies: {plate: {circle: {diameter: 40}, from: 0, to: 4}}\ncuts: {left: {circle: {diameter: 6, at: [8, 0]}}}\n"
	for need, counted := range map[string][3]bool{ // for another feature name, title and customer
		`part.holes.all(h, h.edge >= limits.edge)`:                                                        {false, false, false},
		`part.holes.filter(h, h.name.startsWith("left")).all(h, h.edge >= limits.edge)`:                   {true, false, false},
		`part.title == "x" || part.height > limits.edge`:                                                  {false, true, false},
		`part.customer != "Millworks" || part.holes.all(h, "left" in h.features || h.edge > limits.edge)`: {true, false, true},
	} {
		book := samples.ListBook(t, need)
		old := checker.Run(context.Background(), []checker.File{fileOf("a.yaml", []byte(text))}, book,
			checker.Options{StatusAt: rules.Change})
		for i, change := range [][2]string{{"left:", "port:"}, {"Plate", "Sheet"}, {"customer: Millworks", "customer: Other"}} {
			r := checker.Run(context.Background(), []checker.File{fileOf("a.yaml", []byte(strings.Replace(text, change[0], change[1], 1)))},
				book, checker.Options{StatusAt: rules.Change})
			WithEarlier(r, EarlierOf(old, "old"))
			if got := slices.ContainsFunc(r.Parts[0].Restated, func(x checker.Restated) bool { return x.Counts }); got != counted[i] {
				t.Errorf("%s: %v counts: %t, %+v", need, change, got, r.Parts[0].Restated)
			}
		}
	}
}
