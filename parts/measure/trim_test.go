package measure

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"corerod/parts/form"
	"corerod/parts/subject"
)

const trimmed = crankHub + `
edges:
  hub-rim:  {of: hub, face: top, chamfer: {width: 0.6, slope: 30, flat: 0.2}}
  bore-rim: {of: bore, face: bottom, chamfer: {width: 0.5, slope: 60, slope_from: axis, land: 0.5}}
  rim:      {of: flange, face: bottom, round: {radius: 0.4}}
  foot:     {of: hub, at: foot, round: {radius: 0.8}}
marks:
  number: {on: flange.top, recessed: 0.3, box: [13.4, 13.4, 3, 2], text: "120"}
  dots:   {on: hub.top, raised: 0.2, box: [11.5, 0, 1, 1], repeat: {count: 3}, text: "."}
  cast:   {on: flange.bottom, raised: 1, box: [0, 18, 2, 2], made_by: machining}
seats: [hub.top]
dimensions:
  bore-size:  {of: bore.diameter, class: H8}
  hub-height: {of: hub.height, plus_minus: 0.15}
  outside:    {of: flange.diameter, limits: [47.9, 48.1]}
  place:      {of: "bolts.at[0]", plus_minus: 0.1}
  seat-run:   {of: flange.bottom, runout: 0.05, to: bore}
  round-run:  {of: flange, runout: 0.1, to: bore}
  flat:       {of: hub.top, flatness: 0.03}
  same-axis:  {of: hub, coaxiality: 0.06, to: bore}
`

// TestRims: every edge of an end face is a rim of the feature whose wall ends there, treated as the file says.
func TestRims(t *testing.T) {
	p := made(t, trimmed)
	var got []string
	for _, r := range p.Rims {
		s := fmt.Sprintf("%s %s %s at %g", r.Name, r.Treatment, r.Member, r.ZLow)
		for _, m := range []subject.Optional{r.Width, r.Rise, r.Slope, r.Flat, r.Land} {
			if m.Known {
				s += fmt.Sprintf(" %.4f", m.Value)
			} else {
				s += " -"
			}
		}
		got = append(got, s)
	}
	want := []string{
		"bolts bottom sharp core-rod at 0 - - - - -",
		"bolts top sharp core-rod at 6 - - - - -",
		"bore bottom chamfer core-rod at 0 0.5000 0.2887 30.0000 0.0000 0.5000",
		"bore top sharp core-rod at 22 - - - - -",
		"flange bottom round die at 0 0.4000 0.4000 - - -",
		"flange top sharp die at 6 - - - - -",
		"hub top chamfer upper-punch at 22 0.6000 0.3464 30.0000 0.2000 -",
		"keyway bottom sharp core-rod at 0 - - - - -",
		"keyway top sharp core-rod at 22 - - - - -",
	}
	if !slices.Equal(got, want) {
		t.Errorf("got\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
	near(t, "foot", the(t, p.Steps, "flange to hub top").FootRadius.Value, 0.8)
	if p.Steps[0].FootRadius.Value != 0.8 || made(t, crankHub).Steps[0].FootRadius.Known {
		t.Error("the foot's radius stands where the file gives one")
	}
	hub := the(t, p.Rims, "hub top")
	if !slices.Equal(hub.Features, []string{"hub", "hub-rim"}) || math.Abs(hub.X) > 1e-9 || math.Abs(hub.Y) > 1e-9 {
		t.Errorf("%+v", hub.Common)
	}
}

// TestRimMembers: the member that forms the wall below a rim.
func TestRimMembers(t *testing.T) {
	p := made(t, `
bodies: {base: {rectangle: {length: 40, width: 30}, from: 0, to: 10}, lug: {rectangle: {length: 6, width: 6, at: [12, 0]}, from: 10, to: 14}, pad: {circle: {diameter: 8, at: [-12, 0]}, from: -3, to: 0}}
cuts: {pocket: {circle: {diameter: 8}, open: bottom, depth: 4}, slot: {slot: {length: 6, width: 3, at: [0, 10]}}, notch: {rectangle: {length: 4, width: 4, at: [0, -15]}}}
`)
	for name, member := range map[string]string{"lug top": "upper-punch", "pad bottom": "lower-punch", "pocket bottom": "lower-punch",
		"slot top":  "core-rod",
		"notch top": "die", "base bottom": "die"} {
		if got := the(t, p.Rims, name).Member; got != member {
			t.Errorf("%s: %s, want %s", name, got, member)
		}
	}
}

// TestEdgesRefused: an edge that is not there, or does not fit, is an error in words.
func TestEdgesRefused(t *testing.T) {
	base := "bodies: {a: {circle: {diameter: 20}, from: 0, to: 5}, b: {circle: {diameter: 12}, from: 5, to: 8}}\ncuts: {c: {circle: {diameter: 8}}, d: {circle: {diameter: 1, at: [8, 0]}, made_by: machining}}\n"
	for _, c := range []struct{ edge, want string }{
		{"{of: b, face: bottom, round: {radius: 0.5}}", "has no place: no wall of b ends at a bottom face"},
		{"{of: a, at: foot, round: {radius: 0.5}}", "has no place: no wall of a ends on a face"},
		{"{of: b, face: top, chamfer: {width: 2.1, slope: 30}}", "it is 2.1 mm wide, and the face there 2 mm"},
		{"{of: b, face: top, chamfer: {width: 1.9, slope: 30, flat: 0.2}}", "it is 2.1 mm wide"},
		{"{of: b, face: top, chamfer: {width: 2, slope: 60}}", "it is 3.464 mm high, and the wall there 3 mm"},
		{"{of: b, face: top, chamfer: {width: 1, slope: 45, land: 2.1}}", "it is 3.1 mm high with its land, and the wall there 3 mm"},
		{"{of: b, face: top, chamfer: {width: 2, slope: 45, land: 1}}", ""},
		{"{of: b, at: foot, round: {radius: 0.5}}", ""},
		{"{of: b, at: foot, round: {radius: 3.5}}", "does not fit: it is 3.5 mm high, and the wall there 3 mm"},
		{"{of: d, face: top, chamfer: {width: 5, slope: 45}}", ""},
	} {
		p, ps := form.Parse("t.yaml", []byte("part: t\nunits: mm\n"+base+"edges: {e: "+c.edge+"}\n"))
		if len(ps) == 0 {
			_, ps = Part(p)
		}
		if c.want == "" && len(ps) == 0 {
			continue
		}
		if len(ps) != 1 || c.want == "" || !strings.Contains(ps[0].Message, c.want) || ps[0].Line != 5 || ps[0].Column != 9 {
			t.Errorf("%s: %v, want %s", c.edge, ps, c.want)
		}
	}
}

// TestMisfits: what does not fit on the part where the file puts it is refused at its place; what just fits is not.
func TestMisfits(t *testing.T) {
	const head = "part: t\nunits: mm\nbodies: {a: {circle: {diameter: 30}, from: 0, to: 10}}\ncuts: {c: {circle: {diameter: 6}}, k: {rectangle: {length: 2, width: 4, at: [0, 3]}}}\n"
	side := 5 - math.Sqrt(8)                    // of the keyway, from the bore on
	room := side / math.Tan(math.Acos(1.0/3)/2) // it meets the bore at 3 mm from the axis, 1 mm beside it
	for text, want := range map[string]string{
		"sides: {«s: {groove: {width: 2, depth: 15, z: 5}, in: a}}":          "it is 15 mm deep, and a reaches only 15 mm",
		"sides: {s: {groove: {width: 2, depth: 11.9, z: 5}, in: a}}":         "",
		"sides: {s: {groove: {width: 2, depth: 4, z: 5}, in: c}}":            "",
		"sides: {«s: {flat: {distance: 15, toward: 90, z: 5}, in: a}}":       "it is 15 mm from the axis, and a reaches only 15 mm there",
		"sides: {s: {flat: {distance: 14.9, toward: 90, z: 5}, in: a}}":      "",
		"marks: {«m: {on: a.top, recessed: 10, box: [8, 0, 2, 2], text: A}}": "it is 10 mm deep, and the part under it 10 mm high",
		"marks: {m: {on: a.top, recessed: 9.9, box: [8, 0, 2, 2], text: A}}": "",
		"seats: [a.top, «c.bottom]":                                          "the seat c.bottom is no face of the part",
		"seats: [a.top, a.bottom]":                                           "",
		"edges: {e: {of: c, face: top, chamfer: {width: 6, slope: 45}}, «f: {of: a, face: top, chamfer: {width: 6, slope: 45, flat: 0.1}}}":  "with e it is 12.1 mm wide, and the face between them 12 mm",
		"edges: {e: {of: c, face: top, chamfer: {width: 6, slope: 45}}, f: {of: a, face: top, chamfer: {width: 5.9, slope: 45, flat: 0.1}}}": "",
		"edges: {e: {of: c, face: top, chamfer: {width: 6, slope: 45}}, f: {of: a, face: bottom, round: {radius: 6}}}":                       "",
		fmt.Sprintf("blends: {«b: {of: [k, c], radius: %.6f}}",
			room+0.001): fmt.Sprintf("has room for %.4g mm", room),
		fmt.Sprintf("blends: {b: {of: [k, c], radius: %.6f}}", room-0.001): "",
	} {
		before, after, _ := strings.Cut(text, "«")
		p, ps := form.Parse("t.yaml", []byte(head+before+after+"\n"))
		if len(ps) == 0 {
			_, ps = Part(p)
		}
		if want == "" && len(ps) == 0 {
			continue
		}
		if len(ps) != 1 || want == "" || !strings.Contains(ps[0].Message, want) || ps[0].Line != 5 ||
			ps[0].Column != len([]rune(before))+1 {
			t.Errorf("%s: %v, want %s", text, ps, want)
		}
	}
}

// TestMarks lie on their face; those made after pressing are no subjects.
func TestMarks(t *testing.T) {
	p := made(t, trimmed)
	if len(p.Marks) != 2 {
		t.Fatalf("%d marks", len(p.Marks))
	}
	number, dots := the(t, p.Marks, "number"), the(t, p.Marks, "dots")
	near(t, "rise", number.Rise, -0.3)
	near(t, "share", number.Share, 0.3/22)
	near(t, "z", number.ZLow, 5.7)
	near(t, "z", dots.ZHigh, 22.2)
	if number.Seating || !dots.Seating || len(dots.Places) != 3 {
		t.Errorf("%+v %+v", number, dots)
	}
	near(t, "second copy", dots.Places[1].X*2, -11.5)
	base := "bodies: {a: {rectangle: {length: 20, width: 10}, from: 0, to: 5}, b: {circle: {diameter: 4, at: [7, 0]}, from: 5, to: 8}}\ncuts: {c: {circle: {diameter: 2}}}\n"
	for _, c := range []struct {
		mark string
		ok   bool
	}{
		{"on: a.top, recessed: 0.3, box: [-5, 0, 4, 3]", true},
		{"on: a.bottom, raised: 0.3, box: [7, 0, 4, 3]", true},
		{"on: a.top, recessed: 0.3, box: [7, 0, 4, 3]", false},     // under the body b
		{"on: a.top, recessed: 0.3, box: [-9, 0, 4, 3]", false},    // over the outline
		{"on: a.top, recessed: 0.3, box: [0, 0, 4, 3]", false},     // round the hole
		{"on: a.top, recessed: 0.3, box: [-2, 0, 2, 1]", false},    // touches the hole
		{"on: a.top, recessed: 0.3, box: [30, 0, 2, 1]", false},    // beside the part
		{"on: a.top, recessed: 0.3, box: [0, 0, 1, 1]", false},     // in the hole
		{"on: b.top, recessed: 0.3, box: [7, 0, 2, 2]", true},      //
		{"on: b.bottom, recessed: 0.3, box: [7, 0, 2, 2]", false},  // covered
		{"on: a.top, recessed: 0.3, box: [-5, 0, 22, 12]", false},  // larger than the face
		{"on: c.top, recessed: 0.3, box: [0, 0, 0.5, 0.5]", false}, // a hole has no face
		{"on: a.top, recessed: 0.3, box: [-5, 3, 1, 1], repeat: {count: 2, step: [0, -6]}", true},
		{"on: a.top, recessed: 0.3, box: [-5, 3, 1, 1], repeat: {count: 2, step: [0, -7.5]}", false},
	} {
		p, ps := form.Parse("t.yaml", []byte("part: t\nunits: mm\n"+base+"marks: {m: {"+c.mark+"}}\n"))
		if len(ps) == 0 {
			_, ps = Part(p)
		}
		if (len(ps) == 0) != c.ok {
			t.Errorf("%s: %v", c.mark, ps)
		}
	}
}

// TestDimensions: 27 micrometres are IT8 at 16 mm (ISO 286-1); the grades of 0.3 mm at 22 and 0.2 mm at 48 lie between
// cells of the table and are worked out by the logarithm of the width.
func TestDimensions(t *testing.T) {
	p := made(t, trimmed)
	got := map[string]string{}
	for _, d := range p.Dimensions {
		s := fmt.Sprintf("%s %s %.4g %v", d.Form, d.Direction, d.Width, d.Members)
		if d.Nominal.Known {
			s += fmt.Sprintf(" %g IT%.6g", d.Nominal.Value, d.Grade.Value)
		}
		got[d.Name] = s
	}
	for name, want := range map[string]string{
		"bore-size":  "size plan 0.027 [core-rod] 16 IT8",
		"hub-height": fmt.Sprintf("size axial 0.3 [lower-punch upper-punch] 22 IT%.6g", 12+math.Log(300.0/210)/math.Log(330.0/210)),
		"outside":    fmt.Sprintf("size plan 0.2 [die] 48 IT%.6g", 11+math.Log(200.0/160)/math.Log(250.0/160)),
		"place":      fmt.Sprintf("size plan 0.2 [core-rod] 19.5 IT%.6g", 11+math.Log(200.0/130)/math.Log(210.0/130)),
		"seat-run":   "runout axial 0.05 [lower-punch]",
		"round-run":  "runout plan 0.1 [die]",
		"flat":       "flatness axial 0.03 [upper-punch]",
		"same-axis":  "coaxiality plan 0.06 [upper-punch]",
	} {
		if got[name] != want {
			t.Errorf("%s: %s, want %s", name, got[name], want)
		}
	}
	inches := madeIn(t, "in",
		"bodies: {a: {circle: {diameter: 1}, from: 0, to: 0.25}}\ndimensions: {d: {of: a.diameter, plus_minus: 0.001}}\n")
	near(t, "inches", inches.Dimensions[0].Nominal.Value, 25.4)
	near(t, "inches", inches.Dimensions[0].Width, 0.0508)
}

// TestSidesRefused: a side feature above or below what it is in is an error in words.
func TestSidesRefused(t *testing.T) {
	for side, want := range map[string]string{
		"hole: {diameter: 2, toward: 0, z: 9}":   "the side feature s lies outside a: its z is 9 mm, and a goes from 2 to 8 mm",
		"groove: {width: 2, depth: 1, z: 1}":     "its z is 1 mm",
		"flat: {distance: 8, toward: 0, z: 8.1}": "its z is 8.1 mm",
		"flat: {distance: 8, toward: 0, z: 8}":   "",
		"knurl: {pattern: crossed}":              "",
	} {
		p, ps := form.Parse("t.yaml",
			[]byte("part: t\nunits: mm\nbodies: {a: {circle: {diameter: 20}, from: 2, to: 8}}\nsides: {s: {in: a, "+side+"}}\n"))
		if len(ps) == 0 {
			_, ps = Part(p)
		}
		if (len(ps) == 0) != (want == "") || len(ps) > 0 &&
			(!strings.Contains(ps[0].Message, want) || ps[0].Line != 4 || ps[0].Column != 9) {
			t.Errorf("%s: %v, want %s", side, ps, want)
		}
	}
}

// TestBlendsRefused: a blend of features that meet in no corner, or only touch, is an error in words.
func TestBlendsRefused(t *testing.T) {
	touches := "the blend b has no place: the %s only touches the c; move it inward, or apart from it"
	for _, c := range []struct{ name, cut, of, want string }{
		{"apart", "k: {rectangle: {length: 2, width: 3, at: [0, 3]}}", "a, c", "the blend b has no place: a and c meet in no corner in plan"},
		{"in two corners", "k: {rectangle: {length: 2, width: 3, at: [0, 3]}}", "k, c", ""},
		{"machined", "k: {circle: {diameter: 2, at: [6, 0]}, made_by: machining}", "a, k", ""},
		{"along a tangent", "k: {rectangle: {length: 2, width: 1, at: [0, 3.5]}}", "c, k", fmt.Sprintf(touches, "k")},
		{"the other way round", "k: {rectangle: {length: 2, width: 1, at: [0, 3.5]}}", "k, c", fmt.Sprintf(touches, "k")},
		{"half a nanometre apart", "k: {rectangle: {length: 2, width: 1, at: [0, 3.5000005]}}", "c, k", fmt.Sprintf(touches, "k")},
		{"a micrometre apart", "k: {rectangle: {length: 2, width: 1, at: [0, 3.501]}}", "c, k", "the blend b has no place: c and k meet in no corner in plan"},
		{"a hundredth in it", "k: {rectangle: {length: 2, width: 1, at: [0, 3.49]}}", "c, k",
			"the blend b does not fit: its radius is 0.3 mm, and the shorter side at the corner of c and k has room for 0.0309 mm"},
		{"a nanometre in it", "k: {rectangle: {length: 2, width: 1, at: [0, 3.499998]}}", "c, k", fmt.Sprintf(touches, "k")},
		{"two circles", "k: {circle: {diameter: 2, at: [4, 0]}}", "c, k", fmt.Sprintf(touches, "k")},
		{"with a corner", "k: {rectangle: {length: 2, width: 2, turn: 45, at: [0, 4.414213562373095]}}", "c, k", fmt.Sprintf(touches, "k")},
		{"not so deep", "k: {rectangle: {length: 2, width: 1, at: [0, 3.5]}, open: top, depth: 2}", "c, k", fmt.Sprintf(touches, "k")},
		{"one of two copies", "k: {rectangle: {length: 2, width: 1, at: [0, 3]}, repeat: {count: 2, step: [0, -6.5]}}", "c, k", fmt.Sprintf(touches, "k")},
		{"side by side", "k: {flatted: {diameter: 4, flats: [1], at: [-6, 0]}}, m: {rectangle: {length: 2, width: 1, at: [-4, 0]}}", "k, m", ""},
	} {
		text := "part: t\nunits: mm\nbodies: {a: {circle: {diameter: 20}, from: 0, to: 8}}\ncuts: {c: {circle: {diameter: 6}}, " + c.cut +
			"}\nblends: {b: {of: [" + c.of + "], radius: 0.3}}\n"
		p, ps := form.Parse("t.yaml", []byte(text))
		if len(ps) == 0 {
			_, ps = Part(p)
		}
		if (len(ps) == 0) != (c.want == "") || len(ps) > 0 && (ps[0].Message != c.want || ps[0].Line != 5 || ps[0].Column != 10) {
			t.Errorf("%s: %v, want %s", c.name, ps, c.want)
		}
	}
}
