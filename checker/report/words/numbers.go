package words

import (
	"fmt"
	"math"
	"strconv"

	"corerod/parts/source"
	"corerod/parts/subject"
)

// Twelve writes a number with 12 significant digits.
func Twelve(v float64) string {
	r, err := strconv.ParseFloat(strconv.FormatFloat(v, 'g', 12, 64), 64)
	if err != nil {
		return "-"
	}
	return strconv.FormatFloat(r, 'f', -1, 64)
}

// Exact writes a measure with 12 significant digits.
func Exact(v float64, unit, own string) string {
	if unit == subject.MM && own == "in" {
		v /= 25.4
	}
	text := Twelve(v)
	switch unit {
	case subject.MM:
		return text + " " + own
	case subject.Ratio, subject.Count, "":
		return text
	}
	return text + " " + unit
}

// Six writes a number with six significant digits.
func Six(v float64) string {
	s, err := strconv.ParseFloat(strconv.FormatFloat(subject.Snap(v), 'g', 6, 64), 64)
	if err != nil {
		return "-"
	}
	return strconv.FormatFloat(s, 'f', -1, 64)
}

// Class is a class of parts in Roman numerals.
func Class(class float64) string { return [...]string{"I", "II", "III", "IV"}[int(class)-1] }

// Value writes a measure with its unit, a length in the part's own.
func Value(v any, unit, own string) string {
	f, ok := v.(float64)
	if !ok {
		if s, text := v.(string); text {
			return source.Plain(s)
		}
		return fmt.Sprint(v)
	}
	switch unit {
	case subject.MM:
		return Coordinate(f, own) + " " + own
	case subject.MM2:
		return Area(f, own)
	case subject.MM3:
		if own == "in" {
			return Volume(f, own)
		}
		return Digits(f) + " mm3"
	case subject.Ratio, subject.Count, "":
		return Digits(f)
	}
	return Digits(f) + " " + unit
}

// Area writes an area in the square of the part's own unit.
func Area(v float64, own string) string {
	if own == "in" {
		return Digits(v/25.4/25.4) + " in2"
	}
	return Digits(v) + " mm2"
}

// Volume writes a volume in cm3, or in in3 for a part in inches.
func Volume(v float64, own string) string {
	if own == "in" {
		return Digits(v/25.4/25.4/25.4) + " in3"
	}
	return Digits(v/1000) + " cm3"
}

// Coordinate writes a length in the part's own unit, without it.
func Coordinate(v float64, own string) string {
	places := 4
	if own == "in" {
		v, places = v/25.4, 6
	}
	scale := math.Pow(10, float64(places))
	return strconv.FormatFloat(math.Round(v*scale)/scale+0, 'f', -1, 64)
}

// Digits writes a figure with at most 4 significant digits, or to the whole where it has more.
func Digits(v float64) string {
	if math.Abs(v) >= 10000 {
		return strconv.FormatFloat(math.Round(v), 'f', -1, 64)
	}
	r, err := strconv.ParseFloat(strconv.FormatFloat(v, 'g', 4, 64), 64)
	if err != nil {
		return strconv.FormatFloat(v, 'g', 4, 64)
	}
	return strconv.FormatFloat(r, 'f', -1, 64)
}

// Rounded writes a number to some decimal places, with six significant digits at most.
func Rounded(v float64, places int) string {
	scale := math.Pow(10, float64(places))
	return Six(math.Round(v*scale) / scale)
}
