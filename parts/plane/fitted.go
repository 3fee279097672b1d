package plane

import "math"

// Fit is a smooth curve as lines and arcs: at gives its points and unit directions from lo to hi. It is halved until no point of
// it that was looked at lies further than an error from the pair of arcs that is tangent to it at both ends.
func Fit(at func(t float64) (p, toward Point), lo, hi, within float64) []Curve {
	p, u := at(lo)
	q, v := at(hi)
	return fit(at, lo, hi, [2]Point{p, q}, [2]Point{u, v}, within, mostHalvings)
}

// mostHalvings ends the halving of what is no smooth curve.
const mostHalvings = 12

func fit(at func(t float64) (p, toward Point), lo, hi float64, ends, directions [2]Point, within float64, more int) []Curve {
	switch d := ends[0].Distance(ends[1]); {
	case d <= Near:
		return nil
	case d <= 10*Near: // no smooth curve leaves its chord over so short a way
		return []Curve{Line(ends[0], ends[1])}
	}
	samples := [5]Point{}
	for i, f := range [5]float64{0.11, 0.31, 0.5, 0.69, 0.89} {
		samples[i], _ = at(lo + f*(hi-lo))
	}
	chord := []Curve{Line(ends[0], ends[1])}
	if fits(chord, samples, within/2) {
		return chord
	}
	if arcs := tangentArcs(ends[0], directions[0], ends[1], directions[1]); more == 0 || fits(arcs, samples, within/2) {
		return arcs
	}
	mid := (lo + hi) / 2
	p, u := at(mid)
	switch { // the rest begins or ends where the whole does: a vertex a nanometre from there would be taken for it
	case p.Distance(ends[0]) <= 10*Near:
		return fit(at, mid, hi, ends, directions, within, more-1)
	case p.Distance(ends[1]) <= 10*Near:
		return fit(at, lo, mid, ends, directions, within, more-1)
	}
	return append(fit(at, lo, mid, [2]Point{ends[0], p}, [2]Point{directions[0], u}, within, more-1),
		fit(at, mid, hi, [2]Point{p, ends[1]}, [2]Point{u, directions[1]}, within, more-1)...)
}

// fits tells whether points lie no further than an error from some curves.
func fits(cs []Curve, ps [5]Point, within float64) bool {
	for _, p := range ps {
		off := math.Inf(1)
		for i := range cs {
			off = math.Min(off, cs[i].Distance(p))
		}
		if off > within {
			return false
		}
	}
	return true
}

// tangentArcs are the pair of arcs from p to q that leaves and arrives in two directions and is tangent where they meet, with tangents of
// one length at both ends; a line where it is straight.
func tangentArcs(p, u, q, v Point) []Curve {
	w := q.sub(p)
	if math.Abs(w.cross(u)) <= FitError && math.Abs(w.cross(v)) <= FitError && u.dot(v) > 0 {
		return []Curve{Line(p, q)}
	}
	sum, bend := w.dot(u.add(v)), 2*(1-u.dot(v))
	d := w.dot(w) / (sum + math.Sqrt(sum*sum+bend*w.dot(w)))
	m := p.add(q).add(u.sub(v).scale(d)).scale(0.5)
	second := arcFrom(q, v.scale(-1), m)
	return []Curve{arcFrom(p, u, m), second.Reversed()}
}

// arcFrom is the arc from p that leaves in a direction and arrives at q; a line where it is straight.
func arcFrom(p, u, q Point) Curve {
	w := q.sub(p)
	lean := u.cross(w)
	if math.Abs(lean) <= parallel*w.size() {
		return Line(p, q)
	}
	r := w.dot(w) / (2 * lean)
	return arcBetween(p.along(u.left(), r), p, q, math.Abs(r), r > 0)
}
