package change

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"corerod/checker"
	"corerod/parts/form"
	"corerod/parts/source"
	"corerod/parts/subject"
	"corerod/rules"
)

// wallBook asks for walls of 1.5 mm, with an own grade from 1.2 mm on; then is more of its rules.
func wallBook(t *testing.T, more ...string) *rules.Book {
	t.Helper()
	text := "pack: p\nversion: 1.0.0\ntitle: P\nlimits: {wall: {value: 1.5, unit: mm, basis: practice}, least: {value: 1.2, unit: mm, " +
		"basis: practice}}\nrules:\n" +
		"  wall: {title: W, stage: fill, over: wall, need: [{grade: change, that: wall.thickness >= limits.least}, {grade: ask, that: " +
		"wall.thickness >= limits.wall}], says: x, because: x, change: x, adjust: [wall.thickness]}\n"
	p, ps := rules.LoadPack([]rules.File{{Name: "p.yaml", Bytes: []byte(text + strings.Join(more, ""))}}, nil)
	if len(ps) > 0 {
		t.Fatal(ps)
	}
	book, ps := rules.NewBook(p)
	if len(ps) > 0 {
		t.Fatal(ps)
	}
	return book
}

// tube has a wall of (30 - bore) / 2 mm.
func tube(bore string) string {
	return "bodies: {a: {circle: {diameter: 30}, from: 0, to: 8}}\ncuts: {b: {circle: {diameter: " + bore + "}}}"
}

// numberAt is the number of a path.
func numberAt(t *testing.T, s *search, path string) *form.Number {
	t.Helper()
	i := slices.IndexFunc(s.numbers, func(n form.Number) bool { return n.Path == path })
	if i < 0 {
		t.Fatalf("there is no number %s", path)
	}
	return &s.numbers[i]
}

// TestSolve: the least number that reaches the goal, and after how many looks: one step, where its slope leads, and one step back.
func TestSolve(t *testing.T) {
	for _, c := range []struct {
		name, bore, path string
		way, most        int
		goal             float64 // of the wall, mm
		want             string
		tried            int
	}{
		{"0.1 mm wanting, 0.025 a step", "27.2", "bodies.a.circle.diameter", 1, 24, 1.5, "30.2", 3},
		{"the wrong way", "27.2", "bodies.a.circle.diameter", -1, 24, 1.5, "none", 1},
		{"the bore downward", "27.2", "cuts.b.circle.diameter", -1, 24, 1.5, "27", 3},
		{"one step is enough", "27.05", "bodies.a.circle.diameter", 1, 24, 1.5, "30.05", 1},
		{"an odd start: to 27 by whole steps", "27.04", "cuts.b.circle.diameter", -1, 24, 1.5, "27", 1},
		{"a number that moves nothing", "27.2", "bodies.a.to", 1, 24, 1.5, "none", 1},
		{"0.02 mm into the other grade: the miss and the goal are other ones", "27.64", "bodies.a.circle.diameter", 1, 24, 1.2, "30.05", 1},
		{"a look too few to know that it is the least", "27.2", "bodies.a.circle.diameter", 1, 2, 1.5, "none", 2},
		{"looks enough", "27.2", "bodies.a.circle.diameter", 1, 3, 1.5, "30.2", 3},
		{"no look", "27.2", "bodies.a.circle.diameter", 1, 0, 1.5, "none", 0},
	} {
		s := searchOf(t, wallBook(t), tube(c.bore))
		f, n := s.of.Findings[0], numberAt(t, s, c.path)
		goal := func(v *variant) bool { return v.derived.Subject.Walls[0].Thickness >= c.goal }
		x, tried := s.solve(s.base, s.target(f), n, c.way, c.most, goal)
		got := "none"
		if x != nil {
			got = number(x.to)
			if x.number != n || x.at != s.review(n.Edits(x.to)) {
				t.Errorf("%s: the solution is of another number or variant", c.name)
			}
		}
		if got != c.want || tried != c.tried {
			t.Errorf("%s: %s after %d, want %s after %d", c.name, got, tried, c.want, c.tried)
		}
	}
}

// TestSolveAcrossGrades: from one grade into the milder one, where the miss is of another limit: the slope is none there, and the
// number is the least all the same.
func TestSolveAcrossGrades(t *testing.T) {
	s := searchOf(t, wallBook(t), tube("28")) // 1 mm: a change, from 1.2 on an ask, clear at 1.5
	tg := s.target(s.of.Findings[0])
	x, tried := s.solve(s.base, tg, numberAt(t, s, "bodies.a.circle.diameter"), 1, 24, func(v *variant) bool { return s.cleared(tg, v) })
	if x == nil || number(x.to) != "31" || tried > 8 {
		t.Errorf("%+v after %d, want 31 after 8 at most", x, tried)
	}
}

// TestOneWay: upward first; downward only where the first step up leads no nearer.
func TestOneWay(t *testing.T) {
	for _, c := range []struct {
		name, path  string
		most        int
		want        string
		tried, left int
	}{
		{"up", "bodies.a.circle.diameter", 12, "30.2", 3, 0},
		{"down after one look up", "cuts.b.circle.diameter", 12, "27", 4, 0},
		{"neither way", "bodies.a.to", 12, "none", 2, 0},
		{"nearer upward, and not far enough: no look down", "bodies.a.circle.diameter", 2, "none", 2, 0},
	} {
		s := searchOf(t, wallBook(t), tube("27.2"))
		tg := s.target(s.of.Findings[0])
		x, tried := s.oneWay(tg, s.base, numberAt(t, s, c.path), c.most, func(v *variant) bool { return s.cleared(tg, v) })
		got := "none"
		if x != nil {
			got = number(x.to)
		}
		if got != c.want || tried != c.tried {
			t.Errorf("%s: %s after %d, want %s after %d", c.name, got, tried, c.want, c.tried)
		}
	}
}

// TestNumbersFor: the numbers that clear a finding with what they set, and that the budget ends the search.
func TestNumbersFor(t *testing.T) {
	for _, c := range []struct {
		left    int
		want    string
		stopped bool
	}{
		{MostTried, "bodies.a.circle.diameter 30 -> 30.2; cuts.b.circle.diameter 27.2 -> 27", false},
		{8, "", true}, // two numbers or more: three looks each at least
	} {
		s := searchOf(t, wallBook(t), tube("27.2"))
		s.probe(s.of.Findings)
		tg := s.target(s.of.Findings[0])
		s.tried = MostTried - c.left
		good, spoilt := s.numbersFor(tg, s.base, nil, func(v *variant) bool { return s.cleared(tg, v) })
		var got []string
		for _, x := range good {
			got = append(got, written(x.Sets))
		}
		slices.Sort(got)
		if got := strings.Join(got, "; "); got != c.want || s.stopped != c.stopped || len(spoilt) > 0 {
			t.Errorf("%d left: %s, stopped %t, %d spoilt; want %s, %t", c.left, got, s.stopped, len(spoilt), c.want, c.stopped)
		}
		if used := s.tried - MostTried + c.left; used > c.left || (used == 0) != c.stopped {
			t.Errorf("%d tried of %d", used, c.left)
		}
	}
	s := searchOf(t, wallBook(t), tube("27.2"))
	s.probe(s.of.Findings)
	tg, before := s.target(s.of.Findings[0]), s.tried
	tg.numeric = false
	if good, spoilt := s.numbersFor(tg, s.base, nil, func(*variant) bool { return true }); len(good)+len(spoilt) > 0 || s.tried != before {
		t.Errorf("numbers are tried for what is missed by no number: %v %v", good, spoilt)
	}
}

// TestMovers: numbers that move a measure of a target, and absent ones of its features; not those that are set already.
func TestMovers(t *testing.T) {
	text := "bodies: {a: {rectangle: {length: 40, width: 30}, from: 0, to: 8}, far: {circle: {diameter: 6, at: [60, 0]}, from: 0, to: " +
		"8}, arm: {rectangle: {length: 60, width: 4, at: [30, 0]}, from: 0, to: 8}}\n" +
		"cuts: {b: {circle: {diameter: 6, at: [0, 11]}}}"
	s := searchOf(t, wallBook(t), text) // a wall of 15 - 14 = 1 mm
	s.probe(s.of.Findings)
	if names := s.of.Findings[0].Subject.Place().Features; len(s.of.Findings) != 1 || !slices.Equal(names, []string{"a", "b"}) {
		t.Fatalf("%d findings, on %v", len(s.of.Findings), names)
	}
	tg := s.target(s.of.Findings[0])
	paths := func(sets ...checker.Set) string {
		var all []string
		for _, n := range s.movers(tg, sets) {
			all = append(all, n.Path)
		}
		return strings.Join(all, " ")
	}
	absent := "bodies.a.rectangle.corner bodies.a.draft bodies.a.draft cuts.b.draft cuts.b.draft"
	if got, want := paths(), "bodies.a.rectangle.width bodies.a.from bodies.a.to cuts.b.circle.diameter cuts.b.circle.at[1] "+
		""+absent; got != want {
		t.Errorf("%s, want %s", got, want)
	}
	if got, want := paths(checker.Set{Path: "cuts.b.circle.diameter"}, checker.Set{Path: "bodies.a.draft"}),
		"bodies.a.rectangle.width bodies.a.from bodies.a.to cuts.b.circle.at[1] bodies.a.rectangle.corner cuts.b.draft "+
			"cuts.b.draft"; got != want {
		t.Errorf("with two set: %s, want %s", got, want)
	}
}

// TestMoves: a probe moves a target where a measure of its subjects is another one, where one of them is gone, and where the probe could
// not be made; where they lie counts only where a distance is compared.
func TestMoves(t *testing.T) {
	hole := func(width, x float64) *subject.Hole {
		return &subject.Hole{Common: subject.Common{Name: "h", X: x}, Width: width}
	}
	of := func(holes ...*subject.Hole) *variant {
		return &variant{derived: &checker.Derived{Subject: &subject.Part{Holes: holes}}}
	}
	was := hole(6, 0)
	tg := &target{all: []*rules.Finding{{Over: was, Subject: was}}, finding: &checker.Finding{}}
	away := &target{all: tg.all, finding: &checker.Finding{Finding: rules.Finding{Compared: []rules.Compared{{Measure: "distance(h, g)"}}}}}
	limit := &target{all: tg.all, finding: &checker.Finding{Finding: rules.Finding{Compared: []rules.Compared{{Measure: "h.width"},
		{Measure: "h.depth", From: "2 * distance(h, g)"}}}}}
	for _, c := range []struct {
		name          string
		probe         *variant
		by, distances bool
	}{
		{"alike", of(hole(6, 0)), false, false},
		{"another width", of(hole(6.01, 0)), true, true},
		{"another place", of(hole(6, 1)), false, true},
		{"gone", of(), true, true},
		{"none", nil, true, true},
	} {
		if got := tg.moves(of(was), c.probe); got != c.by {
			t.Errorf("%s: %t", c.name, got)
		}
		for _, x := range []*target{away, limit} {
			if got := x.moves(of(was), c.probe); got != c.distances {
				t.Errorf("%s, by distance: %t", c.name, got)
			}
		}
	}
	other := &subject.Wall{Common: subject.Common{Name: "w"}, Thickness: 2}
	moved := &variant{derived: &checker.Derived{Subject: &subject.Part{Holes: []*subject.Hole{hole(6, 0)},
		Walls: []*subject.Wall{{Common: subject.Common{Name: "w"}, Thickness: 3}}}}}
	base := &variant{derived: &checker.Derived{Subject: &subject.Part{Holes: []*subject.Hole{was}, Walls: []*subject.Wall{other}}}}
	both := &target{all: []*rules.Finding{{Over: was, Subject: other}}, finding: &checker.Finding{}}
	if !both.moves(base, moved) || tg.moves(base, moved) {
		t.Error("the element that is found counts too, and no other subject")
	}
}

// TestSetsOf: a number with all that moves along, each with its own place and value.
func TestSetsOf(t *testing.T) {
	text := "part: a\nunits: in\nbodies:\n  a: {circle: {diameter: 2}, from: 0, to: 0.4}\ndimensions:\n  d: {of: a.height,\n    " +
		"limits: [0.38,\n      0.42]}\n"
	root, ps := source.Parse("x.yaml", []byte(text))
	if len(ps) > 0 {
		t.Fatal(ps)
	}
	all := form.Numbers(root)
	i := slices.IndexFunc(all, func(n form.Number) bool { return n.Path == "bodies.a.to" })
	want := "[{bodies.a.to 4 0.4 0.5 in  false} {dimensions.d.limits[0] 7 0.38 0.48 in  false} {dimensions.d.limits[1] 8 0.42 0.52 in  false}]"
	if got := fmt.Sprint(setsOf(&all[i], 0.5)); got != want {
		t.Errorf("%s, want %s", got, want)
	}
}

// TestSearchNumbers: held numbers are none that may move, nor is what moves with them; each has its unit.
func TestSearchNumbers(t *testing.T) {
	s := searchOf(t, noRules(t), "bodies: {a: {circle: {diameter: 40}, from: 0, to: 10, draft: {angle: 2, narrows: up}}}\ncuts: {b: "+
		"{circle: {diameter: 6, at: [1, 2]}}}\n"+
		"dimensions: {d: {of: a.height, limits: [9, 11]}, e: {of: b.diameter, class: H8}}\nhold: [b.at, a.height]")
	var free []string
	for _, n := range s.numbers {
		free = append(free, n.Path)
	}
	slices.Sort(free)
	slices.Sort(s.held)
	if got, want := strings.Join(free, " "), "bodies.a.circle.diameter bodies.a.draft.angle cuts.b.circle.diameter "+
		"dimensions.d.limits[0] dimensions.d.limits[1] dimensions.e.class"; got != want {
		t.Errorf("free: %s, want %s", got, want)
	}
	held := strings.Join(slices.Compact(s.held), " ")
	if want := "bodies.a.from bodies.a.to cuts.b.circle.at[0] cuts.b.circle.at[1] dimensions.d.limits[0] " +
		"dimensions.d.limits[1]"; held != want {
		t.Errorf("held: %s, want %s", held, want)
	}
	for path, want := range map[string]string{"bodies.a.to": "mm", "bodies.a.draft.angle": "deg", "dimensions.e.class": "",
		"dimensions.d.limits[1]": "mm"} {
		if s.units[path] != want {
			t.Errorf("%s is in %q, not %q", path, s.units[path], want)
		}
	}
}

// TestProbe: the numbers of what was found go first, in their order; at most half of what may be tried is spent on them.
func TestProbe(t *testing.T) {
	s := searchOf(t, wallBook(t), "bodies: {z: {circle: {diameter: 60}, from: 0, to: 8}}\ncuts: {c: {circle: {diameter: 6}}, b: "+
		"{circle: {diameter: 6, at: [0, 26]}}, d: {circle: {diameter: 6, at: [0, -12]}}}")
	s.probe(s.of.Findings) // between z and b
	var got []string
	for i, n := range s.numbers {
		got = append(got, n.Path)
		if v := s.probes[i]; v == nil || len(v.edits) == 0 || v.edits[0].Path != n.Path {
			t.Errorf("the probe of %s is another one: %+v", n.Path, v)
		}
	}
	want := "bodies.z.circle.diameter bodies.z.from bodies.z.to cuts.b.circle.diameter cuts.b.circle.at[0] cuts.b.circle.at[1] " +
		"cuts.c.circle.diameter cuts.d.circle.diameter cuts.d.circle.at[0] cuts.d.circle.at[1]"
	if got := strings.Join(got, " "); got != want || s.tried != 10 || s.stopped {
		t.Errorf("%s, %d tried, stopped %t; want %s", got, s.tried, s.stopped, want)
	}
	if s.left() != MostTried-10 {
		t.Errorf("%d left", s.left())
	}
	ended, cancel := context.WithCancel(context.Background())
	cancel()
	s.ctx, s.tried = ended, 0
	for _, n := range []int{MostTried / 2, MostTried/2 + 1} {
		s.numbers = slices.Repeat(s.numbers[:1], n)
		s.probe(s.of.Findings)
		if len(s.numbers) != MostTried/2 || len(s.probes) != MostTried/2 || s.stopped != (n > MostTried/2) {
			t.Errorf("of %d numbers %d are moved, stopped %t", n, len(s.probes), s.stopped)
		}
	}
}

// TestEach: each piece of work is done once and counted, no more of them at once than there are workers, and as many as that.
func TestEach(t *testing.T) {
	for _, c := range []struct{ workers, n int }{{1, 7}, {2, 7}, {3, 2}, {4, 0}, {2, 2}} {
		s := &search{workers: c.workers, tried: 100}
		var done [10]atomic.Int32
		var now, most atomic.Int32
		var both sync.WaitGroup
		atOnce := min(c.workers, c.n)
		both.Add(atOnce)
		s.each(c.n, func(i int) int {
			most.Store(max(most.Load(), now.Add(1)))
			defer now.Add(-1)
			if done[i].Add(1); i < atOnce {
				both.Done()
				waited := make(chan struct{})
				go func() { both.Wait(); close(waited) }()
				select {
				case <-waited:
				case <-time.After(20 * time.Second):
					t.Errorf("%+v: fewer than %d are at work at once", c, atOnce)
				}
			}
			return i
		})
		for i := range done {
			if got, want := done[i].Load() == 1, i < c.n; got != want {
				t.Errorf("%+v: %d was done %d times", c, i, done[i].Load())
			}
		}
		if int(most.Load()) > c.workers || s.tried != 100+c.n*(c.n-1)/2 {
			t.Errorf("%+v: %d at once, %d counted", c, most.Load(), s.tried-100)
		}
	}
}
