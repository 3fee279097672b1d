package tooling

import (
	"fmt"

	"corerod/parts/stock"
	"corerod/parts/subject"
)

// Assumed is a figure that the layout stands on and the drawing does not state.
type Assumed struct {
	What  string
	Value float64
	Unit  string
	Basis stock.Basis
	From  string // where a shop puts its own: a limit, or a figure of a material
}

// assume notes a figure once.
func (l *Layout) assume(a Assumed) {
	for _, o := range l.Assumed {
		if o.From == a.From && o.What == a.What {
			return
		}
	}
	l.Assumed = append(l.Assumed, a)
}

// figure takes a figure from a limit of the packs; where none has it, what is not known for it.
func (l *Layout) figure(name, what string) (float64, bool) {
	t := stock.ToolFigureNamed(name)
	if l.data.Figure != nil {
		if f, ok := l.data.Figure(name); ok {
			l.assume(Assumed{t.What, f.Value, unitWord(f.Unit), f.Basis, "limits." + name + " of " + f.Pack})
			return f.Value, true
		}
	}
	l.unknown(fmt.Sprintf("%s not known: no pack in force has the limit %s, %s", what, name, t.What))
	return 0, false
}

// unitWord is a unit as figures are shown with it: a ratio has none.
func unitWord(unit string) string {
	if unit == subject.Ratio {
		return ""
	}
	return unit
}

// ofMaterial takes a figure of the material.
func (l *Layout) ofMaterial(key, what, unit string, f stock.Figure) float64 {
	l.assume(Assumed{what, f.Value, unit, l.data.Material.BasisOf(key), "materials." + l.data.Name + "." + key})
	return f.Value
}

// unknown notes what is not known, once.
func (l *Layout) unknown(says string) {
	for _, o := range l.Unknown {
		if o == says {
			return
		}
	}
	l.Unknown = append(l.Unknown, says)
}
