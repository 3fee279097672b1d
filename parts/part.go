// Package parts holds the authored part: what the designer wrote in a part file, in the designer's own terms, with
// the place in the file of everything that a finding may point at.
//
// A part is bodies of material joined where they overlap or touch, and cuts taken out of the joined bodies. Both are
// plan profiles with an extent along z, the pressing axis, which grows toward the upper punch. Parse turns a part
// file into a Part and reports everything that is wrong with it at once. Lengths in a Part are millimetres, angles
// degrees, whatever units the file is written in. The geometry that follows from a part is the business of other
// packages: this one knows no more than the file says.
package parts

import "corerod/parts/source"

// Problems are faults of a part file, each with its place.
type Problems = source.Problems

// Problem is one fault of a part file, with its place.
type Problem = source.Problem

// Part is one part file.
type Part struct {
	File     string
	Name     string
	Title    string
	Drawing  string
	Revision string
	Customer string
	Unit     string // "mm" or "in": what the file is written in
	Material Material
	Pressing string // "both" or "top"
	Sized    bool
	Quantity float64 // parts a year; 0 when not stated
	Seats    []Seat
	Bodies   []*Feature
	Cuts     []*Feature
	Blends   []Blend
	Sides    []Side
	Edges    []Edge
	Marks    []Mark
	Hold     []string
	Place    Place

	Dimensions []Dimension

	root *source.Node // of the file; nil once it was let go of
}

// Material is what the file says of the powder.
type Material struct {
	Name    string
	Density float64 // g/cm3, sintered; 0 when not stated
	Place   Place
	At      Place // of the density
}

// Place is where something stands in the part file.
type Place struct {
	Line, Column int
	Path         string // keys joined by points: bodies.hub
}

// Face is an end face of a feature.
type Face struct{ Feature, Face string }

// Seat is a face that another part seats on.
type Seat struct {
	Face
	Place Place
}

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
	Repeat  Repeat
}

// Extent is the range of a feature along z.
type Extent struct {
	From, To float64 // mm, where Open is ""
	Open     string  // of a cut: the face it is open to, "top" or "bottom", "through", or "" for From and To
	Depth    float64 // mm, from that face
	Place    Place
}

// Repeat places copies of a feature. The zero value is one copy, as drawn.
type Repeat struct {
	Count   int
	Polar   bool
	About   Point   // polar: the centre
	Over    float64 // polar: degrees; 360 divides the full circle, less puts the last copy at the end
	Upright bool    // polar: copies are shifted and not turned
	Step    Point   // linear
	Place   Place
}

// Copies is the number of copies, at least one.
func (r Repeat) Copies() int { return max(1, r.Count) }

// Angle of copy i of a polar repeat, degrees.
func (r Repeat) Angle(i int) float64 {
	if r.Over == 360 || r.Count < 2 {
		return float64(i) * r.Over / float64(max(1, r.Count))
	}
	return float64(i) * r.Over / float64(r.Count-1)
}

// Point in plan, mm.
type Point struct{ X, Y float64 }

// Profile is a plan shape: one of the types below.
type Profile interface{ profile() }

// Circle of a diameter.
type Circle struct {
	Diameter float64
	At       Point
}

// Rectangle with length along x and width along y, turned by degrees, and one corner radius.
type Rectangle struct {
	Length, Width, Turn, Corner float64
	At                          Point
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

// Path of lines and arcs.
type Path struct {
	Start  Point
	Steps  []Step
	Corner float64
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

// Flatted is a circle with one or two flats at distances from its centre.
type Flatted struct {
	Diameter, Turn, Corner float64
	Flats                  []float64
	At                     Point
}

func (Circle) profile()    {}
func (Rectangle) profile() {}
func (Slot) profile()      {}
func (Polygon) profile()   {}
func (Path) profile()      {}
func (Hexagon) profile()   {}
func (Flatted) profile()   {}

// Blend is a plan radius where two features meet.
type Blend struct {
	Name   string
	Of     [2]string
	Radius float64
	Place  Place
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
	Place   Place
}

// Features returns bodies, then cuts, in order of declaration.
func (p *Part) Features() []*Feature {
	return append(append([]*Feature(nil), p.Bodies...), p.Cuts...)
}

// PlaceOf finds where a named feature, side, edge or mark stands.
func (p *Part) PlaceOf(name string) (Place, bool) {
	for _, f := range p.Features() {
		if f.Name == name {
			return f.Place, true
		}
	}
	for i := range p.Sides {
		if p.Sides[i].Name == name {
			return p.Sides[i].Place, true
		}
	}
	for i := range p.Edges {
		if p.Edges[i].Name == name {
			return p.Edges[i].Place, true
		}
	}
	for i := range p.Marks {
		if p.Marks[i].Name == name {
			return p.Marks[i].Place, true
		}
	}
	return Place{}, false
}

// Problem makes a problem at a place of the part file.
func (p *Part) Problem(at Place, message string) source.Problem {
	return source.Problem{File: p.File, Line: at.Line, Column: at.Column, Message: message}
}
