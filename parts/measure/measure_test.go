package measure

import (
	"fmt"
	"math"
	"testing"

	"corerod/parts/form"
	"corerod/parts/plane"
	"corerod/parts/subject"
)

// made reads and computes a part written in a test, without its name and units.
func made(t testing.TB, text string) *subject.Part {
	t.Helper()
	return madeIn(t, "mm", text)
}

func madeIn(t testing.TB, units, text string) *subject.Part {
	t.Helper()
	return measuredIn(t, units, text).Subject
}

// measured is made with all that is found.
func measured(t testing.TB, text string) *Measured {
	t.Helper()
	return measuredIn(t, "mm", text)
}

func measuredIn(t testing.TB, units, text string) *Measured {
	t.Helper()
	p, ps := form.Parse("test.yaml", []byte("part: test\nunits: "+units+"\n"+text))
	if len(ps) > 0 {
		t.Fatalf("%v\n%s", ps, text)
	}
	m, ps := Part(p)
	if len(ps) > 0 {
		t.Fatalf("%v\n%s", ps, text)
	}
	return m
}

func near(t testing.TB, what string, got, want float64) {
	t.Helper()
	if math.IsNaN(got) || math.Abs(got-want) > 1e-9*math.Max(1, math.Abs(want)) {
		t.Errorf("%s = %.15g, want %.15g (off by %.3g)", what, got, want, got-want)
	}
}

const crankHub = `
bodies:
  flange: {circle: {diameter: 48}, from: 0, to: 6}
  hub:    {circle: {diameter: 30}, from: 0, to: 22}
cuts:
  bore:    {circle: {diameter: 16}}
  keyway:  {rectangle: {length: 5, width: 3.3, at: [0, 8.6], corner: 0.2}}
  bolts:   {circle: {diameter: 4.2, at: [19.5, 0]}, repeat: {count: 4}}
blends:
  key-mouth: {of: [bore, keyway], radius: 0.3}
`

// the returns the only subject with a name.
func the[S subject.Subject](t testing.TB, all []S, name string) S {
	t.Helper()
	var names []string
	for _, x := range all {
		if x.Place().Name == name {
			return x
		}
		names = append(names, x.Place().Name)
	}
	t.Fatalf("there is no %s, only %q", name, names)
	var none S
	return none
}

// keyMouth is what a radius of 0.3 takes from the corner of a bore of 16 and a keyway of 5: the corner, the centre of the radius and the
// ends of its arc make a figure of four sides, less the sector of the radius and the segment of the bore.
func keyMouth() float64 {
	const r, key, bore = 0.3, 2.5, 8.0
	y := math.Sqrt((bore+r)*(bore+r) - (key+r)*(key+r)) // of the centre, and of the end at the keyway's side
	corner := math.Sqrt(bore*bore - key*key)
	x, end := bore/(bore+r)*(key+r), bore/(bore+r)*y                       // of the end at the bore
	four := math.Abs(r*(end-corner)-(y-corner)*(x-key))/2 + (y-corner)*r/2 // two triangles at the corner
	turn := math.Acos((key + r) / (bore + r))
	open := math.Asin((key+r)/(bore+r)) - math.Asin(key/bore)
	return four - r*r*turn/2 - bore*bore/2*(open-math.Sin(open))
}

func TestCrankHub(t *testing.T) {
	p := made(t, crankHub)
	// The keyway's rounded corners lie at (2.3, 10.05), radius 0.2; the hub's radius is 15.
	near(t, "keyway corner to hub", the(t, p.Walls, "hub to keyway").Thickness, 15-math.Hypot(2.3, 10.05)-0.2)
	near(t, "ring", the(t, p.Walls, "bore to hub").Thickness, 7)
	near(t, "its height", the(t, p.Walls, "bore to hub").Height, 16)
	near(t, "bolt hole to rim", the(t, p.Walls, "bolts to flange").Thickness, 24-19.5-2.1)
	if n := len(the(t, p.Walls, "bolts to flange").Places); n != 4 {
		t.Errorf("the bolt holes' wall stands at %d places, want 4", n)
	}
	// Bore and keyway: the circle of 16 and, beyond it, the keyway up to y 10.25 with two rounded corners.
	segment := 64*math.Asin(2.5/8) + 2.5*math.Sqrt(64-2.5*2.5) // of the circle under |x| < 2.5, above y 0
	keyway := 5*10.25 - segment - 2*(0.04-math.Pi*0.01)
	bolts := 4 * math.Pi * 2.1 * 2.1
	hub := math.Pi*225 - math.Pi*64 - keyway
	near(t, "volume", p.Volume, hub*22+(math.Pi*(24*24-225)-bolts)*6-2*22*keyMouth())
	near(t, "plan area", p.PlanArea, math.Pi*24*24-math.Pi*64-keyway-bolts-2*keyMouth())
	bore := the(t, p.Holes, "bore and keyway")
	near(t, "bore", bore.Bore.Value, 16)
	near(t, "bore width", bore.Width, 16)
	near(t, "bore depth", bore.Depth, 22)
	if !bore.Keyed || !bore.Through || bore.Open != "both" {
		t.Errorf("the bore is %+v", bore)
	}
	near(t, "bolt depth", the(t, p.Holes, "bolts").Depth, 6)
	near(t, "bolt edge", the(t, p.Holes, "bolts").Edge, 2.4)
	key := the(t, p.Gaps, "keyway")
	near(t, "keyway's gap", key.Width, 5)
	if key.Member != "core-rod" {
		t.Errorf("the keyway is formed by the %s", key.Member)
	}
	near(t, "blended joint", the(t, p.Corners, "bore and keyway").Radius, 0.3)
	c := the(t, p.Corners, "keyway")
	near(t, "keyway corner", c.Radius, 0.2)
	near(t, "keyway corner, angle", c.Angle, 270)
	if !c.Inside || !c.InKey || c.Joint {
		t.Errorf("the keyway's corner is %+v", c)
	}
	st := the(t, p.Steps, "flange to hub top")
	near(t, "rise", st.Rise, 16)
	near(t, "share", st.Share, 16.0/22)
	near(t, "ledge, bolt holes ignored", st.Ledge, 9)
	col := the(t, p.Columns, "flange")
	near(t, "flange column", col.Area, math.Pi*(24*24-225)-bolts)
	near(t, "its perimeter: rim and bolt holes, none against the hub", col.Perimeter, math.Pi*48+4*math.Pi*4.2)
	near(t, "its slenderness", col.Slenderness, 6.0/48)
}

func TestClosedForms(t *testing.T) {
	t.Run("eccentric ring", func(t *testing.T) {
		p := made(t, "bodies: {ring: {circle: {diameter: 40}, from: 0, to: 8}}\ncuts: {eye: {circle: {diameter: 30, at: [2, 0]}}}")
		w := the(t, p.Walls, "eye to ring")
		near(t, "wall", w.Thickness, 3)
		near(t, "ratio", w.Ratio, 8.0/3)
		near(t, "x of the chord's middle", w.X, 18.5)
		near(t, "volume", p.Volume, math.Pi*(400-225)*8)
		near(t, "surface", p.Surface, 2*math.Pi*(400-225)+8*math.Pi*70)
		near(t, "edge", p.Holes[0].Edge, 3)
		if w.Web || w.PlainBush || len(p.Walls) != 1 {
			t.Errorf("walls: %+v", p.Walls)
		}
	})
	t.Run("plate with two bores", func(t *testing.T) {
		p := made(t, `
bodies: {plate: {rectangle: {length: 40, width: 24, corner: 4}, from: 0, to: 5}}
cuts:
  left:  {circle: {diameter: 6, at: [-3.65, 0]}}
  right: {circle: {diameter: 6, at: [3.65, 0]}}`)
		w := the(t, p.Walls, "left to right")
		near(t, "web", w.Thickness, 1.3)
		if !w.Web || w.Length != 0 {
			t.Errorf("the web is %+v", w)
		}
		near(t, "area", p.PlanArea, 40*24-(4-math.Pi)*16-2*math.Pi*9)
		near(t, "outside: over opposite corners", p.Outside, 2*(math.Hypot(16, 8)+4))
		near(t, "width", p.Width, 24)
		near(t, "length", p.Length, 40)
		if len(p.Corners) != 0 {
			t.Errorf("a radius of 4 is a contour, no corner: %+v", p.Corners[0])
		}
	})
	t.Run("slot turned by 30 degrees", func(t *testing.T) {
		p := made(t,
			"bodies: {plate: {circle: {diameter: 60}, from: 0, to: 5}}\ncuts: {slot: {slot: {length: 20, width: 6, turn: 30, at: [3, 4]}}}")
		h := the(t, p.Holes, "slot")
		near(t, "width", h.Width, 6)
		near(t, "area", p.PlanArea, math.Pi*900-14*6-math.Pi*9)
		g := the(t, p.Gaps, "slot")
		near(t, "gap", g.Width, 6)
		near(t, "gap depth", g.Depth, 5)
		// The far end of the slot: its end centre lies 7 mm from (3, 4) at 30 degrees.
		c, s := math.Cos(math.Pi/6), math.Sin(math.Pi/6)
		near(t, "edge", h.Edge, 30-math.Hypot(3+7*c, 4+7*s)-3)
		if h.Bore.Known || h.Keyed {
			t.Errorf("a slot is no bore: %+v", h)
		}
	})
	t.Run("sharp keyway corner to outside", func(t *testing.T) {
		p := made(t,
			"bodies: {hub: {circle: {diameter: 30}, from: 0, to: 9}}\ncuts: {bore: {circle: {diameter: 15}}, key: {rectangle: {length: 5, width: 5, at: [0, 7.5]}}}")
		near(t, "wall", the(t, p.Walls, "hub to key").Thickness, 15-math.Hypot(2.5, 10))
		near(t, "corner", the(t, p.Corners, "key").Angle, 270)
		near(t, "edge", p.Holes[0].Edge, 15-math.Hypot(2.5, 10))
	})
	t.Run("hexagon", func(t *testing.T) {
		p := made(t, "bodies: {nut: {hexagon: {across_flats: 17}, from: 0, to: 8}}\ncuts: {bore: {circle: {diameter: 8}}}")
		near(t, "area", p.PlanArea, 17*17*math.Sqrt(3)/2-16*math.Pi)
		near(t, "width", p.Width, 17)
		near(t, "outside", p.Outside, 34/math.Sqrt(3))
		w := the(t, p.Walls, "bore to nut")
		near(t, "wall under a flat", w.Thickness, 8.5-4)
		if len(w.Places) != 6 {
			t.Errorf("%d walls alike, want 6", len(w.Places))
		}
		near(t, "corner", the(t, p.Corners, "nut").Angle, 120)
	})
	t.Run("flats", func(t *testing.T) {
		p := made(t,
			"bodies: {pin: {flatted: {diameter: 20, flats: [7, 7]}, from: 0, to: 8}}\ncuts: {d: {flatted: {diameter: 10, flats: [4], turn: 90}}}")
		seg := func(r, h float64) float64 { return r*r*math.Acos(h/r) - h*math.Sqrt(r*r-h*h) }
		near(t, "area", p.PlanArea, 100*math.Pi-2*seg(10, 7)-(25*math.Pi-seg(5, 4)))
		near(t, "width", p.Width, 14)
		d := the(t, p.Holes, "d")
		near(t, "bore", d.Bore.Value, 10)
		near(t, "largest circle", d.Width, 9)
		near(t, "wall at the flats", the(t, p.Walls, "d to pin 1").Thickness, 2)
		if !d.Keyed || !the(t, p.Corners, "d").InKey {
			t.Error("a bore with a flat is keyed, and its corners are in the key")
		}
	})
	t.Run("overlapping bodies", func(t *testing.T) {
		p := made(t, "bodies: {a: {circle: {diameter: 10}, from: 0, to: 5}, b: {circle: {diameter: 6, at: [4, 0]}, from: 2, to: 7}}")
		lens := func(r, s, d float64) float64 {
			a, b := math.Acos((d*d+r*r-s*s)/(2*d*r)), math.Acos((d*d+s*s-r*r)/(2*d*s))
			return r*r*(a-math.Sin(2*a)/2) + s*s*(b-math.Sin(2*b)/2)
		}
		near(t, "volume", p.Volume, 25*math.Pi*5+9*math.Pi*5-lens(5, 3, 4)*3)
		near(t, "plan area", p.PlanArea, 34*math.Pi-lens(5, 3, 4))
		near(t, "length", p.Length, 12)
		near(t, "width", p.Width, 10)
	})
	t.Run("identical circles at different heights", func(t *testing.T) {
		p := made(t,
			"bodies: {a: {circle: {diameter: 20}, from: 0, to: 5}, b: {circle: {diameter: 20}, from: 5, to: 9}, c: {circle: {diameter: 20}, from: 8, to: 12}}\ncuts: {d: {circle: {diameter: 8}, from: 3, to: 12}, e: {circle: {diameter: 8}, from: -1, to: 5}}")
		near(t, "volume", p.Volume, math.Pi*(100-16)*12)
		near(t, "height", p.Height, 12)
		if len(p.Columns) != 1 || len(p.Levels) != 2 || len(p.Steps) != 0 || len(p.Holes) != 1 {
			t.Errorf("%d columns, %d levels, %d steps, %d holes", len(p.Columns), len(p.Levels), len(p.Steps), len(p.Holes))
		}
		near(t, "hole depth", p.Holes[0].Depth, 12)
	})
	t.Run("tangent circles", func(t *testing.T) {
		inside := made(t, "bodies: {a: {circle: {diameter: 40}, from: 0, to: 5}, b: {circle: {diameter: 10, at: [15, 0]}, from: 0, to: 9}}")
		near(t, "inside: volume", inside.Volume, 400*math.Pi*5+25*math.Pi*4)
		near(t, "inside: outside circle", inside.Outside, 40)
		outside := made(t, `
bodies:
  a:   {circle: {diameter: 10, at: [-5, 0]}, from: 0, to: 5}
  b:   {circle: {diameter: 10, at: [5, 0]}, from: 0, to: 5}
  bar: {rectangle: {length: 10, width: 4}, from: 0, to: 2}`)
		seg := 2 * (25*math.Asin(0.4) + 2*math.Sqrt(21)) / 2 // of one circle within |y| < 2, one side of its centre
		near(t, "outside: volume", outside.Volume, 2*25*math.Pi*5+(40-2*seg)*2)
		near(t, "outside: length", outside.Length, 20)
	})
}

// TestShiftedAndTurned: the same part elsewhere and turned has the same measures.
func TestShiftedAndTurned(t *testing.T) {
	text := func(x, y, turn float64) string {
		p := plane.Turned(plane.Point{X: 7, Y: 3}, plane.Point{}, turn)
		return fmt.Sprintf(`
bodies: {plate: {rectangle: {length: 40, width: 24, corner: 4, at: [%[1]v, %[2]v], turn: %[3]v}, from: 0, to: 5}}
cuts:
  slot: {slot: {length: 12, width: 5, at: [%[4]v, %[5]v], turn: %[3]v}}
  hex:  {hexagon: {across_flats: 7, at: [%[6]v, %[7]v], turn: %[3]v}}`, x, y, turn, x+p.X, y+p.Y, x-p.X, y-p.Y)
	}
	at := made(t, text(0, 0, 0))
	for _, m := range [][3]float64{{100, -80, 0}, {0, 0, 90}, {0, 0, 37}, {-211, 5.5, 211.7}} {
		there := made(t, text(m[0], m[1], m[2]))
		near(t, "volume", there.Volume, at.Volume)
		near(t, "width", there.Width, at.Width)
		near(t, "outside", there.Outside, at.Outside)
		if len(there.Walls) != len(at.Walls) {
			t.Fatalf("%d walls, want %d", len(there.Walls), len(at.Walls))
		}
		sum := func(p *subject.Part) (s float64) {
			for _, w := range p.Walls {
				s += (w.Thickness + w.Length) * float64(max(1, len(w.Places)))
			}
			return s
		}
		near(t, "walls", sum(there), sum(at))
	}
}

func TestTraps(t *testing.T) {
	stacked := "bodies:\n  foot: {circle: {diameter: 40}, from: 0, to: 6}\n  neck: {circle: {diameter: 24}, from: 6, to: 14}\n  head: {circle: {diameter: %d}, from: 14, to: 20}\n"
	p := made(t, fmt.Sprintf(stacked, 34))
	if len(p.Traps) != 1 {
		t.Fatalf("%d traps, want one", len(p.Traps))
	}
	tr := p.Traps[0]
	near(t, "area", tr.Area, math.Pi*(17*17-144))
	near(t, "height", tr.Height, 8)
	near(t, "z low", tr.ZLow, 6)
	near(t, "z high", tr.ZHigh, 14)
	if tr.Opens != "top" || tr.Name != "foot, head and neck" {
		t.Errorf("the trap is %+v", tr)
	}
	if open := made(t, fmt.Sprintf(stacked, 24)); len(open.Traps) != 0 {
		t.Errorf("opened to the top it is no trap: %+v", open.Traps[0])
	}
	// The faces that shut it are no levels; the head's top and the foot's rim are.
	if p.LevelsTop != 2 || p.LevelsBottom != 1 {
		t.Errorf("%v levels on top, %v below", p.LevelsTop, p.LevelsBottom)
	}
	cut := made(t,
		"bodies: {rod: {circle: {diameter: 30}, from: 0, to: 20}}\ncuts: {bore: {circle: {diameter: 10}}, recess: {circle: {diameter: 16}, from: 4, to: 7}}")
	tr = the(t, cut.Traps, "recess")
	near(t, "recess", tr.Area, math.Pi*(64-25))
	if tr.Opens != "bottom" {
		t.Errorf("a recess 4 from the bottom and 13 from the top opens to the %s", tr.Opens)
	}
	near(t, "bore depth over a recess", the(t, cut.Holes, "bore").Depth, 20)
}

func TestHolesAndLevels(t *testing.T) {
	p := made(t, `
bodies:
  block: {rectangle: {length: 40, width: 30}, from: 0, to: 20}
cuts:
  bore:    {circle: {diameter: 10}}
  counter: {circle: {diameter: 16}, open: top, depth: 8}
  pit:     {circle: {diameter: 5, at: [14, 0]}, open: bottom, depth: 3}
  slit:    {rectangle: {length: 60, width: 2, at: [0, 12]}, open: top, depth: 2}
  ring:    {circle: {diameter: 3, at: [-14, 8]}, from: 15, to: 25}
`)
	bore := the(t, p.Holes, "bore")
	near(t, "bore depth, without its counterbore", bore.Depth, 12)
	pit := the(t, p.Holes, "pit")
	near(t, "pit depth", pit.Depth, 3)
	near(t, "pit floor", pit.Floor.Value, 17)
	if pit.Through || pit.Open != "bottom" {
		t.Errorf("the pit is %+v", pit)
	}
	near(t, "a blind hole by from and to", the(t, p.Holes, "ring").Depth, 5)
	// The counterbore's floor is a level; the pits' floors and the slit's are none.
	if p.LevelsTop != 2 || p.LevelsBottom != 1 {
		t.Errorf("%v levels on top, %v below, want 2 and 1", p.LevelsTop, p.LevelsBottom)
	}
	near(t, "counterbore ledge", the(t, p.Steps, "block to counter top").Ledge, 3)
	boss := made(t, "bodies: {disc: {circle: {diameter: 40}, from: 0, to: 15}, stud: {circle: {diameter: 6}, from: 15, to: 20}}")
	if boss.LevelsTop != 1 || len(boss.Steps) != 0 {
		t.Errorf("a boss makes no level: %v, %d steps", boss.LevelsTop, len(boss.Steps))
	}
	wheel := made(t,
		"bodies: {rim: {circle: {diameter: 60}, from: 0, to: 12}}\ncuts: {web: {circle: {diameter: 50}, open: top, depth: 3}, bore: {circle: {diameter: 10}}}")
	if wheel.LevelsTop != 2 {
		t.Errorf("a wheel's web is a level: %v", wheel.LevelsTop)
	}
	groove := made(t,
		"bodies: {plate: {rectangle: {length: 60, width: 40}, from: 0, to: 12}}\ncuts: {groove: {slot: {length: 20, width: 3}, open: top, depth: 2}}")
	if groove.LevelsTop != 1 || len(groove.Holes) != 0 {
		t.Errorf("a groove in a face is neither level nor hole: %v, %d holes", groove.LevelsTop, len(groove.Holes))
	}
}

// TestRecesses: blind holes in the floor of a recess are theirs and no levels, whatever else the recess holds; what
// opens at both ends is judged at each.
func TestRecesses(t *testing.T) {
	web := made(t, `
bodies: {disc: {circle: {diameter: 80}, from: 0, to: 20}}
cuts:
  recess: {circle: {diameter: 64}, open: top, depth: 6}
  bore:   {circle: {diameter: 16}}
  dimple: {circle: {diameter: 8, at: [22, 0]}, from: 12, to: 14, repeat: {count: 4}}`)
	d := the(t, web.Holes, "dimple")
	near(t, "dimple's floor", d.Floor.Value, 12)
	near(t, "dimple's depth", d.Depth, 2)
	if web.LevelsTop != 2 || len(d.Places) != 4 {
		t.Errorf("%v levels on top, %d dimples", web.LevelsTop, len(d.Places))
	}
	near(t, "ledge, dimples ignored", web.Steps[0].Ledge, 24)
	slot := made(t,
		"bodies: {body: {circle: {diameter: 40}, from: 0, to: 20}}\ncuts: {slot: {slot: {length: 12, width: 3}}, cb: {circle: {diameter: 20}, open: bottom, depth: 5}}")
	top := the(t, slot.Levels, "body top")
	near(t, "level over a counterbore from below", top.Area, 400*math.Pi-(9*3+2.25*math.Pi))
	near(t, "its least column", top.Height, 15)
	pins := made(t,
		"bodies: {body: {circle: {diameter: 60}, from: 0, to: 20}}\ncuts: {recess: {circle: {diameter: 40}, open: top, depth: 4}, pin: {circle: {diameter: 5, at: [10, 0]}, from: 8, to: 16, repeat: {count: 2}}}")
	p := the(t, pins.Holes, "pin")
	near(t, "pin", p.Bore.Value, 5)
	if p.Keyed || len(p.Places) != 2 || pins.LevelsTop != 1 {
		t.Errorf("%+v, %v levels", p, pins.LevelsTop)
	}
	wheel := made(t,
		"bodies: {rim: {circle: {diameter: 80}, from: 0, to: 20}, hub: {rectangle: {length: 90, width: 10}, from: 0, to: 20}}\ncuts: {bore: {circle: {diameter: 12}}}")
	if wheel.LevelsTop != 1 {
		t.Errorf("%v levels on a plain wheel", wheel.LevelsTop)
	}
	flange := made(t,
		"bodies: {flange: {circle: {diameter: 60}, from: 0, to: 8}, hub: {circle: {diameter: 30}, from: 0, to: 20}}\ncuts: {pit: {circle: {diameter: 7, at: [19, 0]}, from: 4, to: 8}}")
	near(t, "flange's ledge, the blind hole ignored", the(t, flange.Steps, "flange to hub top").Ledge, 15)
	eye := made(t,
		"bodies: {body: {circle: {diameter: 60}, from: 0, to: 8}}\ncuts: {a: {circle: {diameter: 6, at: [-7.5, 0]}}, b: {circle: {diameter: 12}}}")
	near(t, "the larger of two circles", eye.Holes[0].Bore.Value, 12)
	groove := made(t,
		"bodies: {body: {circle: {diameter: 40}, from: 0, to: 20}}\ncuts: {g: {rectangle: {length: 50, width: 0.3}, open: top, depth: 3}}")
	if g := the(t, groove.Gaps, "g"); g.Member != "punch" || math.Abs(g.Width-0.3) > 1e-9 {
		t.Errorf("an open groove's gap: %+v", g)
	}
	thin := made(t, "bodies: {body: {circle: {diameter: 40}, from: 0, to: 20}}\ncuts: {eye: {circle: {diameter: 8, at: [15.996, 0]}}}")
	near(t, "a web of 4 micrometres", the(t, thin.Walls, "body to eye").Thickness, 0.004)
}
