package blank

import (
	"math"
	"slices"

	"corerod/parts/plane"
)

// Leg is a straight piece of a cutting path in plan. The path is followed from left to right: From and To are places
// along it, mm, and At is the point of the plan at From.
type Leg struct {
	From, To float64
	At       plane.Point
	Toward   plane.Point // unit vector
}

// Point is the point of the plan at a place along the leg.
func (l *Leg) Point(s float64) plane.Point {
	return plane.Point{X: l.At.X + l.Toward.X*(s-l.From), Y: l.At.Y + l.Toward.Y*(s-l.From)}
}

// Cut is the section of the part along a cutting path: closed outlines in the path's places and z, mm, material to the left of each.
// Faces that are neither planes nor round about an axis on the path are arcs within a tenth of a micrometre.
func (s *Shape) Cut(path []Leg) []plane.Loop {
	c := cutter{Shape: s}
	for _, leg := range path {
		c.follow(leg)
	}
	c.wall(c.at, nil)
	return joinedLoops(c.curves)
}

// cutter makes one section.
type cutter struct {
	*Shape
	curves []plane.Curve // material to the left
	at     float64       // the place that it has come to
	solid  [][2]float64  // the heights between which material was passed there
}

// follow cuts along one leg: over each cell that it passes, every run is cut along both its ends.
func (c *cutter) follow(leg Leg) {
	edges := make([]plane.Loop, len(c.overlay.Edges))
	for i := range edges {
		edges[i] = plane.Loop{c.overlay.Edges[i].Curve}
	}
	leg.At = c.ToPlan(leg.At)
	stops := []float64{leg.From}
	for _, at := range plane.Meetings(plane.Line(leg.At, leg.Point(leg.To)), edges) {
		stops = append(stops, leg.From+at)
	}
	for i := range c.walls { // the point of a cone
		if w := &c.walls[i]; w.ring {
			x, y := w.drawn[0].C.X-leg.At.X, w.drawn[0].C.Y-leg.At.Y
			along := x*leg.Toward.X + y*leg.Toward.Y
			if math.Abs(x*leg.Toward.Y-y*leg.Toward.X) <= plane.Near && along > 0 && leg.From+along < leg.To {
				stops = append(stops, leg.From+along)
			}
		}
	}
	stops = append(stops, leg.To)
	slices.Sort(stops)
	for i := 0; i+1 < len(stops); i++ {
		if stops[i+1]-stops[i] > plane.Near {
			c.over(leg, c.CellAt(leg.Point((stops[i]+stops[i+1])/2)), stops[i], stops[i+1])
		}
	}
}

// over cuts the runs of one cell between two places along a leg.
func (c *cutter) over(leg Leg, cell int, from, to float64) {
	var low, high [][2]float64
	for _, ends := range c.cells[cell].ends {
		bottom := c.along(leg, ends[0], from, to)
		top := c.along(leg, ends[1], from, to)
		low = append(low, [2]float64{bottom[0].A.Y, top[0].A.Y})
		high = append(high, [2]float64{bottom[len(bottom)-1].B.Y, top[len(top)-1].B.Y})
		c.curves = append(c.curves, bottom...)
		c.curves = append(c.curves, plane.Loop(top).Reversed()...)
	}
	c.wall(from, low)
	c.at, c.solid = to, high
}

// along is a surface cut along a leg.
func (c *cutter) along(leg Leg, f surface, from, to float64) []plane.Curve {
	if f.flat() {
		return []plane.Curve{plane.Line(plane.Point{X: from, Y: f.z}, plane.Point{X: to, Y: f.z})}
	}
	place := func(t float64) float64 { // closer together at the ends, where a round face may stand upright
		return from + (to-from)*(1-math.Cos(math.Pi*t))/2
	}
	at := func(t float64) plane.Point {
		x := place(t)
		return plane.Point{X: x, Y: c.heightOver(f, leg.Point(x))}
	}
	if one, ok := c.oneCurve(at); ok {
		return []plane.Curve{one}
	}
	cs := plane.Fit(func(t float64) (plane.Point, plane.Point) {
		p := at(t)
		g := c.gradient(f, leg.Point(p.X))
		rise := g.X*leg.Toward.X + g.Y*leg.Toward.Y
		if math.IsNaN(rise) || math.IsInf(rise, 0) || math.Abs(rise) > steepest {
			a, b := at(math.Max(0, t-viewStep)), at(math.Min(1, t+viewStep))
			h := a.Distance(b)
			return p, plane.Point{X: (b.X - a.X) / h, Y: (b.Y - a.Y) / h}
		}
		h := math.Hypot(1, rise)
		return p, plane.Point{X: 1 / h, Y: rise / h}
	}, 0, 1, viewError)
	if len(cs) == 0 {
		cs = []plane.Curve{plane.Line(at(0), at(1))}
	}
	return cs
}

// oneCurve is a cut face that is one line or one arc.
func (c *cutter) oneCurve(at func(t float64) plane.Point) (plane.Curve, bool) {
	a, m, b := at(0), at(0.5), at(1)
	one := plane.Line(a, b)
	if arc, ok := plane.ArcThrough(a, m, b); ok {
		one = arc
	}
	for _, t := range [4]float64{0.13, 0.33, 0.71, 0.93} {
		if one.Off(at(t)) > coincident {
			return one, false
		}
	}
	return one, one.Off(m) <= coincident
}

// wall adds the upright lines at a place, between what was passed before it and what follows.
func (c *cutter) wall(at float64, next [][2]float64) {
	for _, x := range without(c.solid, next) { // material before it: the wall goes up
		c.curves = append(c.curves, plane.Line(plane.Point{X: at, Y: x[0]}, plane.Point{X: at, Y: x[1]}))
	}
	for _, x := range without(next, c.solid) {
		c.curves = append(c.curves, plane.Line(plane.Point{X: at, Y: x[1]}, plane.Point{X: at, Y: x[0]}))
	}
}

// without is what is left of spans where others are taken out; what is thinner than a nanometre is nothing.
func without(a, b [][2]float64) (out [][2]float64) {
	for _, x := range a {
		at := x[0]
		for _, y := range b {
			if y[1] <= at || y[0] >= x[1] {
				continue
			}
			if y[0]-at > plane.Near {
				out = append(out, [2]float64{at, y[0]})
			}
			at = math.Max(at, y[1])
		}
		if x[1]-at > plane.Near {
			out = append(out, [2]float64{at, x[1]})
		}
	}
	return out
}

// joinedLoops joins curves to closed outlines, those that go on along one line or circle as one.
func joinedLoops(all []plane.Curve) (out []plane.Loop) {
	from := map[[2]int64][]int{}
	for i := range all {
		if gridPoint(all[i].A) != gridPoint(all[i].B) {
			from[gridPoint(all[i].A)] = append(from[gridPoint(all[i].A)], i)
		}
	}
	used := make([]bool, len(all))
	for i := range all {
		if used[i] || gridPoint(all[i].A) == gridPoint(all[i].B) {
			continue
		}
		var ring plane.Loop
		for at := i; at >= 0; at = following(all, used, from, at) {
			used[at] = true
			ring = append(ring, all[at])
		}
		if len(ring) > 1 && gridPoint(ring[0].A) == gridPoint(ring[len(ring)-1].B) {
			out = append(out, plane.InLine(ring))
		}
	}
	return out
}

func gridPoint(p plane.Point) [2]int64 {
	return [2]int64{int64(math.Round(p.X / snap)), int64(math.Round(p.Y / snap))}
}

// following is the curve that goes on where another ends, sharpest to the left where there are several, or -1.
func following(all []plane.Curve, used []bool, from map[[2]int64][]int, at int) int {
	best, turn := -1, math.Inf(-1)
	for _, i := range from[gridPoint(all[at].B)] {
		if t := plane.TurnBetween(&all[at], &all[i]); !used[i] && t > turn {
			best, turn = i, t
		}
	}
	return best
}
