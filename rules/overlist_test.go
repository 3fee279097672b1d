package rules

import (
	"fmt"
	"strings"
	"testing"

	"corerod/parts/subject"
)

// TestOverLists: sums, least and greatest numbers of lists, texts and roundings, true and false.
func TestOverLists(t *testing.T) {
	for _, c := range []struct {
		over, that string
		holds      bool
	}{
		{"part", "sum(part.holes, h, h.width) == 40", true}, // 20 and four of 5
		{"part", "sum(part.holes, h, h.width) > 40", false},
		{"part", "sum(part.gaps, h, h.width) == 0", true},
		{"part", "sum(part.holes.filter(h, h.width < 10), h, h.depth * h.width) == 200", true},
		{"part", "sum(part.holes, h, h.through ? 1 : 0) == size(part.holes)", true},
		{"part", "size(part.holes) > 0 && least(part.holes, h, h.width) >= 5", true},
		{"part", "size(part.holes) > 0 && least(part.holes, h, h.width) >= 5.1", false},
		{"part", "size(part.holes) > 0 && greatest(part.holes, h, h.x) == 30", true},
		{"part", "size(part.gaps) == 0 || least(part.gaps, g, g.width) > 1", true},
		{"part", "part.holes.size() >= 1 ? greatest(part.holes, h, h.width) <= 20 : true", true},
		{"part", "!(size(part.holes) < 1) && least(part.holes, h, h.y) == 0", true},
		{"part", "0 < size(part.holes) && sum(part.holes, h, h.width) / size(part.holes) == 8", true},
		{"part", "part.holes.exists(h, h.width > 1) && greatest(part.holes, h, h.width) == 20", true},
		{"part", "part.holes.all(h, sum(part.holes, g, g == h ? 0 : g.width) >= 20)", true},
		{"part", "part.holes.filter(h, has(h.bore)).all(g, g.bore >= 5)", true},
		{"part", "size(part.holes.filter(h, has(h.bore))) > 0 && least(part.holes.filter(h, has(h.bore)), g, g.bore) == 5", true},
		{"part", "size(part.holes) > 0 && least(part.holes, h, -h.width) == -20 && greatest(part.holes, h, -h.width) == -5", true},
		{"hole", "sum(hole.places, h, h.x) == (hole.count == 4 ? 60 : -50)", true},
		{"hole", "hole.name.startsWith('bo')", true},
		{"hole", "hole.name.startsWith('bolt')", false},
		{"hole", "hole.name.endsWith('e') || hole.name.endsWith('s')", true},
		{"hole", "hole.name.contains('o') && !hole.name.contains('x')", true},
		{"hole", "hole.name.contains('olt')", false},
		{"hole", "round(hole.width / 6) == (hole.width > 10 ? 3 : 1)", true},
		{"part", "round(2.5) == 3 && round(-2.5) == -3 && round(part.height * 10) / 10 == part.height", true},
		{"part", "part.title == '' && part.customer != 'Millworks' && part.revision == ''", true},
		{"part", "least(3, 2) == 2 && greatest(part.height, 2) == part.height", true},
	} {
		out := bookOf(t, withNeed(c.over, c.that)).Judge(Case{Part: boltCircle(4), Unit: "mm"})
		if len(out.Faults) > 0 || (len(out.Findings) == 0) != c.holds {
			t.Errorf("%s: %d findings, %v", c.that, len(out.Findings), out.Faults)
		}
	}
}

// TestOverListsRefused reads expressions in which ^ marks the character that the problem stands at.
func TestOverListsRefused(t *testing.T) {
	for _, c := range []struct{ over, that, message string }{
		{"part", "^least(part.holes, h, h.width) > 5", "`least` has no value where the list is empty; ask first: `size(part.holes) > 0 && ...`, here or in `when`"},
		{"part", "size(part.walls) > 0 && 5 < ^greatest(part.holes, h, h.width)", "`greatest` has no value where the list is empty; ask first: `size(part.holes) > 0 && ...`"},
		{"part", "size(part.holes) >= 0 && ^least(part.holes, h, h.width) > 5", "`least` has no value where the list is empty"},
		{"part", "size(part.holes) > 0 || ^least(part.holes, h, h.width) > 5", "`least` has no value where the list is empty"},
		{"part", "size(part.holes) > 0 && ^least(part.holes.filter(h, h.through), h, h.width) > 5", "ask first: `size(part.holes.filter(h, h.through)) > 0 && ...`"},
		{"part", "size(part.holes.filter(h, h.x > 1)) > 0 && ^least(part.holes.filter(h, h.x > 2), h, h.width) > 5", "`least` has no value"},
		{"hole", "size(hole.places) > 0 && part.holes.all(g, ^least(g.places, h, h.width) > 5)", "`least` has no value"},
		{"part", "sum(part.holes, h, h.^bore) > 5", "`h.bore` may be absent"},
		{"part", "part.holes.filter(h, has(h.floor)).all(g, g.^bore > 3)", "`g.bore` may be absent"},
		{"part", "sum(part.holes, h, h.width) ^< part.plan_area", "the calculated number and `part.plan_area` have different units, mm and mm2"},
		{"part", "sum(part.holes, h, h.width * h.depth) ^< limits.least", "have different units, mm2 and mm"},
		{"part", "^sum(part.holes, h, h.name) > 5", "`sum` takes a number of each element, not text"},
		{"part", "size(part.holes) > 0 && ^least(part.holes, h, h.through) > 5", "`least` takes a number of each element, not true or false"},
		{"part", "^sum(part.holes, h.width) > 5", "`sum` takes a list, a name for each element and a number of it, as in `sum(part.holes, h, h.width)`"},
		{"part", "part.holes.^sum(h, h.width) > 5", "`sum` takes a list, a name for each element and a number of it"},
		{"part", "part.holes.^least(h, h.width) > 5", "`least` takes a list, a name for each element and a number of it"},
		{"part", "least(part.height, ^part.width, part.length) > 5", "the second argument of `least` names each element of the list, as in `least(part.holes, h, h.width)`; of three numbers write `least(a, least(b, c))`"},
		{"part", "sum(part.holes, ^wall, 1) > 5", "`wall` already names a kind of subject; choose another name"},
		{"part", "sum(part.^hole, h, 1) > 5", "unknown measure `part.hole`; did you mean `holes`?"},
		{"part", "part.height ^/ size(part.holes) > 5", "the divisor may be 0; divide by measures that are always above zero, limits and numbers other than 0, or write a product; of a list ask first: `size(list) > 0 && ...`"},
		{"part", "^avg(part.holes) > 5", "unknown function `avg`; write `sum(list, x, number of x) / size(list)` where `size(list) > 0`"},
		{"part", "^mean(part.holes) > 5", "write `sum(list, x, number of x) / size(list)`"},
		{"part", "part.holes.^count() > 5", "unknown function `count`; write `size(list)`, or `size(list.filter(x, condition))` for some of them"},
		{"part", "part.holes.^length() > 5", "write `size(list)`"},
		{"part", "^max(1, part.height) > 5", "write `greatest(a, b)` of two numbers, `greatest(list, x, number of x)` over a list"},
		{"part", "part.holes.^map(h, h.width) == []", "write `all`, `exists` or `filter` to ask of each element, `sum`, `least` or `greatest` for one number of all, as in `sum(part.holes, h, h.width)`"},
		{"part", "^int(part.height) > 5", "write `round(x)` for a whole number"},
		{"part", "^string(part.height) == '5'", "write the text alone; in `says` a number is printed with its unit, as by `length(x)`"},
		{"part", "^sqrt(part.height) > 5", "write the square on both sides"},
		{"part", "part.name.^startswith('a')", "did you mean `startsWith`?"},
		{"part", "^startsWith(part.name, 'a')", "`startsWith` stands behind its text, as in `hole.name.startsWith(\"pin\")`"},
		{"part", "part.name.startsWith^(5)", "`startsWith` takes a text behind a text, not text and a number"},
		{"part", "part.open_joints.contains^('a')", "`contains` takes a text behind a text (for a list, `x in list`), not a list of text and text"},
		{"part", "round^(part.name) > 5", "`round` takes one number, not text"},
		{"hole", "distance(hole, ^part) > 5", "a part has no outline in plan to measure from; `distance` measures between walls, holes, gaps, corners"},
		{"level", "part.holes.all(h, distance(h, ^level) > 5)", "a level has no outline in plan to measure from"},
		{"hole", "distance(hole, ^hole.width) > 5", "`distance` measures between two subjects, and `hole.width` is none"},
		{"hole", "distance(hole, ^part.holes) > 5", "`distance` measures between two subjects, and `part.holes` is a list; ask its elements, as in `part.holes.all(x, distance(x, ...) >= ...)`"},
		{"hole", "distance(hole, ^5) > 5", "`distance` measures between two subjects, and the calculated number is none"},
		{"hole", "part.holes.all(h, distance(h, hole) ^> 5 * part.plan_area)", "have different units, mm and mm2"},
		{"hole", "distance(hole, ^hole) > 5", "`distance` measures from a subject to itself here; name another one"},
		{"part", "least^(part.holes, 5) > 5", "`least` takes two numbers (over a list, `least(list, x, number of x)`), not a list of holes and a number"},
		{"hole", "distance^(hole) > 5", "`distance` takes two subjects, not the hole"},
	} {
		at := strings.Index(c.that, "^")
		that := strings.Replace(c.that, "^", "", 1)
		p, ps := load(withNeed(c.over, that))
		if p != nil || len(ps) != 1 || !strings.Contains(ps[0].Message, c.message) {
			t.Errorf("%s:\n%v", c.that, listed(ps))
			continue
		}
		if from := 33 + strings.Count(that[:at], "'"); ps[0].Line != 23 || ps[0].Column != from+at-1 {
			t.Errorf("%s: at %d:%d, not column %d", c.that, ps[0].Line, ps[0].Column, from+at-1)
		}
	}
}

// square is a footprint of one point on a line, for rules that measure from it.
type spot float64

func (s spot) Gap(other subject.Footprint) float64 {
	return max(float64(s-other.(spot)), float64(other.(spot)-s))
}
func (s spot) Size() int { return 1 }

// spotted gives the holes of a bolt circle footprints where they lie.
func spotted(n int) *subject.Part {
	p := boltCircle(n)
	for _, h := range p.Holes {
		h.Footprints = []subject.Footprint{spot(h.X)}
		for i, at := range h.Places {
			if i == 0 {
				h.Footprints = nil
			}
			h.Footprints = append(h.Footprints, spot(at.X))
		}
	}
	return p
}

// TestDistance: a rule over holes and one that compares each with each find the same near holes, also those alike.
func TestDistance(t *testing.T) {
	for _, c := range []struct {
		over, that string
		found      int
	}{
		{"part", "part.holes.all(h, part.holes.all(g, h == g || distance(h, g) >= 10))", 0},
		{"part", "part.holes.all(h, part.holes.all(g, h == g || distance(h, g) >= 10.1))", 1},
		{"hole", "part.holes.all(h, h == hole || distance(h, hole) >= 10)", 0},
		{"hole", "part.holes.all(h, h == hole || distance(h, hole) >= 10.1)", 1},
		{"hole", "part.holes.all(h, h == hole || distance(hole, h) >= 50)", 1},
		{"hole", "part.holes.all(h, h == hole || distance(hole, h) >= 51)", 2},
		{"hole", "distance(hole, part.holes) > 1", -1},
		{"part", "part.holes.all(h, part.holes.exists(g, g == h && distance(h, g) > 0))", 1},
		{"hole", "hole.places.all(h, distance(h, hole) == (hole.count > 1 ? 10 : 0))", 0},
		{"part", "size(part.holes) > 0 && least(part.holes, h, h.x < 0 ? 99 : sum(h.places, g, distance(g, h))) == 40", 0},
	} {
		p, _ := load(withNeed(c.over, c.that))
		if c.found < 0 {
			if p != nil {
				t.Errorf("%s is taken", c.that)
			}
			continue
		}
		out := bookOf(t, withNeed(c.over, c.that)).Judge(Case{Part: spotted(4), Unit: "mm"})
		if len(out.Faults) > 0 || len(out.Findings) != c.found {
			t.Errorf("%s: %d findings, %v", c.that, len(out.Findings), out.Faults)
		}
	}
	bare := bookOf(t, withNeed("hole", "part.holes.all(h, h == hole || distance(h, hole) >= 10)")).Judge(
		Case{Part: boltCircle(4), Unit: "mm"})
	if len(bare.Faults) != 1 || !strings.Contains(bare.Faults[0].Message, "has no outline in plan") {
		t.Errorf("holes without outlines: %+v", bare.Faults)
	}
}

// TestOverListsCompared: what failed is told with the number that was calculated, its unit and the limit.
func TestOverListsCompared(t *testing.T) {
	for that, want := range map[string]string{
		"sum(part.holes, h, h.width) <= limits.least":                                         "sum(part.holes, h, h.width) is 40 mm, needed <= 1.5 (limits.least)",
		"size(part.holes) > 0 && least(part.holes, h, h.width) >= 10 * limits.least":          "least(part.holes, h, h.width) is 5 mm, needed >= 15 (10 * limits.least)",
		"part.holes.all(h, part.holes.all(g, h == g || distance(h, g) >= 20 * limits.least))": "distance(h, g) is 10 mm, needed >= 30 (20 * limits.least)",
		"part.holes.all(h, h.name.startsWith('bore'))":                                        "h.name.startsWith('bore') is false, needed == true ()",
	} {
		out := bookOf(t, withNeed("part", that)).Judge(Case{Part: spotted(4), Unit: "mm"})
		if len(out.Findings) != 1 {
			t.Fatalf("%s: %+v", that, out)
		}
		got := ""
		for _, c := range out.Findings[0].Compared {
			got += strings.TrimSpace(fmt.Sprintf("%s is %v %s", c.Measure, c.Value, c.Unit)) +
				fmt.Sprintf(", needed %s %v (%s)\n", c.Needs, c.Limit, c.From)
		}
		if !strings.Contains(got, want+"\n") {
			t.Errorf("%s:\n%swant %s", that, got, want)
		}
	}
}

// TestOverListsWatched: a comparison with a sum, and a text that begins so, are conditions that a proof wants to see both ways.
func TestOverListsWatched(t *testing.T) {
	b := bookOf(t, withNeed("part", "sum(part.holes, h, h.width > 10 ? 1 : 0) < 2 && part.name.startsWith('wash')"))
	w := b.Rules[0].Watch()
	w.Show(b, Case{Part: boltCircle(4), Unit: "mm"})
	var got []string
	for _, c := range w.Clauses {
		got = append(got, fmt.Sprint(c.Text, c.True, c.False))
	}
	want := "sum(part.holes, h, h.width > 10 ? 1 : 0) < 2 true false|part.name.startsWith('wash') true false"
	if s := strings.ReplaceAll(strings.ReplaceAll(strings.Join(got, "|"), "true", " true"), "false", " false"); strings.ReplaceAll(s,
		"  ", " ") != want {
		t.Error(s)
	}
}

// TestOverListsKept: a kept tree of every new function is the one that was read.
func TestOverListsKept(t *testing.T) {
	that := "size(part.holes) > 0 && least(part.holes, h, h.width) >= sum(part.walls, w, w.height) && part.name.contains('a') && part.holes.all(h, part.holes.all(g, distance(h, g) == round(1.5)))"
	p, ps := load(withNeed("part", that))
	if p == nil {
		t.Fatal(ps)
	}
	x := p.env().expression(that)
	back := readTree(keepTree(x.tree), that)
	if back == nil {
		t.Fatal("the kept tree is not read")
	}
	if _, err := x.env.cel.PlanProgram(back); err != nil {
		t.Error(err)
	}
	if keepTree(back) != keepTree(x.tree) {
		t.Error("the kept tree comes back another")
	}
}
