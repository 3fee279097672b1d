package plane

import "math"

// Between returns the least distance between two sets of curves, and where: one point of each.
func Between(a, b []Curve) (d float64, p, q Point) {
	d = math.Inf(1)
	boxes := make([]box, len(b))
	for j := range b {
		boxes[j] = b[j].bounds()
	}
	for i := range a {
		ba := a[i].bounds()
		for j := range b {
			if !ba.meets(boxes[j], d) {
				continue
			}
			if e, u, v := between(&a[i], &b[j]); e < d {
				d, p, q = e, u, v
			}
		}
	}
	return d, p, q
}

// between finds the nearest points of two curves: at an end of one, or where the chord is square to both.
func between(a, b *Curve) (d float64, p, q Point) {
	d = math.Inf(1)
	try := func(u, v Point) {
		if e := u.Distance(v); e < d {
			d, p, q = e, u, v
		}
	}
	for _, u := range [2]Point{a.A, a.B} {
		try(u, b.nearest(u))
	}
	for _, v := range [2]Point{b.A, b.B} {
		try(a.nearest(v), v)
	}
	for _, x := range carriersMeet(a, b) {
		if a.covers(x) && b.covers(x) {
			return 0, x, x
		}
	}
	for _, c := range squareChords(a, b) {
		try(c[0], c[1])
	}
	return d, p, q
}

// squareChords returns the chords between two curves that are square to both, one curve being an arc. Concentric
// arcs and parallel lines have endlessly many and give none.
func squareChords(a, b *Curve) (chords [][2]Point) {
	var u Point
	switch {
	case a.IsArc() && b.IsArc():
		w := b.C.sub(a.C)
		if w.size() <= Near {
			return nil
		}
		u = w.unit()
	case a.IsArc():
		f := b.foot(a.C)
		if !b.covers(f) {
			return nil
		}
		u = b.B.sub(b.A).unit().left()
		for _, s := range [2]float64{1, -1} {
			if p := a.C.along(u, s*a.R); a.covers(p) {
				chords = append(chords, [2]Point{p, f})
			}
		}
		return chords
	case b.IsArc():
		for _, c := range squareChords(b, a) {
			chords = append(chords, [2]Point{c[1], c[0]})
		}
		return chords
	default:
		return nil
	}
	for _, s := range [2]float64{1, -1} {
		p := a.C.along(u, s*a.R)
		if !a.covers(p) {
			continue
		}
		for _, t := range [2]float64{1, -1} {
			if q := b.C.along(u, t*b.R); b.covers(q) {
				chords = append(chords, [2]Point{p, q})
			}
		}
	}
	return chords
}
