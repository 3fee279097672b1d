// Package plane is the plan geometry of corerod: exact lines and arcs, the profiles drawn with them, the overlay
// of many outlines at once, and what is measured on the result (areas, thickness, inscribed and enclosing circles).
//
// It knows nothing of parts. Lengths are millimetres, angles radians unless a name says degrees, and material lies
// to the left of a boundary. Curves stay lines and arcs from the profile to the last measure: no outline is ever
// turned into chords, so areas and distances are right to rounding. Points within Near of each other are one point.
package plane

import "math"

// Point is a point of the plan, or a vector in it.
type Point struct{ X, Y float64 }

func (p Point) add(q Point) Point              { return Point{p.X + q.X, p.Y + q.Y} }
func (p Point) sub(q Point) Point              { return Point{p.X - q.X, p.Y - q.Y} }
func (p Point) scale(f float64) Point          { return Point{p.X * f, p.Y * f} }
func (p Point) dot(q Point) float64            { return p.X*q.X + p.Y*q.Y }
func (p Point) cross(q Point) float64          { return p.X*q.Y - p.Y*q.X }
func (p Point) size() float64                  { return math.Sqrt(p.dot(p)) } // coordinates are far from overflow
func (p Point) unit() Point                    { return p.scale(1 / p.size()) }
func (p Point) left() Point                    { return Point{-p.Y, p.X} }
func (p Point) mid(q Point) Point              { return Point{(p.X + q.X) / 2, (p.Y + q.Y) / 2} }
func (p Point) Distance(q Point) float64       { return p.sub(q).size() }
func toward(angle float64) Point               { return Point{math.Cos(angle), math.Sin(angle)} }
func (p Point) angle() float64                 { return math.Atan2(p.Y, p.X) }
func (p Point) along(u Point, d float64) Point { return Point{p.X + u.X*d, p.Y + u.Y*d} }

// Curve is a straight line from A to B, or, where R > 0, an arc about C that turns by Sweep radians from A to B,
// counter-clockwise when positive. The zero value is no curve.
type Curve struct {
	A, B, C  Point
	R, Sweep float64
}

// Line returns the line from a to b.
func Line(a, b Point) Curve { return Curve{A: a, B: b} }

// Arc returns the arc about c with radius r from the angle start, turning by sweep.
func Arc(c Point, r, start, sweep float64) Curve {
	return Curve{A: c.along(toward(start), r), B: c.along(toward(start+sweep), r), C: c, R: r, Sweep: sweep}
}

// arcBetween returns the arc about c from a to b: counter-clockwise when ccw, and not a full turn.
func arcBetween(c, a, b Point, r float64, ccw bool) Curve {
	u, v := a.sub(c), b.sub(c)
	s := math.Atan2(u.cross(v), u.dot(v))
	switch {
	case ccw && s <= 0:
		s += 2 * math.Pi
	case !ccw && s >= 0:
		s -= 2 * math.Pi
	}
	return Curve{A: a, B: b, C: c, R: r, Sweep: s}
}

// ArcBetween is the arc about c from a to b: counter-clockwise when ccw, and not a full turn.
func ArcBetween(c, a, b Point, r float64, ccw bool) Curve { return arcBetween(c, a, b, r, ccw) }

// IsArc tells arcs from lines.
func (c *Curve) IsArc() bool { return c.R > 0 }

// Centroid is the centroid of the curve's length.
func (c *Curve) Centroid() Point {
	middle := c.At(0.5)
	half := math.Abs(c.Sweep) / 2
	if !c.IsArc() || half == 0 {
		return middle
	}
	return c.C.add(middle.sub(c.C).scale(math.Sin(half) / half))
}

// Length of the curve.
func (c *Curve) Length() float64 {
	if c.IsArc() {
		return c.R * math.Abs(c.Sweep)
	}
	return c.A.Distance(c.B)
}

// Reversed runs the other way.
func (c *Curve) Reversed() Curve { return Curve{c.B, c.A, c.C, c.R, -c.Sweep} }

// curvature is signed: positive where the curve bends to its left.
func (c *Curve) curvature() float64 {
	if !c.IsArc() {
		return 0
	}
	return math.Copysign(1/c.R, c.Sweep)
}

// At returns the point at fraction t of the curve.
func (c *Curve) At(t float64) Point {
	switch {
	case t == 0:
		return c.A
	case t == 1:
		return c.B
	case c.IsArc():
		return c.C.along(toward(c.A.sub(c.C).angle()+t*c.Sweep), c.R)
	}
	return c.A.along(c.B.sub(c.A), t)
}

// tangent returns the unit direction of travel at a point of the curve.
func (c *Curve) tangent(p Point) Point {
	if !c.IsArc() {
		return c.B.sub(c.A).unit()
	}
	u := p.sub(c.C).unit().left()
	if c.Sweep < 0 {
		return u.scale(-1)
	}
	return u
}

// fraction returns where along the curve the point p (on its line or circle) lies: 0 at A, 1 at B. On an arc,
// points outside the sweep come out below 0 or above 1, whichever end is nearer.
func (c *Curve) fraction(p Point) float64 {
	if !c.IsArc() {
		d := c.B.sub(c.A)
		if d == (Point{}) {
			return 0
		}
		return p.sub(c.A).dot(d) / d.dot(d)
	}
	u, v := c.A.sub(c.C), p.sub(c.C)
	turn := math.Atan2(u.cross(v), u.dot(v))
	sweep := c.Sweep
	if sweep < 0 {
		turn, sweep = -turn, -sweep
	}
	if turn < 0 && turn+2*math.Pi-sweep < -turn { // nearer the far end than the near one, or inside the sweep
		turn += 2 * math.Pi
	}
	return turn / sweep
}

// covers tells whether p, a point of the curve's line or circle, lies between its ends, or within Near of them.
func (c *Curve) covers(p Point) bool {
	if c.IsArc() {
		return c.within(p) || p.Distance(c.A) <= Near || p.Distance(c.B) <= Near
	}
	t := c.fraction(p)
	return t >= 0 && t <= 1 || p.Distance(c.A) <= Near || p.Distance(c.B) <= Near
}

// nearest returns the point of the curve closest to p.
func (c *Curve) nearest(p Point) Point {
	if !c.IsArc() {
		t := c.fraction(p)
		return c.At(math.Min(1, math.Max(0, t)))
	}
	if w := p.sub(c.C); w.size() > directionless {
		q := c.C.along(w.unit(), c.R)
		if c.within(q) {
			return q
		}
	}
	if p.Distance(c.A) <= p.Distance(c.B) {
		return c.A
	}
	return c.B
}

// Distance from a point to the curve, mm.
func (c *Curve) Distance(p Point) float64 {
	if c.IsArc() {
		w := p.sub(c.C)
		d := w.size()
		if d <= directionless {
			return c.R
		}
		if c.within(c.C.along(w, c.R/d)) {
			return math.Abs(d - c.R)
		}
		return math.Min(p.Distance(c.A), p.Distance(c.B))
	}
	return p.Distance(c.nearest(p))
}

// box is an upright rectangle.
type box struct{ lo, hi Point }

func (b box) with(p Point) box {
	return box{Point{min(b.lo.X, p.X), min(b.lo.Y, p.Y)}, Point{max(b.hi.X, p.X), max(b.hi.Y, p.Y)}}
}

func (b box) join(o box) box { return b.with(o.lo).with(o.hi) }

func (b box) meets(o box, slack float64) bool {
	return b.lo.X <= o.hi.X+slack && o.lo.X <= b.hi.X+slack && b.lo.Y <= o.hi.Y+slack && o.lo.Y <= b.hi.Y+slack
}

// distance from a point to the box, 0 inside.
func (b box) distance(p Point) float64 {
	dx := max(0, b.lo.X-p.X, p.X-b.hi.X)
	dy := max(0, b.lo.Y-p.Y, p.Y-b.hi.Y)
	return math.Sqrt(dx*dx + dy*dy)
}

// Bounds are the corners of the smallest upright box round the curve.
func (c *Curve) Bounds() (lo, hi Point) {
	b := c.bounds()
	return b.lo, b.hi
}

// bounds is Bounds as a box.
func (c *Curve) bounds() box {
	b := box{c.A, c.A}.with(c.B)
	if c.IsArc() {
		for _, u := range [4]Point{{1, 0}, {0, 1}, {-1, 0}, {0, -1}} {
			p := c.C.along(u, c.R)
			if c.within(p) {
				b = b.with(p)
			}
		}
	}
	return b
}

// within tells whether a point of an arc's circle lies between its ends, without an arctangent: up to half a turn in the wedge
// of two radii, beyond that not in the wedge of the rest.
func (c *Curve) within(p Point) bool {
	a, b, w := c.A.sub(c.C), c.B.sub(c.C), p.sub(c.C)
	if c.Sweep < 0 {
		a, b = b, a
	}
	after, before := a.cross(w) > 0, w.cross(b) > 0
	sweep := math.Abs(c.Sweep)
	if sweep <= math.Pi {
		return after && before
	}
	return after || before || sweep > 1.5*math.Pi && a.dot(w) < 0 // across from the ends, which may be one point
}

// TurnBetween is the signed turn of direction from the end of one curve to the start of the next, to the left
// positive.
func TurnBetween(in, out *Curve) float64 { return turnAt(in, out) }

// ArcThrough is the arc through three points, and false where they lie on a line.
func ArcThrough(a, b, c Point) (Curve, bool) {
	u, v := b.sub(a), c.sub(a)
	d := 2 * u.cross(v)
	if d*d <= inLine*u.dot(u)*v.dot(v) {
		return Curve{}, false
	}
	m := Point{(v.Y*u.dot(u) - u.Y*v.dot(v)) / d, (u.X*v.dot(v) - v.X*u.dot(u)) / d}
	centre := a.add(m)
	return arcBetween(centre, a, c, m.size(), d > 0), true
}

// Off is the distance of a point from the curve, mm.
func (c *Curve) Off(p Point) float64 { return c.Distance(p) }

// Nearest is the point of the curve closest to p.
func (c *Curve) Nearest(p Point) Point { return c.nearest(p) }

// offset moves the curve's line or circle to its left by d; false where a circle vanishes.
func (c *Curve) offset(d float64) (Curve, bool) {
	if !c.IsArc() {
		n := c.B.sub(c.A).unit().left().scale(d)
		return Line(c.A.add(n), c.B.add(n)), true
	}
	r := c.R - math.Copysign(1, c.Sweep)*d
	if r <= Near {
		return Curve{}, false
	}
	o := *c
	o.R = r
	o.A = c.C.along(c.A.sub(c.C).unit(), r)
	o.B = c.C.along(c.B.sub(c.C).unit(), r)
	return o, true
}

// LeftOf is how far a point lies to the left of the curve's line or circle, below 0 to its right.
func (c *Curve) LeftOf(p Point) float64 {
	if !c.IsArc() {
		return p.sub(c.A).dot(c.B.sub(c.A).unit().left())
	}
	return math.Copysign(1, c.Sweep) * (c.R - p.Distance(c.C))
}

// Offset moves the curve's line or circle to its left by d; false where a circle vanishes.
func (c *Curve) Offset(d float64) (Curve, bool) { return c.offset(d) }

// Covers tells whether a point of the curve's line or circle lies between its ends, or within Near of them.
func (c *Curve) Covers(p Point) bool { return c.covers(p) }

// Foot is the point of the curve's line or circle closest to p.
func (c *Curve) Foot(p Point) Point { return c.foot(p) }

// Tangent is the unit direction of travel at a point of the curve.
func (c *Curve) Tangent(p Point) Point { return c.tangent(p) }

// foot projects a point onto the curve's line or circle.
func (c *Curve) foot(p Point) Point {
	if c.IsArc() {
		return c.C.along(p.sub(c.C).unit(), c.R)
	}
	d := c.B.sub(c.A)
	return c.A.along(d, p.sub(c.A).dot(d)/d.dot(d))
}
