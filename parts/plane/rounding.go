package plane

import (
	"errors"
	"fmt"
	"math"
)

// closed rounds the corners, checks that the outline does not cross itself and returns it counter-clockwise.
func closed(l Loop, radii []float64) (Loop, error) {
	if p, crosses := l.crossing(); crosses {
		return nil, fmt.Errorf("the outline crosses or touches itself near (%s, %s)", figure(p.X), figure(p.Y))
	}
	l, err := rounded(l, radii)
	if err != nil {
		return nil, err
	}
	m := l.Moments()
	if math.Abs(m.Area) <= Near*l.Length() {
		return nil, errors.New("the outline encloses no area")
	}
	if p, crosses := l.crossing(); crosses {
		return nil, fmt.Errorf("the outline with its corner radii crosses or touches itself near (%s, %s)", figure(p.X), figure(p.Y))
	}
	if m.Area < 0 {
		l = l.Reversed()
	}
	return l, nil
}

// turnAt is the signed turn of direction from the end of one curve to the start of the next. At a cusp it is a half
// turn, to the left where the curves leave nothing between them on that side.
func turnAt(in, out *Curve) float64 {
	u, v := in.tangent(in.B), out.tangent(out.A)
	t := math.Atan2(u.cross(v), u.dot(v))
	if math.Abs(t) > cusp {
		if -in.curvature() > out.curvature() {
			return math.Pi
		}
		return -math.Pi
	}
	return t
}

// rounded replaces the joint before curve i by an arc of radius radii[i], tangent to both curves.
func rounded(l Loop, radii []float64) (Loop, error) {
	n := len(l)
	type fillet struct {
		arc  Curve
		done bool
	}
	fillets := make([]fillet, n)
	from, to := make([]float64, n), make([]float64, n) // fractions kept of each curve
	for i := range to {
		to[i] = 1
	}
	for i, r := range radii {
		if r <= 0 {
			continue
		}
		k := (i + n - 1) % n
		in, out := &l[k], &l[i]
		if math.Abs(turnAt(in, out)) <= smooth {
			continue
		}
		arc, ok := filletBetween(in, out, r)
		if !ok {
			return nil, fmt.Errorf("corner %s at (%s, %s) does not fit between its two sides", figure(r), figure(out.A.X), figure(out.A.Y))
		}
		to[k], from[i] = in.fraction(arc.A), out.fraction(arc.B)
		fillets[i] = fillet{arc, true}
	}
	var res Loop
	for i := range l {
		if fillets[i].done {
			res = append(res, fillets[i].arc)
		}
		length := l[i].Length()
		left := (to[i] - from[i]) * length
		if left < -Near {
			return nil, fmt.Errorf("the corner radii on the side from (%s, %s) do not fit: they take %s of its %s",
				figure(l[i].A.X), figure(l[i].A.Y), figure((from[i]+1-to[i])*length), figure(length))
		}
		if left > Near {
			res = append(res, l[i].part(from[i], to[i], fillets[i].arc.B, fillets[(i+1)%n].arc.A, fillets[i].done, fillets[(i+1)%n].done))
		}
	}
	for i := range res { // sides that a fillet used up whole leave their ends to be joined
		res[i].B = res[(i+1)%len(res)].A
	}
	return res, nil
}

// part returns the piece of a curve between two fractions, with the given end points where they are set.
func (c *Curve) part(t0, t1 float64, a, b Point, hasA, hasB bool) Curve {
	p := *c
	if hasA {
		p.A = a
	}
	if hasB {
		p.B = b
	}
	if c.IsArc() {
		p.Sweep = c.Sweep * (t1 - t0)
	}
	return p
}

// Spandrel is the area between two curves that meet in a corner and the arc of a radius that is tangent to both; false where none is.
func Spandrel(in, out Curve, r float64) (Loop, bool) {
	arc, ok := filletBetween(&in, &out, r)
	if !ok {
		return nil, false
	}
	from := in.part(in.fraction(arc.A), 1, arc.A, in.B, true, true)
	l := Loop{from, out.part(0, out.fraction(arc.B), in.B, arc.B, true, true), arc.Reversed()}
	if l.Moments().Area < 0 {
		l = l.Reversed()
	}
	return l, true
}

// filletBetween finds the arc of radius r that is tangent to both curves at their common corner, by meeting the two
// curves' offsets.
func filletBetween(in, out *Curve, r float64) (Curve, bool) {
	left := turnAt(in, out) > 0
	side := r
	if !left {
		side = -r
	}
	a, okA := in.offset(side)
	b, okB := out.offset(side)
	if !okA || !okB {
		return Curve{}, false
	}
	corner := out.A
	best, found := Curve{}, false
	least := math.Inf(1)
	for _, c := range carriersMeet(&a, &b) {
		p, q := in.foot(c), out.foot(c)
		t, u := in.fraction(p), out.fraction(q)
		slack := Near / math.Min(in.Length(), out.Length())
		if t < -slack || t > 1+slack || u < -slack || u > 1+slack {
			continue
		}
		if d := c.Distance(corner); d < least {
			least, found = d, true
			best = arcBetween(c, p, q, r, left)
		}
	}
	return best, found
}
