package measure

import (
	"corerod/parts/form"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"
)

// TestDistances compares walls with the least distances of the same walls in an independent solid kernel:
// distances.tcl there wrote distances.txt.
func TestDistances(t *testing.T) {
	b, err := os.ReadFile("../../testdata/solids/distances.txt")
	if err != nil {
		t.Fatal(err)
	}
	lines := strings.Split(strings.TrimSpace(string(b)), "\n")
	if len(lines) < 10 {
		t.Fatalf("%d distances", len(lines))
	}
	for _, line := range lines {
		f := strings.Split(strings.TrimPrefix(line, "= "), ", ")
		want, err := strconv.ParseFloat(f[2], 64)
		if err != nil {
			t.Fatal(err)
		}
		text, err := os.ReadFile("../../testdata/solids/" + f[0] + ".yaml")
		if err != nil {
			t.Fatal(err)
		}
		p, ps := form.Parse(f[0], text)
		if len(ps) > 0 {
			t.Fatal(ps)
		}
		made, _ := Part(p)
		least := math.Inf(1)
		for _, w := range made.Subject.Walls {
			if strings.TrimRight(w.Name, " 0123456789") == f[1] {
				least = math.Min(least, w.Thickness)
			}
		}
		if math.Abs(least-want) > 1e-6 {
			t.Errorf("%s, %s: %.9g, the kernel has %.9g", f[0], f[1], least, want)
		}
	}
}
