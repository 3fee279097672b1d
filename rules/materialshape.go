package rules

import (
	"sync"

	"corerod/parts/stock"
	"corerod/parts/subject"

	"github.com/google/cel-go/common/types"
	"github.com/google/cel-go/common/types/ref"
)

// materialShape is the shape of the part's material: its name as the part states it, and what the packs know of it.
var materialShape = sync.OnceValue(func() *shape {
	s := newShape("material")
	word := func(name string, words []string, get func(*StockMaterial) string) {
		s.add(&field{name: name, typ: subject.Text, words: words, optional: true, get: func(o *object) (ref.Val, bool) {
			v := get(o.material)
			return types.String(v), v != ""
		}}, types.StringType)
	}
	number := func(name, unit string, get func(*StockMaterial) stock.Figure) {
		sign := 0
		if unit == subject.Density {
			sign = 1
		}
		s.add(&field{name: name, unit: unit, optional: true, sign: sign, get: func(o *object) (ref.Val, bool) {
			v := get(o.material)
			return types.Double(subject.Snap(v.Value)), v.Known
		}}, types.DoubleType)
	}
	word("name", nil, func(m *StockMaterial) string { return m.Name })
	word("family", stock.Families, func(m *StockMaterial) string { return m.Family })
	word("basis", stock.Bases, func(m *StockMaterial) string { return string(m.Basis) })
	number("density_low", subject.Density, func(m *StockMaterial) stock.Figure { return m.DensityLow })
	number("density_high", subject.Density, func(m *StockMaterial) stock.Figure { return m.DensityHigh })
	number("apparent", subject.Density, func(m *StockMaterial) stock.Figure { return m.Apparent })
	number("pore_free", subject.Density, func(m *StockMaterial) stock.Figure { return m.PoreFree })
	number("pore_free_green", subject.Density, func(m *StockMaterial) stock.Figure { return m.PoreFreeGreen })
	number("size_change_low", unitPercent, func(m *StockMaterial) stock.Figure { return m.SizeChangeLow })
	number("size_change_high", unitPercent, func(m *StockMaterial) stock.Figure { return m.SizeChangeHigh })
	return s
})
