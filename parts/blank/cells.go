package blank

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"corerod/parts"
	"corerod/parts/form"
	"corerod/parts/plane"
)

// mostPatches is how many areas of the plan, or curves in which slopes cross, a part may have, times heights: with as many a review takes
// some seconds.
const mostPatches = 100_000

// outline is one section of a wall: a figure of the overlay.
type outline struct {
	feature, copy int
	wall          int
	loop          plane.Loop
	lo, hi        float64 // the heights that it stands for
	sloped        [2]bool // its lower, upper end is a step of a slope
}

// cell is what the pressing axis meets in one cell of the plan.
type cell struct {
	solid   []bool // by slab
	runs    []Run
	ends    [][2]surface    // by run: its lower and its upper end
	spans   [][2][2]float64 // by run: the least and the greatest height of its lower and of its upper end
	volumes []float64       // by run, mm3
	passes  [][]pass        // by stretch between stations: the slopes that pass over it, from the lowest up
}

// Run is an unbroken run of material, from the lower end of slab Lo to the upper end of slab Hi. One that lies between the two halves of
// a stretch with slopes, in neither of their sections, has the upper half as Lo and the lower one as Hi.
type Run struct{ Lo, Hi int }

// surface is what a run ends on: a side of a sloped wall, or a flat.
type surface struct {
	wall, side int // wall is -1 for a flat
	z          float64
}

func (f surface) flat() bool { return f.wall < 0 }

// Cells is the number of cells of the plan. Cell 0 is the plan outside of all outlines.
func (s *Shape) Cells() int { return len(s.cells) }

// Solid tells whether a cell is solid in slab k.
func (s *Shape) Solid(c, k int) bool { return s.cells[c].solid[k] }

// Runs are the runs of material over a cell, from the lowest up.
func (s *Shape) Runs(c int) []Run { return s.cells[c].runs }

// HasMaterial tells whether there is any material over a cell.
func (s *Shape) HasMaterial(c int) bool { return len(s.cells[c].runs) > 0 }

// Column is the run from a cell's lowest to its highest solid slab; false where the cell is all void.
func (s *Shape) Column(c int) (Run, bool) { return s.cells[c].column() }

// Inside are the figures that a cell lies in.
func (s *Shape) Inside(c int) plane.Set { return s.overlay.Cells[c].Inside }

// Moments are the area and first moments of a cell, in the frame of the overlay.
func (s *Shape) Moments(c int) plane.Moments { return s.overlay.Cells[c].Moments }

// CellAt is the cell that holds a point of the overlay.
func (s *Shape) CellAt(p plane.Point) int { return s.overlay.CellAt(p) }

// Edges is the number of edges between cells.
func (s *Shape) Edges() int { return len(s.overlay.Edges) }

// Edge is the edge of a number, to be read only.
func (s *Shape) Edge(i int) *plane.Edge { return &s.overlay.Edges[i] }

// Trace is the region of the cells that in accepts. owner gives the figure, or another number, that each of its edges
// belongs to, between a cell in it and one outside.
func (s *Shape) Trace(in func(cell int) bool, owner func(edge, in, out int) int) *plane.Region {
	return s.overlay.Region(in, owner)
}

// lay overlays the outlines at all stations and finds where each cell is solid.
func (s *Shape) lay() parts.Problems {
	for i := range s.walls {
		if err := s.outline(i); err != nil {
			f := s.features[s.walls[i].feature]
			return parts.Problems{s.Problem(f.Shape, "%s: %v", f.Name, err)}
		}
	}
	loops := make([]plane.Loop, len(s.outlines))
	for i := range s.outlines {
		loops[i] = s.outlines[i].loop
	}
	dividers := s.slopeDividers(anyFeature)
	if len(dividers)*len(s.stations) > mostPatches {
		return s.tooMany()
	}
	o, err := plane.Lay(loops, dividers...)
	if err != nil {
		return parts.Problems{s.tooClose(err, loops, func(i int) int { return s.outlines[i].feature }, s.slopeDividers)}
	}
	if len(o.Cells)*len(s.stations) > mostPatches {
		return s.tooMany()
	}
	s.findHeights()
	o.MergeThin(plane.Thinning{
		Stays:    func(figures []int) bool { return s.ofOneCopy(figures) || s.amidSlope(figures) || s.narrowEnd(figures) },
		Material: s.materialIn,
	})
	s.overlay = o
	s.stack()
	return nil
}

// tooMany refuses a part whose slopes make too many patches, with the names of those that have them.
func (s *Shape) tooMany() parts.Problems {
	for _, f := range s.features {
		if f.Relief != nil && f.Relief.Tilt != nil {
			const says = "the tilted face of %s meets too many sides of outlines for a review, at %d heights: tilt a body with fewer " +
				"sides, or machine the face"
			return parts.Problems{s.Problem(f.Relief.Place, says, f.Name, len(s.stations))}
		}
	}
	const shown = 3
	var names []string
	for _, f := range s.features {
		if form.Sloped(f) {
			names = append(names, f.Name)
		}
	}
	more := ""
	if n := len(names) - shown; n > 0 {
		names, more = names[:shown], fmt.Sprintf(" and %d more", n)
	}
	return parts.Problems{s.Problem(s.part.Place, "the slopes of %s%s cross too often for a review: they begin, end or meet at %d "+
		"heights; draw fewer of them over each other", strings.Join(names, ", "), more, len(s.stations))}
}

// slopeDividers are what parts the slopes of some features: the lines between their sides, and those in which they cross.
func (s *Shape) slopeDividers(in func(feature int) bool) (dividers []plane.Curve) {
	for i := 0; i+1 < len(s.stations); i++ {
		low, high := s.stations[i], s.stations[i+1]
		dividers = append(dividers, s.traces(low, high, in)...)
		for j := range s.walls {
			if w := &s.walls[j]; in(w.feature) && w.slopes(low, high) {
				dividers = append(dividers, w.dividers(low, high)...)
			}
		}
	}
	return dividers
}

// ofOneCopy tells whether two of some figures are sections of one copy of a feature, which lie close where their stations do.
func (s *Shape) ofOneCopy(figures []int) bool {
	seen := map[[2]int]int{} // by feature and copy: a figure
	for _, f := range figures {
		c := [2]int{s.outlines[f].feature, s.outlines[f].copy}
		if g, ok := seen[c]; ok && g != f {
			return true
		}
		seen[c] = f
	}
	return false
}

// amidSlope tells whether one of some figures is a section of a slope at neither of its ends, which lies close to whatever it passes there.
func (s *Shape) amidSlope(figures []int) bool {
	return slices.ContainsFunc(figures, func(f int) bool { return s.outlines[f].sloped == [2]bool{true, true} })
}

// narrowEnd tells whether some figures are all one: an end of a slope, which is as narrow as its draft makes it.
func (s *Shape) narrowEnd(figures []int) bool {
	figure := slices.Compact(slices.Sorted(slices.Values(figures)))
	return len(figure) == 1 && s.Leans(figure[0])
}

// outline draws the sections of a wall at its stations: each stands for its wall halfway to the next.
func (s *Shape) outline(i int) error {
	w := &s.walls[i]
	w.figures = map[int]int{}
	add := func(station int, l plane.Loop, lo, hi float64, sloped [2]bool) {
		w.figures[station] = len(s.outlines)
		s.outlines = append(s.outlines, outline{w.feature, w.copy, i, l, lo, hi, sloped})
	}
	var at []int
	for k, z := range s.stations {
		if z >= w.slopeLow()-SameHeight && z <= w.slopeHigh()+SameHeight {
			at = append(at, k)
		}
	}
	if !w.sloped() || len(at) == 0 { // nothing of a slope lies on the part
		l, err := w.section(w.slopeHigh())
		if len(l) == 0 && err == nil {
			l, err = w.section(w.slopeLow())
		}
		add(-1, l, w.low, w.high, [2]bool{})
		return err
	}
	for n, k := range at {
		l, err := w.section(s.stations[k])
		if err != nil {
			return err
		}
		if len(l) == 0 {
			continue
		}
		lo, hi, sloped := w.low, w.high, [2]bool{n > 0, n < len(at)-1}
		if n > 0 {
			lo = mid(s.stations[at[n-1]], s.stations[k])
		}
		if n < len(at)-1 {
			hi = mid(s.stations[k], s.stations[at[n+1]])
		}
		add(k, l, lo, hi, sloped)
	}
	return nil
}

// findHeights finds the heights at which slabs begin and end.
func (s *Shape) findHeights() {
	s.heights, s.first = nil, nil
	for i, z := range s.stations {
		s.first = append(s.first, len(s.heights))
		s.heights = append(s.heights, z)
		if i+1 < len(s.stations) && s.slopesBetween(i) {
			s.heights = append(s.heights, mid(z, s.stations[i+1]))
		}
	}
}

// materialIn are the slabs in which a cell inside some figures is material.
func (s *Shape) materialIn(inside plane.Set) plane.Set {
	at := make(plane.Set, len(s.heights)/64+1)
	for k := range len(s.heights) - 1 {
		if s.material(inside, k) {
			at[k/64] |= 1 << (k % 64)
		}
	}
	return at
}

// stack finds where each cell is solid.
func (s *Shape) stack() {
	s.edges = edgesOf(s.overlay)
	s.cells = make([]cell, len(s.overlay.Cells))
	for c := range s.cells {
		var points []plane.Point
		s.cells[c] = s.fill(s.overlay.Cells[c].Inside, func() []plane.Point {
			if points == nil {
				points = s.pointsOf(c)
			}
			return points
		})
		for i, ends := range s.cells[c].ends {
			run := s.cells[c].runs[i]
			s.cells[c].spans = append(s.cells[c].spans, [2][2]float64{s.spanOf(c, ends[0], run.Lo), s.spanOf(c, ends[1], run.Hi)})
			s.cells[c].volumes = append(s.cells[c].volumes, s.moment(c, ends[1])-s.moment(c, ends[0]))
		}
	}
}

// slopesBetween tells whether anything leans between a station and the next.
func (s *Shape) slopesBetween(i int) bool {
	return slices.ContainsFunc(s.walls, func(w wall) bool { return w.slopes(s.stations[i], s.stations[i+1]) })
}

// edgesOf are the edges round each cell of an overlay.
func edgesOf(o *plane.Overlay) [][]int {
	sizes := make([]int, len(o.Cells))
	for i := range o.Edges {
		sizes[o.Edges[i].Left]++
		sizes[o.Edges[i].Right]++
	}
	room, all := make([]int, 2*len(o.Edges)), make([][]int, len(o.Cells))
	for c, n := range sizes {
		all[c], room = room[:0:n], room[n:]
	}
	for i := range o.Edges {
		l, r := o.Edges[i].Left, o.Edges[i].Right
		all[l] = append(all[l], i)
		if r != l {
			all[r] = append(all[r], i)
		}
	}
	return all
}

// curvesOf are the curves round a cell, with the cell to their left; edges are those round it.
func curvesOf(o *plane.Overlay, c int, edges []int) (cs []plane.Curve) {
	for _, i := range edges {
		switch e := &o.Edges[i]; {
		case e.Left == e.Right:
		case e.Right == c:
			cs = append(cs, e.Curve.Reversed())
		default:
			cs = append(cs, e.Curve)
		}
	}
	return cs
}

// middles are the points halfway along curves.
func middles(cs []plane.Curve) (ps []plane.Point) {
	for i := range cs {
		ps = append(ps, cs[i].At(0.5))
	}
	return ps
}

// pointsOf are points of a cell: halfway along the curves round it and, where something leans, one inside. On the circle in which two
// cones of one section meet, points of the curves alone lie on both.
func (s *Shape) pointsOf(c int) []plane.Point {
	curves := s.around(c)
	ps := middles(curves)
	if s.hasSlopes() && c > 0 {
		if p, ok := inside(curves); ok {
			ps = append(ps, p)
		}
	}
	return ps
}

// distinct sorts heights and drops those within SameHeight of the one before.
func distinct(zs []float64) []float64 {
	if len(zs) == 0 {
		return nil
	}
	slices.Sort(zs)
	out := zs[:1]
	for _, z := range zs[1:] {
		if z-out[len(out)-1] > SameHeight {
			out = append(out, z)
		}
	}
	return out
}

// fill finds the slabs in which a cell inside a set of outlines is solid, and its runs; around gives points of its edges.
func (s *Shape) fill(inside plane.Set, around func() []plane.Point) cell {
	n := len(s.heights) - 1
	c := cell{solid: make([]bool, n), passes: make([][]pass, len(s.stations)-1)}
	for k := range c.solid {
		c.solid[k] = s.material(inside, k)
	}
	was := false
	begin := func(k int, at surface) {
		c.runs, c.ends = append(c.runs, Run{Lo: k}), append(c.ends, [2]surface{at})
	}
	end := func(k int, at surface) {
		n := len(c.runs) - 1
		c.runs[n].Hi, c.ends[n][1] = k, at
	}
	for i := 0; i+1 < len(s.stations); i++ {
		low := s.first[i]
		if c.solid[low] != was {
			if flat := (surface{-1, 0, s.stations[i]}); was {
				end(low-1, flat)
			} else {
				begin(low, flat)
			}
		}
		if was = c.solid[low]; s.first[i+1] == low+1 {
			continue
		}
		c.passes[i] = s.passed(inside, around, i)
		for _, x := range c.passes[i] {
			switch {
			case x.solid == was:
			case was:
				end(low, x.surface)
			default:
				begin(low+1, x.surface)
			}
			was = x.solid
		}
		if solid := c.solid[low+1]; solid != was { // a thin cell that joined another
			if flat := (surface{-1, 0, s.heights[low+1]}); was {
				end(low, flat)
			} else {
				begin(low+1, flat)
			}
			was = solid
		}
	}
	if was {
		end(len(c.solid)-1, surface{-1, 0, s.heights[len(s.heights)-1]})
	}
	return c
}

// pass is a slope that passes over a cell between two stations, and what lies above it.
type pass struct {
	surface
	in    bool // above it the cell lies in the outline
	solid bool
}

// passed are the slopes that pass over a cell between a station and the next, from the lowest up.
func (s *Shape) passed(inside plane.Set, around func() []plane.Point, i int) (ps []pass) {
	low, high := s.stations[i], s.stations[i+1]
	has := func(w *wall, station int) bool {
		f, ok := w.figures[station]
		return ok && inside.Has(f)
	}
	for n := range s.walls {
		w := &s.walls[n]
		if !w.slopes(low, high) {
			continue
		}
		before, after := has(w, i), has(w, i+1)
		switch {
		case before != after:
			ps = append(ps, pass{surface: surface{wall: n, side: w.sideOver(around(), low, high)}, in: after})
		case !before && w.ring && len(w.moves) == 4 && w.sweeps(around(), low, high):
			ps = append(ps, pass{surface: surface{wall: n, side: 0}}, pass{surface: surface{wall: n, side: 2}})
			if w.moves[0].rate(mid(w.lo, w.hi)) < 0 { // the outer circle grows: the cell is first in it, then in the inner one
				ps[len(ps)-2].in = true
			} else {
				ps[len(ps)-1].in = true
			}
		}
	}
	if len(ps) > 1 {
		s.order(ps, around())
	}
	s.fillPassed(ps, inside, i)
	return ps
}

// fillPassed finds what is material above each of the slopes that pass over a cell over a station.
func (s *Shape) fillPassed(ps []pass, inside plane.Set, i int) {
	bodies, cuts := 0, 0
	var of []int // by feature, where it takes more to tell what is material
	if !s.simple() {
		of = make([]int, len(s.features))
	}
	count := func(n, by int) {
		w := &s.walls[n]
		if of != nil {
			of[w.feature] += by
		}
		if w.feature < s.bodies {
			bodies += by
		} else {
			cuts += by
		}
	}
	inside.Each(func(f int) {
		if s.Covers(f, s.first[i]) {
			count(s.outlines[f].wall, 1)
		}
	})
	for k := range ps {
		by := -1
		if ps[k].in {
			by = 1
		}
		count(ps[k].wall, by)
		if of != nil {
			ps[k].solid = s.leaves(func(feature int) int { return of[feature] })
		} else {
			ps[k].solid = bodies > 0 && cuts == 0
		}
	}
}

// sweeps tells whether both circles of a ring pass over all of a cell between two heights, so that it holds the cell only in
// between; ps are points round the cell.
func (w *wall) sweeps(ps []plane.Point, low, high float64) bool {
	from, to := 0.0, math.Inf(1)
	for _, i := range [2]int{0, 2} {
		a, b := w.circleAt(i, low), w.circleAt(i, high)
		from, to = math.Max(from, math.Min(a.R, b.R)), math.Min(to, math.Max(a.R, b.R))
	}
	beyond, before := false, false
	for _, p := range ps {
		r := p.Distance(w.drawn[0].C)
		if r < from-plane.Near || r > to+plane.Near {
			return false
		}
		beyond, before = beyond || r > from+plane.Near, before || r < to-plane.Near
	}
	return beyond && before
}

// circleAt is a circle of a ring at a height; of no radius where it comes to the axis.
func (w *wall) circleAt(side int, z float64) plane.Curve {
	c, ok := w.sideAt(side, z)
	if !ok {
		c.R = 0
	}
	return c
}

// order sorts slopes by their heights over a cell, at the one of some points where these are furthest apart.
func (s *Shape) order(ps []pass, around []plane.Point) {
	best, most := ps, -1.0
	for _, p := range around {
		qs := slices.Clone(ps)
		for k := range qs {
			qs[k].z = s.walls[qs[k].wall].heightAt(qs[k].side, p)
		}
		slices.SortStableFunc(qs, func(a, b pass) int {
			switch {
			case a.z < b.z:
				return -1
			case a.z > b.z:
				return 1
			}
			return 0
		})
		least := math.Inf(1)
		for k := 1; k < len(qs); k++ {
			least = math.Min(least, qs[k].z-qs[k-1].z)
		}
		if least > most {
			best, most = qs, least
		}
	}
	copy(ps, best)
}

// Covers tells whether a figure stands for its wall in slab k.
func (s *Shape) Covers(figure, k int) bool {
	z := (s.heights[k] + s.heights[k+1]) / 2
	return s.outlines[figure].lo < z && z < s.outlines[figure].hi
}

// InBody tells whether some of figures are bodies that reach through slab k.
func (s *Shape) InBody(inside plane.Set, k int) bool { return s.in(inside, k, true) }

// inCut tells the same of cuts.
func (s *Shape) inCut(inside plane.Set, k int) bool { return s.in(inside, k, false) }

func (s *Shape) in(inside plane.Set, k int, body bool) (found bool) {
	inside.Each(func(i int) {
		found = found || (s.outlines[i].feature < s.bodies) == body && s.Covers(i, k)
	})
	return found
}

// Bottom is the height of a run's lower end, mm; of a slope that of its step.
func (s *Shape) Bottom(r Run) float64 { return s.heights[r.Lo] }

// Top is the height of a run's upper end, mm; of a slope that of its step.
func (s *Shape) Top(r Run) float64 { return s.heights[r.Hi+1] }

// column is the run from a cell's lowest to its highest solid slab; false where the cell is all void.
func (c *cell) column() (Run, bool) {
	if len(c.runs) == 0 {
		return Run{}, false
	}
	return Run{c.runs[0].Lo, c.runs[len(c.runs)-1].Hi}, true
}
