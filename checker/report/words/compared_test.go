package words

import (
	"strings"
	"testing"

	"corerod/rules"
)

// TestMissedByLittle: what is missed by less than the last digit shown is not said to be missed by nothing.
func TestMissedByLittle(t *testing.T) {
	by := 0.00002
	c := rules.Compared{Measure: "wall.thickness", Value: 1.99998, Unit: "mm", Needs: ">=", Limit: 2.0, MissesBy: &by}
	for unit, want := range map[string]string{"mm": "wall.thickness is 2 mm, needed at least 2 mm, missed by less than 0.0001 mm",
		"in": "wall.thickness is 0.078739 in, needed at least 0.07874 in, missed by 0.000001 in"} {
		if got := Compared(&c, unit); got != want {
			t.Errorf("%s, want %s", got, want)
		}
	}
	by = 0.000002
	if got := Compared(&c, "in"); !strings.HasSuffix(got, "missed by less than 0.000001 in") {
		t.Error(got)
	}
}
