// Package blank computes the as-pressed shape of a part: the part without the cuts made by machining or sizing.
//
// The outlines of all bodies and cuts are overlaid once in plan. Along z the part is divided into slabs between the
// heights where something starts or ends; every plan cell is solid in a set of slabs. From that follow the columns
// (one bottom, one top), the levels and steps of the end faces, the holes and traps, and, on the boundary of each
// slab, the walls, gaps and corners. Everything is put into the structs of package subject, ready for rules.
package blank

import (
	"fmt"
	"math"
	"slices"

	"corerod/parts"
	"corerod/parts/plane"
	"corerod/parts/subject"
)

// Blank is the as-pressed shape of one part and what was found on it, with what the layout of the tool needs.
type Blank struct {
	Part    *parts.Part
	Subject *subject.Part
	Steps   []Step   // Subject.Steps with the levels that meet at each
	Ends    []*End   // what tools form at both sides
	Columns []Column // every one by itself: Subject.Columns has those alike once, with their places
	Rods    []Rod    // of Subject.Holes those that go through

	shape *shape
}

// Step is a step between two levels of Subject.Levels: Back is the one set back.
type Step struct {
	*subject.Step
	Front, Back *subject.Level
}

// shape is the geometry that the finders read.
type shape struct {
	part     *parts.Part
	features []*parts.Feature // pressed ones, bodies first
	bodies   int              // how many of features are bodies
	outlines []outline        // figure numbers of the overlay are indices here
	ranges   [][2]float64     // z-range of each outline
	origin   plane.Point      // of the overlay, in part coordinates
	overlay  *plane.Overlay
	heights  []float64 // slab k lies between heights[k] and heights[k+1]
	cells    []cell    // by cell of the overlay
	slabs    []slab
	widths   []measuredWidth
	faces    map[string]*face
	ends     []float64 // heights at which something is drawn to begin or end
	meets    []float64 // heights at which sloped walls begin or cease to meet others
}

// cell is what the pressing axis meets in one cell of the plan.
type cell struct {
	body  []bool // by slab: inside a body, cut or not
	solid []bool // by slab
	runs  []run
}

// run is an unbroken run of solid slabs, from the lower end of slab lo to the upper end of slab hi.
type run struct{ lo, hi int }

// slab is one slab of the part.
type slab struct {
	region *plane.Region
	necks  []plane.Neck // but for those between the teeth of one figure
	voids  []int        // by cell: the connected void it belongs to, by least cell; -1 where solid
}

// Make computes the as-pressed shape of a part that was read without problems.
func Make(p *parts.Part) (*Blank, parts.Problems) {
	s, ps := newShape(p)
	if len(ps) > 0 {
		return nil, ps.Sorted()
	}
	if ps := s.whole(); len(ps) > 0 {
		return nil, ps.Sorted()
	}
	s.cutSlabs()
	b, ps := s.measure()
	if len(ps) > 0 {
		return nil, ps.Sorted()
	}
	return b, nil
}

// newShape overlays the pressed features and finds where each cell is solid.
func newShape(p *parts.Part) (*shape, parts.Problems) {
	s := &shape{part: p, features: slices.Clone(p.Bodies), bodies: len(p.Bodies)}
	for _, c := range p.Cuts {
		if c.MadeBy == "pressing" {
			s.features = append(s.features, c)
		}
	}
	if ps := Check(p); len(ps) > 0 {
		return nil, ps
	}
	s.outlines, _ = outlines(p, s.features, nil)
	if ps := s.lay(); len(ps) > 0 {
		return nil, ps
	}
	if at := s.cuts(); len(at) > 0 {
		if cut, _ := outlines(p, s.features, at); len(cut) <= mostOutlines {
			s.outlines = cut
			if ps := s.lay(); len(ps) > 0 {
				return nil, ps
			}
		}
	}
	if ps := s.cutsRemove(); len(ps) > 0 {
		return nil, ps
	}
	return s, s.machined()
}

// mostOutlines is the number of outlines up to which slopes are cut where they meet others.
const mostOutlines = 150

// lay overlays the outlines and finds where each cell is solid.
func (s *shape) lay() parts.Problems {
	if ps := s.extent(); len(ps) > 0 {
		return ps
	}
	loops := make([]plane.Loop, len(s.outlines))
	for i := range s.outlines {
		s.outlines[i].loop = s.outlines[i].loop.Moved(plane.Point{}, 0, plane.Point{X: -s.origin.X, Y: -s.origin.Y})
		loops[i] = s.outlines[i].loop
	}
	o, err := plane.Lay(loops)
	if err != nil {
		return parts.Problems{s.part.Problem(s.part.Place, err.Error())}
	}
	o.MergeThin(func(i int) bool { return s.outlines[i].sloped == [2]bool{true, true} })
	s.overlay = o
	s.stack()
	return nil
}

// extent sets the origin to the middle of the bodies, in whole millimetres, and refuses parts that are too large.
func (s *shape) extent() (ps parts.Problems) {
	lo, hi := plane.Point{X: math.Inf(1), Y: math.Inf(1)}, plane.Point{X: math.Inf(-1), Y: math.Inf(-1)}
	zlo, zhi := math.Inf(1), math.Inf(-1)
	for _, o := range s.outlines {
		if o.feature >= s.bodies {
			continue
		}
		a, b := o.loop.Bounds()
		lo, hi = plane.Point{X: math.Min(lo.X, a.X), Y: math.Min(lo.Y, a.Y)}, plane.Point{X: math.Max(hi.X, b.X), Y: math.Max(hi.Y, b.Y)}
		e := s.features[o.feature].Extent
		zlo, zhi = math.Min(zlo, e.From), math.Max(zhi, e.To)
	}
	s.origin = plane.Point{X: math.Round((lo.X + hi.X) / 2), Y: math.Round((lo.Y + hi.Y) / 2)}
	if across := math.Max(hi.X-lo.X, hi.Y-lo.Y); across > MostExtent+plane.Near {
		ps = append(ps, s.part.Problem(s.part.Place, fmt.Sprintf("the part is %.4g mm across; parts of more than %d mm are not reviewed", across, MostExtent)))
	}
	if zhi-zlo > MostExtent+sameHeight {
		ps = append(ps, s.part.Problem(s.part.Place, fmt.Sprintf("the part is %.4g mm high; parts of more than %d mm are not reviewed", zhi-zlo, MostExtent)))
	}
	return ps
}

// stack finds the z-range of every outline, the slabs, and where each cell is solid.
func (s *shape) stack() {
	s.faces = nil
	s.ranges = make([][2]float64, len(s.outlines))
	var zs []float64
	for i, o := range s.outlines {
		from := s.features[o.feature].Extent.From
		s.ranges[i] = [2]float64{from + o.lo, from + o.hi}
		if o.feature < s.bodies {
			zs = append(zs, s.ranges[i][:]...)
		}
	}
	low, high := slices.Min(zs), slices.Max(zs)
	for i, o := range s.outlines {
		if o.feature < s.bodies {
			continue
		}
		s.ranges[i] = s.cutRange(i, low, high)
		for _, z := range s.ranges[i] {
			if z > low && z < high {
				zs = append(zs, z)
			}
		}
	}
	s.heights = distinct(zs)
	s.cells = make([]cell, len(s.overlay.Cells))
	for c := range s.cells {
		s.cells[c] = s.fill(s.overlay.Cells[c].Inside)
	}
}

// cutRange is the z-range that one outline of a cut removes. A depth counts from the highest (lowest) face of the
// bodies under the outlines of its copy; past that face the cut goes on as wide as there.
func (s *shape) cutRange(i int, low, high float64) [2]float64 {
	o := &s.outlines[i]
	e, height := s.features[o.feature].Extent, heightOf(s.part, s.features[o.feature])
	switch e.Open {
	case "":
		return s.ranges[i]
	case "through":
		return [2]float64{low + o.lo, low + o.hi}
	}
	top, bottom := math.Inf(-1), math.Inf(1)
	for _, c := range s.overlay.Cells {
		if !s.inCopy(c.Inside, o) {
			continue
		}
		c.Inside.Each(func(j int) {
			if s.outlines[j].feature < s.bodies {
				bottom, top = math.Min(bottom, s.ranges[j][0]), math.Max(top, s.ranges[j][1])
			}
		})
	}
	switch {
	case math.IsInf(top, -1):
		return [2]float64{low, low}
	case e.Open == "top" && o.hi >= height-sameHeight:
		return [2]float64{top - height + o.lo, math.Max(high, top)}
	case e.Open == "top":
		return [2]float64{top - height + o.lo, top - height + o.hi}
	case o.lo <= sameHeight:
		return [2]float64{math.Min(low, bottom), bottom + o.hi}
	}
	return [2]float64{bottom + o.lo, bottom + o.hi}
}

// inCopy tells whether a set of outlines holds one of the same copy of the same feature.
func (s *shape) inCopy(inside plane.Set, o *outline) (found bool) {
	inside.Each(func(j int) {
		found = found || s.outlines[j].feature == o.feature && s.outlines[j].copy == o.copy
	})
	return found
}

// distinct sorts heights and drops those within sameHeight of the one before.
func distinct(zs []float64) []float64 {
	if len(zs) == 0 {
		return nil
	}
	slices.Sort(zs)
	out := zs[:1]
	for _, z := range zs[1:] {
		if z-out[len(out)-1] > sameHeight {
			out = append(out, z)
		}
	}
	return out
}

// fill finds the slabs in which a cell inside a set of outlines is solid.
func (s *shape) fill(inside plane.Set) cell {
	c := cell{body: make([]bool, len(s.heights)-1), solid: make([]bool, len(s.heights)-1)}
	for k := range c.solid {
		c.body[k] = s.inBody(inside, k)
		c.solid[k] = c.body[k] && !s.inCut(inside, k)
		switch {
		case c.solid[k] && (k == 0 || !c.solid[k-1]):
			c.runs = append(c.runs, run{k, k})
		case c.solid[k]:
			c.runs[len(c.runs)-1].hi = k
		}
	}
	return c
}

// covers tells whether an outline's z-range holds slab k.
func (s *shape) covers(figure, k int) bool {
	z := (s.heights[k] + s.heights[k+1]) / 2
	return s.ranges[figure][0] < z && z < s.ranges[figure][1]
}

func (s *shape) inBody(inside plane.Set, k int) bool { return s.in(inside, k, true) }
func (s *shape) inCut(inside plane.Set, k int) bool  { return s.in(inside, k, false) }

func (s *shape) in(inside plane.Set, k int, body bool) (found bool) {
	inside.Each(func(i int) {
		found = found || (s.outlines[i].feature < s.bodies) == body && s.covers(i, k)
	})
	return found
}

// bottom and top of a run, mm.
func (s *shape) bottom(r run) float64 { return s.heights[r.lo] }
func (s *shape) top(r run) float64    { return s.heights[r.hi+1] }

// column is the run from a cell's lowest to its highest solid slab; false where the cell is all void.
func (c *cell) column() (run, bool) {
	if len(c.runs) == 0 {
		return run{}, false
	}
	return run{c.runs[0].lo, c.runs[len(c.runs)-1].hi}, true
}

// cutSlabs traces the boundary and the voids of every slab.
func (s *shape) cutSlabs() {
	s.slabs = make([]slab, len(s.heights)-1)
	for k := range s.slabs {
		s.slabs[k] = slab{
			region: s.overlay.Region(func(c int) bool { return s.cells[c].solid[k] },
				func(e, in, out int) int { return s.owner(k, e, in, out) }),
			voids: s.connected(func(c int) bool { return !s.cells[c].solid[k] }),
		}
	}
}

// connected numbers the cells that keep accepts by connected group, across common edges: the least cell of each
// group; -1 for the others.
func (s *shape) connected(keep func(int) bool) []int {
	u := s.neighbours(func(a, b int) bool { return keep(a) && keep(b) })
	g := make([]int, len(u))
	for c := range g {
		g[c] = -1
		if keep(c) {
			g[c] = u.Find(c)
		}
	}
	return g
}

// neighbours puts cells with a common edge into one group where one accepts both.
func (s *shape) neighbours(one func(a, b int) bool) plane.Union {
	u := plane.NewUnion(len(s.cells))
	for i := range s.overlay.Edges {
		if e := &s.overlay.Edges[i]; one(e.Left, e.Right) {
			u.Join(e.Left, e.Right)
		}
	}
	return u
}

// owner is the figure that makes an edge in slab k, seen from the solid cell in to the void cell out: the cut that
// takes the void out of a body, else the body that ends there.
func (s *shape) owner(k, edge, in, out int) int {
	inside, outside := s.overlay.Cells[in].Inside, s.overlay.Cells[out].Inside
	figures := s.overlay.Edges[edge].Figures
	if s.inBody(outside, k) {
		for _, f := range figures {
			if s.outlines[f].feature >= s.bodies && s.covers(f, k) && outside.Has(f) && !inside.Has(f) {
				return f
			}
		}
	}
	for _, f := range figures {
		if s.outlines[f].feature < s.bodies && s.covers(f, k) && inside.Has(f) && !outside.Has(f) {
			return f
		}
	}
	if f, ok := s.parting(k, inside, outside); ok {
		return f // beside a cell that was merged for being thin
	}
	for _, f := range figures {
		if s.covers(f, k) {
			return f
		}
	}
	return figures[0]
}

// parting is an outline in slab k that holds the void and not the material beside it, of a cut, or the other way round, of
// a body.
func (s *shape) parting(k int, inside, outside plane.Set) (figure int, found bool) {
	outside.Each(func(f int) {
		if s.outlines[f].feature >= s.bodies && s.covers(f, k) && !inside.Has(f) && s.inBody(outside, k) {
			figure, found = f, true
		}
	})
	inside.Each(func(f int) {
		if !found && s.outlines[f].feature < s.bodies && s.covers(f, k) && !outside.Has(f) {
			figure, found = f, true
		}
	})
	return figure, found
}

// area of a cell.
func (s *shape) area(c int) float64 { return s.overlay.Cells[c].Moments.Area }

// centroid of cells, in part coordinates.
func (s *shape) centroid(cells []int) plane.Point {
	var m plane.Moments
	for _, c := range cells {
		m = m.Add(s.overlay.Cells[c].Moments)
	}
	return s.at(m.Centroid())
}

// at turns a point of the overlay into part coordinates.
func (s *shape) at(p plane.Point) plane.Point {
	return plane.Point{X: p.X + s.origin.X, Y: p.Y + s.origin.Y}
}

// measure finds every subject and puts the part together.
func (s *shape) measure() (*Blank, parts.Problems) {
	b := &Blank{Part: s.part, Subject: &subject.Part{Title: s.part.Title, Drawing: s.part.Drawing, Revision: s.part.Revision, Customer: s.part.Customer}}
	q := b.Subject
	rims, feet := s.findRims()
	ps := s.checkEdges(rims, feet)
	q.Rims = s.rims(rims)
	marks, faulty := s.findMarks()
	crossings, outside := s.findCrossings()
	q.Marks, q.Crossings = marks, crossings
	if ps = slices.Concat(ps, faulty, outside, s.checkSeats()); len(ps) > 0 {
		return nil, ps
	}
	q.Dimensions = s.findDimensions()
	holes := s.findHoles()
	levels := s.findLevels(holes) // marks the floors of open grooves, which gaps ask for
	if ps := s.measurePart(q); len(ps) > 0 {
		return nil, ps
	}
	var rootWalls map[int]float64
	q.Walls, q.Gaps, rootWalls = s.findNecks(holes)
	q.Teeth = s.findTeeth(rootWalls)
	q.Holes = holes.subjects
	if q.Corners, ps = s.findCorners(holes); len(ps) > 0 {
		return nil, ps
	}
	q.Levels = levels.subjects
	b.Steps = s.findSteps(levels)
	for _, st := range b.Steps {
		q.Steps = append(q.Steps, st.Step)
	}
	q.Feathers = s.findFeathers()
	q.Tapers = s.findTapers()
	q.Flanges = s.findFlanges(levels)
	q.Bosses, q.Grooves = s.findBosses(levels), s.findGrooves(holes)
	q.Traps = s.findTraps()
	ends, of := s.findEnds(levels, holes)
	b.Ends, b.Columns = ends, s.columnsBetween(of)
	for _, c := range b.Columns {
		q.Columns = append(q.Columns, c.Column)
	}
	b.shape = s
	q.LevelsTop, q.LevelsBottom = float64(levels.count("top")), float64(levels.count("bottom"))
	q.Band = s.leastBand()
	for _, h := range q.Holes {
		h.Share = h.Depth / q.Height
	}
	q.OpenJoints = openJoints(q.Corners)
	bush := s.plainBush()
	for _, w := range q.Walls {
		w.PlainBush = bush
	}
	q.Walls, q.Gaps, q.Holes, q.Corners = Tidy(q.Walls), Tidy(q.Gaps), Tidy(q.Holes), Tidy(q.Corners)
	q.Traps, q.Columns, q.Crossings = Tidy(q.Traps), Tidy(q.Columns), Tidy(q.Crossings)
	q.Levels, q.Steps = Tidy(q.Levels), Tidy(q.Steps)
	q.Feathers, q.Flanges, q.Tapers = Tidy(q.Feathers), Tidy(q.Flanges), Tidy(q.Tapers)
	q.Bosses, q.Grooves = Tidy(q.Bosses), Tidy(q.Grooves)
	q.Rims, q.Marks, q.Dimensions = Tidy(q.Rims), Tidy(q.Marks), Tidy(q.Dimensions)
	q.Teeth = Tidy(q.Teeth)
	b.Rods = s.rods(q.Holes, holes)
	return b, nil
}

// measurePart fills the measures of the whole part.
func (s *shape) measurePart(q *subject.Part) parts.Problems {
	var m plane.Moments
	var solid []int
	for c := range s.cells {
		if len(s.cells[c].runs) == 0 {
			continue
		}
		solid = append(solid, c)
		m = m.Add(s.overlay.Cells[c].Moments)
		for _, r := range s.cells[c].runs {
			q.Volume += s.area(c) * (s.top(r) - s.bottom(r))
		}
		q.Surface += 2 * s.area(c) * float64(len(s.cells[c].runs))
	}
	for i := range s.overlay.Edges {
		e := &s.overlay.Edges[i]
		for k := range s.slabs {
			if s.cells[e.Left].solid[k] != s.cells[e.Right].solid[k] {
				q.Surface += e.Curve.Length() * (s.heights[k+1] - s.heights[k])
			}
		}
	}
	q.PlanArea = m.Area
	if s.hasSlopes() {
		if err := s.solve(q); err != nil {
			return parts.Problems{s.part.Problem(s.part.Place, err.Error())}
		}
	}
	low, high := s.span(solid)
	q.Height = high - low
	outline := s.outlineOf(solid)
	q.Width, q.Length = s.widthOf(outline)
	q.Outside = 2 * plane.Enclosing(outline).R
	q.Slenderness = q.Height / q.Width
	at := s.at(m.Centroid())
	q.Common = subject.Common{Name: s.part.Name, X: at.X, Y: at.Y, ZLow: low, ZHigh: high, Features: []string{}}
	q.Pressing, q.Sized = s.part.Pressing, s.part.Sized
	if s.part.Quantity > 0 {
		q.Quantity = subject.Some(s.part.Quantity)
	}
	if d := s.part.Material.Density; d > 0 {
		q.Density, q.Mass = subject.Some(d), subject.Some(q.Volume*d/1000)
	}
	return nil
}

// measuredWidth is an outline with its width and length: that of the part is often a column's too.
type measuredWidth struct {
	outline       []plane.Curve
	width, length float64
}

// widthOf is the width of an outline and its length across.
func (s *shape) widthOf(outline []plane.Curve) (width, length float64) {
	for _, m := range s.widths {
		if slices.Equal(m.outline, outline) {
			return m.width, m.length
		}
	}
	width, length, _ = plane.Width(outline)
	s.widths = append(s.widths, measuredWidth{outline, width, length})
	return width, length
}

// span is the z-range of the material in cells.
func (s *shape) span(cells []int) (low, high float64) {
	low, high = math.Inf(1), math.Inf(-1)
	for _, c := range cells {
		if r, ok := s.cells[c].column(); ok {
			low, high = math.Min(low, s.drawn(s.bottom(r))), math.Max(high, s.drawn(s.top(r)))
		}
	}
	return low, high
}

// outlineOf is the outer contour of a set of cells.
func (s *shape) outlineOf(cells []int) []plane.Curve {
	return s.regionOf(cells).Outline()
}

// regionOf traces a set of cells.
func (s *shape) regionOf(cells []int) *plane.Region {
	in := make([]bool, len(s.cells))
	for _, c := range cells {
		in[c] = true
	}
	return s.overlay.Region(func(c int) bool { return in[c] }, func(int, int, int) int { return 0 })
}

// plainBush tells whether the whole part is one ring of one height, a circle in a concentric circle.
func (s *shape) plainBush() bool {
	for c := range s.cells {
		if r, ok := s.cells[c].column(); ok && (len(s.cells[c].runs) > 1 || r != (run{0, len(s.slabs) - 1})) {
			return false
		}
	}
	r := s.slabs[0].region
	if len(r.Rings) != 2 || len(r.Rings[0].Pieces) != 1 || len(r.Rings[1].Pieces) != 1 {
		return false
	}
	a, b := r.Rings[0].Pieces[0].Curve, r.Rings[1].Pieces[0].Curve
	return a.IsArc() && b.IsArc() && a.C.Distance(b.C) <= plane.Near
}

// names turns feature numbers into names, each once, in order of declaration.
func (s *shape) names(features []int) []string {
	fs := slices.Clone(features)
	slices.Sort(fs)
	var out []string
	for _, f := range slices.Compact(fs) {
		out = append(out, s.features[f].Name)
	}
	return out
}
