package blank

import (
	"math"

	"corerod/parts/plane"
)

// Side is one side of a wall, which moves along z where the wall leans.
type Side struct {
	w *wall
	i int
}

// SideOf is the side of a figure's wall that a point of its outline lies on.
func (s *Shape) SideOf(figure int, on plane.Point) Side {
	o := &s.outlines[figure]
	i, _ := o.loop.Nearest(on)
	return Side{&s.walls[o.wall], i}
}

// At is the side at a height; where nothing is left of it a line as long as drawn, or a circle of no radius.
func (x Side) At(z float64) plane.Curve {
	c, ok := x.w.sideAt(x.i, z)
	switch {
	case !ok:
		c = plane.Arc(x.w.drawn[x.i].C, leastRun, 0, x.w.drawn[x.i].Sweep)
	case !c.IsArc() && x.w.sloped() && c.A.Distance(c.B) <= plane.Near:
		c, _ = x.w.moved(x.w.drawn, x.i, x.w.moves[x.i].off(x.w.over(z)))
	}
	return c
}

// Covers tells whether a point of the side's line or circle at a height lies between its ends, or beyond one where the next side is of
// the same circle.
func (x Side) Covers(p plane.Point, z float64) bool {
	if x.w.ring {
		return true
	}
	for i := range x.w.drawn {
		c := &x.w.drawn[i]
		d := &x.w.drawn[x.i]
		if i != x.i && !(c.IsArc() && d.IsArc() && c.C.Distance(d.C) <= plane.Near && math.Abs(c.R-d.R) <= plane.Near) {
			continue
		}
		if at, ok := x.w.sideAt(i, z); ok && at.Off(p) <= 10*plane.Near {
			return true
		}
	}
	return false
}

// Slope is the wall that the side is of.
func (x Side) Slope() Slope {
	if x.w.sloped() && x.w.goes(x.i) {
		return Slope{x.w.tier}
	}
	return Slope{}
}

// Relief tells whether the side is the face of a relief, a tilt, a flank of teeth or a ramp; and whether of a ramp.
func (x Side) Relief() (face, ramp bool) {
	if !x.w.sloped() || !x.w.bar || !x.w.ends || !x.w.goes(x.i) {
		return false, false
	}
	return true, x.w.moves[x.i].turns
}

// Range is from where to where along z the side goes as drawn, past which a wall goes on otherwise.
func (x Side) Range() (low, high float64) {
	if x.w.sloped() {
		return x.w.slopeLow(), x.w.slopeHigh()
	}
	return x.w.low, x.w.high
}

// Leans tells whether the side leans between two heights; curved whether it is an arc in section.
func (x Side) Leans(low, high float64) (leans, curved bool) {
	leans = x.w.slopes(low, high) && x.w.goes(x.i)
	return leans, leans && x.w.moves[x.i].r > 0
}

// Profile is the side in section between two heights, above each other: its heights over how far it is moved to its left, in the plane of
// the two.
func (x Side) Profile(low, high float64) plane.Curve {
	if leans, _ := x.Leans(low, high); !leans {
		return plane.Line(plane.Point{Y: low}, plane.Point{Y: high})
	}
	m := x.w.moves[x.i]
	a, b := plane.Point{X: m.off(x.w.over(low)), Y: low}, plane.Point{X: m.off(x.w.over(high)), Y: high}
	if m.turns {
		inner := x.w.drawn[3].R
		return plane.Line(plane.Point{X: a.X * inner, Y: low}, plane.Point{X: b.X * inner, Y: high})
	}
	if m.r == 0 {
		return plane.Line(a, b)
	}
	c := plane.Point{X: m.at, Y: m.over + x.w.base}
	return plane.ArcBetween(c, a, b, m.r, m.side > 0)
}

// Corner is where two sides meet at a height: which tells one of two crossings from the other, and does not matter where the sides
// follow each other on one wall.
func Corner(a, b Side, which int, z float64) (plane.Point, bool) {
	if a.w == b.w && !a.w.ring {
		n := len(a.w.drawn)
		switch {
		case (a.i+1)%n == b.i && (n > 2 || which == 0): // an outline of two sides has two
			return a.w.joint(b.i, z), true
		case (b.i+1)%n == a.i:
			return a.w.joint(a.i, z), true
		}
	}
	c, d := a.At(z), b.At(z)
	return plane.Crossing(&c, &d, which)
}

// joint is where side i of a wall begins at a height.
func (w *wall) joint(i int, z float64) plane.Point {
	if !w.sloped() {
		return w.drawn[i].A
	}
	if w.bar {
		return w.barSide(w.drawn, i, w.over(z)).A
	}
	return w.drawn.JointAt(i, w.moves[0].off(w.over(z)))
}
