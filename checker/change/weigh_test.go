package change

import (
	"fmt"
	"slices"
	"testing"

	"corerod/checker"
	"corerod/parts/subject"
	"corerod/rules"
)

// wallOf is a wall between features.
func wallOf(name string, thickness float64, features ...string) *subject.Wall {
	return &subject.Wall{Common: subject.Common{Name: name, Features: features}, Thickness: thickness, Height: 8, Length: 5,
		Ratio: 8 / thickness}
}

// thin is a finding of a rule on a wall, which misses a limit of 1 by so much.
func thin(r *rules.Rule, g rules.Grade, w *subject.Wall, by float64) rules.Finding {
	return rules.Finding{Rule: r, Grade: g, Over: w, Subject: w, Compared: []rules.Compared{{Measure: "wall.thickness", Value: 1 - by,
		Needs: ">=",
		Limit: 1.0, MissesBy: &by}}}
}

// TestPaired: the findings of a changed part, each with what it was, the worst with the worst of one rule on the same features; what a
// change brings and what it makes worse follows from the pairs.
func TestPaired(t *testing.T) {
	wall, rim := &rules.Rule{Name: "wall"}, &rules.Rule{Name: "rim"}
	ab, ac := wallOf("a-b", 0.5, "a", "b"), wallOf("a-c", 0.5, "a", "c")
	for _, c := range []struct {
		name            string
		was, is         []rules.Finding
		brings, worsens string
	}{
		{"the same", []rules.Finding{thin(wall, rules.Change, ab, 0.2)}, []rules.Finding{thin(wall, rules.Change, ab, 0.2)}, "[]", "[]"},
		{"it is gone", []rules.Finding{thin(wall, rules.Change, ab, 0.2)}, nil, "[]", "[]"},
		{"new", nil, []rules.Finding{thin(wall, rules.Change, ab, 0.2)}, "[{wall change wall a-b}]", "[]"},
		{"another rule", []rules.Finding{thin(rim, rules.Change, ab, 0.2)}, []rules.Finding{thin(wall, rules.Change, ab, 0.2)},
			"[{wall change wall a-b}]", "[]"},
		{"other features", []rules.Finding{thin(wall, rules.Change, ab, 0.2)}, []rules.Finding{thin(wall, rules.Change, ac, 0.2)},
			"[{wall change wall a-c}]", "[]"},
		{"a worse grade", []rules.Finding{thin(wall, rules.Ask, ab, 0.2)}, []rules.Finding{thin(wall, rules.Change, ab, 0.2)},
			"[{wall change wall a-b}]", "[]"},
		{"a milder grade that misses more", []rules.Finding{thin(wall, rules.Change, ab, 0.2)}, []rules.Finding{thin(wall, rules.Ask,
			ab, 0.3)}, "[]", "[]"},
		{"it misses more", []rules.Finding{thin(wall, rules.Change, ab, 0.2)}, []rules.Finding{thin(wall, rules.Change, ab, 0.2+1e-7)},
			"[]", "[{wall change wall a-b}]"},
		{"by rounding", []rules.Finding{thin(wall, rules.Change, ab, 0.2)}, []rules.Finding{thin(wall, rules.Change, ab, 0.2+1e-10)},
			"[]", "[]"},
		{"it misses less", []rules.Finding{thin(wall, rules.Change, ab, 0.2)}, []rules.Finding{thin(wall, rules.Change, ab, 0.1)},
			"[]", "[]"},
		{"two in another order", []rules.Finding{thin(wall, rules.Change, ab, 0.1), thin(wall, rules.Change, ab, 0.3)},
			[]rules.Finding{thin(wall, rules.Change, ab, 0.3), thin(wall, rules.Change, ab, 0.1)}, "[]", "[]"},
		{"a second one, milder than the first", []rules.Finding{thin(wall, rules.Change, ab, 0.3)},
			[]rules.Finding{thin(wall, rules.Ask, ab, 0.1), thin(wall, rules.Change, ab, 0.3)}, "[{wall ask wall a-b}]", "[]"},
	} {
		x := &candidate{}
		x.others(&checker.Finding{Finding: rules.Finding{Grade: rules.Stop}}, &rules.Outcome{Findings: c.was},
			&rules.Outcome{Findings: c.is})
		if got := fmt.Sprint(x.Brings); got != c.brings {
			t.Errorf("%s: brings %s, want %s", c.name, got, c.brings)
		}
		if got := fmt.Sprint(x.Worsens); got != c.worsens {
			t.Errorf("%s: worsens %s, want %s", c.name, got, c.worsens)
		}
	}
}

// TestSpoilt: a change is spoilt by one finding that is new and as bad as the one that it is for, whatever else it brings.
func TestSpoilt(t *testing.T) {
	r := &rules.Rule{Name: "wall"}
	ab, ac, ad := wallOf("a-b", 0.5, "a", "b"), wallOf("a-c", 0.5, "a", "c"), wallOf("a-d", 0.5, "a", "d")
	for _, c := range []struct {
		name     string
		was, new []rules.Finding
		want     bool
	}{
		{"nothing", nil, nil, false},
		{"a milder one", nil, []rules.Finding{thin(r, rules.Ask, ab, 0.2)}, false},
		{"one as bad", nil, []rules.Finding{thin(r, rules.Change, ab, 0.2)}, true},
		{"a worse one", nil, []rules.Finding{thin(r, rules.Stop, ab, 0.2)}, true},
		{"one as bad among milder ones", nil, []rules.Finding{thin(r, rules.Ask, ab, 0.2), thin(r, rules.Change, ac, 0.2), thin(r,
			rules.Ask, ad, 0.2)}, true},
		{"one that misses more than before", []rules.Finding{thin(r, rules.Change, ab, 0.1)}, []rules.Finding{thin(r, rules.Change, ab,
			0.2)}, false},
		{"an ask that became a change", []rules.Finding{thin(r, rules.Ask, ab, 0.1)}, []rules.Finding{thin(r, rules.Change, ab, 0.2)},
			true},
	} {
		x := &candidate{}
		x.others(&checker.Finding{Finding: rules.Finding{Grade: rules.Change}}, &rules.Outcome{Findings: c.was},
			&rules.Outcome{Findings: c.new})
		if x.spoilt != c.want {
			t.Errorf("%s: %t", c.name, x.spoilt)
		}
	}
}

// TestBrought: the first finding as bad as the target's that a variant has more of, as a target for a second number.
func TestBrought(t *testing.T) {
	r := &rules.Rule{Name: "wall"}
	ab, ac := wallOf("a-b", 0.5, "a", "b"), wallOf("a-c", 0.5, "a", "c")
	for _, c := range []struct {
		name     string
		was, new []rules.Finding
		want     string
	}{
		{"none", []rules.Finding{thin(r, rules.Change, ab, 0.2)}, []rules.Finding{thin(r, rules.Change, ab, 0.3)}, ""},
		{"a milder one", nil, []rules.Finding{thin(r, rules.Ask, ab, 0.2)}, ""},
		{"one as bad behind a milder one", nil, []rules.Finding{thin(r, rules.Ask, ab, 0.2), thin(r, rules.Change, ac, 0.2)}, "a-c"},
	} {
		s := &search{base: &variant{out: &rules.Outcome{Findings: c.was}}}
		v := &variant{out: &rules.Outcome{Findings: c.new}}
		got := s.brought(&target{finding: &checker.Finding{Finding: rules.Finding{Grade: rules.Change}}}, v)
		switch {
		case got == nil:
			if c.want != "" {
				t.Errorf("%s: none, want %s", c.name, c.want)
			}
		case !slices.Equal(got.names, []string{c.want}) || got.finding.Over.Place().Name != c.want || len(got.all) != 1 ||
			got.base != v || !got.numeric:
			t.Errorf("%s: %+v, want %s", c.name, got, c.want)
		}
	}
	flat := rules.Finding{Rule: r, Grade: rules.Change, Over: ab, Subject: ab, Compared: []rules.Compared{{Measure: "wall.web",
		Value: true, Limit: false}}}
	s := &search{base: &variant{out: &rules.Outcome{}}}
	got := s.brought(&target{finding: &checker.Finding{}}, &variant{out: &rules.Outcome{Findings: []rules.Finding{flat}}})
	if got == nil || got.numeric {
		t.Errorf("what is true or false is numeric: %+v", got)
	}
}

// TestMeasuresMoved: measures that move by more than 1 %, those of the target's subjects and of places left out; subjects that come or go
// count as one each.
func TestMeasuresMoved(t *testing.T) {
	hole := func(name string, width, depth float64) *subject.Hole {
		return &subject.Hole{Common: subject.Common{Name: name}, Width: width, Depth: depth}
	}
	was := &subject.Part{Height: 100, Length: 50, Volume: 1000, Walls: []*subject.Wall{wallOf("a-b", 2), wallOf("a-c", 2)},
		Holes: []*subject.Hole{hole("a-b", 6, 10)}}
	for _, c := range []struct {
		name string
		is   *subject.Part
		want int
	}{
		{"nothing", &subject.Part{Height: 100, Length: 50, Volume: 1000, Walls: was.Walls, Holes: was.Holes}, 0},
		{"the part by 1 %, and less", &subject.Part{Height: 100, Length: 50.5, Volume: 1009, Walls: was.Walls, Holes: was.Holes}, 0},
		{"the part by more", &subject.Part{Height: 102, Length: 50, Volume: 980, Walls: was.Walls, Holes: was.Holes}, 2},
		{"the target's wall", &subject.Part{Height: 100, Length: 50, Volume: 1000, Walls: []*subject.Wall{wallOf("a-b", 3),
			was.Walls[1]}, Holes: was.Holes}, 0},
		{"the target's wall is gone", &subject.Part{Height: 100, Length: 50, Volume: 1000, Walls: was.Walls[1:], Holes: was.Holes}, 0},
		{"another wall: thickness and ratio", &subject.Part{Height: 100, Length: 50, Volume: 1000, Walls: []*subject.Wall{was.Walls[0],
			wallOf("a-c", 3)}, Holes: was.Holes}, 2},
		{"another wall is gone", &subject.Part{Height: 100, Length: 50, Volume: 1000, Walls: was.Walls[:1], Holes: was.Holes}, 1},
		{"another wall is new", &subject.Part{Height: 100, Length: 50, Volume: 1000, Walls: []*subject.Wall{was.Walls[0], was.Walls[1],
			wallOf("a-d", 2), wallOf("a-e", 2)}, Holes: was.Holes}, 2},
		{"a hole of the target's name", &subject.Part{Height: 100, Length: 50, Volume: 1000, Walls: was.Walls,
			Holes: []*subject.Hole{hole("a-b", 7, 10)}}, 1},
	} {
		tg := &target{finding: &checker.Finding{Finding: rules.Finding{Over: was.Walls[0]}}, names: []string{"a-b"}}
		if got := tg.measures(was, c.is); got != c.want {
			t.Errorf("%s: %d, want %d", c.name, got, c.want)
		}
	}
}

// TestFieldsMoved: measures that differ by more than a share of the greater one, or that only one of two subjects has.
func TestFieldsMoved(t *testing.T) {
	hole := func(width, x float64, bore subject.Optional) *subject.Hole {
		return &subject.Hole{Common: subject.Common{X: x, Y: x, ZLow: x, ZHigh: x}, Width: width, Bore: bore}
	}
	for _, c := range []struct {
		name string
		a, b *subject.Hole
		want int
	}{
		{"alike", hole(10, 0, subject.Some(3)), hole(10, 0, subject.Some(3)), 0},
		{"at another place", hole(10, 0, subject.Some(3)), hole(10, 40, subject.Some(3)), 0},
		{"by the share just", hole(10, 0, subject.Some(3)), hole(8, 0, subject.Some(3)), 0},
		{"by more than the share of the greater", hole(10, 0, subject.Some(3)), hole(7.9, 0, subject.Some(3)), 1},
		{"and the other way", hole(7.9, 0, subject.Some(3)), hole(10, 0, subject.Some(3)), 1},
		{"below zero", hole(-7.9, 0, subject.Some(3)), hole(-10, 0, subject.Some(3)), 1},
		{"below zero, by less", hole(-9, 0, subject.Some(3)), hole(-10, 0, subject.Some(3)), 0},
		{"one has no bore", hole(10, 0, subject.Some(0)), hole(10, 0, subject.Optional{}), 1},
		{"two measures", hole(10, 0, subject.Some(3)), hole(20, 0, subject.Some(6)), 2},
	} {
		if got := fieldsMoved(c.a, c.b, 0.2); got != c.want {
			t.Errorf("%s: %d, want %d", c.name, got, c.want)
		}
	}
}
