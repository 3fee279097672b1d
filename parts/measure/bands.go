package measure

import (
	"math"

	"corerod/parts/blank"
	"corerod/parts/subject"
)

// leastBand is the least height of the upright wall at the widest of the bodies that narrow both upward and downward
// from it, where that is on the outside of the part.
func leastBand(s *blank.Shape) (least subject.Optional) {
	for n := range s.Bodies() {
		band, widest := bandOf(s, n)
		if len(widest) > 0 && outside(s, widest) && (!least.Known || band < least.Value) {
			least = subject.Some(band)
		}
	}
	return least
}

// bandOf is the band of one body and the outlines at its widest; none where it does not narrow to both sides.
func bandOf(s *blank.Shape, n int) (band float64, widest map[int]bool) {
	across := func(i int) float64 {
		lo, hi := s.Loop(i).Bounds()
		return hi.X - lo.X
	}
	most, low, high := 0.0, 0.0, 0.0
	for i := range s.Figures() {
		if s.FeatureOf(i) != n || s.CopyOf(i) != 0 {
			continue
		}
		if d := across(i); d > most+wider {
			most, band = d, 0
			low, high = s.Range(i)
			widest = map[int]bool{}
		}
		if across(i) >= most-wider {
			widest[i] = true
			from, to := s.Range(i)
			low, high = math.Min(low, from), math.Max(high, to)
			if !s.Leans(i) {
				band += to - from
			}
		}
	}
	below, above := false, false
	for i := range s.Figures() {
		if s.FeatureOf(i) == n && s.CopyOf(i) == 0 && !widest[i] {
			from, to := s.Range(i)
			below = below || to <= low+blank.SameHeight
			above = above || from >= high-blank.SameHeight
		}
	}
	if !below || !above {
		return 0, nil
	}
	return band, widest
}

// outside tells whether outlines make a stretch of the part's outside wall.
func outside(s *blank.Shape, outlines map[int]bool) bool {
	for k := range s.Slabs() {
		for _, p := range s.Region(k).Pieces() {
			if outlines[p.Owner] && s.Voids(k)[p.Outer] == s.Voids(k)[0] {
				return true
			}
		}
	}
	return false
}
