package tooling

import (
	"math"
	"slices"

	"corerod/parts/measure"
	"corerod/parts/subject"
)

// Layout is the tool for one part.
type Layout struct {
	Class                 float64
	Members               []*Member        // the die, the upper punches, the lower punches, the core rods
	Columns               []*Column        // each kind once, in the order of the part's
	Upper, Lower, Shelves int              // punches with a fill of their own, and shelves in the die
	Turned                *Turned          // nil where turning the part over removes no member and moves no less powder
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
	turned   *Turned
	measured *measure.Measured
	data     *Data
}

// Column is one column of the part, or several alike, as it is filled and pressed.
type Column struct {
	measure.Column
	Count    int
	Fill     subject.Optional // mm, of loose powder
	Ratio    subject.Optional // fill over height
	Transfer subject.Optional // mm, of loose powder that must come to it from beside, below zero if it must go
	Decay    subject.Optional
	Profile  Profile          // where Decay is known
	Pressure subject.Optional // MPa, the mean
	Spread   subject.Optional // g/cm3
	upper    *Member
	lower    *Member
}

// Turned tells of the part turned over.
type Turned struct {
	Upper, Lower, Shelves int
	Saves                 int              // punches
	OnShelf               []string         // levels that then stand on a shelf
	Moved, MovedTurned    subject.Optional // mm, the most loose powder that must move sideways in a column, as drawn and turned over
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

// Lay lays out the tool for a blank, with what is known of powder, friction and presses, and completes the blank's
// subjects: punches, core rods, columns, press, class, green density and strength.
func Lay(p *measure.Measured, d *Data) *Layout {
	l := &Layout{measured: p, data: d}
	l.members()
	l.DieWall, l.CoreWall = p.Walls(l.Members[0].Ends)
	l.columns()
	l.fill()
	l.press()
	l.density()
	l.eject()
	l.strength()
	l.sizes()
	l.choose()
	l.complete()
	l.cannot()
	return l
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
		if t.Reverse {
			l.Cannot = append(l.Cannot, t.Name+": a taper that narrows the way the part is ejected")
		}
	}
}

// members divides the shape among die, punches and core rods.
func (l *Layout) members() {
	p := l.measured
	die := &Member{Kind: Die, Name: "die", Count: 1, Why: []string{"forms the outside"}}
	var lower []*Member
	for _, g := range groups(p, "bottom") {
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
	top := groups(p, "top")
	for _, g := range top {
		l.Members = append(l.Members, punchOf(p, g, UpperPunch))
	}
	l.Members = append(l.Members, lower...)
	l.Upper, l.Lower = len(top), len(lower)
	l.Class = class(l.Upper+l.Lower+l.Shelves, p.Subject.Height)
	for _, r := range p.Rods {
		l.Members = append(l.Members, coreRod(r, ganged(p, r)))
	}
	l.turn(top)
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

// turn compares with the part turned over: levels on top that a shelf can form then need no punch, those on a shelf do.
func (l *Layout) turn(top []*group) {
	t := &Turned{Upper: l.Lower + l.Shelves}
	for _, g := range top {
		if !g.shelf {
			t.Lower++
			continue
		}
		t.Shelves++
		for _, e := range g.ends {
			t.OnShelf = append(t.OnShelf, e.Name())
		}
	}
	t.Saves = l.Upper + l.Lower - t.Upper - t.Lower
	l.turned = t
	if t.Saves > 0 {
		l.Turned = t
	}
}

// movesTurned offers to turn the part over where less than half as much powder must then move sideways.
func (l *Layout) movesTurned(q float64) {
	moved, turned := 0.0, 0.0
	for _, m := range l.Members {
		switch m.Kind {
		case UpperPunch:
			turned = math.Max(turned, mostMoved(q, m.columns, true))
		case LowerPunch:
			moved = math.Max(moved, mostMoved(q, m.columns, false))
		}
	}
	l.turned.Moved, l.turned.MovedTurned = subject.Some(moved), subject.Some(turned)
	if l.turned.Saves >= 0 && turned < moved/2 {
		l.Turned = l.turned
	}
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
		c := &Column{Column: b, Count: max(1, len(b.Places)), upper: at(b.Top, UpperPunch), lower: at(b.Bottom, LowerPunch, Die)}
		c.upper.columns = append(c.upper.columns, c)
		c.lower.columns = append(c.lower.columns, c)
		l.all = append(l.all, c)
		known[b.Column] = c
	}
	for _, c := range l.measured.Subject.Columns {
		l.Columns = append(l.Columns, known[c])
	}
}
