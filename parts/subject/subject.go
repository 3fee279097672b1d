// Package subject holds what rules judge: one struct for each kind of subject (a wall, a hole, a corner) and one
// declaration for each of its measures (name, unit, how it is found, whether it can be absent).
//
// The types of rule expressions, the JSON of measurements and the reference of measures all come from these
// declarations, so a measure exists once. Lengths are millimetres, areas mm2, volumes mm3, masses g, densities
// g/cm3 and angles degrees, whatever units a part file is written in. The z axis is the pressing axis.
package subject

import "math"

// Subject is one thing that a rule can judge.
type Subject interface {
	Kind() *Kind
	Place() *Common
}

// Common is what every subject has: its name, the features that make it, and where it lies.
type Common struct {
	Name     string   // readable and stable: feature names in alphabetical order, with an ordinal where needed
	Features []string // names of the authored features that make it, in order of declaration
	X, Y     float64  // mm, in part coordinates
	ZLow     float64  // mm
	ZHigh    float64  // mm
	Places   []Point  // every place, where several subjects alike are reported as one; empty for a single one

	Footprints []Footprint // where it lies in plan, by place; none of a kind without an outline of its own
	of         Subject     // that this one is a copy of; nil for a subject of a part's list
}

// Place returns the common fields; it makes every struct that embeds Common half a Subject.
func (c *Common) Place() *Common { return c }

// Point is one place on a part, mm.
type Point struct{ X, Y, ZLow, ZHigh float64 }

// Spot tells one subject at one place: what it is, what it is called and where it lies.
type Spot struct {
	Kind, Name string
	Features   []string
	Point
}

// SpotOf is the spot of a subject, the first of several.
func SpotOf(s Subject) Spot {
	c := s.Place()
	return Spot{s.Kind().Name, c.Name, c.Features, Point{c.X, c.Y, c.ZLow, c.ZHigh}}
}

// SpotsOf are the spots of a subject, one for each of its places.
func SpotsOf(s Subject) []Spot {
	at := SpotOf(s)
	if len(s.Place().Places) == 0 {
		return []Spot{at}
	}
	var all []Spot
	for _, p := range s.Place().Places {
		at.Point = p
		all = append(all, at)
	}
	return all
}

// Optional is a measure that a subject may lack. The zero value is absent.
type Optional struct {
	Value float64
	Known bool
}

// Some is a known optional measure.
func Some(v float64) Optional { return Optional{v, true} }

// Snap rounds a measure to 1e-9 of its unit, so that a part drawn at a limit meets it.
// Magnitudes of 1e6 and more, where a double has no finer digits to round, come back unchanged.
func Snap(v float64) float64 {
	if math.Abs(v) >= 1e6 {
		return v
	}
	return math.Round(v*1e9)/1e9 + 0 // + 0 turns a negative zero into zero
}

// Part is the whole part, with every list of subjects found on it.
type Part struct {
	Common
	Title, Drawing, Revision, Customer          string // of the part file, "" where it gives none
	Height, Length, Width, Outside, Slenderness float64
	Volume, PlanArea, Surface                   float64
	Mass, Density, Porosity, Quantity           Optional
	GreenDensity, GreenStrength, Force, Band    Optional
	LevelsTop, LevelsBottom                     float64
	PunchesTop, PunchesBottom, Class            float64
	Pressing, WayUp                             string
	Sized, TurnedBetter                         bool
	Moved                                       Optional
	OpenJoints                                  []string

	Walls     []*Wall
	Holes     []*Hole
	Gaps      []*Gap
	Corners   []*Corner
	Levels    []*Level
	Steps     []*Step
	Traps     []*Trap
	Crossings []*Crossing
	Reliefs   []*Relief
	Columns   []*Column

	Feathers   []*Feather
	Flanges    []*Flange
	Bosses     []*Boss
	Grooves    []*Groove
	Tapers     []*Taper
	Rims       []*Rim
	Marks      []*Mark
	Dimensions []*Dimension
	Teeth      []*Teeth

	Punches []*Punch
	Cores   []*Core
	Presses []*Press

	Finished []*Finished
	Powders  []*Powder
	Bulges   []*Bulge
}

// Wall is a local minimum of material thickness between two pieces of the boundary, as pressed.
type Wall struct {
	Common
	Thickness, Height, Length, Ratio float64
	Between                          []string
	Web, PlainBush, RunsOut          bool
	Square, Angle, AtRim             Optional
}

// Hole is a void closed in plan.
type Hole struct {
	Common
	Width, Depth, Ratio, Share, Edge, Draft float64
	Bore, Floor, WebAcross                  Optional
	Through, Keyed, OwnPunch                bool
	Open                                    string
}

// Gap is a neck of void, where a tool member must be thin.
type Gap struct {
	Common
	Width, Depth, Ratio float64
	Member              string
	TongueRatio         Optional
}

// Corner is a corner of a boundary in plan.
type Corner struct {
	Common
	Angle, Radius        float64
	Inside, Joint, InKey bool
}

// Level is a distinct end face.
type Level struct {
	Common
	Face            string
	Z, Area, Height float64
	Outside, Plate  float64
}

// Step is a pair of adjacent levels on one face.
type Step struct {
	Common
	Rise, Share, LocalShare, Ledge, Draft float64
	ColumnRatio                           float64
	OwnPunch                              bool
	FootRadius                            Optional
	Declared                              string
}

// Trap is a void closed along the pressing axis.
type Trap struct {
	Common
	Height, Area float64
	Opens        string
}

// Crossing is a feature across the pressing axis.
type Crossing struct {
	Common
	Form, MadeBy         string
	Width, Depth, Toward Optional
	Cover                Optional
	Crossed              bool
}

// Relief is what a punch forms in an end face of a body: a tilt, teeth or a ramp.
type Relief struct {
	Common
	Form, Face         string
	Rise, Share, Slope float64
	LocalShare, Floor  float64
	Width              Optional
}

// Column is a region of the plan with one height.
type Column struct {
	Common
	Height, Area, Perimeter, Slenderness, Standing float64
	Fill, FillRatio, Spread                        Optional
	Need, Moved, LocalDensity                      Optional
	Punch                                          string
}

// Feather is a thin tip in plan, or a ridge or point in space, of the material or of a tool member beside it.
type Feather struct {
	Common
	Angle, Radius float64
	Of            string
	Space         bool
}

// Flange is an overhanging plate beside a taller column.
type Flange struct {
	Common
	Thickness, Overhang, Ratio float64
	Square                     Optional
	DieShelf                   bool
}

// Boss is a small island on an end face.
type Boss struct {
	Common
	Face                      string
	Rise, Share, Width, Draft float64
}

// Groove is a narrow recess in an end face.
type Groove struct {
	Common
	Face                       string
	Depth, Share, Width, Draft float64
	Curved                     bool
}

// Taper is a straight sloped wall.
type Taper struct {
	Common
	Angle                  float64
	Narrows, FormedBy      string
	Reverse, ReverseTurned bool
	Land                   Optional
}

// Rim is an edge of an end face.
type Rim struct {
	Common
	Treatment, Face, Member        string
	Width, Rise, Slope, Flat, Land Optional
}

// Mark is lettering or a logo on an end face.
type Mark struct {
	Common
	Rise, Share float64
	Seating     bool
}

// Dimension is a toleranced size, or a tolerance of form or position.
type Dimension struct {
	Common
	Nominal, Grade, Extent  Optional
	Width                   float64
	Form, Direction, MadeBy string
	Members                 []string
}

// Teeth are those of one gear, spline or serration.
type Teeth struct {
	Common
	Module                                          Optional
	Count, Helix                                    float64
	TipRadius, RootRadius, TipThickness, SpaceWidth float64
	TopLand                                         Optional
	RootWall, Lead, RootRatio                       Optional
	RootWallTo                                      []string
	Internal                                        bool
}

// Punch is one upper or lower punch.
type Punch struct {
	Common
	Face                                       string
	Area, Section, Level                       float64
	StepSection, Fill, Stroke, Pressure, Force Optional
	StrokeLoosest, HeightShare, PocketRatio    Optional
	BucklingShare                              Optional
	Upper                                      bool
}

// Core is the core rod of one hole.
type Core struct {
	Common
	Width, Length, Slenderness float64
	Tension                    Optional
}

// Press is the press chosen from those of the packs in force.
type Press struct {
	Common
	Capacity, Load, Fill, FillShare, Ejection, EjectionShare, Upper, Lower float64
	Serves                                                                 bool
}

// Finished is the part after machining, sizing and grinding.
type Finished struct {
	Common
	Height, Volume, PlanArea, Surface float64
	Mass                              Optional
}

// Bulge is where the outside of the part is widest, with slopes that narrow it upward and downward from there.
type Bulge struct {
	Common
	Band, Lip float64
}

// Powder is the material that the part file names.
type Powder struct {
	Common
	Known   bool
	Nearest []string
}

// AsPressed are the figures of a part that is finished as pressed.
func (p *Part) AsPressed() *Finished {
	f := &Finished{Common: p.Common, Height: p.Height, Volume: p.Volume, PlanArea: p.PlanArea, Surface: p.Surface, Mass: p.Mass}
	f.Name, f.Places = "as pressed", nil
	return f
}

// The kinds, in the order of the reference.
func (*Part) Kind() *Kind      { return PartKind }
func (*Wall) Kind() *Kind      { return WallKind }
func (*Hole) Kind() *Kind      { return HoleKind }
func (*Gap) Kind() *Kind       { return GapKind }
func (*Corner) Kind() *Kind    { return CornerKind }
func (*Level) Kind() *Kind     { return LevelKind }
func (*Step) Kind() *Kind      { return StepKind }
func (*Trap) Kind() *Kind      { return TrapKind }
func (*Crossing) Kind() *Kind  { return CrossingKind }
func (*Relief) Kind() *Kind    { return ReliefKind }
func (*Column) Kind() *Kind    { return ColumnKind }
func (*Feather) Kind() *Kind   { return FeatherKind }
func (*Flange) Kind() *Kind    { return FlangeKind }
func (*Boss) Kind() *Kind      { return BossKind }
func (*Groove) Kind() *Kind    { return GrooveKind }
func (*Taper) Kind() *Kind     { return TaperKind }
func (*Rim) Kind() *Kind       { return RimKind }
func (*Mark) Kind() *Kind      { return MarkKind }
func (*Dimension) Kind() *Kind { return DimensionKind }
func (*Teeth) Kind() *Kind     { return TeethKind }
func (*Punch) Kind() *Kind     { return PunchKind }
func (*Core) Kind() *Kind      { return CoreKind }
func (*Press) Kind() *Kind     { return PressKind }
func (*Finished) Kind() *Kind  { return FinishedKind }
func (*Powder) Kind() *Kind    { return PowderKind }
func (*Bulge) Kind() *Kind     { return BulgeKind }
