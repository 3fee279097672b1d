package tooling

import (
	"math"
	"slices"

	"corerod/parts/blank"
	"corerod/parts/measure"
	"corerod/parts/subject"
)

// Layout is the tool for one part.
type Layout struct {
	Class                 float64
	Members               []*Member        // the die, the upper punches, the lower punches, the core rods
	Columns               []*Column        // each kind once, in the order of the part's
	Upper, Lower, Shelves int              // punches with a fill of their own, and shelves in the die
	WayUp                 WayUp            // how the part lies in the die
	Moved                 subject.Optional // mm3 of loose powder that must come to columns from beside
	Steps                 []Shared         // what one punch for two heights comes to
	Green                 subject.Optional // g/cm3, green density
	Ratio                 subject.Optional // fill over height, where no powder is moved
	Fill                  subject.Optional // mm, the deepest
	Mean                  subject.Optional // MPa, mean pressure
	Force, Ejection       subject.Optional // kN
	Strength, Handling    subject.Optional // MPa, green strength and what handling needs
	DieWall, CoreWall     float64          // mm2, that slide on the die and on core rods at ejection
	Sizes                 []Size
	Press                 *Choice
	Assumed               []Assumed
	Unknown               []string // what is not known, and why
	Cannot                []string // what no tool of this kind can form, and why

	all      []*Column // every one by itself
	other    *Layout   // the other way up
	measured *measure.Measured
	data     *Data
}

// Column is one column of the part, or several alike, as it is filled and pressed.
type Column struct {
	measure.Column
	Count    int
	Over     bool             // it stands on its head
	Under    *measure.End     // what it stands on in the die
	Fill     subject.Optional // mm, of loose powder
	Ratio    subject.Optional // fill over height
	Transfer subject.Optional // mm, of loose powder that must come to it from beside, below zero if it must go
	Need     subject.Optional // mm, of loose powder that it takes
	// What it would come to if no powder moved: the share of its need that must come from beside, and its density, g/cm3.
	Moved, LocalDensity subject.Optional

	Decay    subject.Optional
	Profile  Profile          // where Decay is known
	Pressure subject.Optional // MPa, the mean
	Spread   subject.Optional // g/cm3
	upper    *Member
	lower    *Member
}

// Lay lays out the tool for a blank both ways up, with what is known of powder, friction and presses, takes the better one, and
// completes the blank's subjects by it: punches, core rods, columns, tapers, press, class, green density and strength.
func Lay(p *measure.Measured, d *Data) *Layout {
	l := choose(layOut(p, d, false), layOut(p, d, true), p.Part.WayUp)
	l.complete()
	return l
}

// layOut lays out the tool for a part as drawn, or turned over.
func layOut(p *measure.Measured, d *Data, over bool) *Layout {
	l := &Layout{measured: p, data: d, WayUp: WayUp{Over: over}}
	l.members()
	l.DieWall, l.CoreWall = p.Walls(l.Members[0].Ends)
	l.columns()
	l.fill()
	l.press()
	l.density()
	l.eject()
	l.strength()
	l.sizes()
	l.choosePress()
	l.cannot()
	return l
}

// side is the side of the part as drawn that the upper punches form, or the lower ones.
func (l *Layout) side(kind string) string {
	if (kind == UpperPunch) != l.WayUp.Over {
		return "top"
	}
	return "bottom"
}

// cannot names what keeps the part from being formed or ejected as it is drawn; the layout is that without it.
func (l *Layout) cannot() {
	for _, t := range l.measured.Subject.Traps {
		l.Cannot = append(l.Cannot, t.Name+": a void with material above and below it")
	}
	for _, c := range l.measured.Subject.Crossings {
		if c.MadeBy == "pressing" && (c.Form != "knurl" || c.Crossed) {
			l.Cannot = append(l.Cannot, c.Name+": a "+c.Form+" across the pressing axis")
		}
	}
	for _, t := range l.measured.Subject.Tapers {
		if l.reverse(t) {
			l.Cannot = append(l.Cannot, t.Name+": a taper that narrows the way the part is ejected")
		}
	}
}

// members divides the shape among die, punches and core rods.
func (l *Layout) members() {
	p := l.measured
	die := &Member{Kind: Die, Name: "die", Count: 1, Why: []string{"forms the outside"}}
	var lower []*Member
	for _, g := range groups(p, l.side(LowerPunch), true) {
		if !g.shelf {
			lower = append(lower, punchOf(p, g, LowerPunch))
			continue
		}
		l.Shelves++
		for _, e := range g.ends {
			die.Ends = append(die.Ends, e)
			die.Area = subject.Some(die.Area.Value + e.Area)
			die.Why = append(die.Why, "a shelf forms "+e.Name()+": it overhangs by no more than its thickness and 3 mm")
		}
	}
	l.Members = append(l.Members, die)
	upper := groups(p, l.side(UpperPunch), false)
	for _, g := range upper {
		l.Members = append(l.Members, punchOf(p, g, UpperPunch))
	}
	l.Members = append(l.Members, lower...)
	l.Upper, l.Lower = len(upper), len(lower)
	l.Class = class(l.Upper+l.Lower+l.Shelves, p.Subject.Height)
	for _, r := range p.Rods {
		l.Members = append(l.Members, coreRod(r, ganged(p, r)))
	}
}

// ganged counts the core rods that stand at the same heights.
func ganged(p *measure.Measured, r measure.Rod) (n int) {
	for _, o := range p.Rods {
		if math.Abs(o.ZLow-r.ZLow) <= sameHeight && math.Abs(o.ZHigh-r.ZHigh) <= sameHeight {
			n += o.Count
		}
	}
	return n
}

// Of lists the members of a kind.
func (l *Layout) Of(kind string) (ms []*Member) {
	for _, m := range l.Members {
		if m.Kind == kind {
			ms = append(ms, m)
		}
	}
	return ms
}

// columns joins each column with the members at its two ends.
func (l *Layout) columns() {
	at := func(e *measure.End, kinds ...string) *Member {
		i := slices.IndexFunc(l.Members, func(m *Member) bool { return slices.Contains(kinds, m.Kind) && slices.Contains(m.Ends, e) })
		return l.Members[i]
	}
	known := map[*subject.Column]*Column{}
	for _, b := range l.measured.Columns {
		upper, lower := b.Top, b.Bottom
		if l.WayUp.Over {
			upper, lower = lower, upper
		}
		c := &Column{Column: b, Count: max(1, len(b.Places)), Over: l.WayUp.Over, Under: lower, upper: at(upper, UpperPunch),
			lower: at(lower, LowerPunch, Die)}
		c.upper.columns = append(c.upper.columns, c)
		c.lower.columns = append(c.lower.columns, c)
		l.all = append(l.all, c)
		known[b.Column] = c
	}
	for _, c := range l.measured.Subject.Columns {
		l.Columns = append(l.Columns, known[c])
	}
}

// Shape is what the tool is laid out for.
func (l *Layout) Shape() *blank.Shape {
	if l.measured == nil {
		return nil
	}
	return l.measured.Shape
}

// AsFinished is a layout that is drawn with the part as finished.
func (l *Layout) AsFinished() *Layout {
	if l.measured == nil || l.measured.After == nil {
		return l
	}
	m, c := *l.measured, *l
	m.Whole, c.measured = m.After, &m
	return &c
}

// Unblended are the blends that the whole shape does not show in some corner, since a slope comes to it.
func (l *Layout) Unblended() []string {
	if l.measured == nil {
		return nil
	}
	return l.measured.Unblended
}

// Whole is the shape with rims, feet, blends and marks, as it is drawn.
func (l *Layout) Whole() *blank.Shape {
	if l.measured == nil {
		return nil
	}
	return l.measured.Whole
}

// Figures is the layout with its figures for the whole part alone: without members, columns and shape.
func (l *Layout) Figures() *Layout {
	return &Layout{WayUp: l.WayUp.alone(), Class: l.Class, Upper: l.Upper, Lower: l.Lower, Shelves: l.Shelves, Green: l.Green,
		Ratio: l.Ratio, Fill: l.Fill, Mean: l.Mean, Force: l.Force, Ejection: l.Ejection, Strength: l.Strength, Handling: l.Handling,
		Assumed: l.Assumed, Unknown: l.Unknown, Cannot: l.Cannot}
}
