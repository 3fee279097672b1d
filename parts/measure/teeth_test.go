package measure

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"corerod/parts/form"
	"corerod/parts/plane"
)

const feedGear = `
bodies:
  rim: {gear: {module: 1.5, teeth: 32, tip_radius: 0.2, root_radius: 0.5}, from: 0, to: 8}
  hub: {circle: {diameter: 30}, from: 0, to: 14}
cuts:
  bore: {circle: {diameter: 14}}
`

// TestGearWithHub: root diameter 1.5 x (32 - 2.5) = 44.25; between roots and hub 7.125 in plan, to the bore 15.125.
func TestGearWithHub(t *testing.T) {
	p := made(t, feedGear)
	g := the(t, p.Teeth, "rim")
	near(t, "module", g.Module.Value, 1.5)
	near(t, "count", g.Count, 32)
	near(t, "helix", g.Helix, 0)
	near(t, "tip radius", g.TipRadius, 0.2)
	near(t, "root radius", g.RootRadius, 0.5)
	near(t, "root wall, to the hub", g.RootWall.Value, 44.25/2-15)
	near(t, "lower end", g.ZLow, 0)
	near(t, "upper end", g.ZHigh, 8)
	if g.Internal || len(p.Teeth) != 1 {
		t.Errorf("%d teeth, %+v", len(p.Teeth), g)
	}
	// At the tip circle, r 25.5: half of the tooth's angle is pi/64 + inv(20 deg) - inv(acos(24 cos(20 deg)/25.5)).
	inv := func(a float64) float64 { return math.Tan(a) - a }
	a := 20 * math.Pi / 180
	half := math.Pi/64 + inv(a) - inv(math.Acos(24*math.Cos(a)/25.5))
	near(t, "tip thickness", g.TipThickness, 2*25.5*math.Sin(half))
	// The root rounding's centre lies 22.125 + 0.5 from the middle, so that it touches the involute where its normal is
	// sqrt(22.625^2 - base^2) - 0.5 long.
	base := 24 * math.Cos(a)
	normal := math.Sqrt(22.625*22.625-base*base) - 0.5
	foot := math.Hypot(base, normal)
	near(t, "space width", g.SpaceWidth, 2*foot*math.Sin(math.Pi/32-(math.Pi/64+inv(a)-inv(math.Acos(base/foot)))))
	for _, w := range p.Walls {
		if w.Name != "bore to hub" {
			t.Errorf("a wall %s of %g", w.Name, w.Thickness)
		}
	}
	if len(p.Gaps) != 0 || len(p.Corners) != 0 {
		t.Errorf("gaps %v, corners %v", p.Gaps, p.Corners)
	}
	near(t, "ledge", the(t, p.Steps, "hub to rim top").Ledge, 44.25/2-15)

	without := made(t, strings.Replace(feedGear, "diameter: 30", "diameter: 20", 1))
	near(t, "root wall, smaller hub", the(t, without.Teeth, "rim").RootWall.Value, 44.25/2-10)
	bare := made(t, "bodies: {rim: {gear: {module: 1.5, teeth: 32}, from: 0, to: 8}}\ncuts: {bore: {circle: {diameter: 14, at: [1, 0]}}}")
	if w := the(t, bare.Teeth, "rim").RootWall.Value; w < 44.25/2-8 || w > 44.25/2-7.9 {
		t.Errorf("root wall to an eccentric bore is %g", w)
	}
	if len(bare.Walls) != 0 {
		t.Errorf("walls: %+v", bare.Walls[0])
	}
	if solid := made(t, "bodies: {rim: {gear: {module: 1.5, teeth: 32}, from: 0, to: 8}}"); solid.Teeth[0].RootWall.Known {
		t.Errorf("a root wall of %g in a solid gear", solid.Teeth[0].RootWall.Value)
	}
	wide := made(t, strings.Replace(feedGear, "diameter: 30", "diameter: 46", 1))
	if w := the(t, wide.Teeth, "rim").RootWall; !w.Known || w.Value != 0 {
		t.Errorf("a hub between root and tip: %+v", w)
	}
	over := made(t, "bodies: {rim: {gear: {module: 1.5, teeth: 32}, from: 0, to: 8}, over: {circle: {diameter: 60}, from: 2, to: 8}}")
	if g := the(t, over.Teeth, "rim"); g.ZHigh != 2 {
		t.Errorf("teeth that are covered from 2 mm on reach up to %g", g.ZHigh)
	}
}

// TestSplinedBore: the hole keeps its inscribed circle, is keyed, and the wall behind its roots is the teeth's.
func TestSplinedBore(t *testing.T) {
	const hub = "bodies: {hub: {circle: {diameter: 40}, from: 0, to: 12}}\ncuts: {drive: {%s}}"
	for _, c := range []struct {
		name, profile                    string
		width, wall, tip, space, rounded float64
		count                            float64
	}{
		// The minor circle's arcs take more than half of it: it stays a bore.
		{"spline", "spline: {major: 26, minor: 21, teeth: 6, tooth_width: 4, corner: 0.3}", 21, 7, 21 * math.Sin(math.Pi/6-math.Asin(4.0/21)), 4, 0.3, 6},
		{"narrow lands", "spline: {major: 26, minor: 21, teeth: 6, tooth_width: 8}", 21, 7, 21 * math.Sin(math.Pi/6-math.Asin(8.0/21)), 8, 0, 6},
		{"serration", "serration: {major: 20, minor: 18.2, teeth: 36, angle: 60}", 18.2, 10, 0, 0, 0, 36},
		{"gear", "gear: {module: 0.8, teeth: 25, pressure_angle: 30, addendum: 0.5, dedendum: 0.75, internal: true, root_radius: 0.15}", 19.2, 9.4, 0, 0, 0.15, 25},
	} {
		t.Run(c.name, func(t *testing.T) {
			p := made(t, fmt.Sprintf(hub, c.profile))
			h := the(t, p.Holes, "drive")
			near(t, "width", h.Width, c.width)
			near(t, "depth", h.Depth, 12)
			near(t, "edge", h.Edge, c.wall)
			if !h.Keyed || !h.Through {
				t.Errorf("the hole is %+v", h)
			}
			if h.Bore.Known != (c.name == "spline") {
				t.Errorf("bore: %+v", h.Bore)
			}
			g := the(t, p.Teeth, "drive")
			near(t, "root wall", g.RootWall.Value, c.wall)
			near(t, "count", g.Count, c.count)
			near(t, "root radius", g.RootRadius, c.rounded)
			if c.tip > 0 {
				near(t, "tip thickness", g.TipThickness, c.tip)
				near(t, "space width", g.SpaceWidth, c.space)
			}
			if !g.Internal || g.Module.Known != (c.name == "gear") {
				t.Errorf("teeth: %+v", g)
			}
			if len(p.Walls) != 0 || len(p.Gaps) != 0 || len(p.Corners) != 0 {
				t.Errorf("walls %v, gaps %v, corners %v", p.Walls, p.Gaps, p.Corners)
			}
		})
	}
}

// TestTeethElsewhere: repeats are one subject, two toothed outlines share the wall between them, a blind spline is a
// keyed blind hole, and a cut through teeth leaves corners where the two meet.
func TestTeethElsewhere(t *testing.T) {
	p := made(t,
		"bodies: {plate: {circle: {diameter: 80}, from: 0, to: 6}, pinions: {gear: {module: 1, teeth: 16, shift: 0.2, at: [25, 0]}, from: 0, to: 16, repeat: {count: 3}}}")
	g := the(t, p.Teeth, "pinions")
	if len(g.Places) != 3 {
		t.Errorf("%d places: %+v", len(g.Places), p.Teeth)
	}
	near(t, "x", g.X, 25*math.Cos(2*math.Pi/3))
	near(t, "lower end", g.ZLow, 6)

	p = made(t,
		"bodies: {rim: {gear: {module: 2, teeth: 30}, from: 0, to: 8}}\ncuts: {drive: {spline: {major: 26, minor: 22, teeth: 8, tooth_width: 4}}}")
	outer, inner := the(t, p.Teeth, "rim"), the(t, p.Teeth, "drive")
	if outer.RootWall != inner.RootWall || outer.RootWall.Value < 27.5-13-1e-9 || outer.RootWall.Value > 27.5-13+0.3 {
		t.Errorf("root walls %+v and %+v", outer.RootWall, inner.RootWall)
	}

	p = made(t,
		"bodies: {hub: {circle: {diameter: 40}, from: 0, to: 12}}\ncuts: {drive: {spline: {major: 26, minor: 21, teeth: 6, tooth_width: 6}, open: top, depth: 5}}")
	h := the(t, p.Holes, "drive")
	near(t, "blind width", h.Width, 21)
	near(t, "floor", h.Floor.Value, 7)
	if !h.Keyed || h.Open != "top" || len(p.Teeth) != 1 {
		t.Errorf("the hole is %+v, with %d teeth", h, len(p.Teeth))
	}

	p = made(t,
		"bodies: {hub: {circle: {diameter: 40}, from: 0, to: 12}}\ncuts: {drive: {spline: {major: 26, minor: 21, teeth: 6, tooth_width: 6}}, oil: {circle: {diameter: 2, at: [0, 10.8]}}}")
	if c := the(t, p.Corners, "drive and oil"); !c.Joint || !c.InKey {
		t.Errorf("the joint is %+v", c)
	}
}

// TestRingGear: the teeth of a ring stand inward; between its root circle and a raised rim lies the punch.
func TestRingGear(t *testing.T) {
	p := made(t, "bodies: {ring: {circle: {diameter: 60}, from: 0, to: 8}, rim: {circle: {diameter: 60}, from: 8, to: 11}}\n"+
		"cuts: {teeth: {gear: {module: 1, teeth: 42, internal: true}}, seat: {circle: {diameter: 50}, open: top, depth: 3}}")
	g := the(t, p.Teeth, "teeth")
	near(t, "root wall, in plan to the raised rim", g.RootWall.Value, 25-(21+1.25))
	near(t, "upper end", g.ZHigh, 8)
	near(t, "hole", the(t, p.Holes, "teeth").Width, 40)
	if !g.Internal {
		t.Error("the teeth of a ring are internal")
	}
}

// TestToothedMirror: a part with teeth measures the same moved, turned and in inches.
func TestToothedMirror(t *testing.T) {
	a := made(t, feedGear)
	b := made(t, strings.NewReplacer("root_radius: 0.5", "root_radius: 0.5, at: [7, -3], turn: 21", "diameter: 30",
		"diameter: 30, at: [7, -3]",
		"diameter: 14", "diameter: 14, at: [7, -3]").Replace(feedGear))
	in := madeIn(t, "in", strings.NewReplacer("1.5", fmt.Sprint(1.5/25.4), "0.2,", fmt.Sprintf("%.17g,", 0.2/25.4), "0.5",
		fmt.Sprintf("%.17g", 0.5/25.4), "to: 8", fmt.Sprintf("to: %.17g", 8/25.4),
		"30}", fmt.Sprintf("%.17g}", 30/25.4), "to: 14", fmt.Sprintf("to: %.17g", 14/25.4), "diameter: 14",
		fmt.Sprintf("diameter: %.17g", 14/25.4)).Replace(feedGear))
	for _, o := range []*struct{ volume, wall, tip, space float64 }{
		{b.Volume, b.Teeth[0].RootWall.Value, b.Teeth[0].TipThickness, b.Teeth[0].SpaceWidth},
		{in.Volume, in.Teeth[0].RootWall.Value, in.Teeth[0].TipThickness, in.Teeth[0].SpaceWidth},
	} {
		if math.Abs(o.volume-a.Volume) > 1e-7*a.Volume {
			t.Errorf("volume %.12g, was %.12g", o.volume, a.Volume)
		}
		if math.Abs(o.wall-a.Teeth[0].RootWall.Value) > 2*plane.Near {
			t.Errorf("root wall %.12g, was %.12g", o.wall, a.Teeth[0].RootWall.Value)
		}
		near(t, "tip thickness", o.tip, a.Teeth[0].TipThickness)
		near(t, "space width", o.space, a.Teeth[0].SpaceWidth)
	}
}

// BenchmarkGear: 60 teeth, a hub, six holes, a bore and chamfers, from the part to its subjects.
func BenchmarkGear(b *testing.B) {
	p, ps := form.Parse("gear.yaml", []byte(`part: gear
units: mm
bodies:
  rim: {gear: {module: 1, teeth: 60, tip_radius: 0.1}, from: 0, to: 8}
  hub: {circle: {diameter: 24}, from: 0, to: 14}
cuts:
  bore:  {circle: {diameter: 12}}
  holes: {circle: {diameter: 8, at: [19, 0]}, repeat: {count: 6}}
edges:
  hub-rim:  {of: hub, face: top, chamfer: {width: 0.6, slope: 30, flat: 0.2}}
  bore-rim: {of: bore, face: top, chamfer: {width: 0.5, slope: 45, flat: 0.2}}
`))
	if len(ps) > 0 {
		b.Fatal(ps)
	}
	for b.Loop() {
		if _, ps := Part(p); len(ps) > 0 {
			b.Fatal(ps)
		}
	}
}
