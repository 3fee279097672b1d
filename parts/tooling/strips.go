package tooling

import (
	"slices"

	"corerod/parts/blank"
	"corerod/parts/measure"
	"corerod/parts/subject"
)

// Strip is a stretch of a cutting path with the members that form its two faces.
type Strip struct {
	measure.Strip
	Upper, Lower *Member          // nil where there is no material; Lower is the die over a shelf
	Fill         subject.Optional // mm, of loose powder over the face on its lower member
}

// MostWall is the angle from the pressing axis up to which a slope is a wall of die or core rod, degrees.
const MostWall = measure.MostWall

// Strips divides a cutting path among the members of the tool.
func (l *Layout) Strips(path []blank.Leg) (all []Strip) {
	of := func(e *measure.End, kinds ...string) *Member {
		i := slices.IndexFunc(l.Members, func(m *Member) bool { return slices.Contains(kinds, m.Kind) && slices.Contains(m.Ends, e) })
		if e == nil || i < 0 {
			return nil
		}
		return l.Members[i]
	}
	for _, s := range l.measured.Strips(path) {
		upper, lower, foot := s.Top, s.Bottom, s.Low
		if l.WayUp.Over {
			upper, lower, foot = lower, upper, -s.High
		}
		t := Strip{Strip: s, Upper: of(upper, UpperPunch), Lower: of(lower, LowerPunch, Die)}
		for _, c := range l.all {
			if c.Top == s.Top && c.Bottom == s.Bottom && c.Fill.Known {
				t.Fill = subject.Some(c.Fill.Value + c.foot() - foot)
				break
			}
		}
		all = append(all, t)
	}
	return all
}
