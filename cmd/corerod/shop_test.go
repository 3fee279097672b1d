package main

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"golang.org/x/tools/txtar"
)

// lay makes an empty folder the working one and writes files into it, given as a txtar archive.
func lay(t *testing.T, files string) {
	t.Helper()
	t.Chdir(t.TempDir())
	for _, f := range txtar.Parse([]byte(files)).Files {
		if err := os.MkdirAll(filepath.Dir(f.Name), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(f.Name, f.Data, 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

const disc = `
-- disc.yaml --
part: disc
units: mm
bodies:
  disc: {circle: {diameter: 30}, from: 0, to: 6}
cuts:
  bore: {circle: {diameter: 10}}
`

const shopHead = "pack: hilltop\nversion: 1.0.0\ntitle: Hilltop\nbuilds_on: [press-and-sinter]\nsources: {qp: {title: Procedure}}\n"

// TestBrokenShops: whatever is wrong with a shop's folder is told with its place, status 2.
func TestBrokenShops(t *testing.T) {
	pack := func(text string) string {
		return "-- corerod.yaml --\npacks: [hilltop]\n-- hilltop/pack.yaml --\n" + text
	}
	limits := func(text string) string { return pack(shopHead + "limits:\n  " + text + "\n") }
	for _, c := range []struct{ name, files, says string }{
		{"an unknown key", "-- corerod.yaml --\npack: [hilltop]\n", "line 1, column 1: unknown key `pack` in a shop file; did you mean `packs`?"},
		{"packs that are no list", "-- corerod.yaml --\npacks: hilltop\n", "line 1, column 8: `packs` needs a list"},
		{"no packs", "-- corerod.yaml --\npacks: []\n", "line 1, column 8: `packs` is empty"},
		{"a pack that is not there", "-- corerod.yaml --\npacks: [hilltop]\n", "line 1, column 9: there is no pack `hilltop`"},
		{"a misspelt built-in pack", "-- corerod.yaml --\npacks: [press-and-sintre]\n", "did you mean `press-and-sinter`?"},
		{"a pack twice", "-- corerod.yaml --\npacks: [press-and-sinter, press-and-sinter]\n", "line 1, column 27: `packs` names `press-and-sinter` twice"},
		{"a path out of the folder", "-- corerod.yaml --\npacks: [../hilltop]\n", "line 1, column 9: `../hilltop` leads out of the folder of the shop file"},
		{"a path from the root", "-- corerod.yaml --\npacks: [/etc]\n", "`/etc` leads out of the folder of the shop file"},
		{"a grade that is none", "-- corerod.yaml --\nstatus_at: never\n", "line 1, column 12: `status_at` is `never`; it must be one of `stop`, `change`, `ask`"},
		{"concessions outside", "-- corerod.yaml --\nconcessions: ../c.yaml\n", "line 1, column 14: `concessions` is `../c.yaml`; it must be the path of a file below the shop file"},
		{"a digest that differs", "-- corerod.yaml --\npacks: [{pack: press-and-sinter, sha256: \"00\"}]\n", "line 1, column 9: the pack `press-and-sinter` has changed: its sha256 is "},
		{"a tag", "-- corerod.yaml --\npacks: [!pack hilltop]\n", "line 1, column 9: "},
		{"an anchor", "-- corerod.yaml --\npacks: &a [hilltop]\n", "line 1, column 8: "},
		{"a folder without pack.yaml", "-- corerod.yaml --\npacks: [hilltop]\n-- hilltop/limits.yaml --\nlimits: {}\n-- hilltop/rules.yaml --\nrules: {}\n", "a pack of several files needs one named pack.yaml"},
		{"a circle", "-- corerod.yaml --\npacks: [a]\n-- a/pack.yaml --\npack: a\nversion: 1.0.0\ntitle: A\nbuilds_on: [b]\n-- b/pack.yaml --\npack: b\nversion: 1.0.0\ntitle: B\nbuilds_on: [a]\n", "the packs build on each other in a circle"},
		{"itself", "-- corerod.yaml --\npacks: [a]\n-- a/pack.yaml --\npack: a\nversion: 1.0.0\ntitle: A\nbuilds_on: [a]\n", "the packs build on each other in a circle"},
		{"a changed digest below", pack(strings.Replace(shopHead, "[press-and-sinter]", "[{pack: press-and-sinter, sha256: abc}]", 1)), "hilltop/pack.yaml:\n  line 4, column 13: the pack `press-and-sinter` has changed"},
		{"an unknown pack below", pack(strings.Replace(shopHead, "press-and-sinter", "steel", 1)), "line 4, column 13: there is no pack `steel`"},
		{"a path below that leads out", pack(strings.Replace(shopHead, "press-and-sinter", "../../steel", 1)), "line 4, column 13: `../../steel` leads out of the folder of the shop file"},
		{"a misspelt limit", limits("wall_lest: {value: 2, unit: mm, basis: shop, source: qp}"), "line 7, column 3: the limit `wall_lest` replaces none of the packs below, and no rule here reads it; did you mean `wall_least`?"},
		{"another unit", limits("wall_least: {value: 2, unit: deg, basis: shop, source: qp}"), "line 7, column 3: the limit `wall_least` replaces that of the pack press-and-sinter: it is mm there, and deg here"},
		{"no ground", limits("wall_least: {value: 2, unit: mm, basis: shop}"), "basis `shop` needs a `source`"},
		{"an unknown source", limits("wall_least: {value: 2, unit: mm, basis: shop, source: qq}"), "unknown source `qq`"},
		{"a grade for no rule", pack(shopHead + "grades: {wall-thicknes: ask}\n"), "line 6, column 10: `grades` names `wall-thicknes`, which is no rule of a pack below; did you mean `wall-thickness`?"},
		{"a stop on memory", pack(shopHead + "grades: {part-mass: stop, bore-slenderness: stop}\n"), "line 6, column 27: rule `bore-slenderness`: a `stop` cannot rest on memory alone"},
		{"no reason", pack(shopHead + "leave_out: {quantity: \"\"}\n"), "line 6, column 23: the reason to leave `quantity` out is empty; it needs text"},
		{"nothing to leave out", pack(shopHead + "leave_out: {quantty: we make few}\n"), "`leave_out` names `quantty`, which is no rule of a pack below; did you mean `quantity`?"},
		{"a rule of the same name", pack(shopHead + "rules:\n  quantity: {title: Q, stage: tool, over: part, basis: practice, need: [{grade: ask, that: part.height > 1}], says: q, because: q, change: q}\n"), "the rule `quantity` is already given by the pack press-and-sinter; give yours another name"},
		{"a rule that reads no limit there is", pack(shopHead + "rules:\n  own: {title: Q, stage: tool, over: part, need: [{grade: ask, that: part.height > limits.hight_least}], says: q, because: q, change: q}\n"), "unknown limit `hight_least`; did you mean `height_least`?"},
		{"two packs with one figure", "-- corerod.yaml --\npacks: [a, b]\n-- a.yaml --\n-- a/pack.yaml --\npack: a\nversion: 1.0.0\ntitle: A\nlimits: {x: {value: 1, unit: mm, basis: practice}}\n-- b/pack.yaml --\npack: b\nversion: 1.0.0\ntitle: B\nlimits: {x: {value: 2, unit: mm, basis: practice}}\n", "packs `a` and `b` both give the limit `x`"},
		{"two packs below with one figure", pack(strings.Replace(shopHead, "[press-and-sinter]", "[a, b]", 1)) + "-- a/pack.yaml --\npack: a\nversion: 1.0.0\ntitle: A\nlimits: {x: {value: 1, unit: mm, basis: practice}}\n-- b/pack.yaml --\npack: b\nversion: 1.0.0\ntitle: B\nlimits: {x: {value: 2, unit: mm, basis: practice}}\n", "the packs a and b both give the limit `x`; give it in the pack that builds on both"},
		{"a pack beside one that builds on it", "-- corerod.yaml --\npacks: [plain-bearings, press-and-sinter]\n", "line 1, column 25: plain-bearings builds on press-and-sinter already; leave press-and-sinter out"},
		{"a file of the pack that is no YAML", pack(shopHead) + "-- hilltop/more.yaml --\nrules: [\n", "Problems in hilltop/more.yaml"},
		{"the same key in two files", pack(shopHead) + "-- hilltop/more.yaml --\nsources: {qp: {title: Other}}\n", "the source `qp` is already given in hilltop/pack.yaml, line 5"},
	} {
		lay(t, c.files+disc)
		out, errs, status := run([]string{"review", "disc.yaml"}, "")
		text := strings.Join(strings.Fields(out+errs), " ")
		if status != "2" || !strings.Contains(text, strings.Join(strings.Fields(c.says), " ")) {
			t.Errorf("%s: status %s, want\n  %s\ngot\n%s%s", c.name, status, c.says, out, errs)
		}
	}
}

// TestShopBelow: a path that starts with ./ leads below the shop file like one without.
func TestShopBelow(t *testing.T) {
	lay(t,
		disc+
			"-- corerod.yaml --\npacks: [./hilltop]\n-- hilltop/pack.yaml --\npack: hilltop\nversion: 1.0.0\ntitle: Hilltop\nbuilds_on: [./low.yaml]\n-- low.yaml --\npack: low\nversion: 1.0.0\ntitle: Low\nbuilds_on: [press-and-sinter]\n")
	if out, errs, status := run([]string{"review", "disc.yaml"}, ""); status != "0" || !strings.Contains(out, "hilltop 1.0.0") {
		t.Errorf("status %s\n%s%s", status, out, errs)
	}
}

// TestShopLinks: a pack behind a link that leads out of the shop's folder is not reached.
func TestShopLinks(t *testing.T) {
	lay(t, "-- outside/pack.yaml --\n"+shopHead+"-- shop/corerod.yaml --\npacks: [hilltop]\n"+
		strings.Replace(disc, "disc.yaml", "shop/disc.yaml", 1))
	if err := os.Symlink("../outside", "shop/hilltop"); err != nil {
		t.Skip(err)
	}
	if out, errs, status := run([]string{"review", "shop/disc.yaml"}, ""); status != "2" ||
		!strings.Contains(out+errs, "the pack `hilltop` cannot be read: path escapes") {
		t.Errorf("status %s\n%s%s", status, out, errs)
	}
}

// TestShopFile: the nearest shop file above the part is in force, and what the options name instead of it.
func TestShopFile(t *testing.T) {
	pack := func(name, value string) string {
		return "-- " + name + "/pack.yaml --\n" + strings.Replace(shopHead, "hilltop", name, 1) + "limits: {quantity_least: {value: " +
			value + ", unit: count, basis: shop, source: qp}}\n"
	}
	part := func(at string) string { return strings.Replace(disc, "disc.yaml", at+"/disc.yaml", 1) }
	lay(t, "-- corerod.yaml --\npacks: [outer]\nstatus_at: ask\n-- in/corerod.yaml --\npacks: [inner]\n"+
		pack("outer", "50")+strings.ReplaceAll(pack("inner", "60"), "-- inner", "-- in/inner")+part("in/deep")+part("out"))
	for _, c := range []struct {
		args         []string
		status, says string
	}{
		{[]string{"review", "out/disc.yaml"}, "0", "Shop file: corerod.yaml, sha256"},
		{[]string{"review", "in/deep/disc.yaml"}, "0", "In force: inner 1.0.0"},
		{[]string{"review", "in/deep/disc.yaml", "--shop", "corerod.yaml"}, "0", "In force: outer 1.0.0"},
		{[]string{"review", "in/deep/disc.yaml", "--no-shop"}, "0", "In force: press-and-sinter"},
		{[]string{"review", "in/deep/disc.yaml", "--pack", "plain-bearings"}, "0", "In force: plain-bearings"},
		{[]string{"review", "in", "out"}, "0", "Rules of 2, from grade change on: Shop file: in/corerod.yaml"},
		{[]string{"review", "in", "--shop", "x", "--no-shop"}, "2", "--shop and --no-shop are given; give one"},
		{[]string{"review", "in", "--shop", "none.yaml"}, "2", "the shop file none.yaml cannot be read"},
		{[]string{"measure", "in/deep/disc.yaml", "--subjects", "part"}, "0", "part"},
		{[]string{"tooling", "in/deep/disc.yaml"}, "0", "In force: inner 1.0.0"},
	} {
		out, errs, status := run(c.args, "")
		if status != c.status || !strings.Contains(strings.Join(strings.Fields(out+errs), " "), c.says) {
			t.Errorf("%v: status %s, want %q:\n%s%s", c.args, status, c.says, out, errs)
		}
	}
}

// TestTwentyChanges: a shop pack with twenty changes over the built-in one: every figure with its origin, and review,
// measure and tooling by it.
func TestTwentyChanges(t *testing.T) {
	limits := map[string]string{
		"wall_least": "1.8, unit: mm", "wall_special": "1.0, unit: mm", "bore_least": "2, unit: mm", "gap_least": "2, unit: mm", "corner_usual": "0.3, unit: mm",
		"floor_least": "2, unit: mm", "flange_least": "2.5, unit: mm", "chamfer_flat": "0.25, unit: mm", "quantity_least": "5000, unit: count", "height_usual": "60, unit: mm",
		"wall_friction": "0.08, unit: ratio", "springback": "0.2, unit: percent", "press_load": "0.75, unit: ratio", "one_way_height": "0.25, unit: in",
	}
	var text strings.Builder
	text.WriteString(shopHead + "limits:\n")
	for name, v := range limits {
		fmt.Fprintf(&text, "  %s: {value: %s, basis: shop, source: qp}\n", name, v)
	}
	text.WriteString(`grades: {part-slenderness: ask, mark-height: ask}
leave_out: {quantity: we press small lots}
curves: {own-iron: {points: [[300, 6.3], [700, 7.2]], strength: [[6.4, 8], [7.0, 18]], basis: shop, source: qp}}
materials: {FC-0208: {density: [6.2, 7.1], apparent: 2.9, pore_free: 7.74, size_change: [0.3, 0.5], lubricant: 0.8, curve: own-iron, basis: shop, source: qp}}
presses: {P-200: {capacity: 2000, fill: 110, eject: 900, upper: 2, lower: 3, ejection_stroke: 90}}
`)
	lay(t, "-- corerod.yaml --\npacks: [hilltop]\n-- hilltop/pack.yaml --\n"+text.String()+`
-- post.yaml --
part: post
units: mm
material: {name: FC-0208, density: 6.8}
quantity: 10
bodies:
  post: {circle: {diameter: 12}, from: 0, to: 40}
-- plug.yaml --
part: plug
units: mm
material: {name: own-mix, density: 6.8}
bodies:
  plug: {circle: {diameter: 12}, from: 0, to: 10}
`)
	out, errs, status := run([]string{"pack", "show", "--pack", "hilltop", "--to", "json=-"}, "")
	var shown struct {
		Packs  []struct{ Pack string }
		Limits []struct {
			Limit, Pack, File, Basis, Unit string
			Value                          float64
			Line                           int
		}
		Materials []struct{ Material, Pack, File, Curve string }
		Rules     []struct {
			Rule, Pack string
			Need       []struct{ Grade string }
		}
	}
	if err := json.Unmarshal([]byte(out), &shown); err != nil || status != "0" {
		t.Fatalf("%v, status %s\n%s", err, status, errs)
	}
	seen := 0
	for _, l := range shown.Limits {
		own := limits[l.Limit] != ""
		if own != (l.Pack == "hilltop" && l.File == "hilltop/pack.yaml" && l.Basis == "shop" && l.Line > 6) {
			t.Errorf("%+v", l)
		}
		var v float64
		var unit string
		if own {
			seen++
			if _, err := fmt.Sscanf(strings.Replace(limits[l.Limit], ", unit:", "", 1), "%g %s", &v, &unit); err != nil {
				t.Fatal(err)
			}
			if unit == "in" {
				v, unit = v*25.4, "mm"
			}
			if v != l.Value || unit != l.Unit {
				t.Errorf("%s is %g %s, given as %s", l.Limit, l.Value, l.Unit, limits[l.Limit])
			}
		}
	}
	if seen != len(limits) || len(shown.Packs) != 2 {
		t.Errorf("%d of %d limits, packs %v", seen, len(limits), shown.Packs)
	}
	for _, m := range shown.Materials {
		if (m.Material == "FC-0208") != (m.Pack == "hilltop") || m.Pack == "hilltop" && m.Curve != "own-iron" {
			t.Errorf("%+v", m)
		}
	}
	for _, r := range shown.Rules {
		if r.Rule == "quantity" || r.Pack != "press-and-sinter" {
			t.Errorf("the rule %s of %s", r.Rule, r.Pack)
		}
		if r.Rule == "part-slenderness" && (r.Need[0].Grade != "ask" || r.Need[1].Grade != "ask") {
			t.Errorf("part-slenderness: %+v", r.Need)
		}
	}
	out, errs, status = run([]string{"review", "post.yaml", "--status-at", "ask"}, "")
	for _, says := range []string{"1. ask: part slenderness", "Left out by hilltop: quantity; we press small lots.",
		"Grade changed by hilltop: part slenderness, to ask.", "In force: hilltop 1.0.0", "In force: press-and-sinter"} {
		if status != "1" || !strings.Contains(out, says) {
			t.Errorf("status %s, want %q:\n%s%s", status, says, out, errs)
		}
	}
	// The pressure by the shop's own curve: green 6.8 (1.004 / 1.002)^3 / 0.992 = 6.89597; 300 + 400 x (6.89597 - 6.3) / 0.9 = 564.9.
	out, _, _ = run([]string{"tooling", "post.yaml"}, "")
	for _, says := range []string{"564.9 MPa mean pressure", "P-200 serves", "0.08  ", "limits.springback of hilltop",
		"materials.FC-0208.size_change"} {
		if !strings.Contains(out, says) {
			t.Errorf("tooling does not say %q:\n%s", says, out)
		}
	}
	if out, _, _ = run([]string{"tooling", "plug.yaml"}, ""); !strings.Contains(out,
		"Too little is known to choose among the presses listed.") {
		t.Errorf("tooling of a material that no pack knows:\n%s", out)
	}
	if out, _, _ = run([]string{"measure", "post.yaml"}, ""); !strings.Contains(out, "green_density   6.89597 g/cm3") {
		t.Errorf("measure:\n%s", out)
	}
}

// TestStartPack: the pack that is made proves at once, also when its limits are moved, and judges a part.
func TestStartPack(t *testing.T) {
	lay(t, "-- corerod.yaml --\npacks: [hilltop]\n"+disc)
	if out, errs, status := run([]string{"pack", "start", "hilltop"}, ""); status != "0" || errs != "" ||
		!strings.Contains(out, "hilltop is made") {
		t.Fatalf("status %s\n%s%s", status, out, errs)
	}
	if out, errs, status := run([]string{"pack", "prove", "hilltop", "--shift"}, ""); status != "0" || !strings.Contains(out, "Proven") {
		t.Errorf("status %s\n%s%s", status, out, errs)
	}
	if out, errs, status := run([]string{"review", "disc.yaml"}, ""); status != "0" || !strings.Contains(out, "In force: hilltop 0.1.0") {
		t.Errorf("status %s\n%s%s", status, out, errs)
	}
	for name, says := range map[string]string{"hilltop": "hilltop is there already; it stays as it is", "Hill Top": "is no name of a pack",
		"plain-bearings": "is a built-in pack"} {
		if _, errs, status := run([]string{"pack", "start", name}, ""); status != "2" || !strings.Contains(errs, says) {
			t.Errorf("%s: status %s, %s", name, status, errs)
		}
	}
}
