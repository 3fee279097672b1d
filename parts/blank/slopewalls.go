package blank

import (
	"corerod/parts"
	"corerod/parts/form"
)

// MostWall is the angle from the pressing axis up to which a slope is a wall that die or core rod form, degrees, from memory; a
// flatter one is a face that a punch forms.
const MostWall = 30.0

// Slope is the sloped wall of a feature from end to end, or an upright wall; two are equal if they are one wall.
type Slope struct{ of *tier }

// Slope is the wall that a figure is a section of.
func (s *Shape) Slope(figure int) Slope {
	if w := &s.walls[s.outlines[figure].wall]; w.sloped() {
		return Slope{w.tier}
	}
	return Slope{}
}

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

// Draft is the angle of a feature's walls from the pressing axis, degrees; 0 for upright ones and those of sections
// other than a V, which lean by no one angle.
func Draft(f *parts.Feature) float64 {
	switch {
	case f.Draft != nil:
		return f.Draft.Angle
	case f.Section == "v":
		ts, _ := tiers(f, f.Extent.Depth) // drawn before without an error
		return ts[0].lean()
	}
	return 0
}
