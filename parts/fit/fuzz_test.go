package fit

import (
	"fmt"
	"math"
	"strings"
	"testing"
)

// FuzzClass: a class that is known at a size has finite limits as far apart as its grade is wide there, the same as at the
// end of the size's range and as the class written again, and those of a hole are the shaft's turned over; one that is not
// known gets a message that names what is wrong with it. A width comes back from its grade.
func FuzzClass(f *testing.F) {
	for i, class := range []string{"H7", "js6", "JS9", "k7", "k8", "h16", "s5", "D12", "g4", "H17", "H07", "H01", "H", "7", "zc8", "K7", "",
		"H 7", "IT7", "h+7", "é6", "H٧"} {
		f.Add(class, 25.0, 0.021)
		f.Add(class, []float64{3, 3.000001, 18, 24, 50, 180, 225, 250, 250.000001, 500, 500.1, 0, -1, 1e-9}[i%14], 0.021)
	}
	f.Fuzz(func(t *testing.T, class string, size, width float64) {
		checkClass(t, class, size)
		if g, ok := Grade(size, width); ok && width < 1e6 && width > 1e-6 {
			if back := WidthAt(size, g); math.Abs(back-width) > 1e-9*width {
				t.Errorf("%g mm at %g are IT%g, which is %g mm", width, size, g, back)
			}
		} else if ok != (size > 0 && size <= MostSize && width > 0) && math.Abs(size-MostSize) > 1e-9 {
			t.Errorf("%g mm at %g have a grade: %t", width, size, ok)
		}
	})
}

func checkClass(t *testing.T, class string, size float64) {
	low, high, err := Class(class, size)
	letter, grade, ok := Split(class)
	if err != nil {
		about := map[string]bool{"is no tolerance class": !ok, "has the letter": true, "has the grade": grade < LeastGrade ||
			grade > MostGrade || class != fmt.Sprint(letter, grade) || letter == "j" && grade > 7 || letter == "K" && grade > 8,
			"is asked for at": !(size > 0 && size <= 250) || letter == "t" && size <= 24*(1+1e-12)}
		for says, so := range about {
			if strings.HasPrefix(err.Error(), says) && so {
				return
			}
		}
		t.Fatalf("%q at %g: %v", class, size, err)
	}
	if again := fmt.Sprint(letter, grade); again != class {
		t.Fatalf("%q is taken for %q", class, again)
	}
	same := func(otherLow, otherHigh float64, err error) {
		t.Helper()
		if err != nil || otherLow != low || otherHigh != high {
			t.Errorf("%s at %g is %g to %g, not %g to %g, %v", class, size, low, high, otherLow, otherHigh, err)
		}
	}
	w, _ := Width(size, grade)
	if !(low <= high) || math.IsInf(high-low, 0) || math.Abs(high-low-w) > 1e-12 || !(w > 0) {
		t.Errorf("%s at %g: %g to %g, its grade is %g wide", class, size, low, high, w)
	}
	for _, end := range steps {
		if size <= end*(1+1e-12) { // an end in inches is a rounding off
			same(Class(class, end))
			break
		}
	}
	if g, ok := Grade(size, w); !ok || g != float64(grade) {
		t.Errorf("%s at %g is as wide as IT%g", class, size, g)
	}
	if capital := strings.ToUpper(letter); letter != "j" && strings.ContainsAny(capital, "DEFGHJ") {
		shaft, hole := strings.ToLower(letter)+class[len(letter):], capital+class[len(letter):]
		a, b, err := Class(shaft, size)
		c, d, _ := Class(hole, size)
		if err != nil || a != -d || b != -c {
			t.Errorf("at %g %s is %g to %g and %s %g to %g, %v", size, shaft, a, b, hole, c, d, err)
		}
	}
}
