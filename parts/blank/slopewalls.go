package blank

import (
	"math"

	"corerod/parts"
	"corerod/parts/form"
	"corerod/parts/plane"
)

// Slope is the sloped wall of a feature from end to end, or an upright wall; two are equal if they are one wall.
type Slope struct{ of *tier }

// Slope is the wall that a figure is a slice of.
func (s *Shape) Slope(figure int) Slope { return Slope{s.outlines[figure].of} }

// Upright tells whether the wall does not slope.
func (w Slope) Upright() bool { return w.of == nil }

// Lean is the angle from the pressing axis of the wall, of a round one from end to end, degrees; where several walls
// slope side by side, that of the least sloped. It is 0 for an upright one.
func (w Slope) Lean() float64 {
	if w.of == nil {
		return 0
	}
	return w.of.lean()
}

// LeastRadius is how near a half section that was drawn without an error comes to its axis, mm.
func LeastRadius(t parts.Turned) float64 {
	section, _ := form.Steps(t.Start, t.Steps, 0)
	lo, _ := section.Bounds()
	return lo.X
}

// WallAt is where the side of an outline that a point is on comes, at a height at the end of its slab or of its slope,
// nearest to another.
func (s *Shape) WallAt(figure int, on plane.Point, z float64, to plane.Point) (at plane.Point, ok bool) {
	o := &s.outlines[figure]
	l := o.loop
	i, _ := l.Nearest(on)
	if t := o.of; t != nil {
		u := z - s.BaseOf(figure)
		for _, end := range [2]float64{t.lo, t.hi} {
			if math.Abs(u-end) < 2*EndSlice {
				u = end
			}
		}
		if l = t.wallsAt(u); len(l) != len(o.loop) {
			return at, false
		}
		l = placeCopy(l, s.features[o.feature], o.copy).Moved(plane.Point{}, 0, plane.Point{X: -s.origin.X, Y: -s.origin.Y})
	}
	_, at = l[i : i+1].Nearest(to)
	return at, true
}

// Pointed tells whether an outline is of a slope of a half section, between its ends, of which two walls come together.
func (s *Shape) Pointed(figure int) bool {
	o := &s.outlines[figure]
	if o.of == nil || o.of.walls == nil || o.sloped != [2]bool{true, true} {
		return false
	}
	for _, u := range [2]float64{o.of.lo, o.of.hi} {
		for l := o.of.walls(u); len(l) > 1; l = l[1:] {
			if math.Abs(l[0].R-l[1].R) <= plane.Near {
				return true
			}
		}
	}
	return false
}

// Draft is the angle of a feature's walls from the pressing axis, degrees; 0 for upright ones and those of sections
// other than a V, which lean by no one angle.
func Draft(f *parts.Feature) float64 {
	switch {
	case f.Draft != nil:
		return f.Draft.Angle
	case f.Section == "v":
		ts, _ := tiers(f, f.Extent.Depth) // drawn before without an error
		return math.Acos(1/ts[0].factor(0)) * 180 / math.Pi
	}
	return 0
}
