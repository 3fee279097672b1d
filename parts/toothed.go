package parts

import (
	"math"

	"corerod/parts/source"
)

// Gear is an involute gear, or with Internal the void of a ring gear. Its plan is the transverse section.
type Gear struct {
	Module        float64 // mm, of the normal section
	Teeth         int
	PressureAngle float64 // degrees, of the normal section
	Shift         float64 // profile shift factor, in modules; above 0 it thickens the teeth, in a ring too
	Addendum      float64 // of the basic rack, in modules
	Dedendum      float64 // of the basic rack, in modules
	TipRadius     float64 // mm, in plan
	RootRadius    float64 // mm, in plan; below 0 where the file gives none
	Helix         float64 // degrees
	Hand          string  // "left", "right", or "" for straight teeth
	Internal      bool
	Turn          float64 // degrees; at 0 a tooth, of a ring a space, lies on x
	At            Point
}

// Spline has straight teeth with parallel sides, ToothWidth apart.
type Spline struct {
	Major, Minor, ToothWidth float64 // mm
	Corner                   float64 // mm, at tips and roots
	Teeth                    int
	Turn                     float64
	At                       Point
}

// Serration has V teeth whose flanks enclose Angle.
type Serration struct {
	Major, Minor          float64 // mm
	Angle                 float64 // degrees
	TipRadius, RootRadius float64 // mm
	Teeth                 int
	Turn                  float64
	At                    Point
}

func (Gear) profile()      {}
func (Spline) profile()    {}
func (Serration) profile() {}

// teethVertices bounds the curves of one tooth's outline: root, tip, roundings and, of a gear, fitted flanks.
func teethVertices(p Profile) (teeth, each int) {
	switch s := p.(type) {
	case Gear:
		return s.Teeth, 28
	case Spline:
		return s.Teeth, 8
	case Serration:
		return s.Teeth, 8
	}
	return 0, 0
}

// Least numbers of teeth that are read.
const (
	leastGearTeeth   = 5
	leastSplineTeeth = 2
	leastSerrations  = 3
)

// toothed reads a gear, spline or serration.
func (r *reader) toothed(key string, n *source.Node) Profile {
	f := fields{r, key, n}
	switch key {
	case "gear":
		return r.gear(f)
	case "spline":
		return Spline{Major: f.size("major"), Minor: f.size("minor"), Teeth: f.teeth(leastSplineTeeth), ToothWidth: f.size("tooth_width"),
			Corner: f.radius("corner", 0), At: f.at(), Turn: f.turn()}
	case "serration":
		s := Serration{Major: f.size("major"), Minor: f.size("minor"), Teeth: f.teeth(leastSerrations),
			TipRadius: f.radius("tip_radius", 0), RootRadius: f.radius("root_radius", 0), At: f.at(), Turn: f.turn()}
		if v := r.Require(n, key, "angle"); v != nil {
			s.Angle = r.angle(v, "angle", 1, 170)
		}
		return s
	}
	return nil
}

func (r *reader) gear(f fields) Gear {
	g := Gear{Module: f.size("module"), Teeth: f.teeth(leastGearTeeth), PressureAngle: 20, Shift: f.within("shift", 0, -2, 2),
		Addendum: f.within("addendum", 1, 0.1, 3), Dedendum: f.within("dedendum", 1.25, 0.1, 3),
		TipRadius: f.radius("tip_radius", 0), RootRadius: f.radius("root_radius", -1), At: f.at(), Turn: f.turn()}
	if v := f.n.At("pressure_angle"); v != nil {
		g.PressureAngle = r.angle(v, "pressure_angle", 10, 45)
	}
	if v := f.n.At("internal"); v != nil {
		g.Internal, _ = r.Boolean(v, "internal")
	}
	if v := f.n.At("helix"); v != nil {
		g.Helix = r.angle(v, "helix", 0, 60)
	}
	switch v := f.n.At("hand"); {
	case v != nil:
		g.Hand, _ = r.Word(v, "hand", "left", "right")
		if g.Helix == 0 {
			r.Report(v, "hand belongs to a helical gear; give its `helix` in degrees, or leave `hand` out")
		}
	case g.Helix != 0:
		r.Report(f.n.KeyNode("helix"), "a helical gear needs its `hand`: left or right")
	}
	return g
}

// ringIsCut checks that a gear is a body, and the void of a ring a cut.
func (r *reader) ringIsCut(f *Feature, section string, n *source.Node) {
	g, ok := f.Profile.(Gear)
	if !ok || g.Internal == (section == "cuts") {
		return
	}
	if g.Internal {
		r.Report(n.At("gear").KeyNode("internal"), "a gear with `internal: true` is the void of a ring gear; write it in `cuts`, inside a body for the ring")
		return
	}
	r.Report(n.KeyNode("gear"), "a gear in `cuts` is the void of a ring gear; write `internal: true`, with the ring's own addendum and dedendum")
}

// fields reads the keys that toothed profiles share.
type fields struct {
	*reader
	what string
	n    *source.Node
}

func (f fields) size(key string) (v float64) {
	if m := f.Require(f.n, f.what, key); m != nil {
		v = f.reader.size(m, key)
	}
	return v
}

func (f fields) teeth(least int) int {
	v := f.Require(f.n, f.what, "teeth")
	if v == nil {
		return least
	}
	z, ok := f.Number(v, "teeth")
	if ok && (z != math.Trunc(z) || z < float64(least) || z > MostVertices) {
		f.Report(v, "teeth is %s; it must be a whole number from %d to %d", source.Quote(v.Value), least, MostVertices)
		return least
	}
	return int(z)
}

// within reads a number without a unit; without is its value where the key is absent.
func (f fields) within(key string, without, least, most float64) float64 {
	m := f.n.At(key)
	if m == nil {
		return without
	}
	v, ok := f.Number(m, key)
	if ok && (v < least || v > most) {
		f.Report(m, "%s is %s; it must be from %g to %g, in modules", key, source.Quote(m.Value), least, most)
	}
	return v
}

// radius reads a rounding's radius: 0 or more.
func (f fields) radius(key string, without float64) float64 {
	m := f.n.At(key)
	if m == nil {
		return without
	}
	v := f.length(m, key)
	if v < 0 {
		f.Report(m, "%s is %s; a radius is not negative", key, source.Quote(m.Value))
	}
	return v
}

func (f fields) at() (p Point) {
	if m := f.n.At("at"); m != nil {
		p = f.point(m, "at")
	}
	return p
}

func (f fields) turn() (v float64) {
	if m := f.n.At("turn"); m != nil {
		v = f.angle(m, "turn", -360, 360)
	}
	return v
}
