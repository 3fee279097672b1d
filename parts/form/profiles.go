package form

import (
	"strconv"
	"sync"

	"corerod/parts"
	"corerod/parts/plane"
	"corerod/parts/source"
)

// Least numbers of teeth that are read.
const (
	leastGearTeeth   = 5
	leastSplineTeeth = 2
	leastSerrations  = 3
	leastSides       = 3
)

// ellipseArcs bounds the arcs of an ellipse of the largest part.
const ellipseArcs = 512

// profiles are the profiles of part files, in the order in which messages list them. A row says all that is known of one.
var profiles = sync.OnceValue(func() []*profile {
	return []*profile{
		row[parts.Circle]{keys: circle, at: func(c parts.Circle) parts.Point { return c.At }, round: true, axis: true,
			sizes: func(c parts.Circle) []Size { return []Size{{"diameter", c.Diameter}} },
			draw:  func(c parts.Circle) (plane.Loop, error) { return plane.Circle(in(c.At), c.Diameter), nil }}.profile(),
		row[parts.Rectangle]{keys: rectangle, at: func(s parts.Rectangle) parts.Point { return s.At },
			sizes: func(s parts.Rectangle) []Size { return []Size{{"length", s.Length}, {"width", s.Width}} },
			draw: func(s parts.Rectangle) (plane.Loop, error) {
				return plane.Rectangle(in(s.At), s.Length, s.Width, s.Turn, s.Corners...)
			}}.profile(),
		row[parts.Slot]{keys: slot, at: func(s parts.Slot) parts.Point { return s.At },
			sizes: func(s parts.Slot) []Size { return []Size{{"length", s.Length}, {"width", s.Width}} },
			draw:  func(s parts.Slot) (plane.Loop, error) { return plane.Slot(in(s.At), s.Length, s.Width, s.Turn) }}.profile(),
		row[parts.Polygon]{keys: polygon, at: func(p parts.Polygon) parts.Point { return p.Points[0] }, points: true,
			vertices: func(p parts.Polygon) int { return 2 * len(p.Points) }, draw: drawPolygon}.profile(),
		row[parts.Path]{keys: path, at: func(p parts.Path) parts.Point { return p.Start }, points: true,
			vertices: func(p parts.Path) int { return 2 * len(p.Steps) },
			draw:     func(p parts.Path) (plane.Loop, error) { return Steps(p.Start, p.Steps, p.Corners...) }}.profile(),
		row[parts.Hexagon]{keys: hexagon, at: func(h parts.Hexagon) parts.Point { return h.At }, axis: true,
			sizes: func(h parts.Hexagon) []Size { return []Size{{"across_flats", h.AcrossFlats}} },
			draw: func(h parts.Hexagon) (plane.Loop, error) {
				return plane.Hexagon(in(h.At), h.AcrossFlats, h.Turn, h.Corner)
			}}.profile(),
		row[parts.Regular]{keys: regular, at: func(p parts.Regular) parts.Point { return p.At }, axis: true,
			sizes:    func(p parts.Regular) []Size { return []Size{{"inscribed", p.Inscribed}} },
			vertices: func(p parts.Regular) int { return 2 * p.Sides },
			draw: func(p parts.Regular) (plane.Loop, error) {
				return plane.Regular(in(p.At), p.Sides, p.Inscribed, p.Turn, p.Corner)
			}}.profile(),
		row[parts.Ellipse]{keys: ellipse, at: func(e parts.Ellipse) parts.Point { return e.At }, axis: true,
			sizes:    func(e parts.Ellipse) []Size { return []Size{{"length", e.Length}, {"width", e.Width}} },
			vertices: func(parts.Ellipse) int { return ellipseArcs },
			draw: func(e parts.Ellipse) (plane.Loop, error) {
				return plane.Ellipse(in(e.At), e.Length, e.Width, e.Turn), nil
			}}.profile(),
		row[parts.Flatted]{keys: flatted, at: func(f parts.Flatted) parts.Point { return f.At }, axis: true, flats: true,
			sizes: flattedSizes,
			draw: func(f parts.Flatted) (plane.Loop, error) {
				return plane.Flatted(in(f.At), f.Diameter, f.Flats, f.Turn, f.Corner)
			}}.profile(),
		row[parts.Gear]{keys: gear, at: func(g parts.Gear) parts.Point { return g.At }, axis: true,
			turn:     func(g parts.Gear) float64 { return g.Turn },
			mesh:     func(g parts.Gear) Mesh { return Mesh{g.Module, g.Helix, g.Internal} },
			vertices: func(g parts.Gear) int { return 28 * g.Teeth }, teeth: gearTeeth}.profile(),
		row[parts.Spline]{keys: spline, at: func(s parts.Spline) parts.Point { return s.At }, axis: true,
			turn:     func(s parts.Spline) float64 { return s.Turn },
			sizes:    func(s parts.Spline) []Size { return []Size{{"major", s.Major}, {"minor", s.Minor}} },
			vertices: func(s parts.Spline) int { return 8 * s.Teeth }, teeth: splineTeeth}.profile(),
		row[parts.Serration]{keys: serration, at: func(s parts.Serration) parts.Point { return s.At }, axis: true,
			turn:     func(s parts.Serration) float64 { return s.Turn },
			sizes:    func(s parts.Serration) []Size { return []Size{{"major", s.Major}, {"minor", s.Minor}} },
			vertices: func(s parts.Serration) int { return 8 * s.Teeth }, teeth: serrationTeeth}.profile(),
		row[parts.Turned]{keys: turned, at: func(t parts.Turned) parts.Point { return t.At }, round: true, axis: true,
			vertices: func(t parts.Turned) int { return 4 * len(t.Steps) }, extent: turnedExtent,
			section: func(t parts.Turned) parts.Turned { return t }}.profile(),
		row[parts.Ball]{keys: ball, at: func(b parts.Ball) parts.Point { return b.At }, round: true, axis: true,
			sizes: func(b parts.Ball) []Size { return []Size{{"diameter", b.Diameter}} }, extent: ballExtent,
			ball: func(b parts.Ball) parts.Ball { return b }}.profile(),
	}
})

func turn(to *float64) *Form {
	return angle(to, -360, 360, "Degrees by which it is turned counter-clockwise.").lies(Turn).usually("0").shared("turn")
}

func at(to *parts.Point) *Form {
	return point(to, "Where it lies in plan, [x, y]; [0, 0] by default.").usually("[0, 0]").shared("at")
}

func corner(to *float64) *Form {
	return room(to, "Radius of its corners.").usually("0").adds().shared("corner")
}

// corners are the radii of several corners: one for all, or one for each. The first form is the one for all.
func corners(to *[]float64, doc string, least, most int, order Order) *Form {
	each := func() *Form {
		*to = append(*to, 0)
		return room(&(*to)[len(*to)-1], "").calls("corner")
	}
	one := room(func(v float64) { *to = []float64{v} }, "").usually("0").adds()
	return either(doc, one, list("", map[bool]string{true: "four radii", false: ""}[most > 0], least, most, each).inOrder(order))
}

func circle(c *parts.Circle) *Form {
	return keys("A circle.", must("diameter", size(&c.Diameter, "Its diameter.")), may("at", at(&c.At)))
}

func rectangle(s *parts.Rectangle) *Form {
	return keys("A rectangle.", must("length", size(&s.Length, "Along x.")), must("width", size(&s.Width, "Along y.")),
		may("at", at(&s.At)), may("turn", turn(&s.Turn)),
		may("corner", corners(&s.Corners, "Radius of its corners: one for all, or four from the lower left on, counter-clockwise.", 4, 4,
			backward)))
}

func slot(s *parts.Slot) *Form {
	return keys("A slot with round ends.", must("length", size(&s.Length, "Over all, along x.")), must("width", size(&s.Width, "Across.")),
		may("at", at(&s.At)), may("turn", turn(&s.Turn)))
}

func hexagon(h *parts.Hexagon) *Form {
	return keys("A regular hexagon.", must("across_flats", size(&h.AcrossFlats, "Between parallel sides.")),
		may("at", at(&h.At)), may("turn", turn(&h.Turn)), may("corner", corner(&h.Corner)))
}

func regular(p *parts.Regular) *Form {
	return keys("A regular polygon.", must("sides", count(&p.Sides, leastSides, "Their number.")),
		must("inscribed", size(&p.Inscribed, "Diameter of the circle inside: between flats, where their number is even.")),
		may("at", at(&p.At)), may("turn", turn(&p.Turn)), may("corner", corner(&p.Corner)))
}

func ellipse(e *parts.Ellipse) *Form {
	return keys("An ellipse.", must("length", size(&e.Length, "Along x.")), must("width", size(&e.Width, "Along y.")),
		may("at", at(&e.At)), may("turn", turn(&e.Turn)))
}

func flatted(s *parts.Flatted) *Form {
	flat := func() *Form {
		s.Flats = append(s.Flats, 0)
		return size(&s.Flats[len(s.Flats)-1], "").calls("a flat's distance")
	}
	return keys("A circle with flats, evenly round.", must("diameter", size(&s.Diameter, "Its diameter.")),
		must("flats", list("Distance of each flat from the centre.", "1 to 24 distances from the centre", 1, mostFlats, flat).
			inOrder(backwardButFirst)),
		may("at", at(&s.At)), may("turn", turn(&s.Turn)), may("corner", corner(&s.Corner)))
}

// mostFlats is the most flats that are read.
const mostFlats = 24

func flattedSizes(f parts.Flatted) []Size {
	all := []Size{{"diameter", f.Diameter}}
	for i, d := range f.Flats {
		all = append(all, Size{"flat_" + strconv.Itoa(i+1), d})
	}
	return all
}

func polygon(p *parts.Polygon) *Form {
	vertex := func() *Form {
		p.Points = append(p.Points, parts.Point{})
		return point(&p.Points[len(p.Points)-1], "").calls("a point").outline()
	}
	return keys("Straight lines between points.", must("points", list("Its corners, [x, y] each.", "at least 3 points", 3, 0, vertex)),
		may("corner", corners(&p.Corners, "Radius of its corners: one for all, or one for each.", 3, 0, asWritten))).outline().
		checked(func(r *reader, n *source.Node, _ string) {
			if c := n.At("corner"); c != nil && c.Shape == source.Sequence && len(p.Points) > 0 && len(c.Items) != len(p.Points) {
				r.Report(c, "corner has %d radii for %d points; give one for each point, or one for all", len(c.Items), len(p.Points))
			}
		})
}

func drawPolygon(p parts.Polygon) (plane.Loop, error) {
	ps := make([]plane.Point, len(p.Points))
	for i, q := range p.Points {
		ps[i] = in(q)
	}
	return plane.Polygon(ps, p.Corners)
}

func path(p *parts.Path) *Form {
	return keys("Lines and arcs, closed by a line where it ends elsewhere than it began.",
		must("start", point(&p.Start, "Where it begins.").outline()),
		must("steps", list("Its lines and arcs.", "at least two steps", 1, 0, func() *Form {
			p.Steps = append(p.Steps, parts.Step{})
			return step(&p.Steps[len(p.Steps)-1], point)
		})),
		may("corner", corners(&p.Corners, "Radius of joints that are not tangent: one for all, or one for each, that at the start first.",
			2, 0, asWritten))).outline()
}

// step is a line or an arc to a point in plan or of a half section.
func step(s *parts.Step, point func(*parts.Point, string) *Form) *Form {
	line := keys("", must("line", point(&s.To, "End of a straight line.").outline())).calls("a line step")
	arc := keys("", must("arc", point(&s.To, "End of an arc.").outline()), must("radius", size(&s.Radius, "Radius of the arc.")),
		must("turn", word(func(w string) { s.Clockwise = w == "cw" }, "Which way it turns, seen from above.", "cw", "ccw").lies(Sense)),
		may("large", yes(&s.Large, "The longer way round; the shorter by default.").usually("false"))).calls("an arc step")
	return either("", line, arc).calls("a step").shared("step")
}

// gear's factors are those of the basic rack of ISO 53: addendum 1, dedendum 1.25, 20 degrees.
func gear(g *parts.Gear) *Form {
	g.PressureAngle, g.Addendum, g.Dedendum, g.RootRadius = 20, 1, 1.25, -1
	return keys("Involute teeth on the basic rack of ISO 53.", must("module", size(&g.Module, "Normal module.")),
		must("teeth", count(&g.Teeth, leastGearTeeth, "Their number.")),
		may("pressure_angle", angle(&g.PressureAngle, 10, 45, "Degrees; 20 by default.").usually("20").fixed()),
		may("shift", factor(&g.Shift, -2, 2, "Profile shift in modules.").usually("0")),
		may("tip_radius", room(&g.TipRadius, "Radius at the tips; sharp by default.").usually("0").adds().counts()),
		may("root_radius", room(&g.RootRadius, "Radius at the roots; 0.38 module as far as it fits by default.")),
		may("helix", angle(&g.Helix, 0, 60, "Helix angle in degrees.").usually("0")),
		may("hand", word(&g.Hand, "Of the helix.", "left", "right")),
		may("internal", yes(&g.Internal, "The void of a ring gear.").usually("false")),
		may("addendum", factor(&g.Addendum, 0.1, 3, "In modules; 1 by default.").usually("1")),
		may("dedendum", factor(&g.Dedendum, 0.1, 3, "In modules; 1.25 by default.").usually("1.25")),
		may("at", at(&g.At)), may("turn", turn(&g.Turn))).
		checked(func(r *reader, n *source.Node, _ string) {
			switch hand := n.At("hand"); {
			case hand != nil && g.Helix == 0:
				r.Report(hand, "hand belongs to a helical gear; give its `helix` in degrees, or leave `hand` out")
			case hand == nil && g.Helix != 0:
				r.Report(n.KeyNode("helix"), "a helical gear needs its `hand`: left or right")
			}
		})
}

func gearTeeth(g parts.Gear) (*plane.Teeth, error) {
	return (&plane.Gear{Module: g.Module, Teeth: g.Teeth, PressureAngle: g.PressureAngle, Shift: g.Shift, Helix: g.Helix,
		Internal: g.Internal,
		Addendum: g.Addendum, Dedendum: g.Dedendum, TipRadius: g.TipRadius, RootRadius: g.RootRadius}).Build()
}

func spline(s *parts.Spline) *Form {
	return keys("Straight-sided teeth.", must("major", size(&s.Major, "Outer diameter.")), must("minor", size(&s.Minor, "Inner diameter.")),
		must("teeth", count(&s.Teeth, leastSplineTeeth, "Their number.")),
		must("tooth_width", size(&s.ToothWidth, "Width of a tooth.")),
		may("corner", room(&s.Corner, "Radius at tips and roots.").usually("0").adds()), may("at", at(&s.At)), may("turn", turn(&s.Turn)))
}

func splineTeeth(s parts.Spline) (*plane.Teeth, error) {
	return plane.Spline(s.Major, s.Minor, s.Teeth, s.ToothWidth, s.Corner)
}

func serration(s *parts.Serration) *Form {
	return keys("V teeth.", must("major", size(&s.Major, "Outer diameter.")), must("minor", size(&s.Minor, "Inner diameter.")),
		must("teeth", count(&s.Teeth, leastSerrations, "Their number.")),
		must("angle", angle(&s.Angle, 1, 170, "Between the flanks, degrees.")),
		may("tip_radius", room(&s.TipRadius, "Radius at the tips.").usually("0").adds().counts()),
		may("root_radius", room(&s.RootRadius, "Radius at the roots.").usually("0").adds().counts()),
		may("at", at(&s.At)), may("turn", turn(&s.Turn)))
}

func serrationTeeth(s parts.Serration) (*plane.Teeth, error) {
	return plane.Serration(s.Major, s.Minor, s.Teeth, s.Angle, s.TipRadius, s.RootRadius)
}
