package tooling

import (
	"fmt"
	"math"

	"corerod/parts/subject"
)

// green finds the green density that sinters to the stated one. It must be known for everything that follows.
func (l *Layout) green() {
	d, m := l.data, l.data.Material
	const what = "green density, fill, pressure and force"
	switch {
	case d.Name == "":
		l.unknown(what + " and die sizes are not known: the part file names no material")
	case m == nil:
		l.unknown(fmt.Sprintf("%s and die sizes are not known: no pack in force has the material %s", what, d.Name))
	case !m.SizeChangeLow.Known:
		l.unknown(fmt.Sprintf("%s and die sizes are not known: the material %s has no size_change", what, d.Name))
	case d.Density == 0:
		l.unknown(what + " are not known: the part file states no density")
	case !m.Lubricant.Known:
		l.unknown(fmt.Sprintf("%s are not known: the material %s has no lubricant; give its percent, however small", what, d.Name))
	default:
		change := l.sizeChange()
		lubricant := l.ofMaterial("lubricant", "lubricant that burns off", "percent", m.Lubricant)
		l.Green = subject.Some(Green(d.Density, change/100, lubricant/100))
	}
}

// sizeChange is the middle of the material's range, percent.
func (l *Layout) sizeChange() float64 {
	m := l.data.Material
	f := m.SizeChangeLow
	f.Value = (f.Value + m.SizeChangeHigh.Value) / 2
	return l.ofMaterial("size_change", "change of size from die to sintered, the middle of the range", "percent", f)
}

// fill finds the depth of loose powder in every column: mass is conserved over each lower punch, and the powder lies
// level at the top of the die. Where one punch has columns of several heights, powder must move between them.
func (l *Layout) fill() {
	l.green()
	defer l.shareSteps()
	if !l.Green.Known {
		return
	}
	m := l.data.Material
	if !m.Apparent.Known {
		l.unknown(fmt.Sprintf("fill is not known: the material %s has no apparent density", l.data.Name))
		return
	}
	q := l.Green.Value / l.ofMaterial("apparent", "apparent density of the powder", subject.Density, m.Apparent)
	l.Ratio = subject.Some(q)
	deepest := 0.0
	for _, p := range l.Members {
		if p.Kind != LowerPunch && p.Kind != Die {
			continue
		}
		for _, cs := range p.seats() {
			top, mean := powder(q, cs, false)
			for _, c := range cs {
				c.Fill = subject.Some(top - c.Low)
				c.Ratio = subject.Some(c.Fill.Value * c.Area / c.Volume)
				c.Transfer = subject.Some(subject.Snap(q*c.Volume/c.Area - c.Fill.Value))
				deepest = math.Max(deepest, c.Fill.Value)
			}
			if p.Kind == LowerPunch {
				p.Fill = subject.Some(mean)
				p.Stroke = subject.Some(mean * (1 - 1/q))
			}
		}
	}
	l.Fill = subject.Some(deepest)
	l.movesTurned(q)
	for _, p := range l.Of(UpperPunch) {
		least := math.Inf(1)
		for _, c := range p.columns {
			least = math.Min(least, c.Fill.Value-c.Volume/c.Area)
		}
		p.Stroke = subject.Some(least)
	}
}

// powder is the height of loose powder over columns that are filled together, their punch as pressed, and its mean
// depth: it is level at the top, and as much as they hold when pressed. With over the columns stand on their heads.
func powder(q float64, cs []*Column, over bool) (top, mean float64) {
	area, volume, moment := 0.0, 0.0, 0.0
	for _, c := range cs {
		area, volume, moment = area+c.Area, volume+c.Volume, moment+c.Area*c.foot(over)
	}
	return (q*volume + moment) / area, q * volume / area
}

// foot is the lower end of a column, of one on its head counted from above.
func (c *Column) foot(over bool) float64 {
	if over {
		return -(c.Low + c.Volume/c.Area)
	}
	return c.Low
}

// mostMoved is the greatest depth of powder that must move sideways between columns that are filled together.
func mostMoved(q float64, cs []*Column, over bool) (most float64) {
	top, _ := powder(q, cs, over)
	for _, c := range cs {
		most = math.Max(most, math.Abs(q*c.Volume/c.Area-(top-c.foot(over))))
	}
	return subject.Snap(most)
}

// seats are the columns over a member that are filled together: all over a punch, those over one shelf of the die.
func (m *Member) seats() (all [][]*Column) {
	if m.Kind != Die {
		return [][]*Column{m.columns}
	}
	for _, e := range m.Ends {
		var cs []*Column
		for _, c := range m.columns {
			if c.Bottom == e {
				cs = append(cs, c)
			}
		}
		all = append(all, cs)
	}
	return all
}

// shareSteps says what one punch for the two levels of a step comes to: filled for the column in front, what is over the
// level set back and the density it would need if no powder moved.
func (l *Layout) shareSteps() {
	for i := range l.measured.Steps {
		s := &l.measured.Steps[i]
		kind := UpperPunch
		if s.Front.Face == "bottom" {
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

// poreFreeGreen is the density of the powder with its lubricant and without pores.
func (l *Layout) poreFreeGreen() subject.Optional {
	if m := l.data.Material; m != nil && m.PoreFreeGreen.Known {
		return subject.Some(m.PoreFreeGreen.Value)
	}
	return subject.Optional{}
}
