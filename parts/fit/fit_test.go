package fit

import (
	"math"
	"strings"
	"testing"
)

// TestCells are cells of the table of standard tolerances (ISO 286-1, published), with sizes at the ends of ranges.
func TestCells(t *testing.T) {
	for _, c := range []struct {
		nominal float64
		grade   int
		um      float64
	}{
		{25, 7, 21}, {25, 9, 52}, // the two of a handbook's worked example, ISO 286-1
		{50, 7, 25}, {50.001, 7, 30}, {3, 6, 6}, {3.0001, 6, 8}, {250, 12, 460}, {180, 14, 1000}, {18, 8, 27}, {10, 13, 220}, {1, 14, 250}, {100, 6, 22},
	} {
		w, ok := Width(c.nominal, c.grade)
		if !ok || math.Abs(w*1000-c.um) > 1e-9 {
			t.Errorf("IT%d at %g is %g, want %g micrometres", c.grade, c.nominal, w*1000, c.um)
		}
		if g, ok := Grade(c.nominal, c.um/1000); !ok || g != float64(c.grade) {
			t.Errorf("%g micrometres at %g are IT%v", c.um, c.nominal, g)
		}
	}
	for _, c := range []struct {
		nominal float64
		grade   int
	}{{0, 7}, {-1, 7}, {501, 7}, {25, 4}, {25, 17}} {
		if w, ok := Width(c.nominal, c.grade); ok {
			t.Errorf("IT%d at %g is %g", c.grade, c.nominal, w)
		}
	}
}

// TestFormula: no cell is far from the standard's formula, i = 0.45 D^(1/3) + 0.001 D micrometres with D the geometric
// mean of the range and IT5 = 7 i to IT16 = 1000 i. It is a plausibility check: rounding makes 14 % at 3 mm and below.
func TestFormula(t *testing.T) {
	factors := []float64{7, 10, 16, 25, 40, 64, 100, 160, 250, 400, 640, 1000}
	from := 1.0
	for r, to := range ranges {
		d := math.Sqrt(from * to)
		i := 0.45*math.Cbrt(d) + 0.001*d
		for k, f := range factors {
			if off := math.Abs(1 - f*i/widths[r][k]); off > 0.14 {
				t.Errorf("IT%d up to %g: %g micrometres, the formula has %.3g", LeastGrade+k, to, widths[r][k], f*i)
			}
			if k > 0 && widths[r][k] <= widths[r][k-1] || r > 0 && widths[r][k] <= widths[r-1][k] {
				t.Errorf("IT%d up to %g does not grow", LeastGrade+k, to)
			}
		}
		from = to
	}
}

// TestGradeBetween interpolates by the logarithm: the geometric mean of two widths is half way between their grades.
func TestGradeBetween(t *testing.T) {
	for _, c := range []struct{ nominal, um, want float64 }{
		{25, math.Sqrt(21 * 33), 7.5}, {25, math.Sqrt(52 * 84), 9.5}, {25, 9 * 9.0 / 13, 4}, {25, 1300 * 1300.0 / 840, 17}, {500, 63, 7},
	} {
		if g, ok := Grade(c.nominal, c.um/1000); !ok || math.Abs(g-c.want) > 1e-9 {
			t.Errorf("%g micrometres at %g are IT%v, want %v", c.um, c.nominal, g, c.want)
		}
	}
	last := math.Inf(-1)
	for um := 1.0; um < 5000; um *= 1.07 {
		g, ok := Grade(40, um/1000)
		if !ok || g <= last {
			t.Errorf("IT%v at %g micrometres after IT%v", g, um, last)
		}
		last = g
	}
	if _, ok := Grade(501, 1); ok {
		t.Error("501 mm has a grade")
	}
	if _, ok := Grade(10, 0); ok {
		t.Error("no width has a grade")
	}
}

// TestClasses are deviations as handbooks print them for ISO 286-1 and -2 (from memory), micrometres.
func TestClasses(t *testing.T) {
	for _, c := range []struct {
		class     string
		nominal   float64
		low, high float64
	}{
		{"H7", 25, 0, 21}, {"H8", 16, 0, 27}, {"H11", 50, 0, 160}, {"h6", 25, -13, 0}, {"h9", 100, -87, 0},
		{"g6", 25, -20, -7}, {"f7", 40, -50, -25}, {"f7", 20, -41, -20}, {"e8", 30, -73, -40}, {"d9", 50, -142, -80},
		{"k6", 25, 2, 15}, {"k6", 50, 2, 18}, {"k8", 25, 0, 33}, {"m6", 25, 8, 21}, {"n6", 25, 15, 28}, {"p6", 25, 22, 35},
		{"r6", 60, 41, 60}, {"r6", 70, 43, 62}, {"s6", 60, 53, 72}, {"s7", 100, 71, 106}, {"s6", 25, 35, 48},
		{"F8", 25, 20, 53}, {"G7", 25, 7, 28}, {"JS9", 25, -26, 26}, {"js13", 20, -165, 165}, {"E9", 10, 25, 61},
		{"F7", 10, 13, 28}, {"G7", 50, 9, 34}, {"r6", 250, 84, 113},
		{"K7", 25, -15, 6}, {"K7", 50, -18, 7}, {"K6", 25, -11, 2}, {"K8", 25, -23, 10}, {"K7", 3, -10, 0}, {"M7", 25, -21, 0},
		{"M7", 2, -12, -2}, {"M8", 25, -29, 4}, {"N7", 25, -28, -7}, {"N8", 25, -36, -3}, {"N9", 25, -52, 0}, {"N9", 3, -29, -4},
		{"P7", 25, -35, -14}, {"P6", 25, -31, -18}, {"P9", 25, -74, -22}, {"R7", 25, -41, -20}, {"S7", 25, -48, -27}, {"N6", 50, -28, -12},
		{"P7", 100, -59, -24}, {"K7", 100, -25, 10}, {"K5", 50, -9, 2}, {"j6", 25, -4, 9}, {"j7", 25, -8, 13}, {"j5", 50, -5, 6},
		{"t6", 30, 41, 54}, {"u6", 25, 48, 61}, {"x6", 25, 64, 77}, {"t6", 250, 196, 225}, {"u7", 10, 28, 43},
	} {
		low, high, err := Class(c.class, c.nominal)
		if err != nil || math.Abs(low*1000-c.low) > 1e-9 || math.Abs(high*1000-c.high) > 1e-9 {
			t.Errorf("%s at %g is %+.4g %+.4g (%v), want %+g %+g", c.class, c.nominal, low*1000, high*1000, err, c.low, c.high)
		}
	}
	for _, c := range []struct {
		class   string
		nominal float64
		message string
	}{
		{"7H", 25, "no tolerance class"}, {"H", 25, "no tolerance class"}, {"H007", 25, "no tolerance class"}, {"", 25, "no tolerance class"}, {"H 7", 25, "letter"},
		{"Z7", 25, "the letter Z"}, {"K9", 25, "K has grades 5 to 8"}, {"j8", 25, "j has grades 5 to 7"}, {"t6", 24, "t begins above 24 mm"}, {"zc8", 25, "the letter zc"}, {"H3", 25, "grades 5 to 16"}, {"H07", 25, "the grade 07; the table has grades 5 to 16"}, {"H01", 25, "the grade 01"}, {"H7", 0, "asked for at 0 mm"}, {"H3", 900, "grades 5 to 16"}, {"h17", 25, "grades 5 to 16"}, {"H7", 251, "up to 250 mm"}, {"H7", 900, "up to 250 mm"},
	} {
		if _, _, err := Class(c.class, c.nominal); err == nil || !strings.Contains(err.Error(), c.message) {
			t.Errorf("%s at %g: %v, want %s", c.class, c.nominal, err, c.message)
		}
	}
}

// TestEveryClass: every letter has a deviation in every range, but t in the first, and its zone is as wide as its grade.
func TestEveryClass(t *testing.T) {
	for _, letter := range Letters {
		for _, size := range steps {
			low, high, err := Class(letter+"7", size)
			w, _ := Width(size, 7)
			if none := letter == "t" && size <= 24; none != (err != nil) || !none && math.Abs(high-low-w) > 1e-12 {
				t.Errorf("%s7 at %g: %g to %g, %v", letter, size, low, high, err)
			}
		}
	}
}
