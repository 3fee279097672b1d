package report

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"maps"
	"math"
	"regexp"
	"slices"
	"strings"
	"testing"
	"unicode"

	"corerod/checker"
	"corerod/parts/form"
	"corerod/parts/plane"
	"corerod/parts/source"
	"corerod/rules"
)

// reviewable reviews a text where it is a part, with the book that judged it; nil where it is none.
func reviewable(t *testing.T, text []byte) *checker.Review {
	t.Helper()
	if len(text) > 4000 {
		return nil // to keep one input short
	}
	b := standardBook(t)
	r := checker.Run(context.Background(), []checker.File{{Name: "a.yaml", Open: func() (io.ReadCloser, error) { return io.NopCloser(bytes.NewReader(text)), nil }}}, b, checker.Options{StatusAt: rules.Change, Workers: 1, Account: true})
	if len(r.Faults) > 0 {
		t.Fatal(r.Faults)
	}
	if len(r.Parts) == 0 {
		return nil
	}
	return r
}

// checkQuiet fails where a text holds what acts on a terminal, or a number that is none.
func checkQuiet(t *testing.T, what, text string) {
	t.Helper()
	if i := strings.IndexFunc(text, func(r rune) bool { return r != '\n' && !unicode.IsPrint(r) }); i >= 0 {
		t.Errorf("%s holds %.20q", what, text[i:])
	}
	if x := noNumber.FindString(text); x != "" {
		t.Errorf("%s holds %s", what, x)
	}
}

var noNumber = regexp.MustCompile(`[-+ "(]?(NaN|[+-]?Inf)\b`)

// addParts gives a target the demo parts to begin with.
func addParts(f *testing.F) {
	all := demoParts(&testing.T{})
	for _, name := range slices.Sorted(maps.Keys(all)) {
		text := all[name]
		if strings.Contains(name, "/mill/") || strings.Contains(name, "/solids/") && len(text) < 700 {
			f.Add([]byte(text), uint8(len(text)), int16(len(text)%21-10))
		}
	}
	f.Add([]byte(hostilePart), uint8(0), int16(0))
}

// withNumber moves one number of a part file by some steps of those that drawings have, so that it stays a part more often.
func withNumber(text []byte, pick uint8, steps int16) []byte {
	doc, ps := source.Open("a.yaml", text)
	if len(ps) > 0 {
		return text
	}
	all := form.Numbers(doc.Root)
	if len(all) == 0 {
		return text
	}
	n := all[int(pick)%len(all)]
	to, ok := n.Move(int(steps))
	if b, err := doc.With(n.Edits(to)...); ok && err == nil {
		return b
	}
	return text
}

// FuzzDrawing: of every part that can be reviewed the drawing and the page are well-formed, stand within their sheets, show
// the plan and the sections with their areas, and hold no script and nothing from elsewhere; the table, the measures and the
// tool are told in plain numbers and words.
func FuzzDrawing(f *testing.F) {
	addParts(f)
	f.Fuzz(func(t *testing.T, text []byte, pick uint8, steps int16) {
		r := reviewable(t, withNumber(text, pick, steps))
		if r == nil {
			return
		}
		p := r.Parts[0]
		var drawing, page bytes.Buffer
		if err := errors.Join(Drawing(&drawing, p), Sheet(&page, r, p)); err != nil {
			t.Fatal(err)
		}
		root := readSVG(t, drawing.Bytes())
		checkViews(t, p, root)
		checkOnPaper(t, root)
		pictures := pieces(page.String(), "<svg ", "</svg>")
		if len(pictures) == 0 {
			t.Fatal("a page without a picture")
		}
		for _, x := range pictures {
			checkOnPaper(t, readSVG(t, []byte(x)))
		}
		checkLinks(t, page.String())
		checkQuiet(t, "the drawing", drawing.String())
		checkQuiet(t, "the page", page.String())
		d := &checker.Derived{Part: p.Part, Subject: p.Subject, Layout: p.Layout}
		for what, write := range map[string]func(io.Writer) error{
			"tooling":      func(w io.Writer) error { return Tooling(w, d, r.Packs(), nil) },
			"tooling.json": func(w io.Writer) error { return ToolingJSON(w, d, r.Packs(), nil) },
			"table":        func(w io.Writer) error { return Table(w, p.Subject, nil, r.Packs(), nil) },
			"measure.json": func(w io.Writer) error { return Measures(w, p.Subject, r.Packs(), nil) },
		} {
			var b bytes.Buffer
			if err := write(&b); err != nil {
				t.Fatal(what, err)
			}
			checkQuiet(t, what, b.String())
			if strings.HasSuffix(what, ".json") && !json.Valid(b.Bytes()) {
				t.Errorf("%s is no JSON: %s", what, b.String())
			}
		}
	})
}

// pieces are the pieces of a text from one mark to another, with both.
func pieces(text, from, to string) (all []string) {
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

// checkOnPaper fails where something of a picture stands outside its viewBox.
func checkOnPaper(t *testing.T, root *element) {
	t.Helper()
	var x, y, width, height float64
	if _, err := fmt.Sscanf(root.in[0].attr["viewBox"], "%g %g %g %g", &x, &y, &width, &height); err != nil || !(width > 0) || !(height > 0) {
		t.Fatal(root.in[0].attr, err)
	}
	var walk func(e *element, m placing)
	walk = func(e *element, m placing) {
		if e.name == "pattern" {
			return
		}
		if slices.Contains([]string{"script", "image", "foreignObject", "style"}, e.name) {
			t.Errorf("a picture holds %s", e.name)
		}
		for key, v := range e.attr {
			if strings.HasPrefix(key, "on") || key == "href" && !strings.HasPrefix(v, "#") || strings.Contains(v, "url(") && !strings.HasPrefix(v, "url(#") {
				t.Errorf("a picture has %s=%q", key, v)
			}
		}
		m = m.then(t, e.attr["transform"])
		for _, p := range pointsOf(t, e) {
			if on := m.at(p.X, p.Y); !(on.X >= x-0.01 && on.X <= x+width+0.01 && on.Y >= y-0.01 && on.Y <= y+height+0.01) {
				t.Errorf("%s %v has %v, outside %s", e.name, e.attr, on, root.in[0].attr["viewBox"])
				return
			}
		}
		for _, in := range e.in {
			walk(in, m)
		}
	}
	walk(root.in[0], placing{a: 1, d: 1})
}

// pointsOf are the points that an element is drawn through, in its own coordinates.
func pointsOf(t *testing.T, e *element) (all []plane.Point) {
	t.Helper()
	n := func(key string) float64 {
		if e.attr[key] == "" {
			return 0
		}
		return float(t, e.attr[key])
	}
	add := func(x, y float64) { all = append(all, plane.Point{X: x, Y: y}) }
	switch e.name {
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
		for _, c := range commands.FindAllStringSubmatch(e.attr["d"], -1) {
			var v []float64
			for _, x := range strings.Fields(c[2]) {
				v = append(v, float(t, x))
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

var (
	linkTo = regexp.MustCompile(`<[^>]*? (?:href|src|action)="([^"]*)"`)
	idOf   = regexp.MustCompile(`<[^>]*? id="([^"]*)"`)
)

// checkLinks fails where a page has a script, a link out of it or to nothing, or two elements of one name.
func checkLinks(t *testing.T, page string) {
	t.Helper()
	names := map[string]int{}
	for _, x := range idOf.FindAllStringSubmatch(page, -1) {
		names[x[1]]++
		if names[x[1]] > 1 {
			t.Errorf("%s is there twice", x[1])
		}
	}
	for _, x := range linkTo.FindAllStringSubmatch(page, -1) {
		if to, ok := strings.CutPrefix(x[1], "#"); !ok || names[to] == 0 {
			t.Errorf("a link to %q", x[1])
		}
	}
	for _, tag := range tags.FindAllString(page, -1) {
		if strings.HasPrefix(tag, "<script") || strings.HasPrefix(tag, "<img") || strings.Contains(tag, " on") && regexp.MustCompile(` on[a-z]+=`).MatchString(tag) {
			t.Errorf("a page has %.60s", tag)
		}
	}
}

// FuzzCompare: two parts that can be reviewed are compared in every format, in plain numbers and words; the other way round
// what was added is removed, and a part differs from itself in nothing.
func FuzzCompare(f *testing.F) {
	all := demoParts(&testing.T{})
	for _, name := range slices.Sorted(maps.Keys(all)) {
		if text := all[name]; strings.Contains(name, "/mill/") {
			f.Add([]byte(text), []byte(strings.Replace(text, "diameter: 1", "diameter: 1.0", 1)))
			f.Add([]byte(text), []byte(all["../../testdata/mill/crank-hub.yaml"]))
		}
	}
	f.Add([]byte(hostilePart), []byte(strings.Replace(hostilePart, "to: 8", "to: 9", 1)))
	f.Fuzz(func(t *testing.T, old, new []byte) {
		a, b := reviewable(t, old), reviewable(t, new)
		if a == nil || b == nil {
			return
		}
		rootA, _ := source.Parse("a.yaml", old)
		rootB, _ := source.Parse("a.yaml", new)
		c, back := checker.Compare(a.Parts[0], b.Parts[0], rootA, rootB), checker.Compare(b.Parts[0], a.Parts[0], rootB, rootA)
		if !checker.Compare(a.Parts[0], a.Parts[0], rootA, rootA).Nothing() {
			t.Error("a part differs from itself")
		}
		for how, other := range map[checker.How]checker.How{checker.Gained: checker.Cleared, checker.Cleared: checker.Gained, checker.Worsened: checker.Eased, checker.Eased: checker.Worsened} {
			if c.Count(how) != back.Count(other) || c.Nothing() != back.Nothing() {
				t.Errorf("%d are %s, and the other way %d %s", c.Count(how), how, back.Count(other), other)
			}
		}
		for name := range formats {
			text := formatted(t, name, c, InForce{Packs: a.Packs()})
			checkQuiet(t, name, text)
			if name == "json" && !json.Valid([]byte(text)) {
				t.Errorf("no JSON: %s", text)
			}
		}
	})
}
