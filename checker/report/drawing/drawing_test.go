package drawing

import (
	"bytes"
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"corerod/checker"
	"corerod/checker/change"
	"corerod/checker/report/reporttest"
	"corerod/checker/report/words"
	"corerod/parts/plane"
	"corerod/parts/subject"
)

// TestDrawing: read again from the SVG, the plan's outline has the plan area and each section the area that was cut; each
// balloon's line ends at its finding's place, and no two balloons overlap.
func TestDrawing(t *testing.T) {
	rings := 0
	for _, p := range reporttest.Reviewed(t, reporttest.DemoParts(t), change.Options{}).Parts {
		var b bytes.Buffer
		if err := Sheets(&b, p); err != nil {
			t.Fatal(err)
		}
		root := reporttest.ReadSVG(t, b.Bytes())
		rings += checkBalloons(t, p, root, reporttest.CheckViews(t, p, root).Parent)
	}
	if rings < 50 {
		t.Errorf("%d balloons", rings)
	}
}

// TestDrawingChords: the dimension of a wall or gap that a finding is of is as long as what was measured, between slopes too.
func TestDrawingChords(t *testing.T) {
	texts := reporttest.DemoParts(t)
	texts["taper.yaml"] = "part: taper\nunits: mm\nbodies: {hub: {circle: {diameter: 40}, from: 0, to: 20}}\n" +
		"cuts: {cone: {circle: {diameter: 20}, draft: {angle: 3, narrows: down}}, pin: {circle: {diameter: 4, at: [14.5, 0]}}, sink: {turned: " +
		"{at: [14.5, 0], section: [[0, 17], [2, 17], [4, 20], [0, 20]]}}}\n"
	chords := 0
	for _, p := range reporttest.Reviewed(t, texts, change.Options{}).Parts {
		for f, c := range checker.Draw(p).Chords {
			chords++
			want := 0.0
			switch x := f.Subject.(type) {
			case *subject.Wall:
				want = x.Thickness
			case *subject.Gap:
				want = x.Width
			}
			if math.Abs(c.Length()-want) > 1e-6 {
				t.Errorf("%s, %s: the dimension is %v long, not %v", p.File, f.Subject.Place().Name, c.Length(), want)
			}
		}
	}
	if chords < 6 {
		t.Errorf("%d dimensions", chords)
	}
}

func checkBalloons(t *testing.T, p *checker.PartReview, root, plan *reporttest.Element) (n int) {
	t.Helper()
	var m [6]float64
	if _, err := fmt.Sscanf(plan.Attr["transform"], "matrix(%g %g %g %g %g %g)", &m[0], &m[1], &m[2], &m[3], &m[4], &m[5]); err != nil {
		t.Fatal(err)
	}
	places := map[string]plane.Point{}
	for i, f := range words.ByGrade(p.Findings) {
		if f.Subject.Kind() != subject.PartKind && i < mostBalloons {
			places[strconv.Itoa(i+1)] = plane.Point{X: m[0]*f.PlaceOf().X + m[4], Y: m[3]*f.PlaceOf().Y + m[5]}
		}
	}
	var centres []plane.Point
	onPlan := map[string]bool{}
	for _, a := range root.All(reporttest.OfClass("balloon")) {
		var dot, ring *reporttest.Element
		for _, e := range a.All(func(e *reporttest.Element) bool { return e.Name == "circle" }) {
			switch {
			case e.Attr["class"] == "ring":
				ring = e
			case dot == nil:
				dot = e
			}
		}
		number := strings.TrimSpace(a.In[len(a.In)-1].Text)
		at := plane.Point{X: reporttest.Float(t, dot.Attr["cx"]), Y: reporttest.Float(t, dot.Attr["cy"])}
		if !onPlan[number] { // the first is that of the plan
			onPlan[number] = true
			if at.Distance(places[number]) > 2e-3 {
				t.Errorf("%s: balloon %s leads to %v, want %v", p.File, number, at, places[number])
			}
		}
		c := plane.Point{X: reporttest.Float(t, ring.Attr["cx"]), Y: reporttest.Float(t, ring.Attr["cy"])}
		for _, o := range centres {
			if o.Distance(c) < 2*balloon {
				t.Errorf("%s: balloon %s overlaps another", p.File, number)
			}
		}
		if c.X < frame+balloon || c.X > paperWidth-frame-balloon || c.Y < frame+balloon || c.Y > paperHeight-frame-titleHeight {
			t.Errorf("%s: balloon %s stands at %v, off the paper", p.File, number, c)
		}
		centres = append(centres, c)
	}
	if len(onPlan) != len(places) {
		t.Errorf("%s: %d balloons for %d findings", p.File, len(onPlan), len(places))
	}
	return len(centres)
}

// TestDrawingScale: the drawing is true to scale: the sheet is A4 in mm, and views stand inside it at a scale of ISO 5455.
func TestDrawingScale(t *testing.T) {
	for _, p := range reporttest.Reviewed(t, reporttest.DemoParts(t), change.Options{}).Parts {
		var b bytes.Buffer
		if err := Sheets(&b, p); err != nil {
			t.Fatal(err)
		}
		root := reporttest.ReadSVG(t, b.Bytes())
		svg := root.In[0]
		if svg.Attr["width"] != "297mm" || svg.Attr["height"] != "420mm" || svg.Attr["viewBox"] != "0 0 297 420" {
			t.Fatal(svg.Attr)
		}
		for _, g := range root.All(func(e *reporttest.Element) bool {
			return strings.HasPrefix(e.Attr["transform"], "matrix(") && e.Name == "g"
		}) {
			var k, x, y float64
			var zero [2]float64
			var down float64
			if _, err := fmt.Sscanf(g.Attr["transform"], "matrix(%g %g %g %g %g %g)", &k, &zero[0], &zero[1], &down, &x, &y); err != nil ||
				down != -k {
				t.Fatal(g.Attr, err)
			}
			standard := false
			for _, s := range scales {
				standard = standard || s == k
			}
			if !standard || zero != [2]float64{} {
				t.Errorf("%s: scale %g", p.File, k)
			}
		}
	}
}

var isNumber = regexp.MustCompile(`^\s*\d+\s*$`)

// TestDrawingLabels: no letter stands in a balloon, and no two texts of a drawing on each other: a wall that several findings are of has
// one dimension, and cutting planes that lie side by side have their letters apart.
func TestDrawingLabels(t *testing.T) {
	for name, text := range map[string]string{
		"one wall, three findings": "part: a\nunits: mm\nbodies: {a: {slot: {length: 60, width: 14}, from: 0, to: 6}, b: {circle: {diameter: " +
			"22, at: [-23, 0]}, from: 0, to: 16}}\ncuts: {c: {circle: {diameter: 19.6, at: [-23, 0]}}}\n",
		"a letter among balloons": "part: a\nunits: in\nmaterial: {name: F-0005, density: 6.7}\nbodies: {plate: {rectangle: {length: 2, width: " +
			"1.5, corner: 0.005}, from: 0, to: 0.25}, hub: {circle: {diameter: 1}, from: 0, to: 0.75}}\n" +
			"cuts: {bore: {circle: {diameter: 0.5}}, bolts: {circle: {diameter: 0.17, at: [0.85, 0.62]}, repeat: {count: 2, step: [-1.7, 0]}}}\n",
		"two planes side by side": "part: a\nunits: mm\nbodies: {base: {rectangle: {length: 50, width: 40, corner: 2}, from: 0, to: 8}, boss: " +
			"{rectangle: {length: 20, width: 12, corner: 1}, from: 8, to: 14}}\n" +
			"cuts: {pocket: {rectangle: {length: 8, width: 6, at: [16, 10], corner: 0.1}, open: top, depth: 6}}\n",
	} {
		p := reporttest.Reviewed(t, map[string]string{"a.yaml": text}, change.Options{}).Parts[0]
		var b bytes.Buffer
		if err := Sheets(&b, p); err != nil {
			t.Fatal(err)
		}
		root := reporttest.ReadSVG(t, b.Bytes())
		var at, rings []plane.Point
		for _, e := range root.All(reporttest.OfClass("ring")) {
			rings = append(rings, plane.Point{X: reporttest.Float(t, e.Attr["cx"]), Y: reporttest.Float(t, e.Attr["cy"])})
		}
		for _, e := range root.All(func(e *reporttest.Element) bool { return e.Name == "text" }) {
			c := plane.Point{X: reporttest.Float(t, e.Attr["x"]), Y: reporttest.Float(t, e.Attr["y"])}
			for _, o := range rings {
				if y := (plane.Point{X: c.X, Y: c.Y - 1.2}); o.Distance(y) < balloon+1 && !isNumber.MatchString(e.Text) {
					t.Errorf("%s: %q stands in a balloon", name, e.Text)
				}
			}
			for _, o := range at {
				if c != (plane.Point{}) && o.Distance(c) < 2 { // those at 0, 0 are moved by their group
					t.Errorf("%s: %q stands on another text", name, e.Text)
				}
			}
			at = append(at, c)
		}
	}
}

// TestDrawingCrowded: where a part has so many findings that their balloons take several rows, they all stand on the paper and
// in the pictures of a page, none on another. Of very many the first have one, and it is said which have none.
func TestDrawingCrowded(t *testing.T) {
	for _, c := range []struct{ size, cuts float64 }{{8, 8}, {30, 8}, {120, 8}, {8, 20}, {30, 20}, {120, 20}} {
		size := c.size
		text := fmt.Sprintf("part: a\nunits: mm\nbodies: {a: {rectangle: {length: %g, width: %g, corner: %g}, from: 0, to: %g}}\ncuts:\n",
			size,
			size*0.6, size*0.001, size*0.8)
		for i := range int(c.cuts) {
			text += fmt.Sprintf("  c%d: {rectangle: {length: %.3f, width: %.3f, at: [%.3f, %.3f], corner: %.4f}}\n", i,
				size*0.8/c.cuts, size*0.12,
				size*((float64(i)+0.5)/c.cuts-0.5), size*(0.23-float64(i)*0.0001), size*(0.001+float64(i)*0.0001))
		}
		p := reporttest.Reviewed(t, map[string]string{"a.yaml": text}, change.Options{}).Parts[0]
		if len(p.Findings) < 40 || c.cuts == 20 && len(p.Findings) < 3*mostBalloons/2 {
			t.Errorf("%g mm, %g cuts: only %d findings", size, c.cuts, len(p.Findings))
		}
		var drawing bytes.Buffer
		if err := Sheets(&drawing, p); err != nil {
			t.Fatal(err)
		}
		draw := NewPictures(p)
		views, _, undrawn := draw.Views()
		tool, _ := draw.Tool()
		root := reporttest.ReadSVG(t, drawing.Bytes())
		checkBalloons(t, p, root, reporttest.CheckViews(t, p, root).Parent)
		reporttest.CheckOnPaper(t, root)
		left := fmt.Sprintf("%d to %d have no balloon", mostBalloons+1, len(p.Findings))
		if many := len(p.Findings) > mostBalloons; strings.Contains(drawing.String(), left) != many ||
			strings.Contains(undrawn, left) != many {
			t.Errorf("%g mm, %d findings: %q is said or not", size, len(p.Findings), left)
		}
		for _, x := range []string{views, tool, draw.Heights(), draw.Densities()} {
			if x != "" {
				reporttest.CheckOnPaper(t, reporttest.ReadSVG(t, []byte(x)))
			}
		}
	}
}
