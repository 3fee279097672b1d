package plane

import (
	"math"
	"slices"
	"sort"
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
			if q.dot(u) <= most {
				continue // nor does any other point of the arc reach further
			}
			if c.within(q) {
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
	h := hullOf(curves)
	width = math.Inf(1)
	try := func(u Point) {
		if w := h.extent(u); w < width-sameWidth {
			width, across, length = w, u, h.extent(u.left())
		} else if l := h.extent(u.left()); w <= width+sameWidth && l > length {
			width, across, length = math.Min(w, width), u, l
		}
	}
	for i, p := range h {
		try(p.from)
		j := h.at(p.from.scale(-1))
		for _, a := range [2]int{i, (i + len(h) - 1) % len(h)} { // the supporting pairs on both sides of this direction
			for _, b := range [2]int{j, (j + len(h) - 1) % len(h)} {
				if w := h[b].disc.C.sub(h[a].disc.C); w.size() > Near {
					try(w.unit())
					try(w.unit().left())
				}
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

// hull is the pieces of a convex hull, counter-clockwise, by rising angle of from.
type hull []hullPiece

// at is the number of the piece that supports the hull in direction u.
func (h hull) at(u Point) int {
	a := u.angle()
	i := sort.Search(len(h), func(i int) bool { return h[i].from.angle() > a })
	return (i + len(h) - 1) % len(h)
}

// extent is the distance between the supporting lines square to u.
func (h hull) extent(u Point) float64 {
	p, q := h[h.at(u)].disc, h[h.at(u.scale(-1))].disc
	return p.C.dot(u) + p.R - q.C.dot(u) + q.R
}

// outerOf leaves out curves that lie inside the polygon of the points that reach furthest in some directions: they are no
// part of the hull.
func outerOf(curves []Curve) []Curve {
	const directions = 64
	if len(curves) <= directions {
		return curves
	}
	var corners []Point
	for k := range directions {
		u, p := toward(2*math.Pi*(float64(k)+0.3183)/directions), curves[0].A
		for i := range curves { // ends alone: any points of the curves will do
			if q := curves[i].A; q.dot(u) > p.dot(u) {
				p = q
			}
		}
		if n := len(corners); n == 0 || corners[n-1].Distance(p) > Near {
			corners = append(corners, p)
		}
	}
	var sides []Curve
	for i, a := range corners {
		if b := corners[(i+1)%len(corners)]; a.Distance(b) > Near {
			sides = append(sides, Line(a, a.add(b.sub(a).unit())))
		}
	}
	within := func(p Point) bool {
		return !slices.ContainsFunc(sides, func(s Curve) bool { return s.B.sub(s.A).cross(p.sub(s.A)) < Near })
	}
	var out []Curve
	for _, c := range curves {
		b := c.bounds()
		if len(corners) < 3 || !within(b.lo) || !within(b.hi) || !within(Point{b.lo.X, b.hi.Y}) || !within(Point{b.hi.X, b.lo.Y}) {
			out = append(out, c)
		}
	}
	return out
}

// hullOf finds the hull: the supporting piece in many directions, and between two that differ the very direction at
// which it changes.
func hullOf(curves []Curve) hull {
	const parts = 64
	curves = outerOf(curves)
	pieceAt := func(angle float64) Disc {
		u := toward(angle)
		most, _ := support(curves, u)
		best := Disc{}
		for i := range curves {
			c := &curves[i]
			if c.IsArc() {
				q := c.C.along(u, c.R)
				if q.dot(u) >= most-supports {
					if c.within(q) {
						return Disc{c.C, c.R}
					}
				}
			}
			for _, p := range [2]Point{c.A, c.B} {
				if p.dot(u) >= most-supports {
					best = Disc{p, 0}
				}
			}
		}
		return best
	}
	same := func(a, b Disc) bool { return a.C.Distance(b.C) <= Near && math.Abs(a.R-b.R) <= Near }
	var out hull
	var divide func(lo, hi float64, a, b Disc)
	divide = func(lo, hi float64, a, b Disc) {
		if same(a, b) {
			return
		}
		mid := (lo + hi) / 2
		if u, ok := commonTangent(a, b); ok { // the very direction, when it lies between and no other piece reaches further
			t := u.angle()
			t += 2 * math.Pi * math.Round((mid-t)/(2*math.Pi))
			most, _ := support(curves, u)
			if t >= lo-tangentSlack && t <= hi+tangentSlack && most <= a.C.dot(u)+a.R+supports {
				out = append(out, hullPiece{b, u})
				return
			}
		}
		if hi-lo < sameTurn {
			out = append(out, hullPiece{b, toward(mid)})
			return
		}
		m := pieceAt(mid)
		divide(lo, mid, a, m)
		divide(mid, hi, m, b)
	}
	angle := func(k int) float64 { return -math.Pi + 2*math.Pi*(float64(k)+0.4142)/parts } // off the usual directions
	first := pieceAt(angle(0))
	prev := first
	for k := 1; k <= parts; k++ {
		next := first
		if k < parts {
			next = pieceAt(angle(k))
		}
		divide(angle(k-1), angle(k), prev, next)
		prev = next
	}
	if len(out) == 0 {
		return hull{{first, Point{1, 0}}}
	}
	slices.SortStableFunc(out, func(a, b hullPiece) int { return order(a.from.angle(), b.from.angle()) })
	return out
}

// commonTangent returns the outward direction of the line that supports both discs, a before b counter-clockwise. A
// disc that touches the other from inside, as a vertex at the end of an arc does, is supported with it there.
func commonTangent(a, b Disc) (Point, bool) {
	w := b.C.sub(a.C)
	d := w.size()
	if d <= Near {
		return Point{}, false
	}
	c := (a.R - b.R) / d // w.u = Ra - Rb
	if math.Abs(c) > touchesInside {
		return Point{}, false
	}
	c = math.Max(-1, math.Min(1, c))
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
