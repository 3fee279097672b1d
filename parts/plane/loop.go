package plane

import "math"

// Loop is a closed chain of curves, each beginning where the one before ends.
type Loop []Curve

// Reversed runs the other way round.
func (l Loop) Reversed() Loop {
	r := make(Loop, len(l))
	for i := range l {
		r[len(l)-1-i] = l[i].Reversed()
	}
	return r
}

// bounds returns the box around the loop.
func (l Loop) bounds() box {
	b := l[0].bounds()
	for i := range l[1:] {
		b = b.join(l[i+1].bounds())
	}
	return b
}

// Bounds returns the corners of the upright rectangle around the loop.
func (l Loop) Bounds() (lo, hi Point) {
	b := l.bounds()
	return b.lo, b.hi
}

// Length of the loop.
func (l Loop) Length() (d float64) {
	for i := range l {
		d += l[i].Length()
	}
	return d
}

// Nearest is the curve of a loop that comes nearest to a point, and where.
func (l Loop) Nearest(p Point) (curve int, at Point) {
	least := math.Inf(1)
	for i := range l {
		if q := l[i].nearest(p); q.Distance(p) < least {
			curve, at, least = i, q, q.Distance(p)
		}
	}
	return curve, at
}

// winds tells how often the loop runs round p, counter-clockwise positive. The point lies on no curve of it.
func (l Loop) winds(p Point) int {
	turn := 0.0
	for i := range l {
		turn += l[i].turnRound(p)
	}
	return int(math.Round(turn / (2 * math.Pi)))
}

// turnRound is the angle by which the curve turns about a point that it does not meet.
func (c *Curve) turnRound(p Point) float64 {
	u, v := c.A.sub(p), c.B.sub(p)
	side := u.cross(v) + 0 // + 0: no negative zero, so that a point on the chord counts as left of it
	turn := math.Atan2(side, u.dot(v))
	switch {
	case !c.IsArc() || p.Distance(c.C) >= c.R:
	case math.Abs(c.Sweep) > fullTurn:
		return math.Copysign(2*math.Pi, c.Sweep)
	case c.Sweep > 0 && side < 0: // between chord and arc, which lies right of the chord
		turn += 2 * math.Pi
	case c.Sweep < 0 && side >= 0:
		turn -= 2 * math.Pi
	}
	return turn
}

// Holds tells whether a point that lies on no curve of the loop is inside it.
func (l Loop) Holds(p Point) bool { return l.winds(p) != 0 }

// Meets tells whether two outlines touch or cross.
func (l Loop) Meets(o Loop) bool {
	for i := range l {
		for j := range o {
			if l[i].bounds().meets(o[j].bounds(), Near) && len(meetings(&l[i], &o[j])) > 0 {
				return true
			}
		}
	}
	return false
}

// Moved returns the loop turned by degrees about a point and then shifted by d.
func (l Loop) Moved(about Point, degrees float64, d Point) Loop {
	move := func(p Point) Point { return about.add(turned(p.sub(about), degrees)).add(d) }
	m := make(Loop, len(l))
	for i, c := range l {
		m[i] = Curve{A: move(c.A), B: move(c.B), R: c.R, Sweep: c.Sweep}
		if c.IsArc() {
			m[i].C = move(c.C)
		}
	}
	return m
}

// crossing finds a point where the loop crosses or touches itself, other than where neighbours join.
func (l Loop) crossing() (Point, bool) {
	n := len(l)
	for _, pair := range closePairs(n, func(i int) box { return l[i].bounds() }) {
		i, j := pair[0], pair[1]
		c, d := &l[i], &l[j]
		for _, p := range meetings(c, d) {
			joint := (i+1)%n == j && p.Distance(c.B) <= 2*Near || (j+1)%n == i && p.Distance(d.B) <= 2*Near
			if !joint {
				return p, true
			}
		}
	}
	return Point{}, false
}
