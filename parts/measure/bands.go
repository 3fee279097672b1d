package measure

import (
	"cmp"
	"maps"
	"math"
	"slices"

	"corerod/parts/blank"
	"corerod/parts/plane"
	"corerod/parts/subject"
)

// findBulges finds where what narrows by slopes both upward and downward is widest, on the outside of the part.
func findBulges(s *blank.Shape) (out []*subject.Bulge) {
	var all []*bulge
	for n := range s.Bodies() {
		b := bulgeOf(s, n)
		all = slices.DeleteFunc(all, func(o *bulge) bool { // what is drawn in several bodies that touch is one
			same := b.touches(o)
			if same {
				b.add(o)
			}
			return same
		})
		all = append(all, b)
	}
	for _, b := range all {
		if !b.below || !b.above || !outside(s, b.widest) {
			continue
		}
		var features []int
		for i := range b.widest {
			features = append(features, s.FeatureOf(i))
		}
		at := s.ToPart(plane.Point{X: (b.box[0].X + b.box[1].X) / 2, Y: (b.box[0].Y + b.box[1].Y) / 2})
		low, high := b.band()
		out = append(out, &subject.Bulge{Common: common(s, features, at, low, high), Band: b.height(), Lip: b.lip})
	}
	return out
}

// leastBand is the least height of an upright wall at a bulge.
func leastBand(all []*subject.Bulge) (least subject.Optional) {
	for _, b := range all {
		if !least.Known || b.Band < least.Value {
			least = subject.Some(b.Band)
		}
	}
	return least
}

// bulge is a stretch of the height over which a body, or several that touch, are widest.
type bulge struct {
	box          [2]plane.Point
	widest       map[int]bool // outlines
	low, high    float64
	upright      [][2]float64 // from where to where its wall is
	below, above bool         // a slope goes on there
	lip          float64      // the least angle from the axis at which one does, degrees
}

// bulgeOf is that of the first copy of a body.
func bulgeOf(s *blank.Shape, n int) *bulge {
	b := &bulge{widest: map[int]bool{}, lip: 90}
	most := 0.0
	for i := range s.Figures() {
		lo, hi := s.Loop(i).Bounds()
		across := hi.X - lo.X
		if s.FeatureOf(i) != n || s.CopyOf(i) != 0 || across < most-wider {
			continue
		}
		from, to := s.Range(i)
		if across > most+wider {
			most = across
			b = &bulge{box: [2]plane.Point{lo, hi}, widest: map[int]bool{}, low: from, high: to, lip: 90}
		}
		b.widest[i], b.low, b.high = true, math.Min(b.low, from), math.Max(b.high, to)
		if ends := s.SlopedEnds(i); s.Leans(i) {
			b.below, b.above = b.below || ends[0], b.above || ends[1]
			b.lip = math.Min(b.lip, s.LeanAt(i))
		} else {
			b.upright = append(b.upright, [2]float64{from, to})
		}
	}
	return b
}

// touches tells whether two go on as each other.
func (b *bulge) touches(o *bulge) bool {
	return b.box[0].Distance(o.box[0]) <= wider && b.box[1].Distance(o.box[1]) <= wider &&
		b.low <= o.high+blank.SameHeight && o.low <= b.high+blank.SameHeight
}

// add makes one of two that touch.
func (b *bulge) add(o *bulge) {
	maps.Copy(b.widest, o.widest)
	b.low, b.high, b.upright = math.Min(b.low, o.low), math.Max(b.high, o.high), append(b.upright, o.upright...)
	b.below, b.above, b.lip = b.below || o.below, b.above || o.above, math.Min(b.lip, o.lip)
}

// band is from where to where its upright wall goes; where it has none the height at which it is widest.
func (b *bulge) band() (low, high float64) {
	if len(b.upright) == 0 {
		z := (b.low + b.high) / 2
		return z, z
	}
	low, high = math.Inf(1), math.Inf(-1)
	for _, x := range b.upright {
		low, high = math.Min(low, x[0]), math.Max(high, x[1])
	}
	return low, high
}

// height is that of its upright wall.
func (b *bulge) height() (sum float64) {
	slices.SortFunc(b.upright, func(x, y [2]float64) int { return cmp.Compare(x[0], y[0]) })
	up := math.Inf(-1)
	for _, x := range b.upright {
		sum += math.Max(0, x[1]-math.Max(x[0], up))
		up = math.Max(up, x[1])
	}
	return sum
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
