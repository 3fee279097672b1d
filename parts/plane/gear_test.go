package plane

import (
	"math"
	"testing"
)

// Each gear with its diameters and base tangent length over k teeth, worked out apart from this code by the formulas of
// ISO 21771 (from memory), to six digits; handbook tables for module 1 have 7.6604, 10.7526 and 16.9370 for the first
// three (from memory): d = m z / cos b, db = d cos at, da = d + 2 m (1 + x), df = d - 2 m (1.25 - x),
// W = m cos a ((k - 0.5) pi + z inv at + 2 x tan a).
var handbook = []struct {
	name                   string
	gear                   Gear
	pitch, base, tip, root float64 // diameters, mm
	k                      int
	tangent                float64 // W in the normal section, mm
}{
	{"20 teeth", Gear{Module: 1, Teeth: 20}, 20, 18.793852, 22, 17.5, 3, 7.660439},
	{"30 teeth", Gear{Module: 1, Teeth: 30}, 30, 28.190779, 32, 27.5, 4, 10.752626},
	{"50 teeth", Gear{Module: 1, Teeth: 50}, 50, 46.984631, 52, 47.5, 6, 16.937000},
	{"12 teeth, shifted", Gear{Module: 2, Teeth: 12, Shift: 0.4}, 24, 22.552623, 29.6, 20.6, 2, 9.739759},
	{"25 teeth, 14.5 degrees", Gear{Module: 3, Teeth: 25, PressureAngle: 14.5, Dedendum: 1.157}, 75, 72.611073, 81, 68.058, 3, 23.214058},
	{"24 teeth, helix 20 degrees", Gear{Module: 1.5, Teeth: 24, Helix: 20}, 38.310400, 35.724263, 41.310400, 34.560400, 3, 11.672425},
}

// usual fills in the basic rack.
func usual(g Gear) Gear {
	if g.PressureAngle == 0 {
		g.PressureAngle = 20
	}
	if g.Addendum == 0 {
		g.Addendum = 1
	}
	if g.Dedendum == 0 {
		g.Dedendum = 1.25
	}
	return g
}

func mustGear(t testing.TB, g Gear) *Teeth {
	t.Helper()
	b, err := g.Build()
	if err != nil {
		t.Fatalf("%+v: %v", g, err)
	}
	return b
}

// isFlank tells the fitted arcs of a gear with sharp tips from tips, roots and fillets.
func isFlank(c *Curve) bool { return c.IsArc() && c.Sweep > 0 && c.C.size() > 1e-6 }

// TestGearHandbook measures diameters, tooth thickness and base tangent length on the outline.
func TestGearHandbook(t *testing.T) {
	for _, h := range handbook {
		t.Run(h.name, func(t *testing.T) {
			g := usual(h.gear)
			g.RootRadius = -1
			b := mustGear(t, g)
			f := g.figures()
			pitch, base, tip, root := f.pitch, f.base, f.tip, f.root
			for _, c := range []struct {
				what      string
				got, want float64
			}{{"pitch", pitch, h.pitch}, {"base", base, h.base}, {"tip", tip, h.tip}, {"root", root, h.root}} {
				if math.Abs(2*c.got-c.want) > 1e-6 {
					t.Errorf("%s diameter %.7f, want %.6f", c.what, 2*c.got, c.want)
				}
			}
			fit := 2 * flankError * g.Module
			l := b.Loop(Point{}, 0)
			lo, hi := math.Inf(1), 0.0
			for i := range l {
				for k := range 20 {
					r := l[i].At(float64(k) / 20).size()
					lo, hi = math.Min(lo, r), math.Max(hi, r)
				}
			}
			close9(t, "tip radius of the outline", hi, tip)
			close9(t, "root radius of the outline", lo, root)
			z, helix, a := float64(g.Teeth), g.Helix*math.Pi/180, g.PressureAngle*math.Pi/180
			thick := g.Module * (math.Pi/2 + 2*g.Shift*math.Tan(a)) / math.Cos(helix)
			at := Circle(Point{}, 2*pitch)
			for i := range b.half {
				for j := range at {
					for _, p := range meetings(&b.half[i], &at[j]) {
						if got := -2 * p.angle() * pitch; math.Abs(got-thick) > fit {
							t.Errorf("thickness at the pitch circle %.6f, want %.6f", got, thick)
						} else {
							thick = got
						}
					}
				}
			}
			normal := g.Module * math.Cos(a) * ((float64(h.k)-0.5)*math.Pi + z*inv(math.Atan(math.Tan(a)/math.Cos(helix))) +
				2*g.Shift*math.Tan(a))
			if math.Abs(normal-h.tangent) > 1e-6 {
				t.Errorf("base tangent length by the formula %.7f, in the table %.6f", normal, h.tangent)
			}
			transverse := h.tangent / math.Sqrt(1-math.Pow(math.Sin(helix)*math.Cos(a), 2))
			if got := caliper(b, h.k); math.Abs(got-transverse) > fit {
				t.Errorf("base tangent length of the outline %.6f, want %.6f", got, transverse)
			}
		})
	}
}

// caliper measures over k teeth between parallel jaws, at points 1/400 of an arc apart.
func caliper(b *Teeth, k int) float64 {
	pitch := 360 / float64(b.Count)
	first := float64(k-1) / 2 * pitch
	l := b.Loop(Point{}, -first)
	top := 0.0
	for i := range l {
		if !isFlank(&l[i]) {
			continue
		}
		for j := range 401 {
			p := l[i].At(float64(j) / 400)
			if a := p.angle() * 180 / math.Pi; a > first && a < first+pitch/2 {
				top = math.Max(top, p.Y)
			}
		}
	}
	return 2 * top
}

// TestGearFlanks: fitted flanks keep within flankError of the involute at 1000 points, in proportion to the module:
// half a micrometre at module 2; with roundings every joint of the outline is tangent.
func TestGearFlanks(t *testing.T) {
	worst := 0.0
	for _, g := range []Gear{
		{Module: 2, Teeth: 9, Shift: 0.4}, {Module: 2, Teeth: 14}, {Module: 2, Teeth: 20}, {Module: 2, Teeth: 60}, {Module: 2, Teeth: 200},
		{Module: 2, Teeth: 40, Internal: true}, {Module: 2, Teeth: 24, PressureAngle: 30, Addendum: 0.5, Dedendum: 0.75},
		{Module: 2, Teeth: 30, Helix: 30}, {Module: 0.3, Teeth: 17}, {Module: 8, Teeth: 17}, {Module: 2, Teeth: 60, Internal: true, Helix: 15},
	} {
		g = usual(g)
		g.RootRadius, g.TipRadius = 0.2*g.Module, 0.1*g.Module
		b := mustGear(t, g)
		f := g.figures()
		v := involute{f.base, f.lead, 1}
		from, to := rolls(&v, b)
		var arcs []Curve
		for _, c := range b.half {
			if c.IsArc() && c.Sweep > 0 && c.C.size() > 1e-6 && c.R > b.OuterRound+1e-9 {
				arcs = append(arcs, c)
			}
		}
		if len(arcs) > 12 {
			t.Errorf("%+v: %d arcs a flank", g, len(arcs))
		}
		off := offInvolute(&v, from, to, arcs)
		worst = math.Max(worst, off/g.Module)
		if off > flankError*g.Module {
			t.Fatalf("%+v: %g mm from the involute", g, off)
		}
		l := b.Loop(Point{3, -2}, 17)
		for i := range l {
			if turn := turnAt(&l[i], &l[(i+1)%len(l)]); math.Abs(turn) > 1e-9 {
				t.Fatalf("%+v: turns by %g between curves %d and %d", g, turn, i, i+1)
			}
		}
		checkOutline(t, l)
	}
	t.Logf("farthest from the involute: %.3g mm for each mm of module", worst)
	if worst < flankError/100 {
		t.Errorf("the flanks are fitted to %g, far finer than stated: more arcs than needed", worst)
	}
}

// offInvolute is the largest distance of 1001 points of an involute from arcs.
func offInvolute(v *involute, from, to float64, arcs []Curve) (worst float64) {
	for i := range 1001 {
		p, off := v.at(math.Max(0, from+(to-from)*float64(i)/1000)), math.Inf(1)
		for k := range arcs {
			off = math.Min(off, arcs[k].Distance(p))
		}
		worst = math.Max(worst, off)
	}
	return worst
}

// TestBiarcError: one pair of arcs keeps within the error that the step of the flanks is chosen by, wherever it begins
// on the involute and whatever it spans; never by less than a quarter of it, or flanks would have too many arcs.
func TestBiarcError(t *testing.T) {
	for _, from := range []float64{0, 1e-6, 0.01, 0.1, 0.3, 1, 1.5} {
		for _, q := range []float64{0.02, 0.05, 0.1, 0.2, 0.4, 0.7, 1} {
			v := involute{base: 10, lead: 0.1, step: q * 1.001}
			arcs := v.curves(from, from+q)
			if len(arcs) != 2 {
				t.Fatalf("%d arcs", len(arcs))
			}
			off := offInvolute(&v, from, from+q, arcs) / (v.base * q * q * q)
			if off > biarcError || off < biarcError/4 {
				t.Errorf("from %g over %g: error %.4g r q^3, stated %.4g", from, q, off, biarcError)
			}
		}
	}
}

// rolls finds the roll angles of the involute part of a flank by bisection on the radius.
func rolls(v *involute, b *Teeth) (from, to float64) {
	roll := func(p Point) float64 {
		if p.size() <= v.base {
			return 0
		}
		lo, hi := 0.0, 10.0
		for range 100 {
			if mid := (lo + hi) / 2; math.Hypot(v.base, v.base*mid) < p.size() {
				lo = mid
			} else {
				hi = mid
			}
		}
		return lo
	}
	return roll(b.ends[0]), roll(b.ends[1])
}

// checkOutline: closed to the last digit, on its carriers to 1e-9 mm, counter-clockwise, no crossing, and two cells in
// the overlay whose areas agree with Green's theorem on the arcs.
func checkOutline(t *testing.T, l Loop) {
	t.Helper()
	for i := range l {
		c := &l[i]
		if c.B != l[(i+1)%len(l)].A {
			t.Fatalf("curve %d ends at %v, the next begins at %v", i, c.B, l[(i+1)%len(l)].A)
		}
		if c.IsArc() {
			end := c.C.add(turned(c.A.sub(c.C), c.Sweep*180/math.Pi))
			if math.Abs(c.A.Distance(c.C)-c.R) > 1e-9 || math.Abs(c.B.Distance(c.C)-c.R) > 1e-9 || end.Distance(c.B) > 1e-9 {
				t.Fatalf("curve %d is no arc: %+v", i, *c)
			}
		}
	}
	if p, crosses := l.crossing(); crosses {
		t.Fatalf("crosses itself at %v", p)
	}
	area := l.Moments().Area
	if area <= 0 {
		t.Fatalf("an area of %g", area)
	}
	o, err := Lay([]Loop{l})
	if err != nil {
		t.Fatal(err)
	}
	if len(o.Cells) != 2 || math.Abs(o.Cells[1].Moments.Area-area) > 1e-7*area {
		t.Fatalf("%d cells, area %g where the outline has %g", len(o.Cells), o.Cells[len(o.Cells)-1].Moments.Area, area)
	}
}

// TestGearArea compares areas with an integral over the radius of the true involute's tooth angle. The centre of the
// root fillet is found by bisection on its distance from points of the involute.
func TestGearArea(t *testing.T) {
	for _, h := range handbook {
		for _, radius := range []float64{0, 0.25} {
			g := usual(h.gear)
			g.RootRadius = radius * g.Module
			got := mustGear(t, g).Loop(Point{}, 0).Moments().Area
			if want := gearArea(g); math.Abs(got-want) > 2e-5*want {
				t.Errorf("%s, root radius %g: area %.8g, want %.8g", h.name, g.RootRadius, got, want)
			} else {
				t.Logf("%s: relative difference %.2g", h.name, got/want-1)
			}
		}
	}
}

func gearArea(g Gear) float64 {
	z, helix, a := float64(g.Teeth), g.Helix*math.Pi/180, g.PressureAngle*math.Pi/180
	f := g.figures()
	pitch, base, tip, root := f.pitch, f.base, f.tip, f.root
	lead := (math.Pi/2+2*g.Shift*math.Tan(a))/z + inv(math.Atan(math.Tan(a)/math.Cos(helix)))
	flank := func(r float64) float64 { // half of a tooth's angle
		if r < base {
			return lead
		}
		q := math.Acos(base / r)
		return lead - (math.Tan(q) - q)
	}
	rc := root + g.RootRadius
	reach := func(gamma float64) (d float64) { // distance of the fillet's centre at an angle from the tooth's flank
		d = math.Inf(1)
		for i := range 4000 {
			r := root + (pitch-root)*float64(i)/4000
			d = math.Min(d, math.Hypot(r*math.Cos(flank(r))-rc*math.Cos(gamma), r*math.Sin(flank(r))-rc*math.Sin(gamma)))
		}
		return d
	}
	lo, hi := flank(rc), math.Pi/z
	for range 50 {
		if mid := (lo + hi) / 2; reach(mid) < g.RootRadius {
			lo = mid
		} else {
			hi = mid
		}
	}
	half := func(r float64) float64 {
		h := flank(r)
		if g.RootRadius > 0 {
			if c := (r*r + rc*rc - g.RootRadius*g.RootRadius) / (2 * r * rc); c < 1 && r < rc {
				h = math.Max(h, lo-math.Acos(c))
			}
		}
		return h
	}
	sum, n := 0.0, 400000 // midpoint rule
	for i := range n {
		r := root + (tip-root)*(float64(i)+0.5)/float64(n)
		sum += r * half(r)
	}
	return math.Pi*root*root + 2*z*sum*(tip-root)/float64(n)
}

// TestRing: tip and root diameters of ring gears are m (z - 2 - 2 x) and m (z + 2.5 - 2 x), and their teeth, which lie
// between those of the figure, m (pi/2 + 2 x tan a) thick on the pitch circle (ISO 21771 with the signs of a ring, from
// memory). With equal and opposite shifts the pinion's tooth fits the ring's space there.
func TestRing(t *testing.T) {
	for _, x := range []float64{-0.4, 0, 0.3} {
		ring, pinion := usual(Gear{Module: 2, Teeth: 60, Shift: x, Internal: true}), usual(Gear{Module: 2, Teeth: 20, Shift: -x})
		b, c := mustGear(t, ring), mustGear(t, pinion)
		close9(t, "tip", 2*b.Inner, 2*(60-2-2*x))
		close9(t, "root", 2*b.Outer, 2*(60+2.5-2*x))
		at := func(b *Teeth, r float64) float64 { // half of the figure's tooth at a radius, rad
			circle := Circle(Point{}, 2*r)
			for i := range b.half {
				for j := range circle {
					for _, p := range meetings(&b.half[i], &circle[j]) {
						return -p.angle()
					}
				}
			}
			t.Fatalf("no flank at radius %g", r)
			return 0
		}
		thick := 2 * 60 * (math.Pi/60 - at(b, 60))
		if want := 2 * (math.Pi/2 + 2*x*math.Tan(20*math.Pi/180)); math.Abs(thick-want) > 4*flankError {
			t.Errorf("shift %g: a ring's tooth of %g, want %g", x, thick, want)
		}
		if space, tooth := 2*60*at(b, 60), 2*20*at(c, 20); math.Abs(space-tooth) > 8*flankError {
			t.Errorf("shift %g: a space of %g for a tooth of %g", x, space, tooth)
		}
		a := 20 * math.Pi / 180
		half := (math.Pi/2-2*x*math.Tan(a))/60 + inv(a) - inv(math.Acos(60*math.Cos(a)/b.Inner))
		close9(t, "tip thickness", b.TipThickness(true), 2*b.Inner*math.Sin(math.Pi/60-half))
		checkOutline(t, b.Loop(Point{}, 5))
	}
}
