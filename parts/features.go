package parts

import "math"

// Point in plan, mm.
type Point struct{ X, Y float64 }

// Feature is a body or a cut.
type Feature struct {
	Name    string
	Place   Place
	Profile Profile
	Shape   Place  // where the profile stands
	Extent  Extent //
	MadeBy  string // of a cut: "pressing", "machining" or "sizing"; of a body always "pressing"
	Punch   string // "own", "face" or "none"
	Draft   *Draft // nil for upright walls
	Section string // of a groove: "round" or "v"; "" for upright walls
	Keep    []Kept // of a cut: the bodies that it leaves alone
	Repeat  Repeat
	Stock   Stock    // of a body
	Reliefs []Relief // of a body: what punches form in its end faces
	Island  *Feature // of a cut in a face: a body that stands in it, as high as it is deep

	Relief *Relief  // of the cut that a relief of a body is in the shape: it has the body's name and extent, and takes from it alone
	Of     *Feature // of such a cut: the body; of an island: its cut
}

// Relief is what a punch forms in an end face of a body besides a flat. One of its forms is there.
type Relief struct {
	On    string // "top" or "bottom"
	Tilt  *Tilt
	Teeth *FaceTeeth
	Ramp  *Ramp
	Place Place
}

// Key is the key of the relief in part files.
func (r *Relief) Key() string {
	switch {
	case r.Tilt != nil:
		return "tilt"
	case r.Teeth != nil:
		return "face_teeth"
	}
	return "ramp"
}

// Copies is how many cuts the relief is.
func (r *Relief) Copies() int {
	switch {
	case r.Teeth != nil:
		return r.Teeth.Count
	case r.Ramp != nil:
		return r.Ramp.Count
	}
	return 1
}

// Tilt slopes the whole face: its highest point stays as drawn.
type Tilt struct {
	Angle  float64 // degrees, from the face as drawn
	Toward float64 // the direction in plan in which it goes into the body, degrees from x
}

// FaceTeeth are teeth between V spaces that run outward from the axis of the body. The tips of the teeth lie in the face as drawn.
type FaceTeeth struct {
	Count        int
	Depth        float64 // of the spaces, mm
	Angle        float64 // between the flanks of a space, degrees
	Inner, Outer float64 // diameters between which the spaces run, mm
	Turn         float64 // degrees; at 0 a space lies on x
}

// Ramp is a helical face about the axis of the body: at End it is the face as drawn, at Start it lies Rise deeper.
type Ramp struct {
	Start, End   float64 // degrees from x; counter-clockwise where End is the greater
	Rise         float64 // mm
	Inner, Outer float64 // diameters between which it lies, mm; Outer is 0 for the outside of the body
	Count        int     // of ramps, evenly round
}

// Stock is what is ground off the end faces of a body after sintering, mm: the drawn faces are the finished ones, and as pressed the body
// stands out by it.
type Stock struct{ Top, Bottom float64 }

// Kept is a body that a cut leaves alone.
type Kept struct {
	Body  string
	Place Place
}

// Extent is the range of a feature along z.
type Extent struct {
	From, To float64 // mm, where Open is ""
	Open     string  // of a cut: the face it is open to, "top" or "bottom", "through", or "" for From and To
	Depth    float64 // mm, from that face
	Place    Place
}

// Draft leans the walls of a feature: the drawn profile is the wide end.
type Draft struct {
	Angle float64 // degrees, from the pressing axis
	Up    bool    // it narrows upward
	Place Place
}

// Repeat places copies of a feature: each pattern repeats all that those before it give. Without one there is the feature as drawn.
type Repeat []Pattern

// Pattern is one pattern of copies.
type Pattern struct {
	Count   int
	Polar   bool
	About   Point   // polar: the centre
	Over    float64 // polar: degrees; 360 divides the full circle, less puts the last copy at the end
	First   float64 // polar: degrees by which the first copy is turned
	Upright bool    // polar: copies are shifted and not turned
	Step    Point   // linear
	Place   Place
}

// Copies is the number of copies, at least one; past MostCopies it is one more than that.
func (r Repeat) Copies() int {
	n := 1
	for i := range r {
		if n *= max(1, r[i].Count); n > MostCopies {
			return MostCopies + 1
		}
	}
	return n
}

// MostCopies is the most copies of one feature that are read.
const MostCopies = 10_000

// Move is one move of a copy from where its feature is drawn.
type Move struct {
	Turned  bool
	About   Point   // of a turn
	Degrees float64 // counter-clockwise
	Upright bool    // it is shifted to where the turn takes it, and not turned
	Shift   Point   // of a shift
}

// Moves are those that take the feature as drawn to its copy i, in order.
func (r Repeat) Moves(i int) (all []Move) {
	for k := range r {
		p := &r[k]
		n := i % max(1, p.Count)
		i /= max(1, p.Count)
		switch {
		case p.Polar && (n > 0 || p.First != 0):
			all = append(all, Move{Turned: true, About: p.About, Degrees: p.Angle(n), Upright: p.Upright})
		case !p.Polar && n > 0:
			all = append(all, Move{Shift: Point{float64(n) * p.Step.X, float64(n) * p.Step.Y}})
		}
	}
	return all
}

// Angle of copy i of a polar pattern, degrees.
func (p *Pattern) Angle(i int) float64 {
	if p.Over == 360 || p.Count < 2 {
		return p.First + float64(i)*p.Over/float64(max(1, p.Count))
	}
	return p.First + float64(i)*p.Over/float64(p.Count-1)
}

// Face is an end face of a feature.
type Face struct{ Feature, Face string }

// Seat is a face that another part seats on.
type Seat struct {
	Face
	Place Place
}

// Blend is a plan radius where two features meet, or more of them in one corner.
type Blend struct {
	Name   string
	Of     []string
	Radius float64
	Place  Place
}

// Edge is the treatment of a rim where a feature's wall meets an end face, or of the foot where it meets a lower one.
type Edge struct {
	Name    string
	Of      string // a body or cut
	Face    string // "top" or "bottom"; "" at the foot
	Chamfer *Chamfer
	Radius  float64 // mm, of a round; 0 for a chamfer
	Place   Place
}

// Chamfer of a rim, lengths in mm.
type Chamfer struct {
	Width float64 // in plan
	Slope float64 // degrees from the end face
	Flat  float64 // of the punch's rim outside the width, in plan
	Land  float64 // along z below it; 0 where none is given
}

// Rise is the height of the chamfer along z, mm.
func (c *Chamfer) Rise() float64 { return c.Width * math.Tan(c.Slope*math.Pi/180) }

// Across is how wide the treatment of an edge is in plan, a chamfer's flat with it, mm.
func (e *Edge) Across() float64 {
	if c := e.Chamfer; c != nil {
		return c.Width + c.Flat
	}
	return e.Radius
}

// Mark is lettering or a logo on an end face.
type Mark struct {
	Name          string
	On            Face
	Rise          float64 // mm, below zero where it is recessed
	At            Point   // centre of its box
	Length, Width float64 // mm, of its box along x and y
	Text          string
	MadeBy        string // "pressing", "machining" or "sizing"
	Repeat        Repeat
	Place         Place
}

// Side is a feature across the pressing axis.
type Side struct {
	Name    string
	In      string // the feature it is in
	MadeBy  string
	Kind    string  // hole, groove, thread, knurl, flat
	Size    string  // of a thread: M6
	Inside  bool    // of a thread
	Crossed bool    // of a knurl
	Width   float64 // diameter of a hole, width of a groove along z
	Depth   float64 // of a groove
	At      float64 // z of the middle of a hole, groove or flat
	Away    float64 // of a flat: distance from the axis of its feature
	Toward  float64 // of a hole or flat: direction in plan, degrees from x
	Through bool    // of a hole: it goes on past the axis, through the other side
	Place   Place
}

// Dimension is a toleranced size, or a tolerance of form or position.
type Dimension struct {
	Name      string
	Kind      string  // "size", "flatness", "runout" or "coaxiality"
	Of        string  // as written: a number of the file, or a feature or face
	Feature   string  // the feature that it belongs to
	Axial     bool    // along the pressing axis
	Nominal   float64 // mm, of a size
	Low, High float64 // mm, deviations of a size from its nominal
	Width     float64 // mm, the whole tolerance
	Class     string  // of a size, where it is given by one
	To        string  // the feature that a run-out or coaxiality refers to
	Place     Place
}
