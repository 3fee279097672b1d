package tooling

import (
	"cmp"
	"fmt"

	"corerod/parts/stock"
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
		change := l.sizeChange() / 100
		if m.SizeChangeFrom != "green" {
			back, ok := l.figure(stock.Springback, what+" are")
			if !ok {
				return
			}
			change = FromGreen(back/100, change)
		}
		lubricant := l.ofMaterial("lubricant", "lubricant that burns off", "percent", m.Lubricant)
		l.Green = subject.Some(Green(d.Density, change, lubricant/100))
	}
}

// sizeChange is the middle of the material's range, percent.
func (l *Layout) sizeChange() float64 {
	m := l.data.Material
	f := m.SizeChangeLow
	f.Value = (f.Value + m.SizeChangeHigh.Value) / 2
	from := cmp.Or(m.SizeChangeFrom, "die")
	return l.ofMaterial("size_change", "change of size from "+from+" to sintered, the middle of the range", "percent", f)
}

// poreFreeGreen is the density of the powder with its lubricant and without pores.
func (l *Layout) poreFreeGreen() subject.Optional {
	if m := l.data.Material; m != nil && m.PoreFreeGreen.Known {
		return subject.Some(m.PoreFreeGreen.Value)
	}
	return subject.Optional{}
}
