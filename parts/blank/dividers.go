package blank

import (
	"math"

	"corerod/parts/plane"
)

// dividers are the lines in plan between the sides of a slope, from one height to another: where corners go. At a tip they end in
// the lines in which sides come together.
func (w *wall) dividers(low, high float64) (cs []plane.Curve) {
	if !w.sloped() {
		return nil
	}
	a, b := w.over(low), w.over(high)
	if w.ring || w.bar {
		return w.tipLines(a, b)
	}
	n := len(w.drawn)
	off := w.moves[0].off
	for i := range w.drawn {
		in, out := &w.drawn[(i+n-1)%n], &w.drawn[i]
		p, q := w.drawn.JointAt(i, off(a)), w.drawn.JointAt(i, off(b))
		if !in.IsArc() && !out.IsArc() || math.Abs(plane.TurnBetween(in, out)) <= tangent {
			if p.Distance(q) > plane.Near {
				cs = append(cs, plane.Line(p, q))
			}
			continue
		}
		cs = append(cs, plane.Fit(func(d float64) (plane.Point, plane.Point) {
			at := w.drawn.JointAt(i, d)
			c, _ := in.Offset(d)
			e, _ := out.Offset(d)
			return at, crossingDirection(c.Tangent(at), 1, e.Tangent(at), 1, plane.Point{X: q.X - p.X, Y: q.Y - p.Y})
		}, off(a), off(b), plane.FitError)...)
	}
	for end, u := range [2]float64{a, b} {
		if !w.tip[end] || u != [2]float64{w.lo, w.hi}[end] {
			continue
		}
		for i := range w.drawn {
			p, q := w.drawn.JointAt(i, off(u)), w.drawn.JointAt((i+1)%n, off(u))
			if p.Distance(q) > plane.Near {
				cs = append(cs, plane.Line(p, q))
			}
		}
	}
	return cs
}

// tipLines are those in which the sides of a ring or a bar come together at a tip between two heights.
func (w *wall) tipLines(low, high float64) (cs []plane.Curve) {
	for end, u := range [2]float64{low, high} {
		if !w.tip[end] || u != [2]float64{w.lo, w.hi}[end] {
			continue
		}
		sides := []int{0} // of a bar one line, of a ring the two halves of a circle
		if w.ring && len(w.drawn) > 1 {
			sides = []int{0, 1}
		} else if w.bar && !w.goes(0) {
			sides = []int{2}
		}
		for _, i := range sides {
			if c, ok := w.moved(w.drawn, i, w.moves[i].off(u)); ok {
				cs = append(cs, c)
			}
		}
	}
	return cs
}

// crossingDirection is the direction, more along a vector than against it, in which two sides cross that run along tangents and
// move to their left at rates: their heights change alike along it.
func crossingDirection(t plane.Point, rate float64, u plane.Point, other float64, along plane.Point) plane.Point {
	// Left of a tangent t is (-t.Y, t.X), and the height of a side changes by left / rate; what is square to the difference is
	// t / rate - u / other, here times both.
	d := plane.Point{X: t.X*other - u.X*rate, Y: t.Y*other - u.Y*rate}
	if math.Hypot(d.X, d.Y) <= leastRun*(math.Abs(rate)+math.Abs(other)) {
		d = t
	}
	if d.X*along.X+d.Y*along.Y < 0 {
		d = plane.Point{X: -d.X, Y: -d.Y}
	}
	h := math.Hypot(d.X, d.Y)
	return plane.Point{X: d.X / h, Y: d.Y / h}
}

// traces are the lines in plan in which the slopes of two walls of some features cross between two stations.
func (s *Shape) traces(low, high float64, in func(feature int) bool) (cs []plane.Curve) {
	var all []*wall
	for i := range s.walls {
		if w := &s.walls[i]; in(w.feature) && w.slopes(low, high) {
			all = append(all, w)
		}
	}
	for i, a := range all {
		for _, b := range all[:i] {
			cs = append(cs, crossings(a, b, low, high)...)
		}
	}
	return cs
}

// crossings are the traces of two walls.
func crossings(a, b *wall, low, high float64) (cs []plane.Curve) {
	z := mid(low, high)
	for i := range a.drawn {
		c, ok := a.sideAt(i, z)
		if !ok {
			continue
		}
		box := boxOf(c)
		for j := range b.drawn {
			d, ok := b.sideAt(j, z)
			if !ok || apartBy(box, boxOf(d), plane.Near) || grazes(&c, &d) {
				continue
			}
			for which := range 2 {
				if p, ok := plane.Crossing(&c, &d, which); ok && c.Covers(p) && d.Covers(p) && c.Off(p)+d.Off(p) <= plane.Near {
					cs = append(cs, trace(a, b, i, j, which, low, high)...)
				}
			}
		}
	}
	return cs
}

// grazes tells whether two sides touch without crossing, as cones do whose slopes have a line in common.
func grazes(c, d *plane.Curve) bool {
	if !c.IsArc() && !d.IsArc() {
		return false
	}
	for _, f := range touches[:2] {
		if off, ok := f.apart(c, d); ok && math.Abs(off) <= coincident {
			return true
		}
	}
	return false
}

func boxOf(c plane.Curve) [2]plane.Point {
	lo, hi := (plane.Loop{c}).Bounds()
	return [2]plane.Point{lo, hi}
}

// trace follows one of the points in which two sides meet from one station to the next.
func trace(a, b *wall, i, j, which int, low, high float64) []plane.Curve {
	at := func(z float64) (p plane.Point, c, d plane.Curve) {
		c, _ = a.moved(a.drawn, i, a.moves[i].off(z-a.base)) // not rounded to a station nearby: the point moves fast there
		d, _ = b.moved(b.drawn, j, b.moves[j].off(z-b.base))
		p, _ = plane.Crossing(&c, &d, which)
		return p, c, d
	}
	height := func(t float64) float64 { // closer together at the ends, where the point moves without bound
		return low + (high-low)*(1-math.Cos(math.Pi*t))/2
	}
	return plane.Fit(func(t float64) (plane.Point, plane.Point) {
		p, c, d := at(height(t))
		before, _, _ := at(height(math.Max(0, t-traceStep)))
		after, _, _ := at(height(math.Min(1, t+traceStep)))
		along := plane.Point{X: after.X - before.X, Y: after.Y - before.Y}
		u, v := height(t)-a.base, height(t)-b.base
		r, q := a.rateAt(i, u, p), b.rateAt(j, v, p)
		if math.IsInf(r, 0) || math.IsInf(q, 0) || math.IsNaN(r) || math.IsNaN(q) {
			h := math.Hypot(along.X, along.Y)
			return p, plane.Point{X: along.X / h, Y: along.Y / h}
		}
		return p, crossingDirection(c.Tangent(p), r, d.Tangent(p), q, along)
	}, 0, 1, plane.FitError)
}
