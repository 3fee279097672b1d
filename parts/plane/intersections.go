package plane

import (
	"math"
	"slices"
)

// carriersMeet returns the points where the lines or circles of two curves meet, in closed form. Carriers that are
// the same line or circle, or parallel, meet in none.
func carriersMeet(c, d *Curve) []Point {
	switch {
	case !c.IsArc() && !d.IsArc():
		return linesMeet(c, d)
	case !c.IsArc():
		return lineMeetsCircle(c, d)
	case !d.IsArc():
		return lineMeetsCircle(d, c)
	}
	return circlesMeet(c.C, d.C, c.R, d.R)
}

func linesMeet(c, d *Curve) []Point {
	u, v := c.B.sub(c.A), d.B.sub(d.A)
	den := u.cross(v)
	if math.Abs(den) < neverMeet*u.size()*v.size() {
		return nil
	}
	return []Point{c.A.along(u, d.A.sub(c.A).cross(v)/den)}
}

func lineMeetsCircle(l, c *Curve) []Point {
	u := l.B.sub(l.A).unit()
	foot := l.A.along(u, c.C.sub(l.A).dot(u))
	h := foot.Distance(c.C)
	switch {
	case h > c.R+touching:
		return nil
	case h >= c.R-touching:
		return []Point{foot}
	}
	s := math.Sqrt((c.R - h) * (c.R + h))
	return []Point{foot.along(u, -s), foot.along(u, s)}
}

func circlesMeet(a, b Point, r, s float64) []Point {
	w := b.sub(a)
	apart := w.size()
	if apart < touching || apart > r+s+touching || apart < math.Abs(r-s)-touching {
		return nil
	}
	u := w.scale(1 / apart)
	x := (apart + (r-s)*(r+s)/apart) / 2 // from a, along u
	if apart >= r+s-touching || apart <= math.Abs(r-s)+touching {
		return []Point{a.along(u, math.Copysign(r, x))}
	}
	y := math.Sqrt(math.Max(0, (r-x)*(r+x)))
	f := a.along(u, x)
	return []Point{f.along(u.left(), y), f.along(u.left(), -y)}
}

// meetings returns the points that both curves share, tangencies and common end points included. Where the two
// run on one line or circle these are the end points of each that lie on the other.
func meetings(c, d *Curve) []Point {
	var ps []Point
	for _, p := range carriersMeet(c, d) {
		if c.covers(p) && d.covers(p) {
			ps = append(ps, p)
		}
	}
	for _, p := range [2]Point{c.A, c.B} {
		if d.distance(p) <= Near {
			ps = append(ps, p)
		}
	}
	for _, p := range [2]Point{d.A, d.B} {
		if c.distance(p) <= Near {
			ps = append(ps, p)
		}
	}
	return ps
}

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
