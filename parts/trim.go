package parts

import (
	"math"
	"strings"

	"corerod/parts/source"
)

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

func (r *reader) edge(name string, at Place, n *source.Node) {
	what := "the edge " + name
	if !r.Map(n, what, forms().edge.Known()...) {
		return
	}
	e := Edge{Name: name, Place: at}
	if v := r.Require(n, what, "of"); v != nil {
		e.Of, _ = r.featureName(v)
	}
	foot := n.At("at")
	switch face := n.At("face"); {
	case face != nil && foot != nil:
		r.Report(n.KeyNode("at"), "%s has both `face` and `at`; give `face: top`, `face: bottom` or `at: foot`", what)
	case face != nil:
		e.Face, _ = r.Word(face, "face", "top", "bottom")
	case foot != nil:
		r.Word(foot, "at", "foot")
	default:
		r.Report(n, "%s needs `face: top`, `face: bottom` or `at: foot`", what)
	}
	treatment := r.sole(n, what, "treatment", []string{"chamfer", "round"}, nil)
	switch {
	case treatment == nil:
	case treatment.Value == "round":
		v := n.At("round")
		if r.Map(v, "round", forms().round.Known()...) {
			if m := r.Require(v, "round", "radius"); m != nil {
				e.Radius = r.size(m, "radius")
			}
		}
	case foot != nil:
		r.Report(treatment, "the foot of a wall takes a `round`, not a chamfer")
	default:
		e.Chamfer = r.chamfer(n.At("chamfer"))
	}
	for i := range r.part.Edges {
		if other := &r.part.Edges[i]; e.Of != "" && other.Of == e.Of && other.Face == e.Face {
			r.Report(n, "%s treats the same edges as %s; give one of them", what, other.Name)
		}
	}
	r.part.Edges = append(r.part.Edges, e)
}

func (r *reader) chamfer(n *source.Node) *Chamfer {
	c := &Chamfer{}
	if !r.Map(n, "chamfer", forms().chamfer.Known()...) {
		return c
	}
	if v := r.Require(n, "chamfer", "width"); v != nil {
		c.Width = r.size(v, "width")
	}
	if v := r.Require(n, "chamfer", "slope"); v != nil {
		c.Slope = r.angle(v, "slope", 1, 89)
	}
	if v := n.At("slope_from"); v != nil {
		if w, ok := r.Word(v, "slope_from", "face", "axis"); ok && w == "axis" {
			c.Slope = 90 - c.Slope
		}
	}
	for key, to := range map[string]*float64{"flat": &c.Flat, "land": &c.Land} {
		v := n.At(key)
		if v == nil {
			continue
		}
		if *to = r.length(v, key); *to < 0 {
			r.Report(v, "%s is %s; it is 0 or more", key, source.Quote(v.Value))
		}
	}
	return c
}

func (r *reader) mark(name string, at Place, n *source.Node) {
	what := "the mark " + name
	if !r.Map(n, what, forms().mark.Known()...) {
		return
	}
	m := Mark{Name: name, Place: at, MadeBy: "pressing"}
	if v := r.Require(n, what, "on"); v != nil {
		m.On = r.face(v, "on")
	}
	if key := r.sole(n, what, "height", []string{"raised", "recessed"}, nil); key != nil {
		if m.Rise = r.size(n.At(key.Value), key.Value); key.Value == "recessed" {
			m.Rise = -m.Rise
		}
	}
	if v := r.Require(n, what, "box"); v != nil {
		r.box(&m, v)
	}
	if v := n.At("text"); v != nil {
		m.Text, _ = r.Text(v, "text")
	}
	if v := n.At("made_by"); v != nil {
		if w, ok := r.Word(v, "made_by", "pressing", "machining", "sizing"); ok {
			m.MadeBy = w
		}
	}
	if v := n.At("repeat"); v != nil {
		m.Repeat = r.repeat(v)
		m.Repeat.Place = Place{v.Line, v.Column, at.Path + ".repeat"}
		if m.Repeat.Polar {
			m.Repeat.Upright = true // a box lies along x and y
		}
	}
	r.part.Marks = append(r.part.Marks, m)
}

// box reads [x, y, length, width], x and y of its centre.
func (r *reader) box(m *Mark, n *source.Node) {
	items, ok := r.List(n, "box")
	if !ok {
		return
	}
	if len(items) != 4 {
		r.Report(n, "box needs four numbers, [x, y, length, width] with x and y of its centre, not %d", len(items))
		return
	}
	m.At = Point{r.length(items[0], "box[0]"), r.length(items[1], "box[1]")}
	m.Length, m.Width = r.size(items[2], "box[2]"), r.size(items[3], "box[3]")
}

// face reads an end face of a feature: NAME.top or NAME.bottom.
func (r *reader) face(n *source.Node, what string) (f Face) {
	t, ok := r.Text(n, what)
	if !ok {
		return f
	}
	name, face, _ := strings.Cut(t, ".")
	if face != "top" && face != "bottom" {
		r.Report(n, "%s is %s; write a feature's face: NAME.top or NAME.bottom", what, source.Quote(t))
		return f
	}
	named := *n
	named.Value = name
	if _, ok := r.featureName(&named); !ok {
		return f
	}
	return Face{name, face}
}
