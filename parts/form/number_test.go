package form

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"corerod/parts/source"
)

const numbered = `part: numbered
units: mm
material: {name: FC-0208, density: 6.8}
quantity: 1000
bodies:
  plate: {polygon: {points: [[0, 0], [30, 0], [30, 20], [0, 20]], corner: 2}, from: 0, to: 6}
  hub: {gear: {module: 2, teeth: 20, helix: 15, hand: left, shift: 0.1}, from: 0, to: 14.03}
cuts:
  bore: {circle: {diameter: 8.02, at: [10, 10]}}
  ring: {circle: {diameter: 3, at: [25, 10]}, repeat: {count: 3, about: [10, 10]}}
  late: {circle: {diameter: 2}, made_by: machining}
edges:
  rim: {of: hub, face: top, chamfer: {width: 0.5, slope: 30}}
dimensions:
  height: {of: hub.height, limits: [14, 14.1]}
  size: {of: bore.diameter, class: H8}
  seat: {of: plate.bottom, flatness: 0.05}
hold: [bore.at, rim.slope]
`

// TestNumbers: what a change may move, with what moves along and what is held.
func TestNumbers(t *testing.T) {
	root, ps := source.Parse("x.yaml", []byte(numbered))
	if len(ps) > 0 {
		t.Fatal(ps)
	}
	var got []string
	for _, n := range Numbers(root) {
		s := fmt.Sprintf("%s %s %s", n.Path, n.From, n.Unit)
		for _, a := range n.Along {
			s += " " + map[bool]string{true: "-", false: "+"}[a.Back] + a.Path
		}
		if n.Held {
			s += " held"
		}
		got = append(got, s)
	}
	want := strings.Split(strings.TrimSpace(`
bodies.plate.polygon.points[3][0] 0 mm +bodies.plate.polygon.points[0][0]
bodies.plate.polygon.points[0][1] 0 mm +bodies.plate.polygon.points[1][1]
bodies.plate.polygon.points[1][0] 30 mm +bodies.plate.polygon.points[2][0]
bodies.plate.polygon.points[2][1] 20 mm +bodies.plate.polygon.points[3][1]
bodies.plate.polygon.corner 2 mm
bodies.plate.from 0 mm
bodies.plate.to 6 mm
bodies.hub.gear.module 2 mm
bodies.hub.gear.helix 15 deg
bodies.hub.from 0 mm -dimensions.height.limits[0] -dimensions.height.limits[1]
bodies.hub.to 14.03 mm +dimensions.height.limits[0] +dimensions.height.limits[1]
cuts.bore.circle.diameter 8.02 mm
cuts.bore.circle.at[0] 10 mm held
cuts.bore.circle.at[1] 10 mm held
cuts.ring.circle.diameter 3 mm
cuts.ring.circle.at[0] 25 mm
cuts.ring.circle.at[1] 10 mm
cuts.ring.repeat.about[0] 10 mm
cuts.ring.repeat.about[1] 10 mm
edges.rim.chamfer.width 0.5 mm
edges.rim.chamfer.slope 30 deg held
dimensions.height.limits[0] 14 mm
dimensions.height.limits[1] 14.1 mm
dimensions.size.class H8 
dimensions.seat.flatness 0.05 mm`), "\n")
	slices.Sort(got)
	slices.Sort(want)
	if !slices.Equal(got, want) {
		t.Errorf("got\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
}

// TestNumbersMove: numbers move on the steps that drawings have, and what moves along by as much.
func TestNumbersMove(t *testing.T) {
	root, _ := source.Parse("x.yaml", []byte(numbered))
	all := map[string]Number{}
	for _, n := range Numbers(root) {
		all[n.Path] = n
	}
	for _, c := range []struct {
		path  string
		steps int
		want  string
	}{
		{"bodies.hub.to", 1, "14.05 14.02 14.12"},
		{"bodies.hub.to", -1, "14 13.97 14.07"},
		{"bodies.hub.from", 2, "0.1 13.9 14"},
		{"cuts.bore.circle.diameter", 1, "8.05"},
		{"cuts.bore.circle.diameter", -1, "8"},
		{"bodies.hub.gear.helix", -1, "14.5"},
		{"dimensions.seat.flatness", 1, "0.06"},
		{"dimensions.size.class", 2, "H10"},
		{"cuts.ring.circle.diameter", -60, "none"},
		{"dimensions.size.class", -4, "none"},
	} {
		n := all[c.path]
		to, ok := n.Move(c.steps)
		got := "none"
		if ok {
			var texts []string
			for _, e := range n.Edits(to) {
				texts = append(texts, e.Text)
			}
			got = strings.Join(texts, " ")
		}
		if got != c.want {
			t.Errorf("%s by %d: %s, want %s", c.path, c.steps, got, c.want)
		}
	}
	inches, _ := source.Parse("x.yaml", []byte("part: a\nunits: in\nbodies: {a: {circle: {diameter: 1}, from: 0, to: 0.5}}\n"))
	if n := Numbers(inches)[0]; n.Step != 0.002 || n.Unit != "in" {
		t.Errorf("%+v", n)
	}
}

// TestAbsent: numbers that are 0 because the file does not give them.
func TestAbsent(t *testing.T) {
	root, _ := source.Parse("x.yaml", []byte(strings.Replace(numbered, ", corner: 2", "", 1)))
	for feature, want := range map[string]string{
		"plate": "bodies.plate.polygon.corner 0.5; bodies.plate.draft {angle: 0.5, narrows: up}; bodies.plate.draft {angle: 0.5, narrows: down}",
		"hub":   "bodies.hub.gear.tip_radius 0.5; bodies.hub.draft {angle: 0.5, narrows: up}; bodies.hub.draft {angle: 0.5, narrows: down}",
		"rim":   "edges.rim.chamfer.flat 0.5", "late": "", "none": "",
	} {
		var got []string
		for _, n := range Absent(root, feature) {
			e := n.Edits(0.5)[0]
			got = append(got, e.Path+" "+e.Text)
		}
		if s := strings.Join(got, "; "); s != want {
			t.Errorf("%s: %s, want %s", feature, s, want)
		}
	}
}
