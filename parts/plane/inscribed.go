package plane

import (
	"cmp"
	"container/heap"
	"fmt"
	"math"
	"slices"
)

// Disc is a circle with its inside.
type Disc struct {
	C Point
	R float64
}

// Inscribed returns the largest disc that fits the region. Where several are equal it returns one of them.
//
// A search over squares leaves only places where a larger disc could have its centre; in each the pieces nearby fix
// the disc in closed form or by Newton's method, to rounding.
func (r *Region) Inscribed() Disc {
	best := Disc{}
	if len(r.pieces) == 0 {
		return best
	}
	best = r.settle(r.better(best, r.Moments().Centroid()))
	for i := range r.pieces {
		if c := &r.pieces[i].Curve; c.IsArc() && c.Sweep > 0 {
			best = r.better(best, c.C)
		}
	}
	return r.searchSquares(r.settle(best))
}

// better returns the disc about c where it is larger.
func (r *Region) better(best Disc, c Point) Disc {
	if d := r.index().distance(c); d > best.R+discGain && r.Contains(c) {
		return Disc{c, d}
	}
	return best
}

// square is a candidate area for the centre: no centre in it gives more than most.
type square struct {
	c    Point
	half float64
	most float64
}

type squares []square

func (s squares) Len() int           { return len(s) }
func (s squares) Less(i, j int) bool { return s[i].most > s[j].most }
func (s squares) Swap(i, j int)      { s[i], s[j] = s[j], s[i] }
func (s *squares) Push(x any)        { *s = append(*s, x.(square)) }
func (s *squares) Pop() any {
	o := *s
	x := o[len(o)-1]
	*s = o[:len(o)-1]
	return x
}

// searchSquares divides the region's box where a disc could be larger than the best, down to a small part of its
// radius, and settles the discs there.
func (r *Region) searchSquares(best Disc) Disc {
	const smallest = 0.03 // of the best radius
	convex := r.convex()
	b := r.pieces[0].Curve.bounds()
	for i := range r.pieces {
		b = b.join(r.pieces[i].Curve.bounds())
	}
	var q squares
	push := func(c Point, half float64) {
		d := r.index().distance(c)
		if !r.Contains(c) {
			d = -d
		}
		if d > best.R {
			best = Disc{c, d}
		}
		most := d + half*math.Sqrt2
		if most > best.R+searchGain && d > 0 {
			most = math.Min(most, r.facing(c, d, half, convex))
		}
		heap.Push(&q, square{c, half, most})
	}
	push(b.lo.mid(b.hi), math.Max(b.hi.X-b.lo.X, b.hi.Y-b.lo.Y)/2)
	tried := map[string]bool{}
	for len(q) > 0 {
		s := heap.Pop(&q).(square)
		if s.most <= best.R+searchGain {
			break
		}
		if s.half > math.Max(Near, smallest*best.R) {
			h := s.half / 2
			for _, d := range [4]Point{{-h, -h}, {h, -h}, {-h, h}, {h, h}} {
				push(s.c.add(d), h)
			}
			continue
		}
		from := Disc{s.c, r.index().distance(s.c)}
		key := fmt.Sprint(r.near(from), math.Floor(s.c.X/best.R), math.Floor(s.c.Y/best.R))
		if !tried[key] && r.Contains(s.c) {
			tried[key] = true
			if d := r.settle(from); d.R > best.R {
				best = d
			}
		}
	}
	return best
}

// convex tells whether the region is convex: one ring that turns to the left only.
func (r *Region) convex() bool {
	if len(r.Rings) != 1 {
		return false
	}
	for i := range r.pieces {
		p := &r.pieces[i]
		if p.Curve.Sweep < 0 || turnAt(&p.Curve, &r.pieces[p.Next].Curve) < -reentrant && p.Next != i {
			return false
		}
	}
	return true
}

// facing bounds the discs with centres in a square by two pieces near its middle that face each other: no disc is
// larger than half of what the two leave open. It is what ends the search along a straight slot. In a convex region
// the tangents at the feet of the middle bound every disc, wherever its centre lies.
func (r *Region) facing(c Point, d, half float64, convex bool) float64 {
	most := math.Inf(1)
	near := r.near(Disc{c, d + half})
	bound := func(p, m, q, n Point) { // lines through p and q with normals m and n: half the sum of distances is linear
		g := m.add(n).scale(0.5)
		most = math.Min(most, (c.sub(p).dot(m)+c.sub(q).dot(n))/2+half*(math.Abs(g.X)+math.Abs(g.Y)))
	}
	for x, i := range near {
		a := &r.pieces[i].Curve
		for _, j := range near[x+1:] {
			b := &r.pieces[j].Curve
			switch {
			case convex:
				p, q := a.nearest(c), b.nearest(c)
				bound(p, a.tangent(p).left(), q, b.tangent(q).left())
			case a.IsArc() && b.IsArc() && a.C.Distance(b.C) <= oneCentre:
				if a.besides(c, half) && b.besides(c, half) && (c.Distance(a.C) < a.R) != (c.Distance(b.C) < b.R) {
					most = math.Min(most, math.Abs(a.R-b.R)/2)
				}
			case !a.IsArc() && !b.IsArc() && a.besides(c, half) && b.besides(c, half):
				bound(a.A, a.B.sub(a.A).unit().left(), b.A, b.B.sub(b.A).unit().left())
			}
		}
	}
	return most
}

// besides tells whether every point of a square about c has its foot on the curve and lies on its left.
func (c *Curve) besides(p Point, half float64) bool {
	reach := half * math.Sqrt2
	if !c.IsArc() {
		u := c.B.sub(c.A).unit()
		t := p.sub(c.A).dot(u)
		return t >= reach && t <= c.Length()-reach && p.sub(c.A).dot(u.left()) >= reach
	}
	w := p.sub(c.C)
	d := w.size()
	if d <= reach || math.Abs(d-c.R) <= reach {
		return false
	}
	if math.Abs(c.Sweep) > fullTurn {
		return true
	}
	t := c.fraction(c.C.along(w, c.R/d))
	slack := math.Asin(reach/d) / math.Abs(c.Sweep)
	return t >= slack && t <= 1-slack
}

// mostNear is how many pieces near a disc are all looked at; where they are more, a smooth curve is many short arcs.
const mostNear = 10

// near lists the pieces that a slightly larger disc would meet; where they are too many, of those in one twelfth of all directions the
// nearest.
func (r *Region) near(d Disc) (near []int) {
	const directions = 12
	limit := d.R*1.1 + 10*Near
	r.index().visit(d.C, limit, func(i int) float64 {
		if r.pieces[i].Curve.Distance(d.C) < limit {
			near = append(near, i)
		}
		return limit
	})
	if len(near) > mostNear {
		var best [directions]int
		var least [directions]float64
		for _, i := range near {
			w := r.pieces[i].Curve.nearest(d.C).sub(d.C)
			k := int((w.angle()/math.Pi+1)/2*directions) % directions
			if s := w.size(); best[k] == 0 || s < least[k] {
				best[k], least[k] = i+1, s
			}
		}
		near = near[:0]
		for _, i := range best {
			if i > 0 {
				near = append(near, i-1)
			}
		}
	}
	slices.Sort(near)
	return near
}

// climb moves a disc uphill: its centre goes to where the nearest pieces, taken as straight, leave the most room, within a step that
// is halved where that does not make the disc larger. It is for curves of many short arcs, of which no three fix a disc.
func (r *Region) climb(from Disc) Disc {
	step := from.R / 4
	for range 80 {
		if step < newtonStep*(1+from.R) {
			break
		}
		next := from.C.add(r.uphill(from, step))
		if d := r.index().distance(next); d > from.R && r.Contains(next) {
			from = Disc{next, d}
			step *= 1.5
		} else {
			step /= 3
		}
	}
	return from
}

// slant is the distance of a piece at a centre, and the direction in which it grows.
type slant struct {
	d float64
	n Point
}

// slants are those of the pieces that a disc meets over a step, the nearest of each direction, and of all the nearest.
func (r *Region) slants(from Disc, step float64) (kept []slant) {
	const most = 14
	var all []slant
	limit := from.R + 2*step
	r.index().visit(from.C, limit, func(i int) float64 {
		w := from.C.sub(r.pieces[i].Curve.nearest(from.C))
		if d := w.size(); d > directionless && d < limit {
			all = append(all, slant{d, w.scale(1 / d)})
		}
		return limit
	})
	slices.SortFunc(all, func(a, b slant) int {
		return cmp.Or(cmp.Compare(a.d, b.d), cmp.Compare(a.n.X, b.n.X), cmp.Compare(a.n.Y, b.n.Y))
	})
	for _, x := range all {
		if len(kept) < most && !slices.ContainsFunc(kept, func(y slant) bool { return x.n.sub(y.n).size() < oneSided }) {
			kept = append(kept, x)
		}
	}
	return kept
}

// uphill is the move, of at most a step along each axis, after which the least distance of the pieces near a disc, taken as straight,
// is greatest.
func (r *Region) uphill(from Disc, step float64) (best Point) {
	var all []slant
	for _, n := range [4]Point{{1, 0}, {-1, 0}, {0, 1}, {0, -1}} { // a box about the disc
		all = append(all, slant{from.R + 2*step, n})
	}
	all = append(all, r.slants(from, step)...)
	room := func(m Point) float64 {
		least := math.Inf(1)
		for _, s := range all {
			least = math.Min(least, s.d+s.n.dot(m))
		}
		return least
	}
	most := from.R
	try := func(m Point) {
		if math.Abs(m.X) <= step && math.Abs(m.Y) <= step {
			if h := room(m); h > most {
				best, most = m, h
			}
		}
	}
	for i := range all {
		for j := range i {
			for k := range j {
				// d + n m = t for all three: two equations for the move.
				u, v := all[i].n.sub(all[k].n), all[j].n.sub(all[k].n)
				a, b := all[k].d-all[i].d, all[k].d-all[j].d
				if det := u.cross(v); math.Abs(det) > singular {
					try(Point{(a*v.Y - b*u.Y) / det, (u.X*b - v.X*a) / det})
				}
			}
			if u := all[i].n.sub(all[j].n); u.size() > directionless { // midway between two
				try(u.scale((all[j].d - all[i].d) / u.dot(u)))
			}
		}
	}
	return best
}

// crowded tells whether a slightly larger disc would meet more pieces than are all looked at.
func (r *Region) crowded(d Disc) bool {
	n, limit := 0, d.R*1.1+10*Near
	r.index().visit(d.C, limit, func(i int) float64 {
		if r.pieces[i].Curve.Distance(d.C) < limit {
			n++
		}
		return limit
	})
	return n > mostNear
}

// cornersOf are the points near a disc in which some pieces go over into the next; where there are many, those alone that turn inward.
func (r *Region) cornersOf(pieces []int, d Disc) (corners []Point) {
	crowded := r.crowded(d)
	add := func(i int) {
		p := &r.pieces[i]
		reflex := turnAt(&p.Curve, &r.pieces[p.Next].Curve) < -reentrant
		if at := p.Curve.B; at.Distance(d.C) < d.R*1.1+10*Near && (reflex || !crowded) && !slices.Contains(corners, at) {
			corners = append(corners, at)
		}
	}
	for _, i := range pieces {
		add(i)
		if crowded { // the piece that ends where this one begins may be none of the nearest
			add(slices.IndexFunc(r.pieces, func(p Piece) bool { return p.Next == i }))
		}
	}
	return corners
}

// reach is how far a disc is moved at once, of its radius: in a thin crescent the largest lies some radii from where it is nearly as large.
const reach = 10

// settle moves the disc to touch two or three of the pieces near it exactly, as long as that makes it larger.
func (r *Region) settle(from Disc) Disc {
	if r.crowded(from) {
		from = r.climb(from)
	}
	for range 6 {
		best := from
		try := func(c Point) {
			if c.Distance(from.C) <= reach*from.R {
				best = r.better(best, c)
			}
		}
		pieces := r.near(from)
		corners := r.cornersOf(pieces, from)
		var touched []func(Point) Point // the foot of a centre on a piece, or a corner, at which two meet
		for x, i := range pieces {
			a := &r.pieces[i].Curve
			for _, j := range pieces[x+1:] {
				for _, c := range squareChords(a, &r.pieces[j].Curve) {
					try(c[0].mid(c[1]))
				}
			}
			touched = append(touched, a.nearest)
		}
		for _, p := range corners {
			for _, i := range pieces {
				if c := &r.pieces[i].Curve; c.IsArc() && p.Distance(c.C) > Near { // square to the arc, through the corner
					u := p.sub(c.C).unit()
					try(p.mid(c.C.along(u, c.R)))
					try(p.mid(c.C.along(u, -c.R)))
				}
			}
			touched = append(touched, func(Point) Point { return p })
		}
		for i, a := range touched {
			for j, b := range touched[i+1:] {
				try(midway(a, b, from.C))
				for _, d := range touched[i+j+2:] {
					if c, ok := touching3(a, b, d, from); ok {
						try(c)
					}
				}
			}
		}
		if best == from {
			break
		}
		from = best
	}
	return from
}

// midway finds the centre of a disc that touches at two opposite points, near c where there are endlessly many.
func midway(a, b func(Point) Point, c Point) Point {
	for range 8 {
		m := a(c).mid(b(c))
		if m.Distance(c) < midwayStep {
			break
		}
		c = m
	}
	return c
}

// touching3 finds the centre equally far from three pieces or corners, by Newton's method on distance minus radius.
func touching3(a, b, d func(Point) Point, from Disc) (Point, bool) {
	c, rad := from.C, from.R
	for range 40 {
		var m [3][4]float64
		for i, foot := range [3]func(Point) Point{a, b, d} {
			q := foot(c)
			w := c.sub(q)
			e := w.size()
			if e < directionless {
				return c, false
			}
			m[i] = [4]float64{w.X / e, w.Y / e, -1, rad - e}
		}
		s, ok := solve3(m)
		if !ok {
			return c, false
		}
		c, rad = Point{c.X + s[0], c.Y + s[1]}, rad+s[2]
		if math.Abs(s[0])+math.Abs(s[1])+math.Abs(s[2]) < newtonStep*(1+rad) {
			break
		}
	}
	return c, !math.IsNaN(c.X+c.Y) && rad > 0
}

// solve3 solves three linear equations by elimination with the largest pivot.
func solve3(m [3][4]float64) (x [3]float64, ok bool) {
	for i := range 3 {
		p := i
		for j := i + 1; j < 3; j++ {
			if math.Abs(m[j][i]) > math.Abs(m[p][i]) {
				p = j
			}
		}
		m[i], m[p] = m[p], m[i]
		if math.Abs(m[i][i]) < singular {
			return x, false
		}
		for j := range 3 {
			if j != i {
				f := m[j][i] / m[i][i]
				for k := i; k < 4; k++ {
					m[j][k] -= f * m[i][k]
				}
			}
		}
	}
	for i := range 3 {
		x[i] = m[i][3] / m[i][i]
	}
	return x, true
}
