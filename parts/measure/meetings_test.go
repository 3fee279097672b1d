package measure

import (
	"fmt"
	"maps"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"corerod/parts/blank"
	"corerod/parts/form"
	"corerod/parts/source"
	"corerod/parts/subject"
)

// expected is what a part in which slopes meet must measure; what is not looked at is NaN or "".
type expected struct {
	plan, through, blind, floor, web float64
	wall                             string // between which features there is one that runs out
	at, angle                        float64
}

// TestWhereSlopesMeet: parts in which slopes meet others or the outline, against closed forms, as drawn, turned over, mirrored, turned
// by 17 degrees, shifted, and in inches.
func TestWhereSlopesMeet(t *testing.T) {
	nan := math.NaN()
	disc := func(d, h float64) string {
		return fmt.Sprintf("bodies: {a: {circle: {diameter: %g}, from: 0, to: %g}}\n", d, h)
	}
	sink := func(x float64) string {
		return disc(40, 8) + fmt.Sprintf("cuts: {c: {turned: {at: [%g, 0], section: [[0, 5], [2, 5], [5, 8], [0, 8]]}}}", x)
	}
	through := 2 * (5 - 5*tan(20)) // of two drafts that meet half way
	cap := func(z float64) float64 { return math.Sqrt(5.50625*5.50625 - (8.30625-z)*(8.30625-z)) }
	for _, c := range []struct {
		name, text string
		want       expected
	}{
		{"countersink that reaches the outline", sink(15), expected{math.Pi * 400, nan, nan, 5, nan, "a to c", 8, 45}},
		{"countersink a hundredth inside", sink(14.99), expected{math.Pi * 400, nan, nan, 5, nan, "", nan, nan}},
		{"countersink a hundredth outside", sink(15.01), expected{math.Pi * 400, nan, nan, 5, nan, "a to c", 7.99, 45}},
		{"countersink a fifth outside", sink(15.2), expected{math.Pi * 400, nan, nan, 5, nan, "a to c", 7.8, 45}},
		{"countersink a millimetre outside", sink(16), expected{math.Pi * 400, nan, nan, 5, nan, "a to c", 7, 45}},
		{"cone that opens half way", "bodies: {a: {rectangle: {length: 40, width: 30}, from: 0, to: 8}}\ncuts: {c: {turned: {at: [0, 11], section: [[0, 3], [2, 3], [7, 8], [0, 8]]}}}",
			expected{1200, nan, nan, 3, nan, "a to c", 5, 45}},
		{"two countersinks on one axis", disc(40, 8) + "cuts: {c: {turned: {section: [[0, 3], [2, 3], [7, 8], [0, 8]]}}, d: {turned: {section: [[0, 0], [7, 0], [2, 5], [0, 5]]}}}",
			expected{math.Pi * (400 - 9), 6, nan, nan, nan, "", nan, nan}},
		{"two countersinks 2 mm apart", disc(40, 8) + "cuts: {c: {turned: {section: [[0, 3], [2, 3], [7, 8], [0, 8]]}}, d: {turned: {at: [2, 0], section: [[0, 0], [7, 0], [2, 5], [0, 5]]}}}",
			expected{math.Pi * (400 - 3*math.Sqrt(8)), 2 * math.Sqrt(8), nan, nan, nan, "", nan, nan}},
		{"two drafted holes from both ends", disc(40, 10) + "cuts: {c: {circle: {diameter: 10}, open: top, depth: 8, draft: {angle: 20, narrows: down}}, d: {circle: {diameter: 10}, open: bottom, depth: 8, draft: {angle: 20, narrows: up}}}",
			expected{math.Pi * (400 - through*through/4), through, nan, nan, nan, "", nan, nan}},
		{"balls in both faces", disc(30, 6) + "cuts: {c: {ball: {diameter: 11.0125, z: 8.30625}}, d: {ball: {diameter: 11.0125, z: -2.30625}}}",
			expected{math.Pi * (225 - cap(3)*cap(3)), 2 * cap(3), nan, nan, nan, "", nan, nan}},
		{"V grooves that cross", "bodies: {a: {rectangle: {length: 40, width: 40}, from: 0, to: 6}}\ncuts: {c: {rectangle: {length: 60, width: 8}, open: top, depth: 3.5, section: v}, d: {rectangle: {length: 8, width: 60}, open: bottom, depth: 3.5, section: v}}",
			expected{1600 - 2*math.Pow(8.0/7, 2), nan, nan, nan, nan, "", nan, nan}},
		{"ball that touches the other face", disc(30, 5) + "cuts: {c: {ball: {diameter: 10, z: 5}}}", expected{math.Pi * 225, nan, 10, 0, nan, "", nan, nan}},
		{"balls whose middles are 4 mm apart", disc(40, 10) + "cuts: {c: {ball: {diameter: 10, at: [2, 0], z: 10.5}}, d: {ball: {diameter: 10, at: [-2, 0], z: -0.5}}}",
			expected{math.Pi * 400, nan, 2 * math.Sqrt(25-0.25), 11 - 2*math.Sqrt(25-4), math.Hypot(4, 11) - 10, "", nan, nan}},
		{"cones 1 mm apart", disc(40, 10) + "cuts: {c: {turned: {at: [1, 0], section: [[0, 5.1], [4.9, 10], [0, 10]]}}, d: {turned: {section: [[0, 4.9], [4.9, 0], [0, 0]]}}}",
			expected{math.Pi * 400, nan, 9.8, 1.2, 1.2 / math.Sqrt2, "", nan, nan}},
		{"cones tip to tip", disc(30, 10) + "cuts: {c: {turned: {section: [[0, 5], [5, 10], [0, 10]]}}, d: {turned: {section: [[0, 5], [5, 0], [0, 0]]}}}",
			expected{math.Pi * 225, nan, 10, 0, nan, "", nan, nan}},
	} {
		for way, text := range ways(t, c.text) {
			units, text, _ := strings.Cut(text, "\n")
			p := madeIn(t, strings.TrimPrefix(units, "units: "), text)
			at := c.want.at
			if way == "turned over" {
				at = p.Height - at
			}
			near := func(what string, got, want float64) {
				t.Helper()
				if !math.IsNaN(want) && (math.IsNaN(got) || math.Abs(got-want) > 1e-9*math.Max(1, want)) {
					t.Errorf("%s, %s: %s %.12g, want %.12g", c.name, way, what, got, want)
				}
			}
			within := func(what string, got, want float64) { // along arcs within 1e-7 mm
				t.Helper()
				if !math.IsNaN(want) && (math.IsNaN(got) || math.Abs(got-want) > 1e-6*math.Max(1, want)) {
					t.Errorf("%s, %s: %s %.12g, want %.12g", c.name, way, what, got, want)
				}
			}
			within("plan", p.PlanArea, c.want.plan)
			opened, blind := 0, 0
			for _, h := range p.Holes {
				if h.Through {
					opened++
					within("through", h.Width, c.want.through)
					continue
				}
				blind++
				near("blind", h.Width, c.want.blind)
				near("floor", h.Floor.Value, c.want.floor)
				if near("web", h.WebAcross.Value, c.want.web); h.WebAcross.Known != !math.IsNaN(c.want.web) {
					t.Errorf("%s, %s: its web is %v", c.name, way, h.WebAcross)
				}
			}
			if (opened == 1) != !math.IsNaN(c.want.through) || opened > 1 || (blind > 0) != !math.IsNaN(c.want.floor) {
				t.Errorf("%s, %s: holes %v", c.name, way, show(p.Holes))
			}
			var out *subject.Wall
			for _, w := range p.Walls {
				if w.RunsOut {
					out = w
				}
			}
			if (out != nil) != (c.want.wall != "") {
				t.Errorf("%s, %s: walls %v", c.name, way, show(p.Walls))
			}
			if out != nil {
				end := out.ZHigh
				if way == "turned over" {
					end = out.ZLow
				}
				near("wall", out.Thickness, 0)
				near("height at which it runs out", end, at)
				near("angle", out.Angle.Value, c.want.angle)
				if strings.Join(out.Between, " to ") != c.want.wall {
					t.Errorf("%s, %s: %s, want %s", c.name, way, out.Name, c.want.wall)
				}
			}
		}
	}
}

// ways are the same part turned over, mirrored, turned, shifted and in inches.
func ways(t *testing.T, text string) map[string]string {
	t.Helper()
	text = strings.TrimSpace(text) + "\n"
	sin, cos := math.Sincos(17 * math.Pi / 180)
	same := func(x, y float64) (float64, float64) { return x, y }
	return map[string]string{
		"as drawn":    "units: mm\n" + text,
		"mirrored":    "units: mm\n" + placed(text, func(x, y float64) (float64, float64) { return -x, y }, 0, 1),
		"turned":      "units: mm\n" + placed(text, func(x, y float64) (float64, float64) { return cos*x - sin*y, sin*x + cos*y }, 17, 1),
		"shifted":     "units: mm\n" + placed(text, func(x, y float64) (float64, float64) { return x + 31.7, y - 12.9 }, 0, 1),
		"in inches":   "units: in\n" + placed(text, same, 0, 1/25.4),
		"turned over": over(t, "part: p\nunits: mm\n"+text),
	}
}

var (
	profiles = regexp.MustCompile(`(circle|rectangle|turned|ball): \{`)
	places   = regexp.MustCompile(`at: \[([^,]+), ([^\]]+)\]`)
	lengths  = regexp.MustCompile(`(diameter|length|width|from|to|depth|z): (-?[0-9.e+-]+)`)
	sections = regexp.MustCompile(`section: \[\[.*?\]\]`)
	numbers  = regexp.MustCompile(`-?[0-9.]+(e[+-][0-9]+)?`)
)

// placed is a text whose profiles lie elsewhere, rectangles turned by degrees, with lengths times a scale.
func placed(text string, to func(x, y float64) (float64, float64), turn, scale float64) string {
	num := func(v string) float64 { f, _ := strconv.ParseFloat(strings.TrimSpace(v), 64); return f }
	show := func(v float64) string { return strconv.FormatFloat(v*scale, 'g', -1, 64) }
	out := ""
	for text != "" {
		at := profiles.FindStringIndex(text)
		if at == nil {
			return scaled(out+text, lengths, scale)
		}
		end := at[1] + strings.Index(text[at[1]:], "}") // profiles hold no braces
		body, x, y := text[at[1]:end], 0.0, 0.0
		if m := places.FindStringSubmatch(body); m != nil {
			x, y = num(m[1]), num(m[2])
			body = strings.Trim(strings.ReplaceAll(places.ReplaceAllString(body, ""), ", ,", ","), ", ")
		}
		body = sections.ReplaceAllStringFunc(body, func(v string) string {
			return numbers.ReplaceAllStringFunc(v, func(n string) string { return show(num(n)) })
		})
		x, y = to(x, y)
		out += text[:at[1]] + fmt.Sprintf("at: [%s, %s], ", show(x), show(y))
		if turn != 0 && strings.HasPrefix(text[at[0]:], "rectangle") {
			out += fmt.Sprintf("turn: %g, ", turn)
		}
		out, text = out+body, text[end:]
	}
	return out
}

// scaled has what follows the keys of a pattern times a scale.
func scaled(text string, keys *regexp.Regexp, scale float64) string {
	return keys.ReplaceAllStringFunc(text, func(v string) string {
		m := keys.FindStringSubmatch(v)
		f, _ := strconv.ParseFloat(m[2], 64)
		return m[1] + ": " + strconv.FormatFloat(f*scale, 'g', -1, 64)
	})
}

// over is a part file with the part turned over.
func over(t *testing.T, text string) string {
	t.Helper()
	doc, ps := source.Open("x.yaml", []byte(text))
	if len(ps) > 0 {
		t.Fatal(ps)
	}
	p, ps := form.Parse("x.yaml", []byte(text))
	if len(ps) > 0 {
		t.Fatal(ps)
	}
	s, ps := blank.Make(p)
	if len(ps) > 0 {
		t.Fatal(text, ps)
	}
	low, high := s.WholeSpan()
	edits, ok := form.TurnOver(doc.Root, low+high)
	if !ok {
		t.Fatal("the part cannot be turned over")
	}
	b, err := doc.With(edits...)
	if err != nil {
		t.Fatal(err)
	}
	return strings.TrimPrefix(string(b), "part: p\n")
}

// TestWallsThatMeet: walls, holes and gaps between slopes, in all ways in which a part can lie.
func TestWallsThatMeet(t *testing.T) {
	all := func(what, text string, check func(t *testing.T, p *subject.Part)) {
		for way, text := range ways(t, text) {
			t.Run(what+", "+way, func(t *testing.T) {
				units, text, _ := strings.Cut(text, "\n")
				check(t, madeIn(t, strings.TrimPrefix(units, "units: "), text))
			})
		}
	}
	lean := tan(20)
	all("three drafted holes", "bodies: {a: {circle: {diameter: 40}, from: 0, to: 6}}\ncuts: {c: {circle: {diameter: 10, at: [4.5, 0]}, draft: {angle: 20, narrows: up}}, "+
		"d: {circle: {diameter: 10, at: [-2.25, 3.8971143170299739]}, draft: {angle: 20, narrows: up}}, e: {circle: {diameter: 10, at: [-2.25, -3.8971143170299739]}, draft: {angle: 20, narrows: up}}}",
		func(t *testing.T, p *subject.Part) {
			// Two circles touch where their radius is half of the distance of their middles.
			touch := (5 - 4.5*math.Sqrt(3)/2) / lean
			out := 0
			for _, w := range p.Walls {
				if w.RunsOut {
					near(t, "height", w.Height, 6-touch)
					near(t, "angle", w.Angle.Value, 40)
					out += max(1, len(w.Places))
				}
			}
			if out != 3 {
				t.Errorf("walls %v", show(p.Walls))
			}
			if len(p.Feathers) != 0 { // its tips end where the walls run out: at one place there is one finding
				t.Errorf("feathers %v", show(p.Feathers))
			}
		})
	all("a notch that is open to the outline", "bodies: {a: {rectangle: {length: 30, width: 30}, from: 0, to: 10}}\ncuts: {c: {rectangle: {length: 10, width: 10, at: [14, 0]}, draft: {angle: 1, narrows: down}}}",
		func(t *testing.T, p *subject.Part) {
			arms := 0
			for _, w := range p.Walls {
				if math.Abs(w.Thickness-10) < 1e-9 {
					arms += max(1, len(w.Places))
				}
			}
			if arms != 2 || len(p.Grooves)+len(p.Flanges) != 0 {
				t.Errorf("walls %v, grooves %v, flanges %v", show(p.Walls), show(p.Grooves), show(p.Flanges))
			}
		})
	all("a bore in a sloped body", "bodies: {a: {turned: {section: [[0, 0], [12, 0], [14, 40], [0, 40]]}}}\ncuts: {c: {circle: {diameter: 5}}}",
		func(t *testing.T, p *subject.Part) {
			near(t, "depth", p.Holes[0].Depth, 40)
			near(t, "ratio", p.Holes[0].Ratio, 8)
		})
	all("a shell", "bodies: {a: {turned: {section: [[5, 0], [6.1, 0], [16.1, 10], [15, 10]]}}}",
		func(t *testing.T, p *subject.Part) {
			if len(p.Walls) != 1 {
				t.Fatalf("walls %v", show(p.Walls))
			}
			near(t, "thickness", p.Walls[0].Thickness, 1.1)
			near(t, "square", p.Walls[0].Square.Value, 1.1/math.Sqrt2)
			near(t, "height", p.Walls[0].Height, 10)
			near(t, "volume", p.Volume, math.Pi*(11.1+31.1)/2*1.1*10)
		})
	all("corners that lean alike", "bodies: {a: {rectangle: {length: 60, width: 40}, from: 0, to: 10}}\ncuts: {"+
		"c: {rectangle: {length: 8, width: 8, at: [-5.6568542494923806, -5.6568542494923806]}, open: top, depth: 8, draft: {angle: 10, narrows: down}}, "+
		"d: {rectangle: {length: 8, width: 8, at: [5.6568542494923806, 5.6568542494923806]}, open: bottom, depth: 8, draft: {angle: 10, narrows: up}}}",
		func(t *testing.T, p *subject.Part) {
			lean := math.Sqrt2 * tan(10) // of the edge where two sides meet
			i := slices.IndexFunc(p.Walls, func(w *subject.Wall) bool { return slices.Equal(w.Features, []string{"c", "d"}) })
			if i < 0 {
				t.Fatalf("walls %v", show(p.Walls))
			}
			apart := 16 - 8*math.Sqrt2 + 10*lean
			near(t, "thickness", p.Walls[i].Thickness, apart)
			near(t, "square", p.Walls[i].Square.Value, apart/math.Sqrt(1+lean*lean))
		})
	all("cones whose slopes touch along a line", "bodies: {a: {circle: {diameter: 30}, from: 0, to: 10}}\ncuts: {c: {turned: {section: [[0, 4], [6, 10], [0, 10]]}}, d: {turned: {at: [1, 0], section: [[0, 5], [5, 0], [0, 0]]}}}",
		func(t *testing.T, p *subject.Part) {
			for _, h := range p.Holes {
				if h.Through {
					t.Errorf("%s goes through", h.Name)
				}
			}
			w := the(t, p.Walls, "c to d")
			near(t, "thickness", w.Thickness, 0)
			near(t, "height", w.Height, 1)
			if !w.RunsOut || w.Angle.Value > 60 {
				t.Errorf("%+v", w)
			}
		})
}

// TestByContact: what touches is one, whatever features draw it: a plate in two bodies is the plate in one.
func TestByContact(t *testing.T) {
	const cuts = "cuts: {c: {rectangle: {length: 30, width: 8, at: [0, 6]}}, d: {circle: {diameter: 6, at: [0, -8]}}}\n"
	one := made(t, "bodies: {a: {rectangle: {length: 40, width: 24}, from: 0, to: 20}}\n"+cuts)
	for _, text := range []string{
		"bodies: {a: {rectangle: {length: 40, width: 24}, from: 0, to: 10}, b: {rectangle: {length: 40, width: 24}, from: 10, to: 20}}\n" + cuts,
		"bodies: {b: {rectangle: {length: 40, width: 24}, from: 13, to: 20}, a: {rectangle: {length: 40, width: 24}, from: 0, to: 13}}\n" + cuts,
		"bodies: {a: {rectangle: {length: 25, width: 24, at: [-7.5, 0]}, from: 0, to: 20}, b: {rectangle: {length: 30, width: 24, at: [5, 0]}, from: 0, to: 20}}\n" + cuts,
	} {
		places := func(p *subject.Part) map[string]int {
			n := map[string]int{}
			for _, w := range p.Walls {
				n[fmt.Sprintf("wall %.9f %.9f %.9f %.9f", w.Thickness, w.Height, w.Length, w.Ratio)] += max(1, len(w.Places))
			}
			for _, g := range p.Gaps {
				n[fmt.Sprintf("gap %.9f %.9f %s", g.Width, g.Depth, g.Member)] += max(1, len(g.Places))
			}
			return n
		}
		if got, want := places(made(t, text)), places(one); !maps.Equal(got, want) {
			t.Errorf("%s: %v, want %v", text, got, want)
		}
	}
}

// TestFeathersInSpace: ridges, rims without width and points, by the slopes of their faces; blunt ones and drafted walls are none.
func TestFeathersInSpace(t *testing.T) {
	const disc = "bodies: {a: {circle: {diameter: 40}, from: 0, to: 6}"
	deg := func(rise, run float64) float64 { return math.Atan2(rise, run) * 180 / math.Pi }
	for _, c := range []struct {
		name, text string
		angle      float64 // 0 for none
		of         string
		low, high  float64
	}{
		{"ridge", disc + ", r: {turned: {section: [[10, 6], [12, 6], [11, 10]]}}}", 2 * deg(1, 4), "material", 10, 10},
		{"blunt ridge", disc + ", r: {turned: {section: [[8, 6], [14, 6], [11, 8]]}}}", 0, "", 0, 0},
		{"point", disc + ", r: {turned: {section: [[0, 6], [2, 6], [0, 10]]}}}", 2 * deg(2, 4), "material", 10, 10},
		{"V groove", disc + "}\ncuts: {g: {rectangle: {length: 60, width: 4}, open: top, depth: 3, section: v}}", 2 * deg(2, 3), "tool", 3, 3},
		{"blunt V groove", disc + "}\ncuts: {g: {rectangle: {length: 60, width: 6}, open: top, depth: 3, section: v}}",
			90 - math.Asin(3.0/20*math.Sqrt(0.5))*180/math.Pi, "material", 3, 6}, // where it runs out in the outline
		{"blunt V groove in a square", "bodies: {a: {rectangle: {length: 40, width: 40}, from: 0, to: 6}}\ncuts: {g: {rectangle: {length: 60, width: 6}, open: top, depth: 3, section: v}}",
			0, "", 0, 0},
		{"dish as wide as the part", disc + "}\ncuts: {d: {turned: {section: [[0, 3], [10, 3], [20, 6], [0, 6]]}}}", 90 - deg(3, 10), "material", 6, 6},
		{"two cones base to base", "bodies: {a: {turned: {section: [[0, 0], [10, 4], [0, 8]]}}}", 2 * deg(4, 10), "material", 4, 4},
		{"drafted wall", "bodies: {a: {circle: {diameter: 40}, from: 0, to: 6, draft: {angle: 3, narrows: up}}}", 0, "", 0, 0},
		{"ridge of two balls", "bodies: {a: {ball: {diameter: 20, at: [-9, 0]}}, b: {ball: {diameter: 20, at: [9, 0]}}, c: {circle: {diameter: 4, at: [-9, 0]}, from: 0, to: 12}}",
			2 * math.Acos(0.9) * 180 / math.Pi, "tool", 0, math.Sqrt(19)},
	} {
		p := made(t, c.text+"\n")
		var found []*subject.Feather
		for _, f := range p.Feathers {
			if f.Space {
				found = append(found, f)
			}
		}
		if c.angle == 0 || c.angle >= 90 {
			if len(found) != 0 {
				t.Errorf("%s: %v at %g", c.name, show(found), found[0].Angle)
			}
			continue
		}
		ok := false
		for _, f := range found {
			ok = ok || math.Abs(f.Angle-c.angle) < 1e-7 && f.Of == c.of && math.Abs(f.ZHigh-c.high) < 1e-6
		}
		if !ok {
			for _, f := range found {
				t.Logf("%g %s %g %g", f.Angle, f.Of, f.ZLow, f.ZHigh)
			}
			t.Errorf("%s: %v, want %g of the %s", c.name, show(found), c.angle, c.of)
		}
	}
}
