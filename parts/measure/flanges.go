package measure

import (
	"math"

	"corerod/parts/blank"
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
func findFlanges(s *blank.Shape, ps []plate, l *levels) (out []*subject.Flange, shelves []bool) {
	low, high := s.WholeSpan()
	void := s.Connected(func(c int) bool { return !s.HasMaterial(c) })
	outside := make([]bool, s.Cells())
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
			f, hangs, stands = flange(s, l, p, outside)
		}
		if f != nil {
			small := subject.Snap(f.Overhang) <= subject.Snap(f.Thickness)+atLength && subject.Snap(f.Overhang) <= shelfOverhang+atLength
			hangs, stands = hangs && small, stands && small
			f.DieShelf = hangs
			out = append(out, f)
		}
		for side, can := range map[string]bool{"bottom": hangs, "top": stands} {
			for _, c := range p.cells {
				if i := l.of[side][c]; i >= 0 {
					shelves[i] = shelves[i] && can
				}
			}
		}
	}
	return out, shelves
}

// betweenSlopes measures a flange between two slopes, whose heights in a plate are those of their outer ends.
func betweenSlopes(s *blank.Shape, p plate, f *subject.Flange) {
	f.Thickness = math.Min(f.Thickness, s.LeastBetween(p.cells))
	if d := s.Between(p.cells); d < f.Thickness-plane.Near {
		f.Square = subject.Some(d)
	}
}

// endsAt is how high the column of a cell is over a point.
func endsAt(s *blank.Shape, c int, p plane.Point) float64 {
	return s.EndAt(c, p, "top") - s.EndAt(c, p, "bottom")
}

// flange measures one plate and tells whether the taller columns beside it all go on below it, or above; nil where none
// stands beside it, or none of its edges is free.
func flange(s *blank.Shape, l *levels, p plate, outside []bool) (f *subject.Flange, hangs, stands bool) {
	in := map[int]bool{}
	for _, c := range p.cells {
		in[c] = true
	}
	var free, tall []plane.Curve
	var owners []int
	hangs, stands = true, true
	thin := math.Inf(1) // at its free edges
	for i := range s.Edges() {
		e := s.Edge(i)
		c, d := e.Left, e.Right
		if in[d] {
			c, d = d, c
		}
		if !in[c] || in[d] {
			continue
		}
		solid := s.HasMaterial(d)
		switch {
		case !solid && outside[d]:
			_, least := blank.LeastAlong(func(t float64) float64 { return endsAt(s, c, e.Curve.At(t)) })
			thin = math.Min(thin, least)
			free = append(free, e.Curve)
			r, _ := s.Column(c)
			owners = append(owners, s.WallOwners(i, c, d, r.Lo, r.Hi)...)
		case solid && full(s, l, d) > p.high-p.low+blank.SameHeight && s.End(d, i, "bottom") < p.high && p.low < s.End(d, i, "top"):
			tall = append(tall, e.Curve)
			hangs = hangs && s.End(d, i, "bottom") < p.low-blank.SameHeight
			stands = stands && s.End(d, i, "top") > p.high+blank.SameHeight
		}
	}
	low, high := s.WholeSpan()
	if len(free) == 0 || len(tall) == 0 || thin > (high-low)/2*atShare { // else a slope breaks out there that the part goes on beside
		return nil, false, false
	}
	f = &subject.Flange{Thickness: p.high - p.low, Overhang: plane.Farthest(free, tall)}
	betweenSlopes(s, p, f)
	f.Ratio = f.Overhang / f.Thickness
	for _, c := range p.cells {
		owners = append(owners, s.FaceOwners(c, p.low, "bottom")...)
		owners = append(owners, s.FaceOwners(c, p.high, "top")...)
	}
	f.Common = common(s, owners, s.Centroid(p.cells), p.low, p.high)
	return f, hangs, stands
}
