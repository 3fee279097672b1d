package source

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// Number reads a finite decimal number.
func (r *Reader) Number(n *Node, what string) (float64, bool) {
	v, wrong := number(n)
	if wrong != "" {
		r.Report(n, "%s %s", what, wrong)
		return 0, false
	}
	return v, true
}

// number reads a decimal number, or says what is wrong with it.
func number(n *Node) (float64, string) {
	if n.Shape != Scalar || n.Null {
		return 0, "needs a number, not " + found(n)
	}
	s := n.Value
	if n.Quoted {
		return 0, fmt.Sprintf("needs a number, not text in quotes: %s", Quote(s))
	}
	digits := strings.TrimLeft(s, "+-")
	switch {
	case !decimal(s):
		switch low := strings.ToLower(digits); {
		case low == ".nan" || low == ".inf":
			return 0, fmt.Sprintf("is %s; only finite numbers are allowed", s)
		case strings.HasPrefix(low, "0x") || strings.HasPrefix(low, "0o") || strings.HasPrefix(low, "0b") || strings.Contains(s, "_"):
			return 0, fmt.Sprintf("is %s; write a plain decimal number", Quote(s))
		case decimal(strings.Replace(s, ",", ".", 1)):
			return 0, fmt.Sprintf("is `%s`; write a point, not a comma: %s", s, strings.Replace(s, ",", ".", 1))
		}
		return 0, "needs a number, not " + found(n)
	case len(digits) > 1 && digits[0] == '0' && digits[1] >= '0' && digits[1] <= '9':
		return 0, fmt.Sprintf("is `%s`; leave out the leading zero, which YAML reads as octal", s)
	}
	v, err := strconv.ParseFloat(s, 64)
	if err != nil || math.IsInf(v, 0) {
		return 0, fmt.Sprintf("is `%s`, out of the range of numbers", s)
	}
	return v, ""
}

// decimal tells whether s is a plain decimal: sign, digits, point, exponent.
func decimal(s string) bool {
	s = strings.TrimPrefix(strings.TrimPrefix(s, "+"), "-")
	mantissa, exponent, has := strings.Cut(strings.ToLower(s), "e")
	whole, part, _ := strings.Cut(mantissa, ".")
	if has {
		exponent = strings.TrimPrefix(strings.TrimPrefix(exponent, "+"), "-")
		if exponent == "" || !allDigits(exponent) {
			return false
		}
	}
	return whole+part != "" && allDigits(whole) && allDigits(part)
}

func allDigits(s string) bool {
	return strings.Trim(s, "0123456789") == ""
}
