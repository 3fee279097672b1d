package parts

import (
	"fmt"
	"math"
	"slices"

	"corerod/parts/source"
)

// Bounds of a part, beyond those of any file.
const (
	MostLength   = 1e6    // mm, of any number
	LeastLength  = 1e-6   // mm, of any number but 0
	MostVertices = 10_000 // of all profiles after repeats
	Slices       = 8      // of a sloped wall, which count as so many profiles
	leastSpread  = 1e-3   // degrees, over which copies are spread
)

// inch in mm.
const inch = 25.4

// Parse reads a part file. The part is complete only where there are no problems; beside problems it holds what could
// be read, so that a caller can look for more of them.
func Parse(file string, b []byte) (*Part, source.Problems) {
	root, ps := source.Parse(file, b)
	return decode(file, root, ps)
}

// IsPart tells a part file from other YAML: it has a `part` key.
func IsPart(root *source.Node) bool { return root.At("part") != nil }

type reader struct {
	source.Reader
	part  *Part
	scale float64 // mm in one unit of the file
	names map[string]int
	nodes map[string]*source.Node // of features, by name
}

func decode(file string, root *source.Node, ps source.Problems) (*Part, source.Problems) {
	if root == nil {
		return nil, ps.Sorted()
	}
	r := &reader{Reader: source.Reader{File: file, Problems: ps}, scale: 1, names: map[string]int{}, nodes: map[string]*source.Node{}}
	r.part = &Part{File: file, Unit: "mm", Pressing: "both", Place: Place{root.Line, root.Column, ""}, root: root}
	r.root(root)
	return r.part, r.Problems.Sorted()
}

func (r *reader) root(n *source.Node) {
	p := r.part
	if !r.Map(n, "a part file", forms().part.Known()...) {
		return
	}
	if f := n.At("format"); f != nil {
		if v, ok := r.Number(f, "format"); ok && v != 1 {
			r.Report(f, "format %s is not known; this version reads format 1", source.Quote(f.Value))
		}
	}
	if v := r.Require(n, "a part file", "part"); v != nil {
		p.Name, _ = r.Name(v, "the part's name")
		p.Place = Place{v.Line, v.Column, "part"}
	}
	if u := r.Require(n, "a part file", "units"); u != nil {
		if w, ok := r.Word(u, "units", "mm", "in"); ok && w == "in" {
			p.Unit, r.scale = "in", inch
		}
	}
	for key, to := range map[string]*string{"title": &p.Title, "drawing": &p.Drawing, "revision": &p.Revision, "customer": &p.Customer} {
		if v := n.At(key); v != nil {
			*to, _ = r.Text(v, key)
		}
	}
	if v := n.At("material"); v != nil {
		r.material(v)
	}
	if v := n.At("pressing"); v != nil {
		if w, ok := r.Word(v, "pressing", "both", "top"); ok {
			p.Pressing = w
		}
	}
	if v := n.At("sized"); v != nil {
		p.Sized, _ = r.Boolean(v, "sized")
	}
	if v := n.At("quantity"); v != nil {
		p.Quantity = r.positive(v, "quantity", 1e12)
	}
	p.Bodies = r.features(n, "bodies")
	if b := r.Require(n, "a part file", "bodies"); b != nil && b.Shape == source.Map && len(b.Keys) == 0 {
		r.Report(b, "bodies is empty; a part has at least one body")
	}
	p.Cuts = r.features(n, "cuts")
	r.each(n, "blends", r.blend)
	r.each(n, "edges", r.edge)
	r.each(n, "sides", r.side)
	r.each(n, "marks", r.mark)
	r.seats(n)
	r.dimensions(n)
	r.hold(n)
	r.countVertices(n)
}

func (r *reader) material(n *source.Node) {
	if !r.Map(n, "material", forms().material.Known()...) {
		return
	}
	r.part.Material.Place = Place{n.Line, n.Column, "material"}
	if v := n.At("name"); v != nil {
		r.part.Material.Name, _ = r.Text(v, "the material's name")
	}
	if v := n.At("density"); v != nil {
		r.part.Material.Density = r.positive(v, "density", 25)
		r.part.Material.At = Place{v.Line, v.Column, "material.density"}
	}
}

// each reads the named entries of one section, in order.
func (r *reader) each(root *source.Node, section string, read func(name string, at Place, n *source.Node)) {
	n := root.At(section)
	if n == nil {
		return
	}
	if n.Shape != source.Map {
		r.Map(n, section)
		return
	}
	for i, k := range n.Keys {
		name, ok := r.Name(k, "a name in "+section)
		if !ok {
			continue
		}
		if line, taken := r.names[name]; taken {
			r.Report(k, "the name `%s` is already given in line %d; names are unique over bodies, cuts, blends, edges, sides and marks", name, line)
			continue
		}
		r.names[name] = k.Line
		r.nodes[name] = n.Items[i]
		read(name, Place{k.Line, k.Column, section + "." + name}, n.Items[i])
	}
}

func (r *reader) features(root *source.Node, section string) (fs []*Feature) {
	r.each(root, section, func(name string, at Place, n *source.Node) {
		if f := r.feature(section, name, at, n); f != nil {
			fs = append(fs, f)
		}
	})
	return fs
}

var profileKeys = []string{"circle", "rectangle", "slot", "polygon", "path", "hexagon", "flatted", "gear", "spline", "serration", "turned", "ball"}

func (r *reader) feature(section, name string, at Place, n *source.Node) *Feature {
	before := len(r.Problems)
	what := "the body " + name
	known := forms().body.Known()
	if section == "cuts" {
		what, known = "the cut "+name, forms().cut.Known()
	}
	if n.Shape == source.Map && section == "bodies" && n.KeyNode("made_by") != nil {
		r.Report(n.KeyNode("made_by"), "made_by stands on cuts, sides and marks, never on a body")
		known = append(known, "made_by")
	}
	if !r.Map(n, what, known...) {
		return nil
	}
	f := &Feature{Name: name, Place: at, MadeBy: "pressing", Punch: "none"}
	r.shape(f, what, n)
	r.ringIsCut(f, section, n)
	if !r.standing(f, what, n) && !inSection(n) {
		r.extent(f, section, what, n)
		r.draft(f, n)
		r.section(f, n)
	}
	if v := n.At("punch"); v != nil {
		if w, ok := r.Word(v, "punch", "own", "face"); ok {
			f.Punch = w
		}
	}
	if v := n.At("made_by"); v != nil && section == "cuts" {
		if w, ok := r.Word(v, "made_by", "pressing", "machining", "sizing"); ok {
			f.MadeBy = w
		}
	}
	if v := n.At("repeat"); v != nil {
		f.Repeat = r.repeat(v)
		f.Repeat.Place = Place{v.Line, v.Column, at.Path + ".repeat"}
	}
	if len(r.Problems) > before && f.Profile == nil {
		return nil
	}
	return f
}

// extent reads from and to, open and depth, or neither.
func (r *reader) extent(f *Feature, section, what string, n *source.Node) {
	from, to, open, depth := n.At("from"), n.At("to"), n.At("open"), n.At("depth")
	e := &f.Extent
	e.Place = f.Place
	if from != nil {
		e.From = r.length(from, "from")
		e.Place = Place{from.Line, from.Column, f.Place.Path + ".from"}
	}
	if to != nil {
		e.To = r.length(to, "to")
	}
	switch {
	case section == "bodies" && (from == nil || to == nil):
		r.Report(n, "%s needs `from` and `to`, its lower and upper end along z", what)
	case from != nil && to != nil && open == nil && depth == nil:
		switch high := e.To - e.From; {
		case high > LeastLength:
		case high > 0:
			r.Report(to, "%s is too low: its height, from %s to %s, must be more than 0.000001 mm", what, source.Quote(from.Value), source.Quote(to.Value))
			f.Extent.To = f.Extent.From
		default:
			r.Report(to, "%s has no height: `to` %s must be above `from` %s", what, source.Quote(to.Value), source.Quote(from.Value))
			f.Extent.To = f.Extent.From
		}
	case from == nil && to == nil && open != nil && depth != nil:
		e.Open, _ = r.Word(open, "open", "top", "bottom")
		e.Depth = r.size(depth, "depth")
		e.Place = Place{depth.Line, depth.Column, f.Place.Path + ".depth"}
	case section == "cuts" && from == nil && to == nil && open == nil && depth == nil:
		e.Open = "through"
	case section == "cuts":
		r.Report(n, "%s needs `from` and `to`, or `open` and `depth`, or none of them for a cut right through", what)
	}
}

func (r *reader) repeat(n *source.Node) (p Repeat) {
	if !r.Map(n, "repeat", forms().repeat.Known()...) {
		return p
	}
	if v := r.Require(n, "repeat", "count"); v != nil {
		if c, ok := r.Number(v, "count"); ok {
			if c != math.Trunc(c) || c < 2 || c > MostVertices {
				r.Report(v, "count is %s; it must be a whole number from 2 to %d", source.Quote(v.Value), MostVertices)
			} else {
				p.Count = int(c)
			}
		}
	}
	if s := n.At("step"); s != nil {
		for _, key := range []string{"about", "over", "turn"} {
			if k := n.KeyNode(key); k != nil {
				r.Report(k, "`%s` belongs to a repeat round a centre, `step` to one along a line; give one or the other", key)
			}
		}
		p.Step = r.point(s, "step")
		if p.Step == (Point{}) {
			r.Report(s, "step is [0, 0]; the copies would lie on each other")
		}
		return p
	}
	p.Polar, p.Over = true, 360
	if v := n.At("about"); v != nil {
		p.About = r.point(v, "about")
	}
	if v := n.At("over"); v != nil {
		p.Over = r.angle(v, "over", leastSpread, 360)
	}
	if v := n.At("turn"); v != nil {
		if turn, ok := r.Boolean(v, "turn"); ok {
			p.Upright = !turn
		}
	}
	return p
}

func (r *reader) blend(name string, at Place, n *source.Node) {
	if !r.Map(n, "the blend "+name, forms().blend.Known()...) {
		return
	}
	b := Blend{Name: name, Place: at}
	if v := r.Require(n, "the blend "+name, "of"); v != nil {
		items, ok := r.List(v, "of")
		if ok && len(items) != 2 {
			r.Report(v, "of needs the names of two features, not %d", len(items))
			ok = false
		}
		for i := 0; ok && i < 2; i++ {
			b.Of[i], _ = r.featureName(items[i])
		}
	}
	if v := r.Require(n, "the blend "+name, "radius"); v != nil {
		b.Radius = r.size(v, "radius")
	}
	r.part.Blends = append(r.part.Blends, b)
}

// featureName reads the name of a body or cut of this part.
func (r *reader) featureName(n *source.Node) (string, bool) {
	name, ok := r.Text(n, "a feature's name")
	if !ok {
		return "", false
	}
	var all []string
	for _, f := range r.part.Features() {
		all = append(all, f.Name)
	}
	if slices.Contains(all, name) {
		return name, true
	}
	if _, known := r.names[name]; known && r.nodes[name] != nil {
		return name, true // its own problem is reported already
	}
	if near := source.Nearest(name, all); near != "" {
		r.Report(n, "there is no body or cut %s; did you mean `%s`?", source.Quote(name), near)
	} else {
		r.Report(n, "there is no body or cut %s", source.Quote(name))
	}
	return "", false
}

func (r *reader) seats(root *source.Node) {
	n := root.At("seats")
	if n == nil {
		return
	}
	items, _ := r.List(n, "seats")
	for i, it := range items {
		if f := r.face(it, "a seat"); f.Feature != "" {
			r.part.Seats = append(r.part.Seats, Seat{f, Place{it.Line, it.Column, fmt.Sprintf("seats[%d]", i)}})
		}
	}
}

// countVertices bounds the work that one file can ask for.
func (r *reader) countVertices(root *source.Node) {
	n := 0
	for _, f := range r.part.Features() {
		per := 8
		switch p := f.Profile.(type) {
		case Polygon:
			per = 2 * len(p.Points)
		case Path:
			per = 2 * len(p.Steps)
		case Turned:
			per = 4 * len(p.Steps)
		case Gear, Spline, Serration:
			teeth, each := teethVertices(p)
			per = teeth * each
		}
		if f.Sloped() {
			per *= Slices
		}
		n += per * f.Repeat.Copies()
		if n > MostVertices {
			r.Report(&source.Node{Line: f.Place.Line, Column: f.Place.Column},
				"the profiles have more than %d vertices after repeats; with `%s` they pass it", MostVertices, f.Name)
			return
		}
	}
}

// length reads a length or coordinate and returns mm.
func (r *reader) length(n *source.Node, what string) float64 {
	v, ok := r.Number(n, what)
	if !ok {
		return 0
	}
	v *= r.scale
	switch {
	case math.Abs(v) > MostLength:
		r.Report(n, "%s is %s, past %d mm", what, source.Quote(n.Value), int(MostLength))
		return 0
	case v != 0 && math.Abs(v) < LeastLength:
		r.Report(n, "%s is %s, other than 0 and under a nanometre", what, source.Quote(n.Value))
		return 0
	}
	return v
}

// size reads a length above zero.
func (r *reader) size(n *source.Node, what string) float64 {
	before := len(r.Problems)
	v := r.length(n, what)
	if len(r.Problems) == before && v <= 0 {
		r.Report(n, "%s is %s; it must be above 0", what, source.Quote(n.Value))
	}
	return v
}

// positive reads a number above zero without a length unit.
func (r *reader) positive(n *source.Node, what string, most float64) float64 {
	v, ok := r.Number(n, what)
	if ok && (v <= 0 || v > most) {
		r.Report(n, "%s is %s; it must be above 0 and at most %g", what, source.Quote(n.Value), most)
		return 0
	}
	return v
}

func (r *reader) angle(n *source.Node, what string, least, most float64) float64 {
	v, ok := r.Number(n, what)
	if ok && (v < least || v > most) {
		r.Report(n, "%s is %s; the angle must be from %g to %g degrees", what, source.Quote(n.Value), least, most)
		return least
	}
	return v
}

// point reads [x, y].
func (r *reader) point(n *source.Node, what string) (p Point) {
	items, ok := r.List(n, what)
	if !ok {
		return p
	}
	if len(items) != 2 {
		r.Report(n, "%s needs two numbers, [x, y], not %d", what, len(items))
		return p
	}
	return Point{r.length(items[0], fmt.Sprintf("%s[0]", what)), r.length(items[1], fmt.Sprintf("%s[1]", what))}
}
