package form

import (
	"strings"
	"testing"

	"corerod/parts/source"
)

const bracket = `part: bracket
units: mm
material: {name: FC-0208, density: 6.8}
bodies:
  plate: {rectangle: {length: 40, width: 20, at: [1, 2]}, from: 0, to: 6}
  pin: {circle: {diameter: 8, at: [10, 0]}, from: 6, to: 14, draft: {angle: 1, narrows: up}}
cuts:
  holes: {circle: {diameter: 3, at: [15, 5]}, repeat: {count: 4, about: [0, 1]}}
  bowl: {turned: {section: [[0, 4], [3, 4], {arc: [5, 6], radius: 2, turn: ccw}, [0, 6]]}}
  late: {slot: {length: 10, width: 3}, made_by: machining}
edges:
  rim: {of: plate, face: top, chamfer: {width: 0.5, slope: 30}}
sides:
  oil: {hole: {diameter: 2, toward: 90, z: 3}, in: plate}
marks:
  lot: {on: plate.top, raised: 0.2, box: [-10, -4, 5, 3], text: A}
dimensions:
  high: {of: pin.height, plus_minus: 0.1}
hold: [plate.length]
`

func tree(t *testing.T, text string) *source.Node {
	t.Helper()
	root, ps := source.Parse("x.yaml", []byte(text))
	if len(ps) > 0 {
		t.Fatal(ps)
	}
	return root
}

// TestNames: one resolver follows every name, whatever it is for: paths, short names through profile, kind, treatment, draft and
// repeat, indices, heights.
func TestNames(t *testing.T) {
	root := tree(t, bracket)
	for _, c := range []struct{ name, path, says string }{
		{"bodies.plate.rectangle.length", "bodies.plate.rectangle.length", ""},
		{"plate.length", "bodies.plate.rectangle.length", ""},
		{"plate.at", "bodies.plate.rectangle.at[0] bodies.plate.rectangle.at[1]", ""},
		{"plate.at[1]", "bodies.plate.rectangle.at[1]", ""},
		{"cuts.holes.circle.at[0]", "cuts.holes.circle.at[0]", ""},
		{"holes.about[1]", "cuts.holes.repeat.about[1]", ""},
		{"holes.count", "cuts.holes.repeat.count", ""},
		{"pin.angle", "bodies.pin.draft.angle", ""},
		{"pin.draft.angle", "bodies.pin.draft.angle", ""},
		{"pin.height", "bodies.pin.from bodies.pin.to", ""},
		{"bowl.section[1]", "cuts.bowl.turned.section[1][0] cuts.bowl.turned.section[1][1]", ""},
		{"bowl.section[2].radius", "cuts.bowl.turned.section[2].radius", ""},
		{"bowl.section[2].arc[1]", "cuts.bowl.turned.section[2].arc[1]", ""},
		{"rim.slope", "edges.rim.chamfer.slope", ""},
		{"oil.z", "sides.oil.hole.z", ""},
		{"lot.box[2]", "marks.lot.box[2]", ""},
		{"high.plus_minus", "dimensions.high.plus_minus", ""},
		{"material.density", "material.density", ""},
		{"plate.corner", "", "but `corner` is not given there"},
		{"plate.depth", "", "but `depth` is not given there"},
		{"bowl.height", "", "but `height` is not given there"},
		{"plate.at[2]", "", "but `at` has no item `2`"},
		{"plate.at[x]", "", "but `at` has no item `x`"},
		{"plate.at[01]", "", "but `at` has no item `01`"},
		{"plate.at[+1]", "", "but `at` has no item `+1`"},
		{"plate.at[-1]", "", "but `at` has no item `-1`"},
		{"plate.at[1", "", "but `at` has no item `[1`"},
		{"plate.at[1]0", "", "but `at` has no item `[1]0`"},
		{"plate.at[", "", "but `at` has no item `[`"},
		{"plate.at[]", "", "but `at` has no item ``"},
		{"plate.length[", "", "but `length` has no item `[`"},
		{"nose.length", "", "but there is no feature of that name"},
		{"nose", "", "but there is no feature of that name"},
		{"plate", "", "which is not a number"},
		{"lot.text", "", "which is not a number"},
		{"bodies.plate.rectangle", "", "which is not a number"},
		{"pin.draft.angle.more", "", "but `more` is not given there"},
		{"", "", "but there is no feature of that name"},
	} {
		found, wrong := numbersOf(root, c.name)
		var paths []string
		for _, n := range found.numbers {
			paths = append(paths, n.path)
		}
		if got := strings.Join(paths, " "); wrong != c.says || wrong == "" && got != c.path {
			t.Errorf("%s: %s %s, want %s %s", c.name, got, wrong, c.path, c.says)
		}
	}
}

// TestSet: a trial's values reach the file by the names that hold and dimensions know, and what cannot be set is told.
func TestSet(t *testing.T) {
	for _, c := range []struct{ set, want string }{
		{"plate.length: 50", "rectangle: {length: 50, width"},
		{`"plate.at[0]": 7`, "at: [7, 2]"},
		{"bodies.plate.rectangle.at: [3, 4]", "at: [3, 4]"},
		{"plate.corner: 2", "at: [1, 2], corner: 2}"},
		{"plate.draft: {angle: 2, narrows: up}", "to: 6, draft: {angle: 2, narrows: up}}"},
		{"pin.height: 3", "from: 6, to: 9, draft"},
		{"pin.draft: null", "at: [10, 0]}, from: 6, to: 14}"},
		{"pin.angle: 3", "draft: {angle: 3, narrows"},
		{"holes.count: 6", "repeat: {count: 6, about"},
		{"holes: null", "cuts:\n  bowl:"},
		{"late.made_by: null", "late: {slot: {length: 10, width: 3}}"},
		{"cuts.slit: {slot: {length: 4, width: 1}}", "machining}\n  slit: {slot: {length: 4, width: 1}}"},
		{"blends.mouth: {of: [plate, pin], radius: 0.5}", "blends: {mouth: {of: [plate, pin], radius: 0.5}}"},
		{"sized: true", "sized: true"},
		{"material.density: 7", "density: 7}"},
		{"hold: null", "plus_minus: 0.1}\n"},
		{`lot.text: "7"`, `text: "7"}`},
		{"plate.corner: null", "at: [1, 2]}, from: 0"},
		{"plate.colour: 2", "! `colour` is not given there"},
		{"nose.length: 2", "! there is no feature of that name"},
		{"plate.repeat.count: 2", "! `repeat` is not given there"},
		{"plate.at.x: 2", "! `x` is not given there"},
		{"pin.height: tall", "! a height is a number, of what has from and to"},
		{"pin.height: null", "! a height has two ends; take out `from` or `to`"},
		{"cuts.A b: {circle: {diameter: 2}}", "! `A b` is no name; a name is a lower-case letter followed by at most 63 lower-case letters, digits or hyphens"},
		{`"plate.at[1]": null`, "! an item of a list cannot be taken out; give the whole list"},
	} {
		n := tree(t, c.set)
		change := Change{Name: n.Keys[0].Value, Value: n.Items[0]}
		doc, ps := source.Open("x.yaml", []byte(bracket))
		if len(ps) > 0 {
			t.Fatal(ps)
		}
		got, err := set(doc, change)
		if says, refused := strings.CutPrefix(c.want, "! "); refused {
			if err == nil || err.Error() != says {
				t.Errorf("%s: %v, want %s", c.set, err, says)
			}
			continue
		}
		if err != nil || !strings.Contains(string(got), c.want) {
			t.Errorf("%s: %v\n%s\nwant %s", c.set, err, got, c.want)
			continue
		}
		if _, ps, wrong := ParseWith("x.yaml", []byte(bracket), []Change{change}); len(ps) > 0 || wrong != nil {
			t.Errorf("%s: %v, %v", c.set, ps, wrong)
		}
	}
}

// TestSetInTurn: values are set one after the other, so that one can take the place of another.
func TestSetInTurn(t *testing.T) {
	n := tree(t, "cuts.late.slot: null\ncuts.late.circle: {diameter: 4}\nlate.diameter: 5\nlate.tint: 3\n")
	var all []Change
	for i, k := range n.Keys {
		all = append(all, Change{k.Value, n.Items[i]})
	}
	p, ps, wrong := ParseWith("x.yaml", []byte(bracket), all)
	if len(ps) > 0 || len(wrong) != 1 || wrong[3] == "" {
		t.Fatal(ps, wrong)
	}
	if got := Sizes(p.Cuts[2].Profile); len(got) != 1 || got[0] != (Size{"diameter", 5}) {
		t.Errorf("%v", got)
	}
}
