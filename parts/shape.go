package parts

import (
	"cmp"
	"slices"
	"strings"

	"corerod/parts/source"
)

// shape reads the one plan profile of a feature.
func (r *reader) shape(f *Feature, what string, n *source.Node) {
	key := r.sole(n, what, "profile", profileKeys, nil)
	if key == nil {
		return
	}
	f.Shape = Place{key.Line, key.Column, f.Place.Path + "." + key.Value}
	before := len(r.Problems)
	p := r.profile(key.Value, n.At(key.Value))
	if len(r.Problems) == before {
		f.Profile = p
	}
}

// sole finds the one key of a kind that a construct has; further kinds are known, and refused elsewhere.
func (r *reader) sole(n *source.Node, what, kind string, keys, further []string) *source.Node {
	var given []*source.Node
	for _, key := range slices.Concat(keys, further) {
		if k := n.KeyNode(key); k != nil {
			given = append(given, k)
		}
	}
	slices.SortFunc(given, func(a, b *source.Node) int { return cmp.Or(a.Line-b.Line, a.Column-b.Column) })
	switch len(given) {
	case 0:
		r.Report(n, "%s needs a %s: one of %s", what, kind, strings.Join(keys, ", "))
	case 1:
		return given[0]
	default:
		r.Report(given[1], "%s has a second %s, `%s` beside `%s`; give one", what, kind, given[1].Value, given[0].Value)
	}
	return nil
}

func (r *reader) profile(key string, n *source.Node) Profile {
	at := func() (p Point) {
		if v := n.At("at"); v != nil {
			p = r.point(v, "at")
		}
		return p
	}
	size := func(k string) (v float64) {
		if m := r.Require(n, key, k); m != nil {
			v = r.size(m, k)
		}
		return v
	}
	turn := func() (v float64) {
		if m := n.At("turn"); m != nil {
			v = r.angle(m, "turn", -360, 360)
		}
		return v
	}
	corner := func() (v float64) {
		if m := n.At("corner"); m != nil {
			v = r.radius(m)
		}
		return v
	}
	if !r.Map(n, key, forms().profile[key].Known()...) {
		return nil
	}
	switch key {
	case "circle":
		return Circle{Diameter: size("diameter"), At: at()}
	case "rectangle":
		return Rectangle{Length: size("length"), Width: size("width"), Turn: turn(), Corner: corner(), At: at()}
	case "slot":
		return Slot{Length: size("length"), Width: size("width"), Turn: turn(), At: at()}
	case "hexagon":
		return Hexagon{AcrossFlats: size("across_flats"), Turn: turn(), Corner: corner(), At: at()}
	case "flatted":
		return Flatted{Diameter: size("diameter"), Flats: r.flats(n), Turn: turn(), Corner: corner(), At: at()}
	case "turned":
		return r.turned(n)
	case "ball":
		return r.ball(n)
	case "polygon":
		return r.polygon(n)
	case "path":
		return r.path(n, corner())
	case "gear", "spline", "serration":
		return r.toothed(key, n)
	}
	return nil
}

// radius reads a corner radius: 0 or more.
func (r *reader) radius(n *source.Node) float64 {
	v := r.length(n, "corner")
	if v < 0 {
		r.Report(n, "corner is %s; a radius is not negative", source.Quote(n.Value))
	}
	return v
}

func (r *reader) flats(n *source.Node) (fs []float64) {
	v := r.Require(n, "flatted", "flats")
	if v == nil {
		return nil
	}
	items, ok := r.List(v, "flats")
	if ok && (len(items) < 1 || len(items) > 2) {
		r.Report(v, "flats needs one or two distances from the centre, not %d", len(items))
	}
	for _, it := range items {
		fs = append(fs, r.size(it, "a flat's distance"))
	}
	return fs
}

func (r *reader) polygon(n *source.Node) Profile {
	var p Polygon
	v := r.Require(n, "polygon", "points")
	if v == nil {
		return p
	}
	items, ok := r.List(v, "points")
	if ok && len(items) < 3 {
		r.Report(v, "points needs at least 3 points, not %d", len(items))
	}
	if len(items) > MostVertices {
		r.Report(v, "points has %d points; at most %d are read", len(items), MostVertices)
		return p
	}
	for _, it := range items {
		p.Points = append(p.Points, r.point(it, "a point"))
	}
	c := n.At("corner")
	switch {
	case c == nil:
	case c.Shape == source.Sequence:
		if len(c.Items) != len(items) {
			r.Report(c, "corner has %d radii for %d points; give one for each point, or one for all", len(c.Items), len(items))
		}
		for _, it := range c.Items {
			p.Corners = append(p.Corners, r.radius(it))
		}
	default:
		p.Corners = []float64{r.radius(c)}
	}
	return p
}

func (r *reader) path(n *source.Node, corner float64) Profile {
	p := Path{Corner: corner}
	if v := r.Require(n, "path", "start"); v != nil {
		p.Start = r.point(v, "start")
	}
	v := r.Require(n, "path", "steps")
	if v == nil {
		return p
	}
	items, ok := r.List(v, "steps")
	if ok && len(items) == 0 {
		r.Report(v, "steps is empty; a path needs at least two steps")
	}
	if len(items) > MostVertices {
		r.Report(v, "steps has %d steps; at most %d are read", len(items), MostVertices)
		return p
	}
	for _, it := range items {
		p.Steps = append(p.Steps, r.step(it))
	}
	return p
}

func (r *reader) step(n *source.Node) (s Step) {
	if n.Shape == source.Map && n.KeyNode("line") != nil {
		if r.Map(n, "a line step", forms().line.Known()...) {
			s.To = r.point(n.At("line"), "line")
		}
		return s
	}
	if !r.Map(n, "a step", append(forms().line.Known(), forms().arc.Known()...)...) {
		return s
	}
	if v := r.Require(n, "a step", "arc"); v != nil {
		s.To = r.point(v, "arc")
	}
	if v := r.Require(n, "an arc step", "radius"); v != nil {
		s.Radius = r.size(v, "radius")
	}
	if v := r.Require(n, "an arc step", "turn"); v != nil {
		w, _ := r.Word(v, "turn", "cw", "ccw")
		s.Clockwise = w == "cw"
	}
	if v := n.At("large"); v != nil {
		s.Large, _ = r.Boolean(v, "large")
	}
	return s
}
