package report

import (
	"bytes"
	"context"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"maps"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"

	"corerod/checker"
	"corerod/checker/change"
	"corerod/parts/plane"
	"corerod/parts/subject"
	"corerod/rules"
)

// standardBookOnce is the standard pack in force, read once.
var standardBookOnce = sync.OnceValues(func() (*rules.Book, error) {
	p, err := rules.LoadBuiltin("press-and-sinter")
	if err != nil {
		return nil, err
	}
	b, ps := rules.NewBook(p)
	if len(ps) > 0 {
		return nil, ps
	}
	return b, nil
})

// reviewed reviews part files by the standard pack.
func reviewed(t *testing.T, texts map[string]string, o change.Options) *checker.Review {
	t.Helper()
	b := standardBook(t)
	var files []checker.File
	for _, name := range slices.Sorted(maps.Keys(texts)) {
		files = append(files, checker.File{Name: name, Open: func() (io.ReadCloser, error) { return io.NopCloser(strings.NewReader(texts[name])), nil }})
	}
	if o.StatusAt == "" {
		o.StatusAt = rules.Change
	}
	r := change.Run(context.Background(), files, b, o)
	if len(r.Unread)+len(r.Faults) > 0 {
		t.Fatal(r.Unread, r.Faults)
	}
	return r
}

// demoParts are the demo parts and a few with much to draw.
func demoParts(t *testing.T) map[string]string {
	t.Helper()
	texts := map[string]string{}
	for _, pattern := range []string{"../../testdata/mill/*.yaml", "../../testdata/solids/*.yaml", "../../rules/packs/press-and-sinter/trials/*.yaml"} {
		names, err := filepath.Glob(pattern)
		if err != nil || len(names) == 0 {
			t.Fatal(pattern, err)
		}
		for _, n := range names {
			b, err := os.ReadFile(n)
			if err != nil {
				t.Fatal(err)
			}
			texts[filepath.ToSlash(n)] = string(b)
		}
	}
	return texts
}

// element is one element of an SVG that was read again.
type element struct {
	name, text string
	attr       map[string]string
	in         []*element
	parent     *element
}

func readSVG(t *testing.T, b []byte) *element {
	t.Helper()
	d := xml.NewDecoder(bytes.NewReader(b))
	root := &element{}
	at := root
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			return root
		}
		if err != nil {
			t.Fatalf("%v\n%s", err, b)
		}
		switch x := token.(type) {
		case xml.StartElement:
			e := &element{name: x.Name.Local, attr: map[string]string{}, parent: at}
			for _, a := range x.Attr {
				e.attr[a.Name.Local] = a.Value
			}
			at.in = append(at.in, e)
			at = e
		case xml.EndElement:
			at = at.parent
		case xml.CharData:
			at.text += string(x)
		}
	}
}

func (e *element) all(keep func(*element) bool) (found []*element) {
	if keep(e) {
		found = append(found, e)
	}
	for _, x := range e.in {
		found = append(found, x.all(keep)...)
	}
	return found
}

func ofClass(class string) func(*element) bool {
	return func(e *element) bool { return e.attr["class"] == class }
}

func float(t *testing.T, s string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

var commands = regexp.MustCompile(`([MLAHVZ])([^MLAHVZ]*)`)

// pathArea is the area inside path data of lines and arcs, those that run clockwise taken off.
func pathArea(t *testing.T, d string) (area float64) {
	t.Helper()
	var start, at plane.Point
	for _, c := range commands.FindAllStringSubmatch(d, -1) {
		var v []float64
		for _, f := range strings.Fields(c[2]) {
			v = append(v, float(t, f))
		}
		to := at
		switch c[1] {
		case "M":
			at = plane.Point{X: v[0], Y: v[1]}
			start = at
			continue
		case "L":
			to = plane.Point{X: v[0], Y: v[1]}
		case "H":
			to.X = v[0]
		case "V":
			to.Y = v[0]
		case "Z":
			to = start
		case "A":
			to = plane.Point{X: v[5], Y: v[6]}
			chord := at.Distance(to)
			half := math.Asin(math.Min(1, chord/2/v[0]))
			segment := v[0] * v[0] / 2 * (2*half - math.Sin(2*half))
			if v[4] == 1 {
				area += segment
			} else {
				area -= segment
			}
		}
		area += (at.X*to.Y - to.X*at.Y) / 2
		at = to
	}
	return area
}

// TestDrawing: read again from the SVG, the plan's outline has the plan area and each section the area that was cut; each
// balloon's line ends at its finding's place, and no two balloons overlap.
func TestDrawing(t *testing.T) {
	rings := 0
	for _, p := range reviewed(t, demoParts(t), change.Options{}).Parts {
		var b bytes.Buffer
		if err := Drawing(&b, p); err != nil {
			t.Fatal(err)
		}
		root := readSVG(t, b.Bytes())
		rings += checkBalloons(t, p, root, checkViews(t, p, root).parent)
	}
	if rings < 50 {
		t.Errorf("%d balloons", rings)
	}
}

// TestDrawingChords: the dimension of a wall or gap that a finding is of is as long as what was measured, between slopes too.
func TestDrawingChords(t *testing.T) {
	texts := demoParts(t)
	texts["taper.yaml"] = "part: taper\nunits: mm\nbodies: {hub: {circle: {diameter: 40}, from: 0, to: 20}}\n" +
		"cuts: {cone: {circle: {diameter: 20}, draft: {angle: 3, narrows: down}}, pin: {circle: {diameter: 4, at: [14.5, 0]}}, sink: {turned: {at: [14.5, 0], section: [[0, 17], [2, 17], [4, 20], [0, 20]]}}}\n"
	chords := 0
	for _, p := range reviewed(t, texts, change.Options{}).Parts {
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

// checkViews fails where the plan or a section has another area than the part, and returns the plan's outline.
func checkViews(t *testing.T, p *checker.PartReview, root *element) *element {
	t.Helper()
	d := checker.Draw(p)
	outline := root.all(ofClass("outline"))[0]
	checkArea(t, p.File+": the plan", pathArea(t, outline.attr["d"]), p.Subject.PlanArea, d.Outline)
	for i, e := range root.all(ofClass("cut")) {
		want := 0.0
		for _, l := range d.Sections[i].Loops {
			want += l.Moments().Area
		}
		checkArea(t, fmt.Sprintf("%s: section %d", p.File, i), pathArea(t, e.attr["d"]), want, d.Sections[i].Loops)
	}
	return outline
}

// checkArea fails where the area of what was drawn is off by more than a millionth, or by more than a nanometre along the
// whole outline.
func checkArea(t *testing.T, what string, got, want float64, outline []plane.Loop) {
	t.Helper()
	length := 0.0
	for _, l := range outline {
		length += l.Length()
	}
	if math.Abs(got-want) > 1e-6*min(want, length) {
		t.Errorf("%s is %.7f mm2, want %.7f, round which it is %.3f mm", what, got, want, length)
	}
}

func checkBalloons(t *testing.T, p *checker.PartReview, root, plan *element) (n int) {
	t.Helper()
	var m [6]float64
	if _, err := fmt.Sscanf(plan.attr["transform"], "matrix(%g %g %g %g %g %g)", &m[0], &m[1], &m[2], &m[3], &m[4], &m[5]); err != nil {
		t.Fatal(err)
	}
	places := map[string]plane.Point{}
	for i, f := range byGrade(p.Findings) {
		if f.Subject.Kind() != subject.PartKind && i < mostBalloons {
			places[strconv.Itoa(i+1)] = plane.Point{X: m[0]*f.PlaceOf().X + m[4], Y: m[3]*f.PlaceOf().Y + m[5]}
		}
	}
	var centres []plane.Point
	onPlan := map[string]bool{}
	for _, a := range root.all(ofClass("balloon")) {
		var dot, ring *element
		for _, e := range a.all(func(e *element) bool { return e.name == "circle" }) {
			switch {
			case e.attr["class"] == "ring":
				ring = e
			case dot == nil:
				dot = e
			}
		}
		number := strings.TrimSpace(a.in[len(a.in)-1].text)
		at := plane.Point{X: float(t, dot.attr["cx"]), Y: float(t, dot.attr["cy"])}
		if !onPlan[number] { // the first is that of the plan
			onPlan[number] = true
			if at.Distance(places[number]) > 2e-3 {
				t.Errorf("%s: balloon %s leads to %v, want %v", p.File, number, at, places[number])
			}
		}
		c := plane.Point{X: float(t, ring.attr["cx"]), Y: float(t, ring.attr["cy"])}
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
	for _, p := range reviewed(t, demoParts(t), change.Options{}).Parts {
		var b bytes.Buffer
		if err := Drawing(&b, p); err != nil {
			t.Fatal(err)
		}
		root := readSVG(t, b.Bytes())
		svg := root.in[0]
		if svg.attr["width"] != "297mm" || svg.attr["height"] != "420mm" || svg.attr["viewBox"] != "0 0 297 420" {
			t.Fatal(svg.attr)
		}
		for _, g := range root.all(func(e *element) bool { return strings.HasPrefix(e.attr["transform"], "matrix(") && e.name == "g" }) {
			var k, x, y float64
			var zero [2]float64
			var down float64
			if _, err := fmt.Sscanf(g.attr["transform"], "matrix(%g %g %g %g %g %g)", &k, &zero[0], &zero[1], &down, &x, &y); err != nil || down != -k {
				t.Fatal(g.attr, err)
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

// TestDrawingLabels: no letter stands in a balloon, and no two texts of a drawing on each other: a wall that several findings are of has one dimension, and
// cutting planes that lie side by side have their letters apart.
func TestDrawingLabels(t *testing.T) {
	for name, text := range map[string]string{
		"one wall, three findings": "part: a\nunits: mm\nbodies: {a: {slot: {length: 60, width: 14}, from: 0, to: 6}, b: {circle: {diameter: 22, at: [-23, 0]}, from: 0, to: 16}}\ncuts: {c: {circle: {diameter: 19.6, at: [-23, 0]}}}\n",
		"a letter among balloons": "part: a\nunits: in\nmaterial: {name: F-0005, density: 6.7}\nbodies: {plate: {rectangle: {length: 2, width: 1.5, corner: 0.005}, from: 0, to: 0.25}, hub: {circle: {diameter: 1}, from: 0, to: 0.75}}\n" +
			"cuts: {bore: {circle: {diameter: 0.5}}, bolts: {circle: {diameter: 0.17, at: [0.85, 0.62]}, repeat: {count: 2, step: [-1.7, 0]}}}\n",
		"two planes side by side": "part: a\nunits: mm\nbodies: {base: {rectangle: {length: 50, width: 40, corner: 2}, from: 0, to: 8}, boss: {rectangle: {length: 20, width: 12, corner: 1}, from: 8, to: 14}}\n" +
			"cuts: {pocket: {rectangle: {length: 8, width: 6, at: [16, 10], corner: 0.1}, open: top, depth: 6}}\n",
	} {
		p := reviewed(t, map[string]string{"a.yaml": text}, change.Options{}).Parts[0]
		var b bytes.Buffer
		if err := Drawing(&b, p); err != nil {
			t.Fatal(err)
		}
		root := readSVG(t, b.Bytes())
		var at, rings []plane.Point
		for _, e := range root.all(ofClass("ring")) {
			rings = append(rings, plane.Point{X: float(t, e.attr["cx"]), Y: float(t, e.attr["cy"])})
		}
		for _, e := range root.all(func(e *element) bool { return e.name == "text" }) {
			c := plane.Point{X: float(t, e.attr["x"]), Y: float(t, e.attr["y"])}
			for _, o := range rings {
				if y := (plane.Point{X: c.X, Y: c.Y - 1.2}); o.Distance(y) < balloon+1 && !isNumber.MatchString(e.text) {
					t.Errorf("%s: %q stands in a balloon", name, e.text)
				}
			}
			for _, o := range at {
				if c != (plane.Point{}) && o.Distance(c) < 2 { // those at 0, 0 are moved by their group
					t.Errorf("%s: %q stands on another text", name, e.text)
				}
			}
			at = append(at, c)
		}
	}
}

// TestDrawingCrowded: where a part has so many findings that their balloons take several rows, they all stand on the paper and
// in the pictures of the page, none on another. Of very many the first have one, and it is said which have none.
func TestDrawingCrowded(t *testing.T) {
	for _, c := range []struct{ size, cuts float64 }{{8, 8}, {30, 8}, {120, 8}, {8, 20}, {30, 20}, {120, 20}} {
		size := c.size
		text := fmt.Sprintf("part: a\nunits: mm\nbodies: {a: {rectangle: {length: %g, width: %g, corner: %g}, from: 0, to: %g}}\ncuts:\n", size, size*0.6, size*0.001, size*0.8)
		for i := range int(c.cuts) {
			text += fmt.Sprintf("  c%d: {rectangle: {length: %.3f, width: %.3f, at: [%.3f, %.3f], corner: %.4f}}\n", i, size*0.8/c.cuts, size*0.12, size*((float64(i)+0.5)/c.cuts-0.5), size*(0.23-float64(i)*0.0001), size*(0.001+float64(i)*0.0001))
		}
		r := reviewed(t, map[string]string{"a.yaml": text}, change.Options{})
		p := r.Parts[0]
		if len(p.Findings) < 40 || c.cuts == 20 && len(p.Findings) < 2*mostBalloons {
			t.Errorf("%g mm, %g cuts: only %d findings", size, c.cuts, len(p.Findings))
		}
		var drawing, page bytes.Buffer
		if err := errors.Join(Drawing(&drawing, p), Sheet(&page, r, p)); err != nil {
			t.Fatal(err)
		}
		root := readSVG(t, drawing.Bytes())
		checkBalloons(t, p, root, checkViews(t, p, root).parent)
		checkOnPaper(t, root)
		left := fmt.Sprintf("%d to %d have no balloon", mostBalloons+1, len(p.Findings))
		if many := len(p.Findings) > mostBalloons; strings.Contains(drawing.String(), left) != many || strings.Contains(page.String(), left) != many {
			t.Errorf("%g mm, %d findings: %q is said or not", size, len(p.Findings), left)
		}
		for _, x := range pieces(page.String(), "<svg ", "</svg>") {
			checkOnPaper(t, readSVG(t, []byte(x)))
		}
	}
}
