package tooling

import (
	"math"

	"corerod/parts/stock"
	"corerod/parts/subject"
)

// Size is one size of the drawing in plan, and the size of the die, core rod or punch that gives it.
type Size struct {
	Of                string
	Final             float64          // mm
	Cavity, Low, High subject.Optional // mm; Low and High by the ends of the material's range
}

// sizes finds the cavity for every size in plan.
func (l *Layout) sizes() {
	all := l.measured.Sizes()
	for _, s := range all {
		l.Sizes = append(l.Sizes, Size{Of: s.Of, Final: s.Value})
	}
	m := l.data.Material
	if m == nil || !m.SizeChangeLow.Known {
		return // which is said with the green density
	}
	fromDie := func(change float64) float64 { return change }
	if m.SizeChangeFrom == "green" {
		back, ok := l.figure(stock.Springback, "die sizes are")
		if !ok {
			return
		}
		fromDie = func(change float64) float64 { return FromDie(back/100, change) }
	}
	mean := l.sizeChange()
	for i := range l.Sizes {
		s := &l.Sizes[i]
		at := func(change float64) subject.Optional { return subject.Some(Cavity(s.Final, fromDie(change/100))) }
		a, b := at(m.SizeChangeLow.Value), at(m.SizeChangeHigh.Value)
		s.Cavity = at(mean)
		s.Low, s.High = subject.Some(math.Min(a.Value, b.Value)), subject.Some(math.Max(a.Value, b.Value))
	}
}
