package plane

import (
	"math"
	"slices"
)

// Crossing is one of the points where the lines or circles of two curves cross, which is 0 or 1: that one stays the same while the
// curves move. Nothing is rounded near a tangency; past it the point is the one between them. It is false where there is no such
// point: lines that are parallel or meet in one, circles about one centre.
func Crossing(c, d *Curve, which int) (Point, bool) {
	sign := float64(2*which - 1)
	switch {
	case !c.IsArc() && !d.IsArc():
		ps := linesMeet(c, d)
		if which > 0 || len(ps) == 0 {
			return Point{}, false
		}
		return ps[0], true
	case !c.IsArc():
		u := c.B.sub(c.A).unit()
		foot := c.A.along(u, d.C.sub(c.A).dot(u))
		h := foot.Distance(d.C)
		if d.R-h <= tangentGap {
			return foot, true
		}
		return foot.along(u, sign*math.Sqrt((d.R-h)*(d.R+h))), true
	case !d.IsArc():
		return Crossing(d, c, which)
	}
	w := d.C.sub(c.C)
	apart := w.size()
	if apart <= Near {
		return Point{}, false
	}
	u := w.scale(1 / apart)
	x := (apart + (c.R-d.R)*(c.R+d.R)/apart) / 2
	y := 0.0 // by the sides of the triangle, so that rounding does not part the two points of a tangency
	if in, out := c.R+d.R-apart, apart-math.Abs(c.R-d.R); in > tangentGap && out > tangentGap {
		y = math.Sqrt((c.R+d.R+apart)*in*(apart+c.R-d.R)*(apart-c.R+d.R)) / (2 * apart)
	}
	return c.C.along(u, x).along(u.left(), -sign*y), true
}

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
func meetings(c, d *Curve) []Point { return appendMeetings(nil, c, d) }

// appendMeetings appends them to other points.
func appendMeetings(ps []Point, c, d *Curve) []Point {
	was := len(ps)
	for _, p := range [2]Point{c.A, c.B} {
		if d.Distance(p) <= Near {
			ps = append(ps, p)
		}
	}
	for _, p := range [2]Point{d.A, d.B} {
		if c.Distance(p) <= Near {
			ps = append(ps, p)
		}
	}
	if !c.IsArc() && !d.IsArc() && apart(ps[was:]) {
		return ps // on one line: where a short one crosses the other is rounding
	}
	for _, p := range carriersMeet(c, d) {
		if c.covers(p) && d.covers(p) {
			ps = append(ps, p)
		}
	}
	return ps
}

// apart tells whether some points are more than one place.
func apart(ps []Point) bool {
	for i := range ps {
		if ps[i].Distance(ps[0]) > 2*Near {
			return true
		}
	}
	return false
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
