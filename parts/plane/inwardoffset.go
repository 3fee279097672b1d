package plane

import (
	"fmt"
	"math"
)

// Inward moves every side of a closed, counter-clockwise outline inward by d: lines and circles stay such, convex
// radii shrink, re-entrant ones grow, and sharp corners stay sharp. A side or radius that vanishes on the way, and
// sides that come to cross, are errors.
func (l Loop) Inward(d float64) (Loop, error) {
	if d == 0 {
		return l, nil
	}
	n := len(l)
	moved := make(Loop, n)
	for i := range l {
		c, ok := l[i].offset(d)
		if !ok {
			return nil, fmt.Errorf("its radius %s vanishes: the wall leans by %s there", figure(l[i].R), figure(d))
		}
		moved[i] = c
	}
	joints := make([]Point, n) // before curve i
	for i := range l {
		in, out := (i+n-1)%n, i
		p, ok := joint(&l[in], &l[out], &moved[in], &moved[out])
		if !ok {
			return nil, l.vanishes(in, d)
		}
		joints[i] = p
	}
	for i := range moved {
		c, a, b := &moved[i], joints[i], joints[(i+1)%n]
		if c.IsArc() {
			whole := math.Abs(l[i].Sweep) > math.Pi
			arc := arcBetween(c.C, a, b, c.R, c.Sweep > 0)
			if a.Distance(b) <= Near || (math.Abs(arc.Sweep) > overHalf) != whole && math.Abs(arc.Sweep-l[i].Sweep) > 1 {
				return nil, l.vanishes(i, d)
			}
			moved[i] = arc
			continue
		}
		if b.sub(a).dot(c.B.sub(c.A)) <= Near*c.Length() {
			return nil, l.vanishes(i, d)
		}
		moved[i] = Line(a, b)
	}
	if p, crosses := moved.crossing(); crosses {
		return nil, fmt.Errorf("its sides meet near (%s, %s): the wall leans by %s there", figure(p.X), figure(p.Y), figure(d))
	}
	return moved, nil
}

func (l Loop) vanishes(i int, d float64) error {
	return fmt.Errorf("its side from (%s, %s) to (%s, %s) vanishes: the wall leans by %s there",
		figure(l[i].A.X), figure(l[i].A.Y), figure(l[i].B.X), figure(l[i].B.Y), figure(d))
}

// joint is where two neighbours meet once they are moved: the point nearest to where their common point was moved.
func joint(in, out, movedIn, movedOut *Curve) (Point, bool) {
	if turn := turnAt(in, out); math.Abs(turn) <= smooth {
		return movedIn.B.mid(movedOut.A), true
	}
	best, least := Point{}, math.Inf(1)
	for _, p := range carriersMeet(movedIn, movedOut) {
		if d := p.Distance(out.A); d < least {
			best, least = p, d
		}
	}
	return best, !math.IsInf(least, 1)
}

// JointAt is where curve i of an outline begins once every side has moved to its left by d, as Inward moves them; where a radius
// has vanished that is its centre.
func (l Loop) JointAt(i int, d float64) Point {
	in, out := &l[(i+len(l)-1)%len(l)], &l[i]
	if !in.IsArc() && !out.IsArc() {
		u, v := in.B.sub(in.A).unit().left(), out.B.sub(out.A).unit().left()
		if both := 1 + u.dot(v); both > smooth {
			return out.A.along(u.add(v), d/both)
		}
	}
	a, ok := in.offset(d)
	if !ok {
		return in.C
	}
	b, ok := out.offset(d)
	if !ok {
		return out.C
	}
	if p, ok := joint(in, out, &a, &b); ok {
		return p
	}
	return a.B.mid(b.A)
}
