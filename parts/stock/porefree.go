package stock

// elements are the densities of solid elements, g/cm3; carbon is graphite. All from memory, round.
var elements = map[string]float64{"Fe": 7.87, "Cu": 8.96, "Ni": 8.90, "Mo": 10.2, "C": 2.25, "Sn": 7.31, "Zn": 7.14}

// lubricantDensity is that of amide wax, g/cm3, from memory.
const lubricantDensity = 1.00

// PoreFreeGreenOf is the density of a mix with lubricant and without pores, by the rule of mixtures from that without
// lubricant, g/cm3, and the lubricant's percent.
func PoreFreeGreenOf(poreFree, lubricant float64) float64 {
	return 100 / ((100-lubricant)/poreFree + lubricant/lubricantDensity)
}

// PoreFreeOf is the density of a mix without pores by the rule of mixtures, 100 / sum of percent over density, in
// g/cm3; not known where one of the elements is not.
func PoreFreeOf(mix []Share) Figure {
	percent, volume := 0.0, 0.0
	for _, s := range mix {
		d, ok := elements[s.Element]
		if !ok {
			return Figure{}
		}
		percent, volume = percent+s.Percent, volume+s.Percent/d
	}
	if volume == 0 {
		return Figure{}
	}
	return Some(percent / volume)
}
