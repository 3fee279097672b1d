package prove

import (
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"

	"corerod/checker"
	"corerod/rules"
)

// smallPack has one rule; its trials show it at its limit. Lines of the trials start at 2.
const (
	smallPack = `pack: small
version: 1.0.0
title: Small
limits:
  wall: {value: 1.5, unit: mm, basis: practice}
rules:
  wall: {title: W, stage: fill, over: wall, need: [{grade: ask, that: wall.thickness >= limits.wall}], says: x, because: x, change: x}
`
	smallTrials = `trials:
  - {rule: wall, part: tube.yaml, set: {bore.diameter: 27.1}, finds: ask}
  - {rule: wall, part: tube.yaml, finds: none}
`
	// a tube with a wall of 1.5 mm
	tubePart = "part: tube\nunits: mm\nbodies:\n  body: {circle: {diameter: 30}, from: 0, to: 8}\ncuts:\n  bore: {circle: {diameter: 27}}\n"
)

// openParts reads the parts of trials.
func openParts(name string) ([]byte, error) {
	text, ok := map[string]string{
		"tube.yaml": tubePart,
		"eyes.yaml": "part: eyes\nunits: mm\nbodies:\n  bar: {rectangle: {length: 60, width: 30, corner: 3}, from: 0, to: " +
			"8}\ncuts:\n  b: {circle: {diameter: 6, at: [-15, 11]}}\n  c: {circle: {diameter: 6, at: [15, 11]}}\n",
		"plain.yaml":  "part: plain\nunits: mm\nbodies:\n  body: {circle: {diameter: 30}, from: 0, to: 8}\n",
		"broken.yaml": "part: broken\nunits: mm\nbodies:\n  body: {circle: {diameter: none}, from: 0, to: 8}\n",
		"named.yaml":  strings.Replace(tubePart, "units: mm\n", "units: mm\nmaterial: {name: own-mix, density: 6.8}\n", 1),
	}[name]
	if !ok {
		return nil, os.ErrNotExist
	}
	return []byte(text), nil
}

// proved is the proof of a pack with some trials.
func proved(t *testing.T, pack, trials string, shift bool) *Proof {
	t.Helper()
	p, ps := rules.LoadPack([]rules.File{{Name: "pack.yaml", Bytes: []byte(pack)}, {Name: "trials.yaml", Bytes: []byte(trials)}}, nil)
	if len(ps) > 0 {
		t.Fatalf("%v\n%s%s", ps, pack, trials)
	}
	book, ps := rules.NewBook(p)
	if len(ps) > 0 {
		t.Fatal(ps)
	}
	return Pack(p, book, openParts, shift)
}

// said lists what is unproven, by file and line.
func said(p *Proof) (all []string) {
	for _, x := range p.Unproven {
		all = append(all, fmt.Sprintf("%s:%d %s", x.File, x.Line, x.Message))
	}
	return all
}

// TestPackProven: a rule with a trial on either side of its limit is proven, and its limit too.
func TestPackProven(t *testing.T) {
	p := proved(t, smallPack, smallTrials, true)
	if len(p.Unproven) > 0 || len(p.Failed) > 0 || p.Rules != 1 || p.Clauses != 1 || p.Limits != 1 || p.Rows != 0 || p.Figures != 0 ||
		len(p.Trials) != 2 {
		t.Errorf("%v, %d rules, %d clauses, %d limits, %d rows, %d figures, %d trials", said(p), p.Rules, p.Clauses, p.Limits, p.Rows,
			p.Figures, len(p.Trials))
	}
	for i, want := range []rules.Grade{rules.Ask, ""} {
		if x := p.Trials[i]; x.Finds != want || !x.Applied || x.Rule.Name != "wall" || x.Derived == nil {
			t.Errorf("trial %d finds %q, applied %t", i+1, x.Finds, x.Applied)
		}
	}
	if q := proved(t, smallPack, smallTrials, false); q.Limits != 0 || len(q.Unproven) > 0 {
		t.Errorf("without shift %d limits are moved, %v", q.Limits, said(q))
	}
}

// TestPackUnproven: each way in which trials leave a pack unproven, with its place.
func TestPackUnproven(t *testing.T) {
	find, miss := strings.SplitAfter(smallTrials, "\n")[1], strings.SplitAfter(smallTrials, "\n")[2]
	trials := func(all ...string) string { return "trials:\n" + strings.Join(all, "") }
	both := smallPack[:strings.Index(smallPack, "rules:")] + "  high: {value: 9, unit: mm, basis: practice}\n" +
		smallPack[strings.Index(smallPack, "rules:"):]
	high := strings.Replace(both, "wall.thickness >= limits.wall", "wall.thickness >= limits.wall || wall.height > limits.high", 1)
	for _, c := range []struct {
		name, pack, trials string
		shift              bool
		want               []string
	}{
		{"nothing finds it", smallPack, trials(miss), false, []string{"pack.yaml:7 the rule wall has no trial that finds something",
			"pack.yaml:7 the rule wall: `wall.thickness >= limits.wall` was never seen false"}},
		{"nothing nearly does", smallPack, trials(find), false, []string{"pack.yaml:7 the rule wall has no near miss: no trial to " +
			"which it applies finds nothing", "pack.yaml:7 the rule wall: `wall.thickness >= limits.wall` was never seen true"}},
		{"a part to which it does not apply is no near miss", smallPack, trials(find,
			"  - {rule: wall, part: plain.yaml, finds: none}\n"), false,
			[]string{"pack.yaml:7 the rule wall has no near miss: no trial to which it applies finds nothing",
				"pack.yaml:7 the rule wall: `wall.thickness >= limits.wall` was never seen true"}},
		{"it finds nothing and should", smallPack, trials(find, miss, strings.Replace(miss, "none", "ask", 1)), false,
			[]string{"trials.yaml:4 the trial of wall finds none, not ask as it should"}},
		{"it finds something and should not", smallPack, trials(find, miss, strings.Replace(find, "ask", "none", 1)), false,
			[]string{"trials.yaml:4 the trial of wall finds ask, not none as it should"}},
		{"another grade", smallPack, trials(find, miss, strings.Replace(find, "ask", "change", 1)), false,
			[]string{"trials.yaml:4 the trial of wall finds ask, not change as it should"}},
		{"no such rule", smallPack, trials(find, miss, strings.Replace(miss, "wall", "wal", 1)), false,
			[]string{"trials.yaml:4 there is no rule `wal`; did you mean `wall`?"}},
		{"no such part", smallPack, trials(find, miss, strings.Replace(miss, "tube", "gone", 1)), false,
			[]string{"trials.yaml:4 the part gone.yaml cannot be read: file does not exist"}},
		{"no part", smallPack, trials(find, miss, strings.Replace(miss, "tube", "broken", 1)), false,
			[]string{"trials.yaml:4 the part broken.yaml cannot be read: line 4: BROKEN"}},
		{"set to what is none", smallPack, trials(find, miss, strings.Replace(find, "27.1", "none", 1)), false,
			[]string{"trials.yaml:4 SET"}},
		{"a material of nobody", smallPack, trials(find, miss, strings.Replace(miss, "tube", "named", 1)), false,
			[]string{"trials.yaml:4 the part named.yaml is of the material `own-mix`, which the pack does not have; give it in the " +
				"trial's `materials`, or name one of the pack's"}},
		{"one side of an `||` alone", high, trials(find, miss), false, []string{"pack.yaml:8 the rule wall: `wall.height > " +
			"limits.high` was never seen true"}},
		{"both sides", high, trials(find, miss, "  - {rule: wall, part: tube.yaml, set: {body.to: 10, bore.diameter: 28}, finds: "+
			"none}\n"), false, nil},
		{"its limit may be more", smallPack, trials(find, strings.Replace(find, "27.1}, finds: ask", "26}, finds: none", 1)), true,
			[]string{"pack.yaml:5 no trial notices when the limit wall is 1.6 and not 1.5 (wall)"}},
		{"its limit may be less", smallPack, trials(strings.Replace(find, "27.1", "28", 1), miss), true,
			[]string{"pack.yaml:5 no trial notices when the limit wall is 1.4 and not 1.5 (wall)"}},
		{"without shift nobody moves it", smallPack, trials(strings.Replace(find, "27.1", "28", 1), miss), false, nil},
	} {
		p := proved(t, c.pack, c.trials, c.shift)
		got := said(p)
		if len(got) == len(c.want) {
			for i := range got { // the words of other packages are not of interest here
				before, _, cut := strings.Cut(c.want[i], "BROKEN")
				if !cut {
					before, _, cut = strings.Cut(c.want[i], "SET")
				}
				if cut && strings.HasPrefix(got[i], before) {
					got[i] = c.want[i]
				}
			}
		}
		if !slices.Equal(got, c.want) {
			t.Errorf("%s:\n%s\nwant\n%s", c.name, strings.Join(got, "\n"), strings.Join(c.want, "\n"))
		}
		for x, tried := range p.Failed {
			if !slices.Contains(p.Unproven, x) || tried.otherwise() != x.Message {
				t.Errorf("%s: a trial fails by %q, not %q", c.name, tried.otherwise(), x.Message)
			}
		}
		if failed := slices.ContainsFunc(got, func(s string) bool {
			return strings.Contains(s,
				"as it should")
		}); failed != (len(p.Failed) == 1) {
			t.Errorf("%s: %d trials fail", c.name, len(p.Failed))
		}
	}
}

// TestOn: the subject on which a trial is to find something is the one that fails, or that was judged.
func TestOn(t *testing.T) {
	on := func(name string) *Proof {
		return proved(t, smallPack, smallTrials+"  - {rule: wall, part: eyes.yaml, set: {c.at: [15, 0]}, finds: ask, on: "+name+"}\n",
			false)
	}
	is := on("x").Trials[2].Outcome.Findings[0].Over.Place().Name
	if p := on(is); len(p.Unproven) > 0 {
		t.Errorf("on %s: %v", is, said(p))
	}
	got := said(on("bar to c"))
	if want := fmt.Sprintf("trials.yaml:4 the trial of wall finds ask on `%s`, not on `bar to c` as it should", is); len(got) != 1 ||
		got[0] != want {
		t.Errorf("%v, want %s", got, want)
	}
	p := proved(t, smallPack, smallTrials+"  - {rule: wall, part: eyes.yaml, finds: ask, on: x}\n", false)
	if got := said(p); len(got) != 1 || strings.Count(got[0], "`") != 6 { // both walls, each once, and x
		t.Errorf("%v", got)
	}
}

// TestMeasured: what a rule measured: of what it found, else of what is nearest to a limit, which misses by nothing.
func TestMeasured(t *testing.T) {
	p := proved(t, smallPack, smallTrials+"  - {rule: wall, part: eyes.yaml, finds: ask}\n  - {rule: wall, part: plain.yaml, finds: "+
		"none}\n", false)
	for i, want := range []string{"[1.45 by 0.05]", "[1.5 by none]", "[1 by 0.5 1 by 0.5]", "[]"} {
		var got []string
		for _, m := range p.Trials[i].Measured() {
			by := "none"
			if m.MissesBy != nil {
				by = fmt.Sprintf("%.3g", *m.MissesBy)
			}
			got = append(got, fmt.Sprintf("%.4g by %s", m.Value, by))
		}
		if fmt.Sprint(got) != want {
			t.Errorf("trial %d: %v, want %s", i+1, got, want)
		}
	}
	r, _ := checker.Assemble(p.Trials[0].Derived, p.Trials[0].Outcome)
	if len(r.Findings) != 1 || r.Grade != rules.Ask || r.Findings[0].Rule.Name != "wall" {
		t.Errorf("%+v", r)
	}
}

// TestShiftUnread: a limit that no rule reads is told of, and not counted as moved; rules of another pack are not proven here.
func TestShiftUnread(t *testing.T) {
	p := proved(t, smallPack, smallTrials, true)
	spare := *p.Pack
	spare.Limits = map[string]*rules.Limit{"wall": p.Pack.Limits["wall"], "spare": {Limit: p.Pack.Limits["wall"].Limit,
		Origin: rules.Origin{File: "pack.yaml", Line: 3, Pack: "small"}}}
	book, ps := rules.NewBook(p.Pack)
	if len(ps) > 0 {
		t.Fatal(ps)
	}
	q := Pack(&spare, book, openParts, true)
	if q.Rules != 0 || q.Clauses != 0 {
		t.Errorf("%d rules of another pack are proven", q.Rules)
	}
	if got := said(q); len(got) != 1 || got[0] != "pack.yaml:3 no rule reads the limit spare" || q.Limits != 1 {
		t.Errorf("%v, %d limits moved", got, q.Limits)
	}
}

// TestCatalogueEntry: a rule with its limits, the measures that it reads, and the first trials that show it: of near misses the first to
// which it applies.
func TestCatalogueEntry(t *testing.T) {
	text := strings.Replace(smallPack, "over: wall,", "over: wall, when: \"wall.height > 2.0 && part.height < 90.0\",", 1)
	p := proved(t, text, "trials:\n  - {rule: wall, part: plain.yaml, finds: none}\n"+strings.TrimPrefix(smallTrials, "trials:\n")+
		"  - {rule: wall, part: tube.yaml, set: {bore.diameter: 28}, finds: ask}\n  - {rule: wall, part: tube.yaml, set: "+
		"{bore.diameter: 20}, finds: none}\n", false)
	all := Catalogue(p.Pack, p)
	if len(all) != 1 {
		t.Fatalf("%d entries", len(all))
	}
	e := all[0]
	var reads []string
	for _, m := range e.Measures {
		reads = append(reads, m.Kind.Name+"."+m.Field.Name)
	}
	if got := strings.Join(reads, " "); got != "wall.height part.height wall.thickness" {
		t.Errorf("it reads %s", got)
	}
	if e.Rule.Name != "wall" || len(e.Limits) != 1 || e.Limits[0] != p.Pack.Limits["wall"] || len(e.Tables) != 0 {
		t.Errorf("%s has %d limits and %d tables", e.Rule.Name, len(e.Limits), len(e.Tables))
	}
	if e.Fails != &p.Trials[1] || e.Misses != &p.Trials[2] {
		t.Errorf("it is shown by %+v and %+v", e.Fails.Trial, e.Misses.Trial)
	}
	none := proved(t, smallPack, "trials:\n  - {rule: wall, part: plain.yaml, finds: none}\n", false)
	if e := Catalogue(none.Pack, none)[0]; e.Fails != nil || e.Misses != &none.Trials[0] {
		t.Errorf("without a finding: %+v", e)
	}
}
