package tooling

import (
	"math"

	"corerod/parts/subject"
)

// shareSteps says what one punch for the two levels of a step comes to: filled for the column in front, what is over the
// level set back and the density it would need if no powder moved.
func (l *Layout) shareSteps() {
	for i := range l.measured.Steps {
		s := &l.measured.Steps[i]
		kind := UpperPunch
		if s.Front.Face != l.side(UpperPunch) {
			kind = LowerPunch
		}
		front, back := l.over(kind, s.Front), l.over(kind, s.Back)
		if front == nil || back == nil || front.member != back.member && s.Declared != "face" {
			continue
		}
		x := Shared{Step: s.Step, Front: s.Front.Name, Back: s.Back.Name, Tall: front.height, Low: back.height,
			Declared: front.member != back.member}
		if l.Ratio.Known {
			x.Fill = subject.Some(l.Ratio.Value * front.height)
			if kind == LowerPunch {
				x.Fill.Value -= s.Rise
			}
			x.Needs = subject.Some(x.Fill.Value * l.Green.Value / l.Ratio.Value / back.height)
			if f := l.poreFreeGreen(); f.Known {
				x.PoreFree, x.Impossible = f.Value, x.Needs.Value > f.Value
			}
		}
		l.Steps = append(l.Steps, x)
	}
}

// seat is what stands on a level: the member that forms it, and the height of the tallest column.
type seat struct {
	member *Member
	height float64
}

func (l *Layout) over(kind string, level *subject.Level) *seat {
	for _, m := range l.Of(kind) {
		for _, e := range m.Ends {
			if e.Level != level {
				continue
			}
			s := &seat{member: m}
			for _, c := range m.columns {
				if c.Bottom == e || c.Top == e {
					s.height = math.Max(s.height, c.Height)
				}
			}
			return s
		}
	}
	return nil
}

// Shared is one step whose two levels are on one punch, or are said to be: the fill over the level set back when the
// punch is filled for the other, and the density that would be if no powder moved sideways.
type Shared struct {
	Step        *subject.Step
	Front, Back string  // levels
	Tall, Low   float64 // mm, heights of the columns on them
	Declared    bool    // said to be in one face, though no punch can form both
	Fill, Needs subject.Optional
	Impossible  bool // denser than without pores
	PoreFree    float64
}
