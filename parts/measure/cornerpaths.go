package measure

import (
	"math"
	"slices"

	"corerod/parts/blank"
	"corerod/parts/plane"
)

// movingRing is one ring of a section, whose pieces move alike between the two stations that it lies between.
type movingRing struct {
	x      *section
	pieces []movingPiece // of some length, in order
}

// movingPiece is the piece of a ring that lies on one side.
type movingPiece struct {
	plane.Piece // half way
	number      int
	before      int // the pieces beside it
	after       int
	*course     // of a section between stations, once it is asked for
}

// course is how a piece moves.
type course struct {
	side       blank.Side
	reversed   bool // the piece runs against it
	start, end joint
}

// joint is where one side of a section goes over into the next.
type joint struct {
	sides [2]blank.Side
	which int         // of the points in which they cross
	at    plane.Point // half way
	stays bool        // they do not cross there, as two that are one line
}

// jointOf is the joint at the start of a piece.
func (x *section) jointOf(before, piece int) joint {
	p := x.pieces[piece].Curve.A
	j := joint{at: p, sides: [2]blank.Side{x.side(before, x.pieces[before].Curve.At(0.5)), x.side(piece, x.pieces[piece].Curve.At(0.5))}}
	least := math.Inf(1)
	for which := range 2 {
		if c, ok := blank.Corner(j.sides[0], j.sides[1], which, x.z); ok && c.Distance(p) < least {
			least, j.which = c.Distance(p), which
		}
	}
	j.stays = least > 10*plane.Near
	return j
}

// place is the joint at a height.
func (j *joint) place(z float64) plane.Point {
	if !j.stays {
		if p, ok := blank.Corner(j.sides[0], j.sides[1], j.which, z); ok {
			return p
		}
	}
	return j.at
}

// outside are the cells on the other side of two pieces where they meet.
func (x *section) outside(before, after *plane.Piece) [2]int {
	if !x.middle {
		return [2]int{before.Last, after.Outer}
	}
	in, _ := x.outer(&before.Curve, 1-beside)
	out, _ := x.outer(&after.Curve, beside)
	return [2]int{in, out}
}

// rings are the rings of a section. Edges of some micrometres, the trace of rounded drawing numbers, are left out.
func (x *section) rings(r *plane.Region) (all []*movingRing) {
	number := 0
	for i := range r.Rings {
		ps := r.Rings[i].Pieces
		m := &movingRing{x: x}
		for k, p := range ps {
			if p.Curve.Length() < plane.Thin-plane.Near {
				continue
			}
			before, after := number+(k+len(ps)-1)%len(ps), number+(k+1)%len(ps)
			m.pieces = append(m.pieces, movingPiece{Piece: p, number: number + k, before: before, after: after})
		}
		number += len(ps)
		if len(m.pieces) > 1 {
			all = append(all, m)
		}
	}
	return all
}

// alone is one piece of a section as a ring by itself.
func (x *section) alone(i int) *movingRing {
	p := movingPiece{Piece: x.pieces[i], number: i, before: x.beforeOf(i), after: x.pieces[i].Next}
	return &movingRing{x: x, pieces: []movingPiece{p}}
}

// passing tells whether between a piece and the next one was left out in a stretch of height that is itself no higher than such an edge:
// what is beside it there is on its way to another corner.
func (m *movingRing) passing(i int) bool {
	s, k := m.x.s, m.x.slab
	return m.x.middle && s.High(k)-s.Low(k) < plane.Thin && m.pieces[i].after != m.pieces[(i+1)%len(m.pieces)].number
}

// piece is one of the ring, with how it moves.
func (m *movingRing) piece(i int) *movingPiece {
	p := &m.pieces[i%len(m.pieces)]
	if x := m.x; x.middle && p.course == nil {
		at := p.Curve.At(0.5)
		p.course = &course{side: x.side(p.number, at), start: x.jointOf(p.before, p.number), end: x.jointOf(p.number, p.after)}
		c := p.side.At(x.z)
		u, v := p.Curve.Tangent(at), c.Tangent(at)
		p.reversed = u.X*v.X+u.Y*v.Y < 0
	}
	return p
}

// curve is a piece of the ring at a height.
func (m *movingRing) curve(i int, z float64) plane.Curve {
	p := m.piece(i)
	if !m.x.middle {
		return p.Curve
	}
	c, a, b := p.side.At(z), p.start.place(z), p.end.place(z)
	if p.reversed {
		c = c.Reversed()
	}
	switch {
	case !c.IsArc():
		return plane.Line(a, b)
	case a.Distance(b) <= plane.Near && math.Abs(p.Curve.Sweep) < math.Pi:
		return plane.Curve{A: a, B: b, C: c.C, R: c.R} // nothing is left of it
	}
	return plane.ArcBetween(c.C, a, b, c.R, c.Sweep > 0)
}

// turn is that at the start of a piece at a height, to the left positive.
func (m *movingRing) turn(i int, z float64) float64 {
	n := len(m.pieces)
	p, q := m.piece(i+n-1), m.piece(i)
	if !m.x.middle {
		return plane.TurnBetween(&p.Curve, &q.Curve)
	}
	if p.vanishes(z) || q.vanishes(z) { // a circle that shrinks to a point crosses another squarely there, whichever way it did before
		z += math.Copysign(besideTip, m.x.z-z)
	}
	at := q.start.place(z)
	u, v := p.direction(at, q.start.at, z), q.direction(at, q.start.at, z)
	turn := math.Atan2(u.X*v.Y-u.Y*v.X, u.X*v.X+u.Y*v.Y)
	if half := plane.TurnBetween(&p.Curve, &q.Curve); math.Abs(turn-half) > math.Pi {
		turn += math.Copysign(2*math.Pi, half) // past a half turn
	}
	return turn
}

// vanishes tells whether nothing is left at a height of the circle that a piece is on.
func (p *movingPiece) vanishes(z float64) bool {
	c := p.side.At(z)
	return c.IsArc() && c.R <= plane.Near
}

// direction is that of a piece in an end of it at a height: half way it is at another place. A line keeps it, and so does what is left
// of an arc that vanishes.
func (p *movingPiece) direction(at, half plane.Point, z float64) plane.Point {
	c := p.side.At(z)
	if !c.IsArc() || c.R <= noRadius {
		return p.Curve.Tangent(half)
	}
	t := c.Tangent(at)
	if p.reversed {
		return plane.Point{X: -t.X, Y: -t.Y}
	}
	return t
}

// tip is a corner or the thin end of something at one height.
type tip struct {
	at     plane.Point
	turn   float64 // to the left positive
	radius float64
}

// tipAt finds a tip of a ring, by the piece that it begins with, at a height.
type tipAt func(m *movingRing, i int, z float64) tip

// sharpTip is where one piece goes over into the next.
func sharpTip(m *movingRing, i int, z float64) tip {
	q := m.piece(i + 1)
	at := q.Curve.A
	if m.x.middle {
		at = q.start.place(z)
	}
	return tip{at: at, turn: m.turn(i+1, z)}
}

// roundedTip is an arc between two pieces.
func roundedTip(m *movingRing, i int, z float64) tip {
	c := m.curve(i+1, z)
	return tip{at: c.At(0.5), turn: c.Sweep, radius: c.R}
}

// bluntedTip is a short edge between two pieces: its turn, and the radius of the arc that would touch both over the same width.
func bluntedTip(m *movingRing, i int, z float64) tip {
	c := m.curve(i+1, z)
	t := tip{at: c.At(0.5), turn: m.turn(i+1, z) + m.turn(i+2, z) + c.Sweep}
	t.radius = c.A.Distance(c.B) / (2 * math.Sin(math.Abs(t.turn)/2))
	return t
}

// follow follows a tip from one station to the next.
func (m *movingRing) follow(find tipAt, i, pieces int) *foundCorner {
	x := m.x
	f := &foundCorner{low: x.s.Low(x.slab), high: x.s.High(x.slab)}
	moves, bends := false, false
	for k := range pieces {
		p := m.piece(i + k)
		f.walls = append(f.walls, x.wall(p.number))
		if !x.middle {
			continue
		}
		leans, curved := p.side.Leans(f.low, f.high)
		moves, bends = moves || leans, bends || curved || p.Curve.IsArc()
		f.slopes = append(f.slopes, p.side.Slope())
	}
	slices.Sort(f.walls)
	f.walls = slices.Compact(f.walls)
	f.joint = len(f.walls) > 1
	f.bottom = find(m, i, f.low)
	f.top, f.tip = f.bottom, f.bottom
	if !x.middle || !moves {
		return f
	}
	f.top, f.tip = find(m, i, f.high), find(m, i, x.z) // half way: at an end of a slope corners may come together
	f.sharpen(f.bottom)
	f.sharpen(f.top)
	if bends {
		at := func(t float64) tip { return find(m, i, f.low+t*(f.high-f.low)) }
		t, _ := blank.LeastAlong(func(t float64) float64 { return at(t).radius })
		f.sharpen(at(t))
		t, _ = blank.LeastAlong(func(t float64) float64 { return -math.Abs(at(t).turn) })
		f.sharpen(at(t))
	}
	return f
}

// sharpen takes another height of the same corner where its radius is less, or else its turn sharper.
func (f *foundCorner) sharpen(t tip) {
	if t.radius < f.radius-plane.Near || t.radius < f.radius+plane.Near && math.Abs(t.turn) > math.Abs(f.turn)+sameTurn {
		f.tip = t
	}
}

// followed finds corners on the rings of all sections; the same one in stretches of height that touch is one, where its radius is
// least, or else its turn sharpest, the lowest of several.
func followed(s *blank.Shape, find func(m *movingRing) []*foundCorner) (all []*foundCorner) {
	for k := range s.Slabs() {
		x, r := sectionOfSlab(s, k), s.Region(k)
		if s.Half(k) > 0 {
			continue // with the lower half
		}
		if s.Half(k) < 0 {
			m, z := s.Middle(k)
			if m == nil {
				continue
			}
			x, r = &section{s: s, slab: k, middle: true, z: z, pieces: m.Pieces()}, m
		}
		below := len(all)
		for _, m := range x.rings(r) {
			for _, c := range find(m) {
				j := slices.IndexFunc(all[:below], func(o *foundCorner) bool { return o.goesOnAs(c) })
				if j < 0 {
					c.endsSharp = c.sharp
					all = append(all, c)
					continue
				}
				all[j].add(c)
			}
		}
	}
	return all
}

// goesOnAs tells whether a corner ends where another begins: a sharp one also where a draft has taken a radius away.
func (f *foundCorner) goesOnAs(c *foundCorner) bool {
	return math.Abs(f.high-c.low) <= blank.SameHeight && f.top.at.Distance(c.bottom.at) <= 2*plane.Near &&
		math.Abs(f.top.turn-c.bottom.turn) < sameTurn && math.Abs(f.top.radius-c.bottom.radius) <= 2*plane.Near &&
		f.joint == c.joint && (f.endsSharp == c.sharp || math.Max(f.top.radius, c.bottom.radius) <= 2*plane.Near)
}

// add puts a corner on top of one that goes on as it.
func (f *foundCorner) add(c *foundCorner) {
	f.sharpen(c.tip)
	f.high, f.top, f.room, f.inKey, f.sharp = c.high, c.top, math.Min(f.room, c.room), f.inKey || c.inKey, f.sharp || c.sharp
	f.endsSharp = c.sharp
	f.walls = append(f.walls, c.walls...)
}
