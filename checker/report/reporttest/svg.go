package reporttest

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"corerod/checker"
	"corerod/parts/plane"
)

// Element is one element of an SVG that was read again.
type Element struct {
	Name, Text string
	Attr       map[string]string
	In         []*Element
	Parent     *Element
}

// ReadSVG reads an SVG; its outermost element is the first within what is returned.
func ReadSVG(t *testing.T, b []byte) *Element {
	t.Helper()
	d := xml.NewDecoder(bytes.NewReader(b))
	root := &Element{}
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
			e := &Element{Name: x.Name.Local, Attr: map[string]string{}, Parent: at}
			for _, a := range x.Attr {
				e.Attr[a.Name.Local] = a.Value
			}
			at.In = append(at.In, e)
			at = e
		case xml.EndElement:
			at = at.Parent
		case xml.CharData:
			at.Text += string(x)
		}
	}
}

// All are the elements to keep among one and all that are in it, in the order of the picture.
func (e *Element) All(keep func(*Element) bool) (found []*Element) {
	if keep(e) {
		found = append(found, e)
	}
	for _, x := range e.In {
		found = append(found, x.All(keep)...)
	}
	return found
}

// OfClass keeps the elements of a class.
func OfClass(class string) func(*Element) bool {
	return func(e *Element) bool { return e.Attr["class"] == class }
}

// Float reads a number.
func Float(t *testing.T, s string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// PathSteps are the steps of path data, each with its letter and its numbers.
var PathSteps = regexp.MustCompile(`([MLAHVZ])([^MLAHVZ]*)`)

// pathArea is the area inside path data of lines and arcs, those that run clockwise taken off.
func pathArea(t *testing.T, d string) (area float64) {
	t.Helper()
	var start, at plane.Point
	for _, c := range PathSteps.FindAllStringSubmatch(d, -1) {
		var v []float64
		for _, f := range strings.Fields(c[2]) {
			v = append(v, Float(t, f))
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

// CheckViews fails where the plan or a section has another area than the part, and returns the plan's outline.
func CheckViews(t *testing.T, p *checker.PartReview, root *Element) *Element {
	t.Helper()
	d := checker.Draw(p)
	outline := root.All(OfClass("outline"))[0]
	checkArea(t, p.File+": the plan", pathArea(t, outline.Attr["d"]), p.Subject.PlanArea, d.Outline)
	for i, e := range root.All(OfClass("cut")) {
		want := 0.0
		for _, l := range d.Sections[i].Loops {
			want += l.Moments().Area
		}
		checkArea(t, fmt.Sprintf("%s: section %d", p.File, i), pathArea(t, e.Attr["d"]), want, d.Sections[i].Loops)
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
	if math.Abs(got-want) > offArea*min(want, length) {
		t.Errorf("%s is %.7f mm2, want %.7f, round which it is %.3f mm", what, got, want, length)
	}
}

// Pieces are the pieces of a text from one mark to another, with both.
func Pieces(text, from, to string) (all []string) {
	for {
		i := strings.Index(text, from)
		if i < 0 {
			return all
		}
		j := strings.Index(text[i:], to)
		if j < 0 {
			return append(all, text[i:])
		}
		all = append(all, text[i:i+j+len(to)])
		text = text[i+j+len(to):]
	}
}

// placing is how the coordinates of a group stand on paper: x' = a x + c y + e, y' = b x + d y + f.
type placing struct{ a, b, c, d, e, f float64 }

func (m placing) at(x, y float64) plane.Point {
	return plane.Point{X: m.a*x + m.c*y + m.e, Y: m.b*x + m.d*y + m.f}
}

// then is what a transform inside another comes to.
func (m placing) then(t *testing.T, transform string) placing {
	t.Helper()
	n := placing{a: 1, d: 1}
	var x, y, turn float64
	if transform == "" {
		return m
	} else if _, err := fmt.Sscanf(transform, "matrix(%g %g %g %g %g %g)", &n.a, &n.b, &n.c, &n.d, &n.e, &n.f); err == nil {
	} else if _, err := fmt.Sscanf(transform, "translate(%g %g) rotate(%g)", &x, &y, &turn); err == nil {
		s, c := math.Sincos(turn * math.Pi / 180)
		n = placing{c, s, -s, c, x, y}
	} else {
		t.Fatalf("a transform %q", transform)
	}
	o := m.at(n.e, n.f)
	return placing{m.a*n.a + m.c*n.b, m.b*n.a + m.d*n.b, m.a*n.c + m.c*n.d, m.b*n.c + m.d*n.d, o.X, o.Y}
}

// CheckOnPaper fails where something of a picture stands outside its viewBox.
func CheckOnPaper(t *testing.T, root *Element) {
	t.Helper()
	var x, y, width, height float64
	if _, err := fmt.Sscanf(root.In[0].Attr["viewBox"], "%g %g %g %g", &x, &y, &width, &height); err != nil ||
		!(width > 0) || !(height > 0) {
		t.Fatal(root.In[0].Attr, err)
	}
	var walk func(e *Element, m placing)
	walk = func(e *Element, m placing) {
		if e.Name == "pattern" {
			return
		}
		if slices.Contains([]string{"script", "image", "foreignObject", "style"}, e.Name) {
			t.Errorf("a picture holds %s", e.Name)
		}
		for key, v := range e.Attr {
			if strings.HasPrefix(key, "on") || key == "href" && !strings.HasPrefix(v, "#") || strings.Contains(v, "url(") &&
				!strings.HasPrefix(v, "url(#") {
				t.Errorf("a picture has %s=%q", key, v)
			}
		}
		m = m.then(t, e.Attr["transform"])
		for _, p := range pointsOf(t, e) {
			if on := m.at(p.X, p.Y); !(on.X >= x-0.01 && on.X <= x+width+0.01 && on.Y >= y-0.01 && on.Y <= y+height+0.01) {
				t.Errorf("%s %v has %v, outside %s", e.Name, e.Attr, on, root.In[0].Attr["viewBox"])
				return
			}
		}
		for _, in := range e.In {
			walk(in, m)
		}
	}
	walk(root.In[0], placing{a: 1, d: 1})
}

// pointsOf are the points that an element is drawn through, in its own coordinates.
func pointsOf(t *testing.T, e *Element) (all []plane.Point) {
	t.Helper()
	n := func(key string) float64 {
		if e.Attr[key] == "" {
			return 0
		}
		return Float(t, e.Attr[key])
	}
	add := func(x, y float64) { all = append(all, plane.Point{X: x, Y: y}) }
	switch e.Name {
	case "line":
		add(n("x1"), n("y1"))
		add(n("x2"), n("y2"))
	case "circle":
		add(n("cx")-n("r"), n("cy")-n("r"))
		add(n("cx")+n("r"), n("cy")+n("r"))
	case "rect":
		add(n("x"), n("y"))
		add(n("x")+n("width"), n("y")+n("height"))
	case "text":
		add(n("x"), n("y"))
	case "path":
		var at plane.Point
		for _, c := range PathSteps.FindAllStringSubmatch(e.Attr["d"], -1) {
			var v []float64
			for _, x := range strings.Fields(c[2]) {
				v = append(v, Float(t, x))
			}
			switch {
			case c[1] == "H":
				at.X = v[0]
			case c[1] == "V":
				at.Y = v[0]
			case len(v) >= 2:
				at = plane.Point{X: v[len(v)-2], Y: v[len(v)-1]}
			}
			add(at.X, at.Y)
		}
	}
	return all
}
