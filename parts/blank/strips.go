package blank

import (
	"math"

	"corerod/parts/plane"
)

// strip is the side of a sloped wall, or one of the two circles of a ring, as columns end on it at a side of the part, and what lies
// beside it.
type strip struct {
	wall, ring int // ring is 0 or 1 for the first or the second circle
	side       string
}

// beside is what lies along a strip.
type beside struct {
	face, foot  float64  // heights of the flats that it rises to, and that it falls to
	above, fall bool     // a wall rises where it ends; one falls
	up, down    bool     // it has such flats
	ledge       bool     // the flat that it falls to is narrow, and a wall falls from that
	other       bool     // it goes over into what is neither
	goesOn      []strip  // what it goes on as, above or below
	ends        []ending // where it goes over into a wall
}

// ending is an edge along which a strip goes over into a wall.
type ending struct{ z, length float64 }

// end is the height at which strips go over into a wall: the lowest, or the highest, of all. It is false where less than half of them, by
// length, does so there: the wall stands aslant.
func end(ends []ending, lowest bool) (z float64, ok bool) {
	for i, e := range ends {
		if i == 0 || e.z < z == lowest {
			z = e.z
		}
	}
	at, all := 0.0, 0.0
	for _, e := range ends {
		all += e.length
		if math.Abs(e.z-z) <= 10*SameHeight {
			at += e.length
		}
	}
	return z, at > all/2
}

// strips finds what may be rims and feet, with what lies along each.
func (s *Shape) strips() map[strip]*beside {
	all := map[strip]*beside{}
	for _, side := range []string{"bottom", "top"} {
		for i := range s.overlay.Edges {
			e := &s.overlay.Edges[i]
			for _, c := range [2]int{e.Left, e.Right} {
				if x, ok := s.stripOver(c, side); ok && e.Left != e.Right {
					if all[x] == nil {
						all[x] = &beside{}
					}
					s.lookBeside(all[x], x, i, c, e.Left+e.Right-c)
				}
			}
		}
	}
	return all
}

// stripOver is the strip that a cell's column ends on, where it is narrow enough for a rim.
func (s *Shape) stripOver(c int, side string) (x strip, ok bool) {
	if !s.HasMaterial(c) {
		return x, false
	}
	f := s.end(c, side)
	if f.flat() {
		return x, false
	}
	w := &s.walls[f.wall]
	if !w.ring && w.tip != [2]bool{} || w.leanOf(f.side) <= MostWall && w.moves[f.side].r == 0 {
		return x, false
	}
	x = strip{f.wall, 0, side}
	if w.ring {
		x.ring = f.side / 2
	}
	return x, true
}

// leanOf is the angle from the pressing axis of a side, of a round one from end to end, degrees.
func (w *wall) leanOf(side int) float64 {
	m := w.moves[side]
	if m.turns {
		return w.lean()
	}
	return math.Round(math.Atan2(math.Abs(m.off(w.lo)-m.off(w.hi)), w.hi-w.lo)*180/math.Pi/leanStep) * leanStep
}

// isOne tells whether two strips of one copy lie in one surface.
func (s *Shape) isOne(x, y strip) bool {
	v, w := &s.walls[x.wall], &s.walls[y.wall]
	i, k := v.sideOf(x.ring), w.sideOf(y.ring)
	m, o := v.moves[i], w.moves[k]
	if m.r > 0 || o.r > 0 {
		return math.Abs(m.r-o.r) <= plane.Near && math.Abs(v.base+m.over-w.base-o.over) <= SameHeight
	}
	return math.Abs(math.Atan(1/m.slope)-math.Atan(1/o.slope)) <= leanStep*math.Pi/180*10
}

// within is how wide in plan a side is between two heights, mm.
func (w *wall) within(side int, low, high float64) float64 {
	m := w.moves[side]
	at := func(z float64) float64 { return m.off(w.over(math.Min(math.Max(z, w.slopeLow()), w.slopeHigh()))) }
	return math.Abs(at(low) - at(high))
}

// lookBeside adds what lies across one edge of a strip's cell.
func (s *Shape) lookBeside(b *beside, x strip, edge, c, d int) {
	e := &s.overlay.Edges[edge]
	p := e.Curve.At(0.5)
	t := e.Curve.Tangent(p)
	out := plane.Point{X: t.Y, Y: -t.X}
	if e.Left != c {
		out = plane.Point{X: -t.Y, Y: t.X}
	}
	g := s.gradient(s.end(c, x.side), plane.Point{X: p.X - besideStrip*out.X, Y: p.Y - besideStrip*out.Y}) // a round one ends upright
	rise := Outward(x.side, g.X*out.X+g.Y*out.Y, 0)                                                        // toward the other cell
	if math.Abs(rise) <= acrossStrip*math.Hypot(g.X, g.Y) {
		return // along the strip
	}
	if y, ok := s.stripOver(d, x.side); ok && s.walls[y.wall].sameCopy(&s.walls[x.wall]) && y != x && s.isOne(x, y) {
		b.goesOn = append(b.goesOn, y)
		return
	} else if ok && (y == x || s.walls[y.wall].feature != s.walls[x.wall].feature) {
		return // a mitre
	}
	z, drop, length := s.EndAt(c, p, x.side), math.Inf(1), e.Curve.Length()
	if s.HasMaterial(d) {
		drop = Outward(x.side, z, s.EndAt(d, p, x.side))
	}
	switch {
	case math.Abs(drop) <= SameHeight:
		s.goOver(b, x.side, d, ending{z, length}, rise)
	case drop < 0 && rise > 0:
		b.above = true
		b.ends = append(b.ends, ending{z, length})
	case drop > 0 && rise < 0 && s.EndAt(c, p, "top")-s.EndAt(c, p, "bottom") > SameHeight:
		b.fall = true
		b.ends = append(b.ends, ending{z, length})
	case drop > 0 && rise > 0:
	default:
		b.other = true
	}
}

// goOver adds that a strip that rises, or falls, goes over at a height into what ends the column of another cell.
func (s *Shape) goOver(b *beside, side string, d int, at ending, rise float64) {
	flat := s.end(d, side).flat()
	switch {
	case flat && rise > 0:
		b.up, b.face = true, at.z
	case flat:
		b.down, b.foot = true, at.z
		key := [2]any{side, s.Face(side).Flat(d)}
		ledge, known := s.ledges[key]
		if !known {
			ledge = s.isLedge(d, side)
			if s.ledges == nil {
				s.ledges = map[[2]any]bool{}
			}
			s.ledges[key] = ledge
		}
		b.fall, b.ledge = b.fall || ledge, b.ledge || ledge
	case rise < 0 && s.isWall(d, side):
		b.fall = true
		b.ends = append(b.ends, at)
	default:
		b.other = true
	}
}

// isLedge tells whether the flat that a cell's column ends on falls off wherever no slope rises from it.
func (s *Shape) isLedge(c int, side string) bool {
	f := s.Face(side)
	var cells []int
	for d := range s.cells {
		if f.Solid(d) && !f.Sloped(d) && f.Flat(d) == f.Flat(c) {
			cells = append(cells, d)
		}
	}
	for _, d := range cells {
		for _, i := range s.edges[d] {
			e := &s.overlay.Edges[i]
			o := e.Left + e.Right - d
			if !s.HasMaterial(o) || s.end(o, side).flat() && math.Abs(f.Z(o)-f.Z(d)) <= SameHeight {
				continue
			}
			if p := e.Curve.At(0.5); Outward(side, s.EndAt(o, p, side), s.EndAt(d, p, side)) > SameHeight {
				return false
			}
		}
	}
	return true
}

// isWall tells whether a cell's column ends on a slope that is steep enough for a wall.
func (s *Shape) isWall(c int, side string) bool {
	f := s.end(c, side)
	return !f.flat() && s.walls[f.wall].leanOf(f.side) <= MostWall
}

// kind tells whether what lies along a strip makes it a rim, or a foot.
func (b *beside) kind() (rim, foot bool) {
	rim = b.up && b.fall && !b.above && (!b.down || b.ledge)
	foot = b.down && b.above && !b.up && (!b.fall || b.ledge)
	return rim && !b.other, foot && !b.other
}
