package form

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"testing"

	"corerod/parts"
	"corerod/parts/fit"
	"corerod/parts/source"
)

// FuzzDimension: a dimension that is read has finite limits, the least first, that say what the file says, in mm and inches;
// by its limits of size it is the same dimension. One that is refused gets a plain message at its place.
func FuzzDimension(f *testing.F) {
	for _, d := range [][2]string{{"class", "h9"}, {"class", "H9"}, {"class", "js13"}, {"class", "h"}, {"limits", "[24.9, 25.1]"},
		{"limits", "[25.1, 24.9]"}, {"limits", "[0, 1e6]"}, {"limits", "[1, 2, 3]"}, {"limits", "[-3, -2.5]"},
		{"plus_minus", "0.1"}, {"plus_minus", "-0.1"}, {"plus_minus", "1e-9"}, {"plus_minus", "1e99"}, {"plus_minus", "\"0.1\""}, {"flatness", "0.05"}, {"runout", "0.05, to: b"}, {"coaxiality", "0.05, to: a"}, {"class", "\"h\\u0669\""}, {"class", "h07"}} {
		for i, of := range []string{"a.diameter", "b.diameter", "a.height", "b.depth", "\"b.at[0]\"", "b.at", "a.top", "b", "bodies.a.to",
			"edge.flat", "edge.slope"} {
			f.Add(d[0], d[1], of, 25.0, i%2 == 1)
		}
	}
	f.Add("limits", "[1, 1.00000000001]", "a.diameter", 499999.0, false)
	f.Fuzz(func(t *testing.T, key, says, of string, size float64, inch bool) {
		if strings.ContainsAny(key+says+of, "\n\r") || !(size > 0 && size < 1e6) {
			return
		}
		unit, scale := "mm", 1.0
		if inch {
			unit, scale = "in", 25.4
		}
		read := func(dimension string) (*parts.Dimension, source.Problems) {
			p, ps := Parse("a.yaml",
				[]byte(
					fmt.Sprintf(
						"part: a\nunits: %s\nbodies: {a: {circle: {diameter: %s}, from: 0, to: 8}}\ncuts: {b: {circle: {diameter: 3, at: [-2, 0]}, open: top, depth: 4}}\nedges: {edge: {of: a, face: top, chamfer: {width: 1, slope: 30}}}\n"+
							"dimensions:\n  d: %s\n", unit, strconv.FormatFloat(size, 'f', -1, 64), dimension)))
			if len(ps) > 0 || len(p.Dimensions) != 1 {
				return nil, ps
			}
			return &p.Dimensions[0], nil
		}
		d, ps := read("{of: " + of + ", " + key + ": " + says + "}")
		for _, q := range ps {
			if q.Message == "" || q.Message != source.Plain(q.Message) || q.Line < 0 || q.Line > 8 || q.Line > 0 && q.Column < 1 {
				t.Fatalf("%+v", q)
			}
		}
		if d == nil {
			return
		}
		if !(d.Width > 0) || math.IsInf(d.Width, 0) || d.Feature == "" || d.Name != "d" {
			t.Fatalf("%+v", d)
		}
		if d.Kind != "size" {
			return
		}
		least, most := d.Nominal+d.Low, d.Nominal+d.High
		if !(d.Low < d.High) || d.Width != d.High-d.Low || math.IsNaN(least) || math.IsInf(least, 0) || math.IsInf(most, 0) {
			t.Fatalf("%+v", d)
		}
		switch low, high, err := fit.Class(d.Class, d.Nominal); {
		case d.Class != "" && (err != nil || low != d.Low || high != d.High):
			t.Errorf("%+v, its class is %g to %g, %v", d, low, high, err)
		case key == "plus_minus" && d.Low != -d.High:
			t.Errorf("%+v", d)
		}
		var a, b float64
		if n, _ := fmt.Sscanf(says, "[%g, %g]", &a, &b); key == "limits" && n == 2 &&
			math.Abs(a*scale-least)+math.Abs(b*scale-most) > 1e-9*(math.Abs(d.Nominal)+math.Abs(a)+math.Abs(b)) {
			t.Errorf("%s is %g to %g mm", says, least, most)
		}
		if d.Width < 1e-6*math.Abs(d.Nominal) || most > MostLength || least < -MostLength {
			return // lost in the digits of the limits, or beyond what a number may be
		}
		text := func(v float64) string { return strconv.FormatFloat(v/scale, 'f', -1, 64) }
		again, ps := read("{of: " + of + ", limits: [" + text(least) + ", " + text(most) + "]}")
		if near := 1e-9 * (math.Abs(d.Nominal) + d.Width); again == nil || math.Abs(again.Low-d.Low) > near ||
			math.Abs(again.High-d.High) > near || again.Feature != d.Feature || again.Axial != d.Axial {
			t.Errorf("%+v is by its limits %+v, %v", d, again, ps)
		}
	})
}

// TestLimitsUnread: limits that are no numbers are shown with nothing in them that acts on a terminal.
func TestLimitsUnread(t *testing.T) {
	_, ps := Parse("a.yaml",
		[]byte(
			"part: a\nunits: mm\nbodies: {a: {circle: {diameter: 25}, from: 0, to: 8}}\ndimensions: {d: {of: a.diameter, limits: [\"\\e[31m\", \"\\e[0m\"]}}\n"))
	if len(ps) != 2 {
		t.Fatal(ps)
	}
	for _, p := range ps {
		if p.Message != source.Plain(p.Message) || !strings.Contains(p.Message, "needs a number") {
			t.Errorf("%q", p.Message)
		}
	}
}
