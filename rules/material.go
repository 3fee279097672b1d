package rules

import (
	"sync"

	"corerod/parts/stock"
	"corerod/parts/subject"

	"github.com/google/cel-go/common/types"
	"github.com/google/cel-go/common/types/ref"
)

// Material is what a part states of its material. Each value may be absent: the zero Material states nothing, and
// rules read every field of it under has().
type Material struct {
	Name           string           // as the part file has it
	Basis          string           // on which the figures stand
	DensityLow     subject.Optional // g/cm3, sintered
	DensityHigh    subject.Optional // g/cm3, sintered
	Apparent       subject.Optional // g/cm3, of the loose powder
	PoreFree       subject.Optional // g/cm3, sintered, without lubricant
	PoreFreeGreen  subject.Optional // g/cm3, with lubricant
	SizeChangeLow  subject.Optional // percent, from die to sintered
	SizeChangeHigh subject.Optional // percent, from die to sintered
}

// materialShape is the shape of the material.
var materialShape = sync.OnceValue(func() *shape {
	s := newShape("material")
	word := func(name string, words []string, get func(*Material) string) {
		s.add(&field{name: name, typ: subject.Text, words: words, optional: true, get: func(o *object) (ref.Val, bool) {
			v := get(o.material)
			return types.String(v), v != ""
		}}, types.StringType)
	}
	number := func(name, unit string, get func(*Material) subject.Optional) {
		s.add(&field{name: name, unit: unit, optional: true, get: func(o *object) (ref.Val, bool) {
			v := get(o.material)
			return types.Double(subject.Snap(v.Value)), v.Known
		}}, types.DoubleType)
	}
	word("name", nil, func(m *Material) string { return m.Name })
	word("basis", stock.Bases, func(m *Material) string { return m.Basis })
	number("density_low", subject.Density, func(m *Material) subject.Optional { return m.DensityLow })
	number("density_high", subject.Density, func(m *Material) subject.Optional { return m.DensityHigh })
	number("apparent", subject.Density, func(m *Material) subject.Optional { return m.Apparent })
	number("pore_free", subject.Density, func(m *Material) subject.Optional { return m.PoreFree })
	number("pore_free_green", subject.Density, func(m *Material) subject.Optional { return m.PoreFreeGreen })
	number("size_change_low", unitPercent, func(m *Material) subject.Optional { return m.SizeChangeLow })
	number("size_change_high", unitPercent, func(m *Material) subject.Optional { return m.SizeChangeHigh })
	return s
})
