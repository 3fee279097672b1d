package plane

import (
	"math"
	"slices"
)

// plateau records the stretches of a continuum of chords whose circles are empty. at gives the chord at a
// parameter; stops divides the parameter where that can change; length is the medial length of one unit, and medial
// gives the medial line between two parameters.
func (s *necks) plateau(i, j int, void bool, stops []float64, length float64, allowed func(float64) bool, at func(float64) Chord,
	medial func(lo, hi float64) Curve) {
	slices.Sort(stops)
	begin, open := 0.0, false
	flush := func(end float64) {
		if !open {
			return
		}
		open = false
		m := at((begin + end) / 2)
		s.found = append(s.found, Neck{Width: m.P.Distance(m.Q), Length: (end - begin) * length, P: m.P, Q: m.Q, I: i, J: j,
			Void: void, Ends: [2]Chord{at(begin), at(end)}, Medial: []Curve{medial(begin, end)}})
	}
	for k := 0; k+1 < len(stops); k++ {
		lo, hi := stops[k], stops[k+1]
		if (hi-lo)*length < shortest {
			continue
		}
		t := (lo + hi) / 2
		c := at(t)
		if !allowed(t) || !s.index().free(c.P.mid(c.Q), c.P.Distance(c.Q)/2-touching) {
			flush(lo)
		} else if !open {
			begin, open = lo, true
		}
	}
	if len(stops) > 0 {
		flush(stops[len(stops)-1])
	}
}

// parallel adds the plateau between two parallel lines that face each other.
func (s *necks) parallel(i, j int) {
	a, b := &s.pieces[i].Curve, &s.pieces[j].Curve
	u := a.B.sub(a.A).unit()
	h := b.A.mid(b.B).sub(a.A).dot(u.left())
	t0, t1 := b.A.sub(a.A).dot(u), b.B.sub(a.A).dot(u)
	lo, hi := math.Max(0, math.Min(t0, t1)), math.Min(a.Length(), math.Max(t0, t1))
	if hi-lo < shortest || math.Abs(h) <= Near || s.passes(math.Abs(h), h < 0) || u.dot(b.B.sub(b.A)) > 0 {
		return
	}
	n := u.left().scale(h)
	at := func(t float64) Chord {
		p := a.A.along(u, t)
		return Chord{p, p.add(n)}
	}
	between := func(lo, hi float64) Curve { return Line(at(lo).P.mid(at(lo).Q), at(hi).P.mid(at(hi).Q)) }
	medial := between(lo, hi)
	if s.index().distance(medial.At(0.5)) < math.Abs(h)/2-(hi-lo)/2-touching {
		return // blocked all along: the room about a point changes no faster than the point moves
	}
	stops := []float64{lo, hi}
	for _, p := range s.stops(&medial, math.Abs(h)/2) {
		if t := p.sub(a.A).dot(u); t > lo && t < hi {
			stops = append(stops, t)
		}
	}
	s.plateau(i, j, h < 0, stops, 1, func(float64) bool { return true }, at, between)
}

// concentric adds the plateau between two concentric arcs that face each other.
func (s *necks) concentric(i, j int) {
	a, b := &s.pieces[i].Curve, &s.pieces[j].Curve
	w := math.Abs(a.R - b.R)
	if w <= Near || a.Sweep*b.Sweep > 0 {
		return
	}
	at := func(t float64) Chord {
		u := toward(t)
		return Chord{a.C.along(u, a.R), b.C.along(u, b.R)}
	}
	void := (a.R < b.R) == (a.Sweep > 0) // the larger circle runs counter-clockwise round material
	if s.passes(w, void) {
		return
	}
	r := (a.R + b.R) / 2
	medial := *a
	if math.Abs(b.Sweep) < math.Abs(a.Sweep) {
		medial = *b
	}
	medial = Arc(a.C, r, medial.A.sub(a.C).angle(), medial.Sweep)
	if s.index().distance(medial.At(0.5)) < w/2-medial.Length()/2-touching {
		return // blocked all along: the room about a point changes no faster than the point moves
	}
	points := append(s.stops(&medial, w/2), a.A, a.B, b.A, b.B)
	full := 2 * math.Pi
	stops := []float64{0, full}
	for _, p := range points {
		t := p.sub(a.C).angle()
		if t < 0 {
			t += full
		}
		stops = append(stops, t)
	}
	both := func(t float64) bool {
		c := at(t)
		f, g := a.fraction(c.P), b.fraction(c.Q)
		return f >= 0 && f <= 1 && g >= 0 && g <= 1
	}
	s.plateau(i, j, void, stops, r, both, at, func(lo, hi float64) Curve { return Arc(a.C, r, lo, hi-lo) })
}

// stops returns the points of the medial line or circle where a circle of radius r that runs along it can begin or
// cease to touch another piece: where the medial curve meets the pieces' offsets and the circles about their ends.
func (s *necks) stops(medial *Curve, r float64) (ps []Point) {
	s.index().search(func(d Disc) bool { return medial.Distance(d.C) <= r+d.R+Near }, func(k int) {
		c := &s.pieces[k].Curve
		around := Arc(c.A, r, 0, math.Pi)
		ps = append(ps, carriersMeet(medial, &around)...)
		for _, d := range [2]float64{r, -r} {
			if o, ok := c.offset(d); ok {
				ps = append(ps, carriersMeet(medial, &o)...)
			}
		}
	})
	return ps
}
