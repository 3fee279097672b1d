// Package parts holds the authored part: what the designer wrote in a part file, in the designer's own terms, with
// the place in the file of everything that a finding may point at.
//
// A part is bodies of material joined where they overlap or touch, and cuts taken out of the joined bodies. Both are
// plan profiles with an extent along z, the pressing axis, which grows toward the upper punch. Lengths are millimetres,
// angles degrees, whatever units the file is written in. These are plain values: package form declares the keys of a part
// file and reads one, and the geometry that follows from a part is the business of other packages.
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
	WayUp    string // "best", "as-drawn" or "turned-over"
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

	Root *source.Node // of the file; nil once it was let go of
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

// Features returns bodies, then cuts, in order of declaration.
func (p *Part) Features() []*Feature {
	return append(append([]*Feature(nil), p.Bodies...), p.Cuts...)
}

// WithoutFile is the part without the tree of its file, which takes more memory than the part.
func (p *Part) WithoutFile() *Part {
	q := *p
	q.Root = nil
	return &q
}

// PlaceOf finds where a named feature, side, edge or mark stands.
func (p *Part) PlaceOf(name string) (Place, bool) {
	for _, f := range p.Features() {
		if f.Name == name {
			return f.Place, true
		}
		if f.Island != nil && f.Island.Name == name {
			return f.Island.Place, true
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
