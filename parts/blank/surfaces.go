package blank

import (
	"math"

	"corerod/parts/plane"
)

// heightOver is the height of a surface over a point of the overlay.
func (s *Shape) heightOver(f surface, p plane.Point) float64 {
	if f.flat() {
		return f.z
	}
	return s.walls[f.wall].heightAt(f.side, p)
}

// extremes are the least and the greatest height of a side over an area that curves bound, of which its middle is a part where it
// is one of a circle that is all round.
func (w *wall) extremes(side int, curves []plane.Curve) (low, high float64) {
	low, high = math.Inf(1), math.Inf(-1)
	for i := range curves {
		for _, p := range w.turning(side, &curves[i]) {
			z := w.heightAt(side, p)
			low, high = math.Min(low, z), math.Max(high, z)
		}
	}
	if c := &w.drawn[side]; c.IsArc() && plane.Loop(curves).Holds(c.C) {
		z := w.heightAt(side, c.C)
		low, high = math.Min(low, z), math.Max(high, z)
	}
	return low, high
}

// turning are the points of a curve at which a side passes it lowest or highest: where its distance from the line or the centre of the
// side can be least or greatest, or its angle about an axis.
func (w *wall) turning(side int, c *plane.Curve) []plane.Point {
	from := &w.drawn[side]
	ps := []plane.Point{c.A, c.B}
	add := func(p plane.Point) {
		if c.Covers(p) {
			ps = append(ps, p)
		}
	}
	switch {
	case w.moves[side].turns:
		if about := w.drawn[1].C; c.IsArc() && c.C.Distance(about) > c.R { // where lines from the axis touch it
			d := c.C.Distance(about)
			x, y := (about.X-c.C.X)/d, (about.Y-c.C.Y)/d
			along, beside := c.R*c.R/d, c.R*math.Sqrt(1-c.R*c.R/(d*d))
			add(plane.Point{X: c.C.X + x*along - y*beside, Y: c.C.Y + y*along + x*beside})
			add(plane.Point{X: c.C.X + x*along + y*beside, Y: c.C.Y + y*along - x*beside})
		}
	case from.IsArc() && (!c.IsArc() || c.C.Distance(from.C) > plane.Near):
		foot := c.Foot(from.C)
		add(foot)
		if c.IsArc() {
			add(plane.Point{X: 2*c.C.X - foot.X, Y: 2*c.C.Y - foot.Y})
		}
	case !from.IsArc() && c.IsArc():
		u := from.Tangent(from.A)
		add(plane.Point{X: c.C.X - u.Y*c.R, Y: c.C.Y + u.X*c.R})
		add(plane.Point{X: c.C.X + u.Y*c.R, Y: c.C.Y - u.X*c.R})
	}
	return ps
}

// around are the curves round a cell, with the cell to their left.
func (s *Shape) around(c int) []plane.Curve { return curvesOf(s.overlay, c, s.edges[c]) }

// spanOf is the least and the greatest height of a surface over a cell, within the stretch of a slab: where a ball stands upright, two
// stations may have one outline.
func (s *Shape) spanOf(c int, f surface, slab int) [2]float64 {
	if f.flat() {
		return [2]float64{f.z, f.z}
	}
	low, high := s.walls[f.wall].extremes(f.side, s.around(c))
	return [2]float64{math.Max(low, s.Low(slab)), math.Min(high, s.High(slab))}
}

// EndSpan is the least and the greatest height at which a cell's column ends on a side.
func (s *Shape) EndSpan(c int, side string) (low, high float64) {
	spans := s.cells[c].spans
	if side == "top" {
		return spans[len(spans)-1][1][0], spans[len(spans)-1][1][1]
	}
	return spans[0][0][0], spans[0][0][1]
}

// End is the height at which a cell's column ends on a side, half way along an edge of it.
func (s *Shape) End(c, edge int, side string) float64 {
	return s.heightOver(s.end(c, side), s.overlay.Edges[edge].Curve.At(0.5))
}

// EndAt is the height at which a cell's column ends on a side, over a point of it.
func (s *Shape) EndAt(c int, p plane.Point, side string) float64 {
	return s.heightOver(s.end(c, side), p)
}

// Falls is how much of an edge of a cell lies across the way down, away from a side, of what ends its column there, mm; 0 where the way
// does not lead out of the cell.
func (s *Shape) Falls(c, edge int, side string) float64 {
	e := &s.overlay.Edges[edge]
	p := e.Curve.At(0.5)
	t, g := e.Curve.Tangent(p), s.gradient(s.end(c, side), p)
	out := plane.Point{X: t.Y, Y: -t.X}
	if e.Left != c {
		out = plane.Point{X: -t.Y, Y: t.X}
	}
	down := -(g.X*out.X + g.Y*out.Y) / math.Max(leastRun, math.Hypot(g.X, g.Y))
	return math.Max(0, Outward(side, down, 0)) * e.Curve.Length()
}

// MeanEnd is the mean over a cell of the heights at which its column ends on a side.
func (s *Shape) MeanEnd(c int, side string) float64 { return s.moment(c, s.end(c, side)) / s.Area(c) }

// end is what ends a cell's column on a side.
func (s *Shape) end(c int, side string) surface {
	ends := s.cells[c].ends
	if side == "top" {
		return ends[len(ends)-1][1]
	}
	return ends[0][0]
}

// SlopesOf are the features whose slopes a run begins or ends on.
func (s *Shape) SlopesOf(c, run int) (features []int) {
	for _, f := range s.cells[c].ends[run] {
		if !f.flat() {
			features = append(features, s.walls[f.wall].feature)
		}
	}
	return features
}

// RunSpan is the height at which a run begins over a cell, the least of all, and the greatest at which it ends.
func (s *Shape) RunSpan(c, run int) (low, high float64) {
	return s.cells[c].spans[run][0][0], s.cells[c].spans[run][1][1]
}

// Least is the least height of a run, wherever over the cell it is, mm.
func (s *Shape) Least(c, run int) float64 {
	return s.leastBetween(c, s.cells[c].ends[run], s.cells[c].spans[run])
}

// LeastColumn is the least height from where a cell's column begins to where it ends, mm.
func (s *Shape) LeastColumn(c int) float64 {
	if !s.HasMaterial(c) {
		return 0
	}
	spans := s.cells[c].spans
	return s.leastBetween(c, [2]surface{s.end(c, "bottom"), s.end(c, "top")}, [2][2]float64{spans[0][0], spans[len(spans)-1][1]})
}

// leastBetween is the least height between two surfaces over a cell, whose heights lie in two spans.
func (s *Shape) leastBetween(c int, ends [2]surface, spans [2][2]float64) float64 {
	if ends[0].flat() || ends[1].flat() {
		return math.Max(0, spans[1][0]-spans[0][1])
	}
	curves := s.around(c)
	least := math.Inf(1)
	at := func(p plane.Point) float64 { return s.heightOver(ends[1], p) - s.heightOver(ends[0], p) }
	planes := s.isPlane(ends[0]) && s.isPlane(ends[1])
	for i := range curves {
		if planes && !curves[i].IsArc() {
			least = math.Min(least, math.Min(at(curves[i].A), at(curves[i].B)))
			continue
		}
		a, m, b := at(curves[i].A), at(curves[i].At(0.5)), at(curves[i].B)
		short, changes := curves[i].IsArc() && math.Abs(curves[i].Sweep) < shortSweep, math.Max(math.Abs(a-m), math.Abs(b-m))
		if short && math.Min(m, math.Min(a, b)) > least+4*changes {
			continue // a short arc on which it changes by far less than it would have to
		}
		_, h := LeastAlong(func(t float64) float64 { return at(curves[i].At(t)) })
		least = math.Min(least, h)
	}
	if p, q, ok := s.axisBetween(ends, curves); ok { // where both fall alike, inside the cell
		least = math.Min(least, leastAcross(curves, plane.Line(p, q), at))
	}
	return math.Max(0, least)
}

// leastAcross is the least of a function on what of a line lies inside the area that curves go round, which may be a small part of it;
// endless where nothing does.
func leastAcross(curves []plane.Curve, line plane.Curve, f func(at plane.Point) float64) float64 {
	least, length := math.Inf(1), line.Length()
	ends := plane.Meetings(line, []plane.Loop{curves})
	for i := 1; i < len(ends); i++ {
		a, b := line.At(ends[i-1]/length), line.At(ends[i]/length)
		if !plane.Loop(curves).Holds(plane.Point{X: mid(a.X, b.X), Y: mid(a.Y, b.Y)}) {
			continue
		}
		_, d := LeastAlong(func(t float64) float64 { return f(plane.Point{X: a.X + t*(b.X-a.X), Y: a.Y + t*(b.Y-a.Y)}) })
		least = math.Min(least, d)
	}
	return least
}

// isPlane tells whether a surface is a plane.
func (s *Shape) isPlane(f surface) bool {
	if f.flat() {
		return true
	}
	w := &s.walls[f.wall]
	return !w.drawn[f.side].IsArc() && w.moves[f.side].r == 0 && !w.moves[f.side].turns
}

// EdgeSpan is the least height at which a run of a cell begins along an edge of it, and the greatest at which it ends.
func (s *Shape) EdgeSpan(edge, c, run int) (low, high float64) {
	e := s.overlay.Edges[edge].Curve
	ends := s.cells[c].ends[run]
	span := func(f surface) (lo, hi float64) {
		if f.flat() {
			return f.z, f.z
		}
		w := &s.walls[f.wall]
		lo, hi = math.Inf(1), math.Inf(-1)
		for _, p := range w.turning(f.side, &e) {
			z := w.heightAt(f.side, p)
			lo, hi = math.Min(lo, z), math.Max(hi, z)
		}
		return lo, hi
	}
	low, _ = span(ends[0])
	_, high = span(ends[1])
	return low, high
}

// axisBetween is a line in plan that passes through every place where two surfaces fall alike: through the centres of both, or
// through that of one square to the side of the other; as long as the cell. It is false for two planes.
func (s *Shape) axisBetween(ends [2]surface, curves []plane.Curve) (p, q plane.Point, ok bool) {
	a, b := &s.walls[ends[0].wall].drawn[ends[0].side], &s.walls[ends[1].wall].drawn[ends[1].side]
	if !a.IsArc() {
		a, b = b, a
	}
	if !a.IsArc() {
		return p, q, false
	}
	d := plane.Point{X: b.C.X - a.C.X, Y: b.C.Y - a.C.Y}
	if !b.IsArc() {
		t := b.Tangent(b.A)
		d = plane.Point{X: -t.Y, Y: t.X}
	} else if math.Hypot(d.X, d.Y) <= plane.Near { // all directions are alike: along one to the middle of an edge
		m := curves[0].At(0.5)
		d = plane.Point{X: m.X - a.C.X, Y: m.Y - a.C.Y}
	}
	h := math.Hypot(d.X, d.Y)
	if h <= leastRun {
		return p, q, false
	}
	far := 0.0
	for i := range curves {
		far = math.Max(far, math.Max(curves[i].A.Distance(a.C), curves[i].B.Distance(a.C))+curves[i].Length())
	}
	d = plane.Point{X: d.X / h * far, Y: d.Y / h * far}
	return plane.Point{X: a.C.X - d.X, Y: a.C.Y - d.Y}, plane.Point{X: a.C.X + d.X, Y: a.C.Y + d.Y}, true
}

// moment is the integral of the height of a surface over a cell, mm3; area is that of the surface itself, mm2.
func (s *Shape) moment(c int, f surface) float64 {
	if f.flat() {
		return f.z * s.Area(c)
	}
	w := &s.walls[f.wall]
	if m := w.moves[f.side]; m.turns {
		return w.base*s.Area(c) + w.roundAxis(f.side, s.around(c), func(off, _ float64) float64 { return m.up(off) / 2 })
	}
	return w.base*s.Area(c) + w.integral(f.side, s.around(c), (*motion).heights)
}

func (s *Shape) area(c int, f surface) float64 {
	if f.flat() {
		return s.Area(c)
	}
	w := &s.walls[f.wall]
	if m := w.moves[f.side]; m.turns {
		pitch := math.Abs(m.slope) // of each radian
		return w.roundAxis(f.side, s.around(c), func(_, r float64) float64 {
			return (r*math.Hypot(r, pitch) + pitch*pitch*math.Asinh(r/pitch)) / (2 * r * r)
		})
	}
	return w.integral(f.side, s.around(c), (*motion).lengths)
}

// roundAxis is the integral of a function of a ramp over the area that curves go round, by Green's theorem in angles and radii about its
// axis: of the function's own integral over the radius along the curves, over the angle that they turn by. sum gives that integral for each
// squared radius, of how far the ramp turns to a point and its distance from the axis.
func (w *wall) roundAxis(i int, curves []plane.Curve, sum func(off, r float64) float64) (total float64) {
	about := w.drawn[1].C
	for k := range curves {
		e := &curves[k]
		for _, n := range roundNodes() {
			p := e.At(n.At)
			t := e.Tangent(p)
			x, y := p.X-about.X, p.Y-about.Y
			total += sum(w.offOf(w.drawn, i, p), math.Hypot(x, y)) * (x*t.Y - y*t.X) * n.Weight * e.Length()
		}
	}
	return total
}

// integral is that of a function of the distance from a side over the area that curves go round. By Green's theorem it is one along
// the curves: of sum, the integral of the function to the left of a line, or of it times the radius, about a centre.
func (w *wall) integral(i int, curves []plane.Curve, sum func(m *motion, off float64, round bool, centre float64) float64) (total float64) {
	side, m := &w.drawn[i], w.moves[i]
	sign := math.Copysign(1, side.Sweep)
	for k := range curves {
		e := &curves[k]
		nodes := roundNodes()
		if e.IsArc() && math.Abs(e.Sweep) < shortSweep {
			nodes = shortNodes()
		}
		for _, n := range nodes {
			p := e.At(n.At)
			t := e.Tangent(p)
			ds := n.Weight * e.Length()
			if !side.IsArc() {
				u := side.Tangent(side.A)
				total -= sum(m, side.LeftOf(p), false, 0) * (t.X*u.X + t.Y*u.Y) * ds
				continue
			}
			x, y := p.X-side.C.X, p.Y-side.C.Y
			if rho := math.Hypot(x, y); rho > leastRun {
				value := sum(m, sign*(side.R-rho), true, sign*side.R) - sum(m, sign*side.R, true, sign*side.R)
				total += value * (x*t.Y - y*t.X) / (rho * rho) * ds
			}
		}
	}
	return total
}

// heights is the integral of up over the distance, of a round one of up times the radius: centre is the distance of the centre.
func (m *motion) heights(off float64, round bool, centre float64) float64 {
	if !round {
		if m.r == 0 {
			return m.from*off + m.slope*off*off/2
		}
		t := m.clamped(off - m.at)
		return m.over*t + m.upper*m.segment(t)
	}
	// With x the distance from the centre, which is the radius but for its sign, the integral is that of up(centre + x) x.
	x := off - centre
	if m.r == 0 {
		return (m.from+m.slope*centre)*x*x/2 + m.slope*x*x*x/3
	}
	t, c := m.clamped(off-m.at), m.at-centre // x = t + c
	h := math.Sqrt((m.r - t) * (m.r + t))
	return m.over*(t*t/2+c*t) + m.upper*(c*m.segment(t)-h*h*h/3)
}

// clamped is a distance from the centre of an arc within its radius: it is the radius itself where rounding alone tells them apart,
// since the half chord there grows as a root.
func (m *motion) clamped(t float64) float64 {
	if m.r-math.Abs(t) <= atRadius { // past it too
		return math.Copysign(m.r, t)
	}
	return t
}

// segment is the integral of the half chord of an arc.
func (m *motion) segment(t float64) float64 {
	return (t*math.Sqrt((m.r-t)*(m.r+t)) + m.r*m.r*math.Asin(t/m.r)) / 2
}

// lengths is the same of the length of the section for each mm of the distance.
func (m *motion) lengths(off float64, round bool, centre float64) float64 {
	x := off - centre
	if m.r == 0 {
		k := math.Hypot(1, m.slope)
		if !round {
			return k * off
		}
		return k * x * x / 2
	}
	t := m.clamped(off - m.at)
	turn := math.Asin(t / m.r)
	if !round {
		return m.r * turn
	}
	return m.r * ((m.at-centre)*turn - math.Sqrt((m.r-t)*(m.r+t)))
}
