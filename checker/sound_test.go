package checker

import (
	"slices"
	"strings"
	"testing"

	"corerod/checker/internal/samples"
	"corerod/parts/form"
	"corerod/parts/source"
	"corerod/rules"
)

// TestSound: sixty parts as they are pressed every day draw no stop and no change. Each of twenty mistakes, planted in
// each of them that it fits, draws the rule that is to find it, and of stops and changes none but those that may follow.
func TestSound(t *testing.T) {
	book := samples.StandardBook(t)
	planted := map[string]int{}
	for i := range 60 {
		if testing.Short() && i > 11 {
			return
		}
		s := samples.SoundPart(i)
		if bad := serious(t, book, s.Text, nil); len(bad) > 0 {
			t.Errorf("a sound part draws %v:\n%s", bad, s.Text)
		}
		for _, f := range samples.Faults {
			if !f.Fits(s) {
				continue
			}
			planted[f.Name]++
			bad := serious(t, book, s.Text, f.Plant(s))
			if !slices.Contains(bad, f.Rule) {
				t.Errorf("%s: %s does not find it, but %v:\n%s%v", f.Name, f.Rule, bad, s.Text, f.Plant(s))
			}
			for _, r := range bad {
				if r != f.Rule && !slices.Contains(f.Follow, r) {
					t.Errorf("%s: %s follows:\n%s%v", f.Name, r, s.Text, f.Plant(s))
				}
			}
		}
	}
	for _, f := range samples.Faults {
		if planted[f.Name] < 10 {
			t.Errorf("%s was planted %d times", f.Name, planted[f.Name])
		}
	}
}

// serious lists the rules that find a stop or a change on a part with some values changed.
func serious(t *testing.T, book *rules.Book, text string, changes map[string]string) (found []string) {
	t.Helper()
	var cs []form.Change
	for path, v := range changes {
		n, ps := source.Parse("change.yaml", []byte("v: "+v))
		if len(ps) > 0 {
			t.Fatal(ps)
		}
		cs = append(cs, form.Change{Name: path, Value: n.At("v")})
	}
	p, ps, wrong := form.ParseWith("sound.yaml", []byte(text), cs)
	if len(ps) > 0 || len(wrong) > 0 {
		t.Fatalf("%v %v\n%s%v", ps, wrong, text, changes)
	}
	d, ps := Derive(p, book)
	if len(ps) > 0 {
		t.Fatalf("%v\n%s%v", ps, text, changes)
	}
	out := book.Judge(rules.Case{Part: d.Subject, Material: rules.Material{Name: p.Material.Name}, Unit: p.Unit})
	for _, f := range out.Findings {
		if f.Grade != rules.Ask && !slices.Contains(found, f.Rule.Name) {
			found = append(found, f.Rule.Name)
		}
	}
	if len(out.Faults) > 0 {
		t.Errorf("%s: %s", strings.Split(text, "\n")[0], out.Faults[0].Message)
	}
	return found
}
