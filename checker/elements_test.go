package checker

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"testing"

	"corerod/parts/form"
	"corerod/rules"
)

// listBook has one rule whose need is over the holes of a part.
func listBook(t *testing.T, need string) *rules.Book {
	t.Helper()
	text := "pack: shop\nversion: 1.0.0\ntitle: Shop\nsources: {qp: {title: Procedure}}\nlimits: {edge: {value: 2, unit: mm, basis: shop, source: qp}}\nrules:\n" +
		"  hole-edge: {title: Hole edge, stage: fill, over: part, need: [{grade: change, that: '" + need + "'}], says: holes near the edge, because: Thin., change: move them, since: 1.0.0}\n"
	p, ps := rules.LoadPack([]rules.File{{Name: "pack.yaml", Bytes: []byte(text)}}, nil)
	if len(ps) > 0 {
		t.Fatal(ps)
	}
	b, ps := rules.NewBook(p)
	if len(ps) > 0 {
		t.Fatal(ps)
	}
	return b
}

// barWith has a hole for each distance from the edge.
func barWith(edges ...float64) string {
	var b strings.Builder
	b.WriteString("part: bar\nunits: mm\nbodies: {bar: {rectangle: {length: 200, width: 30, corner: 3}, from: 0, to: 6}}\ncuts:\n")
	for i, e := range edges {
		fmt.Fprintf(&b, "  h%d: {circle: {diameter: 4, at: [%d, %g]}}\n", i, -82+15*i, 15-2-e)
	}
	return b.String()
}

// TestElementsAlone: each element of a list alone decides: one that comes is new, one that gets worse is worse, and one that gets
// better is not, wherever it is in the list and whatever else would do.
func TestElementsAlone(t *testing.T) {
	const n = 12
	for _, need := range []string{"part.holes.all(h, h.edge >= limits.edge)", "part.sized || part.holes.all(h, h.edge >= limits.edge)", "!part.holes.exists(h, h.edge < limits.edge)"} {
		book := listBook(t, need)
		for i := range n {
			for _, c := range []struct {
				was, is float64
				want    Since
			}{{1.5, 1.45, SinceWorse}, {1.5, 1.55, SinceSame}, {1.5, 1.5, SinceSame}, {3, 1.9, SinceWorse}, {1.5, 3, SinceSame}} {
				was, is := make([]float64, n), make([]float64, n)
				for k := range n {
					was[k], is[k] = 1.5, 1.5
				}
				was[i], is[i] = c.was, c.is
				old := Run(context.Background(), []File{fileOf("bar.yaml", []byte(barWith(was...)))}, book, Options{StatusAt: rules.Change})
				for name, earlier := range map[string]*Earlier{"folder": EarlierOf(old, "old"), "kept": withoutSubjects(old)} {
					r := Run(context.Background(), []File{fileOf("bar.yaml", []byte(barWith(is...)))}, book, Options{StatusAt: rules.Change})
					r.CompareWith(earlier)
					if got := r.Parts[0].Findings[0].Since; got != c.want {
						t.Errorf("%s, %s: hole %d from %g to %g is %s, not %s", need, name, i, c.was, c.is, got, c.want)
					}
				}
			}
		}
	}
}

// withoutSubjects is a review as it is kept: with findings alone.
func withoutSubjects(r *Review) *Earlier {
	e := EarlierOf(r, "kept")
	for _, p := range e.Parts {
		p.whole = nil
	}
	return e
}

// TestElementsListed: every element that fails is an entry of its own, with its own values.
func TestElementsListed(t *testing.T) {
	r := Run(context.Background(), []File{fileOf("bar.yaml", []byte(barWith(1, 1.1, 1.2, 1.3, 1.4, 1.5, 1.6, 1.7, 1.8, 1.9, 2, 2.1)))}, listBook(t, "part.holes.all(h, h.edge >= limits.edge)"), Options{StatusAt: rules.Change})
	all := r.Parts[0].Findings[0].Entries()
	if len(all) != 10 {
		t.Fatalf("%d entries", len(all))
	}
	for i, c := range all {
		if want := fmt.Sprintf("h%d %.1f", i, 1+0.1*float64(i)); c.Of == nil || fmt.Sprintf("%s %.1f", c.Of.Name, c.Value) != want {
			t.Errorf("entry %d is %+v, want %s", i, c, want)
		}
	}
}

// TestConcededElements: a record has the value of each element; one more, and one that is worse, are not covered.
func TestConcededElements(t *testing.T) {
	book, now := listBook(t, "part.holes.all(h, h.edge >= limits.edge)"), day(t, "2026-11-25T12:00:00Z")
	none, _ := ReadConcessions("c.yaml", nil, now)
	review := func(c *Concessions, edges ...float64) *PartReview {
		return Run(context.Background(), []File{fileOf("bar.yaml", []byte(barWith(edges...)))}, book, Options{StatusAt: rules.Change, Concede: c}).Parts[0]
	}
	p := review(nil, 1.5, 1.6, 3, 3)
	b, err := none.Concede(nil, p, p.Findings[0], Agreement{"x", "y", "2027-03-31"})
	if err != nil {
		t.Fatal(err)
	}
	if want := "accepted: [{of: h0, h.edge: 1.5}, {of: h1, h.edge: 1.6}]"; !strings.Contains(string(b), want) {
		t.Errorf("no %s in\n%s", want, b)
	}
	all, ps := ReadConcessions("c.yaml", b, now)
	if len(ps) > 0 {
		t.Fatal(ps)
	}
	for _, c := range []struct {
		edges []float64
		state State
		says  string
	}{
		{[]float64{1.5, 1.6, 3, 3}, Covering, ""}, {[]float64{1.7, 1.6, 3, 3}, Covering, ""}, {[]float64{3, 1.6, 3, 3}, Covering, ""},
		{[]float64{1.5, 1.55, 3, 3}, Exceeded, "h.edge of h1 is 1.55, accepted was 1.6"}, {[]float64{1.5, 1.6, 1.9, 3}, Exceeded, "no value of h.edge of h2 was accepted"},
		{[]float64{3, 3, 3, 1.9}, Exceeded, "no value of h.edge of h3 was accepted"},
	} {
		f := review(all, c.edges...).Findings[0]
		if f.Concession == nil || f.Concession.State != c.state || f.Concession.Says != c.says {
			t.Errorf("%v: %+v", c.edges, f.Concession)
		}
	}
	old := strings.Replace(string(b), "[{of: h0, h.edge: 1.5}, {of: h1, h.edge: 1.6}]", "{h.edge: 1.5}", 1) // as format 1 has it
	all, ps = ReadConcessions("c.yaml", []byte(old), now)
	if len(ps) > 0 {
		t.Fatal(ps)
	}
	if f := review(all, 1.5, 3, 3, 3).Findings[0]; !f.Conceded() {
		t.Errorf("a record of format 1 does not cover: %+v", f.Concession)
	}
	if f := review(all, 1.5, 1.6, 3, 3).Findings[0]; f.Conceded() {
		t.Error("a record of one value covers two elements")
	}
}

// TestShapeDigests pins the digests of ten parts: they are of named values, so that nothing inside the program changes them. Where
// one must change, form.ShapeVersion rises.
func TestShapeDigests(t *testing.T) {
	for i, c := range []struct{ body, shape string }{
		{"bodies: {a: {circle: {diameter: 20}, from: 0, to: 6}}", "shape1:7b144b8c54bbc8e2"},
		{"bodies: {a: {rectangle: {length: 40, width: 30, corner: 3, turn: 15, at: [1.5, -2]}, from: 0, to: 4}}", "shape1:ad3273ad2a82a33b"},
		{"bodies: {a: {slot: {length: 40, width: 16}, from: 0, to: 7}}\ncuts: {pin: {circle: {diameter: 6, at: [3.4, 0]}}, seat: {circle: {diameter: 8, at: [-12, 0]}, open: top, depth: 2}}", "shape1:ccb7cdd0e040a36d"},
		{"bodies: {a: {polygon: {points: [[0, 0], [20, 0], [20, 12.7], [0, 12.7]], corner: 1.5}, from: 0, to: 5}}", "shape1:abf31bb4eca3599e"},
		{"bodies: {a: {path: {start: [0, 0], steps: [{line: [10, 0]}, {arc: [10, 10], radius: 5, turn: ccw}, {line: [0, 10]}]}, from: 0, to: 3}}", "shape1:0cb9abaf3c3d97d0"},
		{"bodies: {a: {gear: {module: 2, teeth: 24, helix: 10, hand: left}, from: 0, to: 8}}\ncuts: {bore: {circle: {diameter: 16}, made_by: machining}}", "shape1:e3c63ac28f511940"},
		{"bodies: {a: {circle: {diameter: 48}, from: 0, to: 6}}\ncuts: {bolts: {circle: {diameter: 4.2, at: [19.5, 0]}, repeat: {count: 4}}}", "shape1:c62f996dbdb6c26c"},
		{"bodies: {a: {turned: {section: [[5, 0], [15, 0], [12, 10], [5, 10]]}}}", "shape1:bb52a104e27e2e98"},
		{"bodies: {a: {circle: {diameter: 30}, from: 0, to: 22, draft: {angle: 2, narrows: up}}}\nsides: {oil: {hole: {diameter: 2.5, toward: 90, z: 15}, in: a, made_by: machining}}", "shape1:480d164369c17ccd"},
		{"bodies: {a: {circle: {diameter: 30}, from: 0, to: 6}}\nedges: {rim: {of: a, face: top, chamfer: {width: 0.6, slope: 30, flat: 0.2}}}\nmarks: {m: {on: a.top, recessed: 0.3, box: [0, 0, 6, 3], text: \"120\"}}\ndimensions: {d: {of: a.diameter, class: h9}}", "shape1:fd899a73c773a045"},
	} {
		p, ps := form.Parse("a.yaml", []byte("part: a\nunits: mm\n"+c.body+"\n"))
		if len(ps) > 0 {
			t.Fatal(ps)
		}
		if got := form.ShapeOf(form.DrawnBy(p)); got != c.shape {
			t.Errorf("part %d is %s, not %s", i, got, c.shape)
		}
	}
}

// TestShapesAlike: units, the order of keys, values that may be left out and places in the file do not change a shape; names of
// features change that of the part, and not that of the feature.
func TestShapesAlike(t *testing.T) {
	drawn := func(text string) []form.Drawn {
		p, ps := form.Parse("a.yaml", []byte(text))
		if len(ps) > 0 {
			t.Fatal(text, ps)
		}
		return form.DrawnBy(p)
	}
	was := drawn("part: a\nunits: mm\nbodies: {a: {circle: {diameter: 25.4}, from: 0, to: 6.35}}\ncuts: {b: {rectangle: {length: 5.08, width: 2.54}, made_by: machining}}\n")
	for _, text := range []string{
		"part: b\ntitle: x\nunits: in\ncuts:\n  b:\n    made_by: machining\n    rectangle: {width: 0.1, length: 0.2}\nbodies: {a: {to: 0.25, from: 0, circle: {diameter: 1}}}\n",
		"part: a\nunits: mm\nbodies: {a: {circle: {diameter: 25.40, at: [0, 0]}, from: 0, to: 6.35}}\ncuts: {b: {rectangle: {length: 5.08, width: 2.54, turn: 0, corner: 0, at: [0, 0.0]}, made_by: machining}}\n",
	} {
		if form.ShapeOf(drawn(text)) != form.ShapeOf(was) {
			t.Errorf("another shape:\n%s", text)
		}
	}
	named := drawn("part: a\nunits: mm\nbodies: {z: {circle: {diameter: 25.4}, from: 0, to: 6.35}}\ncuts: {b: {rectangle: {length: 5.08, width: 2.54}, made_by: machining}}\n")
	if form.ShapeOf(named) == form.ShapeOf(was) || named[0].Shape != was[0].Shape {
		t.Error("a name changes the shape of its feature, or not that of the part")
	}
	if r := Run(context.Background(), []File{fileOf("a.yaml", []byte(thinEye(2, "A")))}, standardBook(t), Options{StatusAt: rules.Change}); r.Parts[0].States.Shape == "" {
		t.Error("a review has no shape")
	}
}

// TestDigestsOfAnotherVersion: where a feature is machined, digests of another version are refused; where none is, they matter not.
func TestDigestsOfAnotherVersion(t *testing.T) {
	machined := strings.Replace(thinEye(2, "A"), "at: [0, 10]}", "at: [0, 10]}, made_by: machining", 1)
	for text, want := range map[string]Status{machined: Wrong, thinEye(2, "A"): Clear} {
		e := EarlierOf(Run(context.Background(), []File{fileOf("a.yaml", []byte(text))}, standardBook(t), Options{StatusAt: rules.Change}), "old")
		for i := range e.Parts[0].States.Drawn {
			d := &e.Parts[0].States.Drawn[i]
			d.Shape = strings.Replace(d.Shape, "shape1:", "shape2:", 1)
		}
		r := Run(context.Background(), []File{fileOf("a.yaml", []byte(text))}, standardBook(t), Options{StatusAt: rules.Change})
		r.CompareWith(e)
		if r.Status != want || want == Wrong && !strings.Contains(r.Unread[0].Message, "not comparable") {
			t.Errorf("status %d, %v", r.Status, r.Unread)
		}
	}
}

// TestReservedNames: no rule takes the name of a record that is for no finding.
func TestReservedNames(t *testing.T) {
	for _, name := range []string{PartGone, NewlyMachined} {
		text := "pack: p\nversion: 1.0.0\ntitle: P\nrules: {" + name + ": {title: T, stage: fill, over: part, basis: practice, need: [{grade: ask, that: part.sized}], says: x, because: y, change: z, since: 1.0.0}}\n"
		if _, ps := rules.LoadPack([]rules.File{{Name: "p.yaml", Bytes: []byte(text)}}, nil); len(ps) != 1 || !strings.Contains(ps[0].Message, "a rule cannot be named") {
			t.Errorf("%s: %v", name, ps)
		}
	}
}

// TestConcededPairs: a record of a need over pairs covers the pairs that it names; other pairs of the same subjects it does not.
func TestConcededPairs(t *testing.T) {
	book, now := listBook(t, "part.holes.all(h, part.holes.all(g, h == g || distance(h, g) >= limits.edge))"), day(t, "2026-11-25T12:00:00Z")
	at := func(points ...string) string {
		text := "part: bar\nunits: mm\nbodies: {bar: {rectangle: {length: 100, width: 60, corner: 3}, from: 0, to: 6}}\ncuts:\n"
		for i, p := range points {
			text += fmt.Sprintf("  %c: {circle: {diameter: 5, at: [%s]}}\n", 'a'+i, p)
		}
		return text
	}
	review := func(c *Concessions, text string) *Review {
		return Run(context.Background(), []File{fileOf("bar.yaml", []byte(text))}, book, Options{StatusAt: rules.Change, Concede: c})
	}
	near := at("-30, 10", "-23.5, 10", "23.5, 10", "30, 10")
	p := review(nil, near).Parts[0]
	none, _ := ReadConcessions("c.yaml", nil, now)
	b, err := none.Concede(nil, p, p.Findings[0], Agreement{"x", "y", "2027-03-31"})
	if err != nil {
		t.Fatal(err)
	}
	if want := `{of: b, to: a, "distance(h, g)": 1.5}`; !strings.Contains(string(b), want) {
		t.Errorf("no %s in\n%s", want, b)
	}
	all, ps := ReadConcessions("c.yaml", b, now)
	if len(ps) > 0 {
		t.Fatal(ps)
	}
	for text, covered := range map[string]bool{
		near: true, at("-30, 10", "-23, 10", "23.5, 10", "30, 10"): true, at("-30, 10", "-23.6, 10", "23.5, 10", "30, 10"): false,
		at("-30, 10", "-30, -20", "-23.5, 10", "-23.5, -20"): false, // a beside c, b beside d
	} {
		if f := review(all, text).Parts[0].Findings[0]; f.Conceded() != covered {
			t.Errorf("covered: %t, %+v\n%s", f.Conceded(), f.Concession, text)
		}
	}
	r := review(nil, at("-30, 10", "-30, -20", "-23.5, 10", "-23.5, -20"))
	if r.CompareWith(EarlierOf(review(nil, near), "old")); r.Status != Found {
		t.Error("other pairs pass as those that were there")
	}
}

// TestRecordOfCopies: a record of copies of one feature covers each copy with its own value; copies that were told apart by nothing
// before do not stand for those that are.
func TestRecordOfCopies(t *testing.T) {
	book, now := listBook(t, "part.holes.all(h, h.edge >= limits.edge)"), day(t, "2026-11-25T12:00:00Z")
	row := func(count int, step string) []byte {
		return fmt.Appendf(nil, "part: plate\nunits: mm\nbodies: {plate: {rectangle: {length: 80, width: 50, corner: 3}, from: 0, to: 8}}\ncuts: {pins: {circle: {diameter: 5, at: [-15, -21.5]}, repeat: {count: %d, step: [10, %s]}}}\n", count, step)
	}
	review := func(c *Concessions, text []byte) *Review {
		return Run(context.Background(), []File{fileOf("plate.yaml", text)}, book, Options{StatusAt: rules.Change, Concede: c})
	}
	for _, before := range []string{"0.1", "0"} {
		p := review(nil, row(4, before)).Parts[0]
		none, _ := ReadConcessions("c.yaml", nil, now)
		b, err := none.Concede(nil, p, p.Findings[0], Agreement{"x", "y", "2027-03-31"})
		if err != nil {
			t.Fatal(err)
		}
		all, ps := ReadConcessions("c.yaml", b, now)
		if len(ps) > 0 {
			t.Fatal(ps)
		}
		for _, x := range []struct {
			count  int
			step   string
			status Status
		}{{4, before, Clear}, {4, "0.05", map[string]Status{"0.1": Found, "0": Found}[before]}, {5, before, Found}, {5, "0.2", Found}, {4, "-0.1", Found}} {
			r := review(all, row(x.count, x.step))
			if r.CompareWith(EarlierOf(review(all, row(4, before)), "old")); r.Status != x.status {
				t.Errorf("from 4 by %s to %d by %s: status %d, %+v", before, x.count, x.step, r.Status, r.Parts[0].Findings[0].Concession)
			}
			if k := r.Parts[0].Findings[0].Concession; k != nil && k.Next != nil {
				t.Error("a record is to be written though nothing was renamed")
			}
		}
	}
}

// TestNamesThatRulesRead: a new name, title or customer counts where a rule reads it.
func TestNamesThatRulesRead(t *testing.T) {
	text := "part: plate\ntitle: Plate\ncustomer: Millworks\nunits: mm\nbodies: {plate: {circle: {diameter: 40}, from: 0, to: 4}}\ncuts: {left: {circle: {diameter: 6, at: [8, 0]}}}\n"
	for need, counted := range map[string][3]bool{ // for another feature name, title and customer
		`part.holes.all(h, h.edge >= limits.edge)`:                                                        {false, false, false},
		`part.holes.filter(h, h.name.startsWith("left")).all(h, h.edge >= limits.edge)`:                   {true, false, false},
		`part.title == "x" || part.height > limits.edge`:                                                  {false, true, false},
		`part.customer != "Millworks" || part.holes.all(h, "left" in h.features || h.edge > limits.edge)`: {true, false, true},
	} {
		book := listBook(t, need)
		old := Run(context.Background(), []File{fileOf("a.yaml", []byte(text))}, book, Options{StatusAt: rules.Change})
		for i, change := range [][2]string{{"left:", "port:"}, {"Plate", "Sheet"}, {"customer: Millworks", "customer: Other"}} {
			r := Run(context.Background(), []File{fileOf("a.yaml", []byte(strings.Replace(text, change[0], change[1], 1)))}, book, Options{StatusAt: rules.Change})
			r.CompareWith(EarlierOf(old, "old"))
			if got := slices.ContainsFunc(r.Parts[0].Restated, func(x Restated) bool { return x.Counts }); got != counted[i] {
				t.Errorf("%s: %v counts: %t, %+v", need, change, got, r.Parts[0].Restated)
			}
		}
	}
}
