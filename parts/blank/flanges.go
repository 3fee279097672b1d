package blank

import (
	"corerod/parts/plane"
	"corerod/parts/subject"
)

// Bounds of a flange and of a shelf in the die that can form one.
const (
	flangeShare   = 0.5 // of the part's height
	shelfOverhang = 3.0 // mm, from memory
)

// findFlanges finds the plates beside taller columns: at most half as thick as the part is high, with an edge that is
// free outside. shelves tells by number of a level whether a shelf in the die can form it, a top one if the part were
// turned over.
func (s *shape) findFlanges(ps []plate, l *levels) (out []*subject.Flange, shelves []bool) {
	low, high := s.spanAll()
	void := s.connected(func(c int) bool { return len(s.cells[c].runs) == 0 })
	outside := make([]bool, len(s.cells))
	for c := range outside {
		outside[c] = void[c] >= 0 && void[c] == void[0]
	}
	shelves = make([]bool, len(l.subjects))
	for i := range shelves {
		shelves[i] = true
	}
	for _, p := range ps {
		var f *subject.Flange
		hangs, stands := false, false
		if p.high-p.low <= flangeShare*(high-low)*atShare {
			f, hangs, stands = s.flange(l, p, outside)
		}
		if f != nil {
			small := subject.Snap(f.Overhang) <= subject.Snap(f.Thickness)+atLength && subject.Snap(f.Overhang) <= shelfOverhang+atLength
			hangs, stands = hangs && small, stands && small
			f.DieShelf = hangs
			out = append(out, f)
		}
		for side, can := range map[string]bool{"bottom": hangs, "top": stands} {
			if i := l.of[side][p.cells[0]]; i >= 0 {
				shelves[i] = shelves[i] && can
			}
		}
	}
	return out, shelves
}

// flange measures one plate and tells whether the taller columns beside it all go on below it, or above; nil where none
// stands beside it, or none of its edges is free.
func (s *shape) flange(l *levels, p plate, outside []bool) (f *subject.Flange, hangs, stands bool) {
	in := map[int]bool{}
	for _, c := range p.cells {
		in[c] = true
	}
	var free, tall []plane.Curve
	var owners []int
	hangs, stands = true, true
	for i := range s.overlay.Edges {
		e := &s.overlay.Edges[i]
		c, d := e.Left, e.Right
		if in[d] {
			c, d = d, c
		}
		if !in[c] || in[d] {
			continue
		}
		q, solid := s.cells[d].column()
		switch {
		case !solid && outside[d]:
			free = append(free, e.Curve)
			r, _ := s.cells[c].column()
			owners = append(owners, s.wallOwners(i, c, d, r.lo, r.hi)...)
		case solid && s.full(l, d) > p.high-p.low+sameHeight && s.bottom(q) < p.high && p.low < s.top(q):
			tall = append(tall, e.Curve)
			hangs = hangs && s.bottom(q) < p.low-sameHeight
			stands = stands && s.top(q) > p.high+sameHeight
		}
	}
	if len(free) == 0 || len(tall) == 0 {
		return nil, false, false
	}
	f = &subject.Flange{Thickness: p.high - p.low, Overhang: plane.Farthest(free, tall)}
	f.Ratio = f.Overhang / f.Thickness
	for _, c := range p.cells {
		owners = append(owners, s.faceOwners(c, p.low, "bottom")...)
		owners = append(owners, s.faceOwners(c, p.high, "top")...)
	}
	f.Common = s.common(owners, s.centroid(p.cells), p.low, p.high)
	return f, hangs, stands
}
