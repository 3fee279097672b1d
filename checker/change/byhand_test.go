package change

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"corerod/checker"
	"corerod/checker/internal/samples"
	"corerod/parts/form"
	"corerod/parts/source"
	"corerod/parts/subject"
	"corerod/rules"
)

// shown lists the changes of a rule's findings in short: path from -> to.
func shown(p *checker.PartReview, rule string) (all []string) {
	for _, f := range p.Findings {
		for _, c := range f.Changes {
			if f.Rule.Name != rule {
				continue
			}
			var sets []string
			for _, x := range c.Sets {
				if x.Remove {
					sets = append(sets, x.Path+" removed")
					continue
				}
				sets = append(sets, strings.TrimPrefix(fmt.Sprintf("%s %s -> %s%s", x.Path, x.From, x.Key, x.To), " "))
			}
			all = append(all, strings.Join(sets, ", "))
		}
	}
	return all
}

// TestChangesByHand: the first change of a finding is the one that is found by hand, from the limits of the pack.
func TestChangesByHand(t *testing.T) {
	book := samples.StandardBook(t)
	for _, c := range []struct{ name, rule, text, want string }{
		{"a wall of 15 - 13.9 = 1.1 mm, needed 1.5", "wall-thickness", // 0.4 more outside on each side, in steps of 0.05
			"bodies: {a: {circle: {diameter: 30}, from: 0, to: 8}}\ncuts: {a-bore: {circle: {diameter: 27.8}}}\nhold: [a-bore.diameter]", "bodies.a.circle.diameter 30 -> 30.8"},
		{"in inches 0.6 - 0.545 = 0.055, needed 1.5 mm = 0.0591", "wall-thickness", // 2 x 0.0591 + 1.09 = 1.2081, steps of 0.002
			"units: in\nbodies: {a: {circle: {diameter: 1.2}, from: 0, to: 0.3}}\ncuts: {a-bore: {circle: {diameter: 1.09}}}\nhold: [a-bore.diameter]", "bodies.a.circle.diameter 1.2 -> 1.21"},
		{"a bore of 1.2 mm, 3 deep, needed 1.5", "bore-width",
			"bodies: {a: {circle: {diameter: 30}, from: 0, to: 3}}\ncuts: {pin: {circle: {diameter: 1.2, at: [8, 0]}}}", "cuts.pin.circle.diameter 1.2 -> 1.5"},
		{"a class H7, needed IT9", "plan-tolerance",
			"bodies: {a: {circle: {diameter: 30}, from: 0, to: 8}}\ncuts: {bore: {circle: {diameter: 10}}}\ndimensions: {d: {of: bore.diameter, class: H7}}", "dimensions.d.class H7 -> H9"},
		{"a height of 0.1 mm in all, needed 0.14 and IT12 = 0.15", "axial-tolerance",
			"bodies: {a: {circle: {diameter: 30}, from: 0, to: 8}}\ndimensions: {d: {of: a.height, plus_minus: 0.05}}", "dimensions.d.plus_minus 0.05 -> 0.08"},
		{"a sharp corner, needed 0.25 mm", "corner-radius",
			"bodies: {a: {rectangle: {length: 30, width: 20}, from: 0, to: 8}}", "bodies.a.rectangle.corner  -> 0.25"},
		{"a flat of 0.1 mm, needed 0.13", "chamfer-flat",
			"bodies: {a: {circle: {diameter: 30}, from: 0, to: 8}}\nedges: {e: {of: a, face: top, chamfer: {width: 0.5, slope: 30, flat: 0.1}}}", "edges.e.chamfer.flat 0.1 -> 0.15"},
		{"a side of a polygon, moved whole", "wall-thickness", // 15 - 14 = 1 mm
			"bodies: {a: {polygon: {points: [[-20, -15], [20, -15], [20, 15], [-20, 15]], corner: 3}, from: 0, to: 8}}\ncuts: {b: {circle: {diameter: 6, at: [0, 11]}}}\nhold: [b.at, b.diameter]",
			"bodies.a.polygon.points[2][1] 15 -> 15.5, bodies.a.polygon.points[3][1] 15 -> 15.5"},
	} {
		text := "part: a\n" + c.text + "\n"
		if !strings.Contains(text, "units:") {
			text = "units: mm\n" + text
		}
		got := shown(changed(t, book, []byte(text), 3), c.rule)
		if len(got) == 0 || got[0] != c.want {
			t.Errorf("%s: %q, want %s", c.name, got, c.want)
		}
	}
}

// TestChangesOfTwo: where one number brings what is as bad, a second one takes it away.
func TestChangesOfTwo(t *testing.T) {
	// a bore of 1.2 mm in a post of 4: widened to 1.5 it leaves (3.6 - 1.5) / 2 = 1.05 mm, below the 1.1 that this pack needs
	text := "part: a\nunits: mm\nbodies: {a: {circle: {diameter: 3.6}, from: 0, to: 3}}\ncuts: {b: {circle: {diameter: 1.2}}}\n"
	pack := "pack: p\nversion: 1.0.0\ntitle: P\nlimits:\n  bore: {value: 1.5, unit: mm, basis: practice}\n  wall: {value: 1.1, unit: mm, basis: practice}\nrules:\n" +
		"  bore: {title: B, stage: tool, over: hole, need: [{grade: change, that: hole.width >= limits.bore}], says: \"x\", because: x, change: x, adjust: [hole.width]}\n" +
		"  wall: {title: W, stage: fill, over: wall, need: [{grade: change, that: wall.thickness >= limits.wall}], says: \"x\", because: x, change: x}\n"
	p, ps := rules.LoadPack([]rules.File{{Name: "p.yaml", Bytes: []byte(pack)}}, nil)
	if len(ps) > 0 {
		t.Fatal(ps)
	}
	book, _ := rules.NewBook(p)
	got := shown(changed(t, book, []byte(text), 3), "bore")
	if want := "cuts.b.circle.diameter 1.2 -> 1.5, bodies.a.circle.diameter 3.6 -> 3.7"; len(got) == 0 || got[0] != want {
		t.Errorf("%q, want %s", got, want)
	}
}

// TestChangesOfStructure: what no number clears, and what is done about it.
func TestChangesOfStructure(t *testing.T) {
	book := samples.StandardBook(t)
	disc := "part: a\nunits: mm\nbodies: {a: {circle: {diameter: 40}, from: 0, to: 10}}\n"
	for _, c := range []struct{ name, rule, text, want string }{
		{"cross hole", "cross-feature", disc + "sides: {s: {hole: {diameter: 3, toward: 0, z: 5}, in: a}}\n", "sides.s.made_by  -> machining"},
		{"void nearer to the top", "trapped-undercut", disc + "cuts: {b: {circle: {diameter: 6}, from: 6, to: 8}}\n", "cuts.b.to 8 -> 10"},
		{"void nearer to the bottom", "trapped-undercut", disc + "cuts: {b: {circle: {diameter: 6}, from: 1, to: 3}}\n", "cuts.b.from 1 -> 0"},
		{"void beside a neck, which is left out where a plate covers it", "trapped-undercut", "part: a\nunits: mm\nbodies:\n" +
			"  a: {circle: {diameter: 40}, from: 0, to: 6}\n  b: {circle: {diameter: 24}, from: 6, to: 14}\n" +
			"  c: {circle: {diameter: 34}, from: 14, to: 20}\n", "bodies.a.to 6 -> 14, bodies.b removed"},
		{"drafted bore", "reverse-taper", disc + "way_up: as-drawn\ncuts: {b: {circle: {diameter: 12}, draft: {angle: 2, narrows: down}}}\n", "cuts.b.draft.narrows down -> up"},
		{"turned bore", "reverse-taper", "part: a\nunits: mm\nway_up: as-drawn\nbodies: {a: {turned: {section: [[5, 0], [20, 0], [20, 10], " +
			"[6, 10]]}}}\n", "way_up as-drawn -> best"},
		{"a hub on a flange, the worse way up", "way-up", "part: a\nunits: mm\nway_up: as-drawn\nbodies: {a: {circle: {diameter: 40}, " +
			"from: 0, to: 6}, b: {circle: {diameter: 24}, from: 0, to: 20}}\n", "way_up as-drawn -> best"},
		{"turned bore, drawn upright", "reverse-taper", "part: a\nunits: mm\nway_up: as-drawn\nbodies: {a: {turned: {section: [[5, 0], [20, 0], [20, 10], [6, 10]]}}}\n", "bodies.a.turned.section[3][0] 6 -> 5"},
		{"four upper punches, of which the lowest is 3 mm below one that forms two levels", "upper-punches", "part: a\nunits: mm\nway_up: as-drawn\nbodies: {a: {circle: {diameter: 60}, from: 0, to: 5}, b: {circle: {diameter: 50, at: [8, 0]}, from: 0, to: 8}, " +
			"c: {circle: {diameter: 40}, from: 0, to: 9}, d: {circle: {diameter: 30}, from: 0, to: 20}, e: {circle: {diameter: 20}, from: 0, to: 24}}\n", "bodies.a.to 5 -> 8"},
		{"three kinds of sinks, each with a punch", "lower-punches", disc + "cuts: {r: {turned: {at: [13, 0], section: [[0, 0], [4, 0], [2, 4], " +
			"[0, 4]]}, repeat: {count: 2}}, s: {turned: {at: [0, 13], section: [[0, 0], [4, 0], [2, 4.5], [0, 4.5]]}}, t: {turned: {at: [0, -13], " +
			"section: [[0, 0], [4, 0], [2, 5], [0, 5]]}}}\n", "cuts.r.made_by  -> machining"},
		{"round rim", "edge-round", disc + "edges: {e: {of: a, face: top, round: {radius: 1}}}\n", "edges.e.round  -> chamfer{width: 1, slope: 30, flat: 0.25}"},
		{"keyway without radii", "joint-radius", disc + "cuts: {bore: {circle: {diameter: 12}}, key: {rectangle: {length: 3, width: 6, at: [0, 5], corner: 0.3}}}\n", "blends.bore-key  -> {of: [bore, key], radius: 0.2}"},
		{"raised letters on a seat", "mark-seating", disc + "seats: [a.top]\nmarks: {m: {on: a.top, raised: 0.3, box: [0, 0, 6, 3]}}\n", "marks.m.raised 0.3 -> recessed0.3"},
		{"step in a punch face", "step-share", disc[:len(disc)-2] + ", b: {circle: {diameter: 25}, from: 0, to: 14, punch: face}}\n", "bodies.b.to 14 -> 11.75"},
	} {
		got := shown(changed(t, book, []byte(c.text), 3), c.rule)
		if !slices.Contains(got, c.want) {
			t.Errorf("%s: %q, want %s", c.name, got, c.want)
		}
	}
}

// TestChangesKeepBodies: a body that a change of structure makes idle is left out with it, unless the file names it elsewhere. No change
// of numbers alone lowers a boss into its plate.
func TestChangesKeepBodies(t *testing.T) {
	pack := "pack: p\nversion: 1.0.0\ntitle: P\nrules:\n" +
		"  flat: {title: T, stage: eject, basis: practice, over: part, need: [{grade: change, that: \"size(part.steps) == 0\"}], says: x, because: x, change: x}\n"
	p, ps := rules.LoadPack([]rules.File{{Name: "p.yaml", Bytes: []byte(pack)}}, nil)
	if len(ps) > 0 {
		t.Fatal(ps)
	}
	book, _ := rules.NewBook(p)
	step := "part: a\nunits: mm\nbodies:\n  a: {circle: {diameter: 40}, from: 0, to: 10}\n  b: {circle: {diameter: 25}, from: 0, to: 11}\n"
	for more, want := range map[string]string{
		"": "bodies.a.to 10 -> 11, bodies.b removed",
		"dimensions: {d: {of: b.diameter, plus_minus: 0.5}}\n":             "",
		"hold: [b.diameter]\n":                                             "",
		"edges: {e: {of: b, face: top, chamfer: {width: 1, slope: 30}}}\n": "",
	} {
		r := changed(t, book, []byte(step+more), 9)
		if len(r.Findings) != 1 {
			t.Errorf("%s: %d findings", more, len(r.Findings))
		}
		if got := strings.Join(shown(r, "flat"), "; "); got != want {
			t.Errorf("%s: %q, want %q", more, got, want)
		}
	}
}

// TestChangesShared: where nothing was found for a finding by itself, a change of another finding that clears it too is its own.
func TestChangesShared(t *testing.T) {
	pack := "pack: p\nversion: 1.0.0\ntitle: P\nrules:\n" +
		"  crossing: {title: T, stage: eject, basis: practice, over: crossing, need: [{grade: change, that: \"crossing.made_by != 'pressing'\"}], says: x, because: x, change: x}\n" +
		"  crossings: {title: P, stage: eject, basis: practice, over: part, need: [{grade: change, that: \"size(part.crossings.filter(c, c.made_by == 'pressing')) == 0\"}], says: x, because: x, change: x}\n"
	p, ps := rules.LoadPack([]rules.File{{Name: "p.yaml", Bytes: []byte(pack)}}, nil)
	if len(ps) > 0 {
		t.Fatal(ps)
	}
	book, _ := rules.NewBook(p)
	got := changed(t, book,
		[]byte(
			"part: a\nunits: mm\nbodies: {a: {circle: {diameter: 30}, from: 0, to: 8}}\nsides: {s: {hole: {diameter: 3, toward: 0, z: 4}, in: a}}\n"), 3)
	for _, rule := range []string{"crossing", "crossings"} {
		if all := shown(got, rule); !slices.Contains(all, "sides.s.made_by  -> machining") {
			t.Errorf("%s: %q", rule, all)
		}
	}
}

// TestTurnOver: a part that is turned over has the same volume and mass, and its top is its bottom; turned twice it is
// the file as it was.
func TestTurnOver(t *testing.T) {
	files, _ := filepath.Glob("../../testdata/solids/*.yaml")
	more, _ := filepath.Glob("../../testdata/mill/*.yaml")
	book, turned := samples.StandardBook(t), 0
	for _, name := range append(files, more...) {
		b, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		doc, ps := source.Open(name, b)
		before, problems := checker.Read(name, b, book)
		if len(ps) > 0 || len(problems) > 0 {
			t.Fatal(ps, problems)
		}
		ends := before.Subject.ZLow + before.Subject.ZHigh
		if before.Part.Unit == "in" {
			continue
		}
		edits, ok := form.TurnOver(doc.Root, ends)
		if !ok {
			continue
		}
		turned++
		over, err := doc.With(edits...)
		if err != nil {
			t.Fatal(name, err)
		}
		after, problems := checker.Read(name, over, book)
		if len(problems) > 0 {
			t.Errorf("%s: %v", name, problems)
			continue
		}
		p, q := before.Subject, after.Subject
		for _, x := range [][2]float64{{p.Volume, q.Volume}, {p.PlanArea, q.PlanArea}, {p.Surface, q.Surface}, {p.ZLow, q.ZLow},
			{p.ZHigh, q.ZHigh}, {p.Outside, q.Outside}} {
			if math.Abs(x[0]-x[1]) > 1e-6*math.Max(1, math.Abs(x[0])) { // the ends are turned to a nanometre
				t.Errorf("%s: %v", name, x)
			}
		}
		if len(p.Walls) != len(q.Walls) || len(p.Holes) != len(q.Holes) || len(p.Corners) != len(q.Corners) {
			t.Errorf("%s: %d walls, %d holes and %d corners become %d, %d and %d", name, len(p.Walls), len(p.Holes), len(p.Corners),
				len(q.Walls), len(q.Holes), len(q.Corners))
		}
		if a, b := faces(p, "top"), faces(q, "bottom"); a != b {
			t.Errorf("%s: levels %s on top, and %s below when turned", name, a, b)
		}
		again, _ := source.Open(name, over)
		back, ok := form.TurnOver(again.Root, ends)
		twice, err := again.With(back...)
		if err != nil || !ok {
			t.Fatal(name, err)
		}
		third, problems := checker.Read(name, twice, book)
		if len(problems) > 0 || math.Abs(third.Subject.Volume-p.Volume) > 1e-6 {
			t.Errorf("%s: turned twice it is another part: %v", name, problems)
		}
	}
	if turned < 20 {
		t.Errorf("%d parts were turned", turned)
	}
}

// faces are the areas of the levels of one side, by their depth from it.
func faces(p *subject.Part, side string) string {
	var all []string
	for _, l := range p.Levels {
		if l.Face == side {
			depth := p.ZHigh - l.Z
			if side == "bottom" {
				depth = l.Z - p.ZLow
			}
			all = append(all, fmt.Sprintf("%.6f:%.3f", depth, l.Area))
		}
	}
	slices.Sort(all)
	return strings.Join(all, " ")
}

// TestChangesHold: what a part file holds is in no change, whatever else would have to move.
func TestChangesHold(t *testing.T) {
	n := 60
	if testing.Short() {
		n = 10
	}
	book, had := samples.StandardBook(t), 0
	for i, x := range samples.PlantedParts(t, n) {
		rng := rand.New(rand.NewPCG(uint64(i), 5))
		doc, _ := source.Open("part.yaml", x.Text)
		var held []string
		for _, m := range form.Numbers(doc.Root) {
			if rng.IntN(2) == 0 {
				held = append(held, strconv.Quote(m.Path))
			}
		}
		text := append(slices.Clone(x.Text), "hold: ["+strings.Join(held, ", ")+"]\n"...)
		for _, f := range changed(t, book, text, 20).Findings {
			for _, c := range f.Changes {
				had++
				for _, s := range c.Sets {
					for _, h := range held {
						if h = strings.Trim(h, `"`); h == s.Path || strings.HasPrefix(h, s.Path+".") {
							t.Errorf("%s sets %s, which is held:\n%s", f.Rule.Name, s.Path, text)
						}
					}
				}
			}
		}
	}
	if had < n/2 {
		t.Errorf("%d changes in %d parts", had, n)
	}
}

// TestChangesSame: the same changes at any number of workers, and again.
func TestChangesSame(t *testing.T) {
	book := samples.StandardBook(t)
	for _, x := range samples.PlantedParts(t, 12) {
		want := ""
		for _, workers := range []int{1, 2, 7} {
			r := Run(context.Background(), []checker.File{fileOf("part.yaml", x.Text)}, book,
				Options{Changes: 5, Options: checker.Options{StatusAt: rules.Change, Workers: workers}})
			got := fmt.Sprint(r.Parts[0].Search)
			for _, f := range r.Parts[0].Findings {
				for _, c := range f.Changes {
					got += fmt.Sprintf("\n%s %+v", f.ID, *c)
				}
			}
			if want == "" {
				want = got
			}
			if got != want {
				t.Errorf("%d workers:\n%s\nwant\n%s", workers, got, want)
			}
		}
	}
}

// TestChangesThatEase: where only the structure of the part clears a finding, numbers after which it is milder stand behind that.
func TestChangesThatEase(t *testing.T) {
	// a tube 52 mm high above its collar, with a wall of 1.8: 16 needs 52 / 16 = 3.25 mm, which is milder
	text := "part: a\nunits: mm\nmaterial: {name: FC-0208, density: 6.4}\nbodies: {a: {circle: {diameter: 20}, from: 0, to: 55}, c: {circle: {diameter: 26}, from: 0, to: 3}}\n" +
		"cuts: {b: {circle: {diameter: 16.4}}}\nhold: [a.height]\n"
	got := shown(changed(t, samples.StandardBook(t), []byte(text), 3), "wall-slenderness")
	if want := "cuts.b.made_by  -> machining"; len(got) < 2 || got[0] != want ||
		!slices.Contains(got, "bodies.a.circle.diameter 20 -> 22.9") {
		t.Errorf("%q, want %s and then a diameter of 22.9", got, want)
	}
}

// TestChangesOfManyNumbers: where a file has more numbers than half of what may be tried, each finding still gets its changes.
func TestChangesOfManyNumbers(t *testing.T) {
	var b strings.Builder
	b.WriteString("part: a\nunits: mm\nbodies: {a: {rectangle: {length: 60, width: 40, corner: 3}, from: 0, to: 3}}\ncuts:\n")
	b.WriteString(
		"  b: {circle: {diameter: 6, at: [0, 16]}}\n  c: {circle: {diameter: 1.2, at: [15, 0]}}\n  d: {rectangle: {length: 8, width: 6, at: [-15, 0], corner: 0.1}}\ndimensions:\n")
	for i := range 300 {
		fmt.Fprintf(&b, "  d%d: {of: b.diameter, plus_minus: 0.2}\n", i)
	}
	p := changed(t, samples.StandardBook(t), []byte(b.String()), 1)
	for _, rule := range []string{"wall-thickness", "bore-width", "corner-radius"} {
		if len(shown(p, rule)) == 0 {
			t.Errorf("%s has no change after %d changed parts", rule, p.Search.Tried)
		}
	}
	if p.Search.Tried > MostTried {
		t.Errorf("%d changed parts, at most %d", p.Search.Tried, MostTried)
	}
}

// TestChangesOfWhatNoToolForms: a knob that narrows toward its foot is turned round, not drawn so low that its trap is lost
// among the slices.
func TestChangesOfWhatNoToolForms(t *testing.T) {
	text := "part: yoke\nunits: mm\nbodies:\n  arm: {rectangle: {length: 46, width: 20, corner: 4}, from: 0, to: 9}\n  knob: {circle: {diameter: 12, at: [14, 0]}, from: 9, to: 13, draft: {angle: 4, narrows: down}}\n"
	got := shown(changed(t, samples.StandardBook(t), []byte(text), 3), "trapped-undercut")
	if len(got) == 0 || !slices.Contains(got, "bodies.knob.draft.narrows down -> up") {
		t.Errorf("%q", got)
	}
	for _, c := range got {
		if strings.Contains(c, "9.05") || strings.Contains(c, "12.95") {
			t.Errorf("%s only makes the trap small", c)
		}
	}
}
