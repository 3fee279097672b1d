package plane

import (
	"cmp"
	"math"
	"slices"
)

// Least returns the width of the least neck of material between pieces whose owners are wanted; false where there is
// none under a bound. Long pieces are tried first, and what lies further off than the least so far is not tried.
func (r *Region) Least(wanted func(a, b int) bool, below float64) (float64, bool) {
	s := newNecks(r)
	s.solid, s.most = true, below
	order := make([]int, len(r.pieces))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(i, j int) int { return cmp.Compare(r.pieces[j].Curve.Length(), r.pieces[i].Curve.Length()) })
	s.touches()
	s.narrow()
	of := r.partners(wanted)
	for _, i := range order {
		own, before := r.pieces[i].Owner, r.pieces[s.before[i]].Owner
		reach := s.within(i)
		if s.isVertex(i) {
			zone := s.vertexZone(i)
			both := func(d Disc) bool { return reach(d) && zone(d) }
			of(own).search(both, func(j int) { s.fromVertex(i, j) })
			if before != own {
				of(before).search(both, func(j int) { s.fromVertex(i, j) })
			}
		}
		zone := curveZone(&r.pieces[i].Curve)
		of(own).search(func(d Disc) bool { return reach(d) && zone(d) }, func(j int) {
			if i < j {
				s.curves(i, j)
			}
		})
		s.narrow()
	}
	return s.most, s.most < below
}

// narrow takes the least neck found so far as the bound of what is looked for.
func (s *necks) narrow() {
	for i := range s.found {
		if n := &s.found[i]; !n.Void {
			s.most = math.Min(s.most, n.Width)
		}
	}
	s.found = s.found[:0]
}

// within tells whether a disc comes nearer to a piece than the bound.
func (s *necks) within(i int) zone {
	b := s.pieces[i].Curve.bounds()
	c, r := b.lo.mid(b.hi), b.lo.Distance(b.hi)/2
	return func(d Disc) bool { return d.C.Distance(c)-d.R-r < s.most }
}
