package plane

import (
	"math"
	"math/rand/v2"
	"os"
	"regexp"
	"strconv"
	"testing"
)

// TestSplineClosedForm: area by circle segments, sizes as drawn.
func TestSplineClosedForm(t *testing.T) {
	const major, minor, n, w = 26.0, 21.0, 6, 6.0
	b, err := Spline(major, minor, n, w, 0)
	if err != nil {
		t.Fatal(err)
	}
	strip := func(r float64) float64 { // of the circle, between y = -w/2 and w/2, right of the centre
		h := math.Asin(w / 2 / r)
		return r*r*h + w/2*r*math.Cos(h)
	}
	close9(t, "area", b.Loop(Point{}, 0).Moments().Area, math.Pi*minor*minor/4+n*(strip(major/2)-strip(minor/2)))
	close9(t, "tooth, outside", b.TipThickness(false), w)
	close9(t, "space, inside", b.SpaceWidth(true), w)
	space := minor * math.Sin(math.Pi/n-math.Asin(w/minor))
	close9(t, "space, outside", b.SpaceWidth(false), space)
	close9(t, "tooth, inside", b.TipThickness(true), space)
	// A corner c takes (w/2 - c) sideways at the tip's centre: rounded outlines stay inside the sharp one at the tip.
	r, err := Spline(major, minor, n, w, 0.5)
	if err != nil {
		t.Fatal(err)
	}
	checkOutline(t, r.Loop(Point{1, 2}, 10))
	l := RegionOf(r.Loop(Point{}, 0))
	tip := Point{math.Sqrt(12.5*12.5 - 2.5*2.5), 2.5} // the tip rounding's centre
	close9(t, "tip rounding", l.Distance(tip), 0.5)
	root := turned(Point{math.Sqrt(11*11 - 3.5*3.5), 3.5}, 0)
	close9(t, "root rounding", l.Distance(root), 0.5)
	if !l.Contains(tip) || l.Contains(root) {
		t.Error("the roundings lie on the wrong sides")
	}
}

// TestSerrationClosedForm: as much tooth as space on the middle circle, the included angle, the area of the polygon.
func TestSerrationClosedForm(t *testing.T) {
	const major, minor, n, angle = 20.0, 18.2, 36, 60.0
	b, err := Serration(major, minor, n, angle, 0, 0)
	if err != nil {
		t.Fatal(err)
	}
	l := b.Loop(Point{}, 0)
	checkOutline(t, l)
	if len(l) != 4*n {
		t.Fatalf("%d curves, want root, flank, tip and flank for each tooth", len(l))
	}
	mid, h := (major+minor)/4, math.Pi/(2*n)
	// The flank is y = -mid sin h + (x - mid cos h) tan 30.
	on := func(r float64) float64 {
		s, c := math.Sincos(math.Pi / 6)
		away := mid*math.Sin(h)*c + mid*math.Cos(h)*s // of the flank from the centre
		return math.Asin(away/r) - math.Pi/6          // half of the tooth's angle at radius r
	}
	close9(t, "at the middle", on(mid), h)
	flank := l[1]
	close9(t, "tip end of the flank", -flank.B.angle(), on(major/2))
	close9(t, "root end of the flank", -flank.A.angle(), on(minor/2))
	close9(t, "direction of the flank", flank.tangent(flank.A).angle(), math.Pi/6)
	close9(t, "tip", b.TipThickness(false), major*math.Sin(on(major/2)))
	close9(t, "space", b.SpaceWidth(false), minor*math.Sin(math.Pi/n-on(minor/2)))
	tri := 100 * 9.1 / 10 * math.Sin(on(minor/2)-on(major/2)) / 2
	each := 100*on(major/2) + 9.1*9.1*(math.Pi/n-on(minor/2)) + 2*tri
	close9(t, "area", l.Moments().Area, n*each)
}

// TestToothedRefused: what does not fit is refused in words, and what the words say would do does.
func TestToothedRefused(t *testing.T) {
	gear := func(g Gear) func(v float64, what string) error {
		return func(v float64, what string) error {
			h := usual(g)
			switch what {
			case "root_radius":
				h.RootRadius = v
			case "tip_radius":
				h.TipRadius = v
			case "addendum":
				h.Addendum = v
			case "dedendum":
				h.Dedendum = v
			case "shift":
				h.Shift = v
			case "teeth":
				h.Teeth = int(v)
			}
			_, err := h.Build()
			return err
		}
	}
	spline := func(w, c float64) func(v float64, what string) error {
		return func(v float64, what string) error {
			switch what {
			case "corner":
				c = v
			case "tooth_width":
				w = v
			}
			_, err := Spline(26, 21, 6, w, c)
			return err
		}
	}
	serration := func(minor float64, teeth int, angle, tip, root float64) func(v float64, what string) error {
		return func(v float64, what string) error {
			switch what {
			case "angle":
				angle = v
			case "tip_radius":
				tip = v
			case "root_radius":
				root = v
			}
			_, err := Serration(20, minor, teeth, angle, tip, root)
			return err
		}
	}
	for _, c := range []struct {
		name  string
		build func(float64, string) error
		what  string // that the message gives a figure for
		want  string // regular expression, the figure in its group
	}{
		{"root radius", gear(Gear{Module: 2, Teeth: 20, RootRadius: 2}), "root_radius", `^root_radius 2 mm does not fit the teeth: at most ([\d.]+) mm$`},
		{"tip radius", gear(Gear{Module: 2, Teeth: 20, TipRadius: 2}), "tip_radius", `^tip_radius 2 mm does not fit the teeth: at most ([\d.]+) mm$`},
		{"pointed", gear(Gear{Module: 2, Teeth: 8, Shift: 1}), "addendum", `run to a point at diameter [\d.]+ mm, before the tip diameter 24 mm: addendum at most ([\d.]+), or less shift$`},
		{"undercut", gear(Gear{Module: 2, Teeth: 10}), "shift", `^10 teeth with a shift of 0 would be undercut at the root: a shift of at least ([\d.]+), or`},
		{"undercut, teeth", gear(Gear{Module: 2, Teeth: 10}), "teeth", `or at least (14) teeth$`},
		{"ring inside its base circle", gear(Gear{Module: 2, Teeth: 20, Internal: true}), "addendum", `^the tips reach inside the base circle, of diameter 37.587705 mm, where there is no involute: addendum at most ([\d.]+), or`},
		{"ring with pointed spaces", gear(Gear{Module: 2, Teeth: 40, Dedendum: 3, Internal: true}), "dedendum", `^the spaces run to a point at diameter [\d.]+ mm, before the root diameter 92 mm: dedendum at most ([\d.]+), or`},
		{"wide spline", spline(11, 0), "tooth_width", `^tooth_width 11 mm leaves no space between 6 teeth at the minor diameter: at most ([\d.]+) mm$`},
		{"spline corner", spline(6, 2), "corner", `^corner 2 mm does not fit the teeth: at most ([\d.]+) mm$`},
		{"serration angle", serration(18.2, 36, 100, 0, 0), "angle", `an angle of at most ([\d.]+) degrees, or less depth$`},
		{"serration tip", serration(18.2, 36, 60, 1, 0), "tip_radius", `^tip_radius 1 mm does not fit the teeth: at most ([\d.]+) mm$`},
		{"serration root", serration(18.2, 36, 60, 0, 1), "root_radius", `^root_radius 1 mm does not fit the teeth: at most ([\d.]+) mm$`},
		{"deep serrations", serration(5, 6, 60, 0, 0), "", `^6 teeth do not fit between the diameters 5 and 20 mm: (give) fewer teeth or less depth`},
		{"no teeth", gear(Gear{Module: 0.001, Teeth: 20, Addendum: 0.1, Dedendum: 0.1}), "", `which leaves no (teeth)`},
		{"inside the base circle", gear(Gear{Module: 2, Teeth: 100, Shift: -2, PressureAngle: 10, Dedendum: 0.1, Addendum: 0.5}), "", `^the teeth end inside the base circle, .* (give) more`},
	} {
		err := c.build(0, "")
		if err == nil {
			t.Errorf("%s: was built", c.name)
			continue
		}
		m := regexp.MustCompile(c.want).FindStringSubmatch(err.Error())
		if m == nil {
			t.Errorf("%s:\n got %v\nwant %s", c.name, err, c.want)
		} else if c.what != "" {
			v, _ := strconv.ParseFloat(m[1], 64)
			if err := c.build(v, c.what); err != nil {
				t.Errorf("%s: with %s %s as told: %v", c.name, c.what, m[1], err)
			}
		}
	}
}

// TestFullRoundings: a radius that just fits leaves no land, one a nanometre less a land that is left out, and the
// basic rack's radius gives way where teeth are narrow.
func TestFullRoundings(t *testing.T) {
	g := usual(Gear{Module: 2, Teeth: 20, PressureAngle: 30, RootRadius: -1, Addendum: 0.6, Dedendum: 1.2})
	f := g.figures()
	b := mustGear(t, g)
	if b.InnerRound >= rackFillet*g.Module || b.InnerRound < 0.2*g.Module {
		t.Errorf("a root radius of %g, of at most %g", b.InnerRound, rackFillet*g.Module)
	}
	for _, less := range []float64{0, 1e-9, 1e-7, 1e-6, 1e-5, 1e-3} {
		g.RootRadius = b.InnerRound - less
		l := mustGear(t, g).Loop(Point{}, 0)
		checkOutline(t, l)
		for i := range l {
			if c := &l[i]; c.Length() <= Near {
				t.Errorf("%g less: a curve of %g", less, c.Length())
			}
		}
		close9(t, "root", RegionOf(l).Distance(Point{}), f.root)
	}
	s, err := Spline(26, 21, 12, 2, 1)
	if err != nil {
		t.Fatal(err)
	}
	checkOutline(t, s.Loop(Point{}, 0))
}

// TestAnyTeeth: whatever the numbers, an outline between its two circles, or a refusal in words.
func TestAnyTeeth(t *testing.T) {
	n := 400
	if os.Getenv("COREROD_LONG") != "" {
		n = 10000
	}
	rng := rand.New(rand.NewPCG(7, 4))
	made := [3]int{}
	among := func(vs ...float64) float64 { return vs[rng.IntN(len(vs))] }
	for i := range n {
		var b *Teeth
		var err error
		kind := i % 3
		switch kind {
		case 0:
			g := Gear{Module: among(0.2, 0.5, 1, 2.54, 10), Teeth: 5 + rng.IntN(60), PressureAngle: among(10, 14.5, 20, 25, 30, 45),
				Shift: rng.Float64()*1.6 - 0.5,
				Helix: among(0, 0, 15, 45), Addendum: among(0.5, 0.8, 1, 1, 1.2), Dedendum: among(0.75, 1, 1.25, 1.25, 1.4), Internal: rng.IntN(3) == 0}
			g.RootRadius = among(-1, 0, 0.1, 0.3, 0.5*rng.Float64()) * g.Module
			g.TipRadius = among(0, 0.1, 0.3*rng.Float64()) * g.Module
			b, err = g.Build()
		case 1:
			minor := 5 + 30*rng.Float64()
			b, err = Spline(minor*(1+among(0, 0.1, 0.3, 1)*rng.Float64()), minor, 2+rng.IntN(20), minor*rng.Float64()*0.6,
				among(0, 0.2, 0.5, 2*rng.Float64()))
		default:
			minor := 5 + 30*rng.Float64()
			b, err = Serration(minor*(1+0.2*rng.Float64()), minor, 3+rng.IntN(60), 10+100*rng.Float64(), among(0, 0.1, 0.3*rng.Float64()),
				among(0, 0.1, 0.3*rng.Float64()))
		}
		if err != nil {
			if b != nil || len(err.Error()) < 20 {
				t.Errorf("%v beside an outline: %v", err, b)
			}
			continue
		}
		made[kind]++
		l := b.Loop(Point{among(0, 3, 100*rng.Float64()), 0}, among(0, 90, 360*rng.Float64()))
		checkOutline(t, l)
		if len(l) > 28*b.Count { // what the reader of part files reckons with
			t.Errorf("%d curves for %d teeth", len(l), b.Count)
		}
		l = b.Loop(Point{}, 0)
		close9(t, "inner circle", RegionOf(l).Distance(Point{}), b.Inner)
		if r := Enclosing(l).R; r > b.Outer+1e-9 {
			t.Errorf("reaches to %g, past %g", r, b.Outer)
		}
		for _, v := range []float64{b.TipThickness(false), b.TipThickness(true), b.SpaceWidth(false), b.SpaceWidth(true)} {
			if !(v > 0) {
				t.Errorf("a thickness of %g", v)
			}
		}
		if t.Failed() {
			t.Fatalf("outline %d: %+v", i, *b)
		}
	}
	t.Logf("made %d of %d", made, n)
	for _, m := range made {
		if m < n/15 {
			t.Errorf("only %d of %d could be made", made, n)
		}
	}
}
