package plane

import (
	"math"
	"slices"
)

// support returns how far the curves reach in direction u, and the point that does.
func support(curves []Curve, u Point) (float64, Point) {
	most, at := math.Inf(-1), Point{}
	for i := range curves {
		c := &curves[i]
		p := c.A
		if c.B.dot(u) > p.dot(u) {
			p = c.B
		}
		if c.IsArc() {
			q := c.C.along(u, c.R)
			if t := c.fraction(q); t > 0 && t < 1 {
				p = q
			}
		}
		if d := p.dot(u); d > most {
			most, at = d, p
		}
	}
	return most, at
}

// Width returns the least distance between parallel lines that hold the curves between them, the extent of the
// curves along those lines, and the direction across. Of several directions of one width it takes the longest.
//
// The distance between supporting lines, as their direction turns, is least either where one of them lies on two
// points or tangent pieces at once, or between two arcs whose centres line up across it. The first kind are the
// directions at which the supporting piece changes; they are found by dividing the half turn until each stretch
// has one supporting piece on each side.
func Width(curves []Curve) (width, length float64, across Point) {
	width = math.Inf(1)
	extent := func(u Point) float64 {
		hi, _ := support(curves, u)
		lo, _ := support(curves, u.scale(-1))
		return hi + lo
	}
	try := func(u Point) {
		const same = 1e-10
		if w := extent(u); w < width-same {
			width, across, length = w, u, extent(u.left())
		} else if l := extent(u.left()); w <= width+same && l > length {
			width, across, length = math.Min(w, width), u, l
		}
	}
	hull := hullOf(curves)
	for i, p := range hull {
		q := hull[(i+1)%len(hull)]
		if u, ok := commonTangent(p, q); ok {
			try(u)
		}
		try(p.from)
		for _, o := range hull { // opposite arcs: least across the line of their centres
			if w := o.disc.C.sub(p.disc.C); p.disc.R > 0 && o.disc.R > 0 && w.size() > Near {
				try(w.unit())
				try(w.unit().left())
			}
		}
	}
	return width, length, across
}

// hullPiece is a vertex (R = 0) or arc on the convex hull, which supports it from the direction from on.
type hullPiece struct {
	disc Disc
	from Point
}

// hullOf returns the pieces of the convex hull, counter-clockwise.
func hullOf(curves []Curve) []hullPiece {
	const parts = 64
	pieceAt := func(angle float64) hullPiece {
		u := toward(angle)
		most, _ := support(curves, u)
		best := hullPiece{}
		for i := range curves {
			c := &curves[i]
			if c.IsArc() {
				q := c.C.along(u, c.R)
				if t := c.fraction(q); t > 0 && t < 1 && q.dot(u) >= most-1e-11 {
					return hullPiece{Disc{c.C, c.R}, u}
				}
			}
			for _, p := range [2]Point{c.A, c.B} {
				if p.dot(u) >= most-1e-11 {
					best = hullPiece{Disc{p, 0}, u}
				}
			}
		}
		return best
	}
	same := func(a, b hullPiece) bool {
		return a.disc.C.Distance(b.disc.C) <= Near && math.Abs(a.disc.R-b.disc.R) <= Near
	}
	var out []hullPiece
	var divide func(lo, hi float64, a, b hullPiece)
	divide = func(lo, hi float64, a, b hullPiece) {
		if same(a, b) || hi-lo < 1e-13 {
			return
		}
		mid := (lo + hi) / 2
		if u, ok := commonTangent(a, b); ok { // the very direction, when it lies between: no piece in between beats both
			t := u.angle()
			t += 2 * math.Pi * math.Round((mid-t)/(2*math.Pi))
			most, _ := support(curves, u)
			if t >= lo && t <= hi && most <= a.disc.C.dot(u)+a.disc.R+1e-11 {
				out = append(out, hullPiece{b.disc, u})
				return
			}
		}
		m := pieceAt(mid)
		divide(lo, mid, a, m)
		divide(mid, hi, m, b)
	}
	first := pieceAt(0)
	prev := first
	for k := 1; k <= parts; k++ {
		next := first
		if k < parts {
			next = pieceAt(2 * math.Pi * float64(k) / parts)
		}
		divide(2*math.Pi*float64(k-1)/parts, 2*math.Pi*float64(k)/parts, prev, next)
		prev = next
	}
	if len(out) == 0 {
		out = []hullPiece{first}
	}
	return out
}

// commonTangent returns the outward direction of the line that supports both discs, with a before b
// counter-clockwise.
func commonTangent(a, b hullPiece) (Point, bool) {
	w := b.disc.C.sub(a.disc.C)
	d := w.size()
	if d <= Near {
		return Point{}, false
	}
	c := (a.disc.R - b.disc.R) / d // w.u = Ra - Rb
	if math.Abs(c) >= 1 {
		return Point{}, false
	}
	e := w.scale(1 / d)
	return e.scale(c).add(e.left().scale(-math.Sqrt(1 - c*c))), true
}

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
		if far <= d.R+1e-12 {
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
		if w := c.C.sub(p); w.size() > 1e-12 {
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
	in := func(p Point) bool { return p.Distance(d.C) <= d.R+1e-13*(1+d.R) }
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
	if math.Abs(det) < 1e-15 {
		return or
	}
	x := (v.Y*u.dot(u) - u.Y*v.dot(v)) / det
	y := (u.X*v.dot(v) - v.X*u.dot(u)) / det
	return Disc{Point{a.X + x, a.Y + y}, math.Hypot(x, y)}
}

// Outline returns the curves of the rings that bound the region from outside.
func (r *Region) Outline() []Curve {
	var out []Curve
	for i := range r.Rings {
		if l := r.Rings[i].Loop(); l.Moments().Area > 0 {
			out = append(out, l...)
		}
	}
	return slices.Clip(out)
}
