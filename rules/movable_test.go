package rules

import (
	"strings"
	"testing"
)

// TestMovables lists the figures that a proof moves, by how much: none that can change nothing.
func TestMovables(t *testing.T) {
	tables := `  next: {x: a, y: b, between: next_row, rows: [[1, 2], [3, 2.5], [5.5, 2.5]], basis: memory}
  before: {x: a, x_unit: in, y: b, between: previous_row, rows: [[1, 2], [2, 3]], basis: memory}
  straight: {x: a, y: b, unit: in, between: line, rows: [[1, 2], [2, 2], [2.5, 3]], basis: memory}
`
	text := strings.Replace(withNeed("wall", `within("next", wall.thickness)`), "tables:\n",
		"materials:\n  iron: {density: [6.0, 7], pore_free: 7.80, size_change: [-0.1, 0.25], basis: memory}\ntables:\n"+tables, 1)
	p, ps := load(text)
	if p == nil {
		t.Fatal(ps)
	}
	var got []string
	for _, m := range p.Movables() {
		if m.Table == "depths" || m.Table == "mixed" {
			continue
		}
		got = append(got, m.String()+" "+printed("mm", m.Value, "mm")+" by "+printed("mm", m.By, "mm"))
		if m.Origin.Line == 0 || m.Origin.Pack != "trial" {
			t.Errorf("%s stands at %+v", m, m.Origin)
		}
	}
	want := `the limit guess 2 mm by 1 mm
the limit least 1.5 mm by 0.1 mm
the limit nothing 0 mm by 1 mm
the limit special 0.8 mm by 0.1 mm
y in row 1 of the table before 2 mm by 1 mm
y in row 2 of the table before 3 mm by 1 mm
x in row 2 of the table before 50.8 mm by 12.7 mm
y in row 1 of the table next 2 mm by 1 mm
x in row 1 of the table next 1 mm by 1 mm
y in row 2 of the table next 2.5 mm by 0.1 mm
y in row 3 of the table next 2.5 mm by 0.1 mm
x in row 3 of the table next 5.5 mm by 0.1 mm
y in row 1 of the table straight 50.8 mm by 25.4 mm
y in row 2 of the table straight 50.8 mm by 25.4 mm
x in row 2 of the table straight 2 mm by 0.25 mm
y in row 3 of the table straight 76.2 mm by 25.4 mm
x in row 3 of the table straight 2.5 mm by 0.1 mm
density_high of the material iron 7 mm by 1 mm
density_low of the material iron 6 mm by 0.1 mm
pore_free of the material iron 7.8 mm by 0.01 mm
size_change_high of the material iron 0.25 mm by 0.01 mm
size_change_low of the material iron -0.1 mm by 0.1 mm`
	if s := strings.Join(got, "\n"); s != want {
		t.Error(s)
	}
}

// TestMoved: what reads a moved figure reads the moved one, and the book itself keeps its own.
func TestMoved(t *testing.T) {
	b := bookOf(t, strings.Replace(withNeed("wall",
		`wall.thickness >= table("depths", 1) && wall.height >= limits.least && has(material.density_low) && material.density_low < 6.05`),
		"tables:\n", "materials:\n  iron: {density: [6.0, 7], basis: memory}\ntables:\n", 1))
	c := Case{Part: alone(wall(2)), Unit: "mm", Material: Material{Name: "iron"}}
	for _, m := range b.Packs[0].Movables() {
		read := m.ReadBy(b.Rules[0])
		want := m.Limit == "least" || m.Table == "depths" || m.Field == "density_low"
		if read != want {
			t.Errorf("%s is read: %v", m, read)
		}
		notices := m.Limit == "least" || m.Table == "depths" && m.Row == 0 && m.Column == 1 || m.Field == "density_low"
		found := len(b.Moved(m, 10*m.By).Judge(c).Findings) + len(b.Moved(m, 100*m.By).Judge(c).Findings)
		if (found > 0) != notices {
			t.Errorf("%s moved far: %d findings", m, found)
		}
	}
	if len(b.Judge(c).Findings) > 0 {
		t.Error("the book itself was moved")
	}
}

// TestKeysMeant: a key that is not known is told by the one that fits, of those that are not given yet; a limit that is like no
// other lists none.
func TestKeysMeant(t *testing.T) {
	for text, says := range map[string]string{
		strings.Replace(head, "tables:\n",
			"tables:\n  a: {x: a, x_unit: mm, y: b, y_unit: mm, between: line, rows: [[1, 2]], basis: memory}\n", 1): "unknown key `y_unit` in a table; did you mean `unit`?",
		head +
			"presses:\n  P: {capacity_kn: 5, fill: 1, eject: 1, upper: 1, lower: 1, ejection_stroke: 1}\n": "unknown key `capacity_kn` in a press; did you mean `capacity`?",
		strings.Replace(head, "sources:", "builds_on: [press-and-sinter]\nsources:",
			1): "the limit `guess` replaces none of the packs below, and no rule here reads it; leave it out, or let a rule read it",
		head +
			"trials:\n  - {rule: a, part: a.yaml, finds: none, on: a}\n": "`on` names the subject that is found, and this trial finds none; leave `on` out",
	} {
		_, ps := load(text)
		if s := listed(ps); !strings.Contains(s, says+"\n") || strings.Contains(s, "needs `capacity`") {
			t.Errorf("%s\nwant %s", s, says)
		}
	}
}
