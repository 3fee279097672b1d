package measure

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"
	"testing"

	"corerod/parts/subject"
)

func tan(degrees float64) float64 { return math.Tan(degrees * math.Pi / 180) }

// frustum of a cone.
func frustum(r, s, h float64) float64 { return math.Pi * h * (r*r + r*s + s*s) / 3 }

func show[S subject.Subject](all []S) (out []string) {
	for _, x := range all {
		c := x.Place()
		out = append(out, fmt.Sprintf("%s z %.9g to %.9g", c.Name, c.ZLow, c.ZHigh))
	}
	return out
}

// TestSlopedFaces: one sloped face is one face: no staircase of levels, steps, columns, holes, walls or corners.
func TestSlopedFaces(t *testing.T) {
	p := made(t, `
bodies:
  base: {rectangle: {length: 40, width: 30, corner: 3}, from: 0, to: 8}
  boss: {circle: {diameter: 8, at: [12, 0]}, from: 8, to: 11, draft: {angle: 12, narrows: up}}
  hub: {circle: {diameter: 20, at: [-6, 0]}, from: 8, to: 20, draft: {angle: 3, narrows: up}}
cuts:
  bore: {circle: {diameter: 8, at: [-6, 0]}, draft: {angle: 1, narrows: up}}
  pocket: {rectangle: {length: 6, width: 5, at: [12, 10], corner: 1.5}, open: bottom, depth: 3, draft: {angle: 7, narrows: up}}
`)
	hub, boss := the(t, p.Levels, "hub top"), the(t, p.Bosses, "boss")
	if len(p.Levels) != 3 || len(p.Steps) != 1 || len(p.Columns) != 4 || len(p.Holes) != 2 || len(p.Bosses) != 1 || len(p.Corners) != 1 ||
		len(p.Flanges) != 1 {
		t.Errorf("levels %v steps %v columns %v holes %v bosses %v corners %v flanges %v", show(p.Levels), show(p.Steps), show(p.Columns),
			show(p.Holes), show(p.Bosses), show(p.Corners), show(p.Flanges))
	}
	near(t, "hub's column", hub.Height, 20)
	near(t, "boss", boss.Rise, 3)
	near(t, "boss's draft", boss.Draft, 12)
	near(t, "step's draft", p.Steps[0].Draft, 3)
	near(t, "rise", p.Steps[0].Rise, 12)
	near(t, "local share", p.Steps[0].LocalShare, 12.0/20)
	bore, pocket := the(t, p.Holes, "bore"), the(t, p.Holes, "pocket")
	near(t, "bore at its narrow end", bore.Width, 8-2*20*tan(1))
	near(t, "depth", bore.Depth, 20)
	near(t, "draft", bore.Draft, 1)
	near(t, "pocket at its floor", pocket.Width, 5-2*3*tan(7))
	near(t, "floor", pocket.Floor.Value, 5)
	near(t, "draft", pocket.Draft, 7)
	near(t, "radius at the floor", p.Corners[0].Radius, 1.5-3*tan(7))
	// The wall between bore and hub is thinnest where it ends: the hub has lost 12 mm of lean, the bore 20.
	w := the(t, p.Walls, "bore to hub")
	near(t, "wall", w.Thickness, 10-12*tan(3)-(4-20*tan(1)))
	if math.Abs(w.Height-12) > 1e-4 || w.ZHigh != 20 {
		t.Errorf("the wall is one from 8 to 20: %+v", w)
	}
	near(t, "plan", p.PlanArea, 40*30-(4-math.Pi)*9-math.Pi*math.Pow(4-20*tan(1), 2))
}

// TestSeatInACounterbore: a cone that ends at the upright wall of a counterbore touches no flat and is a level by itself, whether the
// two are drawn as one cut or as two.
func TestSeatInACounterbore(t *testing.T) {
	const body = "bodies: {body: {circle: {diameter: 30}, from: 0, to: 18}}\ncuts: {bore: {circle: {diameter: 8}}, "
	for name, cuts := range map[string]string{
		"two": "cbore: {circle: {diameter: 14}, open: top, depth: 5}, seat: {turned: {section: [[0, 9], [4, 9], [7, 13], [0, 13]]}}}\n",
		"one": "seat: {turned: {section: [[0, 9], [4, 9], [7, 13], [7, 18], [0, 18]]}}}\n",
	} {
		p := made(t, body+cuts)
		near(t, name, the(t, p.Levels, "body top").Area, math.Pi*(15*15-7*7))
		near(t, name, the(t, p.Levels, "seat top").Z, 9)
		if p.LevelsTop != 2 || len(p.Steps) != 1 || !p.Steps[0].OwnPunch {
			t.Errorf("%s: levels %v, steps %v", name, show(p.Levels), show(p.Steps))
		}
	}
}

// TestConesAndBalls have one level on each side.
func TestConesAndBalls(t *testing.T) {
	for name, text := range map[string]string{
		"cone":           "bodies: {a: {turned: {section: [[0, 0], [10, 0], [10, 2], [4, 12], [0, 12]]}}}\ncuts: {b: {circle: {diameter: 4}}, sink: {turned: {section: [[0, 10], [2, 10], [3, 12], [0, 12]]}}}\n",
		"point":          "bodies: {a: {turned: {section: [[0, 0], [10, 0], [0, 8]]}}}\n",
		"ball":           "bodies: {a: {ball: {diameter: 20}}}\n",
		"ball bush":      "bodies: {a: {ball: {diameter: 20, band: 6}}}\ncuts: {b: {circle: {diameter: 8}}}\n",
		"spool of cones": "bodies: {a: {turned: {section: [[0, 0], [10, 0], [12, 4], [10, 8], [0, 8]]}}}\n",
	} {
		p := made(t, text)
		if p.LevelsTop != 1 || p.LevelsBottom != 1 || len(p.Columns) != 1 || len(p.Steps)+len(p.Traps)+len(p.Bosses)+len(p.Flanges) != 0 {
			t.Errorf("%s: levels %v, columns %v, steps %v, traps %v, flanges %v", name, show(p.Levels), show(p.Columns), show(p.Steps),
				show(p.Traps), show(p.Flanges))
		}
	}
	p := made(t, "bodies: {a: {ball: {diameter: 20, band: 6, z: 1}}}\ncuts: {b: {circle: {diameter: 8}}}\n")
	near(t, "height, where the bore meets the ball", p.Height, 2*math.Sqrt(100-16))
	near(t, "width", p.Width, 2*math.Sqrt(91))
	b := the(t, p.Holes, "b")
	near(t, "depth", b.Depth, 2*math.Sqrt(100-16))
	dimple := made(t,
		"bodies: {a: {circle: {diameter: 30}, from: 0, to: 10}}\ncuts: {point: {turned: {section: [[0, 4], [5, 10], [0, 10]]}}}\n")
	if h := the(t, dimple.Holes, "point"); h.Through || math.Abs(h.Depth-6) > 1e-9 || math.Abs(h.Floor.Value-4) > 1e-9 ||
		dimple.LevelsTop != 1 {
		t.Errorf("%+v", h)
	}
}

// TestTapers: what forms a sloped wall, and whether it holds the part at ejection, either way up.
func TestTapers(t *testing.T) {
	disc := "bodies: {a: {circle: {diameter: 30}, from: 0, to: 10}}\n"
	for _, c := range []struct{ name, text, want string }{
		{"outside that narrows up", "bodies: {a: {circle: {diameter: 30}, from: 0, to: 10, draft: {angle: 2, narrows: up}}}", "a die up reverse"},
		{"outside that widens up", "bodies: {a: {circle: {diameter: 30}, from: 0, to: 10, draft: {angle: 2, narrows: down}}}", "a die down turned"},
		{"hole that widens downward", disc + "cuts: {b: {circle: {diameter: 10}, draft: {angle: 2, narrows: up}}}", "b core up turned"},
		{"hole that narrows downward", disc + "cuts: {b: {circle: {diameter: 10}, draft: {angle: 2, narrows: down}}}", "b core down reverse"},
		{"pocket", disc + "cuts: {b: {circle: {diameter: 10}, open: top, depth: 3, draft: {angle: 7, narrows: down}}}", "b punch down"},
		{"counterbore", disc + "cuts: {b: {circle: {diameter: 14}, open: top, depth: 3, draft: {angle: 7, narrows: down}}, c: {circle: {diameter: 6}}}", "b punch down"},
		{"cone too flat for a die", "bodies: {a: {circle: {diameter: 30}, from: 0, to: 10, draft: {angle: 40, narrows: up}}}", "a punch up"},
		{"turned outside", "bodies: {a: {turned: {section: [[4, 0], [14, 0], [15, 8], [15, 9], [4, 9]]}}}", "a die down turned 1"},
		{"turned hole", "bodies: {a: {turned: {section: [[4, 0], [15, 0], [15, 9], [5, 9], [5, 8]]}}}", "a core down reverse 1"},
		{"hub whose foot lies in a flange", "bodies: {a: {circle: {diameter: 30}, from: 0, to: 10}, b: {circle: {diameter: 16}, from: 0, to: 20, draft: {angle: 4, narrows: up}}}", "b punch up"},
		{"hole whose narrow end is bored away", disc + "cuts: {b: {circle: {diameter: 10}, from: 0, to: 10, draft: {angle: 2, narrows: down}}, c: {circle: {diameter: 12}, from: 0, to: 3}}", "b core down reverse"},
		{"drilled point", disc + "cuts: {b: {turned: {section: [[0, 4], [3, 6], [3, 10], [0, 10]]}}}", "b punch down 4"},
		{"notch that runs out", disc + "cuts: {b: {rectangle: {length: 8, width: 6, at: [15, 0]}, draft: {angle: 3, narrows: down}}}", "b die down reverse"},
	} {
		p := made(t, c.text)
		if len(p.Tapers) != 1 {
			t.Errorf("%s: %d tapers", c.name, len(p.Tapers))
			continue
		}
		x := p.Tapers[0]
		got := x.Name + " " + x.FormedBy + " " + x.Narrows
		if x.Reverse {
			got += " reverse"
		}
		if x.ReverseTurned {
			got += " turned"
		}
		if x.Land.Known {
			got += fmt.Sprintf(" %g", x.Land.Value)
		}
		if got != c.want {
			t.Errorf("%s: %s, want %s", c.name, got, c.want)
		}
	}
	hub := made(t, disc+"cuts: {bore: {circle: {diameter: 6}}}\n")
	if len(hub.Tapers) != 0 {
		t.Error("upright walls are no tapers")
	}
	half := made(t,
		"bodies: {a: {circle: {diameter: 30}, from: 2, to: 10}, h: {circle: {diameter: 16}, from: 4, to: 20, draft: {angle: 4, narrows: up}}, l: {circle: {diameter: 8}, from: 0, to: 2}}\ncuts: {p: {rectangle: {length: 4, width: 5, at: [10, 0]}, open: bottom, depth: 4, draft: {angle: 7, narrows: up}}}\n")
	if got := fmt.Sprint(show(half.Tapers)); got != "[h z 10 to 20 p z 2 to 6]" {
		t.Errorf("a taper stands where its wall is bare: %s", got)
	}
	three := made(t,
		"bodies: {a: {circle: {diameter: 30}, from: 0, to: 4}, b: {circle: {diameter: 4, at: [10, 0]}, from: 4, to: 6, draft: {angle: 10, narrows: up}, repeat: {count: 3}}}\n")
	if len(three.Tapers) != 1 || len(three.Tapers[0].Places) != 3 || three.Tapers[0].FormedBy != "punch" {
		t.Errorf("%+v", three.Tapers)
	}
}

// TestUndercutDraft: a pocket that widens inward is closed along the axis.
func TestUndercutDraft(t *testing.T) {
	p := made(t,
		"bodies: {a: {circle: {diameter: 30}, from: 0, to: 10}}\ncuts: {b: {circle: {diameter: 10}, open: top, depth: 4, draft: {angle: 10, narrows: up}}}\n")
	x := the(t, p.Traps, "b")
	near(t, "area", x.Area, math.Pi*(25-math.Pow(5-4*tan(10), 2)))
	if len(p.Traps) != 1 || math.Abs(x.Height-4) > 1e-5 {
		t.Errorf("%+v", x)
	}
	near(t, "volume", p.Volume, math.Pi*225*10-frustum(5, 5-4*tan(10), 4))
}

// TestSlopesElsewhere: the same part at another place, and upside down, has the same measures; turned over, what was
// reverse is not.
func TestSlopesElsewhere(t *testing.T) {
	text := func(x, y float64, over bool) string {
		z := func(lo, hi float64) string {
			if over {
				lo, hi = -hi, -lo
			}
			return fmt.Sprintf("from: %g, to: %g", lo, hi)
		}
		way := func(up bool) string {
			return map[bool]string{true: "up", false: "down"}[up != over]
		}
		return fmt.Sprintf(`
bodies:
  base: {rectangle: {length: 40, width: 30, corner: 4, at: [%[1]g, %[2]g]}, %[3]s, draft: {angle: 2, narrows: %[7]s}}
  hub: {circle: {diameter: 18, at: [%[1]g, %[2]g]}, %[4]s, draft: {angle: 4, narrows: %[7]s}}
cuts:
  bore: {circle: {diameter: 8, at: [%[1]g, %[2]g]}, %[5]s, draft: {angle: 1, narrows: %[8]s}}
  eye: {slot: {length: 7, width: 4, at: [%[6]g, %[2]g]}, %[3]s}`, x, y, z(0, 8), z(8, 17), z(0, 17), x+14, way(true), way(false))
	}
	at := made(t, text(0, 0, false))
	for name, there := range map[string]*subject.Part{"elsewhere": made(t, text(100, -80, false)),
		"turned over": made(t, text(0, 0, true))} {
		for what, m := range map[string][2]float64{"volume": {there.Volume, at.Volume}, "surface": {there.Surface, at.Surface},
			"plan":  {there.PlanArea, at.PlanArea},
			"width": {there.Width, at.Width}, "bore": {the(t, there.Holes, "bore").Width, the(t, at.Holes, "bore").Width},
			"wall": {the(t, there.Walls, "bore to hub").Thickness, the(t, at.Walls, "bore to hub").Thickness}} {
			if math.Abs(m[0]-m[1]) > 1e-9*math.Max(1, m[1]) {
				t.Errorf("%s: %s is %.12g, want %.12g", name, what, m[0], m[1])
			}
		}
		if len(there.Tapers) != 3 || len(there.Walls) != len(at.Walls) || len(there.Columns) != len(at.Columns) {
			t.Errorf("%s: %v %v %v", name, show(there.Tapers), show(there.Walls), show(there.Columns))
		}
		for _, q := range there.Tapers {
			p := the(t, at.Tapers, q.Name)
			if name == "turned over" {
				p = &subject.Taper{FormedBy: p.FormedBy, Reverse: p.ReverseTurned, ReverseTurned: p.Reverse}
			}
			if q.FormedBy != p.FormedBy || q.Reverse != p.Reverse || q.ReverseTurned != p.ReverseTurned {
				t.Errorf("%s: %s formed by %s, reverse %v, turned %v", name, q.Name, q.FormedBy, q.Reverse, q.ReverseTurned)
			}
		}
	}
}

// TestSlopedCorners: a corner that changes its angle along a slope is one, and a V groove is no gap for its own floor.
func TestSlopedCorners(t *testing.T) {
	p := made(t, `
bodies: {a: {rectangle: {length: 40, width: 30, corner: 2}, from: 0, to: 10}}
cuts:
  g: {rectangle: {length: 60, width: 4, at: [0, 9]}, open: top, depth: 2, section: v}
  h: {flatted: {diameter: 8, flats: [3], at: [0, -4]}, draft: {angle: 2, narrows: down}}
`)
	if len(p.Corners) != 2 || len(the(t, p.Corners, "h").Places) != 2 {
		t.Errorf("corners %v", show(p.Corners))
	}
	h := the(t, p.Corners, "h")
	if math.Abs(h.ZLow) > 1e-9 || math.Abs(h.ZHigh-10) > 1e-9 || len(p.Gaps) != 0 || len(p.Feathers) != 0 {
		t.Errorf("%+v, gaps %v, feathers %v", h, show(p.Gaps), show(p.Feathers))
	}
	if g := the(t, p.Grooves, "g"); math.Abs(g.Depth-2) > 1e-9 || math.Abs(g.Width-4) > 1e-9 || p.LevelsTop != 1 {
		t.Errorf("%+v", g)
	}
}

// TestPointedHoles are as wide as their mouth; teeth that lean are one subject; heights of a section's points are axial.
func TestPointedHoles(t *testing.T) {
	disc := "bodies: {a: {circle: {diameter: 20}, from: 0, to: 5}}\n"
	for _, cut := range []string{"ball: {diameter: 8, z: 5}", "turned: {section: [[0, 1], [4, 5], [0, 5]]}"} {
		h := the(t, made(t, disc+"cuts: {b: {"+cut+"}}\n").Holes, "b")
		if math.Abs(h.Width-8) > 1e-9 || math.Abs(h.Floor.Value-1) > 1e-9 || math.Abs(h.Depth-4) > 1e-9 {
			t.Errorf("%s: %+v", cut, h)
		}
	}
	gear := made(t, "bodies: {a: {gear: {module: 2, teeth: 18}, from: 0, to: 10, draft: {angle: 1, narrows: up}}}\n")
	if len(gear.Teeth) != 1 || len(gear.Corners) != 0 || gear.LevelsTop != 1 {
		t.Errorf("teeth %v, corners %v, levels %v", show(gear.Teeth), show(gear.Corners), show(gear.Levels))
	}
	p := made(t,
		"bodies: {a: {turned: {section: [[0, 0], [10, 0], [10, 5], [0, 5]]}}}\ndimensions: {r: {of: 'a.section[1][0]', plus_minus: 0.1}, z: {of: 'bodies.a.turned.section[2][1]', plus_minus: 0.1}}\n")
	if r, z := the(t, p.Dimensions, "r"), the(t, p.Dimensions, "z"); r.Direction != "plan" || r.Nominal.Value != 10 ||
		z.Direction != "axial" || z.Nominal.Value != 5 {
		t.Errorf("%+v %+v", r, z)
	}
}

// TestFacingSlopes: between two walls that lean by different angles the wall is thinnest at the end where they are
// nearest, not between slices of one and of the other.
func TestFacingSlopes(t *testing.T) {
	p := made(t,
		"bodies: {cup: {circle: {diameter: 38}, from: 0, to: 22, draft: {angle: 2, narrows: up}}}\ncuts: {well: {circle: {diameter: 35}, open: top, depth: 20, draft: {angle: 3, narrows: up}}}\n")
	near(t, "wall", the(t, p.Walls, "cup to well").Thickness, 19-2*tan(2)-17.5)
	q := made(t,
		"bodies: {cup: {circle: {diameter: 38}, from: 0, to: 22, draft: {angle: 3, narrows: up}}}\ncuts: {well: {circle: {diameter: 32}, open: top, depth: 20, draft: {angle: 2, narrows: down}}}\n")
	near(t, "wall at the mouth", the(t, q.Walls, "cup to well").Thickness, 19-22*tan(3)-16)
}

// TestTurnedDraft: a hole that is a cone has its lean.
func TestTurnedDraft(t *testing.T) {
	p := made(t,
		"bodies: {a: {circle: {diameter: 30}, from: 0, to: 8}}\ncuts: {b: {turned: {section: [[0, 0], [5, 0], [4, 8], [0, 8]]}}}\n")
	h := the(t, p.Holes, "b")
	near(t, "draft", h.Draft, math.Atan(1.0/8)*180/math.Pi)
	near(t, "depth", h.Depth, 8)
	near(t, "width", h.Width, 8)
}

// TestDraftedRods: the gap of a hole or keyway that leans is the core rod's, and least at its narrow end.
func TestDraftedRods(t *testing.T) {
	disc := "bodies: {a: {circle: {diameter: 30}, from: 0, to: 20}}\n"
	for _, c := range []struct {
		cuts, name, member string
		width, depth       float64
	}{
		{"s: {slot: {length: 14, width: 4}, draft: {angle: 1, narrows: up}}", "s", "core-rod", 4 - 40*tan(1), 20},
		{"h: {circle: {diameter: 10}, draft: {angle: 1, narrows: down}}, k: {rectangle: {length: 3, width: 4, at: [0, 5]}, draft: {angle: 1, narrows: down}}", "k", "core-rod", 3 - 40*tan(1), 20},
		{"p: {rectangle: {length: 10, width: 5}, open: top, depth: 10, draft: {angle: 1, narrows: down}}", "p", "punch", 5 - 20*tan(1), 10},
	} {
		p := made(t, disc+"cuts: {"+c.cuts+"}\n")
		g := the(t, p.Gaps, c.name)
		near(t, c.name+" width", g.Width, c.width)
		near(t, c.name+" depth", g.Depth, c.depth)
		if len(p.Gaps) != 1 || g.Member != c.member {
			t.Errorf("%s: %+v", c.name, g)
		}
	}
}

// TestDraftedDimensions: the drawn size of a leaning wall is that of its wide end, and so is the member that forms it.
func TestDraftedDimensions(t *testing.T) {
	p := made(t, `
bodies: {a: {circle: {diameter: 40}, from: 0, to: 8, draft: {angle: 2, narrows: up}}, h: {circle: {diameter: 20}, from: 0, to: 16, draft: {angle: 4, narrows: up}}}
cuts: {b: {circle: {diameter: 8}, draft: {angle: 1, narrows: up}}, v: {rectangle: {length: 50, width: 2, at: [0, 15]}, open: top, depth: 1, section: v}}
dimensions:
  a: {of: a.diameter, plus_minus: 0.1}
  b: {of: b.diameter, plus_minus: 0.1}
  h: {of: h.diameter, plus_minus: 0.1}
  v: {of: v.width, plus_minus: 0.1}
`)
	for name, want := range map[string]string{"a": "[die]", "b": "[core-rod]", "h": "[upper-punch]", "v": "[upper-punch]"} {
		if got := fmt.Sprint(the(t, p.Dimensions, name).Members); got != want {
			t.Errorf("%s: %s, want %s", name, got, want)
		}
	}
}

// TestConeBetweenFlats belongs to the outer one of a body, either way up.
func TestConeBetweenFlats(t *testing.T) {
	for _, text := range []string{"[[5, 0], [25, 0], [25, 5], [15, 5], [12, 14], [5, 14]]",
		"[[5, 14], [25, 14], [25, 9], [15, 9], [12, 0], [5, 0]]"} {
		p := made(t, "bodies: {b: {turned: {section: "+text+"}}}\n")
		near(t, "ledge", p.Steps[0].Ledge, 10)
		near(t, "hub's face", slices.MinFunc(p.Levels, func(a, b *subject.Level) int { return cmp.Compare(a.Area, b.Area) }).Area,
			math.Pi*(225-25))
	}
}

// TestGrooveOverBore: a groove of V or round section that crosses a bore is a groove, no countersink.
func TestGrooveOverBore(t *testing.T) {
	for _, section := range []string{"v", "round"} {
		p := made(t,
			"bodies: {a: {circle: {diameter: 50}, from: 0, to: 12}}\ncuts: {b: {circle: {diameter: 14}}, g: {rectangle: {length: 60, width: 3}, open: top, depth: 1.2, section: "+section+"}}\n")
		g := the(t, p.Grooves, "g")
		near(t, "width", g.Width, 3)
		near(t, "depth", g.Depth, 1.2)
		near(t, "draft", g.Draft, map[string]float64{"v": math.Atan(1.5/1.2) * 180 / math.Pi, "round": math.Asin((1.5375-1.2)/1.5375) * 180 / math.Pi}[section]) // radius (1.5 1.5 + 1.2 1.2) / 2.4
		if len(g.Places) != 2 || p.LevelsTop != 1 || the(t, p.Levels, "a top").Area > p.PlanArea-90 {
			t.Errorf("%s: %+v, levels %v", section, g, show(p.Levels))
		}
	}
}

// TestSlightDrafts: a wall that leans by a few micrometres has its ends where they were drawn.
func TestSlightDrafts(t *testing.T) {
	for _, c := range []struct{ angle, height float64 }{{0.05, 6}, {0.1, 6}, {0.1, 20}, {0.25, 2}, {0.5, 2}, {1, 2}} {
		p := made(t,
			fmt.Sprintf(
				"bodies: {a: {circle: {diameter: 40}, from: 0, to: %[2]g, draft: {angle: %[1]g, narrows: up}}}\ncuts: {b: {circle: {diameter: 10}, draft: {angle: %[1]g, narrows: up}}}\n", c.angle, c.height))
		narrow := 5 - c.height*tan(c.angle)
		near(t, "outside", p.Outside, 40)
		near(t, "hole", the(t, p.Holes, "b").Width, 2*narrow)
		near(t, "plan", p.PlanArea, math.Pi*(400-narrow*narrow))
		if len(p.Tapers) != 2 || len(p.Levels) != 2 || len(p.Columns) != 1 || len(p.Walls) != 1 {
			t.Errorf("%g degrees, %g mm: tapers %v levels %v columns %v walls %v", c.angle, c.height, show(p.Tapers), show(p.Levels),
				show(p.Columns), show(p.Walls))
		}
	}
	short := made(t,
		"bodies: {a: {circle: {diameter: 40}, from: 0, to: 5, draft: {angle: 5, narrows: down}}}\ncuts: {b: {circle: {diameter: 6}, open: top, depth: 0.08}}\n")
	near(t, "cut close to its end", short.Outside, 40)
}

// TestNearlyEqualSections: where sections of two slopes at different heights are nearly one circle, each wall is still
// that of the feature there. The sink is a rim of the bore, whose wall goes on past it.
func TestNearlyEqualSections(t *testing.T) {
	p := made(t, `
bodies: {hub: {circle: {diameter: 20}, from: 0, to: 10}}
cuts:
  bore: {circle: {diameter: 5}}
  key: {rectangle: {length: 2, width: 2, at: [0, 2.5], corner: 0.3}}
  sink: {turned: {section: [[0, 9], [2.5, 9], [3.5, 10], [0, 10]]}}
  undercut: {turned: {section: [[1.5, 4], [3.5, 5], [1.5, 6]]}}
`)
	under := the(t, p.Walls, "bore and undercut to hub")
	if under.ZLow != 0 || under.ZHigh != 10 {
		t.Errorf("%v", show(p.Walls))
	}
	near(t, "wall", under.Thickness, 6.5)
}

// TestConesHalfInABore: the section halfway up a cone, which is the bore that it stands in, is no nanometre beside it.
func TestConesHalfInABore(t *testing.T) {
	text := func(scale float64) string {
		n := func(x float64) string { return strconv.FormatFloat(x*scale, 'g', -1, 64) }
		return "bodies: {hub: {circle: {diameter: " + n(15) + "}, from: 0, to: " + n(12) + "}}\ncuts: {bore: {circle: {diameter: " + n(6) +
			"}, draft: {angle: 1, narrows: up}}, ring: {turned: {section: [[" +
			n(2) + ", " + n(5) + "], [" + n(4) + ", " + n(6) + "], [" + n(2) + ", " + n(7) + "]]}}}\n"
	}
	in, mm := madeIn(t, "in", text(1/25.4)), made(t, text(1))
	near(t, "volume", in.Volume, mm.Volume)
	near(t, "trap", in.Traps[0].Area, mm.Traps[0].Area)
}

// TestSinkBesideHub belongs to the face that it is sunk into, not to the hub that stands over its rim.
func TestSinkBesideHub(t *testing.T) {
	for name, text := range map[string]string{
		"top":    "bodies: {base: {circle: {diameter: 40}, from: 0, to: 5}, hub: {circle: {diameter: 20}, from: 5, to: 10}}\ncuts: {h: {circle: {diameter: 2, at: [12, 0]}}, s: {turned: {at: [12, 0], section: [[0, 3], [1, 3], [3, 5], [0, 5]]}}}\n",
		"bottom": "bodies: {base: {circle: {diameter: 40}, from: 5, to: 10}, hub: {circle: {diameter: 20}, from: 0, to: 5}}\ncuts: {h: {circle: {diameter: 2, at: [12, 0]}}, s: {turned: {at: [12, 0], section: [[0, 7], [1, 7], [3, 5], [0, 5]]}}}\n",
	} {
		p := made(t, text)
		near(t, name, the(t, p.Levels, "hub "+name).Area, math.Pi*100)
		near(t, name, p.Steps[0].Ledge, 10)
	}
}

// TestMovingNecks: the chord between a groove's leaning wall and a tooth moves along the slope, and is one gap.
func TestMovingNecks(t *testing.T) {
	for _, section := range []string{"v", "round"} {
		p := made(t,
			"bodies: {t: {gear: {module: 1.5, teeth: 24}, from: 0, to: 10}}\ncuts: {b: {circle: {diameter: 10}}, g: {rectangle: {length: 60, width: 3, at: [0, 15]}, open: top, depth: 1.5, section: "+section+"}}\n")
		for i, g := range p.Gaps {
			for _, o := range p.Gaps[:i] {
				if math.Hypot(g.X-o.X, g.Y-o.Y) < math.Min(g.Width, o.Width)/2 {
					t.Errorf("%s: %s, %g wide, goes on as %s", section, o.Name, o.Width, g.Name)
				}
			}
		}
		if len(p.Gaps) == 0 || len(p.Gaps) > 4 {
			t.Errorf("%s: gaps %v", section, show(p.Gaps))
		}
	}
}

// TestSliverOfASlope: where a section of a ball passes a micrometre by the wall of a hole, the hole stays round.
func TestSliverOfASlope(t *testing.T) {
	p := made(t,
		"bodies: {a: {circle: {diameter: 30}, from: 0, to: 8}}\ncuts: {h: {circle: {diameter: 3}}, s: {ball: {diameter: 6, at: [3.156, 0], z: 8}}}\n")
	h := the(t, p.Holes, "h")
	near(t, "width", h.Width, 3)
	near(t, "plan", p.PlanArea, math.Pi*(225-2.25))
	if h.Keyed {
		t.Error("a round hole is not keyed")
	}
}

// TestMeanOfRoundWalls: the mean thickness between a bore and a round wall is that of the arc, not of its slices.
func TestMeanOfRoundWalls(t *testing.T) {
	disc := "bodies: {b: {circle: {diameter: 40}, from: 0, to: 10}}\ncuts: {bore: {circle: {diameter: 10}}, g: {"
	segment := 2.5*2.5*math.Asin(0.6) - 2*1.5 // of a circle of radius 2.5 on a chord of 3: a round groove 3 wide and 0.5 deep
	for cut, want := range map[string]float64{
		"turned: {section: [[10, 10], {arc: [11, 9], radius: 1, turn: ccw}, {arc: [12, 10], radius: 1, turn: ccw}]}": 1 / (6 - math.Pi/4),
		"ball: {diameter: 6, at: [11, 0], z: 10}":                                               3 / (6 - 3*math.Pi/4),
		"rectangle: {length: 60, width: 3, at: [0, 11]}, open: top, depth: 0.5, section: round": 0.5 / (6 - segment),
	} {
		w := the(t, made(t, disc+cut+"}}\n").Walls, "bore to g")
		if math.Abs(w.Ratio-want) > 1e-6*want {
			t.Errorf("%s: ratio %.9g, want %.9g", cut, w.Ratio, want)
		}
	}
}

// TestFeathersOnSlopes: where a groove's slope crosses a wall that is not square to it, its sections have tips that no tool
// member has; a leaning edge has one, and edges alike stand alike.
func TestFeathersOnSlopes(t *testing.T) {
	for _, section := range []string{"v", "round"} {
		for _, at := range []string{"[0, 0]", "[0, 15]"} {
			p := made(t,
				"bodies: {t: {gear: {module: 1.5, teeth: 24}, from: 0, to: 10}}\ncuts: {g: {rectangle: {length: 60, width: 3, at: "+at+
					"}, open: top, depth: 1.5, section: "+section+"}}\n")
			if len(p.Feathers) != 0 {
				t.Errorf("%s groove at %s: %v", section, at, show(p.Feathers))
			}
		}
	}
	for _, way := range []string{"up", "down"} {
		p := made(t,
			"bodies: {b: {polygon: {points: [[0, 0], [40, -10], [40, 10]]}, from: 0, to: 8, draft: {angle: 3, narrows: "+way+"}}}\n")
		tip, side := the(t, p.Feathers, "b 1"), the(t, p.Feathers, "b 2")
		near(t, "tip", tip.Angle, 2*math.Atan(0.25)*180/math.Pi)
		near(t, "height", tip.ZHigh-tip.ZLow, 8)
		near(t, "side", side.Angle, 90-math.Atan(0.25)*180/math.Pi)
		if len(p.Feathers) != 2 || len(side.Places) != 2 || math.Abs(side.Places[0].Y+side.Places[1].Y) > 1e-9 ||
			math.Abs(side.Places[0].X-side.Places[1].X) > 1e-9 || math.Abs(tip.Y) > 1e-9 {
			t.Errorf("%s: %+v %+v", way, tip, side)
		}
	}
}

// TestDraftOfATurnedStep is that of the wall between its two levels, on the side that it faces.
func TestDraftOfATurnedStep(t *testing.T) {
	cone := math.Atan(3.0/9) * 180 / math.Pi
	for section, want := range map[string]float64{
		"[5, 0], [25, 0], [25, 5], [15, 5], [12, 14], [5, 14]":           cone,
		"[5, 0], [25, 0], [25, 5], [15, 5], [12, 14], [12, 16], [5, 16]": 0,
		"[5, 0], [25, 0], [25, 14], [18, 14], [15, 5], [5, 5]":           cone,
		"[5, 0], [25, 0], [25, 14], [15, 14], [15, 5], [5, 5]":           0,
		"[4, 0], [25, 0], [25, 5], [15, 5], [12, 14], [5, 14]":           cone,
	} {
		p := made(t, "bodies: {b: {turned: {section: ["+section+"]}}}\n")
		if len(p.Steps) != 1 {
			t.Errorf("%s: steps %v", section, show(p.Steps))
			continue
		}
		near(t, section, p.Steps[0].Draft, want)
	}
}

// TestLandsThatAreLeft: the land beside a cone is the upright wall that other features leave, and counts where it is bare.
func TestLandsThatAreLeft(t *testing.T) {
	disc := "bodies: {b: {circle: {diameter: 40}, from: 0, to: 24}}\ncuts: {bore: {circle: {diameter: 12}}, "
	for cuts, want := range map[string]float64{
		"ring: {turned: {section: [[6, 8], [9, 10], [9, 14], [6, 16]]}}":                                                4,
		"ring: {turned: {section: [[6, 8], [9, 10], [9, 14], [6, 16]]}}, x: {circle: {diameter: 20}, from: 12, to: 24}": 2,
		"ring: {turned: {section: [[6, 8], [9, 10], [6, 12]]}}":                                                         0,
	} {
		for _, x := range made(t, disc+cuts+"}\n").Tapers {
			if math.Abs(x.Land.Value-want) > 1e-9 || x.Land.Known != (want > 0) {
				t.Errorf("%s: %s z %g to %g: land %v", cuts, x.Name, x.ZLow, x.ZHigh, x.Land)
			}
		}
	}
}

// TestDepthOfASunkenKey: a keyed bore goes on, either way up, to where the sink has swallowed the last of its key, and no
// further.
func TestDepthOfASunkenKey(t *testing.T) {
	last := math.Hypot(0.7, 4.2) + 0.3 // how far the key's rounded corners reach
	for _, text := range []string{
		"a: {circle: {diameter: 41.5}, from: 0, to: 12}}\ncuts: {sink: {turned: {section: [[0, 10], [3.5, 10], [5.5, 12], [0, 12]]}}",
		"a: {circle: {diameter: 41.5}, from: 0, to: 12}}\ncuts: {sink: {turned: {section: [[0, 2], [3.5, 2], [5.5, 0], [0, 0]]}}",
		"a: {circle: {diameter: 41.5}, from: 6, to: 12, draft: {angle: 8, narrows: up}}, b: {circle: {diameter: 19.25}, from: 0, to: 6, draft: {angle: 8, narrows: up}}}\ncuts: {sink: {turned: {section: [[0, 2], [3.5, 2], [5.5, 0], [0, 0]]}}",
	} {
		p := made(t,
			"bodies: {"+text+", bore: {circle: {diameter: 7}}, key: {rectangle: {length: 2, width: 2, at: [0, 3.5], corner: 0.3}}}\n")
		h := the(t, p.Holes, "bore and key")
		if math.Abs(h.Depth-10-(last-3.5)) > 2e-7 {
			t.Errorf("%s: depth %.9g, want %.9g", text, h.Depth, 10+last-3.5)
		}
	}
}

// TestShortSlopesDoNotShow: figures are those of the slopes' ends.
func TestShortSlopesDoNotShow(t *testing.T) {
	p := made(t, "bodies: {b: {rectangle: {length: 60, width: 30}, from: 0, to: 20}}\ncuts: {h: {ball: {diameter: 16, z: 20}}}\n")
	for _, c := range p.Columns {
		if c.Area > 1000 {
			near(t, "perimeter", c.Perimeter, 180)
		}
	}
	q := made(t,
		"bodies: {b: {turned: {section: [[5, 0], [25, 0], [25, 5], [15, 5], [12, 14], [5, 14]]}}}\ncuts: {g: {turned: {section: [[18, 4], [20, 4], [21, 5], [17, 5]]}}}\n")
	for _, c := range q.Columns {
		if c.Height < 14 && c.Perimeter > 0 && c.Perimeter < 1 {
			t.Errorf("%s: perimeter %g", c.Name, c.Perimeter)
		}
	}
	near(t, "ridge",
		the(t,
			made(t, "bodies: {b: {circle: {diameter: 40}, from: 0, to: 1}, r: {turned: {section: [[10, 1], [12, 1], [11, 10]]}}}\n").Levels,
			"r top").Height, 1)
}

// TestMeetsCloseTogether: heights a few micrometres apart at which a ball meets the same hole make no slice of their own,
// whose section would run along the wall of the hole.
func TestMeetsCloseTogether(t *testing.T) {
	for _, way := range []string{"from: 0, to: 5}, hub: {circle: {diameter: 20.5, at: [1.5, 0]}, from: 5, to: 10",
		"from: 5, to: 10}, hub: {circle: {diameter: 20.5, at: [1.5, 0]}, from: 0, to: 5"} {
		p := made(t, "bodies: {base: {hexagon: {across_flats: 33.75}, "+way+
			"}}\ncuts: {holes: {circle: {diameter: 3, at: [0, 11.25]}, repeat: {count: 3, over: 360}}, ball: {ball: {diameter: 6, at: [10, -5], z: 5}}}\n")
		for _, h := range p.Holes {
			if h.Through && (h.Keyed || math.Abs(h.Width-3) > 1e-9) {
				t.Errorf("%s: %g wide, keyed %v", h.Name, h.Width, h.Keyed)
			}
		}
	}
}

// TestContactAlongSlope: the wall that a column shares with one under a slope is the mean along their edge. A
// plate with balls in both faces shares the same whether its file has it as one body or as two.
func TestContactAlongSlope(t *testing.T) {
	cuts := "cuts: {c: {ball: {diameter: 12, at: [12, -1]}}, d: {ball: {diameter: 7.4, at: [-12, -13], z: 9}, repeat: {count: 3}}}\n"
	plate := "rectangle: {length: 36, width: 30, corner: 4}, from: "
	whole := made(t, "bodies: {a: {"+plate+"0, to: 6}}\n"+cuts)
	parted := made(t, "bodies: {a: {"+plate+"0, to: 0.627}, b: {"+plate+"0.627, to: 6}}\n"+cuts)
	contact := func(p *subject.Part) (sum float64) {
		for _, c := range p.Columns {
			sum += c.Perimeter * c.Height * float64(subject.CountOf(c))
		}
		return sum
	}
	if a, b := contact(whole), contact(parted); math.Abs(a-b) > 1e-6*a {
		t.Errorf("contact %.12g, with the plate in two %.12g", a, b)
	}
}
