package plane

import "math"

// Enclosing returns the least disc around the curves: a disc through two or three of their far points, found by
// adding the farthest point until none lies outside.
func Enclosing(curves []Curve) Disc {
	var pts []Point
	for k := range 8 {
		_, p := support(curves, toward(float64(k)*math.Pi/4))
		pts = append(pts, p)
	}
	d := discOf(pts)
	for range 1000 {
		far, at := 0.0, Point{}
		for i := range curves {
			p := farthest(&curves[i], d.C)
			if e := p.Distance(d.C); e > far {
				far, at = e, p
			}
		}
		if far <= d.R+outside {
			break
		}
		pts = append(pts, at)
		d = discOf(pts)
	}
	return d
}

// farthest returns the curve's point farthest from p.
func farthest(c *Curve, p Point) Point {
	q := c.A
	if c.B.Distance(p) > q.Distance(p) {
		q = c.B
	}
	if c.IsArc() {
		if w := c.C.sub(p); w.size() > directionless {
			o := c.C.along(w.unit(), c.R)
			if t := c.fraction(o); t > 0 && t < 1 {
				return o
			}
		}
	}
	return q
}

// discOf is the least disc around points, by the incremental construction.
func discOf(pts []Point) Disc {
	d := Disc{C: pts[0]}
	in := func(p Point) bool { return p.Distance(d.C) <= d.R+onDisc*(1+d.R) }
	for i := range pts {
		if in(pts[i]) {
			continue
		}
		d = Disc{C: pts[i]}
		for j := range pts[:i] {
			if in(pts[j]) {
				continue
			}
			d = Disc{pts[i].mid(pts[j]), pts[i].Distance(pts[j]) / 2}
			for k := range pts[:j] {
				if !in(pts[k]) {
					d = circumscribed(pts[i], pts[j], pts[k], d)
				}
			}
		}
	}
	return d
}

// circumscribed is the circle through three points; or, where they are in line, the one it was given.
func circumscribed(a, b, c Point, or Disc) Disc {
	u, v := b.sub(a), c.sub(a)
	det := 2 * u.cross(v)
	if math.Abs(det) < inLineArea {
		return or
	}
	x := (v.Y*u.dot(u) - u.Y*v.dot(v)) / det
	y := (u.X*v.dot(v) - v.X*u.dot(u)) / det
	return Disc{Point{a.X + x, a.Y + y}, math.Hypot(x, y)}
}
