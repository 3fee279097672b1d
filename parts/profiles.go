package parts

import "slices"

// Profile is a plan shape or a half section: one of the types below. Its key is the one that it stands under in part files.
type Profile interface{ Key() string }

// Circle of a diameter.
type Circle struct {
	Diameter float64
	At       Point
}

// Rectangle with length along x and width along y, turned by degrees, and no corner radius, one for all, or four: that at the lower left
// first, then counter-clockwise.
type Rectangle struct {
	Length, Width, Turn float64
	Corners             []float64
	At                  Point
}

// Slot with round ends; Length over all.
type Slot struct {
	Length, Width, Turn float64
	At                  Point
}

// Polygon through points, with no corner radius, one for all, or one for each point.
type Polygon struct {
	Points  []Point
	Corners []float64
}

// Path of lines and arcs, with no corner radius, one for all joints, or one for each: that at the start first.
type Path struct {
	Start   Point
	Steps   []Step
	Corners []float64
}

// Step of a path: to a point, in a line (Radius 0) or an arc.
type Step struct {
	To               Point
	Radius           float64
	Clockwise, Large bool
}

// Hexagon over its flats.
type Hexagon struct {
	AcrossFlats, Turn, Corner float64
	At                        Point
}

// Regular is a regular polygon round a circle; at turn 0 a corner lies on x.
type Regular struct {
	Sides                   int
	Inscribed, Turn, Corner float64
	At                      Point
}

// Ellipse with length along x and width along y.
type Ellipse struct {
	Length, Width, Turn float64
	At                  Point
}

// Flatted is a circle with flats at distances from its centre, evenly round; the first faces x.
type Flatted struct {
	Diameter, Turn, Corner float64
	Flats                  []float64
	At                     Point
}

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

// Turned is a body of turning about the upright axis through At: a closed half section of points (radius, z).
type Turned struct {
	At    Point
	Start Point // X is the radius, Y the height
	Steps []Step
}

// Ball about At at the height Z. A band cuts it back to a cylinder, as high as the band.
type Ball struct {
	Diameter, Band, Z float64
	At                Point
}

// Key of the profile in part files.
func (Circle) Key() string    { return "circle" }
func (Rectangle) Key() string { return "rectangle" }
func (Slot) Key() string      { return "slot" }
func (Polygon) Key() string   { return "polygon" }
func (Path) Key() string      { return "path" }
func (Hexagon) Key() string   { return "hexagon" }
func (Regular) Key() string   { return "regular" }
func (Ellipse) Key() string   { return "ellipse" }
func (Flatted) Key() string   { return "flatted" }
func (Gear) Key() string      { return "gear" }
func (Spline) Key() string    { return "spline" }
func (Serration) Key() string { return "serration" }
func (Turned) Key() string    { return "turned" }
func (Ball) Key() string      { return "ball" }

// Points are the corners of the half section, from Start on.
func (t Turned) Points() []Point {
	ps := []Point{t.Start}
	for _, s := range t.Steps {
		ps = append(ps, s.To)
	}
	if n := len(ps); n > 1 && ps[n-1] == t.Start {
		ps = ps[:n-1]
	}
	return ps
}

// HasArcs tells whether the half section has any.
func (t Turned) HasArcs() bool {
	return slices.ContainsFunc(t.Steps, func(s Step) bool { return s.Radius > 0 })
}
