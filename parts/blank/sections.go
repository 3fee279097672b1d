package blank

import (
	"math"
	"slices"

	"corerod/parts/plane"
)

// Drawn is the height that a face stands for: that of the end of a slope rather than that of the thin slice at it.
func (s *Shape) Drawn(z float64) float64 {
	best, least := z, 1.5*EndSlice
	for _, end := range s.ends {
		if d := math.Abs(end - z); d < least {
			best, least = end, d
		}
	}
	return best
}

// RunHeight is the height of a run between what its faces stand for; where these come together a nanometre, the least that is
// told from nothing.
func (s *Shape) RunHeight(r Run) float64 {
	return math.Max(SameHeight, s.Drawn(s.Top(r))-s.Drawn(s.Bottom(r)))
}

// based is one copy of a feature with the height of its lower end.
type based struct {
	feature, copy int
	z             float64 // its lower end
	tiers         []tier
}

// tierEnds are the copies of all features, and the heights between which no outline stops being smooth.
func (s *Shape) tierEnds() (all []based, ends []float64) {
	low, high := s.heights[0], s.heights[len(s.heights)-1]
	for i := range s.outlines {
		o := &s.outlines[i]
		if n := len(all); n > 0 && all[n-1].feature == o.feature && all[n-1].copy == o.copy {
			continue
		}
		f := s.features[o.feature]
		ts, _ := tiers(f, heightOf(s.part, f)) // drawn before without an error
		b := based{o.feature, o.copy, s.BaseOf(i), ts}
		all = append(all, b)
		for _, t := range ts {
			ends = append(ends, b.z+t.lo, b.z+t.hi)
		}
	}
	var inside []float64
	for _, z := range slices.Concat(ends, s.meets, []float64{low, high}) {
		if z > low-SameHeight && z < high+SameHeight {
			inside = append(inside, z)
		}
	}
	return all, distinct(inside)
}

// BaseOf is the height of the lower end of the copy that an outline is a slice of. The lowest slice of a cut that is open
// below goes on to the part's lowest face, the highest of one open above to its highest.
func (s *Shape) BaseOf(i int) float64 {
	o := &s.outlines[i]
	if s.features[o.feature].Extent.Open == "bottom" {
		return s.ranges[i][1] - o.hi
	}
	return s.ranges[i][0] - o.lo
}

// sectionAt is the area of the part's section at a height, and the length of its walls, each over the cosine of its
// lean: the wall's area for a millimetre of height.
func (s *Shape) sectionAt(all []based, z float64) (area, walls float64, err error) {
	o, of, err := s.layAt(all, z)
	if err != nil || o == nil {
		return 0, 0, err
	}
	solid := s.solidIn(o, of, all)
	for c := range solid {
		if solid[c] {
			area += o.Cells[c].Moments.Area
		}
	}
	for i := range o.Edges {
		e := &o.Edges[i]
		if solid[e.Left] == solid[e.Right] {
			continue
		}
		b := &all[of[e.Figures[0]]]
		walls += e.Curve.Length() * s.leanFactor(b, z-b.z, &e.Curve)
	}
	return area, walls, nil
}

// solidIn tells which cells of a section lie in a body and in no cut.
func (s *Shape) solidIn(o *plane.Overlay, of []int, all []based) []bool {
	solid := make([]bool, len(o.Cells))
	for c := range o.Cells {
		body, cut := false, false
		o.Cells[c].Inside.Each(func(i int) {
			if all[of[i]].feature < s.bodies {
				body = true
			} else {
				cut = true
			}
		})
		solid[c] = body && !cut
	}
	return solid
}

// layAt overlays the outlines of all copies at a height; of tells which copy each belongs to. It is nil where there
// is none. Outlines that lie a few nanometres apart just there are overlaid a nanometre higher or lower.
func (s *Shape) layAt(all []based, z float64) (o *plane.Overlay, of []int, err error) {
	for _, off := range [5]float64{0, 1, -1, 7, -7} {
		if o, of, err = s.layOnce(all, z+off*SameHeight); err == nil {
			break
		}
	}
	return o, of, err
}

func (s *Shape) layOnce(all []based, z float64) (o *plane.Overlay, of []int, err error) {
	var loops []plane.Loop
	for n, b := range all {
		u := z - b.z
		t := tierOver(b.tiers, u, s.features[b.feature].Extent.Open)
		if t == nil {
			continue
		}
		l, err := t.at(math.Min(math.Max(u, t.lo), t.hi))
		if err != nil {
			return nil, nil, err
		}
		if len(l) == 0 {
			continue
		}
		l = placeCopy(l, s.features[b.feature], b.copy)
		loops = append(loops, l.Moved(plane.Point{}, 0, plane.Point{X: -s.origin.X, Y: -s.origin.Y}))
		of = append(of, n)
	}
	if len(loops) == 0 {
		return nil, nil, nil
	}
	o, err = plane.Lay(loops)
	return o, of, err
}

// tierOver is the tier at a height over a feature's lower end; past its face an open cut goes on with the tier there.
func tierOver(ts []tier, u float64, open string) *tier {
	switch last := &ts[len(ts)-1]; {
	case open == "top" && u > last.hi:
		return last
	case open == "bottom" && u < ts[0].lo:
		return &ts[0]
	}
	for i := range ts {
		if ts[i].lo <= u && u <= ts[i].hi {
			return &ts[i]
		}
	}
	return nil
}
