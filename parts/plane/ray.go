package plane

import (
	"math"
	"slices"
)

// Meetings lists where a straight line meets outlines, as distances from its start, mm, in order and each once.
func Meetings(line Curve, loops []Loop) (at []float64) {
	u := line.B.sub(line.A).unit()
	for _, l := range loops {
		for i := range l {
			for _, p := range meetings(&line, &l[i]) {
				at = append(at, p.sub(line.A).dot(u))
			}
		}
	}
	slices.Sort(at)
	return slices.CompactFunc(at, func(a, b float64) bool { return math.Abs(a-b) <= Near })
}

// Holds tells whether a point that lies on no curve of the loop is inside it.
func (l Loop) Holds(p Point) bool { return l.winds(p) != 0 }

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
func (c *Curve) Off(p Point) float64 { return c.distance(p) }

// Nearest is the point of the curve closest to p.
func (c *Curve) Nearest(p Point) Point { return c.nearest(p) }
