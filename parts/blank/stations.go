package blank

import (
	"math"
	"slices"

	"corerod/parts/plane"
)

// findStations finds the heights at which something begins, ends or changes: the ends of tiers, and the heights at which outlines
// come to meet otherwise.
func (s *Shape) findStations() {
	ends := []float64{s.low, s.high}
	for i := range s.walls {
		w := &s.walls[i]
		ends = append(ends, w.low, w.high, w.slopeLow(), w.slopeHigh())
	}
	ends = distinct(slices.DeleteFunc(ends, func(z float64) bool { return z < s.low || z > s.high }))
	for i := 0; i+1 < len(ends); i++ {
		s.meets = append(s.meets, s.meetings(ends[i], ends[i+1])...)
	}
	s.stations = distinct(append(ends, s.meets...))
}

// meetings are the heights between two others at which outlines come to meet otherwise.
func (s *Shape) meetings(low, high float64) (zs []float64) {
	m := meeter{low: low, high: high}
	var moves []bool
	for i := range s.walls {
		if w := &s.walls[i]; w.covers(low, high) {
			m.walls, moves = append(m.walls, w), append(moves, w.slopes(low, high))
		}
	}
	if !slices.Contains(moves, true) {
		return nil
	}
	m.drawSides()
	for i := range m.walls {
		for j := range i {
			if moves[i] || moves[j] {
				zs = append(zs, m.pair(i, j)...)
			}
			if moves[i] && moves[j] && m.graze(i, j) {
				s.grazing = append(s.grazing, mid(low, high))
			}
		}
	}
	zs = distinct(zs)
	pairs := slices.Clone(zs)
	for _, z := range m.triples() { // one where two of the sides touch is that of the two
		if !slices.ContainsFunc(pairs, func(p float64) bool { return math.Abs(p-z) <= SameHeight }) {
			zs = append(zs, z)
		}
	}
	return distinct(slices.DeleteFunc(zs, func(z float64) bool { return z-low <= SameHeight || high-z <= SameHeight }))
}

// meeter looks for meetings of walls in one stretch of height.
type meeter struct {
	low, high float64
	walls     []*wall
	at        []float64        // heights that are looked at
	sides     [][][]sideSample // by wall, by side, by height; of an upright one the first alone
	boxes     [][][2]plane.Point
	crossed   []crossed // pairs of sides that meet somewhere
}

// sideSample is a side at a height; gone where nothing is left of it.
type sideSample struct {
	plane.Curve
	gone bool
}

// crossed is a pair of sides of two walls that meet.
type crossed struct{ wall, side [2]int }

// looks is the number of heights at which a stretch is looked at: between two of them what changes is taken to change once.
const looks = 17

// sample is a side of a wall at one of the heights that are looked at.
func (m *meeter) sample(wall, side, k int) *sideSample {
	all := m.sides[wall][side]
	return &all[min(k, len(all)-1)]
}

// moves tells whether a side of a wall moves in the stretch: the ends of a bar that lie outside the part do not.
func (m *meeter) moves(wall, side int) bool {
	w := m.walls[wall]
	if w.ends {
		return w.slopes(m.low, m.high)
	}
	return w.slopes(m.low, m.high) && w.goes(side)
}

// drawSides draws every side at heights that are closer together at the ends, where round walls lie flat.
func (m *meeter) drawSides() {
	for k := range looks {
		share := (1 - math.Cos(math.Pi*float64(k)/(looks-1))) / 2
		m.at = append(m.at, m.low+(m.high-m.low)*(inset+(1-2*inset)*share))
	}
	for _, w := range m.walls {
		var sides [][]sideSample
		var boxes [][2]plane.Point
		for i := range w.drawn {
			lo, hi := plane.Point{X: math.Inf(1), Y: math.Inf(1)}, plane.Point{X: math.Inf(-1), Y: math.Inf(-1)}
			heights := m.at
			if !w.slopes(m.low, m.high) {
				heights = heights[:1]
			}
			all := make([]sideSample, len(heights))
			for k, z := range heights {
				c, ok := w.sideAt(i, z)
				if all[k] = (sideSample{c, !ok}); ok {
					a, b := c.Bounds()
					lo = plane.Point{X: math.Min(lo.X, a.X), Y: math.Min(lo.Y, a.Y)}
					hi = plane.Point{X: math.Max(hi.X, b.X), Y: math.Max(hi.Y, b.Y)}
				}
			}
			sides, boxes = append(sides, all), append(boxes, [2]plane.Point{lo, hi})
		}
		m.sides, m.boxes = append(m.sides, sides), append(m.boxes, boxes)
	}
}

func apartBy(a, b [2]plane.Point, slack float64) bool {
	return a[0].X > b[1].X+slack || b[0].X > a[1].X+slack || a[0].Y > b[1].Y+slack || b[0].Y > a[1].Y+slack
}

// pair are the heights at which the sides of two walls come to touch each other or cease to, and those at which a corner of one
// passes a side of the other.
func (m *meeter) pair(i, j int) (zs []float64) {
	for a := range m.sides[i] {
		for b := range m.sides[j] {
			if apartBy(m.boxes[i][a], m.boxes[j][b], plane.Near) {
				continue
			}
			if !m.moves(i, a) && !m.moves(j, b) {
				m.crossed = append(m.crossed, crossed{[2]int{i, j}, [2]int{a, b}})
				continue
			}
			m.crossed = append(m.crossed, crossed{[2]int{i, j}, [2]int{a, b}})
			for n, f := range touches {
				if n == startOfSecond && !m.walls[j].corner(b) || n == startOfFirst && !m.walls[i].corner(a) {
					continue
				}
				zs = append(zs, m.roots(true, func(z float64) (float64, bool) {
					c, ok := m.walls[i].sideAt(a, z)
					d, both := m.walls[j].sideAt(b, z)
					if !ok || !both {
						return 0, false
					}
					return f.apart(&c, &d)
				}, func(z float64) bool {
					if f.at == nil {
						return true
					}
					c, _ := m.walls[i].sideAt(a, z)
					d, _ := m.walls[j].sideAt(b, z)
					p := f.at(&c, &d)
					return covers(&c, p) && covers(&d, p)
				}, func(k int) (float64, bool) {
					c, d := m.sample(i, a, k), m.sample(j, b, k)
					if c.gone || d.gone {
						return 0, false
					}
					return f.apart(&c.Curve, &d.Curve)
				})...)
			}
		}
	}
	return zs
}

// graze tells whether sides of two walls touch all the way.
func (m *meeter) graze(i, j int) bool {
	k := looks / 2
	for a := range m.sides[i] {
		for b := range m.sides[j] {
			if c, d := m.sample(i, a, k), m.sample(j, b, k); !c.gone && !d.gone && grazes(&c.Curve, &d.Curve) {
				p := touchPoint(&c.Curve, &d.Curve)
				if covers(&c.Curve, p) && covers(&d.Curve, p) {
					return true
				}
			}
		}
	}
	return false
}

// touch is a way in which two sides touch: by how much they are apart from it, false where they cannot, and where it is.
type touch struct {
	apart func(c, d *plane.Curve) (float64, bool)
	at    func(c, d *plane.Curve) plane.Point
}

var touches = []touch{
	{ // from outside
		func(c, d *plane.Curve) (float64, bool) {
			switch {
			case c.IsArc() && d.IsArc():
				return c.C.Distance(d.C) - c.R - d.R, c.C.Distance(d.C) > plane.Near
			case c.IsArc():
				return math.Abs(d.LeftOf(c.C)) - c.R, true
			case d.IsArc():
				return math.Abs(c.LeftOf(d.C)) - d.R, true
			}
			return 0, false
		}, touchPoint},
	{func(c, d *plane.Curve) (float64, bool) { return insideBy(c, d) }, touchPoint},
	{func(c, d *plane.Curve) (float64, bool) { return insideBy(d, c) }, touchPoint},
	{ // circles about one centre, and parallel lines
		func(c, d *plane.Curve) (float64, bool) {
			switch {
			case c.IsArc() && d.IsArc():
				return c.R - d.R, c.C.Distance(d.C) <= plane.Near
			case c.IsArc() || d.IsArc():
				return 0, false
			}
			u, v := c.Tangent(c.A), d.Tangent(d.A)
			return c.LeftOf(d.A), math.Abs(u.X*v.Y-u.Y*v.X) <= along
		}, nil},
	{func(c, d *plane.Curve) (float64, bool) { return c.LeftOf(d.A), true }, func(_, d *plane.Curve) plane.Point { return d.A }},
	{func(c, d *plane.Curve) (float64, bool) { return d.LeftOf(c.A), true }, func(c, _ *plane.Curve) plane.Point { return c.A }},
}

// The last two ways are those of the corner at the start of the second side, and of the first.
const startOfSecond, startOfFirst = 4, 5

// insideBy is how far a circle reaches out of another: below 0 it is inside it. One function for each, so that it passes 0 once where two
// circles whose centres lie close together change places.
func insideBy(c, d *plane.Curve) (float64, bool) {
	if !c.IsArc() || !d.IsArc() {
		return 0, false
	}
	apart := c.C.Distance(d.C)
	return apart - (d.R - c.R), apart > plane.Near
}

// corner tells whether one line or circle ends and another begins where a side does.
func (w *wall) corner(i int) bool {
	in, out := &w.drawn[(i+len(w.drawn)-1)%len(w.drawn)], &w.drawn[i]
	if w.ring || in.IsArc() && out.IsArc() && in.C.Distance(out.C) <= plane.Near && math.Abs(in.R-out.R) <= plane.Near {
		return false
	}
	return true
}

// touchPoint is where two sides touch that are not both lines.
func touchPoint(c, d *plane.Curve) plane.Point {
	if !c.IsArc() {
		c, d = d, c
	}
	if !d.IsArc() {
		return d.Foot(c.C)
	}
	if c.R < d.R {
		c, d = d, c
	}
	return c.Foot(d.C)
}

// covers tells whether a point near a side lies between its ends.
func covers(c *plane.Curve, p plane.Point) bool { return c.Off(p) <= 10*plane.Near }

// roots are the heights at which what f gives passes 0 and holds says that it counts; sampled gives f at the heights that were
// looked at. begins asks for those right beside where a side begins or vanishes too.
func (m *meeter) roots(begins bool, f func(z float64) (float64, bool), holds func(z float64) bool,
	sampled func(k int) (float64, bool)) (zs []float64) {
	before, known := sampled(0)
	for k := 1; k < looks; k++ {
		now, ok := sampled(k)
		low, high, a, b := m.at[k-1], m.at[k], before, now
		switch {
		case known == ok:
		case !begins: // a stretch in which it cannot be told
			a = b
		case ok:
			low = m.begin(f, high, low)
			a, _ = f(low)
		default:
			high = m.begin(f, low, high)
			b, _ = f(high)
		}
		find := func(low, high, a, b float64) {
			if (a < 0) == (b < 0) || math.Max(math.Abs(a), math.Abs(b)) <= coincident {
				return
			}
			if z := m.root(f, low, high, a); holds == nil || holds(z) {
				zs = append(zs, z)
			}
		}
		if known || ok {
			find(low, high, a, b)
		}
		if known && ok && k+1 < looks {
			if after, is := sampled(k + 1); is && dips(before, now, after) { // it may pass 0 twice
				sign := math.Copysign(1, now)
				z, least := LeastBeside(func(z float64) float64 {
					v, _ := f(z)
					return sign * v
				}, m.at[k-1], m.at[k+1])
				if least < 0 {
					find(m.at[k-1], z, before, sign*least)
					find(z, m.at[k+1], sign*least, after)
				}
			}
		}
		before, known = now, ok
	}
	return zs
}

// dips tells whether a smooth function that is a, b and c at three heights, one after the other, may come near to 0 or past it on the way
// though it has one sign at all three: it is nearest at the second, and bends.
func dips(a, b, c float64) bool {
	if (a < 0) != (b < 0) || (b < 0) != (c < 0) || math.Abs(b) > math.Abs(a) || math.Abs(b) > math.Abs(c) {
		return false
	}
	bend := a + c - 2*b
	if bend == 0 {
		return false
	}
	turns := b - (a-c)*(a-c)/(8*bend) // of the parabola through the three
	return turns*b < math.Abs(b)*math.Abs(b)/2
}

// begin is the height nearest to another at which f can still be told, from one at which it can.
func (m *meeter) begin(f func(z float64) (float64, bool), told, other float64) float64 {
	for k := 0; k < 60 && math.Abs(other-told) > rootStep*math.Max(1, math.Abs(told)); k++ {
		z := mid(told, other)
		if _, ok := f(z); ok {
			told = z
		} else {
			other = z
		}
	}
	return told
}

// root is where f passes 0 between two heights, by halving and, where that is faster, along the chord.
func (m *meeter) root(f func(z float64) (float64, bool), a, b, fa float64) float64 {
	fb, _ := f(b)
	for k := 0; k < 200 && b-a > rootStep*math.Max(1, math.Abs(a)); k++ {
		z := mid(a, b)
		if k%3 > 0 && fb != fa { // along the chord, a little past it so that both ends come nearer
			z = math.Min(math.Max(a-fa*(b-a)/(fb-fa), a+(b-a)*closeIn), b-(b-a)*closeIn)
		}
		fz, _ := f(z)
		if fz == 0 {
			return z
		}
		if (fz < 0) == (fa < 0) {
			a, fa = z, fz
		} else {
			b, fb = z, fz
		}
	}
	return mid(a, b)
}

// triples are the heights at which a point where two sides meet passes a side of a third wall: of two pairs with a common side, each three
// once.
func (m *meeter) triples() (zs []float64) {
	known := map[crossed]bool{}
	for _, x := range m.crossed {
		known[x] = true
	}
	for n, x := range m.crossed {
		for _, y := range m.crossed[:n] {
			for p := range 2 {
				for q := range 2 {
					i, a, j, k := x.wall[p], x.side[p], x.wall[1-p], y.wall[1-q] // the side that both pairs share, and the others
					b, c := x.side[1-p], y.side[1-q]
					if y.wall[q] != i || y.side[q] != a || j == k || i < max(j, k) && (known[crossed{[2]int{j, k}, [2]int{b, c}}] ||
						known[crossed{[2]int{k, j}, [2]int{c, b}}]) {
						continue // told by that of the last wall
					}
					zs = append(zs, m.triple([3]int{i, j, k}, [3]int{a, b, c})...)
				}
			}
		}
	}
	return zs
}

// movingLast puts the one of three sides that moves last, where one alone does.
func (m *meeter) movingLast(w, side [3]int) ([3]int, [3]int) {
	for k := range 2 {
		if m.moves(w[k], side[k]) && !m.moves(w[1-k], side[1-k]) && !m.moves(w[2], side[2]) {
			w[k], w[2], side[k], side[2] = w[2], w[k], side[2], side[k]
			break
		}
	}
	return w, side
}

func (m *meeter) triple(w, side [3]int) (zs []float64) {
	if !m.moves(w[0], side[0]) && !m.moves(w[1], side[1]) && !m.moves(w[2], side[2]) {
		return nil
	}
	if apartBy(m.boxes[w[1]][side[1]], m.boxes[w[2]][side[2]], plane.Near) {
		return nil
	}
	w, side = m.movingLast(w, side)
	still := !m.moves(w[0], side[0]) && !m.moves(w[1], side[1])
	for which := range 2 {
		point := func(c, d *plane.Curve) (plane.Point, bool) { return plane.Crossing(c, d, which) }
		if still {
			p, ok := point(&m.sample(w[0], side[0], 0).Curve, &m.sample(w[1], side[1], 0).Curve)
			if !ok || apartBy([2]plane.Point{p, p}, m.boxes[w[2]][side[2]], plane.Near) {
				continue // the other two meet where it never comes
			}
			point = func(*plane.Curve, *plane.Curve) (plane.Point, bool) { return p, true }
		}
		all := func(z float64) (cs [3]plane.Curve, ok bool) {
			ok = true
			for k := range cs {
				var left bool
				cs[k], left = m.walls[w[k]].sideAt(side[k], z)
				ok = ok && left
			}
			return cs, ok
		}
		off := func(cs *[3]plane.Curve) (float64, bool) {
			p, ok := point(&cs[0], &cs[1])
			return cs[2].LeftOf(p), ok
		}
		zs = append(zs, m.roots(false, func(z float64) (float64, bool) {
			cs, ok := all(z)
			if !ok {
				return 0, false
			}
			return off(&cs)
		}, func(z float64) bool {
			cs, _ := all(z)
			p, ok := point(&cs[0], &cs[1])
			return ok && covers(&cs[0], p) && covers(&cs[1], p) && covers(&cs[2], p)
		}, func(k int) (float64, bool) {
			var cs [3]plane.Curve
			for n := range cs {
				x := m.sample(w[n], side[n], k)
				if x.gone {
					return 0, false
				}
				cs[n] = x.Curve
			}
			return off(&cs)
		})...)
	}
	return zs
}
