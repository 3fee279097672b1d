package compare

import (
	"context"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"

	"corerod/checker"
	"corerod/checker/internal/samples"
	"corerod/parts/source"
	"corerod/parts/subject"
	"corerod/rules"
)

// comparison compares two part files.
func comparison(t testing.TB, book *rules.Book, old, new string) *Comparison {
	t.Helper()
	r := checker.Run(context.Background(), []checker.File{fileOf("old.yaml", []byte(old)), fileOf("new.yaml", []byte(new))}, book,
		checker.Options{Account: true, Workers: 1})
	if len(r.Parts) != 2 {
		t.Fatalf("%v %v\n%s\n%s", r.Unread, r.Faults, old, new)
	}
	a, _ := source.Parse("old.yaml", []byte(old))
	b, _ := source.Parse("new.yaml", []byte(new))
	return Revisions(r.Parts[0], r.Parts[1], a, b)
}

// drawn writes what the files say otherwise, a line each.
func drawn(c *Comparison) (lines []string) {
	value := func(v Redrawn) string {
		switch {
		case v.Old == nil:
			return fmt.Sprintf("+%s=%s", v.New.Path, v.New.Text)
		case v.New == nil:
			return fmt.Sprintf("-%s=%s", v.Old.Path, v.Old.Text)
		}
		return fmt.Sprintf("%s=%s>%s", v.New.Path, v.Old.Text, v.New.Text)
	}
	for _, v := range c.Drawn {
		lines = append(lines, value(v))
	}
	for _, f := range c.Features {
		line := string(f.How)
		if f.Old != nil {
			line += " " + f.Old.Path
		}
		if f.New != nil && (f.Old == nil || f.Old.Path != f.New.Path) {
			line += " " + f.New.Path
		}
		if a, b := f.Forms(); f.How == Altered && a != b {
			line += " " + a + ">" + b
		}
		if f.How == Altered || f.How == Renamed {
			for _, v := range f.Values {
				line += " " + value(v)
			}
		}
		lines = append(lines, line)
	}
	return lines
}

const plain = `part: plain
units: mm
bodies:
  plate: {rectangle: {length: 60, width: 40, corner: 3}, from: 0, to: 8}
  hub: {circle: {diameter: 20}, from: 0, to: 12}
cuts:
  bore: {circle: {diameter: 10}}
  pin: {circle: {diameter: 6, at: [20, 0]}}
edges:
  rim: {of: bore, face: top, chamfer: {width: 0.5, slope: 30, flat: 0.2}}
dimensions:
  size: {of: bore.diameter, plus_minus: 0.1}
hold: [bore.diameter, cuts.pin.circle.at]
`

// TestDrawn: what two files say otherwise, by their values and features.
func TestDrawn(t *testing.T) {
	book := samples.StandardBook(t)
	for _, x := range []struct {
		name    string
		replace []string // of the plain part: old, new, ...
		want    []string
	}{
		{"nothing", nil, nil},
		{"numbers written otherwise", []string{"to: 8", "to: 8.0", "length: 60", "length: 6e1", "width: 0.5", "width: +.5"}, nil},
		{"order of features and keys", []string{"  bore: {circle: {diameter: 10}}\n", "", "at: [20, 0]}}", "at: [20, 0]}}\n  bore: {circle: {diameter: 10}}", "{length: 60, width: 40,", "{width: 40, length: 60,"}, nil},
		{"order of what is held", []string{"[bore.diameter, cuts.pin.circle.at]", "[cuts.pin.circle.at, bore.diameter]"}, nil},
		{"comments and quotes", []string{"part: plain", "part: 'plain' # the same"}, nil},
		{"a number", []string{"diameter: 6,", "diameter: 6.5,"}, []string{"changed cuts.pin cuts.pin.circle.diameter=6>6.5"}},
		{"text is text", []string{"units: mm", "units: mm\nrevision: 1.0", "hold", "title: 007\nhold"}, []string{"+revision=1.0", "+title=007"}},
		{"a value more and one less", []string{"corner: 3", "turn: 0", "units: mm", "units: mm\nmaterial: {density: 6.8}"},
			[]string{"+material.density=6.8", "changed bodies.plate +bodies.plate.rectangle.turn=0 -bodies.plate.rectangle.corner=3"}},
		{"another profile", []string{"circle: {diameter: 10}", "flatted: {diameter: 10, flats: [4]}"}, []string{"changed cuts.bore circle>flatted +cuts.bore.flatted.flats[0]=4"}},
		{"another treatment", []string{"chamfer: {width: 0.5, slope: 30, flat: 0.2}", "round: {radius: 0.5}"},
			[]string{
				"changed edges.rim chamfer>round +edges.rim.round.radius=0.5 -edges.rim.chamfer.width=0.5 -edges.rim.chamfer.slope=30 -edges.rim.chamfer.flat=0.2"}},
		{"another tolerance", []string{"plus_minus: 0.1", "class: H9"}, []string{"changed dimensions.size +dimensions.size.class=H9 -dimensions.size.plus_minus=0.1"}},
		{"a feature more", []string{"cuts:\n", "cuts:\n  eye: {circle: {diameter: 6, at: [-20, 0]}}\n"}, []string{"added cuts.eye"}},
		{"a feature less", []string{"edges:\n  rim: {of: bore, face: top, chamfer: {width: 0.5, slope: 30, flat: 0.2}}\n", ""}, []string{"removed edges.rim"}},
		{"another section", []string{"  hub: {circle: {diameter: 20}, from: 0, to: 12}\n", "", "cuts:\n", "cuts:\n  hub: {circle: {diameter: 20}, open: top, depth: 4}\n"}, []string{"removed bodies.hub", "added cuts.hub"}},
		{"another name, with all that refers to it", []string{"bore", "eye"}, []string{"renamed cuts.bore cuts.eye"}},
		{"another name and another size", []string{"bore: {circle: {diameter: 10}}", "eye: {circle: {diameter: 11}}", "of: bore", "of: eye", "hold: [bore", "hold: [eye"},
			[]string{"+hold[0]=eye.diameter", "-hold[0]=bore.diameter", "added cuts.eye", "removed cuts.bore",
				"changed edges.rim edges.rim.of=bore>eye", "changed dimensions.size dimensions.size.of=bore.diameter>eye.diameter"}},
		{"another name of an edge and a dimension", []string{"rim:", "mouth:", "size:", "fit:"}, []string{"renamed edges.rim edges.mouth", "renamed dimensions.size dimensions.fit"}},
		{"less is held", []string{", cuts.pin.circle.at]", "]"}, []string{"-hold[1]=cuts.pin.circle.at"}},
	} {
		text := plain
		for i := 0; i < len(x.replace); i += 2 {
			if !strings.Contains(text, x.replace[i]) {
				t.Fatalf("%s: there is no %q", x.name, x.replace[i])
			}
			text = strings.ReplaceAll(text, x.replace[i], x.replace[i+1])
		}
		c := comparison(t, book, plain, text)
		if got := drawn(c); !slices.Equal(got, x.want) {
			t.Errorf("%s: %q, want %q", x.name, got, x.want)
		}
		if c.Nothing() != (len(x.want) == 0) {
			t.Errorf("%s: nothing is %v; %v %v %v", x.name, c.Nothing(), c.Moved, c.Came, c.Went)
		}
	}
}

// TestDrawnLists: a point put into a polygon is that point, whatever its index does to those behind it.
func TestDrawnLists(t *testing.T) {
	const old = "part: a\nunits: mm\nbodies:\n  a: {polygon: {points: [[0, 0], [30, 0], [30, 20], [0, 20]]}, from: 0, to: 6}\n"
	for new, want := range map[string][]string{
		"[30, 0], [30, 20]":           nil,
		"[30, 0], [33, 10], [30, 20]": {"changed bodies.a +bodies.a.polygon.points[2][0]=33 +bodies.a.polygon.points[2][1]=10"},
		"[30, 20]":                    {"changed bodies.a -bodies.a.polygon.points[1][0]=30 -bodies.a.polygon.points[1][1]=0"},
		"[31, 0], [30, 20]":           {"changed bodies.a bodies.a.polygon.points[1][0]=30>31"},
	} {
		if got := drawn(comparison(t, samples.StandardBook(t), old, strings.Replace(old, "[30, 0], [30, 20]", new, 1))); !slices.Equal(got,
			want) {
			t.Errorf("%s: %q, want %q", new, got, want)
		}
	}
}

// TestCompareSelf: every demo part and every part of the page of shapes differs in nothing from itself, and from itself
// with its features in reverse order.
func TestCompareSelf(t *testing.T) {
	book := samples.StandardBook(t)
	files, err := filepath.Glob("../../testdata/mill/*.yaml")
	if err != nil || len(files) < 7 {
		t.Fatal(files, err)
	}
	var texts []string
	for _, f := range files {
		b, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		texts = append(texts, string(b))
	}
	shapes, err := os.ReadFile("../../docs/shapes.md")
	if err != nil {
		t.Fatal(err)
	}
	for _, block := range strings.Split(string(shapes), "```yaml\n")[1:] {
		block, _, _ = strings.Cut(block, "```")
		texts = append(texts, block)
	}
	for _, text := range texts {
		if c := comparison(t, book, text, text); !c.Nothing() || c.Status != checker.Clear {
			t.Errorf("%q %q %v\n%s", drawn(c), pairsOf(c), c.Moved, text)
		}
		root, _ := source.Parse("x.yaml", []byte(text))
		c := comparison(t, book, text, reversed(root))
		if len(c.Drawn)+len(c.Features)+len(c.Findings) > 0 {
			t.Errorf("%q %q\n%s", drawn(c), pairsOf(c), reversed(root))
		}
		for _, m := range c.Moved { // of two walls that lie on each other the first drawn counts, and grid points are in another order
			for _, x := range m.Measures {
				if x.Field.Type == subject.Number && math.Abs(x.Old.Value-x.New.Value) > 2e-6*math.Max(1, math.Abs(x.Old.Value)) {
					t.Errorf("%s of %s %s moved from %v to %v\n%s", x.Field.Name, m.New.Kind().Name, m.New.Place().Name, x.Old,
						x.New, reversed(root))
				}
			}
		}
	}
}

// reversed is a part file with the features of each section in reverse order.
func reversed(root *source.Node) string {
	var b strings.Builder
	for i, k := range root.Keys {
		v := *root.Items[i]
		if v.Shape == source.Map && k.Value != "material" {
			v.Keys, v.Items = slices.Clone(v.Keys), slices.Clone(v.Items)
			slices.Reverse(v.Keys)
			slices.Reverse(v.Items)
		}
		b.WriteString(k.Value + ": " + flow(&v) + "\n")
	}
	return b.String()
}

func flow(n *source.Node) string {
	var all []string
	for i, it := range n.Items {
		if n.Shape == source.Map {
			all = append(all, n.Keys[i].Value+": "+flow(it))
		} else {
			all = append(all, flow(it))
		}
	}
	switch {
	case n.Shape == source.Map:
		return "{" + strings.Join(all, ", ") + "}"
	case n.Shape == source.Sequence:
		return "[" + strings.Join(all, ", ") + "]"
	}
	if n.Quoted {
		return "'" + strings.ReplaceAll(n.Value, "'", "''") + "'"
	}
	return n.Value
}

// pairsOf lists findings by what became of them: rule, subject and places.
func pairsOf(c *Comparison) (all []string) {
	for _, ps := range [][]FindingPair{c.Findings, c.Same} {
		for _, p := range ps {
			s := p.NewSubject
			if p.New == nil {
				s = p.OldSubject
			}
			all = append(all, fmt.Sprintf("%s %s %s %d>%d", p.How, p.Finding().Rule.Name, s.Place().Name, p.OldPlaces, p.NewPlaces))
		}
	}
	return all
}

// TestFindings: what becomes of findings. A web between two holes of a plate is their distance less 8 mm thick.
func TestFindings(t *testing.T) {
	book := samples.StandardBook(t)
	plate := func(cuts ...string) string {
		return "part: plate\nunits: mm\nbodies:\n  plate: {rectangle: {length: 90, width: 60, corner: 4}, from: 0, to: 5}\ncuts:\n  " +
			strings.Join(cuts, "\n  ") + "\n"
	}
	hole := func(name string, x, y float64) string {
		return fmt.Sprintf("%s: {circle: {diameter: 8, at: [%g, %g]}}", name, x, y)
	}
	round := func(count int, diameter float64) string {
		return fmt.Sprintf("ring: {circle: {diameter: %g, at: [0, 12]}, repeat: {count: %d}}", diameter, count)
	}
	for _, x := range []struct {
		name, old, new string
		want           []string // gone over by wall-thickness alone
	}{
		{"gained", plate(hole("a", -10, 0), hole("b", 0, 0)), plate(hole("a", -10, 0), hole("b", -1.5, 0)), []string{"gained a to b 0>1"}},
		{"cleared", plate(hole("a", -10, 0), hole("b", -1.5, 0)), plate(hole("a", -10, 0), hole("b", 0, 0)), []string{"cleared a to b 1>0"}},
		{"worsened", plate(hole("a", -10, 0), hole("b", -1.4, 0)), plate(hole("a", -10, 0), hole("b", -1.5, 0)), []string{"worsened a to b 1>1"}},
		{"eased", plate(hole("a", -10, 0), hole("b", -1.5, 0)), plate(hole("a", -10, 0), hole("b", -1.4, 0)), []string{"eased a to b 1>1"}},
		{"no more than 1e-9", plate(hole("a", -10, 0), hole("b", -1.5, 0)), plate(hole("a", -10, 0), "b: {circle: {diameter: 8, at: [-1.5000000001, 0]}}"), []string{"unchanged a to b 1>1"}},
		{"moved together", plate(hole("a", -10, 0), hole("b", -1.5, 0)), plate(hole("a", -10, 9), hole("b", -1.5, 9)), []string{"unchanged a to b 1>1"}},
		{"renamed, in another alphabetical order", plate(hole("a", -10, 0), hole("b", -1.5, 0)), plate(hole("z", -10, 0), hole("b", -1.5, 0)), []string{"unchanged b to z 1>1"}},
		{"one gone, another come", plate(hole("a", -10, 0), hole("b", -1.5, 0), hole("c", 20, 0)), plate(hole("a", -10, 0), hole("b", 11.5, 0), hole("c", 20, 0)),
			[]string{"gained b to c 0>1", "cleared a to b 1>0"}},
		// six holes of diameter d on a circle of radius 12 lie 12 mm apart: their webs are 12 - d thick, each at six places
		{"a group worsened", plate(round(6, 11.3)), plate(round(6, 11.4)), []string{"worsened ring to ring 1 6>6"}},
		{"a group gained", plate(round(6, 10)), plate(round(6, 11.4)), []string{"gained ring to ring 1 0>6"}},
		{"a group and one of its own", plate(round(6, 11.4)), plate(round(6, 11.4), hole("a", 34, 0), hole("b", 34, 8.5)), []string{"gained a to b 0>1", "unchanged ring to ring 1 6>6"}},
	} {
		var got []string
		for _, p := range pairsOf(comparison(t, book, x.old, x.new)) {
			if how, rest, ok := strings.Cut(p, " wall-thickness "); ok {
				got = append(got, how+" "+rest)
			}
		}
		if !slices.Equal(got, x.want) {
			t.Errorf("%s: %q, want %q", x.name, got, x.want)
		}
	}
}

// TestFindingsRenumbered: a further wall between the same two features takes the number 1, and the walls of before are still
// themselves; where a group loses some of its places, those are cleared and the others unchanged.
func TestFindingsRenumbered(t *testing.T) {
	book := samples.StandardBook(t)
	const head = "part: bar\nunits: mm\nbodies:\n  bar: {rectangle: {length: 100, width: 20, corner: 1}, from: 0, to: 4}\ncuts:\n  "
	// an eye 9.3 mm from the rim beside it leaves 0.7 mm of wall below y -9.3
	eyes := func(at string) string {
		return head + "eyes: {circle: {diameter: 6, at: [" + at + "]}, repeat: {count: 2, step: [15, 0]}}\n"
	}
	old, new := eyes("10, -6.3"), eyes("-30, -6.3")
	if got := pairsOf(comparison(t, book, old, new)); !slices.Contains(got, "unchanged wall-thickness bar to eyes 2 2>2") &&
		!slices.Contains(got, "unchanged wall-thickness bar to eyes 1 2>2") {
		t.Errorf("two eyes moved along: %q", got)
	}
	alone := head + "eye: {circle: {diameter: 6, at: [30, -6.3]}}\n"
	both := head +
		"eye: {path: {start: [27, -6.3], steps: [{arc: [33, -6.3], radius: 3, turn: ccw}, {line: [33, 0]}, {line: [-33, 0]}, {line: [-33, -6.3]}, {arc: [-27, -6.3], radius: 3, turn: ccw}, {line: [-27, -3]}, {line: [27, -3]}]}}\n"
	c := comparison(t, book, alone, both)
	var got []string
	for _, p := range pairsOf(c) {
		if strings.Contains(p, "wall-thickness") {
			got = append(got, p)
		}
	}
	if want := []string{"gained wall-thickness bar to eye 2 0>1", "unchanged wall-thickness bar to eye 2 1>1"}; !slices.Equal(got, want) {
		t.Errorf("a second wall at x -30, before that at x 30: %q, want %q", got, want)
	}
	many, few := strings.Replace(old, "count: 2", "count: 3", 1), old
	if got := pairsOf(comparison(t, book, many, few)); !slices.ContainsFunc(got, func(s string) bool {
		return strings.HasPrefix(s, "cleared wall-thickness") && strings.HasSuffix(s, "1>0")
	}) ||
		!slices.ContainsFunc(got, func(s string) bool {
			return strings.HasPrefix(s, "unchanged wall-thickness") && strings.HasSuffix(s, "2>2")
		}) {
		t.Errorf("two eyes of three stay: %q", got)
	}
	if got := pairsOf(comparison(t, book, few, many)); !slices.ContainsFunc(got, func(s string) bool {
		return strings.HasPrefix(s, "gained wall-thickness") && strings.HasSuffix(s, "0>1")
	}) {
		t.Errorf("a third eye: %q", got)
	}
}

// TestCompareSwapped: with twenty faults planted, by turns, in sound parts, what is gained one way is cleared the other
// way, and every figure and measure changes sides.
func TestCompareSwapped(t *testing.T) {
	n := 120
	if testing.Short() {
		n = 24
	}
	book := samples.StandardBook(t)
	back := map[How]How{Gained: Cleared, Cleared: Gained, Worsened: Eased, Eased: Worsened, Unchanged: Unchanged}
	gained := 0
	for _, x := range samples.PlantedParts(t, n) {
		sound := soundBefore(t, x)
		there, here := comparison(t, book, sound, string(x.Text)), comparison(t, book, string(x.Text), sound)
		gained += there.Count(Gained)
		if there.Count(Gained) == 0 || there.Status != checker.Found {
			t.Errorf("%s is not gained: %q\n%s", x.Fault.Name, pairsOf(there), x.Text)
		}
		count := func(c *Comparison) map[How]int {
			m := map[How]int{}
			for how := range back {
				m[how] = c.Count(how)
			}
			return m
		}
		a, b := count(there), count(here)
		for how, other := range back {
			if a[how] != b[other] {
				t.Errorf("%s: %d %s one way, %d %s the other: %q %q", x.Fault.Name, a[how], how, b[other], other,
					pairsOf(there), pairsOf(here))
			}
		}
		if len(there.Moved) != len(here.Moved) || len(there.Came) != len(here.Went) || len(there.Went) != len(here.Came) {
			t.Errorf("%s: moved %d and %d, came %d, went %d, and back %d and %d", x.Fault.Name, len(there.Moved), len(here.Moved),
				len(there.Came), len(there.Went), len(here.Came), len(here.Went))
		}
		for i, f := range there.Figures {
			if g := here.Figures[i]; f.Old != g.New || f.New != g.Old {
				t.Errorf("%s: %s %v and %v", x.Fault.Name, f.Name, f, g)
			}
		}
	}
	if gained < n {
		t.Errorf("%d findings gained by %d faults", gained, n)
	}
}

// soundBefore is a planted part without its fault.
func soundBefore(t *testing.T, x samples.Planted) string {
	t.Helper()
	for i := range 2000 {
		if s := samples.SoundPart(i); x.Fault.Fits(s) && reflect.DeepEqual(samples.Edited(t, s.Text, x.Fault.Plant(s)), x.Text) {
			return s.Text
		}
	}
	t.Fatalf("there is no sound part of\n%s", x.Text)
	return ""
}

// TestCompareRenamed: sound parts with faults keep every finding and measure when all features have other names, in another
// alphabetical order.
func TestCompareRenamed(t *testing.T) {
	book := samples.StandardBook(t)
	for _, x := range samples.PlantedParts(t, 40) {
		names := strings.NewReplacer("body", "trunk", "bore", "axis-hole", "flange", "a-plate", "planted", "mistake", "far:", "away:",
			"part: part", "part: other")
		c := comparison(t, book, string(x.Text), names.Replace(string(x.Text)))
		for _, f := range c.Features {
			if f.How != Renamed || len(f.Values) > 0 {
				t.Errorf("%s: %q", x.Fault.Name, drawn(c))
			}
		}
		if len(c.Features) < 2 || len(c.Drawn) != 1 {
			t.Errorf("%s: %q", x.Fault.Name, drawn(c))
		}
		if len(c.Findings)+len(c.Moved)+len(c.Came)+len(c.Went) > 0 ||
			slices.ContainsFunc(c.Members, func(m MembersOf) bool { return m.Differs }) {
			t.Errorf("%s: %q, %d moved, came %v, went %v\n%s", x.Fault.Name, pairsOf(c), len(c.Moved), c.Came, c.Went, x.Text)
		}
	}
}

// TestCompareUnits: the same part in inches is the same part.
func TestCompareUnits(t *testing.T) {
	const mm = "part: washer\nunits: mm\nmaterial: {density: 6.6}\nbodies:\n  ring: {circle: {diameter: 50.8}, from: 0, to: 6.35}\ncuts:\n  bore: {circle: {diameter: 25.4, at: [1.27, 0]}}\n  key: {rectangle: {length: 5.08, width: 2.54, at: [0, 12.7], turn: 10}}\n"
	in := strings.NewReplacer("units: mm", "units: in", "50.8", "2", "6.35", "0.25", "25.4", "1.0", "1.27", "0.05", "5.08", "0.2", "2.54",
		"0.1", "12.7", "0.5").Replace(mm)
	book := samples.StandardBook(t)
	c := comparison(t, book, mm, in)
	if got := drawn(c); !slices.Equal(got, []string{"units=mm>in"}) || !c.Units {
		t.Errorf("%q", got)
	}
	if len(c.Findings)+len(c.Moved)+len(c.Came)+len(c.Went) > 0 {
		t.Errorf("%q, %v", pairsOf(c), c.Moved)
	}
	wider := comparison(t, book, mm, strings.Replace(in, "diameter: 2}", "diameter: 2.1}", 1))
	if got := drawn(wider); !slices.Equal(got, []string{"units=mm>in", "changed bodies.ring bodies.ring.circle.diameter=50.8>2.1"}) {
		t.Errorf("%q", got)
	}
	if v := wider.Features[0].Values[0]; math.Abs(v.Old.MM()-50.8) > 1e-9 || math.Abs(v.New.MM()-53.34) > 1e-9 {
		t.Errorf("%g to %g mm", v.Old.MM(), v.New.MM())
	}
}

// TestComparedByHand: the figures of two revised parts, worked out here from the numbers of their drawings.
func TestComparedByHand(t *testing.T) {
	book := samples.StandardBook(t)
	figure := func(c *Comparison, name string) (old, new float64) {
		i := slices.IndexFunc(c.Figures, func(f Figure) bool { return f.Name == name })
		if f := c.Figures[i]; f.Old.Known && f.New.Known {
			return f.Old.Value, f.New.Value
		}
		t.Fatalf("%s is not known", name)
		return 0, 0
	}
	check := func(c *Comparison, name string, old, new float64) {
		a, b := figure(c, name)
		within(t, name+" before", a, old, 1e-6*old)
		within(t, name+" now", b, new, 1e-6*new)
	}

	// A yoke: its two holes of 8 mm move from 4.8 to 4.3 mm off the middle, and it grows from 6 to 7 mm.
	yoke := func(off, height float64) string {
		return fmt.Sprintf(
			"part: yoke\nunits: mm\nmaterial: {density: 6.8}\nbodies:\n  arm: {rectangle: {length: 40, width: 20, corner: 4}, from: 0, to: %g}\ncuts:\n  left: {circle: {diameter: 8, at: [%g, 0]}}\n  right: {circle: {diameter: 8, at: [%g, 0]}}\n", height, -off, off)
	}
	c := comparison(t, book, yoke(4.8, 6), yoke(4.3, 7))
	area := 40*20 - (4-math.Pi)*4*4 - 2*math.Pi*4*4
	check(c, "plan_area", area, area)
	check(c, "volume", area*6, area*7)
	check(c, "mass", area*6*6.8e-3, area*7*6.8e-3)
	check(c, "height", 6, 7)
	reach := 2 * (math.Hypot(20-4, 10-4) + 4) // across the rounded corners
	check(c, "across", reach, reach)
	web := c.Moved[slices.IndexFunc(c.Moved, func(m MovedSubject) bool {
		return m.New.Kind() == subject.WallKind && m.New.Place().Name == "left to right"
	})]
	for _, m := range web.Measures {
		want := map[string][2]float64{"thickness": {2*4.8 - 8, 2*4.3 - 8}, "height": {6, 7}, "ratio": {6 / 1.6, 7 / 0.6},
			"z_high": {6, 7}}[m.Field.Name]
		within(t, m.Field.Name, m.Old.Value, want[0], 1e-6)
		within(t, m.Field.Name, m.New.Value, want[1], 1e-6)
	}
	i := slices.IndexFunc(c.Findings, func(p FindingPair) bool { return p.How == Gained && p.New.Rule.Name == "wall-thickness" })
	if i < 0 || c.Status != checker.Found {
		t.Fatalf("the web of 0.6 mm is not gained: %q", pairsOf(c))
	}
	if p := c.Findings[i]; p.Other != any(subject.Snap(2*4.8-8)) || math.Abs(*p.New.Compared[0].MissesBy-0.2) > 1e-9 {
		t.Errorf("before it was %v, now it misses 0.8 mm by %g", p.Other, *p.New.Compared[0].MissesBy)
	}

	// A flanged hub, in inches: the hub grows from 0.6 to 0.7 in over a flange of 0.25 in, and a second hole comes.
	hub := func(height float64, more string) string {
		return fmt.Sprintf(
			"part: hub\nunits: in\nmaterial: {density: 6.6}\nbodies:\n  flange: {circle: {diameter: 2}, from: 0, to: 0.25}\n  hub: {circle: {diameter: 1.2}, from: 0, to: %g}\ncuts:\n  bore: {circle: {diameter: 0.5}}\n%s", height, more)
	}
	c = comparison(t, book, hub(0.6, ""), hub(0.7, "  pin: {circle: {diameter: 0.2, at: [0.8, 0]}}\n"))
	const in2, in3 = 25.4 * 25.4, 25.4 * 25.4 * 25.4
	circle := func(d float64) float64 { return math.Pi / 4 * d * d }
	before := circle(2)*0.25 + circle(1.2)*0.35 - circle(0.5)*0.6
	now := circle(2)*0.25 + circle(1.2)*0.45 - circle(0.5)*0.7 - circle(0.2)*0.25
	check(c, "plan_area", (circle(2)-circle(0.5))*in2, (circle(2)-circle(0.5)-circle(0.2))*in2)
	check(c, "volume", before*in3, now*in3)
	check(c, "mass", before*in3*6.6e-3, now*in3*6.6e-3)
	check(c, "class", 3, 3)
	var members []string
	for _, m := range c.Members {
		members = append(members, fmt.Sprintf("%s %d>%d %v", m.Kind, Rods(m.Old), Rods(m.New), m.Differs))
	}
	if want := []string{"die 1>1 false", "upper-punch 1>1 false", "lower-punch 2>2 false",
		"core-rod 1>2 true"}; !slices.Equal(members, want) {
		t.Errorf("%q, want %q", members, want)
	}
}

// TestCompareAbsent: measures that one part does not have, and rules that then apply to nothing.
func TestCompareAbsent(t *testing.T) {
	book := samples.StandardBook(t)
	with := "part: plug\nunits: mm\nmaterial: {name: FC-0208, density: 7.2}\nbodies:\n  plug: {circle: {diameter: 30}, from: 0, to: 20}\n"
	c := comparison(t, book, with, strings.Replace(with, "material: {name: FC-0208, density: 7.2}\n", "", 1))
	mass := c.Figures[slices.IndexFunc(c.Figures, func(f Figure) bool { return f.Name == "mass" })]
	if !mass.Old.Known || mass.New.Known || !mass.Differs() {
		t.Errorf("mass: %v", mass)
	}
	part := c.Moved[slices.IndexFunc(c.Moved, func(m MovedSubject) bool { return m.New.Kind() == subject.PartKind })]
	absent := 0
	for _, m := range part.Measures {
		if m.Old.Known && !m.New.Known && m.Share() == 1 {
			absent++
		}
	}
	if absent < 4 {
		t.Errorf("%d measures of the part are not known any more: %v", absent, part.Measures)
	}
	unapplied := 0
	for _, p := range c.Findings {
		if p.How == Cleared && p.Unapplied != "" {
			unapplied++
		}
	}
	if unapplied == 0 || unapplied != c.Count(Cleared) {
		t.Errorf("%d of %d findings are cleared since their rule is not applicable: %q", unapplied, c.Count(Cleared), pairsOf(c))
	}
}

func within(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if math.IsNaN(got) || math.Abs(got-want) > tolerance {
		t.Errorf("%s = %g, want %g within %g", what, got, want, tolerance)
	}
}
