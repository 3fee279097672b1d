package blank

import (
	"math"
	"slices"

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

// LeanAt is the angle from the pressing axis of a wall at one of its outlines, degrees; 0 for an upright one.
func (s *Shape) LeanAt(figure int) float64 {
	w := &s.walls[s.outlines[figure].wall]
	for station, f := range w.figures {
		if f == figure && station >= 0 {
			return math.Atan(math.Abs(w.moves[0].rate(w.over(s.stations[station])))) * 180 / math.Pi
		}
	}
	return 0
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
	section, _ := form.Steps(t.Start, t.Steps)
	lo, _ := section.Bounds()
	return lo.X
}

// LeastDraft is the least angle of a feature's walls from the pressing axis between two heights, degrees: of one that is round in section
// where it is steepest there. facing are, of circles, which count: outer ones have the material on the side of the axis. It is endless
// where there is no wall.
func (s *Shape) LeastDraft(feature int, low, high float64, facing ...bool) float64 {
	least := math.Inf(1)
	for i := range s.walls {
		w := &s.walls[i]
		if w.feature != feature {
			continue
		}
		lo, hi := Side{w, 0}.Range()
		lo, hi = math.Max(lo, low), math.Min(hi, high)
		if hi-lo <= SameHeight {
			continue
		}
		for side := range w.drawn {
			outer := w.isOuter(side) != s.IsCut(feature)
			if w.ring && !slices.Contains(facing, outer) {
				continue
			}
			least = math.Min(least, w.leastLean(side, lo, hi))
		}
	}
	return least
}

// isOuter tells whether a side is the outer circle of a ring.
func (w *wall) isOuter(side int) bool { return w.drawn[side].Sweep > 0 }

// leastLean is the least angle of a side from the pressing axis between two heights, degrees.
func (w *wall) leastLean(side int, low, high float64) float64 {
	if !w.sloped() {
		return 0
	}
	m := w.moves[side]
	z := math.Min(math.Max(m.over+w.base, low), high) // an arc is steepest beside its centre
	rate := math.Abs(m.rate(w.over(z)))
	if m.turns {
		rate *= w.drawn[3].R
	}
	if rate <= alike {
		return 0
	}
	return math.Atan(rate) * 180 / math.Pi
}
