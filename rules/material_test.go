package rules

import (
	"math"
	"slices"
	"strings"
	"testing"

	"corerod/parts/stock"
)

// stocked is a pack with one material, curve and press, and a rule over the part that reads the material.
const stocked = `pack: trial
version: 1.0.0
title: Trial
sources: {book: {title: A book}}
materials:
  X-1: {density: [5.8, 7.2], apparent: 3, pore_free: 7.7, pore_free_green: 7.3, size_change: [-0.2, 0.6], composition: {Fe: 98, Cu: 2}, lubricant: 0.75, curve: iron, basis: published, source: book, note: a mix, bases: {apparent: memory}}
  Y-1: {basis: memory}
curves: {iron: {points: [[200, 5.8], [400, 6.7]], basis: memory, note: generic}}
presses: {P-200: {capacity: 2000, fill: 110, eject: 900, upper: 2, lower: 3, ejection_stroke: 90}}
rules:
  trial:
    title: Trial
    stage: fill
    because: b
    change: c
    basis: practice
    over: part
    when: has(material.density_low)
    says: "{has(material.name) ? material.name : 'none'}"
    need: [{grade: ask, that: material.density_low > 6}]
`

func TestStock(t *testing.T) {
	b := bookOf(t, stocked)
	m, ok := b.Material("X-1")
	if !ok || m.DensityHigh != stock.Some(7.2) || m.SizeChangeLow != stock.Some(-0.2) || m.Curve != "iron" || m.Source != "book" ||
		m.Basis != stock.Published || m.BasisOf("apparent") != stock.Memory || m.Lubricant != stock.Some(0.75) || m.Note != "a mix" ||
		!slices.Equal(m.Composition, []stock.Share{{Element: "Fe", Percent: 98}, {Element: "Cu", Percent: 2}}) {
		t.Errorf("%v %+v", ok, m)
	}
	if m, ok := b.Material("Y-1"); !ok || m.DensityLow.Known || m.PoreFree.Known || m.Curve != "" {
		t.Errorf("%v %+v", ok, m)
	}
	if m, ok := b.Material("x-1"); ok {
		t.Errorf("%+v", m)
	}
	if c, ok := b.Curve("iron"); !ok || len(c.Points) != 2 || c.Basis != stock.Memory {
		t.Errorf("%v %+v", ok, c)
	}
	if ps := b.Presses(); len(ps) != 1 || ps[0].Name != "P-200" ||
		ps[0].Press != (stock.Press{Capacity: 2000, Fill: 110, Eject: 900, Upper: 2, Lower: 3, EjectionStroke: 90, Basis: stock.Shop}) {
		t.Errorf("%+v", ps)
	}
}

// TestMaterial has only what is known of the material that the part names: without it the rule is not applicable.
func TestMaterial(t *testing.T) {
	b := bookOf(t, stocked)
	for _, c := range []struct {
		name    string
		applied int
		says    string
	}{{"", 0, ""}, {"Z-1", 0, ""}, {"Y-1", 0, ""}, {"X-1", 1, "X-1"}} {
		out := b.Judge(Case{Part: quiet(), Material: Material{Name: c.name}, Unit: "mm"})
		says := ""
		if len(out.Findings) == 1 {
			says = out.Findings[0].Says
		}
		if out.Account[0].Applied != c.applied || says != c.says || len(out.Faults) > 0 {
			t.Errorf("%q: %+v", c.name, out)
		}
	}
}

// TestStockProblems reads broken materials, curves and presses.
func TestStockProblems(t *testing.T) {
	for _, c := range []struct{ old, new, problems string }{
		{"X-1:", "X_1:", "6:3 `X_1` is no name of a material: a letter, then at most 63 letters, digits or hyphens\n"},
		{"Y-1: {", "Y-1: {densty: 3, ", "7:9 unknown key `densty` in a material; did you mean `density`?\n"},
		{"density: [5.8, 7.2]", "density: [7.2, 5.8]", "6:18 `density` is [7.2, 5.8]; the lowest stands first\n"},
		{"density: [5.8, 7.2]", "density: [5.8]", "6:18 `density` has 1 numbers; it needs two: [lowest, highest]\n"},
		{"density: [5.8, 7.2]", "density: [0, 7.2]", "6:18 `density` is [0, 7.2]; it must lie above 0 and up to 25\n"},
		{"density: [5.8, 7.2]", "density: 6", "6:18 `density` needs a list, not `6`\n"},
		{"density: [5.8, 7.2]", "density: [5.8, 7.8]", "6:54 `pore_free` is 7.7, below the density 7.8; a sintered part cannot be denser than without pores\n"},
		{"apparent: 3,", "apparent: -3,", "6:40 `apparent` is `-3`; it must be above 0 and at most 25\n"},
		{"Fe: 98", "Iron: 98", "6:121 `Iron` is no element; write its symbol, such as Fe\n"},
		{"Fe: 98", "Fe: 90", "6:120 the elements add up to 92 percent; they must make 100\n"},
		{"{Fe: 98, Cu: 2}", "iron", "6:120 `composition` needs elements with percent, such as {Fe: 97.2, Cu: 2, C: 0.8}, not one value\n"},
		{"curve: iron", "curve: irn", "6:161 unknown curve `irn`; did you mean `iron`?\n"},
		{"curves: {iron", "curves: {}\ntables: {iron", ""},
		{"source: book", "source: bok", "6:193 unknown source `bok`; did you mean `book`?\n"},
		{"bases: {apparent: memory}", "bases: {apparent: hearsay}", ""},
		{"Y-1: {", "Y-1: {bases: {density: memory}, ", "7:17 the material has no `density`; leave its basis out\n"},
		{"[400, 6.7]", "[400, 5.7]", "8:38 the point [400, 5.7] does not rise above the one before it; both pressure and density rise along a curve\n"},
		{"[[200, 5.8], [400, 6.7]]", "[[200, 5.8]]", "8:25 `points` has 1 points; a curve needs at least two: [MPa, g/cm3]\n"},
		{"[400, 6.7]", "[400]", "8:38 a point has 1 numbers; it needs two: [MPa, g/cm3]\n"},
		{"upper: 2", "upper: 2.5", "9:65 `upper` is `2.5`; punches are counted\n"},
		{"capacity: 2000, ", "", "9:18 a press needs `capacity`\n"},
	} {
		if !strings.Contains(stocked, c.old) {
			t.Fatalf("nothing to replace: %s", c.old)
		}
		p, ps := load(strings.Replace(stocked, c.old, c.new, 1))
		if got := listed(ps); p != nil || len(ps) == 0 || c.problems != "" && got != c.problems {
			t.Errorf("%s:\n got %swant %s", c.new, got, c.problems)
		}
	}
}

// TestStockClash names what two packs both give.
func TestStockClash(t *testing.T) {
	a, _ := load(stocked)
	b, _ := load(strings.Replace(strings.Replace(stocked, "pack: trial", "pack: other", 1), "  trial:", "  other:", 1))
	_, ps := NewBook(a, b)
	got := listed(ps)
	for _, what := range []string{"the material `X-1`", "the material `Y-1`", "the curve `iron`", "the press `P-200`"} {
		if !strings.Contains(got, what) {
			t.Errorf("%s is not named in\n%s", what, got)
		}
	}
}

// TestBuiltinStock holds the built-in materials and curves against their tables.
func TestBuiltinStock(t *testing.T) {
	b := builtinBook(t)
	for _, c := range []struct {
		name      string
		low, high float64
		basis     stock.Basis
		curve     string
	}{
		{"F-0000", 6.1, 6.7, "published", "atomised-iron"}, {"F-0005", 6.1, 6.9, "published", "atomised-iron"}, {"F-0008", 5.8, 7.0, "published", "atomised-iron"},
		{"FC-0205", 6.0, 7.1, "published", "atomised-iron"}, {"FC-0208", 5.8, 7.2, "published", "atomised-iron"}, {"FN-0205", 6.6, 7.4, "published", "atomised-iron"},
		{"FN-0208", 6.7, 7.4, "published", "atomised-iron"}, {"FD-0205", 6.75, 7.4, "published", ""}, {"FX-1008", 7.2, 7.4, "memory", ""},
		{"SS-316L", 6.4, 6.9, "memory", ""}, {"CT-1000", 5.8, 7.2, "memory", ""}, {"CZ-1000", 7.6, 8.1, "memory", ""},
	} {
		m, ok := b.Material(c.name)
		if !ok || m.DensityLow.Value != c.low || m.DensityHigh.Value != c.high || m.BasisOf("density") != c.basis || m.Curve != c.curve {
			t.Errorf("%s: %v %+v", c.name, ok, m)
		}
		if m.PoreFree.Known && m.BasisOf("pore_free") != stock.Memory || m.SizeChangeLow.Known && m.BasisOf("size_change") != stock.Memory {
			t.Errorf("%s: figures from memory stand on another basis: %+v", c.name, m)
		}
	}
	if n := len(b.Packs[0].Materials); n != 12 {
		t.Errorf("%d materials", n)
	}
	// The rule of mixtures, worked out from the elements: 100 / sum of percent over density; sintered with the carbon as Fe3C, of which it is
	// 6.67 percent, at 7.69 g/cm3 (memory).
	fc, _ := b.Material("FC-0208")
	carbide := 0.8 / 0.0667
	mix := 100 / ((97.2+0.8-carbide)/7.87 + 2/8.96 + carbide/7.69)
	green := 100 / (96.45/7.87 + 2/8.96 + 0.8/2.25 + 0.75/1.00)
	if math.Abs(fc.PoreFree.Value-mix) > 5e-4 || math.Abs(fc.PoreFreeGreen.Value-green) > 5e-4 {
		t.Errorf("FC-0208 without pores %v and %v, by its elements %.4f and %.4f", fc.PoreFree, fc.PoreFreeGreen, mix, green)
	}
	for name, at500 := range map[string]float64{"atomised-iron": 6.93, "sponge-iron": 6.66} {
		c, ok := b.Curve(name)
		if d, known := c.Density(500); !ok || !known || d != at500 || len(c.Points) != 7 || c.Basis != stock.Memory {
			t.Errorf("%s: %v %+v", name, ok, c)
		}
	}
	atomised, _ := b.Curve("atomised-iron")
	if p, ok := atomised.Pressure(7.34); ok {
		t.Errorf("a density past the curve needs %g MPa", p)
	}
}
