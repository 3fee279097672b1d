// Package fit holds the code system for tolerances of ISO 286-1: standard tolerance grades, tolerance classes such as H7
// or k6, and the grade that a tolerance of any width comes to. Lengths are mm.
//
// The widths of grades 6 to 14 and the limits of the ranges were read in a published table; grades 5, 15 and 16, sizes
// above 250 mm and the fundamental deviations are from memory, checked in the tests against the standard's formulas and against cells
// of the table of limits (ISO 286-2), from memory too.
package fit

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
)

// Grades of the table.
const (
	LeastGrade = 5
	MostGrade  = 16
)

// MostSize is the largest size of the table, mm.
const MostSize = 500

// ranges are the upper ends of the main ranges of size, mm; an end belongs to the range that it ends.
var ranges = []float64{3, 6, 10, 18, 30, 50, 80, 120, 180, 250, 315, 400, 500}

// widths are the standard tolerances, micrometres: by range, IT5 to IT16.
var widths = [][]float64{
	{4, 6, 10, 14, 25, 40, 60, 100, 140, 250, 400, 600},
	{5, 8, 12, 18, 30, 48, 75, 120, 180, 300, 480, 750},
	{6, 9, 15, 22, 36, 58, 90, 150, 220, 360, 580, 900},
	{8, 11, 18, 27, 43, 70, 110, 180, 270, 430, 700, 1100},
	{9, 13, 21, 33, 52, 84, 130, 210, 330, 520, 840, 1300},
	{11, 16, 25, 39, 62, 100, 160, 250, 390, 620, 1000, 1600},
	{13, 19, 30, 46, 74, 120, 190, 300, 460, 740, 1200, 1900},
	{15, 22, 35, 54, 87, 140, 220, 350, 540, 870, 1400, 2200},
	{18, 25, 40, 63, 100, 160, 250, 400, 630, 1000, 1600, 2500},
	{20, 29, 46, 72, 115, 185, 290, 460, 720, 1150, 1850, 2900},
	{23, 32, 52, 81, 130, 210, 320, 520, 810, 1300, 2100, 3200},
	{25, 36, 57, 89, 140, 230, 360, 570, 890, 1400, 2300, 3600},
	{27, 40, 63, 97, 155, 250, 400, 630, 970, 1550, 2500, 4000},
}

// rangeOf is the range that a size belongs to.
func rangeOf(ends []float64, size float64) (int, bool) {
	i := slices.IndexFunc(ends, func(end float64) bool { return size <= end*rangeEnd })
	return i, i >= 0 && size > 0
}

// Width is the standard tolerance of a whole grade at a nominal size; not known outside IT5 to IT16 and past 500 mm.
func Width(nominal float64, grade int) (float64, bool) {
	i, ok := rangeOf(ranges, nominal)
	if !ok || grade < LeastGrade || grade > MostGrade {
		return 0, false
	}
	return widths[i][grade-LeastGrade] / 1000, true
}

// WidthAt is the tolerance that a grade comes to, also between whole grades: the other way round of Grade. Sizes past the
// first and last range take its widths, so that there is always one.
func WidthAt(nominal, grade float64) float64 {
	i, ok := rangeOf(ranges, nominal)
	switch {
	case ok:
	case nominal <= 0:
		i = 0
	default:
		i = len(widths) - 1
	}
	row := widths[i]
	k := min(max(int(math.Floor(grade))-LeastGrade, 0), len(row)-2)
	return row[k] * math.Pow(row[k+1]/row[k], grade-float64(LeastGrade+k)) / 1000
}

// Grade is the grade that a whole tolerance comes to at a nominal size: whole at a cell of the table, between grades by
// the logarithm of the width, and past the first and last grade by their ratio. Not known past 500 mm.
func Grade(nominal, width float64) (float64, bool) {
	i, ok := rangeOf(ranges, nominal)
	if !ok || width <= 0 {
		return 0, false
	}
	row, w := widths[i], width*1000
	k := 0
	for k < len(row)-2 && w > row[k+1] {
		k++
	}
	if math.Abs(w-row[k+1]) <= sameWidth*w {
		return float64(LeastGrade + k + 1), true
	}
	return float64(LeastGrade+k) + math.Log(w/row[k])/math.Log(row[k+1]/row[k]), true
}

// steps are the upper ends of the ranges of fundamental deviations, mm.
var steps = []float64{3, 6, 10, 14, 18, 24, 30, 40, 50, 65, 80, 100, 120, 140, 160, 180, 200, 225, 250}

// deviations are the fundamental deviations of shafts by range, micrometres: of d to g the upper one below the nominal
// size, of k to x the lower one above it; of t there are none in the first ranges.
var deviations = map[string][]float64{
	"d": {20, 30, 40, 50, 50, 65, 65, 80, 80, 100, 100, 120, 120, 145, 145, 145, 170, 170, 170},
	"e": {14, 20, 25, 32, 32, 40, 40, 50, 50, 60, 60, 72, 72, 85, 85, 85, 100, 100, 100},
	"f": {6, 10, 13, 16, 16, 20, 20, 25, 25, 30, 30, 36, 36, 43, 43, 43, 50, 50, 50},
	"g": {2, 4, 5, 6, 6, 7, 7, 9, 9, 10, 10, 12, 12, 14, 14, 14, 15, 15, 15},
	"k": {0, 1, 1, 1, 1, 2, 2, 2, 2, 2, 2, 3, 3, 3, 3, 3, 4, 4, 4},
	"m": {2, 4, 6, 7, 7, 8, 8, 9, 9, 11, 11, 13, 13, 15, 15, 15, 17, 17, 17},
	"n": {4, 8, 10, 12, 12, 15, 15, 17, 17, 20, 20, 23, 23, 27, 27, 27, 31, 31, 31},
	"p": {6, 12, 15, 18, 18, 22, 22, 26, 26, 32, 32, 37, 37, 43, 43, 43, 50, 50, 50},
	"r": {10, 15, 19, 23, 23, 28, 28, 34, 34, 41, 43, 51, 54, 63, 65, 68, 77, 80, 84},
	"s": {14, 19, 23, 28, 28, 35, 35, 43, 43, 53, 59, 71, 79, 92, 100, 108, 122, 130, 140},
	"t": {0, 0, 0, 0, 0, 0, 41, 48, 54, 66, 75, 91, 104, 122, 134, 146, 166, 180, 196},
	"u": {18, 23, 28, 33, 33, 41, 48, 60, 70, 87, 102, 124, 144, 170, 190, 210, 236, 258, 284},
	"x": {20, 28, 34, 40, 45, 54, 64, 80, 97, 122, 146, 178, 210, 248, 280, 310, 350, 385, 425},
}

// belowJ are the lower deviations of j, micrometres below the nominal size: by range, of grades 5 and 6, and of grade 7.
var belowJ = [2][]float64{
	{2, 2, 2, 3, 3, 4, 4, 5, 5, 7, 7, 9, 9, 11, 11, 11, 13, 13, 13},
	{4, 4, 5, 6, 6, 8, 8, 10, 10, 12, 12, 15, 15, 18, 18, 18, 21, 21, 21},
}

// belowLeast are the widths of the grade below the least, IT4, micrometres, by range of size.
var belowLeast = []float64{3, 4, 4, 5, 6, 7, 8, 10, 12, 14, 16, 18, 20}

// Letters lists the letters of classes that are known: capitals for holes, small ones for shafts.
var Letters = []string{"D", "E", "F", "G", "H", "JS", "K", "M", "N", "P", "R", "S",
	"d", "e", "f", "g", "h", "j", "js", "k", "m", "n", "p", "r", "s", "t", "u", "x"}

// Split divides a class into its letter and its grade: k6 into k and 6.
func Split(class string) (letter string, grade int, ok bool) {
	letter = strings.TrimRight(class, "0123456789")
	grade, err := strconv.Atoi(class[len(letter):])
	return letter, grade, err == nil && letter != "" && len(class)-len(letter) <= 2
}

// Class gives the lower and upper deviation, mm, of a tolerance class at a nominal size. An error says what is not
// known of the class and what is.
func Class(class string, nominal float64) (low, high float64, err error) {
	letter, grade, ok := Split(class)
	if !ok {
		return 0, 0, fmt.Errorf("is no tolerance class; write a letter and a grade, such as H7 or k6")
	}
	if !slices.Contains(Letters, letter) {
		return 0, 0, fmt.Errorf("has the letter %s, which is not in the table; it has %s: give `limits` or `plus_minus` instead", letter,
			strings.Join(Letters, ", "))
	}
	if written := class[len(letter):]; grade < LeastGrade || grade > MostGrade || written[0] == '0' { // 01 is another grade than 1
		return 0, 0, fmt.Errorf("has the grade %s; the table has grades %d to %d", written, LeastGrade, MostGrade)
	}
	width, ok := Width(nominal, grade)
	step, within := rangeOf(steps, nominal)
	if !ok || !within {
		return 0, 0, fmt.Errorf("is asked for at %.6g mm; classes are known up to 250 mm: give `limits` or `plus_minus` instead", nominal)
	}
	switch small := strings.ToLower(letter); {
	case small == "js":
		return -width / 2, width / 2, nil
	case letter == "H":
		return 0, width, nil
	case letter == "h":
		return -width, 0, nil
	case letter == "j":
		return classJ(nominal, grade, width, step)
	case letter == small && small < "h":
		d := deviations[small][step] / 1000
		return -d - width, -d, nil
	case letter == small:
		d := deviations[small][step] / 1000
		if small == "t" && d == 0 {
			return 0, 0, fmt.Errorf("is asked for at %.6g mm; t begins above 24 mm: give u, or `limits`", nominal)
		}
		if small == "k" && grade > 7 {
			d = 0
		}
		return d, d + width, nil
	case small < "h": // D to G: as far above as the shaft's letter is below
		d := deviations[small][step] / 1000
		return d, d + width, nil
	default:
		high, err = upperOf(letter, nominal, grade, step)
		return high - width, high, err
	}
}

// classJ gives the deviations of j, which the table has in grades 5 to 7.
func classJ(nominal float64, grade int, width float64, step int) (low, high float64, err error) {
	switch {
	case grade <= 6:
		low = -belowJ[0][step] / 1000
	case grade == 7:
		low = -belowJ[1][step] / 1000
	default:
		return 0, 0, fmt.Errorf("has the grade %d; j has grades 5 to 7: give js, or `limits`", grade)
	}
	return low, low + width, nil
}

// upperOf is the upper deviation of a hole of K to S: as far below as that of the shaft is above, but that it is raised by what the grade
// is wider than the next finer one, for K, M and N up to grade 8 and for P to S up to grade 7, and not up to 3 mm. N past grade 8 begins
// at the nominal size.
func upperOf(letter string, nominal float64, grade, step int) (float64, error) {
	r, _ := rangeOf(ranges, nominal)
	raised, small := 0.0, r == 0
	if most := map[bool]int{true: 8, false: 7}[letter < "P"]; grade <= most && !small {
		finer := belowLeast[r]
		if grade > LeastGrade {
			finer = widths[r][grade-1-LeastGrade]
		}
		raised = widths[r][grade-LeastGrade] - finer
	}
	switch {
	case letter == "K" && grade > 8 && !small:
		return 0, fmt.Errorf("has the grade %d; K has grades 5 to 8 above 3 mm: give JS, or `limits`", grade)
	case letter == "N" && grade > 8 && !small:
		return 0, nil
	}
	return (raised - deviations[strings.ToLower(letter)][step]) / 1000, nil
}
