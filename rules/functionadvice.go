package rules

import "strings"

// elsewhere gives our functions by what other languages call them.
var elsewhere = map[string]string{"any": "exists", "forall": "all", "some": "exists", "every": "all", "each": "all", "where": "filter",
	"one": "exists_one", "inch": "from_inch", "startswith": "startsWith", "starts_with": "startsWith", "hasprefix": "startsWith",
	"endswith": "endsWith", "ends_with": "endsWith", "hassuffix": "endsWith", "includes": "contains", "total": "sum",
	"rounded": "round", "gap": "distance"}

// advice says what to write for functions of other languages that expressions do without.
var advice = map[string]string{
	"min": "`least(a, b)` of two numbers, `least(list, x, number of x)` over a list",
	"max": "`greatest(a, b)` of two numbers, `greatest(list, x, number of x)` over a list",
	"map": "`all`, `exists` or `filter` to ask of each element, `sum`, `least` or `greatest` for one number of all, " +
		"as in `sum(part.holes, h, h.width)`",
	"reduce":  "`sum`, `least` or `greatest` for one number of all, as in `sum(part.holes, h, h.width)`",
	"avg":     "`sum(list, x, number of x) / size(list)` where `size(list) > 0`",
	"count":   "`size(list)`, or `size(list.filter(x, condition))` for some of them",
	"matches": "`startsWith`, `endsWith` or `contains`, or `in` with a list of texts",
	"int":     "`round(x)` for a whole number; there is one kind of number",
	"double":  "the number alone; there is one kind of number",
	"string":  "the text alone; in `says` a number is printed with its unit, as by `length(x)`",
	"ceil":    "a comparison with the number itself, as in `x <= 4`",
	"floor":   "a comparison with the number itself, as in `x < 5`",
	"pow":     "`x * x`",
	"sqrt":    "the square on both sides, as in `x * x >= y`; the gap between two subjects is `distance(a, b)`",
}

// advised finds advice by further names.
var advised = map[string]string{"mean": "avg", "average": "avg", "len": "count", "length": "count", "float": "double", "number": "double",
	"uint": "int", "trunc": "int", "integer": "int", "fold": "reduce", "regex": "matches", "match": "matches", "like": "matches",
	"str": "string", "text": "string", "minimum": "min", "maximum": "max", "ceiling": "ceil", "square": "pow"}

// adviceOn is what to write for a function of another language, "" where there is no advice.
func adviceOn(name string) string {
	name = strings.ToLower(name)
	return advice[firstOf(advised[name], name)]
}
