package rules

import (
	"fmt"
	"strings"
	"testing"

	"corerod/parts/source"
	"corerod/parts/tape"
)

// lowest is a pack of three rules over walls, of which the first has needs of three grades.
const lowest = `pack: low
version: 1.0.0
title: Low
sources: {book: {title: A book}}
limits:
  least: {value: 1, basis: published, source: book}
  most: {value: 9, basis: practice}
  slim: {value: 9, unit: ratio, basis: practice}
materials: {M: {basis: memory, apparent: 3}}
presses: {P: {capacity: 1, fill: 1, eject: 1, ejection_stroke: 1, upper: 1, lower: 1}}
rules:
  a: {title: A, stage: fill, because: b, change: c, over: wall, says: "{wall.name}", need: [{grade: stop,
      that: wall.thickness >= limits.least}, {grade: change, that: wall.thickness >= 2 * limits.least}, {grade: ask,
      that: wall.thickness >= 3 * limits.least}]}
  b: {title: B, stage: fill, because: b, change: c, over: wall, says: "{wall.name}", need: [{grade: ask, that: wall.height <= limits.most}]}
  c: {title: C, stage: fill, because: b, change: c, over: wall, says: "{wall.name}", need: [{grade: change,
      that: wall.ratio <= limits.slim}]}
`

// packOn is a pack that builds on others, with more lines.
func packOn(name, on, lines string) string {
	return "pack: " + name + "\nversion: 1.0.0\ntitle: T\nbuilds_on: [" + on + "]\n" + lines
}

// packs loads packs by name, each from its text.
func packs(texts map[string]string) Resolve {
	known := map[string]*Pack{}
	var find Resolve
	find = func(b Base) (*Pack, source.Problems) {
		if known[b.Name] != nil {
			return known[b.Name], nil
		}
		text, ok := texts[b.Name]
		if !ok {
			return nil, b.Problem("there is no pack " + b.Name)
		}
		p, ps := LoadPack([]File{{b.Name + ".yaml", []byte(text)}}, find)
		known[b.Name] = p
		return p, ps
	}
	return find
}

// gradesOf writes the grades of a pack's rules.
func gradesOf(p *Pack) string {
	var all []string
	for _, r := range p.Rules {
		s := r.Name
		for _, n := range r.Needs {
			s += " " + string(n.Grade)
		}
		all = append(all, s+" of "+r.From.Name)
	}
	return strings.Join(all, "; ")
}

// TestGradesBelow: a pack that builds on another can make a grade the worst of a rule, milder or worse ones become it or stay, and
// leave rules out; other rules and the pack below stay as they are.
func TestGradesBelow(t *testing.T) {
	find := packs(map[string]string{"low": lowest, "mid": packOn("mid", "low", "grades: {b: change}\nleave_out: {c: not here}\n")})
	low, ps := find(Base{Name: "low"})
	if len(ps) > 0 {
		t.Fatal(listed(ps))
	}
	was := gradesOf(low)
	for _, c := range []struct{ name, on, lines, want, left, regraded string }{
		{"nothing", "low", "", "a stop change ask of low; b ask of low; c change of low", "[]", "[]"},
		{"milder", "low", "grades: {a: ask}\n", "a ask ask ask of low; b ask of low; c change of low", "[]", "[{a ask top}]"},
		{"milder by one", "low", "grades: {a: change}\n", "a change change ask of low; b ask of low; c change of low", "[]",
			"[{a change top}]"},
		{"worse", "low", "grades: {b: change}\n", "a stop change ask of low; b change of low; c change of low", "[]", "[{b change top}]"},
		{"the same", "low", "grades: {b: ask}\n", "a stop change ask of low; b ask of low; c change of low", "[]", "[{b ask top}]"},
		{"left out", "low", "leave_out: {b: we know}\n", "a stop change ask of low; c change of low", "[{b we know top}]", "[]"},
		{"by the pack between", "mid", "", "a stop change ask of low; b change of low", "[{c not here mid}]", "[{b change mid}]"},
		{"by both, the upper one holds", "mid", "grades: {b: ask}\n", "a stop change ask of low; b ask of low", "[{c not here mid}]",
			"[{b ask top}]"},
		{"both at once", "low", "grades: {a: ask}\nleave_out: {b: x, c: y}\n", "a ask ask ask of low", "[{b x top} {c y top}]",
			"[{a ask top}]"},
		{"a rule of its own stays", "low", "grades: {c: ask}\nrules:\n  d: {title: D, stage: fill, because: b, change: c, over: " +
			"wall, says: x, need: [{grade: change, that: wall.thickness >= limits.most}]}\n",
			"a stop change ask of low; b ask of low; c ask of low; d change of top", "[]", "[{c ask top}]"},
	} {
		p, ps := LoadPack([]File{{"top.yaml", []byte(packOn("top", c.on, c.lines))}}, find)
		if len(ps) > 0 {
			t.Errorf("%s: %s", c.name, listed(ps))
			continue
		}
		if got := gradesOf(p); got != c.want || fmt.Sprint(p.LeftOut) != c.left || fmt.Sprint(p.Regraded) != c.regraded {
			t.Errorf("%s: %s, left out %v, regraded %v\nwant %s", c.name, got, p.LeftOut, p.Regraded, c.want)
		}
		if gradesOf(low) != was {
			t.Fatalf("%s: the pack below has become %s", c.name, gradesOf(low))
		}
		for _, r := range p.Rules {
			if r.Pack != p {
				t.Errorf("%s: %s is judged by the figures of %s", c.name, r.Name, r.Pack.Name)
			}
		}
	}
}

// TestFiguresBelow: figures of a pack below are taken in; one of the same name and unit stands for it, and rules of the pack below
// are judged by it.
func TestFiguresBelow(t *testing.T) {
	texts := map[string]string{"low": lowest, "left": packOn("left", "low", "limits: {least: {value: 2, basis: practice}}\n"),
		"right": packOn("right", "low", "limits: {least: {value: 3, basis: practice}}\n"), "other": strings.NewReplacer("pack: low",
			"pack: other", "  a:", "  x:", "  b:", "  y:", "  c:", "  z:").Replace(lowest)}
	for _, c := range []struct {
		name, on, lines string
		least           float64
		says            string
	}{
		{"taken in", "low", "", 1, ""},
		{"replaced", "low", "limits: {least: {value: 1.5, basis: practice}}\n", 1.5, ""},
		{"by the pack between", "left", "", 2, ""},
		{"by the pack between, named after the one below", "low, left", "", 2, ""},
		{"by the pack between, named before it", "left, low", "", 2, ""},
		{"by the uppermost", "left", "limits: {least: {value: 1.5, basis: practice}}\n", 1.5, ""},
		{"by both of two, and itself", "left, right", "limits: {least: {value: 1.5, basis: practice}}\n", 1.5, ""},
		{"by both of two", "left, right", "", 0, "the packs left and right both give the limit `least`; give it in the pack that " +
			"builds on both"},
		{"in another unit", "low", "limits: {least: {value: 1, unit: deg, basis: practice}}\n", 0,
			"the limit `least` replaces that of the pack low: it is mm there, and deg here"},
		{"with a limit that nothing reads", "low", "limits: {leest: {value: 1, basis: practice}}\n", 0,
			"the limit `leest` replaces none of the packs below, and no rule here reads it; did you mean `least`?"},
		{"with one that is like none", "low", "limits: {quite_another: {value: 1, basis: practice}}\n", 0,
			"the limit `quite_another` replaces none of the packs below, and no rule here reads it; leave it out, or let a rule read it"},
		{"with a figure of the tool", "low", "limits: {wall_friction: {value: 0.1, unit: ratio, basis: practice}}\n", 1, ""},
		{"with a rule of a name that is taken", "low", "rules:\n  a: {title: D, stage: fill, because: b, change: c, over: wall, " +
			"says: x, need: [{grade: change, that: wall.thickness >= limits.most}]}\n", 0,
			"the rule `a` is already given by the pack low; give yours another name"},
		{"with a grade for a rule that is not there", "low", "grades: {aa: ask}\n", 0,
			"`grades` names `aa`, which is no rule of a pack below"},
		{"with a rule left out that is not there", "low", "leave_out: {zebra: x}\n", 0,
			"`leave_out` names `zebra`, which is no rule of a pack below"},
		{"twice", "low, low", "", 0, "`builds_on` names `low` twice"},
		{"on none", "''", "", 0, "an entry of `builds_on` is empty; it names a pack"},
		{"on what is not there", "nowhere", "", 0, "there is no pack nowhere"},
		{"on one that has changed", "{pack: low, sha256: \"0\"}", "", 0, "the pack `low` has changed: its sha256 is "},
	} {
		p, ps := LoadPack([]File{{"top.yaml", []byte(packOn("top", c.on, c.lines))}}, packs(texts))
		if c.says != "" {
			if !strings.Contains(listed(ps), c.says) || p != nil {
				t.Errorf("%s: %s\nwant %s", c.name, listed(ps), c.says)
			}
			continue
		}
		if len(ps) > 0 {
			t.Errorf("%s: %s", c.name, listed(ps))
			continue
		}
		if got := p.Limits["least"].Value; got != c.least || p.Limits["most"].Value != 9 || p.Materials["M"] == nil ||
			p.Presses["P"] == nil {
			t.Errorf("%s: least is %g, want %g", c.name, got, c.least)
		}
		b, ps := NewBook(p)
		if len(ps) > 0 {
			t.Fatal(listed(ps))
		}
		for _, thick := range []float64{c.least - 0.1, c.least + 0.1} {
			out := b.Judge(Case{Part: withWalls(wall(thick)), Unit: "mm"})
			if stop := len(out.Findings) > 0 && out.Findings[0].Grade == Stop; stop != (thick < c.least) {
				t.Errorf("%s: %g is stopped: %v", c.name, thick, stop)
			}
		}
	}
}

// TestInForce: packs and those that they build on are each there once, the lowest last.
func TestInForce(t *testing.T) {
	find := packs(map[string]string{"low": lowest, "left": packOn("left", "low", ""), "right": packOn("right", "low", ""),
		"top": packOn("top", "left, right", "")})
	names := func(all []*Pack) (s string) {
		for _, p := range all {
			s += p.Name + " "
		}
		return s
	}
	var all []*Pack
	for _, name := range []string{"right", "top", "low"} {
		p, ps := find(Base{Name: name})
		if len(ps) > 0 {
			t.Fatal(listed(ps))
		}
		all = append(all, p)
	}
	if got := names(all[1].All()); got != "top left low right " {
		t.Errorf("all of top: %s", got)
	}
	if got := names(InForce(all)); got != "right low top left " {
		t.Errorf("in force: %s", got)
	}
	for _, c := range []struct {
		on, below string
		want      bool
	}{{"left", "low", true}, {"low", "left", false}, {"left", "right", false}, {"top", "low", false}, {"nowhere", "low", false}} {
		if got := all[1].stands(c.on, c.below); got != c.want {
			t.Errorf("%s builds on %s: %v", c.on, c.below, got)
		}
	}
}

// TestBrokenTree: of a kept condition that is cut short no more is read, whatever number of entries it claims to have.
func TestBrokenTree(t *testing.T) {
	r := &treeReader{Reader: tape.Reader{Rest: "\xff\xff\xff\xff\x7f"}}
	calls := 0
	m := readMap(r, map[int64]string{}, func() string {
		if calls++; calls > 100 {
			t.Fatal("reads on")
		}
		return r.Text()
	})
	if calls > 1 || len(m) > 1 || r.Done() {
		t.Errorf("%d entries read, done %v", calls, r.Done())
	}
}
