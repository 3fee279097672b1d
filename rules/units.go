package rules

import (
	"math"
	"slices"
	"strconv"

	"corerod/parts/subject"
)

// Units of figures beside those of measures.
const (
	unitInch    = "in"
	unitMPa     = "MPa"
	unitKN      = "kN"
	unitPercent = "percent"
)

// inch in mm, exactly.
const inch = 25.4

// figureUnits are the units a limit or a column of a table can have. Expressions see mm where a pack writes inches.
var figureUnits = []string{subject.MM, unitInch, subject.Deg, subject.MM2, subject.MM3, subject.Gram, subject.Density,
	unitMPa, unitKN, unitPercent, subject.Ratio, subject.Count}

// shown says how a unit function prints: digits after the point, and the word behind the number.
type shown struct {
	digits int
	word   string
}

// unitFunctions print a number in a text. length, which prints in the part's own unit, is one of mm and in.
var unitFunctions = map[string]shown{
	"length":      {},
	subject.MM:    {3, " mm"},
	unitInch:      {4, " in"},
	subject.Deg:   {2, " deg"},
	unitKN:        {1, " kN"},
	unitMPa:       {1, " MPa"},
	subject.Gram:  {2, " g"},
	unitPercent:   {1, " %"},
	subject.Count: {2, ""},
}

// printing lists the unit functions that a text can call.
var printing = func() (names []string) {
	for name := range unitFunctions {
		if name != unitInch {
			names = append(names, name)
		}
	}
	slices.Sort(names)
	return names
}()

// printed writes a number by a unit function, for a part drawn in mm or in.
func printed(function string, v float64, partUnit string) string {
	if function == "length" {
		function = subject.MM
		if partUnit == unitInch {
			function, v = unitInch, v/inch
		}
	}
	s := unitFunctions[function]
	scale := math.Pow(10, float64(s.digits))
	if r := math.Round(v*scale) / scale; !math.IsInf(r, 0) {
		v = r + 0
	}
	return strconv.FormatFloat(v, 'f', -1, 64) + s.word
}
