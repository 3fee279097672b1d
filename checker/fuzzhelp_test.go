package checker

import (
	"strconv"
	"testing"
	"time"

	"corerod/parts"
	"corerod/parts/form"
)

func parseDay(s string) (time.Time, error) { return time.Parse(time.DateOnly, s) }

func number(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }

func samplePart(t *testing.T) *parts.Part {
	t.Helper()
	p, ps := form.Parse("plate.yaml", []byte(thinEye(2, "A")))
	if len(ps) > 0 {
		t.Fatal(ps)
	}
	return p
}
