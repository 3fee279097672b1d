package report

import (
	"bytes"
	"fmt"
	"math"
	"regexp"
	"testing"

	"corerod/checker"
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
			at.X = float(t, m[2])
		case "V":
			at.Y = float(t, m[2])
		default:
			at = plane.Point{X: float(t, m[2]), Y: float(t, m[3])}
		}
		all = append(all, at)
	}
	return all
}

// TestToolFaces: pressed, each corner of a punch lies on the part, under sloped and rounded faces too; at fill its face has
// the same shape.
func TestToolFaces(t *testing.T) {
	for name, section := range map[string]string{
		"cone": "[[0, 0], [20, 0], [20, 4], [8, 12], [0, 12]]",
		"dome": "[[0, 0], [20, 0], [20, 4], {arc: [0, 10], radius: 36.333333, turn: ccw}]",
	} {
		r := reviewed(t, map[string]string{"a.yaml": "part: a\nunits: mm\nmaterial: {name: FC-0208, density: 6.8}\nbodies: {a: {turned: {section: " + section + "}}}\n"}, checker.Options{})
		if len(r.Parts) != 1 {
			t.Fatalf("%s: %v", name, r.Unread)
		}
		p := r.Parts[0]
		var b bytes.Buffer
		if err := Drawing(&b, p); err != nil {
			t.Fatal(err)
		}
		loops := checker.Draw(p).Sections[0].Loops
		shapes := map[string]string{}
		for _, e := range readSVG(t, b.Bytes()).all(ofClass("upper-punch")) {
			head, shape := math.Inf(-1), ""
			all := corners(t, e.attr["d"])
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
				if e.parent.attr["class"] == "tool-press" && off > 2e-3 {
					t.Errorf("%s: the punch's face at %v is %.3f mm off the part", name, c, off)
				}
			}
			shapes[e.parent.attr["class"]] += shape
		}
		if shapes["tool-press"] == "" || shapes["tool-fill"] != shapes["tool-press"] {
			t.Errorf("%s: pressed%s, at fill%s", name, shapes["tool-press"], shapes["tool-fill"])
		}
	}
}
