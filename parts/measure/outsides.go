package measure

import (
	"maps"
	"math"

	"corerod/parts/blank"
	"corerod/parts/plane"
)

// toOutside is the least material between a hole and the outside contour: in the sections of slabs and, where something leans, between
// their stations. void tells by slab which void the hole is.
func toOutside(s *blank.Shape, void map[int]int) float64 {
	least, all := math.Inf(1), maps.Clone(void)
	for k := range void {
		if half := s.Half(k); half != 0 {
			maps.Copy(all, bothHalves(s, k-(half+1)/2, void))
		}
	}
	for k, v := range all {
		x := sectionOfSlab(s, k)
		d, _, _, _ := x.nearest(func(p *plane.Piece) (hole, outside bool) {
			of := s.Voids(k)[p.Outer]
			return of == v, of == s.Voids(k)[0]
		})
		least = math.Min(least, d)
		_, both := all[k-1]
		switch s.Half(k) {
		case -1:
			least = math.Min(least, betweenStations(s, k, all))
		case 1:
			if !both { // else with the lower half
				least = math.Min(least, betweenStations(s, k-1, all))
			}
		}
	}
	return least
}

// nearest is the least distance between the pieces of a section that are on a hole and those that are on the outside, from where to
// where it is, and which those pieces are.
func (x *section) nearest(on func(p *plane.Piece) (hole, outside bool)) (d float64, p, q plane.Point, of [2][]int) {
	var curves [2][]plane.Curve
	for i := range x.pieces {
		hole, outside := on(&x.pieces[i])
		for k, is := range [2]bool{hole, outside} {
			if is {
				of[k], curves[k] = append(of[k], i), append(curves[k], x.pieces[i].Curve)
			}
		}
	}
	d, p, q = plane.Between(curves[0], curves[1])
	return d, p, q, of
}

// pieceAt is the one of some pieces on which a point lies, in a joint the one that begins there.
func (x *section) pieceAt(of []int, p plane.Point) int {
	at, least := of[0], math.Inf(1)
	for _, i := range of {
		if d := x.pieces[i].Curve.Off(p); d < least-plane.Near {
			at, least = i, d
		}
	}
	if x.pieces[at].Curve.B.Distance(p) <= plane.Near {
		return x.pieces[at].Next
	}
	return at
}

// bothHalves tells which void a hole is in both halves of a stretch whose lower half is slab k: that of one half goes on in the other,
// if it stays closed, though nothing bounds it there but at the station.
func bothHalves(s *blank.Shape, k int, void map[int]int) map[int]int {
	for _, half := range [2][2]int{{k, k + 1}, {k + 1, k}} {
		own, known := void[half[0]]
		if _, both := void[half[1]]; both || !known {
			continue
		}
		for c, v := range s.Voids(half[0]) {
			if v == own && !s.Solid(c, half[1]) && s.Closed(half[1], c) && !s.Parted(c, k+1) {
				return map[int]int{half[0]: own, half[1]: s.Voids(half[1])[c]}
			}
		}
	}
	return void
}

// betweenStations is the least material between a hole and the outside contour over the stretch that slab k is the lower half of: what
// is nearest half way is followed up and down.
func betweenStations(s *blank.Shape, k int, void map[int]int) float64 {
	r, z := s.Middle(k)
	if r == nil {
		return math.Inf(1)
	}
	x := &section{s: s, slab: k, middle: true, z: z, pieces: r.Pieces()}
	least, at, to, of := x.nearest(func(p *plane.Piece) (hole, outside bool) {
		for _, half := range [2]int{k, k + 1} {
			v := s.VoidHalfWay(half)[p.Outer]
			own, there := void[half]
			hole, outside = hole || there && v == own, outside || v == s.Voids(half)[0]
		}
		return hole, outside
	})
	if math.IsInf(least, 1) || least <= plane.Near {
		return least
	}
	n := &plane.Neck{Width: least, P: at, Q: to, I: x.pieceAt(of[0], at), J: x.pieceAt(of[1], to)}
	q, low, high := pathOf(x, n), s.Low(k), s.High(k)
	a, b := q.ends[0].sides[0].At(z), q.ends[1].sides[0].At(z)
	round := a.IsArc() && b.IsArc() && a.C.Distance(b.C) <= plane.Near
	if round && math.Min(q.width(low), q.width(high)) <= 10*plane.Near {
		return math.Inf(1) // a ridge all round
	}
	if q.moves(low, high) {
		_, d := blank.LeastAlong(func(t float64) float64 {
			at := low + t*(high-low)
			c, ok := q.at(at, n)
			for side, p := range [2]plane.Point{c.P, c.Q} {
				ok = ok && (q.ends[side].corner || q.ends[side].sides[0].Covers(p, at))
			}
			if !ok {
				return math.Inf(1)
			}
			return math.Max(0, c.Width)
		})
		least = math.Min(least, d)
	}
	return least
}
