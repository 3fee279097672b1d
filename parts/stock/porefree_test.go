package stock

import (
	"math"
	"testing"
)

// TestPoreFree by the rule of mixtures; the sums are worked out by hand, and 8.762 for bronze is a figure computed
// elsewhere from the same element densities.
func TestPoreFree(t *testing.T) {
	for _, c := range []struct {
		mix  []Share
		want float64
	}{
		{[]Share{{"Fe", 97.2}, {"Cu", 2}, {"C", 0.8}}, 100 / (97.2/7.87 + 2/8.96 + 0.8/2.25)},
		{[]Share{{"Cu", 90}, {"Sn", 10}}, 8.762},
		{[]Share{{"Cu", 70}, {"Zn", 30}}, 8.324},
		{[]Share{{"Fe", 50}}, 7.87},
	} {
		if got := PoreFreeOf(c.mix); !got.Known || math.Abs(got.Value-c.want) > 1e-3 {
			t.Errorf("%v: %v, want %g", c.mix, got, c.want)
		}
	}
	if PoreFreeOf([]Share{{"Fe", 99}, {"Xx", 1}}).Known || PoreFreeOf(nil).Known {
		t.Error("an unknown mix has a density")
	}
}
