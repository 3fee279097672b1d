package measure

import (
	"math"
	"slices"

	"corerod/parts/blank"
	"corerod/parts/plane"
)

// breaks are where between two stations something else comes between the sides of a neck that both stations show, and goes again: all
// pieces of the section half way are followed.
type breaks struct {
	x     *section
	ring  movingRing // all of its pieces
	reach float64    // how far one moves in plan, at the most
	meet  bool       // walls of which one leans meet: their corners may move fast beside a station
}

// newBreaks is for the stretch whose lower half is slab k; nil where nothing is between.
func newBreaks(s *blank.Shape, k int) *breaks {
	r, z := s.Middle(k)
	if r == nil {
		return nil
	}
	x := &section{s: s, slab: k, middle: true, z: z, pieces: r.Pieces()}
	b := &breaks{x: x, ring: movingRing{x: x}}
	for i, p := range x.pieces {
		before := x.beforeOf(i)
		b.ring.pieces = append(b.ring.pieces, movingPiece{Piece: p, number: i, before: before, after: p.Next})
		if o := x.pieces[before].Owner; o != p.Owner {
			for _, piece := range [2]int{before, i} {
				side := x.side(piece, x.pieces[piece].Curve.At(0.5))
				leans, _ := side.Leans(s.Low(k), s.High(k))
				b.meet = b.meet || leans
			}
		}
	}
	for i := range x.pieces {
		side := &b.ring.piece(i).side
		if leans, _ := side.Leans(s.Low(k), s.High(k)); !leans {
			continue
		}
		c := side.At(z)
		for _, end := range [2]float64{s.Low(k), s.High(k)} {
			d := side.At(end)
			b.reach = math.Max(b.reach, math.Abs(c.LeftOf(d.At(0.5))))
		}
	}
	return b
}

// in is a height at which the path of a span is no neck since something is nearer to its middle than its ends; false where there is none.
func (b *breaks) in(y *span) (z float64, is bool) {
	const looks = 8
	if y.path == nil || b == nil || b.reach == 0 || y.path.sliding(&y.path.found) || y.path.along != nil {
		return 0, false
	}
	at := func(t float64) float64 { return y.low + t*(y.high-y.low) }
	var necks [looks + 1]plane.Neck
	for k := range necks {
		n, ok := y.path.at(at(float64(k)/looks), &y.path.found)
		if !ok {
			return 0, false
		}
		necks[k] = n
	}
	for i := range b.ring.pieces {
		c := &b.ring.pieces[i].Curve
		if middle := &necks[looks/2]; c.Distance(middle.Middle()) > middle.Width/2+3*b.reach {
			continue
		}
		room := func(t float64, n *plane.Neck) float64 {
			c := b.ring.curve(i, at(t))
			return c.Distance(n.Middle()) - n.Width/2
		}
		var rooms [looks + 1]float64
		for k := range rooms {
			rooms[k] = room(float64(k)/looks, &necks[k])
		}
		for k := 1; k < looks; k++ {
			before, here, after := rooms[k-1], rooms[k], rooms[k+1]
			if here > before || here > after || here-(before+after-2*here)/2 > -10*plane.Near {
				continue // between the three it may fall by some of what it bends
			}
			t, least := blank.LeastBeside(func(t float64) float64 {
				n, _ := y.path.at(at(t), &y.path.found)
				return room(t, &n)
			}, float64(k-1)/looks, float64(k+1)/looks)
			if least < -10*plane.Near && !y.path.holds(b.x.s, &y.path.found, at(t)) {
				return at(t), true
			}
		}
	}
	return 0, false
}

// looksForWays is the number of heights of a stretch at which begun looks.
const looksForWays = 12

// begun are heights, one of each stretch, at which the way from a corner where two walls meet to another corner, or to a side, may be a
// neck that none of some known ones is: it is empty, and leads away from all that is beside its ends. Teeth have measures of their own.
func (b *breaks) begun(known []*span) (zs []float64) {
	if b == nil || !b.meet || b.reach == 0 {
		return nil
	}
	low, high := b.x.s.Low(b.x.slab), b.x.s.High(b.x.slab)
	at := func(k int) float64 { return low + (float64(k)+0.5)/looksForWays*(high-low) }
	var sections [looksForWays]func(piece int) plane.Curve
	for k := range sections {
		var all []plane.Curve
		for i := range b.ring.pieces {
			all = append(all, b.ring.curve(i, at(k)))
		}
		sections[k] = func(piece int) plane.Curve { return all[piece] }
	}
	toothed := func(i int) bool { return toothedWall(b.x.s, b.x.wall(i)) }
	for i := range b.ring.pieces {
		if toothed(i) || toothed(b.ring.pieces[i].before) || !b.meets(i) {
			continue
		}
		for j := range b.ring.pieces {
			if toothed(j) {
				continue
			}
			for _, corner := range [2]bool{true, false} {
				for _, k := range b.ways(i, j, corner, &sections) {
					if c, _ := b.way(i, j, corner, sections[k]); b.empty(c, sections[k]) && !isKnown(known, at(k), c) {
						zs = append(zs, at(k))
					}
				}
			}
		}
	}
	slices.Sort(zs)
	return slices.Compact(zs)
}

// ways are the sections, of some, in which the way from the corner at piece i to that at piece j, or to its side, may be a neck: of each
// stretch of them the one in which it leads furthest away from what is beside.
func (b *breaks) ways(i, j int, corner bool, sections *[looksForWays]func(piece int) plane.Curve) (all []int) {
	var most [looksForWays]float64
	for k := range most {
		_, most[k] = b.way(i, j, corner, sections[k])
	}
	for k, v := range most {
		if v < -wideEnough && (k == 0 || v < most[k-1]) && (k+1 == len(most) || v <= most[k+1]) {
			all = append(all, k)
		}
	}
	return all
}

// empty tells whether nothing is nearer to the middle of a chord of a section than its ends.
func (b *breaks) empty(c plane.Chord, section func(piece int) plane.Curve) bool {
	middle, r := plane.Point{X: mean(c.P.X, c.Q.X), Y: mean(c.P.Y, c.Q.Y)}, c.P.Distance(c.Q)/2
	for i := range b.ring.pieces {
		if o := section(i); o.Distance(middle) < r-plane.Near {
			return false
		}
	}
	return true
}

// isKnown tells whether one of some spans is a chord at a height.
func isKnown(known []*span, z float64, c plane.Chord) bool {
	return slices.ContainsFunc(known, func(y *span) bool {
		if y.path == nil || z < y.low || z > y.high {
			return false
		}
		n, ok := y.path.at(z, &y.path.found)
		return ok && sameNeck(&n, &plane.Neck{Width: c.P.Distance(c.Q), P: c.P, Q: c.Q, Ends: [2]plane.Chord{c, c}})
	})
}

// meets tells whether a piece begins in a corner of two walls of which one leans.
func (b *breaks) meets(i int) bool {
	p, before := b.ring.piece(i), b.ring.piece(b.ring.pieces[i].before)
	if before.Owner == p.Owner {
		return false
	}
	low, high := b.x.s.Low(b.x.slab), b.x.s.High(b.x.slab)
	a, _ := p.side.Leans(low, high)
	c, _ := before.side.Leans(low, high)
	return a || c
}

// way is that in a section from the corner in which piece i begins to that of piece j, or to the nearest place of it, and the most, mm, by
// which it leads towards something beside its ends: well below zero it may be a neck, other than between parallel sides.
func (b *breaks) way(i, j int, corner bool, section func(piece int) plane.Curve) (c plane.Chord, most float64) {
	most = math.Inf(-1)
	from := func(i int, p, q plane.Point) { // away from p, where piece i begins, what is beside leads no nearer to q
		after, before := section(i), section(b.ring.pieces[i].before)
		u, v := after.Tangent(p), before.Tangent(p)
		most = math.Max(most, math.Max((q.X-p.X)*u.X+(q.Y-p.Y)*u.Y, (p.X-q.X)*v.X+(p.Y-q.Y)*v.Y))
	}
	first, second := section(i), section(j)
	c.P, c.Q = first.A, second.A
	switch {
	case corner && (i < j || !b.meets(j)) && i != j:
		from(j, c.Q, c.P)
	case corner, j == i, j == b.ring.pieces[i].before:
		return c, math.Inf(1)
	default:
		c.Q = second.Foot(c.P)
		inside := math.Min(c.Q.Distance(second.A), c.Q.Distance(second.B))
		if !second.Covers(c.Q) {
			return c, inside
		}
		most = -inside
	}
	from(i, c.P, c.Q)
	return c, most
}

// part makes two of a span at a height at which it is none: what goes on from below, and what goes on from above.
func (y *span) part(z float64) *span {
	q, s, upper := y.path, y.in.s, *y
	inset := beside * (y.high - y.low)
	upper.low, upper.bottom = q.squareBefore(q.reach(s, &q.found, y.high-inset, z), y.high-inset, &q.found), nil
	y.high, y.top = q.squareBefore(q.reach(s, &q.found, y.low+inset, z), y.low+inset, &q.found), nil
	for _, x := range [2]*span{y, &upper} {
		end := x.low
		if x == &upper {
			end = x.high
		}
		comes := q.width(end) <= 10*plane.Near
		x.runsOut, x.edge = x.runsOut && comes, x.edge && comes
		x.neck, _ = q.at(end, &q.found)
		x.area = q.area(x.low, x.high)
		low, _ := q.at(x.low, &q.found)
		high, _ := q.at(x.high, &q.found)
		x.thin(s, &q.found, [2]plane.Neck{low, high}, [2][]plane.Neck{})
	}
	return &upper
}
