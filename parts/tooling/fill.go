package tooling

import (
	"fmt"
	"math"

	"corerod/parts/subject"
)

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
			if len(cs) == 0 {
				continue // a slope lies over all of the member: its fill is not known
			}
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
		if len(p.columns) > 0 {
			p.Stroke = subject.Some(least)
		}
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
