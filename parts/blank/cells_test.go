package blank

import (
	"math"
	"slices"
	"testing"

	"corerod/parts/plane"
)

const inMM = "part: a\nunits: mm\n"

// TestDistinct: of heights within a nanometre the first stays.
func TestDistinct(t *testing.T) {
	for _, c := range []struct{ zs, want []float64 }{
		{nil, nil},
		{[]float64{3, -1, 2}, []float64{-1, 2, 3}},
		{[]float64{5, 0, 5, 0}, []float64{0, 5}},
		{[]float64{0, SameHeight}, []float64{0}},
		{[]float64{0, 1.5 * SameHeight}, []float64{0, 1.5 * SameHeight}},
		{[]float64{0, 0.6 * SameHeight, 1.2 * SameHeight}, []float64{0, 1.2 * SameHeight}},
	} {
		if got := distinct(slices.Clone(c.zs)); !slices.Equal(got, c.want) {
			t.Errorf("%v: %v, want %v", c.zs, got, c.want)
		}
	}
}

// heightsOf are the heights between slabs, and at the ends.
func heightsOf(s *Shape) (zs []float64) {
	for k := range s.Slabs() + 1 {
		zs = append(zs, s.Z(k))
	}
	return zs
}

// TestHeightsOfSlabs: bodies divide the part where they begin and end, cuts only inside of it.
func TestHeightsOfSlabs(t *testing.T) {
	const block = "bodies: {a: {rectangle: {length: 40, width: 30}, from: -2, to: 10}, b: {circle: {diameter: 8, at: [15, 0]}, from: 10, to: 14}}\n"
	for text, want := range map[string][]float64{
		"":                                   {-2, 10, 14},
		"cuts: {c: {circle: {diameter: 3}}}": {-2, 10, 14},
		"cuts: {c: {circle: {diameter: 3}, from: 3, to: 20}}":                  {-2, 3, 10, 14},
		"cuts: {c: {circle: {diameter: 3}, from: -5, to: 6}}":                  {-2, 6, 10, 14},
		"cuts: {c: {circle: {diameter: 3}, from: 1, to: 4}}":                   {-2, 1, 4, 10, 14},
		"cuts: {c: {circle: {diameter: 3}, open: top, depth: 4}}":              {-2, 6, 10, 14},
		"cuts: {c: {circle: {diameter: 3}, open: bottom, depth: 5}}":           {-2, 3, 10, 14},
		"cuts: {c: {circle: {diameter: 3, at: [15, 0]}, open: top, depth: 3}}": {-2, 10, 11, 14},
	} {
		if got := heightsOf(shapeOf(t, inMM+block+text)); !slices.Equal(got, want) {
			t.Errorf("%s: %v, want %v", text, got, want)
		}
	}
}

// TestRangesOfCuts: a depth counts from the face of the bodies under each copy, and past it the cut goes on to the end of
// the part; its slices follow each other.
func TestRangesOfCuts(t *testing.T) {
	const stairs = inMM +
		"bodies: {a: {rectangle: {length: 60, width: 30}, from: 0, to: 10}, b: {rectangle: {length: 20, width: 30, at: [20, 0]}, from: 0, to: 16},\n" +
		"  f: {rectangle: {length: 20, width: 30, at: [20, 0]}, from: -4, to: 0}}\ncuts: {c: {circle: {diameter: 6, at: [-18, 0]}, "
	const twice = ", repeat: {count: 2, step: [38, 0]}}}\n"
	for _, c := range []struct {
		name, text string
		want       [2][2]float64 // of each copy
		base       [2]float64
	}{
		{"open above", "open: top, depth: 3", [2][2]float64{{7, 16}, {13, 16}}, [2]float64{7, 13}},
		{"open below", "open: bottom, depth: 3", [2][2]float64{{-4, 3}, {-4, -1}}, [2]float64{0, -4}},
		{"through", "draft: {angle: 1, narrows: up}", [2][2]float64{{-4, 16}, {-4, 16}}, [2]float64{-4, -4}},
		{"from and to", "from: 2, to: 12", [2][2]float64{{2, 12}, {2, 12}}, [2]float64{2, 2}},
		{"leaning, open above", "open: top, depth: 3, draft: {angle: 5, narrows: down}", [2][2]float64{{7, 16}, {13, 16}}, [2]float64{7, 13}},
		{"leaning, open below", "open: bottom, depth: 3, draft: {angle: 5, narrows: up}", [2][2]float64{{-4, 3}, {-4, -1}}, [2]float64{0, -4}},
	} {
		s := shapeOf(t, stairs+c.text+twice)
		var got [2][2]float64
		seen := [2]int{}
		for i := range s.Figures() {
			if !s.IsCut(s.FeatureOf(i)) {
				continue
			}
			n := s.CopyOf(i)
			low, high := s.Range(i)
			switch seen[n]++; {
			case seen[n] == 1:
				got[n] = [2]float64{low, high}
			case math.Abs(low-got[n][1]) > 1e-12:
				t.Errorf("%s: a slice from %g over one that ends at %g", c.name, low, got[n][1])
			}
			got[n][1] = high
			near(t, c.name+" base", s.BaseOf(i), c.base[n])
			if u, lowest := s.Over(i); lowest != (seen[n] == 1) || u != 0 {
				t.Errorf("%s: its wall begins %g over the lower end; the lowest: %v", c.name, u, lowest)
			}
		}
		for n := range got {
			near(t, c.name+" low", got[n][0], c.want[n][0])
			near(t, c.name+" high", got[n][1], c.want[n][1])
		}
	}
}

// TestRunsOfCells: material, void inside it, and material again; bodies that touch along z are one run.
func TestRunsOfCells(t *testing.T) {
	s := shapeOf(t, inMM+"bodies: {a: {circle: {diameter: 30}, from: 0, to: 20}, b: {circle: {diameter: 10}, from: 20, to: 24}}\n"+
		"cuts: {c: {circle: {diameter: 20}, from: 5, to: 9}, d: {circle: {diameter: 3, at: [7.5, 0]}, open: top, depth: 4}}\n")
	for _, c := range []struct {
		name      string
		x         float64
		runs      []Run
		low, high float64
		column    Run
	}{
		{"outside of the void", 12, []Run{{0, 3}}, 0, 20, Run{0, 3}},
		{"round the pin", -7, []Run{{0, 0}, {2, 3}}, 0, 20, Run{0, 3}},
		{"in the pin", 0, []Run{{0, 0}, {2, 4}}, 0, 24, Run{0, 4}},
		{"under the pocket", 7.5, []Run{{0, 0}, {2, 2}}, 0, 16, Run{0, 2}},
	} {
		n := cellNear(s, c.x, 0)
		r, ok := s.Column(n)
		low, high := s.Span([]int{n})
		if !slices.Equal(s.Runs(n), c.runs) || !ok || r != c.column || low != c.low || high != c.high || !s.HasMaterial(n) {
			t.Errorf("%s: runs %v, column %v, from %g to %g", c.name, s.Runs(n), r, low, high)
		}
		for k := range s.Slabs() {
			solid := slices.ContainsFunc(c.runs, func(r Run) bool { return r.Lo <= k && k <= r.Hi })
			if s.Solid(n, k) != solid || s.InBody(s.Inside(n), k) != (k < 4 || c.name == "in the pin") {
				t.Errorf("%s: slab %d solid: %v", c.name, k, s.Solid(n, k))
			}
		}
	}
	if r, ok := s.Column(0); ok || r != (Run{}) || s.HasMaterial(0) {
		t.Error("there is no column outside")
	}
	low, high := s.WholeSpan()
	near(t, "low", low, 0)
	near(t, "high", high, 24)
	near(t, "share", s.Share(6), 0.25)
	if low, high := s.Span([]int{0}); !math.IsInf(low, 1) || !math.IsInf(high, -1) {
		t.Errorf("the outside goes from %g to %g", low, high)
	}
}

// ownersOf are the names of the features that make the walls between two points, by slab: "" where there is none.
func ownersOf(t *testing.T, s *Shape, in, out plane.Point) (names []string) {
	t.Helper()
	a, b := cellNear(s, in.X, in.Y), cellNear(s, out.X, out.Y)
	for i := range s.Edges() {
		if e := s.Edge(i); min(e.Left, e.Right) != min(a, b) || max(e.Left, e.Right) != max(a, b) {
			continue
		}
		names = nil
		for k := range s.Slabs() {
			names = append(names, "")
			if of := s.WallOwners(i, a, b, k, k); len(of) == 1 {
				names[k] = s.Feature(of[0]).Name
			}
		}
	}
	if names == nil {
		t.Fatalf("no edge between %v and %v", in, out)
	}
	return names
}

// TestOwnersOfEqualOutlines: of several outlines along one edge the wall belongs to the one that makes it at each height.
func TestOwnersOfEqualOutlines(t *testing.T) {
	for _, c := range []struct {
		name, text string
		in, out    plane.Point
		want       []string
	}{
		{"one body on another", "bodies: {a: {circle: {diameter: 20}, from: 0, to: 5}, b: {circle: {diameter: 20}, from: 5, to: 9}}", plane.Point{}, plane.Point{X: 30}, []string{"a", "b"}},
		{"drawn the other way round", "bodies: {b: {circle: {diameter: 20}, from: 5, to: 9}, a: {circle: {diameter: 20}, from: 0, to: 5}}", plane.Point{}, plane.Point{X: 30}, []string{"a", "b"}},
		{"a cut round a body: the body ends there", "bodies: {a: {circle: {diameter: 30}, from: 0, to: 4}, b: {circle: {diameter: 20}, from: 0, to: 9}, x: {circle: {diameter: 2, at: [13, 0]}, from: 4, to: 9}}\ncuts: {c: {rectangle: {length: 30, width: 30, at: [0, 22]}, from: 4, to: 9}}",
			plane.Point{}, plane.Point{X: -12}, []string{"", "b"}},
		{"a cut out of a body", "bodies: {a: {circle: {diameter: 20}, from: 0, to: 9}}\ncuts: {c: {circle: {diameter: 8}, from: 4, to: 9}}", plane.Point{X: 7}, plane.Point{}, []string{"", "c"}},
		{"two cuts of one outline", "bodies: {a: {circle: {diameter: 20}, from: 0, to: 9}}\ncuts: {c: {circle: {diameter: 8}, from: 4, to: 9}, d: {circle: {diameter: 8}, from: 0, to: 4}}", plane.Point{X: 7}, plane.Point{}, []string{"d", "c"}},
		{"a cut as far as a body's side", "bodies: {a: {rectangle: {length: 20, width: 20}, from: 0, to: 9}, b: {rectangle: {length: 20, width: 20, at: [20, 0]}, from: 0, to: 5}}\ncuts: {c: {rectangle: {length: 8, width: 8, at: [14, 0]}, from: 2, to: 9}}",
			plane.Point{X: 5}, plane.Point{X: 14}, []string{"", "c", "a"}},
		{"beside a cut that is not there", "bodies: {a: {circle: {diameter: 20}, from: 0, to: 9}, p: {circle: {diameter: 8}, from: 9, to: 12}}\ncuts: {c: {circle: {diameter: 8}, from: 0, to: 4}}", plane.Point{}, plane.Point{X: 7}, []string{"", "", "p"}},
	} {
		if got := ownersOf(t, shapeOf(t, inMM+c.text), c.in, c.out); !slices.Equal(got, c.want) {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
	}
}

// TestFaceOwners: a face within a nanometre of a height is at it; the upper end of a body is a top, of a cut a floor.
func TestFaceOwners(t *testing.T) {
	s := shapeOf(t, inMM+"bodies: {a: {circle: {diameter: 20}, from: 0, to: 9}, b: {circle: {diameter: 30}, from: 0, to: 4}}\n"+
		"cuts: {c: {circle: {diameter: 8}, open: top, depth: 3}, d: {circle: {diameter: 8}, from: 1, to: 2}}\n")
	hole, ring := cellNear(s, 0, 0), cellNear(s, 7, 0)
	for _, c := range []struct {
		cell int
		z    float64
		side string
		want []int
	}{
		{ring, 0, "bottom", []int{0, 1}}, {ring, SameHeight, "bottom", []int{0, 1}}, {ring, -SameHeight, "bottom", []int{0, 1}},
		{ring, 2 * SameHeight, "bottom", nil}, {ring, -2 * SameHeight, "bottom", nil},
		{ring, 4, "top", []int{1}}, {ring, 4, "bottom", nil}, {ring, 9, "top", []int{0}}, {ring, 0, "top", nil},
		{hole, 6, "top", []int{2}}, {hole, 6, "bottom", nil}, {hole, 1, "top", []int{3}}, {hole, 2, "bottom", []int{3}}, {hole, 2, "top", nil},
		{0, 0, "bottom", nil},
	} {
		if got := s.FaceOwners(c.cell, c.z, c.side); !slices.Equal(got, c.want) {
			t.Errorf("cell %d at %g, %s: %v, want %v", c.cell, c.z, c.side, got, c.want)
		}
	}
}

// TestCopies: copies along a line, round a point and, kept upright, round a point; and how high a feature is drawn.
func TestCopies(t *testing.T) {
	const plate = inMM +
		"bodies: {base: {circle: {diameter: 80}, from: -1, to: 5}, post: {circle: {diameter: 4}, from: 5, to: 8}}\ncuts: {c: {rectangle: {length: 8, width: 2, at: [20, 0]}, "
	for _, c := range []struct {
		repeat string
		at     []plane.Point // of the middles
		along  []bool        // whether a copy still lies along x
		height float64
	}{
		{"open: top, depth: 2", []plane.Point{{X: 20}}, []bool{true}, 2},
		{"repeat: {count: 3, step: [-5, 6]}", []plane.Point{{X: 20}, {X: 15, Y: 6}, {X: 10, Y: 12}}, []bool{true, true, true}, 9},
		{"repeat: {count: 4}, from: 1, to: 4", []plane.Point{{X: 20}, {Y: 20}, {X: -20}, {Y: -20}}, []bool{true, false, true, false}, 3},
		{"repeat: {count: 3, over: 180}", []plane.Point{{X: 20}, {Y: 20}, {X: -20}}, []bool{true, false, true}, 9},
		{"repeat: {count: 4, about: [10, 0]}", []plane.Point{{X: 20}, {X: 10, Y: 10}, {}, {X: 10, Y: -10}}, []bool{true, false, true, false}, 9},
		{"repeat: {count: 4, turn: false}", []plane.Point{{X: 20}, {Y: 20}, {X: -20}, {Y: -20}}, []bool{true, true, true, true}, 9},
	} {
		s := shapeOf(t, plate+c.repeat+"}}\n")
		n := 0
		for i := range s.Figures() {
			if !s.IsCut(s.FeatureOf(i)) {
				continue
			}
			at := s.ToPart(s.Loop(i).Moments().Centroid())
			lo, hi := s.Loop(i).Bounds()
			if s.CopyOf(i) != n || at.Distance(c.at[n]) > 1e-9 || (hi.X-lo.X > 5) != c.along[n] {
				t.Errorf("%s: copy %d stands at %v", c.repeat, n, at)
			}
			n++
		}
		if n != len(c.at) {
			t.Errorf("%s: %d copies", c.repeat, n)
		}
		near(t, c.repeat, s.FeatureHeight(2), c.height)
	}
}
