package rules

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"corerod/parts/subject"
)

// builtinBook is the built-in pack in force alone.
func builtinBook(t testing.TB) *Book {
	t.Helper()
	p, err := LoadBuiltin("press-and-sinter")
	if err != nil {
		t.Fatal(err)
	}
	b, ps := NewBook(p)
	if len(ps) > 0 {
		t.Fatal(ps)
	}
	return b
}

// TestBuiltinWhole compiles and examines every expression of the built-in packs, as is done for a pack from outside.
func TestBuiltinWhole(t *testing.T) {
	if got := Builtin(); !slices.Equal(got, []string{"plain-bearings", "press-and-sinter"}) {
		t.Fatalf("built-in packs %v", got)
	}
	for _, name := range Builtin() {
		files, err := builtinFiles(name)
		if err != nil {
			t.Fatal(err)
		}
		p, ps := LoadPack(files, nil)
		for _, problem := range ps {
			t.Error(problem)
		}
		if p != nil && len(p.Rules) < 12 {
			t.Errorf("%s has %d rules", name, len(p.Rules))
		}
	}
}

func TestBuiltinUnknown(t *testing.T) {
	_, err := LoadBuiltin("press-and-sintre")
	if want := "there is no built-in pack `press-and-sintre`; did you mean `press-and-sinter`?"; err == nil || err.Error() != want {
		t.Errorf("got %v, want %s", err, want)
	}
}

// alone puts a single subject on a part that is otherwise quiet.
func alone(s subject.Subject) *subject.Part {
	p := quiet()
	switch s := s.(type) {
	case *subject.Wall:
		p.Walls = []*subject.Wall{s}
	case *subject.Hole:
		p.Holes = []*subject.Hole{s}
	case *subject.Gap:
		p.Gaps = []*subject.Gap{s}
	case *subject.Corner:
		p.Corners = []*subject.Corner{s}
	case *subject.Trap:
		p.Traps = []*subject.Trap{s}
	case *subject.Crossing:
		p.Crossings = []*subject.Crossing{s}
	case *subject.Step:
		p.Steps = []*subject.Step{s}
	case *subject.Column:
		p.Columns = []*subject.Column{s, {Slenderness: 1}}
	}
	return p
}

// quiet is a part that no rule finds anything on.
func quiet() *subject.Part {
	return &subject.Part{Common: subject.Common{Name: "washer"}, Height: 5, Width: 20, Slenderness: 0.25, Pressing: "both"}
}

func wall(thickness float64) *subject.Wall {
	return &subject.Wall{Thickness: thickness, Height: 3, Ratio: 1, Between: []string{"bore", "rim"}}
}

func ratio(r float64, bush bool) *subject.Wall {
	return &subject.Wall{Thickness: 2, Height: 2 * r, Ratio: r, Between: []string{"bore", "rim"}, PlainBush: bush}
}

func slender(s float64) *subject.Part {
	p := quiet()
	p.Slenderness = s
	return p
}

func pressed(from string, height float64) *subject.Part {
	p := quiet()
	p.Pressing, p.Height = from, height
	return p
}

func through(width, depth float64) *subject.Hole {
	return &subject.Hole{Common: subject.Common{Name: "bore"}, Width: width, Depth: depth, Ratio: depth / width, Through: true,
		Bore: subject.Some(width)}
}

func bush(bore, thickness float64) *subject.Part {
	w := wall(thickness)
	w.PlainBush = true
	p := alone(through(bore, bore))
	p.Walls = []*subject.Wall{w}
	return p
}

func corner(radius float64, inKey, joint bool) *subject.Corner {
	return &subject.Corner{Angle: 90, Radius: radius, InKey: inKey, Joint: joint}
}

func cross(form, madeBy string, crossed bool) *subject.Crossing {
	return &subject.Crossing{Common: subject.Common{Name: "oil-hole"}, Form: form, MadeBy: madeBy, Crossed: crossed}
}

func joints(names ...string) *subject.Part {
	p := quiet()
	p.OpenJoints = names
	return p
}

// with is a quiet part with a change.
func with(change func(*subject.Part)) *subject.Part {
	p := quiet()
	change(p)
	return p
}

func blind(width, ratio, floor float64) *subject.Hole {
	return &subject.Hole{Common: subject.Common{Name: "recess"}, Width: width, Depth: width * ratio, Ratio: ratio, Draft: 7, Open: "top",
		Floor: subject.Some(floor)}
}

func step(declared string, own bool, share, local float64) *subject.Step {
	return &subject.Step{Ledge: 5, Common: subject.Common{Name: "hub on flange"}, Declared: declared, OwnPunch: own, Rise: 5 * share, Share: share,
		LocalShare: local, Draft: 7}
}

// TestBuiltinRules judges parts on both sides of every limit: at the limit is met, a millionth beyond is not.
func TestBuiltinRules(t *testing.T) {
	const beyond = 1e-6
	part := func(s subject.Subject) *subject.Part { return alone(s) }
	for _, c := range []struct {
		part  *subject.Part
		finds string // rule grade, in order of rule; "" for none
	}{
		{quiet(), ""},
		{part(wall(1.5)), ""},
		{part(wall(1.5 - beyond)), "wall-thickness ask"},
		{part(wall(0.8)), "wall-thickness ask"},
		{part(wall(0.8 - beyond)), "wall-thickness change"},
		{bush(3, 1), ""},
		{bush(3, 1-beyond), "bush-wall ask"},
		{bush(3+beyond, 1.5), ""},
		{bush(3+beyond, 1.5-beyond), "wall-thickness ask"},
		{part(ratio(8, false)), ""},
		{part(ratio(8+beyond, false)), "wall-slenderness ask"},
		{part(ratio(16, false)), "wall-slenderness ask"},
		{part(ratio(16+beyond, false)), "wall-slenderness change"},
		{part(ratio(16, true)), ""},
		{part(ratio(16+beyond, true)), "wall-slenderness change"},
		{slender(2.5), ""},
		{slender(2.5 + beyond), "part-slenderness ask"},
		{slender(3), "part-slenderness ask"},
		{slender(3 + beyond), "part-slenderness change"},
		{pressed("top", 7.5), ""},
		{pressed("top", 7.5+beyond), "pressed-height change"},
		{pressed("both", 7.5+beyond), ""},
		{part(through(1.5, 3)), ""},
		{part(through(1.5-beyond, 2.9)), "bore-width ask"},
		{part(through(1.25, 2.5)), "bore-width ask"},
		{part(through(1.25, 2.5+beyond)), "bore-width change"},
		{part(through(1, 2)), "bore-width ask"},
		{part(through(1-beyond, 1)), "bore-width change"},
		{part(through(3, 9)), ""},
		{part(through(3, 9+4*beyond)), "bore-slenderness ask"},
		{part(through(6, 24)), ""},
		{part(through(6, 24+7*beyond)), "bore-slenderness ask"},
		{part(through(12, 72)), ""},
		{part(through(12, 72+13*beyond)), "bore-slenderness ask"},
		{part(through(600, 4800)), ""},
		{part(blind(6.3, 2, 1.5)), ""},
		{part(blind(6.3-beyond, 2, 1.5)), "blind-bore ask"},
		{part(blind(6.3, 2+beyond, 1.5)), "blind-bore ask"},
		{part(blind(6.3, 2, 1.5-beyond)), "blind-floor ask"},
		{part(blind(1, 20, 1)), "blind-bore ask, blind-floor ask"},
		{part(&subject.Hole{Width: 6.3, Ratio: 2, Draft: 7}), ""}, // no floor is known
		{part(step("face", false, 0.15, 0.15)), ""},
		{part(step("face", false, 0.15+beyond, 0.15)), "step-share change"},
		{part(step("face", false, 0.15, 0.15+beyond)), "step-share ask"},
		{part(step("none", false, 0.1, 0.25)), "step-share ask"},
		{part(step("none", false, 0.15, 0.15)), ""},
		{part(step("none", true, 0.9, 0.9)), ""},
		{part(step("own", true, 0.15+beyond, 0.15+beyond)), ""},
		{with(func(p *subject.Part) { p.Pressing, p.Steps = "top", []*subject.Step{step("own", true, 0.1, 0.1)} }), "one-way-step change"},
		{with(func(p *subject.Part) { p.Pressing, p.Steps = "top", []*subject.Step{step("none", false, 0.1, 0.1)} }), ""},
		{with(func(p *subject.Part) { p.PunchesTop, p.PunchesBottom = 2, 3 }), ""},
		{with(func(p *subject.Part) { p.PunchesTop = 3 }), "upper-punches ask"},
		{with(func(p *subject.Part) { p.PunchesTop = 2 + beyond }), "upper-punches ask"},
		{with(func(p *subject.Part) { p.PunchesTop = 3 + beyond }), "upper-punches change"},
		{with(func(p *subject.Part) { p.PunchesTop = 4 }), "upper-punches change"},
		{with(func(p *subject.Part) { p.PunchesBottom = 4 }), "lower-punches ask"},
		{with(func(p *subject.Part) { p.PunchesBottom = 3 + beyond }), "lower-punches ask"},
		{with(func(p *subject.Part) { p.PunchesBottom = 4 + 5*beyond }), "lower-punches change"},
		{with(func(p *subject.Part) { p.Columns = []*subject.Column{{Slenderness: 9}} }), ""}, // a part of one column
		{part(&subject.Column{Standing: 0.5, Slenderness: 3}), ""},
		{part(&subject.Column{Standing: 0.5, Slenderness: 3 + beyond}), "column-slenderness ask"},
		{with(func(p *subject.Part) { p.Mass = subject.Some(2270) }), ""},
		{with(func(p *subject.Part) { p.Mass = subject.Some(2270 + 3*beyond) }), "part-mass ask"}, // the allowance there is 2.27e-6
		{with(func(p *subject.Part) { p.Quantity = subject.Some(10000) }), ""},
		{with(func(p *subject.Part) { p.Quantity = subject.Some(10000 - 11*beyond) }), "quantity ask"}, // and here 1e-5
		{part(&subject.Gap{Width: 1.5, Member: "die"}), ""},
		{part(&subject.Gap{Width: 1.5 - beyond, Member: "die"}), "gap-width ask"},
		{part(corner(0.25, false, false)), ""},
		{part(corner(0.25-beyond, false, false)), "corner-radius ask"},
		{part(corner(0.1, false, false)), "corner-radius ask"},
		{part(corner(0.1-beyond, false, false)), "corner-radius change"},
		{part(corner(0, false, false)), "corner-radius change"},
		{part(corner(0.15, true, false)), ""},
		{part(corner(0.15-beyond, true, false)), "corner-radius ask"},
		{part(corner(0, true, false)), "corner-radius ask"},
		{part(corner(0, false, true)), ""},
		{part(corner(beyond, false, true)), "corner-radius change"},
		{joints(), ""},
		{joints("bore and keyway"), "joint-radius ask"},
		{part(&subject.Trap{Height: 2}), "trapped-undercut stop"},
		{part(cross("hole", "pressing", false)), "cross-feature stop"},
		{part(cross("hole", "machining", false)), ""},
		{part(cross("thread", "pressing", false)), "cross-feature stop"},
		{part(cross("groove", "pressing", false)), "cross-feature stop"},
		{part(cross("knurl", "pressing", false)), ""},
		{part(cross("knurl", "pressing", true)), "cross-feature stop"},
	} {
		out := builtinBook(t).Judge(Case{Part: c.part, Unit: "mm"})
		var found []string
		for _, f := range out.Findings {
			found = append(found, fmt.Sprintf("%s %s", f.Rule.Name, f.Grade))
		}
		if got := strings.Join(found, ", "); got != c.finds {
			t.Errorf("found %q, want %q, on %s", got, c.finds, show(c.part))
		}
		for _, f := range out.Faults {
			t.Errorf("%s: %s", f.Rule.Name, f.Message)
		}
		for _, f := range out.Findings {
			if len(f.Compared) == 0 || len(f.Sources) == 0 || f.Says == "" {
				t.Errorf("%s says %q, compares %v, stands on %v", f.Rule.Name, f.Says, f.Compared, f.Sources)
			}
		}
	}
}

// show writes the measures of a part's subjects, for messages of tests.
func show(p *subject.Part) string {
	var b strings.Builder
	for _, k := range subject.Kinds() {
		for _, s := range subject.Of(p, k) {
			fmt.Fprintf(&b, " %s", k.Name)
			for i := range k.Fields {
				if f := &k.Fields[i]; f.Type == subject.Number {
					if v, ok := f.Number(s); ok && v != 0 {
						fmt.Fprintf(&b, " %s=%v", f.Name, v)
					}
				}
			}
		}
	}
	return b.String()
}

// TestBuiltinSays shows what findings print, in both units.
func TestBuiltinSays(t *testing.T) {
	for _, c := range []struct {
		part *subject.Part
		unit string
		says string
	}{
		{alone(wall(0.7)), "mm", "the wall between bore and rim is 0.7 mm thick"},
		{alone(wall(0.635)), "in", "the wall between bore and rim is 0.025 in thick"},
		{joints("bore and keyway", "hub and web", "web and rim"), "mm", "no radius is given where features meet: bore and keyway; hub and web; web and rim"},
		{alone(cross("hole", "pressing", false)), "mm", "the hole oil-hole lies across the pressing axis"},
		{alone(&subject.Gap{Common: subject.Common{Name: "slot"}, Width: 1.23456, Member: "core-rod"}), "mm", "the gap slot is 1.235 mm wide, so the core-rod is as thin there"},
	} {
		out := builtinBook(t).Judge(Case{Part: c.part, Unit: c.unit})
		if len(out.Findings) != 1 || out.Findings[0].Says != c.says {
			t.Errorf("got %+v, want %q", out.Findings, c.says)
		}
	}
}

// TestApplied counts a rule as applied when a subject passed its `when`.
func TestApplied(t *testing.T) {
	b := builtinBook(t)
	for _, c := range []struct {
		part    *subject.Part
		applied []string
	}{
		{quiet(), []string{"joint-radius", "lower-punches", "part-height", "part-slenderness", "upper-punches", "way-up"}},
		{pressed("top", 5), []string{"joint-radius", "lower-punches", "part-height", "part-slenderness", "upper-punches", "pressed-height", "way-up"}},
		{alone(wall(2)), []string{"joint-radius", "lower-punches", "part-height", "part-slenderness", "upper-punches", "wall-slenderness", "wall-thickness", "way-up"}},
		{alone(cross("knurl", "pressing", false)), []string{"joint-radius", "lower-punches", "part-height", "part-slenderness", "upper-punches", "way-up"}},
	} {
		out := b.Judge(Case{Part: c.part, Unit: "mm"})
		var applied []string
		for _, j := range out.Account {
			if j.Counts() {
				applied = append(applied, j.Rule.Name)
			}
		}
		slices.Sort(c.applied)
		if !slices.Equal(applied, c.applied) || len(out.Account) != len(b.Rules) {
			t.Errorf("applied %v, want %v", applied, c.applied)
		}
	}
}
