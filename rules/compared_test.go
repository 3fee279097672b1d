package rules

import (
	"fmt"
	"strings"
	"testing"

	"corerod/parts/subject"
)

// written puts comparisons into one line.
func written(all []Compared) string {
	var out []string
	for _, c := range all {
		s := fmt.Sprintf("%s = %v %s %v", c.Measure, c.Value, c.Needs, c.Limit)
		if c.From != "" {
			s += " (" + c.From + ")"
		}
		if c.Unit != "" {
			s += " " + c.Unit
		}
		if c.MissesBy != nil {
			s += fmt.Sprintf(" misses %v", *c.MissesBy)
		}
		if c.AnyOf > 0 {
			s += fmt.Sprintf(" any of %d", c.AnyOf)
		}
		if c.Together > 0 {
			s += fmt.Sprintf(" with %d", c.Together)
		}
		out = append(out, s)
	}
	return strings.Join(out, "; ")
}

func sample() *subject.Part {
	p := quiet()
	p.Walls = []*subject.Wall{
		{Common: subject.Common{Name: "first"}, Thickness: 1, Height: 10, Ratio: 10, Between: []string{"a", "b"}},
		{Common: subject.Common{Name: "second"}, Thickness: 2, Height: 4, Ratio: 2, Between: []string{"a", "c"}, Web: true},
		{Common: subject.Common{Name: "third"}, Thickness: 1.4, Height: 4, Ratio: 3, Between: []string{"a", "d"}},
	}
	p.Holes = []*subject.Hole{{Common: subject.Common{Name: "bore"}, Width: 4, Depth: 10, Ratio: 2.5, Open: "both", Through: true,
		Bore: subject.Some(4)}}
	return p
}

func TestCompared(t *testing.T) {
	for _, c := range []struct{ that, compared, on string }{
		{"hole.width >= limits.least && hole.width < 3 && hole.depth <= 9", "hole.width = 4 < 3 mm misses 1; hole.depth = 10 <= 9 mm misses 1", "bore"},
		{"5 <= hole.width", "hole.width = 4 >= 5 mm misses 1", "bore"},
		{"limits.least > hole.width", "hole.width = 4 < 1.5 (limits.least) mm misses 2.5", "bore"},
		{"!(hole.width >= 4)", "hole.width = 4 < 4 mm misses 0", "bore"},
		{"!(hole.width > 3 && hole.depth > 3)", "hole.width = 4 <= 3 mm misses 1 any of 2; hole.depth = 10 <= 3 mm misses 7 any of 2", "bore"},
		{"!(hole.width > 3 || hole.depth > 30)", "hole.width = 4 <= 3 mm misses 1", "bore"},
		{"hole.width > 5 || hole.depth > 20 || hole.keyed", "hole.width = 4 > 5 mm misses 1 any of 3; hole.depth = 10 > 20 mm misses 10 any of 3; hole.keyed = false == true any of 3", "bore"},
		{"hole.width > 5 || (hole.depth > 20 && hole.width > 1)", "hole.width = 4 > 5 mm misses 1 any of 2; hole.depth = 10 > 20 mm misses 10 any of 2", "bore"},
		{"hole.through ? hole.depth < 9 : hole.width < 1", "hole.depth = 10 < 9 mm misses 1", "bore"},
		{"hole.open == 'top'", "hole.open = both == top", "bore"},
		{"hole.open in ['top', 'bottom']", "hole.open = both in top and bottom", "bore"},
		{"!(hole.open in [\"both\"])", "hole.open = both not in both", "bore"},
		{"hole.width != 4", "hole.width = 4 != 4 mm", "bore"},
		{"hole.width == 5", "hole.width = 4 == 5 mm misses 1", "bore"},
		{"!hole.through", "hole.through = true == false", "bore"},
		{"has(hole.floor)", "has(hole.floor) = false == true", "bore"},
		{"has(hole.floor) && hole.floor > 1", "has(hole.floor) = false == true", "bore"},
		{"hole.depth/hole.width <= 2", "hole.depth/hole.width = 2.5 <= 2 ratio misses 0.5", "bore"},
		{"(hole.depth - hole.width) * 2 <= (limits.least)", "(hole.depth - hole.width) * 2 = 12 <= 1.5 (limits.least) mm misses 10.5", "bore"},
		{"hole.depth <= hole.width * 2", "hole.depth = 10 <= 8 (hole.width * 2) mm misses 2", "bore"},
		{"hole.depth <= table('depths', hole.width)", "hole.depth = 10 <= 6 (table('depths', hole.width)) mm misses 4", "bore"},
		{"size(part.walls.filter(w, w.web)) == 0", "size(part.walls.filter(w, w.web)) = 1 == 0 count misses 1", "bore"},
		{"part.walls.exists_one(w, w.thickness > 1.1)", "part.walls.exists_one(w, w.thickness > 1.1) = false == true", "bore"},
		{"part.walls.all(w, w.thickness >= limits.least)", "w.thickness = 1 >= 1.5 (limits.least) mm misses 0.5; w.thickness = 1.4 >= 1.5 (limits.least) mm misses 0.1", "first"},
		{"hole.width > 1 && part.walls.all(w, w.web || w.ratio < 5)", "w.web = false == true any of 2; w.ratio = 10 < 5 ratio misses 5 any of 2", "first"},
		{"part.walls.exists(w, w.thickness >= 3)", "w.thickness = 2 >= 3 mm misses 1 any of 3", "second"},
		{"!part.walls.exists(w, w.thickness < 1.2)", "w.thickness = 1 >= 1.2 mm misses 0.2", "first"},
		{"!part.walls.all(w, w.thickness >= 1)", "w.thickness = 1 < 1 mm misses 0 any of 3", "first"},
		{"part.steps.exists(s, s.rise > 1)", "part.steps.exists(s, s.rise > 1) = false == true", "bore"},
		{"part.walls.filter(w, !w.web).all(v, v.height < 5)", "v.height = 10 < 5 mm misses 5", "first"},
		{"part.walls.all(w, part.holes.all(h, h.width > w.height))", "h.width = 4 > 10 (w.height) mm misses 6; h.width = 4 > 4 (w.height) mm misses 0; h.width = 4 > 4 (w.height) mm misses 0", "bore"},
		{"has(material.name) ? material.name != 'FC-0208' : true", "material.name = FC-0208 != FC-0208", "bore"},
	} {
		out := bookOf(t, withNeed("hole", c.that)).Judge(Case{Part: sample(), Material: Material{Name: "FC-0208"}, Unit: "mm"})
		if len(out.Findings) != 1 || len(out.Faults) != 0 {
			t.Errorf("%s: %d findings, faults %v", c.that, len(out.Findings), out.Faults)
			continue
		}
		f := out.Findings[0]
		if got := written(f.Compared); got != c.compared {
			t.Errorf("%s:\n got %s\nwant %s", c.that, got, c.compared)
		}
		if got := f.Subject.Place().Name; got != c.on {
			t.Errorf("%s: found on %s, want %s", c.that, got, c.on)
		}
	}
}

// TestComparedAll lists every element that fails, and which it is.
func TestComparedAll(t *testing.T) {
	p := quiet()
	for range 11 {
		p.Walls = append(p.Walls, wall(1))
	}
	f := bookOf(t, withNeed("part", "part.walls.all(w, w.thickness > 2)")).Judge(Case{Part: p, Unit: "mm"}).Findings[0]
	if len(f.Compared) != 11 || f.Compared[10].Of == nil || f.Compared[10].Of.Name != wall(1).Name || f.Compared[10].Of.Kind != "wall" {
		t.Errorf("%d listed: %+v", len(f.Compared), f.Compared)
	}
	f = bookOf(t, withNeed("part", "part.walls.exists(w, w.thickness > 2)")).Judge(Case{Part: p, Unit: "mm"}).Findings[0]
	if len(f.Compared) != 1 || f.Compared[0].Of != nil {
		t.Errorf("one that stands for its list is placed: %+v", f.Compared)
	}
}

// TestAtTheLimit compares numbers that differ by less and by more than the allowance.
func TestAtTheLimit(t *testing.T) {
	for _, c := range []struct {
		that string
		want bool
	}{
		{"0.1 + 0.2 <= 0.3", true}, {"0.1 + 0.2 > 0.3", false}, {"0.3 < 0.1 + 0.2", false}, {"0.3 >= 0.1 + 0.2", true},
		{"1 < 1.000001", true}, {"1.000001 <= 1", false}, {"1 >= 1.000001", false}, {"1.000001 > 1", true},
		{"1000000 >= 1000000.0005", true}, {"1000000 >= 1000000.002", false}, {"0.000000001 > 0", false}, {"0.000000002 > 0", true},
		{"part.width == 20", true}, {"5 / 2 == 2.5", true}, {"part.width * 0.15 == 3", true}, {"part.width * 0.1 + 0.1 + 0.1 != 2.2", false},
		{"part.width == 20.0000000004", true}, {"part.width == 20.000000002", false}, {"part.width != 20.000000002", true}, {"part.name == part.pressing", false},
	} {
		out := bookOf(t, withNeed("part", c.that+" || part.height < 0")).Judge(Case{Part: quiet(), Unit: "mm"})
		if got := len(out.Findings) == 0; got != c.want {
			t.Errorf("%s is %v", c.that, got)
		}
	}
}

// TestGrounds lists each ground once: the rule's own sources, then those of what the failed need reads.
func TestGrounds(t *testing.T) {
	b := bookOf(t, packText("    over: hole\n    sources: [book]\n    says: x\n    need:\n"+
		"      - {grade: change, that: hole.width > limits.special}\n"+
		"      - {grade: ask, that: 'hole.depth < limits.least + table(\"depths\", hole.width) && hole.width > limits.special'}\n"))
	f := b.Judge(Case{Part: sample(), Unit: "mm"}).Findings[0]
	if got := fmt.Sprint(f.Grade, f.Sources); got != "ask[{book published} { memory} { practice}]" {
		t.Error(got)
	}
}

func TestNarrowest(t *testing.T) {
	b := bookOf(t, packText("    over: wall\n    sources: [book]\n    says: x\n    need:\n"+
		"      - {grade: change, that: wall.thickness >= limits.special && wall.height != 3}\n"+
		"      - {grade: ask, that: 'wall.ratio <= 3 || wall.ratio <= 20 || wall.web'}\n"))
	var got []string
	for _, m := range b.Judge(Case{Part: sample(), Unit: "mm"}).Narrowest(5) {
		got = append(got, fmt.Sprintf("%s %.3f on %s", m.Compared.Measure+" "+m.Compared.Needs+" "+fmt.Sprint(m.Compared.Limit), m.Share,
			m.Subject.Place().Name))
	}
	want := "wall.thickness >= 0.8 0.250 on first; wall.ratio <= 20 0.500 on first"
	if s := strings.Join(got, "; "); s != want {
		t.Errorf("got  %s\nwant %s", s, want)
	}
	if n := len(b.Judge(Case{Part: sample(), Unit: "mm"}).Narrowest(1)); n != 1 {
		t.Errorf("asked for one, got %d", n)
	}
}
