package checker

import (
	"fmt"
	"slices"
	"testing"

	"corerod/checker/internal/samples"
)

// TestNotJudged: what no rule in force holds against the file is listed with its line and the reason; what is judged is not.
func TestNotJudged(t *testing.T) {
	p := reviewed(t, samples.StandardBook(t), "units: mm\nmaterial: {name: CT-1000, density: 6.4}\n"+
		"bodies: {bush: {circle: {diameter: 28}, from: 0, to: 20, face_stock: {top: 0.2}}}\ncuts: {bore: {circle: {diameter: 20}}}\n"+
		"dimensions:\n  height: {of: bush.height, plus_minus: 0.01}\n  axis: {of: bush, coaxiality: 0.06, to: bore}\n"+
		"  width: {of: bore.diameter, plus_minus: 0.05}\n")
	var got []string
	for _, n := range p.NotJudged {
		got = append(got, fmt.Sprintf("%d %s: %s", n.At.Line, n.What, n.Why))
	}
	want := []string{"8 axis: no rule in force reads this coaxiality", "7 height: it is made by machining after sintering",
		"3 green density, fill, pressure and force: the material CT-1000 has no lubricant; give its percent, however small"}
	if !slices.Equal(got, want) {
		t.Errorf("%q, want %q", got, want)
	}
}
