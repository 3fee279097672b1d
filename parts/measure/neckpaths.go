package measure

import (
	"math"
	"slices"

	"corerod/parts/blank"
	"corerod/parts/plane"
)

// path is how a neck moves between two stations: what its two ends are on. Between stations sections change smoothly and alike, so
// that a neck stays between the same sides and corners.
type path struct {
	ends  [2]neckEnd
	which int           // of the distances between the lines or circles of two sides, the one that the neck is
	sign  float64       // of that distance
	along []*movingRing // of a neck between two straight pieces all along which it holds: the two
	in    *section
	found plane.Neck // as which it was found there
	z     float64    // at that height
}

// neckEnd is a side of a wall, or the corner of two.
type neckEnd struct {
	sides  [2]blank.Side // of a corner; else the first
	corner bool
	which  int // of the points in which two sides cross
}

// pathOf is the path of a neck of a section.
func pathOf(x *section, n *plane.Neck) *path {
	q := &path{in: x}
	for k, at := range [2]plane.Point{n.P, n.Q} {
		i, e := [2]int{n.I, n.J}[k], &q.ends[k]
		e.sides[0] = x.side(i, x.pieces[i].Curve.At(0.5))
		if at.Distance(x.pieces[i].Curve.A) > plane.Near {
			continue
		}
		before := slices.IndexFunc(x.pieces, func(p plane.Piece) bool { return p.Next == i })
		j := x.jointOf(before, i)
		e.sides, e.which, e.corner = [2]blank.Side{e.sides[0], j.sides[0]}, j.which, !j.stays // a joint of one line or circle is no corner
	}
	least := math.Inf(1)
	for i, w := range q.widths([2]float64{x.z, x.z}) {
		if d := math.Abs(math.Abs(w) - n.Width); d < least {
			least, q.which, q.sign = d, i, math.Copysign(1, w)
		}
	}
	q.plateau(x, n)
	return q
}

// plateau takes the two straight pieces that a neck is between, where it holds all along what they have opposite each other: then both
// its ends move as theirs do.
func (q *path) plateau(x *section, n *plane.Neck) {
	a, b := &x.pieces[n.I].Curve, &x.pieces[n.J].Curve
	if n.Length == 0 || len(n.Also) > 0 || !x.middle || a.IsArc() || b.IsArc() {
		return
	}
	q.along = []*movingRing{x.alone(n.I), x.alone(n.J)}
	if c, ok := q.opposite(x.z, n); !ok || math.Abs(c.Length-n.Length) > 10*plane.Near {
		q.along = nil // something else is in the way of a part of it
	}
}

// opposite is the neck between two straight pieces at a height, over what they have opposite each other.
func (q *path) opposite(z float64, like *plane.Neck) (n plane.Neck, ok bool) {
	a, b := q.along[0].curve(0, z), q.along[1].curve(0, z)
	length := a.Length()
	if length <= plane.Near || b.Length() <= plane.Near {
		return n, false
	}
	u := a.Tangent(a.A)
	along := func(p plane.Point) float64 { return (p.X-a.A.X)*u.X + (p.Y-a.A.Y)*u.Y }
	from, to := math.Max(0, math.Min(along(b.A), along(b.B))), math.Min(length, math.Max(along(b.A), along(b.B)))
	if to-from <= plane.Near {
		return n, false
	}
	chord := func(t float64) plane.Chord {
		p := plane.Point{X: a.A.X + t*u.X, Y: a.A.Y + t*u.Y}
		return plane.Chord{P: p, Q: b.Foot(p)}
	}
	middle, ends := chord(mean(from, to)), [2]plane.Chord{chord(from), chord(to)}
	center := func(c plane.Chord) plane.Point { return plane.Point{X: mean(c.P.X, c.Q.X), Y: mean(c.P.Y, c.Q.Y)} }
	n = plane.Neck{Width: q.width(z), Length: to - from, P: middle.P, Q: middle.Q, I: like.I, J: like.J, Void: like.Void, Ends: ends,
		Medial: []plane.Curve{plane.Line(center(ends[0]), center(ends[1]))}}
	return n, math.Abs(n.P.Distance(n.Q)-n.Width) <= 10*plane.Near
}

// widths are the distances in plan between the ends, each at a height: of lines and circles those along the line through the centres,
// signed so that they change sign where one passes the other.
func (q *path) widths(heights [2]float64) []float64 {
	var cs [2]plane.Curve
	var at [2]plane.Point
	for k := range q.ends {
		e, z := &q.ends[k], heights[k]
		if e.corner {
			at[k], _ = blank.Corner(e.sides[1], e.sides[0], e.which, z)
		} else {
			cs[k] = e.sides[0].At(z)
		}
	}
	a, b := &cs[0], &cs[1]
	switch {
	case q.ends[0].corner && q.ends[1].corner:
		return []float64{at[0].Distance(at[1])}
	case q.ends[0].corner:
		return offCurve(b, at[0])
	case q.ends[1].corner:
		return offCurve(a, at[1])
	case !a.IsArc() && !b.IsArc():
		return []float64{a.LeftOf(b.At(0.5))}
	case !a.IsArc():
		h := a.LeftOf(b.C)
		return []float64{h - b.R, h + b.R}
	case !b.IsArc():
		h := b.LeftOf(a.C)
		return []float64{h - a.R, h + a.R}
	}
	d := a.C.Distance(b.C)
	return []float64{d - a.R - b.R, d + a.R - b.R, d - a.R + b.R, d + a.R + b.R}
}

// offCurve are the distances of a point from a line, or from the near and the far side of a circle.
func offCurve(c *plane.Curve, p plane.Point) []float64 {
	if !c.IsArc() {
		return []float64{c.LeftOf(p)}
	}
	d := p.Distance(c.C)
	return []float64{d - c.R, d + c.R}
}

// width is how wide the neck is at a height.
func (q *path) width(z float64) float64 { return q.across(z, z) }

// across is how far apart in plan its two ends are, each at a height of its own.
func (q *path) across(z, other float64) float64 {
	ws := q.widths([2]float64{z, other})
	return q.sign * ws[min(q.which, len(ws)-1)]
}

// square is the least distance in space between the two sides of a neck from one height to another, as far as each side goes.
func (x *span) square(low, high float64) float64 {
	if x.path == nil {
		return x.neck.Width
	}
	var from, to [2]float64
	for k := range x.path.ends {
		e := &x.path.ends[k]
		from[k], to[k] = e.sides[0].Range()
		if e.corner {
			a, b := e.sides[1].Range()
			from[k], to[k] = math.Max(from[k], a), math.Min(to[k], b)
		}
		from[k], to[k] = math.Max(from[k], low), math.Min(to[k], high)
	}
	across, ends := x.path.across, &x.path.ends
	switch {
	case to[0]-from[0] <= blank.SameHeight || to[1]-from[1] <= blank.SameHeight:
		return x.neck.Width
	case ends[0].corner && ends[1].corner && ends[0].even(x.low, x.high) && ends[1].even(x.low, x.high):
		return leastBetweenEdges(x.path, from, to)
	case ends[0].corner || ends[1].corner:
		off := x.offCorner()
		_, d := blank.LeastBeside(func(z float64) float64 {
			_, d := blank.LeastBeside(func(other float64) float64 { return math.Hypot(off(z, other), z-other) }, from[1], to[1])
			return d
		}, from[0], to[0])
		return d
	}
	// Each side moves the other end of the width by itself: the distance is that of the two in section.
	first := inSection(ends[0].sides[0], from[0], to[0], func(z float64) float64 { return across(z, from[1]) })
	second := inSection(ends[1].sides[0], from[1], to[1], func(z float64) float64 { return across(from[0], z) - across(from[0], from[1]) })
	first.A.X, first.B.X, first.C.X = -first.A.X, -first.B.X, -first.C.X
	first.Sweep = -first.Sweep
	d, _, _ := plane.Between([]plane.Curve{first}, []plane.Curve{second})
	return d
}

// offCorner is how far apart in plan the two ends of a neck are, each at a height of its own, where a corner is one: of a section between
// stations as far as the other side goes.
func (x *span) offCorner() func(z, other float64) float64 {
	q, side := x.path, 0
	if q.ends[0].corner {
		side = 1
	}
	if !q.in.middle || q.ends[side].corner {
		return q.across
	}
	ring, e := q.in.alone([2]int{q.found.I, q.found.J}[side]), &q.ends[1-side]
	return func(z, other float64) float64 {
		if side == 0 {
			z, other = other, z
		}
		corner, ok := blank.Corner(e.sides[1], e.sides[0], e.which, z)
		if !ok {
			return math.Inf(1)
		}
		c := ring.curve(0, other)
		return c.Distance(corner)
	}
}

// inSection is a side in section between two heights, over what it makes of a width.
func inSection(side blank.Side, low, high float64, width func(z float64) float64) plane.Curve {
	c := side.Profile(low, high)
	from, moved := c.A, 0.0
	as := 1.0
	for _, p := range [2]plane.Point{c.At(0.5), c.B} { // wherever it has moved the most
		if d := math.Abs(p.X - from.X); d > moved {
			moved, as = d, math.Copysign(1, (width(p.Y)-width(low))*(p.X-from.X))
		}
	}
	place := func(p plane.Point) plane.Point { return plane.Point{X: width(low) + as*(p.X-from.X), Y: p.Y} }
	return plane.Curve{A: place(c.A), B: place(c.B), C: place(c.C), R: c.R, Sweep: as * c.Sweep}
}

// leastBetweenEdges is the least distance between two corners that move evenly, straight edges in space, each as far as it goes.
func leastBetweenEdges(q *path, from, to [2]float64) float64 {
	at := func(k int, z float64) plane.Point {
		p, _ := blank.Corner(q.ends[k].sides[1], q.ends[k].sides[0], q.ends[k].which, z)
		return p
	}
	a, b, c, d := at(0, from[0]), at(0, to[0]), at(1, from[1]), at(1, to[1])
	h, o := to[0]-from[0], to[1]-from[1]
	u := plane.Point{X: (d.X - c.X) / o, Y: (d.Y - c.Y) / o} // of the second edge, for each mm of height
	_, least := blank.LeastBeside(func(t float64) float64 {
		p, z := plane.Point{X: a.X + t*(b.X-a.X), Y: a.Y + t*(b.Y-a.Y)}, from[0]+t*h
		other := within(from[1]+((p.X-c.X)*u.X+(p.Y-c.Y)*u.Y+z-from[1])/(1+u.X*u.X+u.Y*u.Y), [2]float64{from[1], to[1]})
		foot := plane.Point{X: c.X + (other-from[1])*u.X, Y: c.Y + (other-from[1])*u.Y}
		return math.Hypot(p.Distance(foot), z-other)
	}, 0, 1)
	return least
}

// within is the nearest to x between two numbers.
func within(x float64, ends [2]float64) float64 { return math.Min(math.Max(x, ends[0]), ends[1]) }

func mean(a, b float64) float64 { return (a + b) / 2 }

// angleOut is that between the two sides of a neck that comes to nothing, in the plane across, degrees.
func (x *span) angleOut() float64 {
	a, b := x.leanings()
	return (math.Atan(a) + math.Atan(b)) * 180 / math.Pi
}

// leanings are how fast the two sides of a neck come together towards where it is thinner, each by itself, mm for each mm of height: what
// the width changes by while only that side moves, by the parabola through three heights.
func (x *span) leanings() (a, b float64) {
	z, step := x.low, edgeStep*(x.high-x.low)
	if !x.path.bends(x.low, x.high) {
		step = (x.high - x.low) / 2
	}
	if x.path.width(x.high) < x.path.width(x.low) {
		z, step = x.high, -step
	}
	rate := func(w func(z float64) float64) float64 {
		return (4*w(z+step) - w(z+2*step) - 3*w(z)) / (2 * math.Abs(step))
	}
	return rate(func(other float64) float64 { return x.path.across(other, z) }),
		rate(func(other float64) float64 { return x.path.across(z, other) })
}

// bends tells whether the width of the neck is no straight function of the height between two others.
func (q *path) bends(low, high float64) bool {
	for k := range q.ends {
		e, other := &q.ends[k], &q.ends[1-k]
		if !e.even(low, high) || e.corner && (other.corner || other.arc(low)) && e.moves(low, high) {
			return true
		}
	}
	return false
}

// even tells whether the end moves evenly with the height, or not at all: it is no side that is an arc in section, and no corner of an
// arc.
func (e *neckEnd) even(low, high float64) bool {
	_, curved := e.sides[0].Leans(low, high)
	if e.corner && !curved {
		_, curved = e.sides[1].Leans(low, high)
	}
	if curved {
		return false
	}
	return !e.corner || !e.arc(low) || !e.moves(low, high)
}

// slope is that of the end's side, of a corner of the flatter of two.
func (e *neckEnd) slope() blank.Slope {
	a := e.sides[0].Slope()
	if !e.corner {
		return a
	}
	if b := e.sides[1].Slope(); a.Upright() || !b.Upright() && b.Lean() > a.Lean() {
		return b
	}
	return a
}

// arc tells whether the end is on an arc in plan.
func (e *neckEnd) arc(z float64) bool {
	a := e.sides[0].At(z)
	if a.IsArc() || !e.corner {
		return a.IsArc()
	}
	b := e.sides[1].At(z)
	return b.IsArc()
}

// moves tells whether the end moves between two heights.
func (e *neckEnd) moves(low, high float64) bool {
	a, _ := e.sides[0].Leans(low, high)
	if e.corner && !a {
		a, _ = e.sides[1].Leans(low, high)
	}
	return a
}

// moves tells whether the neck changes at all between two heights.
func (q *path) moves(low, high float64) bool {
	return q.ends[0].moves(low, high) || q.ends[1].moves(low, high)
}

// at is the neck at a height, at the place of one at another height.
func (q *path) at(z float64, like *plane.Neck) (n plane.Neck, ok bool) {
	if q.along != nil {
		return q.opposite(z, like)
	}
	p, r, ok := q.chord(z, like.P, like.Q)
	n = plane.Neck{Width: q.width(z), P: p, Q: r, I: like.I, J: like.J, Void: like.Void, Ends: [2]plane.Chord{{P: p, Q: r}, {P: p, Q: r}}}
	if !ok || math.Abs(p.Distance(r)-n.Width) > 10*plane.Near || like.Length == 0 {
		return n, ok && math.Abs(p.Distance(r)-n.Width) <= 10*plane.Near
	}
	for k, c := range like.Ends {
		n.Ends[k].P, n.Ends[k].Q, _ = q.chord(z, c.P, c.Q)
	}
	from, to := like.Middle(), n.Middle()
	for _, m := range like.Medial {
		if m.IsArc() {
			m.R += to.Distance(m.C) - from.Distance(m.C)
			m = plane.Arc(m.C, m.R, math.Atan2(m.A.Y-m.C.Y, m.A.X-m.C.X), m.Sweep)
		} else {
			x, y := to.X-from.X, to.Y-from.Y
			m = plane.Line(plane.Point{X: m.A.X + x, Y: m.A.Y + y}, plane.Point{X: m.B.X + x, Y: m.B.Y + y})
		}
		n.Medial = append(n.Medial, m)
		n.Length += m.Length()
	}
	return n, true
}

// whole is the neck at a height, from where it was found, over the stretch that it has there.
func (q *path) whole(s *blank.Shape, z float64) (n plane.Neck, ok bool) {
	if q.sliding(&q.found) {
		at, there := q.slide(s, &q.found, q.z, z)
		return there, at == z
	}
	return q.at(z, &q.found)
}

// chord are the two ends of the neck at a height, near those at another height.
func (q *path) chord(z float64, p, r plane.Point) (a, b plane.Point, ok bool) {
	at := [2]plane.Point{p, r}
	for k := range q.ends {
		if e := &q.ends[k]; e.corner {
			if at[k], ok = blank.Corner(e.sides[1], e.sides[0], e.which, z); !ok {
				return p, r, false
			}
		}
	}
	for k := range q.ends {
		if e := &q.ends[k]; !e.corner {
			c, other := e.sides[0].At(z), at[1-k]
			if c.IsArc() && other.Distance(c.C) <= plane.Near {
				other = at[k]
			}
			at[k] = footTowards(&c, other, at[k])
		}
	}
	return at[0], at[1], true
}

// footTowards is the point of a curve's line or circle on the line from another point through its centre, on the side of a third.
func footTowards(c *plane.Curve, from, beside plane.Point) plane.Point {
	p := c.Foot(from)
	if c.IsArc() && (p.X-c.C.X)*(beside.X-c.C.X)+(p.Y-c.C.Y)*(beside.Y-c.C.Y) < 0 {
		return plane.Point{X: 2*c.C.X - p.X, Y: 2*c.C.Y - p.Y}
	}
	return p
}

// holds tells whether the path of a neck is one at a height: its ends are on their sides, and its circle is empty.
func (q *path) holds(s *blank.Shape, n *plane.Neck, z float64) bool {
	c, ok := q.at(z, n)
	for k, p := range [2]plane.Point{c.P, c.Q} {
		ok = ok && (q.ends[k].corner || q.ends[k].sides[0].Covers(p, z))
	}
	if ok && s.Inscribes(c.Middle(), c.Width/2, z, n.Void) {
		return true
	}
	if q.sliding(n) {
		_, ok = q.slides(s, n, z)
		return ok
	}
	return false
}

// slides is the neck at a height that one between parallel sides, at whichever place along them, goes on as.
func (q *path) slides(s *blank.Shape, n *plane.Neck, z float64) (there plane.Neck, ok bool) {
	r := s.SectionAt(z)
	if r == nil {
		return there, false
	}
	c, ok := q.at(z, n)
	all := r.NecksBetween(func(a, b int) bool { return a != b || !toothedWall(s, a) })
	i, most := -1, 0.0
	for k := range all {
		o := &all[k]
		if o.Void != n.Void || o.Length <= plane.Near || math.Abs(o.Width-c.Width) > 10*plane.Near ||
			!alongside(&c, o) && !(round(&c) && round(o) && c.Overlaps(o)) {
			continue
		}
		if l := inCommon(&c, o); i < 0 || l > most+longer { // of several along one ring
			i, most = k, l
		}
	}
	if !ok || i < 0 {
		return there, false
	}
	return all[i], true
}

// inCommon is how long the stretch is that two necks between concentric arcs have in common.
func inCommon(a, b *plane.Neck) (length float64) {
	from := func(c *plane.Curve) float64 { // counter-clockwise
		p := c.A
		if c.Sweep < 0 {
			p = c.B
		}
		return math.Atan2(p.Y-c.C.Y, p.X-c.C.X)
	}
	for _, x := range a.Medial {
		for _, y := range b.Medial {
			if !x.IsArc() || !y.IsArc() || x.C.Distance(y.C) > 10*plane.Near {
				continue
			}
			apart, w, v := math.Mod(from(&y)-from(&x)+4*math.Pi, 2*math.Pi), math.Abs(x.Sweep), math.Abs(y.Sweep)
			length += x.R * (math.Max(0, math.Min(w, apart+v)-apart) + math.Max(0, math.Min(w, apart+v-2*math.Pi)))
		}
	}
	return length
}

// upTo follows a neck from a height towards a station: the height up to which it goes on, what it is there, and whether it goes on all
// the way; near is a height next to the station.
func (q *path) upTo(s *blank.Shape, n *plane.Neck, from, station, near float64) (z float64, there plane.Neck, all bool) {
	middle := station + (near-station)/beside // or from, where that is past it
	if math.Abs(from-station) < math.Abs(middle-station) {
		middle = from
	}
	if math.Abs(from-station) < math.Abs(near-station) {
		near = from
	}
	z = from
	if q.sliding(n) {
		z, there = q.slide(s, n, from, near)
	} else if there = *n; q.holds(s, n, near) && (math.Abs(from-middle) <= blank.SameHeight || q.holds(s, n, middle)) {
		z = near
	}
	if z == near {
		if end, ok := q.at(station, &there); ok {
			if q.sliding(n) {
				end.Length = q.lengthAt(s, there, station, near-station)
			}
			return station, end, true
		}
	}
	if q.sliding(n) {
		z, there = q.slide(s, &there, z, station)
	} else {
		z = q.squareBefore(q.reach(s, n, from, station), from, n)
		there, _ = q.at(z, n)
	}
	if n.Length == 0 {
		if end, ok := q.at(station, n); ok && math.Abs(z-station) <= 2*blank.SameHeight {
			return station, end, false // up to it, where what it lies between has just gone
		}
		return z, there, false
	}
	end, none := q.vanished(s, there, z, math.Copysign(beside, station-from))
	if math.Abs(end-station) <= 10*blank.SameHeight {
		return station, there, true // there it goes on as a single chord
	}
	return end, none, false
}

// lengthAt is the length of a neck at a station at which its section no longer shows it, of one between parallel sides that something else
// limits: from five heights beside it, steps apart, as a polynomial in the root of the way to it, since what limits it may touch the sides
// there and so move ever faster. The neck is as it is at the first.
func (q *path) lengthAt(s *blank.Shape, n plane.Neck, station, step float64) float64 {
	lengths := [5]float64{n.Length}
	for k := 1; k < len(lengths); k++ {
		from, to := station+float64(k)*step, station+float64(k+1)*step
		at, next := q.slide(s, &n, from, to)
		if at != to {
			return n.Length
		}
		n, lengths[k] = next, next.Length
	}
	sum := 0.0
	for k, length := range lengths { // at 0, by Lagrange's formula
		own := math.Sqrt(float64(k + 1))
		for j := range lengths {
			if other := math.Sqrt(float64(j + 1)); j != k {
				length *= other / (other - own)
			}
		}
		sum += length
	}
	return math.Max(0, sum)
}

// vanished is where a neck between parallel sides that has grown shorter up to a height comes to nothing, a little further on: at the
// rate at which its length falls over a step before.
func (q *path) vanished(s *blank.Shape, n plane.Neck, z, step float64) (float64, plane.Neck) {
	var before plane.Neck
	ok := false
	if q.along != nil {
		before, ok = q.at(z-step, &n)
	} else {
		var at float64
		at, before = q.slide(s, &n, z, z-step)
		ok = at == z-step
	}
	further := step * n.Length / (before.Length - n.Length)
	if !ok || before.Length <= n.Length || math.Abs(further) > 10*blank.SameHeight {
		return z, n
	}
	z += further
	n.Length, n.Medial = 0, nil
	n.Width = q.width(z)
	return z, n
}

// shows tells whether the section at a height has the path of a single chord among its necks.
func (q *path) shows(s *blank.Shape, ns *necks, n *plane.Neck, z float64) bool {
	c, ok := q.at(z, n)
	r := s.SectionAt(z)
	return ok && r != nil && slices.ContainsFunc(ns.of(r), func(o plane.Neck) bool {
		return o.Void == n.Void && o.Length == 0 && sameNeck(&c, &o)
	})
}

// reach is the height up to which, on the way from one where it is a neck to another, a neck goes on.
func (q *path) reach(s *blank.Shape, n *plane.Neck, from, to float64) float64 {
	for math.Abs(to-from) > blank.SameHeight {
		if z := mean(from, to); q.holds(s, n, z) {
			from = z
		} else {
			to = z
		}
	}
	return from
}

// squareBefore is the height at which a neck that goes on from one height nearly up to another is square to a side that makes a corner it
// ends in: past that the side is nearer. It is the other height where there is none.
func (q *path) squareBefore(z, from float64, like *plane.Neck) float64 {
	best := z
	for k := range q.ends {
		if !q.ends[k].corner {
			continue
		}
		for i := range q.ends[k].sides {
			side := &q.ends[k].sides[i]
			along := func(z float64) float64 { // how far the chord leads along the side
				n, _ := q.at(z, like)
				c := side.At(z)
				u := c.Tangent([2]plane.Point{n.P, n.Q}[k])
				return (n.Q.X-n.P.X)*u.X + (n.Q.Y-n.P.Y)*u.Y
			}
			low, high := z+math.Copysign(math.Min(overshoot, math.Abs(from-z)), from-z), z+math.Copysign(2*blank.SameHeight, z-from)
			first := along(low)
			if (first > 0) == (along(high) > 0) {
				continue
			}
			for range 40 {
				if m := mean(low, high); (along(m) > 0) == (first > 0) {
					low = m
				} else {
					high = m
				}
			}
			if m := mean(low, high); best == z || math.Abs(m-z) < math.Abs(best-z) {
				best = m
			}
		}
	}
	return best
}

// slide is the same, and the neck there, of one between parallel sides that something else limits, and so may drive along them: it is
// followed in steps in which it keeps a part of its place.
func (q *path) slide(s *blank.Shape, n *plane.Neck, from, to float64) (float64, plane.Neck) {
	there := *n
	for step := to - from; math.Abs(step) > slideStep; {
		z := from + step
		if step == to-from {
			z = to
		}
		next, ok := q.slides(s, &there, z)
		if !ok {
			step /= 2
			continue
		}
		from, there = z, next
		if step *= 2; math.Abs(step) > math.Abs(to-from) {
			step = to - from
		}
	}
	return from, there
}

// sliding tells whether a neck lies between parallel sides over a stretch that something else limits.
func (q *path) sliding(n *plane.Neck) bool { return n.Length > 0 && q.along == nil }

// area is the integral of the width from one height to another.
func (q *path) area(low, high float64) (sum float64) {
	for _, n := range blank.Nodes() {
		sum += n.Weight * (high - low) * q.width(low+n.At*(high-low))
	}
	return sum
}
