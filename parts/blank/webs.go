package blank

import (
	"cmp"
	"math"
	"slices"

	"corerod/parts/plane"
)

// CellRun is one of the runs over a cell.
type CellRun struct{ Cell, Run int }

// patch is the lower or the upper end of a run.
type patch struct {
	surface
	CellRun
	curves []plane.Curve
	balls  []ball        // by curve: what it lies in, over the surface
	ends   []bool        // by curve: the void ends along it, as along the ridge under a V groove
	tips   []plane.Point // where a cone comes to a point
	lo, hi plane.Point   // the box round it
	low    float64       // its heights
	high   float64
}

// patchOf is the end of a run on a side.
func (s *Shape) patchOf(r CellRun, side string) patch {
	k := map[string]int{"bottom": 0, "top": 1}[side]
	c := &s.cells[r.Cell]
	p := patch{surface: c.ends[r.Run][k], CellRun: r, curves: s.around(r.Cell), low: c.spans[r.Run][k][0], high: c.spans[r.Run][k][1]}
	p.lo, p.hi = plane.Loop(p.curves).Bounds()
	for i := range p.curves {
		p.balls = append(p.balls, s.ballRound(p.surface, &p.curves[i]))
	}
	if !p.flat() {
		p.ends = s.ridges(&p, side)
		if d := &s.walls[p.wall].drawn[p.side]; d.IsArc() && plane.Loop(p.curves).Holds(d.C) {
			p.tips = []plane.Point{d.C}
		}
	}
	return p
}

// ridges are those of the curves round a patch on a slope along which its void ends on a side: all of the curve is as deep as the patch,
// and what ends on that side beside it meets it there and is no deeper.
func (s *Shape) ridges(p *patch, side string) (ends []bool) {
	k, end, sign, deepest := 1, 0, 1.0, p.low
	if side == "bottom" {
		k, end, sign, deepest = 0, 1, -1, p.high
	}
	for _, i := range s.edges[p.Cell] {
		e := &s.overlay.Edges[i]
		if e.Left == e.Right {
			continue
		}
		c := &e.Curve
		level := func(f surface, at plane.Point) bool { return math.Abs(s.heightOver(f, at)-deepest) <= SameHeight }
		beside, is := &s.cells[e.Left+e.Right-p.Cell], false
		for run, f := range beside.ends {
			is = is || level(f[k], c.At(0.5)) && sign*(beside.spans[run][k][end]-deepest) >= -SameHeight
		}
		ends = append(ends, is && level(p.surface, c.A) && level(p.surface, c.At(0.5)) && level(p.surface, c.B))
	}
	return ends
}

// ball is one in space that a curve on a surface lies in.
type ball struct {
	at     plane.Point
	z      float64
	radius float64 // endless where it is not known
}

// ballRound is that of a short arc round its middle; over another curve the height may turn.
func (s *Shape) ballRound(f surface, c *plane.Curve) ball {
	if !c.IsArc() || math.Abs(c.Sweep) > shortSweep {
		return ball{radius: math.Inf(1)}
	}
	at := c.At(0.5)
	a, m, b := s.heightOver(f, c.A), s.heightOver(f, at), s.heightOver(f, c.B)
	return ball{at, m, c.Length() + 2*math.Max(math.Abs(a-m), math.Abs(b-m))}
}

// off is how far a point is from the ball, at the least.
func (b *ball) off(p plane.Point, z float64) float64 {
	if math.IsInf(b.radius, 1) {
		return 0
	}
	return math.Hypot(b.at.Distance(p), b.z-z) - b.radius
}

// outerRun is the run that ends a cell's column on a side.
func (s *Shape) outerRun(c int, side string) CellRun {
	if side == "top" {
		return CellRun{c, len(s.cells[c].runs) - 1}
	}
	return CellRun{c, 0}
}

// nearer tells whether two patches can be nearer to each other than a distance, by the boxes round them.
func (p *patch) nearer(q *patch, most float64) bool {
	x := math.Max(q.lo.X-p.hi.X, p.lo.X-q.hi.X)
	y := math.Max(q.lo.Y-p.hi.Y, p.lo.Y-q.hi.Y)
	z := math.Max(q.low-p.high, p.low-q.high)
	if x >= most || y >= most || z >= most {
		return false
	}
	x, y, z = math.Max(0, x), math.Max(0, y), math.Max(0, z)
	return x*x+y*y+z*z < most*most
}

// Across is the least distance in space between where runs of material end on a side, at a void, and where the material beyond ends on the
// other side, mm, but where that is the floors' own void, of so many cells in slabs. What is between two slopes, one of them a wall, does
// not count, but from the ridge or the point at which a void ends; nor does a wall round the outside of the part. It is looked for along
// the edges of cells and, inside them, in the plane through the axes of both surfaces, or through one of them square to the other: there
// the shortest way lies between two surfaces that are planes, or round about the pressing axis.
func (s *Shape) Across(floors []CellRun, side string, own map[[2]int]bool) float64 {
	other := map[string]string{"top": "bottom", "bottom": "top"}[side]
	var to []patch
	for c := range s.cells {
		for i, r := range s.cells[c].runs {
			beyond := r.Lo - 1
			if side == "bottom" {
				beyond = r.Hi + 1
			}
			if !own[[2]int{c, beyond}] {
				to = append(to, s.patchOf(CellRun{c, i}, other))
			}
		}
	}
	gap := func(from, to *patch) float64 { // along the axis
		if side == "top" {
			return from.low - to.high
		}
		return to.low - from.high
	}
	origin := &patch{}
	slices.SortStableFunc(to, func(a, b patch) int { return cmp.Compare(gap(origin, &a), gap(origin, &b)) })
	least := math.Inf(1)
	for _, r := range floors {
		from := s.patchOf(r, side)
		least = math.Min(least, s.Least(r.Cell, r.Run))
		for i := range to {
			if gap(&from, &to[i]) >= least {
				break
			}
			if to[i].nearer(&from, least) && s.beyond(&from, &to[i], side) && !s.outsideWall(&to[i], side) {
				least = s.between(&from, &to[i], least)
			}
		}
	}
	return least
}

// outsideWall tells whether a patch that lies beyond floors on a side is on a wall that leans, round the outside of the part.
func (s *Shape) outsideWall(to *patch, side string) bool {
	if !s.onWall(to.surface) {
		return false
	}
	k := s.cells[to.Cell].runs[to.Run].Lo - 1 // the slab in which the void begins
	if side == "bottom" {
		k = s.cells[to.Cell].runs[to.Run].Hi + 1
	}
	return k < 0 || k >= len(s.slabs) || !s.Closed(k, to.Cell)
}

// beyond tells whether a run that ends in a patch is the first of its cell that goes on from the stretch in which a floor on a side begins:
// not one behind the void, nor one past another void.
func (s *Shape) beyond(floor, to *patch, side string) bool {
	runs, own := s.cells[to.Cell].runs, s.cells[floor.Cell].runs[floor.Run]
	if side == "top" {
		return s.stretchOf(runs[to.Run].Lo) <= s.stretchOf(own.Hi) && (to.Run+1 == len(runs) || runs[to.Run+1].Lo > own.Hi)
	}
	return s.stretchOf(runs[to.Run].Hi) >= s.stretchOf(own.Lo) && (to.Run == 0 || runs[to.Run-1].Hi < own.Lo)
}

// Steep tells whether a cell's column ends on a slope that is a wall, as that of a drafted hole.
func (s *Shape) Steep(c int, side string) bool {
	return s.onWall(s.end(c, side))
}

// SameEnd tells whether the columns of two cells end on one slope on a side.
func (s *Shape) SameEnd(c, d int, side string) bool {
	if !s.HasMaterial(c) || !s.HasMaterial(d) {
		return false
	}
	a, b := s.end(c, side), s.end(d, side)
	return !a.flat() && a.wall == b.wall
}

// onWall tells whether a surface is one of a slope that is a wall.
func (s *Shape) onWall(f surface) bool { return !f.flat() && s.walls[f.wall].lean() <= MostWall }

// LeastBetween is the least height of the columns of cells that end on a slope at both ends, neither of them a wall, mm: of each pair of
// slopes that comes to nothing nowhere over the cells. It is endless where there is none.
func (s *Shape) LeastBetween(cells []int) float64 {
	of := map[[2]int]float64{} // by the two slopes
	for _, c := range cells {
		top, bottom := s.end(c, "top"), s.end(c, "bottom")
		if top.flat() || bottom.flat() || s.Steep(c, "top") || s.Steep(c, "bottom") {
			continue
		}
		pair := [2]int{top.wall, bottom.wall}
		least, known := of[pair]
		if !known {
			least = math.Inf(1)
		}
		of[pair] = math.Min(least, s.LeastColumn(c))
	}
	least := math.Inf(1)
	for _, d := range of {
		if d > SameHeight {
			least = math.Min(least, d)
		}
	}
	return least
}

// Between is the least distance in space between the two ends of the columns of cells, mm.
func (s *Shape) Between(cells []int) float64 {
	least := math.Inf(1)
	var from, to []patch
	for _, c := range cells {
		if s.Steep(c, "top") || s.Steep(c, "bottom") {
			continue
		}
		least = math.Min(least, s.LeastColumn(c))
		from, to = append(from, s.patchOf(s.outerRun(c, "top"), "top")), append(to, s.patchOf(s.outerRun(c, "bottom"), "bottom"))
	}
	for i := range from {
		for j := range to {
			if (!from[i].flat() || !to[j].flat()) && from[i].nearer(&to[j], least) {
				least = s.between(&from[i], &to[j], least)
			}
		}
	}
	return least
}

// between is the least distance in space between two patches, or one that is known if it is less.
func (s *Shape) between(a, b *patch, known float64) float64 {
	if a.flat() && b.flat() {
		d, _, _ := plane.Between(a.curves, b.curves)
		if plane.Loop(a.curves).Holds(b.curves[0].A) || plane.Loop(b.curves).Holds(a.curves[0].A) {
			d = 0
		}
		return math.Min(known, math.Hypot(d, a.z-b.z))
	}
	least := known
	wall := !a.flat() && !b.flat() && (s.onWall(a.surface) || s.onWall(b.surface))
	for _, pair := range [2][2]*patch{{a, b}, {b, a}} {
		p, q := pair[0], pair[1]
		for i := range p.curves {
			if wall && !p.ends[i] {
				continue
			}
			off := func(t, known float64) float64 {
				at := p.curves[i].At(t)
				return s.offPatch(q, at, s.heightOver(p.surface, at), known)
			}
			if most := least + p.balls[i].radius; off(0.5, most) >= most {
				continue
			}
			_, d := LeastAlong(func(t float64) float64 { return off(t, least) })
			least = math.Min(least, d)
		}
		for _, at := range p.tips {
			least = math.Min(least, s.offPatch(q, at, s.heightOver(p.surface, at), least))
		}
		if p.flat() || wall {
			continue
		}
		ends := [2]surface{p.surface, q.surface}
		if q.flat() {
			ends[1] = p.surface
		}
		if from, to, ok := s.axisBetween(ends, p.curves); ok {
			least = math.Min(least, leastAcross(p.curves, plane.Line(from, to), func(at plane.Point) float64 {
				return s.offPatch(q, at, s.heightOver(p.surface, at), least)
			}))
		}
	}
	return least
}

// offPatch is the distance of a point from a patch, if it is less than another: else no more than that, and no less than the other.
func (s *Shape) offPatch(q *patch, p plane.Point, z, known float64) float64 {
	inside := plane.Loop(q.curves).Holds(p)
	if q.flat() {
		d := 0.0
		if !inside {
			d = offCurves(q.curves, p)
		}
		return math.Hypot(d, z-q.z)
	}
	w := &s.walls[q.wall]
	side, m := &w.drawn[q.side], w.moves[q.side]
	if m.turns {
		foot := w.footOnRamp(q.side, p, z)
		if plane.Loop(q.curves).Holds(foot) {
			return math.Hypot(foot.Distance(p), z-s.heightOver(q.surface, foot))
		}
	} else {
		off := side.LeftOf(p)
		near := m.nearest(off, z-w.base) // in section
		foot := footAt(side, p, near)
		if plane.Loop(q.curves).Holds(foot) {
			return math.Hypot(near-off, z-s.heightOver(q.surface, foot))
		}
		if d := m.distance(off, z-w.base); d >= known {
			return d
		}
	}
	least, above := math.Inf(1), math.Max(0, math.Max(z-q.high, q.low-z)) // beyond its heights
	for i := range q.curves {
		c := &q.curves[i]
		if d := math.Max(q.balls[i].off(p, z), math.Hypot(c.Off(p), above)); d >= math.Min(least, known) {
			least = math.Min(least, d)
			continue
		}
		at := func(t float64) float64 {
			on := c.At(t)
			return math.Hypot(on.Distance(p), z-s.heightOver(q.surface, on))
		}
		_, d := LeastBeside(at, 0, 1)
		least = math.Min(least, d)
	}
	return least
}

// footOnRamp is the point of the plan over which a ramp is nearest to a point in space, of those along its whole lines.
func (w *wall) footOnRamp(side int, p plane.Point, z float64) plane.Point {
	m, about := w.moves[side], w.drawn[1].C
	at := func(off float64) plane.Point {
		c, _ := w.moved(w.drawn, side, off)
		q := c.At(0.5)
		r := q.Distance(about)
		x, y := (q.X-about.X)/r, (q.Y-about.Y)/r
		along := math.Max(0, (p.X-about.X)*x+(p.Y-about.Y)*y)
		return plane.Point{X: about.X + x*along, Y: about.Y + y*along}
	}
	off, _ := LeastBeside(func(off float64) float64 { return math.Hypot(at(off).Distance(p), z-w.base-m.up(off)) }, 0, m.span)
	return at(off)
}

// footAt is the point of the plan nearest to another of those that lie to the left of a side by a distance.
func footAt(side *plane.Curve, p plane.Point, off float64) plane.Point {
	d := off - side.LeftOf(p)
	if !side.IsArc() {
		u := side.Tangent(side.A)
		return plane.Point{X: p.X - d*u.Y, Y: p.Y + d*u.X}
	}
	x, y := p.X-side.C.X, p.Y-side.C.Y
	r := math.Hypot(x, y)
	if r <= leastRun {
		return plane.Point{X: side.C.X + math.Max(0, side.R-math.Copysign(1, side.Sweep)*off), Y: side.C.Y}
	}
	to := math.Max(0, r-math.Copysign(1, side.Sweep)*d)
	return plane.Point{X: side.C.X + x/r*to, Y: side.C.Y + y/r*to}
}

// nearest is the distance to the left, in section, at which the wall is nearest to a point.
func (m *motion) nearest(off, u float64) float64 {
	if m.r == 0 {
		if math.IsInf(m.slope, 0) {
			return 0
		}
		// The foot on the line u = from + slope * off.
		return (off + m.slope*(u-m.from)) / (1 + m.slope*m.slope)
	}
	d := math.Hypot(off-m.at, u-m.over)
	if d <= leastRun {
		return off
	}
	return m.at + (off-m.at)*m.r/d
}

// distance is how far, in section, a point is from the whole line or circle of the wall.
func (m *motion) distance(off, u float64) float64 {
	if m.r > 0 {
		return math.Abs(math.Hypot(off-m.at, u-m.over) - m.r)
	}
	near := m.nearest(off, u)
	return math.Hypot(near-off, u-m.up(near))
}

func offCurves(cs []plane.Curve, p plane.Point) float64 {
	least := math.Inf(1)
	for i := range cs {
		least = math.Min(least, cs[i].Off(p))
	}
	return least
}
