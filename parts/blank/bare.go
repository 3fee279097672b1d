package blank

import (
	"cmp"
	"math"
	"slices"

	"corerod/parts/plane"
)

// MostRim is the greatest width in plan of a rim or a foot, mm: a wider strip is a slope, from memory.
const MostRim = 1.5

// Treated is a rim or a foot that is drawn as a slope of a body or cut: a strip between a wall and an end face.
type Treated struct {
	Feature     int
	Side        string
	Z           float64 // mm, of the end face
	Foot, Round bool
	Inner       bool       // of a half section: it is a circle round its inside
	End         float64    // mm, where it goes over into the wall
	Width, Rise float64    // mm, in plan and along the axis
	Flat        float64    // mm, in plan, between the wall and the slope
	Outline     plane.Loop // of the wall, in the frame of the overlay
}

// Drawn is the shape with the rims and feet that bodies and cuts have as slopes; on the shape itself walls go on to the end faces. It is
// the shape itself where there are none.
func (s *Shape) Drawn() *Shape {
	if s.asDrawn != nil {
		return s.asDrawn
	}
	return s
}

// Treated are those rims and feet.
func (s *Shape) Treated() []Treated { return s.treated }

// bare is the shape without the rims and feet that are drawn as slopes: the walls beside them go on to the end faces.
func (s *Shape) bare() *Shape {
	found := s.treatedStrips()
	if len(found) == 0 {
		return s
	}
	w := &Shape{part: s.part, features: s.features, bodies: s.bodies, drawn: s.drawn, keeps: s.keeps, walls: slices.Clone(s.walls),
		low: s.low, high: s.high, origin: s.origin, materials: map[float64]*plane.Region{}, asDrawn: s}
	gone := map[int]bool{}
	for _, x := range found {
		if t := w.straighten(s, &x); x.last == x.strip {
			w.treated = append(w.treated, t)
		}
		gone[x.wall] = true
	}
	w.joinWalls(gone)
	w.findStations()
	if ps := w.lay(); len(ps) > 0 {
		return s // without them it cannot be told apart
	}
	return w
}

// foundStrip is a strip that is a rim or a foot, with the wall that it goes over into.
type foundStrip struct {
	strip
	Treated
	last   strip // of several in one surface the one that does
	beside *plane.Curve
	leans  float64 // of a ring: how the wall moves, as slope of a motion
}

// treatedStrips are the strips that are rims and feet, in order. All copies of a slope are, or none.
func (s *Shape) treatedStrips() (found []foundStrip) {
	type tierSide struct{ feature, tier, ring int }
	tierOf := func(x strip) tierSide {
		w := &s.walls[x.wall]
		return tierSide{w.feature, slices.IndexFunc(s.walls, func(o wall) bool { return o.tier == w.tier }), x.ring}
	}
	not := map[tierSide]bool{}
	all := s.strips()
	for x := range all {
		if t, ok := s.treat(all, x); ok {
			found = append(found, t)
		} else {
			not[tierOf(x)] = true
		}
	}
	found = slices.DeleteFunc(found, func(f foundStrip) bool { return not[tierOf(f.strip)] })
	slices.SortFunc(found, func(a, b foundStrip) int { return cmp.Or(a.wall-b.wall, a.ring-b.ring) })
	return found
}

// group are the strips that go on as each other, and all that lies along them.
func group(all map[strip]*beside, x strip) (strips []strip, b beside) {
	strips = []strip{x}
	for i := 0; i < len(strips); i++ {
		o := all[strips[i]]
		b.above, b.fall, b.up = b.above || o.above, b.fall || o.fall, b.up || o.up
		b.down, b.ledge, b.other = b.down || o.down, b.ledge || o.ledge, b.other || o.other
		b.ends = append(b.ends, o.ends...)
		if o.up {
			b.face = o.face
		}
		if o.down {
			b.foot = o.foot
		}
		for _, y := range o.goesOn {
			if !slices.Contains(strips, y) {
				strips = append(strips, y)
			}
		}
	}
	return strips, b
}

// treat is the rim or foot that a strip is, or a piece of it.
func (s *Shape) treat(all map[strip]*beside, x strip) (t foundStrip, ok bool) {
	strips, b := group(all, x)
	w := &s.walls[x.wall]
	round := w.moves[w.sideOf(x.ring)].r > 0
	rim, foot := b.kind()
	if !rim && (!foot || !round) {
		return t, false
	}
	t = foundStrip{strip: x, last: x, Treated: Treated{Feature: w.feature, Side: x.side, Foot: foot, Round: round, Z: b.face}}
	t.Inner = w.ring && w.drawn[w.sideOf(x.ring)].Sweep < 0
	if foot {
		t.Z = b.foot
	}
	if t.End, ok = end(b.ends, (x.side == "top") != foot); rim && b.ledge {
		t.End, ok = b.foot, true
	}
	if !ok {
		return t, false
	}
	s.size(&t, strips)
	if last := &s.walls[t.last.wall]; round && !last.steeperAt(last.sideOf(t.last.ring), t.End, t.Z) {
		return t, false // hollow
	}
	if w.ring {
		s.wallBeside(&t)
		if t.beside == nil && b.ledge && !foot {
			return t, false
		}
	}
	return t, (w.ring || foot || !b.ledge) && t.Width+t.Flat <= MostRim+plane.Near && t.Rise > SameHeight
}

// size finds how wide and high a rim or foot of some strips is, and which of them goes over into the wall.
func (s *Shape) size(t *foundStrip, strips []strip) {
	for _, y := range strips {
		v := &s.walls[y.wall]
		if t.End >= v.slopeLow()-SameHeight && t.End <= v.slopeHigh()+SameHeight {
			t.last = y
		}
		t.Width += v.within(v.sideOf(y.ring), math.Min(t.Z, t.End), math.Max(t.Z, t.End))
	}
	t.Rise = math.Abs(t.End - t.Z)
}

// steeperAt tells whether a side that is round in section is steeper at a height than at another.
func (w *wall) steeperAt(side int, z, other float64) bool {
	return math.Abs(w.moves[side].rate(w.over(z))) < math.Abs(w.moves[side].rate(w.over(other)))
}

// sideOf is the first side of one of a ring's circles; the first of all other outlines.
func (w *wall) sideOf(ring int) int {
	if w.ring {
		return 2 * ring
	}
	return 0
}

// wallBeside finds the circle of the wall that a strip of a ring goes over into, past a flat where there is one.
func (s *Shape) wallBeside(t *foundStrip) {
	w := &s.walls[t.last.wall]
	at, _ := w.sideAt(w.sideOf(t.ring), t.End)
	past := t.End + math.Copysign(2*SameHeight, t.End-t.Z)
	out := math.Copysign(1, at.Sweep) // to the void
	if s.IsCut(w.feature) {
		out = -out
	}
	for i := range s.walls {
		v := &s.walls[i]
		if !v.covers(past, past) || s.IsCut(v.feature) != s.IsCut(w.feature) {
			continue
		}
		for k := range v.drawn {
			c, ok := v.sideAt(k, t.End)
			if !ok || !c.IsArc() || c.C.Distance(at.C) > plane.Near || (c.Sweep > 0) != (at.Sweep > 0) {
				continue
			}
			off := (c.R - at.R) * out
			flatter := v.slopes(past, past) && v.leanOf(k) > MostWall
			if off < -plane.Near || off > MostRim || flatter || t.beside != nil && off > t.Flat+plane.Near {
				continue
			}
			t.beside, t.Flat, t.leans = &c, off, math.Inf(1)
			if v.slopes(past, past) && v.moves[k].r == 0 {
				t.leans = v.moves[k].slope
			}
		}
	}
	if t.Flat <= plane.Near {
		t.Flat = 0
	}
}

// straighten lets the wall beside a strip go on in its place, as the shape was drawn.
func (s *Shape) straighten(drawn *Shape, x *foundStrip) Treated {
	w := &s.walls[x.wall]
	t, u := x.Treated, w.over(x.End)
	if !w.ring {
		w.drawn, _ = drawn.walls[x.last.wall].section(x.End)
		w.tier = &tier{lo: w.lo, hi: w.hi, drawn: w.drawn}
		t.Outline = w.drawn
		return t
	}
	y := *w.tier
	y.tip = [2]bool{}
	y.moves = slices.Clone(y.moves)
	y.drawn = slices.Clone(w.drawn)
	leans := false
	for i := range y.drawn {
		m := y.moves[i]
		if i/2 == x.ring {
			c, _ := y.drawn[i].Offset(m.off(u))
			m = &motion{slope: math.Inf(1)}
			if x.beside != nil {
				c, _ = c.Offset((c.R - x.beside.R) * math.Copysign(1, c.Sweep))
				m.slope, m.from = x.leans, u
			}
			y.drawn[i], y.moves[i] = c, m
			t.Outline = append(t.Outline, c)
		}
		leans = leans || !math.IsInf(m.slope, 0) || m.r > 0
	}
	if !leans {
		y.moves = nil
	}
	w.drawn, w.tier = y.drawn, &y
	return t
}

// joinWalls joins what was straightened to upright walls of the same outline: those of its own feature that go on above or below, and
// leaves out cuts that another one covers.
func (s *Shape) joinWalls(straightened map[int]bool) {
	left := map[int]bool{}
	for i := range s.walls {
		left[i] = true
	}
	for again := true; again; {
		again = false
		for i := range s.walls {
			for k := range s.walls {
				if i == k || !straightened[i] || !left[i] || !left[k] || !s.goesOnAs(&s.walls[i], &s.walls[k]) {
					continue
				}
				w, v := &s.walls[i], &s.walls[k]
				if w.feature == v.feature {
					y := *v.tier
					v.low, v.high = math.Min(v.low, w.low), math.Max(v.high, w.high)
					y.lo, y.hi = math.Min(y.lo, w.lo), math.Max(y.hi, w.hi)
					v.tier = &y
				}
				delete(left, i)
				again = true
			}
		}
	}
	var walls []wall
	for i := range s.walls {
		if left[i] {
			walls = append(walls, s.walls[i])
		}
	}
	s.walls = walls
}

// goesOnAs tells whether an upright wall has the outline of another of its copy beside it along the axis, or of another cut all along it.
func (s *Shape) goesOnAs(w, v *wall) bool {
	one := w.feature == v.feature && w.copy == v.copy && w.low <= v.high+SameHeight && w.high >= v.low-SameHeight
	other := s.IsCut(w.feature) && s.IsCut(v.feature) && w.low >= v.low-SameHeight && w.high <= v.high+SameHeight &&
		s.features[w.feature].Keep == nil && s.features[v.feature].Keep == nil
	if !one && !other || w.sloped() || v.sloped() || len(w.drawn) != len(v.drawn) {
		return false
	}
	for i := range w.drawn {
		if p := w.drawn[i].At(0.3); !slices.ContainsFunc(v.drawn, func(c plane.Curve) bool { return c.Off(p) <= plane.Near }) {
			return false
		}
	}
	return true
}
