package tooling

import (
	"math"

	"corerod/parts/subject"
)

// Turned tells of the part turned over.
type Turned struct {
	Upper, Lower, Shelves int
	Saves                 int              // punches
	OnShelf               []string         // levels that then stand on a shelf
	Moved, MovedTurned    subject.Optional // mm, the most loose powder that must move sideways in a column, as drawn and turned over
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
