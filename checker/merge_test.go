package checker

import (
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"corerod/checker/internal/samples"
	"corerod/parts/source"
	"corerod/parts/stock"
	"corerod/rules"
)

// manyParts are those of the mill and of the pack's trials, derived once: no figure is changed that a layout reads.
func manyParts(t *testing.T) (all []*Derived) {
	t.Helper()
	book := samples.StandardBook(t)
	for _, pattern := range []string{"../testdata/mill/*.yaml", "../rules/packs/press-and-sinter/trials/*.yaml"} {
		names, err := filepath.Glob(pattern)
		if err != nil || len(names) == 0 {
			t.Fatal(names, err)
		}
		for _, n := range names {
			b, err := os.ReadFile(n)
			if err != nil {
				t.Fatal(err)
			}
			d, ps := Read(n, b, book)
			if len(ps) > 0 {
				t.Fatal(ps)
			}
			all = append(all, d)
		}
	}
	return all
}

// onBuiltin is a pack with some more lines that builds on the built-in one.
func onBuiltin(t *testing.T, name, more string) *rules.Pack {
	t.Helper()
	text := "pack: " + name + "\nversion: 1.0.0\ntitle: Own\nbuilds_on: [press-and-sinter]\nsources: {qp-" + name +
		": {title: Procedure}}\n" + more
	p, ps := rules.LoadPack([]rules.File{{Name: name + ".yaml", Bytes: []byte(text)}}, rules.Builtins)
	if len(ps) > 0 {
		t.Fatalf("%v\n%s", ps, text)
	}
	return p
}

// found lists part, rule, subject and grade of every finding, by a pack.
func found(t *testing.T, ds []*Derived, pack *rules.Pack) (all []string) {
	t.Helper()
	b, ps := rules.NewBook(pack)
	if len(ps) > 0 {
		t.Fatal(ps)
	}
	for _, d := range ds {
		out := b.Judge(rules.Case{Part: d.Subject, Material: rules.Material{Name: d.Part.Material.Name}, Unit: d.Part.Unit})
		if len(out.Faults) > 0 {
			t.Fatal(out.Faults[0].Message)
		}
		for _, f := range out.Findings {
			all = append(all, fmt.Sprintf("%s %s %s %s", d.Part.File, f.Rule.Name, f.Subject.Place().Name, f.Grade))
		}
	}
	slices.Sort(all)
	return all
}

// TestMergeLaws: a pack that changes nothing changes no finding; a tighter limit takes no finding of its rules away and a
// looser one adds none; two packs that change different things can be put in either order.
func TestMergeLaws(t *testing.T) {
	files := manyParts(t)
	builtin, err := rules.LoadBuiltin("press-and-sinter")
	if err != nil {
		t.Fatal(err)
	}
	as := found(t, files, builtin)
	if same := found(t, files, onBuiltin(t, "same", "")); !slices.Equal(same, as) {
		t.Errorf("a pack that changes nothing finds\n%v\nfor\n%v", same, as)
	}
	rng := rand.New(rand.NewPCG(4, 9))
	tried := 0
	for i, name := range sortedLimits(builtin) {
		readers, tighter := direction(builtin, name)
		if tighter == 0 || stock.ToolFigureNamed(name) != nil || testing.Short() && i%4 > 0 {
			continue
		}
		tried++
		l := builtin.Limits[name]
		for _, way := range []float64{tighter, -tighter} {
			v := l.Value * (1 + way*(0.05+0.6*rng.Float64()))
			own := found(t, files,
				onBuiltin(t, "own", fmt.Sprintf("limits: {%s: {value: %.6f, unit: %s, basis: shop, source: qp-own}}\n", name, v, l.Unit)))
			less, more := as, own // what must be among what
			if way != tighter {
				less, more = own, as
			}
			for _, f := range less {
				if rule := strings.Fields(f)[1]; !slices.Contains(readers, rule) || slices.Contains(more, f) || worseIn(more, f) {
					continue
				}
				t.Errorf("%s from %g to %g: %s", name, l.Value, v, f)
			}
		}
	}
	if tried < 10 {
		t.Errorf("%d limits tried", tried)
	}
	a := onBuiltin(t, "a", "limits: {wall_least: {value: 2.5, unit: mm, basis: shop, source: qp-a}}\n")
	b := onBuiltin(t, "b", "leave_out: {part-mass: not here}\ngrades: {gap-width: change}\n")
	ab := onTop(t, "[a, b]", a, b)
	if ba := onTop(t, "[b, a]", a, b); !slices.Equal(found(t, files, ab), found(t, files, ba)) {
		t.Error("two packs that change different things find otherwise in the other order")
	}
}

func sortedLimits(p *rules.Pack) (names []string) {
	for n := range p.Limits {
		names = append(names, n)
	}
	slices.Sort(names)
	return names
}

// direction tells which rules read a limit, and whether a greater one is tighter (1) or a smaller one (-1); 0 where that
// cannot be told, as where a `when` reads it.
func direction(p *rules.Pack, limit string) (readers []string, tighter float64) {
	at := regexp.MustCompile(`(<=|>=)[^&|?:]*\blimits\.` + limit + `\b`)
	for _, r := range p.Rules {
		if !r.Reads(limit) {
			continue
		}
		readers = append(readers, r.Name)
		if strings.Contains(r.When, limit) {
			return nil, 0
		}
		for _, n := range r.Needs {
			if !strings.Contains(n.That, "limits."+limit) {
				continue
			}
			m := at.FindStringSubmatch(n.That)
			if m == nil || strings.Count(n.That, "limits."+limit) > 1 {
				return nil, 0
			}
			way := map[string]float64{">=": 1, "<=": -1}[m[1]]
			if tighter != 0 && way != tighter {
				return nil, 0
			}
			tighter = way
		}
	}
	return readers, tighter
}

// worseIn tells whether the same finding stands there with a worse grade.
func worseIn(all []string, f string) bool {
	cut := strings.LastIndex(f, " ")
	for _, g := range []string{"change", "stop"} {
		if slices.Contains(all, f[:cut+1]+g) {
			return true
		}
	}
	return false
}

// onTop is a pack that builds on two others.
func onTop(t *testing.T, on string, a, b *rules.Pack) *rules.Pack {
	t.Helper()
	text := "pack: top\nversion: 1.0.0\ntitle: Top\nbuilds_on: " + on + "\n"
	p, ps := rules.LoadPack([]rules.File{{Name: "top.yaml", Bytes: []byte(text)}}, func(base rules.Base) (*rules.Pack, source.Problems) {
		return map[string]*rules.Pack{"a": a, "b": b}[base.Name], nil
	})
	if len(ps) > 0 {
		t.Fatal(ps)
	}
	return p
}
