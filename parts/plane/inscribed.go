package plane

import (
	"container/heap"
	"math"
)

// Disc is a circle with its inside.
type Disc struct {
	C Point
	R float64
}

// Inscribed returns the largest disc that fits the region. Where several are equal it returns one of them.
//
// A search over squares finds the disc to a thousandth; then the pieces it nearly touches fix it in closed form or
// by Newton's method, to rounding.
func (r *Region) Inscribed() Disc {
	best := Disc{}
	try := func(c Point) {
		if d := r.tree.distance(c); d > best.R && r.Contains(c) {
			best = Disc{c, d}
		}
	}
	if len(r.pieces) == 0 {
		return best
	}
	for i := range r.pieces {
		if c := &r.pieces[i].Curve; c.IsArc() && c.Sweep > 0 {
			try(c.C)
		}
	}
	try(r.Moments().Centroid())
	best = r.searchSquares(best)
	for range 4 {
		d, better := r.settle(best)
		if !better {
			break
		}
		best = d
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

// searchSquares divides the region's box until no square can beat the best disc by more than a thousandth.
func (r *Region) searchSquares(best Disc) Disc {
	b := r.pieces[0].Curve.bounds()
	for i := range r.pieces {
		b = b.join(r.pieces[i].Curve.bounds())
	}
	half := math.Max(b.hi.X-b.lo.X, b.hi.Y-b.lo.Y) / 2
	var q squares
	push := func(c Point, half float64) {
		d := r.tree.distance(c)
		if !r.Contains(c) {
			d = -d
		}
		if d > best.R {
			best = Disc{c, d}
		}
		if most := d + half*math.Sqrt2; most > best.R*1.001+Near {
			heap.Push(&q, square{c, half, most})
		}
	}
	push(b.lo.mid(b.hi), half)
	for len(q) > 0 {
		s := heap.Pop(&q).(square)
		if s.most <= best.R*1.001+Near {
			break
		}
		h := s.half / 2
		for _, d := range [4]Point{{-h, -h}, {h, -h}, {-h, h}, {h, h}} {
			push(s.c.add(d), h)
		}
	}
	return best
}

// settle moves the disc to touch two or three of the pieces near it exactly.
func (r *Region) settle(from Disc) (Disc, bool) {
	var near []int
	limit := from.R*1.02 + 10*Near
	r.tree.visit(from.C, limit, func(i int) float64 {
		if r.pieces[i].Curve.distance(from.C) < limit {
			near = append(near, i)
		}
		return limit
	})
	const most = 10
	if len(near) > most {
		near = near[:most]
	}
	best, better := from, false
	try := func(c Point) {
		if c.Distance(from.C) > from.R/2 {
			return
		}
		if d := r.tree.distance(c); d > best.R+1e-13 && r.Contains(c) {
			best, better = Disc{c, d}, true
		}
	}
	for x, i := range near {
		a := &r.pieces[i].Curve
		for y, j := range near[x+1:] {
			b := &r.pieces[j].Curve
			for _, c := range touching2(a, b, from.C) {
				try(c)
			}
			for _, k := range near[x+y+2:] {
				if c, ok := touching3(a, b, &r.pieces[k].Curve, from); ok {
					try(c)
				}
			}
		}
	}
	return best, better
}

// touching2 returns centres of discs that touch two pieces at opposite points: in the middle of a chord square to
// both, near c where there are endlessly many.
func touching2(a, b *Curve, c Point) (cs []Point) {
	for _, ch := range squareChords(a, b) {
		cs = append(cs, ch[0].mid(ch[1]))
	}
	for range 8 {
		m := a.nearest(c).mid(b.nearest(c))
		if m.Distance(c) < 1e-14 {
			break
		}
		c = m
	}
	return append(cs, c)
}

// touching3 finds the centre equally far from three pieces, by Newton's method on distance minus radius.
func touching3(a, b, d *Curve, from Disc) (Point, bool) {
	c, rad := from.C, from.R
	for range 40 {
		var m [3][4]float64
		for i, p := range [3]*Curve{a, b, d} {
			q := p.nearest(c)
			w := c.sub(q)
			e := w.size()
			if e < 1e-12 {
				return c, false
			}
			m[i] = [4]float64{w.X / e, w.Y / e, -1, rad - e}
		}
		s, ok := solve3(m)
		if !ok {
			return c, false
		}
		c, rad = Point{c.X + s[0], c.Y + s[1]}, rad+s[2]
		if math.Abs(s[0])+math.Abs(s[1])+math.Abs(s[2]) < 1e-14*(1+rad) {
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
		if math.Abs(m[i][i]) < 1e-12 {
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
