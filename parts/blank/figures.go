package blank

import (
	"fmt"

	"corerod/parts"
	"corerod/parts/plane"
)

// Part is the part as its file gives it.
func (s *Shape) Part() *parts.Part { return s.part }

// Problem is what is wrong at a place of the part's file.
func (s *Shape) Problem(at parts.Place, format string, args ...any) parts.Problem {
	return s.part.Problem(at, fmt.Sprintf(format, args...))
}

// Features are the pressed features, bodies first. They are known by their numbers here.
func (s *Shape) Features() []*parts.Feature { return s.features }

// Feature is the feature of a number.
func (s *Shape) Feature(n int) *parts.Feature { return s.features[n] }

// Bodies is how many of the features are bodies.
func (s *Shape) Bodies() int { return s.bodies }

// IsCut tells whether a feature takes material away.
func (s *Shape) IsCut(feature int) bool { return feature >= s.bodies }

// FeatureHeight is how high a feature is drawn, mm: a cut right through as high as the bodies together.
func (s *Shape) FeatureHeight(n int) float64 { return heightOf(s.part, s.features[n]) }

// Figures is the number of figures: the outlines of the overlay, one for each section of each copy of a feature. Those of one
// wall follow each other from the lowest up.
func (s *Shape) Figures() int { return len(s.outlines) }

// FeatureOf is the feature that a figure is of.
func (s *Shape) FeatureOf(figure int) int { return s.outlines[figure].feature }

// WallOf is the wall that a figure is a section of.
func (s *Shape) WallOf(figure int) int { return s.outlines[figure].wall }

// CopyOf is the copy of its feature that a figure is of, from 0.
func (s *Shape) CopyOf(figure int) int { return s.outlines[figure].copy }

// SameCopy tells whether two figures are of one copy of a feature.
func (s *Shape) SameCopy(i, j int) bool {
	a, b := &s.outlines[i], &s.outlines[j]
	return a.feature == b.feature && a.copy == b.copy
}

// Inner tells whether an edge lies on the inner circle of a figure that is a ring.
func (s *Shape) Inner(figure, edge int) bool {
	o := &s.outlines[figure]
	if !s.walls[o.wall].ring {
		return false
	}
	i, _ := o.loop.Nearest(s.overlay.Edges[edge].Curve.At(0.5))
	return o.loop[i].Sweep < 0
}

// Loop is the outline of a figure, in the frame of the overlay.
func (s *Shape) Loop(figure int) plane.Loop { return s.outlines[figure].loop }

// Range is the range of heights that a figure stands for, mm in part coordinates.
func (s *Shape) Range(figure int) (low, high float64) {
	return s.outlines[figure].lo, s.outlines[figure].hi
}

// Over is where the wall of a figure begins, mm over the lower end of its feature as drawn; lowest tells whether the figure is the
// lowest of its wall.
func (s *Shape) Over(figure int) (u float64, lowest bool) {
	w := s.outlines[figure].wall
	return s.walls[w].lo, figure == 0 || s.outlines[figure-1].wall != w
}

// Leans tells whether a figure is a section of a sloped wall.
func (s *Shape) Leans(figure int) bool { return s.walls[s.outlines[figure].wall].sloped() }

// SlopedEnds tells of a figure's lower and upper end whether it is a step of a slope, and no level.
func (s *Shape) SlopedEnds(figure int) [2]bool { return s.outlines[figure].sloped }
