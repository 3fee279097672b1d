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
	s := hullSearch{curves: outerOf(curves)}
	angle := func(k int) float64 { return -math.Pi + 2*math.Pi*(float64(k)+0.4142)/parts } // off the usual directions
	var at [parts]Disc
	for k := range at {
		at[k] = s.pieceAt(angle(k))
	}
	all, boxes := s.curves, make([]box, len(s.curves))
	for i := range all {
		boxes[i] = all[i].bounds()
	}
	for k := range at {
		lo, hi := angle(k), angle(k+1)
		s.curves = inSector(all, boxes, toward(lo), toward(hi))
		s.divide(lo, hi, at[k], at[(k+1)%parts])
	}
	if len(s.found) == 0 {
		return hull{{at[0], Point{1, 0}}}
	}
	slices.SortStableFunc(s.found, func(a, b hullPiece) int { return order(a.from.angle(), b.from.angle()) })
	return s.found
}

// inSector are the curves that may support all of them in a direction between two others: what lies further back than one end of the
// middle piece in all of these does not. boxes are those round the curves.
func inSector(curves []Curve, boxes []box, from, to Point) (out []Curve) {
	_, q := support(curves, from.add(to).unit())
	for i := range curves {
		middle, r := boxes[i].lo.mid(boxes[i].hi), boxes[i].lo.Distance(boxes[i].hi)/2
		w := middle.sub(q)
		far := math.Max(w.dot(from), w.dot(to))
		if from.cross(w) >= 0 && w.cross(to) >= 0 {
			far = w.size()
		}
		if far+r >= -Near {
			out = append(out, curves[i])
		}
	}
	return out
}

// hullSearch is the pieces found so far, in the order in which they support the curves.
type hullSearch struct {
	curves []Curve
	found  hull
}

// pieceAt is the arc or vertex that supports the curves in the direction of an angle, rad.
func (s *hullSearch) pieceAt(angle float64) Disc {
	u := toward(angle)
	most, _ := support(s.curves, u)
	best := Disc{}
	for i := range s.curves {
		c := &s.curves[i]
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

// divide finds the pieces that take over between two angles, rad, at which a and b support.
func (s *hullSearch) divide(lo, hi float64, a, b Disc) {
	if a.C.Distance(b.C) <= Near && math.Abs(a.R-b.R) <= Near {
		t, ok := s.beyond(a, lo, hi)
		if !ok {
			t, ok = s.missing(a, lo, hi)
		}
		if ok && t > lo+tangentSlack && t < hi-tangentSlack { // at an end it is told from its other side
			m := s.pieceAt(t)
			s.divide(lo, t, a, m)
			s.divide(t, hi, m, b)
		}
		return
	}
	mid := (lo + hi) / 2
	if u, ok := commonTangent(a, b); ok { // the very direction, when it lies between and no other piece reaches further
		t := u.angle()
		t += 2 * math.Pi * math.Round((mid-t)/(2*math.Pi))
		most, _ := support(s.curves, u)
		if t >= lo-tangentSlack && t <= hi+tangentSlack && most <= a.C.dot(u)+a.R+supports && s.attains(a, u) && s.attains(b, u) {
			s.found = append(s.found, hullPiece{b, u})
			s.divide(lo, math.Max(lo, t), a, a)
			s.divide(math.Min(t, hi), hi, b, b)
			return
		}
	}
	if hi-lo < sameTurn {
		s.found = append(s.found, hullPiece{b, toward(mid)})
		return
	}
	m := s.pieceAt(mid)
	s.divide(lo, mid, a, m)
	s.divide(mid, hi, m, b)
}

// attains tells whether a piece has a point in a direction: beyond its ends an arc has none.
func (s *hullSearch) attains(d Disc, u Point) bool {
	most := d.C.dot(u) + d.R
	return d.R == 0 || slices.ContainsFunc(s.curves, func(c Curve) bool {
		same := c.IsArc() && c.C.Distance(d.C) <= Near && math.Abs(c.R-d.R) <= Near
		return same && (c.within(c.C.along(u, c.R)) || math.Max(c.A.dot(u), c.B.dot(u)) >= most-supports)
	})
}

// missing is an angle between two others, at which an arc supports, in which it has no point: in the middle between the ends of its
// pieces there.
func (s *hullSearch) missing(d Disc, lo, hi float64) (angle float64, found bool) {
	if d.R == 0 {
		return 0, false
	}
	ends := []float64{lo, hi}
	from, to := toward(lo), toward(hi)
	for i := range s.curves {
		c := &s.curves[i]
		if !c.IsArc() || c.C.Distance(d.C) > Near || math.Abs(c.R-d.R) > Near {
			continue
		}
		for _, p := range [2]Point{c.A, c.B} {
			w := p.sub(d.C)
			if from.cross(w) <= 0 || w.cross(to) <= 0 {
				continue
			}
			t := w.angle()
			if t += 2 * math.Pi * math.Round(((lo+hi)/2-t)/(2*math.Pi)); lo < t && t < hi {
				ends = append(ends, t)
			}
		}
	}
	slices.Sort(ends)
	for i := 0; i+1 < len(ends); i++ {
		if t := (ends[i] + ends[i+1]) / 2; !s.attains(d, toward(t)) {
			return t, true
		}
	}
	return 0, false
}

// beyond is the angle between two others, at which a piece supports, where another reaches the furthest beyond it: in the direction
// from the centre of the one to that of the other.
func (s *hullSearch) beyond(a Disc, lo, hi float64) (angle float64, found bool) {
	from, to, most := toward(lo), toward(hi), supports
	try := func(c Point, r float64, in func(u Point) bool) {
		w := c.sub(a.C)
		if from.cross(w) <= 0 || w.cross(to) <= 0 {
			return // not between: the two angles are less than a half turn apart
		}
		d := w.size()
		if further := d + r - a.R; further > most && in(w.scale(1/d)) {
			most, found = further, true
			t := w.angle()
			angle = t + 2*math.Pi*math.Round(((lo+hi)/2-t)/(2*math.Pi))
		}
	}
	for i := range s.curves {
		c := &s.curves[i]
		always := func(Point) bool { return true }
		try(c.A, 0, always)
		try(c.B, 0, always)
		if c.IsArc() {
			try(c.C, c.R, func(u Point) bool { return c.within(c.C.along(u, c.R)) })
		}
	}
	return angle, found
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
