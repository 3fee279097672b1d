package measure

import (
	"math"

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

// part makes two of a span at a height at which it is none: what goes on from below, and what goes on from above.
func (y *span) part(z float64) *span {
	q, s, upper := y.path, y.in.s, *y
	inset := beside * (y.high - y.low)
	upper.low, upper.bottom = q.reach(s, &q.found, y.high-inset, z), nil
	y.high, y.top = q.reach(s, &q.found, y.low+inset, z), nil
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
