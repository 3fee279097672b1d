// Package tooling lays out the tool that presses a blank. In this version it tells which levels of a side can share
// a punch; members, fill, force and density build on that.
package tooling

import (
	"cmp"
	"math"
	"slices"

	"corerod/parts/blank"
	"corerod/parts/subject"
)

// shareHeight is the part of the overall height within which levels may lie on one punch face (kalpakjian item 5:
// a step without its own punch is at most 15 % of the overall height).
const shareHeight = 0.15

// Punches groups the levels of one side, "top" or "bottom", by punch. Each punch starts from the largest level that
// has none yet and takes in the levels within 15 % of the overall height of it, unless a step between them and a
// level of that punch needs a punch of its own. A step declared `punch: face` joins its two levels at any height.
func Punches(b *blank.Blank, side string) [][]*subject.Level {
	var free []*subject.Level
	for _, l := range b.Subject.Levels {
		if l.Face == side {
			free = append(free, l)
		}
	}
	slices.SortStableFunc(free, func(a, b *subject.Level) int { return cmp.Compare(b.Area, a.Area) })
	reach := shareHeight*b.Subject.Height + 1e-9
	var punches [][]*subject.Level
	for len(free) > 0 {
		punch := []*subject.Level{free[0]}
		free = free[1:]
		for again := true; again; {
			again = false
			for i, l := range free {
				if joins(b, punch, l, math.Abs(l.Z-punch[0].Z) <= reach) {
					punch = append(punch, l)
					free = slices.Delete(free, i, i+1)
					again = true
					break
				}
			}
		}
		punches = append(punches, punch)
	}
	return punches
}

// joins tells whether a level can lie on a punch: it is near enough, or a step declares it, and no step to a level
// of that punch parts them.
func joins(b *blank.Blank, punch []*subject.Level, l *subject.Level, near bool) bool {
	declared := false
	for _, s := range b.Steps {
		other := s.Front
		switch l {
		case s.Front:
			other = s.Back
		case s.Back:
		default:
			continue
		}
		if !slices.Contains(punch, other) {
			continue
		}
		if s.OwnPunch {
			return false
		}
		declared = declared || s.Declared == "face"
	}
	return near || declared
}
