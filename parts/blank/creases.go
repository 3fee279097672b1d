package blank

import (
	"math"
	"slices"

	"corerod/parts/plane"
)

// Crease is an edge in space, or a point, in which faces of the part meet at a sharp angle: a ridge or rim of the material, or of the
// tool that forms a valley.
type Crease struct {
	Features  []int
	Side      string        // the end of the part that it is on
	Tool      bool          // it is the tool that is sharp
	Angle     float64       // between the faces, in the plane across, degrees
	At        plane.Point   // of the overlay, where it is sharpest
	Low, High float64       // mm
	Along     []plane.Curve // of the overlay: its pieces; a point has none
	wedge     bool          // both ends of the part meet there: it is on either side, and told from above
}

// rises is how much an edge of two walls rises, mm for each mm, from which it is a corner of the sections, whose tip tells it.
const rises = 0.1

// sharpest is the angle from which an edge is none, degrees.
const sharpest = 90

// Creases are the ridges, rims of no width and points of the part's ends that are sharper than a right angle. A rim between a flat and
// a steep wall is none, however the wall leans.
func (s *Shape) Creases() (all []Crease) {
	if !s.hasSlopes() {
		return nil
	}
	for _, side := range []string{"bottom", "top"} {
		for i := range s.overlay.Edges {
			all = append(all, s.creasesAlong(i, side)...)
		}
	}
	all = joinCreases(all)
	for _, side := range []string{"bottom", "top"} {
		all = append(all, s.points(side)...)
	}
	return all
}

// crease is what lies at a share of an edge.
type crease struct {
	at, angle float64
	tool      bool
	features  []int
	z         float64
	rises     float64 // of the upper end along the edge, mm for each mm
}

// is tells whether the angle there is sharp.
func (c *crease) is() bool { return c.angle < sharpest-atSharpest } // not where a slope stands upright and has no direction

// creasesAlong are those along an edge on a side: each goes on as long as it is sharp.
func (s *Shape) creasesAlong(edge int, side string) (all []Crease) {
	e := &s.overlay.Edges[edge]
	if e.Left == e.Right || !s.endsOnSlope(e.Left) && !s.endsOnSlope(e.Right) {
		return nil
	}
	if s.HasMaterial(e.Left) && s.HasMaterial(e.Right) && s.end(e.Left, side).flat() && s.end(e.Right, side).flat() {
		return nil
	}
	looks := 8
	if e.Curve.IsArc() && math.Abs(e.Curve.Sweep) < shortSweep || s.onPlanes(e) {
		looks = 2 // all that happens on a piece of a curve that was fitted, and more than happens where nothing is curved
	}
	end := math.Min(atEnd, besideEnd/e.Curve.Length())
	at := func(share float64) crease { return s.creaseAt(edge, share, side) }
	var on []crease
	for k := range looks + 1 {
		next := at(end + (1-2*end)*float64(k)/float64(looks))
		if k > 0 {
			on = append(on, between(at, on[len(on)-1], next)...)
		}
		on = append(on, next)
	}
	for i := 0; i < len(on); {
		n := i
		for n < len(on) && on[n].is() {
			n++
		}
		if n > i && (on[n-1].at-on[i].at)*e.Curve.Length() > snap { // else three faces nearly meet in a point
			all = append(all, s.sharpestOf(e, side, at, on[i:n]))
		}
		i = n + 1
	}
	return all
}

// onPlanes tells whether an edge is straight and its cells end on planes.
func (s *Shape) onPlanes(e *plane.Edge) bool {
	for _, c := range [2]int{e.Left, e.Right} {
		if s.HasMaterial(c) && !(s.isPlane(s.end(c, "top")) && s.isPlane(s.end(c, "bottom"))) {
			return false
		}
	}
	return !e.Curve.IsArc()
}

// between is what else is looked at between two places of an edge: where a crease begins or ends, and where the edge is level between two
// places without one.
func between(at func(share float64) crease, a, b crease) (on []crease) {
	switch {
	case a.is() != b.is():
		from, to := parted(at, a, b, func(m crease) bool { return m.is() == a.is() })
		return []crease{from, to}
	case !a.is() && a.rises*b.rises < 0:
		_, level := parted(at, a, b, func(m crease) bool { return m.rises*a.rises > 0 })
		if level.is() {
			on = append(between(at, a, level), level)
			return append(on, between(at, level, b)...)
		}
	}
	return nil
}

// parted are the last place that is as a is, on the way from there to another, and the first that is not.
func parted(at func(share float64) crease, a, b crease, same func(m crease) bool) (last, first crease) {
	for range 60 {
		if m := at(mid(a.at, b.at)); same(m) {
			a = m
		} else {
			b = m
		}
	}
	return a, b
}

// sharpestOf is the crease of some places of an edge, in order, that are looked at.
func (s *Shape) sharpestOf(e *plane.Edge, side string, at func(share float64) crease, on []crease) Crease {
	least := 0
	x := Crease{Side: side, Low: math.Inf(1), High: math.Inf(-1)}
	for i, c := range on {
		if c.angle < on[least].angle-atSharpest {
			least = i
		}
		x.Low, x.High = math.Min(x.Low, c.z), math.Max(x.High, c.z)
	}
	best := on[least]
	if a, b := on[max(0, least-1)], on[min(len(on)-1, least+1)]; math.Max(a.angle, b.angle) > best.angle+atSharpest {
		if t, angle := LeastBeside(func(t float64) float64 { return at(t).angle }, a.at, b.at); angle < best.angle {
			best = at(t)
		}
	}
	x.Angle, x.Tool, x.Features, x.At = best.angle, best.tool, best.features, e.Curve.At(best.at)
	from, to := on[0].at, on[len(on)-1].at
	if from <= atEnd {
		from = 0
	}
	if to >= 1-atEnd {
		to = 1
	}
	x.Along = []plane.Curve{part(e.Curve, from, to)}
	if c := e.Left; s.HasMaterial(e.Left) != s.HasMaterial(e.Right) {
		if !s.HasMaterial(c) {
			c = e.Right
		}
		x.wedge = s.meet(s.end(c, "top"), s.end(c, "bottom"), x.At)
	}
	return x
}

// part is what of a curve lies between two shares of it.
func part(c plane.Curve, from, to float64) plane.Curve {
	out := plane.Curve{A: c.A, B: c.B, C: c.C, R: c.R, Sweep: c.Sweep * (to - from)}
	if from > 0 {
		out.A = c.At(from)
	}
	if to < 1 {
		out.B = c.At(to)
	}
	return out
}

// endsOnSlope tells whether a cell has material that ends on a slope on either side.
func (s *Shape) endsOnSlope(c int) bool {
	return s.HasMaterial(c) && !(s.end(c, "top").flat() && s.end(c, "bottom").flat())
}

// creaseAt is what lies at a share of an edge on a side.
func (s *Shape) creaseAt(edge int, share float64, side string) crease {
	e := &s.overlay.Edges[edge]
	p := e.Curve.At(share)
	x := crease{at: share}
	x.angle, x.tool, x.features, x.z = s.angleAt(edge, p, side)
	t, most := e.Curve.Tangent(p), math.Inf(-1)
	for _, c := range [2]int{e.Left, e.Right} {
		if !s.HasMaterial(c) {
			continue
		}
		f := s.end(c, side)
		if z := Outward(side, s.heightOver(f, p), 0); z > most {
			g := s.gradient(f, p)
			most, x.rises = z, g.X*t.X+g.Y*t.Y
		}
	}
	return x
}

// slant is how one end of a cell lies at a point of an edge of it.
type slant struct {
	surface
	left   bool       // the cell is to the left of the edge
	z      float64    // as if every end were an upper one
	normal [3]float64 // out of the material, as if every end were an upper one
	falls  bool       // it falls away from the edge
}

// slantOf is that of what ends a cell on a side.
func (s *Shape) slantOf(left bool, t, p plane.Point, side string, f surface) slant {
	sign := 1.0
	if side == "bottom" {
		sign = -1
	}
	n := plane.Point{X: -t.Y, Y: t.X}
	if !left {
		n = plane.Point{X: t.Y, Y: -t.X}
	}
	g := s.gradient(f, p)
	h := math.Sqrt(1 + g.X*g.X + g.Y*g.Y)
	return slant{f, left, sign * s.heightOver(f, p), [3]float64{-sign * g.X / h, -sign * g.Y / h, 1 / h}, sign*(g.X*n.X+g.Y*n.Y) < 0}
}

// betweenNormals is the angle between two directions of length 1, degrees.
func betweenNormals(a, b [3]float64) float64 {
	dot, cross := 0.0, [3]float64{a[1]*b[2] - a[2]*b[1], a[2]*b[0] - a[0]*b[2], a[0]*b[1] - a[1]*b[0]}
	for i := range a {
		dot += a[i] * b[i]
	}
	return math.Atan2(math.Hypot(math.Hypot(cross[0], cross[1]), cross[2]), dot) * 180 / math.Pi
}

// angleAt is the angle between the faces that meet in a point of an edge on a side, of the tool or of the material.
func (s *Shape) angleAt(edge int, p plane.Point, side string) (angle float64, tool bool, features []int, z float64) {
	e := &s.overlay.Edges[edge]
	t := e.Curve.Tangent(p)
	var all []slant
	for k, c := range [2]int{e.Left, e.Right} {
		if s.HasMaterial(c) {
			all = append(all, s.slantOf(k == 0, t, p, side, s.end(c, side)))
		}
	}
	if len(all) == 2 && s.meet(all[0].surface, all[1].surface, p) {
		l, r := &all[0], &all[1]
		if l.flat() || r.flat() {
			return sharpest, false, nil, 0
		}
		g, walls := s.gradient(l.surface, p), s.walls[l.wall].lean() <= MostWall && s.walls[r.wall].lean() <= MostWall
		if walls && math.Abs(g.X*t.X+g.Y*t.Y) > rises {
			return sharpest, false, nil, 0
		}
		// A valley where the outer of both faces, seen from the edge, rises over the other: its normals lean towards each other.
		n := plane.Point{X: -t.Y, Y: t.X}
		valley := (l.normal[0]-r.normal[0])*n.X+(l.normal[1]-r.normal[1])*n.Y < 0
		features = []int{s.walls[l.wall].feature, s.walls[r.wall].feature}
		return 180 - betweenNormals(l.normal, r.normal), valley, features, s.heightOver(l.surface, p)
	}
	if s.blurred(e) {
		return sharpest, false, nil, 0
	}
	angle, features, z = s.rimAt(edge, all, t, p, side)
	return angle, false, features, z
}

// rimAt is the angle of the rim in a point of an edge whose two sides do not meet there, between the outer of them and the wall over the
// edge.
func (s *Shape) rimAt(edge int, all []slant, t, p plane.Point, side string) (angle float64, features []int, z float64) {
	e := &s.overlay.Edges[edge]
	l := &all[0]
	if len(all) == 2 && all[1].z > l.z {
		l = &all[1]
	}
	in, out := e.Left, e.Right
	if !l.left {
		in, out = out, in
	}
	if len(all) == 1 {
		if angle, features, meets := s.wedge(in, l, t, p, side); meets {
			return angle, features, s.heightOver(l.surface, p)
		}
	}
	if l.flat() {
		return sharpest, nil, 0
	}
	g := s.gradient(l.surface, p)
	along := math.Abs(g.X*t.X + g.Y*t.Y)
	if along > rises && s.walls[l.wall].lean() <= MostWall {
		return sharpest, nil, 0 // a corner of the sections
	}
	if !l.falls {
		return sharpest, nil, 0
	}
	wall := [3]float64{t.Y, -t.X, 0} // away from the cell
	if !l.left {
		wall = [3]float64{-t.Y, t.X, 0}
	}
	features = s.withWall([]int{s.walls[l.wall].feature}, edge, in, out, s.heightOver(l.surface, p))
	return 180 - betweenNormals(l.normal, wall), features, s.heightOver(l.surface, p)
}

// blurred tells whether the two sides of an edge are at another height than they are drawn: beside a thin cell, which ends on the slope of
// the neighbour that it joined.
func (s *Shape) blurred(e *plane.Edge) bool {
	joined := func(c int) bool { return s.overlay.Cells[c].Drawn != nil }
	return joined(e.Left) || joined(e.Right)
}

// meet tells whether two surfaces meet over a point of an edge, which is right to FitError: on a steep slope that is more in height.
func (s *Shape) meet(a, b surface, p plane.Point) bool {
	g, h := s.gradient(a, p), s.gradient(b, p)
	slack := SameHeight + plane.FitError*(math.Hypot(g.X, g.Y)+math.Hypot(h.X, h.Y))
	return math.Abs(s.heightOver(a, p)-s.heightOver(b, p)) <= slack
}

// wedge is the angle between the two ends of a cell, where they meet in a point of its edge; it is that of no edge where both are walls
// or flats, and told once, from above.
func (s *Shape) wedge(c int, l *slant, t, p plane.Point, side string) (angle float64, features []int, meets bool) {
	other := map[string]string{"top": "bottom", "bottom": "top"}[side]
	f := s.end(c, other)
	if !s.meet(l.surface, f, p) {
		return 0, nil, false
	}
	faces := false // one of the two leans as a face does
	for _, x := range [2]surface{l.surface, f} {
		if !x.flat() {
			faces = faces || s.walls[x.wall].lean() > MostWall
			features = append(features, s.walls[x.wall].feature)
		}
	}
	if side == "bottom" || !faces {
		return sharpest, nil, true
	}
	under := s.slantOf(l.left, t, p, side, f).normal
	return 180 - betweenNormals(l.normal, [3]float64{-under[0], -under[1], -under[2]}), features, true
}

// withWall adds the feature that makes the wall over an edge, nearest to a height, to those of a rim.
func (s *Shape) withWall(features []int, edge, in, out int, z float64) []int {
	own, least := -1, math.Inf(1)
	for k := range s.slabs {
		if s.cells[in].solid[k] && !s.cells[out].solid[k] {
			if d := math.Abs(mid(s.heights[k], s.heights[k+1]) - z); d < least {
				own, least = s.outlines[s.Owner(k, edge, in, out)].feature, d
			}
		}
	}
	if own >= 0 && !slices.Contains(features, own) {
		return append(features, own)
	}
	return features
}

// gradient is how a surface rises in plan, mm for each mm.
func (s *Shape) gradient(f surface, p plane.Point) plane.Point {
	if f.flat() {
		return plane.Point{}
	}
	w := &s.walls[f.wall]
	side := &w.drawn[f.side]
	if m := w.moves[f.side]; m.turns {
		c, sign := turning(w.drawn, f.side)
		x, y := p.X-c.X, p.Y-c.Y
		k := sign * m.slope / (x*x + y*y)
		return plane.Point{X: -y * k, Y: x * k}
	}
	t := side.Tangent(p)
	rate := w.moves[f.side].rate(w.moves[f.side].up(side.LeftOf(p)))
	return plane.Point{X: -t.Y / rate, Y: t.X / rate}
}

// joinCreases makes one of creases along edges that follow each other, whatever features make them.
func joinCreases(on []Crease) (out []Crease) {
	u := plane.NewUnion(len(on))
	for i := range on {
		for j := range i {
			a, b := on[i].Along[0], on[j].Along[0]
			meet := a.A.Distance(b.A) <= snap || a.A.Distance(b.B) <= snap || a.B.Distance(b.A) <= snap || a.B.Distance(b.B) <= snap
			if meet && on[i].Tool == on[j].Tool && (on[i].Side == on[j].Side || on[i].wedge || on[j].wedge) {
				u.Join(i, j)
			}
		}
	}
	for _, g := range u.Groups(nil) {
		x := on[g[0]]
		for _, i := range g[1:] {
			if on[i].Angle < x.Angle-atSharpest {
				x.Angle, x.At, x.Side = on[i].Angle, on[i].At, on[i].Side
			}
			for _, f := range on[i].Features {
				if !slices.Contains(x.Features, f) {
					x.Features = append(slices.Clone(x.Features), f)
				}
			}
			x.Low, x.High, x.Along = math.Min(x.Low, on[i].Low), math.Max(x.High, on[i].High), append(x.Along, on[i].Along...)
		}
		out = append(out, x)
	}
	return out
}

// points are the sharp points of cones on a side.
func (s *Shape) points(side string) (all []Crease) {
	for i := range s.walls {
		w := &s.walls[i]
		if !w.ring || len(w.moves) != 2 {
			continue
		}
		for end, u := range [2]float64{w.lo, w.hi} {
			angle := 2 * math.Atan(math.Abs(w.moves[0].rate(u))) * 180 / math.Pi
			if !w.tip[end] || math.IsNaN(angle) || angle >= sharpest-atSharpest {
				continue
			}
			c := w.drawn[0].C
			z := w.base + u
			for n := range s.cells {
				if !s.HasMaterial(n) {
					continue
				}
				f := s.end(n, side)
				if f.wall != i {
					continue
				}
				curves := plane.Loop(s.around(n))
				touches := slices.ContainsFunc(curves, func(e plane.Curve) bool { return e.Off(c) <= plane.Near })
				if !touches && !curves.Holds(c) {
					continue
				}
				all = append(all, Crease{Features: []int{w.feature}, Side: side, Tool: w.feature >= s.bodies, Angle: angle, At: c,
					Low: z, High: z, Along: []plane.Curve{plane.Line(c, c)}})
				break
			}
		}
	}
	return all
}
