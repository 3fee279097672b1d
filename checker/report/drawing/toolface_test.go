package drawing

import (
	"bytes"
	"fmt"
	"math"
	"regexp"
	"strings"
	"testing"

	"corerod/checker"
	"corerod/checker/change"
	"corerod/checker/report/reporttest"
	"corerod/parts/plane"
)

var pathStep = regexp.MustCompile(`([MLHV])([-0-9.]+)(?: ([-0-9.]+))?`)

// corners are those of path data of straight lines.
func corners(t *testing.T, d string) (all []plane.Point) {
	t.Helper()
	var at plane.Point
	for _, m := range pathStep.FindAllStringSubmatch(d, -1) {
		switch m[1] {
		case "H":
			at.X = reporttest.Float(t, m[2])
		case "V":
			at.Y = reporttest.Float(t, m[2])
		default:
			at = plane.Point{X: reporttest.Float(t, m[2]), Y: reporttest.Float(t, m[3])}
		}
		all = append(all, at)
	}
	return all
}

// TestToolFaces: pressed, each corner of a punch lies on the part, under sloped and rounded faces too; at fill its face has
// the same shape.
func TestToolFaces(t *testing.T) {
	for name, section := range map[string]string{
		"cone":                                  "[[0, 0], [20, 0], [20, 4], [8, 12], [0, 12]]",
		"dome":                                  "[[0, 0], [20, 0], [20, 4], {arc: [0, 10], radius: 36.333333, turn: ccw}]",
		"hub on a flange, which is turned over": "[[0, 0], [20, 0], [20, 4], [10, 4.5], [10, 16], [0, 16]]",
	} {
		r := reporttest.Reviewed(t,
			map[string]string{"a.yaml": "part: a\nunits: mm\nmaterial: {name: FC-0208, density: 6.8}\nbodies: {a: " +
				"{turned: {section: " + section + "}}}\n"}, change.Options{})
		if len(r.Parts) != 1 {
			t.Fatalf("%s: %v", name, r.Unread)
		}
		p := r.Parts[0]
		var b bytes.Buffer
		if err := Sheets(&b, p); err != nil {
			t.Fatal(err)
		}
		sec := checker.Draw(p).Sections[0]
		if p.Layout.WayUp.Over != strings.Contains(name, "turned over") {
			t.Errorf("%s: turned over %v", name, p.Layout.WayUp.Over)
		}
		if p.Layout.WayUp.Over {
			sec = turnedOver(sec)
		}
		loops := sec.Loops
		shapes := map[string]string{}
		for _, e := range reporttest.ReadSVG(t, b.Bytes()).All(reporttest.OfClass("upper-punch")) {
			head, shape := math.Inf(-1), ""
			all := corners(t, e.Attr["d"])
			for _, c := range all {
				head = math.Max(head, c.Y)
			}
			low := math.Inf(1)
			for _, c := range all {
				low = math.Min(low, c.Y)
			}
			for _, c := range all {
				if c.Y == head {
					continue
				}
				shape += fmt.Sprintf(" %.2f %.2f", c.X, c.Y-low)
				off := math.Inf(1)
				for _, l := range loops {
					_, at := l.Nearest(c)
					off = math.Min(off, at.Distance(c))
				}
				if e.Parent.Attr["class"] == "tool-press" && off > 2e-3 {
					t.Errorf("%s: the punch's face at %v is %.3f mm off the part", name, c, off)
				}
			}
			shapes[e.Parent.Attr["class"]] += shape
		}
		if shapes["tool-press"] == "" || shapes["tool-fill"] != shapes["tool-press"] {
			t.Errorf("%s: pressed%s, at fill%s", name, shapes["tool-press"], shapes["tool-fill"])
		}
	}
}

// innerRadius is the least distance from the axis at which members of a class stand, at one position of the tool.
func innerRadius(t *testing.T, svg *reporttest.Element, position, class string) float64 {
	t.Helper()
	least := math.Inf(1)
	for _, e := range svg.All(reporttest.OfClass(class)) {
		for _, p := range corners(t, e.Attr["d"]) {
			if e.Parent.Attr["class"] == position {
				least = math.Min(least, math.Abs(p.X))
			}
		}
	}
	return least
}

// TestToolRods: the steep wall of a through-hole, up to 30 degrees, is that of the core rod, which stands as it stands when pressed at
// fill too; no punch is over or under it. A shallow one, of a countersink, is the punch's, and so is one that ends on a shoulder.
func TestToolRods(t *testing.T) {
	narrow := 10 - 20*math.Tan(8*math.Pi/180)
	for name, c := range map[string]struct {
		cuts         string
		low, high    float64 // radii of the rod at the part's lower and upper face
		lower, upper float64 // inner radii of the punches
	}{
		"narrower upward":   {"p: {circle: {diameter: 20}, draft: {angle: 8, narrows: up}}", 10, narrow, 10, narrow},
		"narrower downward": {"p: {circle: {diameter: 20}, draft: {angle: 8, narrows: down}}", narrow, 10, narrow, 10},
		"both ways": {"o: {circle: {diameter: 20}, open: bottom, depth: 10, draft: {angle: 8, narrows: up}}\n  q: {circle: {diameter: 20}, " +
			"open: top, depth: 10, draft: {angle: 8, narrows: down}}",
			10, 10, 10, 10},
		"at 30 degrees": {"p: {circle: {diameter: 30}, draft: {angle: 30, narrows: down}}", 15 - 20*math.Tan(math.Pi/6), 15,
			15 - 20*math.Tan(math.Pi/6), 15},
		"past 30 degrees": {"p: {circle: {diameter: 19.7987}}\n  s: {circle: {diameter: 24}, open: top, depth: 3, draft: {angle: 35, narrows: " +
			"down}}", 9.89935, 9.89935, 9.89935, 9.89935},
		"counterbored": {"p: {circle: {diameter: 16}}\n  s: {circle: {diameter: 24}, open: top, depth: 6, draft: {angle: 5, narrows: down}}",
			8, 8, 8, 8},
		"countersunk": {"p: {circle: {diameter: 16}}\n  s: {circle: {diameter: 24}, open: top, depth: 3, draft: {angle: 50, narrows: down}}",
			8, 8, 8, 8},
	} {
		r := reporttest.Reviewed(t,
			map[string]string{"a.yaml": "part: a\nunits: mm\nway_up: as-drawn\nmaterial: {name: FC-0208, density: 6.8}\nbodies: {a: " +
				"{circle: {diameter: 40}, from: 0, to: 20}}\ncuts:\n  " + c.cuts + "\n"}, change.Options{})
		if len(r.Parts) != 1 {
			t.Fatalf("%s: %v", name, r.Unread)
		}
		var b bytes.Buffer
		if err := Sheets(&b, r.Parts[0]); err != nil {
			t.Fatal(err)
		}
		svg := reporttest.ReadSVG(t, b.Bytes())
		for _, position := range []string{"tool-press", "tool-fill"} {
			lower, upper := innerRadius(t, svg, position, "lower-punch"), innerRadius(t, svg, position, "upper-punch")
			if math.Abs(lower-c.lower) > 1e-3 || math.Abs(upper-c.upper) > 1e-3 {
				t.Errorf("%s, %s: punches begin at radius %.3f below and %.3f above, want %.3f and %.3f", name, position,
					lower, upper, c.lower,
					c.upper)
			}
			radius := map[float64]float64{}
			for _, e := range svg.All(reporttest.OfClass("core-rod")) {
				for _, p := range corners(t, e.Attr["d"]) {
					if z := math.Round(p.Y*100) / 100; e.Parent.Attr["class"] == position {
						radius[z] = math.Max(radius[z], math.Abs(p.X))
					}
				}
			}
			for z, want := range map[float64]float64{0: c.low, 20: c.high} {
				if got, ok := radius[z]; ok && math.Abs(got-want) > 1e-3 || !ok && c.low != c.high {
					t.Errorf("%s, %s: the rod's radius at z %g is %.3f, want %.3f", name, position, z, got, want)
				}
			}
		}
	}
}
