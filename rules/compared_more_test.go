package rules

import "testing"

// TestComparedMore lists what fails for needs of every form: limits written first, subjects on both sides, nested
// lists, negation, choices, and comprehensions inside each other.
func TestComparedMore(t *testing.T) {
	for _, c := range []struct{ that, compared, on string }{
		{"limits.least >= hole.width", "hole.width = 4 <= 1.5 (limits.least) mm misses 2.5", "bore"},
		{"9 >= hole.depth", "hole.depth = 10 <= 9 mm misses 1", "bore"},
		{"5 < hole.width", "hole.width = 4 > 5 mm misses 1", "bore"},
		{"limits.least + limits.special > hole.width", "hole.width = 4 < 2.3 (limits.least + limits.special) mm misses 1.7", "bore"},
		{"'top' == hole.open", "hole.open = both == top", "bore"},
		{"4 != hole.width", "hole.width = 4 != 4 mm", "bore"},
		{"(hole.width)>(5)", "hole.width = 4 > 5 mm misses 1", "bore"},
		{"-hole.width > -3", "-hole.width = -4 > -3 mm misses 1", "bore"},

		{"2 * hole.width >= hole.depth", "2 * hole.width = 8 >= 10 (hole.depth) mm misses 2", "bore"},
		{"hole.width >= hole.depth", "hole.width = 4 >= 10 (hole.depth) mm misses 6", "bore"},
		{"hole.depth < hole.width", "hole.depth = 10 < 4 (hole.width) mm misses 6", "bore"},
		{"hole.width == hole.depth", "hole.width = 4 == 10 (hole.depth) mm misses 6", "bore"},
		{"hole.width == part.width", "hole.width = 4 == 20 (part.width) mm misses 16", "bore"},
		{"abs(hole.width - hole.depth) < 5", "abs(hole.width - hole.depth) = 6 < 5 mm misses 1", "bore"},
		{"least(hole.width, hole.depth) > limits.guess * 3", "least(hole.width, hole.depth) = 4 > 6 (limits.guess * 3) mm misses 2", "bore"},
		{"hole.width * hole.depth < 39", "hole.width * hole.depth = 40 < 39 mm2 misses 1", "bore"},
		{"hole.width > from_inch(1)", "hole.width = 4 > 25.4 (from_inch(1)) mm misses 21.4", "bore"},

		{"hole.width in [1, 2, 3]", "hole.width = 4 in 1, 2 and 3", "bore"},
		{"!(hole.width in [4, 5])", "hole.width = 4 not in 4 and 5", "bore"},
		{"hole.open in (hole.keyed ? ['top'] : ['bottom'])", "hole.open = both in bottom (hole.keyed ? ['top'] : ['bottom'])", "bore"},
		{"'hub' in hole.features", "hole.features = none contains hub", "bore"},
		{"part.walls.all(w, 'a' in w.between && 'b' in w.between)", "w.between = a and c contains b; w.between = a and d contains b", "second"},
		{"size(part.walls) <= 2", "size(part.walls) = 3 <= 2 count misses 1", "bore"},
		{"part.walls.size() == part.holes.size()", "part.walls.size() = 3 == 1 (part.holes.size()) count misses 2", "bore"},
		{"size(part.walls.filter(w, w.thickness < limits.least)) == 0", "size(part.walls.filter(w, w.thickness < limits.least)) = 2 == 0 count misses 2", "bore"},

		{"!!hole.keyed", "hole.keyed = false == true", "bore"},
		{"!(hole.through && hole.width > 3)", "hole.through = true == false any of 2; hole.width = 4 <= 3 mm misses 1 any of 2", "bore"},
		{"!(hole.width > 3) || hole.keyed", "hole.width = 4 <= 3 mm misses 1 any of 2; hole.keyed = false == true any of 2", "bore"},
		{"!within('depths', hole.width - 2)", "within('depths', hole.width - 2) = true == false", "bore"},
		{"!('c' in hole.features) && !part.walls.exists(w, 'c' in w.between)", "w.between = a and c not contains c", "second"},
		{"hole.width > 5 || part.walls.all(w, w.thickness >= 1.5)", "hole.width = 4 > 5 mm misses 1 any of 2; w.thickness = 1 >= 1.5 mm misses 0.5 any of 2 with 1; w.thickness = 1.4 >= 1.5 mm misses 0.1 any of 2 with 1", "bore"},
		{"(hole.width > 5 && hole.depth > 20) || (hole.width < 1 && hole.keyed)", "hole.width = 4 > 5 mm misses 1 any of 2 with 1; hole.depth = 10 > 20 mm misses 10 any of 2 with 1; hole.width = 4 < 1 mm misses 3 any of 2 with 2; hole.keyed = false == true any of 2 with 2", "bore"},
		{"hole.width > 5 || part.walls.exists(w, w.ratio < 1 || w.height > 20)", "hole.width = 4 > 5 mm misses 1 any of 3; w.ratio = 2 < 1 ratio misses 1 any of 3; w.height = 4 > 20 mm misses 16 any of 3", "bore"},
		{"part.walls.exists(w, w.web && w.thickness > 30 && w.height > 50)", "w.thickness = 2 > 30 mm misses 28 any of 3 with 1; w.height = 4 > 50 mm misses 46 any of 3 with 1", "second"},
		{"hole.depth * 0.1 == 1.2", "hole.depth * 0.1 = 1 == 1.2 mm misses 0.2", "bore"},
		{"within('depths', hole.width)", "within('depths', hole.width) = false == true", "bore"},
		{"false", "false = false == true", "bore"},

		{"(hole.keyed ? hole.width : hole.depth) < 9", "hole.keyed ? hole.width : hole.depth = 10 < 9 mm misses 1", "bore"},
		{"hole.through ? (hole.keyed ? hole.width > 1 : hole.width > 5) : true", "hole.width = 4 > 5 mm misses 1", "bore"},
		{"hole.keyed ? true : hole.width > 5 || hole.depth > 11", "hole.width = 4 > 5 mm misses 1 any of 2; hole.depth = 10 > 11 mm misses 1 any of 2", "bore"},
		{"has(hole.bore) ? hole.bore > 5 : true", "hole.bore = 4 > 5 mm misses 1", "bore"},
		{"has(material.name) && material.name == 'F-0000'", "material.name = FC-0208 == F-0000", "bore"},
		{"part.pressing == 'top' && part.width < 10", "part.pressing = both == top; part.width = 20 < 10 mm misses 10", "bore"},
		{"hole.width > 1 && (hole.depth < 3 || hole.depth > 30) && hole.keyed", "hole.depth = 10 < 3 mm misses 7 any of 2; hole.depth = 10 > 30 mm misses 20 any of 2; hole.keyed = false == true", "bore"},

		{"part.walls.all(w, w.thickness > 1 && w.height < 9)", "w.thickness = 1 > 1 mm misses 0; w.height = 10 < 9 mm misses 1", "first"},
		{"part.walls.all(w, !w.web)", "w.web = true == false", "second"},
		{"part.walls.exists(w, w.web && w.thickness > 3)", "w.thickness = 2 > 3 mm misses 1 any of 3", "second"},
		{"part.walls.exists(w, w.ratio < 1 || w.height > 20)", "w.ratio = 2 < 1 ratio misses 1 any of 2; w.height = 4 > 20 mm misses 16 any of 2", "second"},
		{"!part.walls.exists(w, w.web)", "w.web = true == false", "second"},
		{"!part.walls.all(w, w.height > 3)", "w.height = 4 <= 3 mm misses 1 any of 3", "second"},
		{"part.walls.all(w, part.holes.exists(h, h.width > w.height))", "h.width = 4 > 10 (w.height) mm misses 6 any of 1; h.width = 4 > 4 (w.height) mm misses 0 any of 1; h.width = 4 > 4 (w.height) mm misses 0 any of 1", "bore"},
		{"part.walls.exists(w, part.holes.all(h, h.width < w.height - 7))", "h.width = 4 < 3 (w.height - 7) mm misses 1 any of 3", "bore"},
		{"part.walls.filter(w, w.web).exists(v, v.thickness > 3)", "v.thickness = 2 > 3 mm misses 1 any of 1", "second"},
		{"part.walls.all(w, w.web ? w.height < 3 : true)", "w.height = 4 < 3 mm misses 1", "second"},
	} {
		out := bookOf(t, withNeed("hole", c.that)).Judge(Case{Part: sample(), Material: Material{Name: "FC-0208"}, Unit: "mm"})
		if len(out.Findings) != 1 || len(out.Faults) != 0 {
			t.Errorf("%s: %d findings, faults %v", c.that, len(out.Findings), out.Faults)
			continue
		}
		f := out.Findings[0]
		if got := written(f.Compared); got != c.compared || f.Subject.Place().Name != c.on {
			t.Errorf("%s: on %s\n got %s\nwant %s", c.that, f.Subject.Place().Name, got, c.compared)
		}
	}
}
