package rules

import (
	"strings"
	"testing"

	"corerod/parts/stock"
)

// TestStockBounds: each figure of a material, curve and press at its bound is read, and just past it refused.
func TestStockBounds(t *testing.T) {
	pack := func(section, key, value string) string {
		body := map[string]string{
			"materials": "materials: {X: {basis: memory, " + key + ": " + value + "}}\n",
			"curves":    "curves: {c: {basis: memory, " + key + ": " + value + "}}\n",
			"presses":   "presses: {P: {capacity: 1, fill: 1, eject: 1, ejection_stroke: 1, upper: 1, lower: 1}}\n",
		}[section]
		if section == "presses" {
			body = strings.Replace(body, key+": 1", key+": "+value, 1)
		}
		return "pack: trial\nversion: 1.0.0\ntitle: Trial\n" + body
	}
	points := "points: [[1, 1], [2, 2]], strength"
	for _, c := range []struct{ section, key, in, out, says string }{
		{"materials", "apparent", "25", "25.01", "`apparent` is `25.01`; it must be above 0 and at most 25"},
		{"materials", "apparent", "0.01", "0", "`apparent` is `0`; it must be above 0 and at most 25"},
		{"materials", "pore_free", "25", "26", "`pore_free` is `26`; it must be above 0 and at most 25"},
		{"materials", "pore_free_green", "25", "26", "`pore_free_green` is `26`; it must be above 0 and at most 25"},
		{"materials", "lubricant", "10", "10.1", "`lubricant` is `10.1`; it must be above 0 and at most 10"},
		{"materials", "density", "[0.1, 25]", "[0.1, 25.1]", "`density` is [0.1, 25.1]; it must lie above 0 and up to 25"},
		{"materials", "density", "[7, 7]", "[7.1, 7]", "`density` is [7.1, 7]; the lowest stands first"},
		{"materials", "density", "[1, 2]", "[0, 2]", "`density` is [0, 2]; it must lie above 0 and up to 25"},
		{"materials", "density", "[1, 2]", "[1]", "`density` has 1 numbers; it needs two: [lowest, highest]"},
		{"materials", "density", "[1, 2]", "[1, 2, 3]", "`density` has 3 numbers; it needs two: [lowest, highest]"},
		{"materials", "size_change", "[-49.9, 50]", "[-50, 50]", "`size_change` is [-50, 50]; it must lie above -50 and up to 50"},
		{"materials", "size_change", "[0, 0]", "[0, 50.1]", "`size_change` is [0, 50.1]; it must lie above -50 and up to 50"},
		{"materials", "composition", "{Fe: 99}", "{Fe: 98.9}", "the elements add up to 98.9 percent; they must make 100"},
		{"materials", "composition", "{Fe: 98, Cu: 2, C: 1}", "{Fe: 98, Cu: 2, C: 1.1}",
			"the elements add up to 101.1 percent; they must make 100"},
		{"materials", "composition", "{Fe: 100}", "{Fe: 100.5}", "the percent of Fe is `100.5`; it must be above 0 and at most 100"},
		{"materials", "composition", "{Fe: 100}", "{Iron: 100}", "`Iron` is no element; write its symbol, such as Fe"},
		{"materials", "composition", "{C: 100}", "{c: 100}", "`c` is no element; write its symbol, such as Fe"},
		{"materials", "composition", "{Fe: 100}", "{FE: 100}", "`FE` is no element; write its symbol, such as Fe"},
		{"materials", "composition", "{Fe: 100}", "[Fe]", "`composition` needs elements with percent"},
		{"materials", "density: [6, 7], pore_free", "7", "6.99", "`pore_free` is 6.99, below the density 7; a sintered part cannot " +
			"be denser than without pores"},
		{"materials", "bases", "{}", "{apparent: memory}", "the material has no `apparent`; leave its basis out"},
		{"curves", "points", "[[1, 1], [100000, 25]]", "[[1, 1], [100001, 25]]",
			"the pressure is `100001`; it must be above 0 and at most 100000"},
		{"curves", "points", "[[1, 1], [2, 25]]", "[[1, 1], [2, 25.1]]", "the density is `25.1`; it must be above 0 and at most 25"},
		{"curves", "points", "[[1, 1], [2, 2]]", "[[1, 1]]", "`points` has 1 points; a curve needs at least two: [MPa, g/cm3]"},
		{"curves", "points", "[[1, 1], [2, 2]]", "[[1, 1], [2, 2, 3]]", "a point has 3 numbers; it needs two: [MPa, g/cm3]"},
		{"curves", "points", "[[1, 1], [1.001, 1.001]]", "[[1, 1], [1, 2]]",
			"the point [1, 2] does not rise above the one before it; both pressure and density rise along a curve"},
		{"curves", "points", "[[1, 1], [2, 1.1]]", "[[1, 1], [2, 1]]",
			"the point [2, 1] does not rise above the one before it; both pressure and density rise along a curve"},
		{"curves", points, "[[1, 1], [25, 100000]]", "[[1, 1], [25, 100001]]",
			"the strength is `100001`; it must be above 0 and at most 100000"},
		{"curves", points, "[[1, 1], [25, 2]]", "[[1, 1], [25.1, 2]]", "the density is `25.1`; it must be above 0 and at most 25"},
		{"curves", points, "[[1, 1], [25, 2]]", "[[1, 1]]", "`strength` has 1 points; a curve needs at least two: [g/cm3, MPa]"},
		{"presses", "capacity", "1000000", "1000001", "`capacity` is `1000001`; it must be above 0 and at most 1e+06"},
		{"presses", "upper", "3", "2.5", "`upper` is `2.5`; punches are counted"},
		{"presses", "lower", "3", "0.5", "`lower` is `0.5`; punches are counted"},
		{"presses", "fill", "2.5", "0", "`fill` is `0`; it must be above 0 and at most 1e+06"},
	} {
		if _, ps := load(pack(c.section, c.key, c.in)); len(ps) > 0 {
			t.Errorf("%s %s: %s", c.key, c.in, listed(ps))
		}
		_, ps := load(pack(c.section, c.key, c.out))
		if len(ps) != 1 || !strings.Contains(ps[0].Message, c.says) {
			t.Errorf("%s %s: %s\nwant %s", c.key, c.out, listed(ps), c.says)
		}
	}
}

// TestGivenTwice: of what is given under one name in two files of a pack the first stands, and the second is told of.
func TestGivenTwice(t *testing.T) {
	first := "pack: trial\nversion: 1.0.0\ntitle: Trial\n"
	for _, c := range []struct{ section, name, one, other string }{
		{"materials", "X", "{basis: memory, apparent: 2}", "{basis: memory, apparent: 3}"},
		{"curves", "c", "{basis: memory, points: [[1, 1], [2, 2]]}", "{basis: memory, points: [[1, 1], [3, 3]]}"},
		{"presses", "P", "{capacity: 1, fill: 1, eject: 1, ejection_stroke: 1, upper: 1, lower: 1}",
			"{capacity: 2, fill: 1, eject: 1, ejection_stroke: 1, upper: 1, lower: 1}"},
		{"limits", "w", "{value: 1, basis: practice}", "{value: 2, basis: practice}"},
		{"tables", "d", "{x: a, y: b, between: line, rows: [[1, 2]], basis: memory}",
			"{x: a, y: b, between: line, rows: [[1, 3]], basis: memory}"},
		{"sources", "s", "{title: A}", "{title: B}"},
	} {
		line := func(of string) string { return c.section + ": {" + c.name + ": " + of + "}\n" }
		// Nothing more is said of the second, even where keys are missing.
		for _, other := range []string{c.other, "{}"} {
			if _, ps := LoadPack([]File{{"pack.yaml", []byte(first + line(c.one))}, {"second.yaml", []byte(line(other))}},
				nil); len(ps) != 1 {
				t.Errorf("%s, then %s: %s", c.section, other, listed(ps))
			}
		}
		_, ps := LoadPack([]File{{"pack.yaml", []byte(first + line(c.one))}, {"second.yaml", []byte(line(c.other))}}, nil)
		if len(ps) != 1 || ps[0].File != "second.yaml" || ps[0].Line != 1 || !strings.Contains(ps[0].Message, "already given") ||
			!strings.Contains(ps[0].Message, "pack.yaml") {
			t.Errorf("%s: %s", c.section, listed(ps))
		}
	}
}

// TestVersions: three whole numbers of at most six digits; the later one is that of the first number that differs.
func TestVersions(t *testing.T) {
	for s, want := range map[string]bool{"1.0.0": true, "0.0.0": true, "123456.1.1": true, "1234567.1.1": false, "1.0": false,
		"1.0.0.0": false, "1..0": false, "": false, "1.a.0": false, "1.-1.0": false, "1.0.0 ": false} {
		if isVersion(s) != want {
			t.Errorf("%q is a version: %v", s, !want)
		}
	}
	for _, c := range []struct {
		a, b string
		want bool
	}{{"1.0.0", "1.0.0", false}, {"2.0.0", "1.9.9", true}, {"1.9.9", "2.0.0", false}, {"1.10.0", "1.9.0", true}, {"1.9.0", "1.10.0",
		false}, {"1.0.2", "1.0.1", true}, {"1.0.1", "1.0.2", false}, {"0.9.9", "1.0.0", false}} {
		if got := laterVersion(c.a, c.b); got != c.want {
			t.Errorf("%s is later than %s: %v", c.a, c.b, got)
		}
	}
}

// TestNames of what packs hold: what begins, goes on and is too long, one that is a word of expressions.
func TestNames(t *testing.T) {
	long := strings.Repeat("a", 64)
	for _, c := range []struct {
		s             string
		figure, stock bool
	}{
		{"a", true, true}, {"a_b1", true, false}, {"a-b", false, true}, {"A-1", false, true}, {"1a", false, false}, {"", false, false},
		{long, true, true}, {long + "a", false, false},
		{"_a", false, false}, {"-a", false, false}, {"in", false, true}, {"inn", true, true}, {"é", false, false}, {"a b", false, false},
	} {
		if isFigureName(c.s) != c.figure || isStockName(c.s) != c.stock {
			t.Errorf("%q names a limit: %v, a material: %v", c.s, isFigureName(c.s), isStockName(c.s))
		}
	}
	for s, want := range map[string]bool{"C": true, "Fe": true, "FE": false, "fe": false, "Fee": false, "": false, "F1": false} {
		if s != "" && isSymbol(s) != want {
			t.Errorf("%q is a symbol: %v", s, !want)
		}
	}
}

// TestReservedRules: rules cannot be named as records of concessions name what is no finding.
func TestReservedRules(t *testing.T) {
	for _, name := range []string{"part-gone", "newly-machined"} {
		_, ps := load(strings.Replace(withNeed("wall", "wall.thickness >= limits.least"), "  trial:", "  "+name+":", 1))
		if len(ps) != 1 || !strings.Contains(ps[0].Message, "a rule cannot be named `"+name+"`: records of concessions use that "+
			"name; choose another") || ps[0].Line != 15 || ps[0].Column != 3 {
			t.Errorf("%s: %s", name, listed(ps))
		}
	}
}

// TestAskedInVain: a measure that is always there needs no asking; of a text that may be empty it is told how to ask.
func TestAskedInVain(t *testing.T) {
	for that, says := range map[string]string{
		"has(wall.thickness)": "`wall.thickness` is always present; leave `has( )` out",
		"has(wall.web)":       "`wall.web` is always present; leave `has( )` out",
		"has(hole.open)":      "`hole.open` is always present; leave `has( )` out",
		"has(part.title)": "`part.title` is always present; leave `has( )` out; where the file does not state it, it " +
			"is empty: `part.title == \"\"`",
		"part.walls.all(w, has(w.web))": "`w.web` is always present; leave `has( )` out",
	} {
		over := "wall"
		if strings.Contains(that, "hole") {
			over = "hole"
		}
		_, ps := load(withNeed(over, that))
		if len(ps) != 1 || !strings.HasSuffix(ps[0].Message, says) {
			t.Errorf("%s: %s", that, listed(ps))
		}
	}
}

// TestMixed: what a material does not state of its density without pores follows from its elements by the rule of mixtures,
// 100 / (98/7.87 + 2/8.96), and with lubricant of 1.00 g/cm3 (from memory), and stands as derived.
func TestMixed(t *testing.T) {
	load := func(figures string) stock.Material {
		m, ok := bookOf(t, "pack: trial\nversion: 1.0.0\ntitle: Trial\nmaterials: {X: {basis: shop, source: s, "+
			""+figures+"}}\nsources: {s: {title: S}}\n").Material("X")
		if !ok {
			t.Fatal("no material")
		}
		return m
	}
	free := 100 / (98/7.87 + 2/8.96)
	green := 100 / (99.25/free + 0.75)
	for _, c := range []struct {
		figures                  string
		free, green              float64
		freeBy, greenBy, alsoFor stock.Basis
	}{
		{"composition: {Fe: 98, Cu: 2}", free, 0, stock.Derived, stock.Shop, stock.Shop},
		{"composition: {Fe: 98, Cu: 2}, lubricant: 0.75", free, green, stock.Derived, stock.Derived, stock.Shop},
		{"composition: {Fe: 98, Cu: 2}, pore_free: 7.7", 7.7, 0, stock.Shop, stock.Shop, stock.Shop},
		{"pore_free: 7.7, lubricant: 0.75", 7.7, 100 / (99.25/7.7 + 0.75), stock.Shop, stock.Derived, stock.Shop},
		{"pore_free: 7.7, lubricant: 0.75, pore_free_green: 7.3", 7.7, 7.3, stock.Shop, stock.Shop, stock.Shop},
		{"lubricant: 0.75", 0, 0, stock.Shop, stock.Shop, stock.Shop},
	} {
		m := load(c.figures)
		near := func(f stock.Figure, want float64) bool {
			return f.Known == (want > 0) && f.Value-want < 1e-8 && want-f.Value < 1e-8
		}
		if !near(m.PoreFree, c.free) || !near(m.PoreFreeGreen, c.green) || m.BasisOf("pore_free") != c.freeBy ||
			m.BasisOf("pore_free_green") != c.greenBy || m.BasisOf("lubricant") != c.alsoFor {
			t.Errorf("%s: %+v", c.figures, m)
		}
	}
}
