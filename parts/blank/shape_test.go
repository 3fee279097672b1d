package blank

import (
	"math"
	"slices"
	"testing"

	"corerod/parts/plane"
)

// cellNear is the cell that holds a point in part coordinates.
func cellNear(s *Shape, x, y float64) int { return s.CellAt(s.ToPlan(plane.Point{X: x, Y: y})) }

func near(t *testing.T, what string, got, want float64) {
	t.Helper()
	if math.IsNaN(got) || math.Abs(got-want) > 1e-9*math.Max(1, math.Abs(want)) {
		t.Errorf("%s = %.15g, want %.15g", what, got, want)
	}
}

// bushAt is a bush of 30 by 20 mm with a bore of 16 and a flange of 40 by 5, its axis at x 100, y -50.
const bushAt = `part: bush
units: mm
bodies:
  flange: {circle: {diameter: 40, at: [100, -50]}, from: 0, to: 5}
  hub:    {circle: {diameter: 30, at: [100, -50]}, from: 0, to: 20}
cuts:
  bore: {circle: {diameter: 16, at: [100, -50]}}
`

// TestCellsOfABush: the plan has the outside, two rings and the bore; heights, runs, areas and what lies in what.
func TestCellsOfABush(t *testing.T) {
	s := shapeOf(t, bushAt)
	if s.Slabs() != 2 || s.Z(0) != 0 || s.Z(1) != 5 || s.Z(2) != 20 || s.Cells() != 4 {
		t.Fatalf("%d slabs, %d cells", s.Slabs(), s.Cells())
	}
	flange, hub, bore, outside := cellNear(s, 118, -50), cellNear(s, 100, -38), cellNear(s, 101, -51), cellNear(s, 125, -50)
	if outside != 0 || s.HasMaterial(outside) || s.HasMaterial(bore) || s.Closed(0, outside) || !s.Closed(0, bore) || !s.Closed(1, bore) {
		t.Error("the outside is open, the bore is closed")
	}
	if s.Closed(1, flange) || s.Voids(0)[flange] != -1 || s.Voids(1)[flange] != 0 || s.Voids(1)[bore] != bore {
		t.Errorf("voids %v and %v: over the flange it is open", s.Voids(0), s.Voids(1))
	}
	for _, c := range []struct {
		name       string
		cell       int
		run        Run
		area       float64
		inside     int // figures
		solid, top bool
	}{
		{"flange", flange, Run{0, 0}, math.Pi * (400 - 225), 1, false, false},
		{"hub", hub, Run{0, 1}, math.Pi * (225 - 64), 2, true, true},
	} {
		r, ok := s.Column(c.cell)
		if !ok || r != c.run || !slices.Equal(s.Runs(c.cell), []Run{c.run}) || !s.Solid(c.cell, 0) || s.Solid(c.cell, 1) != c.solid {
			t.Errorf("%s: its column is %v, its runs %v", c.name, r, s.Runs(c.cell))
		}
		near(t, c.name, s.Area(c.cell), c.area)
		near(t, c.name+" traced", s.RegionOf([]int{c.cell}).Moments().Area, c.area)
		n := 0
		s.Inside(c.cell).Each(func(int) { n++ })
		if n != c.inside || s.InBody(s.Inside(c.cell), 1) != c.top || !s.InBody(s.Inside(c.cell), 0) {
			t.Errorf("%s lies in %d figures", c.name, n)
		}
		at := s.Centroid([]int{c.cell})
		near(t, "x", at.X, 100)
		near(t, "y", at.Y, -50)
	}
	low, high := s.Span([]int{flange})
	if low != 0 || high != 5 {
		t.Errorf("the flange goes from %g to %g", low, high)
	}
	near(t, "share", s.Share(5), 0.25)
	near(t, "column", s.LeastColumn(hub), 20)
	if s.Bottom(Run{1, 1}) != 5 || s.Top(Run{1, 1}) != 20 {
		t.Error("the upper slab goes from 5 to 20")
	}
}

// TestOwnersOfABush: each wall and face belongs to the feature that makes it.
func TestOwnersOfABush(t *testing.T) {
	s := shapeOf(t, bushAt)
	names := func(features []int) (out []string) {
		for _, f := range features {
			out = append(out, s.Feature(f).Name)
		}
		return out
	}
	flange, hub, bore := cellNear(s, 118, -50), cellNear(s, 100, -38), cellNear(s, 100, -50)
	for _, c := range []struct {
		in, out, lo, hi int
		want            []string
	}{
		{flange, 0, 0, 1, []string{"flange"}},
		{hub, flange, 0, 1, []string{"hub"}},
		{hub, bore, 0, 1, []string{"bore", "bore"}},
	} {
		edge := -1
		for i := range s.Edges() {
			if e := s.Edge(i); min(e.Left, e.Right) == min(c.in, c.out) && max(e.Left, e.Right) == max(c.in, c.out) {
				edge = i
			}
		}
		if edge < 0 {
			t.Fatalf("no edge between %d and %d", c.in, c.out)
		}
		if got := names(s.WallOwners(edge, c.in, c.out, c.lo, c.hi)); !slices.Equal(got, c.want) {
			t.Errorf("the wall between %d and %d is of %v, want %v", c.in, c.out, got, c.want)
		}
	}
	for _, c := range []struct {
		cell int
		z    float64
		side string
		want []string
	}{
		{flange, 5, "top", []string{"flange"}}, {flange, 0, "bottom", []string{"flange"}},
		{hub, 20, "top", []string{"hub"}}, {hub, 0, "bottom", []string{"flange", "hub"}}, {hub, 20, "bottom", nil},
	} {
		if got := names(s.FaceOwners(c.cell, c.z, c.side)); !slices.Equal(got, c.want) {
			t.Errorf("the face at %g of cell %d, %s: %v, want %v", c.z, c.cell, c.side, got, c.want)
		}
	}
}

// TestFacesOfASink: a countersink belongs to the face that it is sunk into, a cone of a body to the flat at its outer end.
func TestFacesOfASink(t *testing.T) {
	s := shapeOf(t, "part: a\nunits: mm\nbodies: {a: {circle: {diameter: 30}, from: 0, to: 8}}\n"+
		"cuts: {b: {circle: {diameter: 6}}, sink: {turned: {section: [[0, 5], [3, 5], [6, 8], [0, 8]]}}}\n")
	f := s.Face("top")
	sink, flat, bore := cellNear(s, 4.6, 0), cellNear(s, 12, 0), cellNear(s, 0, 0)
	if f.Side() != "top" || !f.Solid(sink) || f.Solid(bore) || !f.Sloped(sink) || f.Sloped(flat) ||
		f.Flat(sink) != f.Flat(flat) || f.Z(sink) != 8 {
		t.Errorf("the sink is of flat %d at %g, sloped %v", f.Flat(sink), f.Z(sink), f.Sloped(sink))
	}
	if g := s.Face("bottom"); g.Sloped(sink) || g.Z(sink) != 0 || len(g.Flats()) != 1 || len(f.Flats()) != 1 {
		t.Errorf("%d flats on top, %d below", len(f.Flats()), len(g.Flats()))
	}
	z, ok := s.ColumnEnd(sink, "top")
	if n, sloped := s.SlopeOf(sink, z, "top"); !ok || z <= 5 || z >= 8 || !sloped || s.Feature(n).Name != "sink" {
		t.Errorf("the column in the sink ends at %g, on feature %d", z, n)
	}
	if n, _, sloped := s.SlopeBeside(s.Slabs()-1, sink); !sloped || s.Feature(n).Name != "sink" {
		t.Errorf("over it lies feature %d, %v", n, sloped)
	}
	if _, ok := s.ColumnEnd(bore, "top"); ok {
		t.Error("a bore has no column")
	}
	near(t, "further out on top", Outward("top", 8, 5), 3)
	near(t, "further out below", Outward("bottom", 8, 5), -3)
}

// TestFiguresOfADraft: each of two drafted pins has a figure at its foot and one at its top, each for half of its height.
func TestFiguresOfADraft(t *testing.T) {
	s := shapeOf(t,
		"part: a\nunits: mm\nbodies: {base: {circle: {diameter: 60}, from: 0, to: 5}, pin: {circle: {diameter: 10, at: [15, 0]}, "+
			"from: 5, to: 13, draft: {angle: 7, narrows: up}, repeat: {count: 2}}}\n")
	if s.Bodies() != 2 || len(s.Features()) != 2 || s.IsCut(1) || s.FeatureOf(0) != 0 || s.Leans(0) || !s.Slope(0).Upright() ||
		s.Slope(0).Lean() != 0 || s.Figures() != 5 {
		t.Fatal("the base is the first feature, upright and in one figure")
	}
	near(t, "height", s.FeatureHeight(1), 8)
	near(t, "as drawn", s.LeastDraft(1, 0, 100), 7)
	for i := 1; i < s.Figures(); i++ {
		low, high := s.Range(i)
		top := 1 - i%2
		if !s.Leans(i) || s.FeatureOf(i) != 1 || s.SameCopy(i, 0) || s.CopyOf(i) != (i-1)/2 {
			t.Errorf("figure %d is copy %d of feature %d", i, s.CopyOf(i), s.FeatureOf(i))
		}
		near(t, "base", s.BaseOf(i), 5)
		near(t, "lean", s.Slope(i).Lean(), 7)
		near(t, "from", low, 5+4*float64(top))
		near(t, "to", high, 9+4*float64(top))
		lo, hi := s.Loop(i).Bounds()
		near(t, "width", hi.X-lo.X, 10-2*8*float64(top)*tan(7))
		if ends := s.SlopedEnds(i); ends != [2]bool{top == 1, top == 0} {
			t.Errorf("figure %d has sloped ends %v", i, ends)
		}
		if u, lowest := s.Over(i); u != 0 || lowest != (top == 0) {
			t.Errorf("figure %d begins at %g, lowest %v", i, u, lowest)
		}
	}
	if s.Slope(1) != s.Slope(2) {
		t.Error("both are of one slope")
	}
}

// TestWallsOfSlopes: where walls lead, how they lean, and where two of a half section come together.
func TestWallsOfSlopes(t *testing.T) {
	s := shapeOf(t,
		"part: a\nunits: mm\nbodies: {base: {circle: {diameter: 40}, from: 0, to: 1}, r: {turned: {section: [[10, 1], [12, 1], [11, 5]]}}}\n"+
			"cuts: {g: {rectangle: {length: 50, width: 4, at: [0, 0]}, open: bottom, depth: 0.5, section: v}}\n")
	figure := slices.IndexFunc(s.outlines, func(o outline) bool { return s.Feature(o.feature).Name == "r" })
	near(t, "lean of the ridge", s.Slope(figure).Lean(), math.Atan(0.25)*180/math.Pi)
	for z, r := range map[float64]float64{1: 12, 3: 11.5, 5: 11} { // of its outer side
		side := s.SideOf(figure, plane.Point{Y: 12}).At(z)
		near(t, "radius", side.R, r)
	}
	near(t, "v groove", s.LeastDraft(s.Bodies(), 0, 100), math.Atan(2/0.5)*180/math.Pi)
	near(t, "upright", s.LeastDraft(0, 0, 100), 0)
}

// TestPlanView: outlines, chords and axes stand in part coordinates.
func TestPlanView(t *testing.T) {
	s := shapeOf(t, bushAt)
	area := 0.0
	for _, l := range s.Outline() {
		area += l.Moments().Area
	}
	near(t, "plan", area, math.Pi*(400-64))
	p, q, ok := s.Chord(plane.Point{X: 111.5, Y: -50}, 10)
	if !ok || math.Abs(p.Distance(q)-7) > 1e-9 || math.Abs(p.Y+50) > 1e-9 {
		t.Errorf("the wall of 7 mm between %v and %v", p, q)
	}
	if _, _, ok := s.Chord(plane.Point{X: 111.5, Y: -50}, 30); ok {
		t.Error("there is nothing at 30 mm")
	}
	if all := s.Axes(); len(all) != 1 || all[0].At.Distance(plane.Point{X: 100, Y: -50}) > 1e-9 || math.Abs(all[0].R-20) > 1e-9 {
		t.Errorf("axes %v, want one, 20 mm round", all)
	}
}
