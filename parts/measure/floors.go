package measure

import (
	"slices"

	"corerod/parts/blank"
	"corerod/parts/subject"
)

// floors are those of blind holes and of grooves, which are no levels.
type floors struct {
	// By side, "top" or "bottom", then by cell:
	blind  map[string][]*subject.Hole // the blind hole whose floor ends the column there, else nil
	groove map[string][]bool          // the floor of a groove ends it
}

// at tells whether a cell's column ends, on a side, on the floor of a blind hole or groove.
func (f *floors) at(side string, c int) bool { return f.groove[side][c] || f.blind[side][c] != nil }

// findFloors adds the floors of grooves that run out at the sides to those of holes and grooves closed in plan.
func findFloors(s *blank.Shape, h *holes) *floors {
	f := &floors{blind: h.blind, groove: map[string][]bool{}}
	for _, side := range []string{"bottom", "top"} {
		f.groove[side] = slices.Clone(h.groove[side])
		openGrooves(s, s.Face(side), h, f.groove[side])
	}
	return f
}
