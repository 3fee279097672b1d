package blank

import (
	"fmt"
	"math"

	"corerod/parts"
	"corerod/parts/form"
	"corerod/parts/plane"
)

// outline is one copy of a feature's plan profile.
type outline struct {
	feature int // number in shape.features
	copy    int
	slice   // its loop, and the heights over the feature's lower end that it stands for
}

// MostExtent is the largest part that is reviewed, across and high, mm.
const MostExtent = 500

func point(p parts.Point) plane.Point { return plane.Point{X: p.X, Y: p.Y} }

// placeCopy returns copy i of a feature's outline.
func placeCopy(l plane.Loop, f *parts.Feature, i int) plane.Loop {
	r := f.Repeat
	switch {
	case i == 0 && !r.Polar:
		return l
	case !r.Polar:
		return l.Moved(plane.Point{}, 0, plane.Point{X: float64(i) * r.Step.X, Y: float64(i) * r.Step.Y})
	case r.Upright:
		a := form.Centre(f.Profile)
		b := plane.Turned(a, point(r.About), r.Angle(i))
		return l.Moved(plane.Point{}, 0, plane.Point{X: b.X - a.X, Y: b.Y - a.Y})
	}
	return l.Moved(point(r.About), r.Angle(i), plane.Point{})
}

// outlines draws every copy of the features, in slices where their walls slope, and reports profiles that cannot be
// drawn or are too large.
func outlines(p *parts.Part, features []*parts.Feature, at map[int]cuts) (out []outline, ps parts.Problems) {
	for n, f := range features {
		if f.Profile == nil {
			continue // reported when it was read
		}
		ts, err := tiers(f, heightOf(p, f))
		var ss []slice
		if err == nil {
			if form.Sloped(f) {
				ts = split(split(ts, distinct(at[n].ends), false), distinct(at[n].meets), true)
			}
			ss, err = sliced(ts, heightOf(p, &parts.Feature{Extent: parts.Extent{Open: "through"}}))
		}
		if err != nil {
			ps = append(ps, p.Problem(f.Shape, fmt.Sprintf("%s: %v", f.Name, err)))
			continue
		}
		if across := widest(ss); across > MostExtent+plane.Near {
			ps = append(ps, p.Problem(f.Shape,
				fmt.Sprintf("%s is %.4g mm across; features of more than %d mm are not reviewed: past that a nanometre is lost in rounding",
					f.Name, across, MostExtent)))
			continue
		}
		for i := range f.Repeat.Copies() {
			for _, s := range ss {
				s.loop = placeCopy(s.loop, f, i)
				out = append(out, outline{n, i, s})
			}
		}
	}
	return out, ps
}

// cuts are heights over the lower end of a feature at which its slopes are cut, the same for all features: those at which
// something begins or ends, with a section of its own, and those at which slopes meet others.
type cuts struct{ ends, meets []float64 }

// mostSplits is the number of heights at which slopes are cut for the sake of other features; where there are more, each
// is cut evenly by itself, and what others end on it is known to a slice.
const mostSplits = 12

// heightOf is how high a feature is drawn: a cut right through as high as the bodies together.
func heightOf(p *parts.Part, f *parts.Feature) float64 {
	switch f.Extent.Open {
	case "":
		return f.Extent.To - f.Extent.From
	case "top", "bottom":
		return f.Extent.Depth
	}
	low, high := math.Inf(1), math.Inf(-1)
	for _, b := range p.Bodies {
		low, high = math.Min(low, b.Extent.From), math.Max(high, b.Extent.To)
	}
	return high - low
}

// widest is the greatest extent of slices in plan.
func widest(ss []slice) (across float64) {
	for _, s := range ss {
		lo, hi := s.loop.Bounds()
		across = math.Max(across, math.Max(hi.X-lo.X, hi.Y-lo.Y))
	}
	return across
}

// Check reports what is wrong with the profiles of a part, cut by pressing or not; it needs no complete part.
func Check(p *parts.Part) parts.Problems {
	_, ps := outlines(p, p.Features(), nil)
	return ps
}
