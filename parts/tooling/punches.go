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

// Punches groups the levels of one side, "top" or "bottom", by punch. Each punch starts from the largest level that has
// none yet and takes in the levels within 15 % of the overall height of it, unless a step between them and a level of
// that punch needs a punch of its own. Of levels of one area the one starts that can take in most, then the lowest.
func Punches(b *blank.Blank, side string) [][]*subject.Level {
	var free []*subject.Level
	for _, l := range b.Subject.Levels {
		if l.Face == side {
			free = append(free, l)
		}
	}
	reach := blank.StepShare*b.Subject.Height + 1e-9
	near := func(l, m *subject.Level) bool { return math.Abs(l.Z-m.Z) <= reach }
	var punches [][]*subject.Level
	for len(free) > 0 {
		first := slices.MinFunc(free, func(l, m *subject.Level) int { return before(l, m, free, near) })
		punch := []*subject.Level{first}
		free = slices.DeleteFunc(free, func(l *subject.Level) bool { return l == first })
		for again := true; again; {
			again = false
			for i, l := range free {
				if near(first, l) && !parted(b, punch, l) {
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

// before orders levels as the start of a punch.
func before(l, m *subject.Level, free []*subject.Level, near func(l, m *subject.Level) bool) int {
	if math.Abs(l.Area-m.Area) > 1e-9*l.Area {
		return cmp.Compare(m.Area, l.Area)
	}
	taken := func(x *subject.Level) (n int) {
		for _, o := range free {
			if near(x, o) {
				n++
			}
		}
		return n
	}
	return cmp.Or(cmp.Compare(taken(m), taken(l)), cmp.Compare(l.Z, m.Z))
}

// parted tells whether a step between a level and one of a punch needs a punch of its own.
func parted(b *blank.Blank, punch []*subject.Level, l *subject.Level) bool {
	for _, s := range b.Steps {
		if s.OwnPunch && (s.Front == l && slices.Contains(punch, s.Back) || s.Back == l && slices.Contains(punch, s.Front)) {
			return true
		}
	}
	return false
}
