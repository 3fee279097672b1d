package blank

import (
	"corerod/parts/subject"
	"math"
)

// leastBand is the least height of the upright wall at the widest of the bodies that narrow both upward and downward
// from it, where that is on the outside of the part.
func (s *shape) leastBand() (least subject.Optional) {
	for n := range s.features[:s.bodies] {
		band, widest := s.bandOf(n)
		if len(widest) > 0 && s.outside(widest) && (!least.Known || band < least.Value) {
			least = subject.Some(band)
		}
	}
	return least
}

// bandOf is the band of one body and the outlines at its widest; none where it does not narrow to both sides.
func (s *shape) bandOf(n int) (band float64, widest map[int]bool) {
	across := func(i int) float64 {
		lo, hi := s.outlines[i].loop.Bounds()
		return hi.X - lo.X
	}
	most, low, high := 0.0, 0.0, 0.0
	for i, o := range s.outlines {
		if o.feature != n || o.copy != 0 {
			continue
		}
		if d := across(i); d > most+wider {
			most, band, low, high = d, 0, s.ranges[i][0], s.ranges[i][1]
			widest = map[int]bool{}
		}
		if across(i) >= most-wider {
			widest[i] = true
			low, high = math.Min(low, s.ranges[i][0]), math.Max(high, s.ranges[i][1])
			if !o.leans {
				band += s.ranges[i][1] - s.ranges[i][0]
			}
		}
	}
	below, above := false, false
	for i, o := range s.outlines {
		if o.feature == n && o.copy == 0 && !widest[i] {
			below = below || s.ranges[i][1] <= low+sameHeight
			above = above || s.ranges[i][0] >= high-sameHeight
		}
	}
	if !below || !above {
		return 0, nil
	}
	return band, widest
}

// outside tells whether outlines make a stretch of the part's outside wall.
func (s *shape) outside(outlines map[int]bool) bool {
	for k := range s.slabs {
		for _, p := range s.slabs[k].region.Pieces() {
			if outlines[p.Owner] && s.slabs[k].voids[p.Outer] == s.slabs[k].voids[0] {
				return true
			}
		}
	}
	return false
}
