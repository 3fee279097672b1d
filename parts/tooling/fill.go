package tooling

import (
	"fmt"
	"math"
	"slices"

	"corerod/parts/stock"
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
		for _, cs := range p.seats() {
			if len(cs) == 0 {
				continue // a slope lies over all of the member: its fill is not known
			}
			top, mean := powder(q, cs)
			for _, c := range cs {
				c.Fill = subject.Some(top - c.foot())
				c.Ratio = subject.Some(c.Fill.Value * c.Area / c.Volume)
				c.Transfer = subject.Some(subject.Snap(q*c.Volume/c.Area - c.Fill.Value))
				c.Need = subject.Some(q * c.Volume / c.Area)
				deepest = math.Max(deepest, c.Fill.Value)
			}
			if p.Kind == LowerPunch {
				p.Fill = subject.Some(mean)
				p.Stroke = subject.Some(mean * (1 - 1/q))
			}
		}
	}
	l.Fill = subject.Some(deepest)
	l.Moved = subject.Some(l.moved(q))
	l.localDensity(q)
	l.loosest()
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

// narrowColumn is the width, mm, up to which a column counts with the one beside it: powder levels across so little. From memory.
const narrowColumn = 2

// localDensity finds what each column would come to if no powder moved: the share of its need that its fill lacks, and its density.
func (l *Layout) localDensity(q float64) {
	for _, c := range l.all {
		fill, need := c.Fill.Value*c.Area, c.Need.Value*c.Area
		if c.Width < narrowColumn && c.Beside >= 0 {
			if o := l.all[c.Beside]; o.lower == c.lower {
				fill, need = fill+o.Fill.Value*o.Area, need+o.Need.Value*o.Area
			}
		}
		if c.Fill.Known && need > 0 {
			c.Moved = subject.Some(math.Max(0, subject.Snap((need-fill)/need)))
			c.LocalDensity = subject.Some(l.Green.Value * fill / need)
		}
	}
}

// loosest finds the strokes of the upper punches where the powder is as loose as iron powders come.
func (l *Layout) loosest() {
	if l.data.Figure == nil {
		return
	}
	least, ok := l.data.Figure(stock.ApparentLeast)
	if !ok || !slices.Contains(steels, l.data.Material.Family) {
		return
	}
	q := l.Green.Value / least.Value
	tops := map[*Column]float64{}
	for _, m := range l.Members {
		for _, cs := range m.seats() {
			if len(cs) > 0 {
				top, _ := powder(q, cs)
				for _, c := range cs {
					tops[c] = top
				}
			}
		}
	}
	for _, p := range l.Of(UpperPunch) {
		for i, c := range p.columns {
			if d := tops[c] - c.foot() - c.Volume/c.Area; i == 0 || d < p.StrokeLoosest.Value {
				p.StrokeLoosest = subject.Some(d)
			}
		}
	}
}

// steels are the families of material of water-atomised or sponge iron.
var steels = []string{"iron", "copper-steel", "nickel-steel", "diffusion-alloyed"}

// heightShare is the difference of the greatest and the least mean height of the columns over a lower punch, over the greatest; those
// that are narrow, or end on a slope, do not count.
func (m *Member) heightShare() (share subject.Optional) {
	least, most := math.Inf(1), 0.0
	for _, c := range m.columns {
		if h := c.Volume / c.Area; c.Width >= narrowColumn && !c.Sloped {
			least, most = math.Min(least, h), math.Max(most, h)
		}
	}
	if m.Kind != LowerPunch || most == 0 {
		return share
	}
	return subject.Some(subject.Snap(1 - least/most))
}

// powder is the height of loose powder over columns that are filled together, their punch as pressed, and its mean
// depth: it is level at the top, and as much as they hold when pressed.
func powder(q float64, cs []*Column) (top, mean float64) {
	area, volume, moment := 0.0, 0.0, 0.0
	for _, c := range cs {
		area, volume, moment = area+c.Area, volume+c.Volume, moment+c.Area*c.foot()
	}
	return (q*volume + moment) / area, q * volume / area
}

// foot is the lower end of a column in the die, mm; counted downward of a part that is turned over.
func (c *Column) foot() float64 {
	if c.Over {
		return -c.High
	}
	return c.Low
}

// At is the height on the part at a share of the column from the upper punch.
func (c *Column) At(x float64) float64 {
	if c.Over {
		return c.ZLow + x*c.Height
	}
	return c.ZHigh - x*c.Height
}

// Head is the upper end of a column in the die, mm; counted downward of a part that is turned over.
func (c *Column) Head() float64 {
	if c.Over {
		return -c.ZLow
	}
	return c.ZHigh
}

// lacks is the depth of loose powder, mm, that a column lacks where the powder over its punch is level at a height.
func (c *Column) lacks(q, top float64) float64 {
	return math.Max(0, subject.Snap(q*c.Volume/c.Area-(top-c.foot())))
}

// moved is the volume of loose powder, mm3, that must come to columns from beside.
func (l *Layout) moved(q float64) (volume float64) {
	for _, m := range l.Members {
		for _, cs := range m.seats() {
			if len(cs) == 0 {
				continue
			}
			top, _ := powder(q, cs)
			for _, c := range cs {
				volume += c.Area * c.lacks(q, top)
			}
		}
	}
	return volume
}

// seats are the columns over a member that are filled together: all over a punch, those over one shelf of the die.
func (m *Member) seats() (all [][]*Column) {
	switch m.Kind {
	case LowerPunch:
		return [][]*Column{m.columns}
	case UpperPunch, CoreRod:
		return nil
	}
	for _, e := range m.Ends {
		var cs []*Column
		for _, c := range m.columns {
			if c.Under == e {
				cs = append(cs, c)
			}
		}
		all = append(all, cs)
	}
	return all
}
