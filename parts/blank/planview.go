package blank

import (
	"math"
	"slices"

	"corerod/parts/form"
	"corerod/parts/plane"
)

// Axis is the middle of something round in plan.
type Axis struct {
	At plane.Point
	R  float64 // mm, half its width
}

// Line is one line of the plan view from above.
type Line struct {
	Curve  plane.Curve
	Hidden bool // only seen from below
}

// Outline is what the part covers in plan: outer outlines and those of what goes through, material to the left.
func (s *Shape) Outline() (loops []plane.Loop) {
	r := s.overlay.Region(func(c int) bool { return len(s.cells[c].runs) > 0 }, func(int, int, int) int { return 0 })
	for i := range r.Rings {
		loops = append(loops, s.shifted(r.Rings[i].Loop()))
	}
	return loops
}

// Lines are the edges of the part as seen from above, without those of Outline.
func (s *Shape) Lines() (all []Line) {
	for i := range s.overlay.Edges {
		e := &s.overlay.Edges[i]
		if (len(s.cells[e.Left].runs) > 0) != (len(s.cells[e.Right].runs) > 0) || len(s.cells[e.Left].runs) == 0 {
			continue
		}
		curve := s.shifted(plane.Loop{e.Curve})[0]
		switch {
		case s.creased(i, "top"):
			all = append(all, Line{curve, false})
		case s.creased(i, "bottom"), len(s.cells[e.Left].runs) != len(s.cells[e.Right].runs):
			all = append(all, Line{curve, true})
		}
	}
	return all
}

// creased tells whether the surface of one side has an edge over one of the plan between two cells with material.
func (s *Shape) creased(edge int, side string) bool {
	f, a, b := s.Face(side), s.overlay.Edges[edge].Left, s.overlay.Edges[edge].Right
	z := func(c int) float64 {
		runs := s.cells[c].runs
		if side == "top" {
			return s.Top(runs[len(runs)-1])
		}
		return s.Bottom(runs[0])
	}
	sloped := func(c int) bool { return f.solid[c] && f.sloped[c] }
	switch {
	case !sloped(a) && !sloped(b):
		return math.Abs(z(a)-z(b)) > SameHeight
	case sloped(a) && sloped(b):
		return f.Flat(a) != f.Flat(b) || s.kinked(edge, side)
	}
	return true
}

// kinked tells whether two slopes of one relief meet along an edge at an angle, as at the root of a tooth space.
func (s *Shape) kinked(edge int, side string) bool {
	e := &s.overlay.Edges[edge]
	a, b := s.end(e.Left, side), s.end(e.Right, side)
	if a.wall != b.wall || s.features[s.walls[a.wall].feature].Relief == nil {
		return false
	}
	p := e.Curve.At(0.5)
	g, h := s.gradient(a, p), s.gradient(b, p)
	return math.Hypot(g.X-h.X, g.Y-h.Y) > oneSlope
}

// shifted is a loop of the overlay in part coordinates.
func (s *Shape) shifted(l plane.Loop) plane.Loop { return l.Moved(plane.Point{}, 0, s.origin) }

// Chord is the shortest chord of material or void through a point of the plan at a height, its two ends on the walls: that of
// a wall or gap whose middle the point is.
func (s *Shape) Chord(mid plane.Point, z float64) (p, q plane.Point, ok bool) {
	least := math.Inf(1)
	at := plane.Point{X: mid.X - s.origin.X, Y: mid.Y - s.origin.Y}
	for k := range s.slabs {
		if z < s.heights[k]-SameHeight || z > s.heights[k+1]+SameHeight {
			continue
		}
		for _, x := range s.slabs[k].region.Pieces() {
			if near := x.Curve.Nearest(at); near.Distance(at) < least {
				least, p = near.Distance(at), near
			}
		}
	}
	if math.IsInf(least, 1) {
		return p, q, false
	}
	p = s.ToPart(p)
	return p, plane.Point{X: 2*mid.X - p.X, Y: 2*mid.Y - p.Y}, true
}

// Axes are the axes that features stand round, the widest of each place.
func (s *Shape) Axes() (all []Axis) {
	for i := range s.outlines {
		o := &s.outlines[i]
		f := s.features[o.feature]
		if o.feature >= s.drawn || !form.HasAxis(f.Profile) {
			continue
		}
		at := form.Centre(f.Profile)
		a := Axis{At: placeCopy(plane.Loop{plane.Line(at, at)}, f, o.copy)[0].A}
		lo, hi := o.loop.Bounds()
		a.R = math.Max(hi.X-lo.X, hi.Y-lo.Y) / 2
		known := slices.IndexFunc(all, func(x Axis) bool { return x.At.Distance(a.At) <= plane.Near })
		if known < 0 {
			all = append(all, a)
		} else {
			all[known].R = math.Max(all[known].R, a.R)
		}
	}
	return all
}
