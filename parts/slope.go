package parts

import (
	"math"
	"slices"

	"corerod/parts/source"
)

// Draft leans the walls of a feature: the drawn profile is the wide end.
type Draft struct {
	Angle float64 // degrees, from the pressing axis
	Up    bool    // it narrows upward
	Place Place
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

func (Turned) profile() {}
func (Ball) profile()   {}

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

// Sloped tells whether a feature's outline changes along z.
func (f *Feature) Sloped() bool {
	switch f.Profile.(type) {
	case Turned, Ball:
		return true
	}
	return f.Draft != nil && f.Draft.Angle > 0 || f.Section != ""
}

// Round tells whether every section of a feature is round.
func (f *Feature) Round() bool {
	switch f.Profile.(type) {
	case Circle, Turned, Ball:
		return true
	}
	return false
}

func (r *reader) draft(f *Feature, n *source.Node) {
	v := n.At("draft")
	if v == nil || !r.Map(v, "draft", forms().draft.Known()...) {
		return
	}
	d := &Draft{Place: Place{v.Line, v.Column, f.Place.Path + ".draft"}}
	if a := r.Require(v, "draft", "angle"); a != nil {
		d.Angle = r.angle(a, "angle", 0, 89)
	}
	if w := r.Require(v, "draft", "narrows"); w != nil {
		word, _ := r.Word(w, "narrows", "up", "down")
		d.Up = word == "up"
	}
	if g, ok := f.Profile.(Gear); ok && g.Helix != 0 && d.Angle > 0 {
		r.Report(n.KeyNode("draft"), "a helical gear cannot have a draft; leave one of them out")
	}
	f.Draft = d
}

// section reads the cross-section of a groove.
func (r *reader) section(f *Feature, n *source.Node) {
	v := n.At("section")
	if v == nil {
		return
	}
	f.Section, _ = r.Word(v, "section", "round", "v")
	switch {
	case f.Extent.Open != "top" && f.Extent.Open != "bottom":
		r.Report(n.KeyNode("section"), "`section` is of a groove in a face: it needs `open` and `depth`")
	case f.Draft != nil:
		r.Report(n.KeyNode("section"), "a groove has a `section` or a `draft`; give one")
	}
}

func (r *reader) turned(n *source.Node) Profile {
	t := Turned{}
	if v := n.At("at"); v != nil {
		t.At = r.point(v, "at")
	}
	v := r.Require(n, "turned", "section")
	if v == nil {
		return t
	}
	items, ok := r.List(v, "section")
	if ok && len(items) < 3 {
		r.Report(v, "section needs at least 3 points [radius, z], not %d", len(items))
	}
	if len(items) > MostVertices {
		r.Report(v, "section has %d points; at most %d are read", len(items), MostVertices)
		return t
	}
	for i, it := range items {
		switch {
		case it.Shape == source.Sequence && i == 0:
			t.Start = r.point(it, "a point of the section")
		case it.Shape == source.Sequence:
			t.Steps = append(t.Steps, Step{To: r.point(it, "a point of the section")})
		case i == 0:
			r.Report(it, "section begins with a point [radius, z]")
		default:
			t.Steps = append(t.Steps, r.step(it))
		}
	}
	for i, p := range t.Points() {
		if p.X < 0 {
			r.Report(v, "point %d of the section has the radius %.6g; it is 0 or more", i+1, p.X)
		}
	}
	return t
}

func (r *reader) ball(n *source.Node) Profile {
	b := Ball{}
	if v := r.Require(n, "ball", "diameter"); v != nil {
		b.Diameter = r.size(v, "diameter")
	}
	for key, to := range map[string]*float64{"band": &b.Band, "z": &b.Z} {
		if v := n.At(key); v != nil {
			*to = r.length(v, key)
		}
	}
	if v := n.At("band"); v != nil && (b.Band < 0 || b.Band >= b.Diameter && b.Diameter > 0) {
		r.Report(v, "band is %s; it is at least 0 and less than the diameter", source.Quote(v.Value))
	}
	if v := n.At("at"); v != nil {
		b.At = r.point(v, "at")
	}
	return b
}

// standing gives a feature that is drawn in section its extent, and refuses another one.
func (r *reader) standing(f *Feature, what string, n *source.Node) bool {
	low, high := 0.0, 0.0
	switch p := f.Profile.(type) {
	case Turned:
		low, high = math.Inf(1), math.Inf(-1)
		for _, q := range p.Points() {
			low, high = math.Min(low, q.Y), math.Max(high, q.Y)
		}
	case Ball:
		low, high = p.Z-p.Diameter/2, p.Z+p.Diameter/2
	default:
		return false
	}
	for _, key := range []string{"from", "to", "open", "depth", "draft", "section"} {
		if k := n.KeyNode(key); k != nil {
			r.Report(k, "%s is drawn in section, which says where it begins and ends; leave `%s` out", what, key)
		}
	}
	f.Extent = Extent{From: low, To: high, Place: f.Shape}
	if high-low <= LeastLength {
		r.Report(&source.Node{Line: f.Shape.Line, Column: f.Shape.Column}, "%s has no height", what)
	}
	return true
}

// sectionKeys are the profiles that are drawn in section.
var sectionKeys = []string{"turned", "ball"}

// inSection tells whether a node has a profile drawn in section.
func inSection(n *source.Node) bool {
	return slices.ContainsFunc(sectionKeys, func(k string) bool { return n.KeyNode(k) != nil })
}
