package rules

import (
	"testing"

	"corerod/parts/subject"
)

// boltCircle is a part with a bore and bolt holes alike at so many places in a row, 10 mm apart.
func boltCircle(n int) *subject.Part {
	p := quiet()
	bore, bolt := through(20, 10), through(5, 10)
	bore.Name, bolt.Name = "bore", "bolts"
	bore.X = -50
	for i := range n {
		bolt.Places = append(bolt.Places, subject.Point{X: 10 * float64(i), ZHigh: 10})
	}
	p.Holes = append(p.Holes, bore, bolt)
	return p
}

// TestCopies: lists hold each copy at its own place, and a rule is over each subject once, where the first copy lies.
func TestCopies(t *testing.T) {
	for _, c := range []struct {
		over, that string
		holds      bool
	}{
		{"part", "size(part.holes) == 5", true},
		{"part", "size(part.holes) == 2", false},
		{"part", "size(part.holes.filter(h, h.x > 5)) == 3", true},
		{"part", "part.holes.exists_one(h, h.x == 30)", true},
		{"part", "part.holes.all(h, part.holes.all(g, h == g || h.x - g.x >= 10 || g.x - h.x >= 10))", true},
		{"part", "part.holes.all(h, part.holes.all(g, h == g || h.x - g.x >= 11 || g.x - h.x >= 11))", false},
		{"part", "part.holes.all(h, part.holes.exists_one(g, g == h))", true},
		{"part", "part.holes.all(h, size(part.holes.filter(g, g != h)) == 4)", true},
		{"part", "part.holes.all(h, h.count == 1 || h.count == 4 && size(h.places) == 4)", true},
		{"part", "part.holes.all(h, h.places.exists_one(g, g == h))", true},
		{"part", "part.holes.all(h, h.places.all(g, g.name == h.name && g.width == h.width))", true},
		{"part", "part.holes.all(h, h in part.holes)", true},
		{"hole", "hole.count == (hole.name == 'bolts' ? 4 : 1)", true},
		{"hole", "part.holes.exists_one(h, h == hole)", true},
		{"hole", "part.holes.exists_one(h, h != hole && h.places == hole.places) || hole.count != 2", true},
		{"hole", "hole.count <= 3", false},
		{"hole", "hole.places.all(h, h.x < 30)", false},
		{"hole", "hole.places.all(h, h.x <= 30)", true},
		{"hole", "hole in part.holes", true},
	} {
		out := bookOf(t, withNeed(c.over, c.that)).Judge(Case{Part: boltCircle(4), Unit: "mm"})
		if len(out.Faults) > 0 || (len(out.Findings) == 0) != c.holds {
			t.Errorf("%s: %+v %v", c.that, out.Findings, out.Faults)
		}
		if c.over == "hole" && (len(out.Findings) > 1 || out.Account[0].Subjects != 2) {
			t.Errorf("%s: %d findings on %d subjects", c.that, len(out.Findings), out.Account[0].Subjects)
		}
	}
}

// TestCopyFound: a finding on a copy lies where that copy lies, and has its count and measures.
func TestCopyFound(t *testing.T) {
	out := bookOf(t, withNeed("part", "part.holes.all(h, h.x < 20)")).Judge(Case{Part: boltCircle(4), Unit: "mm"})
	if len(out.Findings) != 1 || len(out.Faults) > 0 {
		t.Fatalf("%+v", out)
	}
	s := out.Findings[0].Subject
	if c := s.Place(); c.Name != "bolts" || c.X != 20 || len(c.Places) > 0 || subject.CountOf(s) != 4 || s.(*subject.Hole).Width != 5 {
		t.Errorf("%+v", s)
	}
}

// TestManyHoles: pair rules over 400 holes end without a fault, as do several of them together.
func TestManyHoles(t *testing.T) {
	for _, that := range []string{
		"part.holes.all(h, part.holes.all(g, h == g || h.x - g.x >= 10 || g.x - h.x >= 10))",
		"part.holes.all(h, part.holes.all(g, h == g || (h.x - g.x) * (h.x - g.x) + (h.y - g.y) * (h.y - g.y) >= 100))",
		"part.holes.all(h, part.holes.all(g, h == g || h.width + g.width < 40 && h.depth + g.depth < 100))",
	} {
		text := manyRules(3, "part", that)
		out := bookOf(t, text).Judge(Case{Part: boltCircle(399), Unit: "mm"})
		if len(out.Faults) > 0 || len(out.Findings) > 0 {
			t.Errorf("%s: %d findings, %v", that, len(out.Findings), out.Faults)
		}
		if all := out.Narrowest(3); len(all) > 0 {
			t.Errorf("%s: too expensive, and looked at: %v", that, all)
		}
		few := bookOf(t, text).Judge(Case{Part: boltCircle(40), Unit: "mm"})
		if all := few.Narrowest(3); len(all) != 3 {
			t.Errorf("%s: %d margins of few holes", that, len(all))
		}
	}
	failing := "part.holes.all(h, part.holes.all(g, h == g || h.x - g.x >= 10.5 || g.x - h.x >= 10.5))"
	out := bookOf(t, manyRules(3, "part", failing)).Judge(Case{Part: boltCircle(399), Unit: "mm"})
	if len(out.Faults) > 0 || len(out.Findings) != 3 {
		t.Error(len(out.Findings), out.Faults)
	}
}
