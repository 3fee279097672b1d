package blank

import (
	"fmt"
	"math"
	"slices"

	"corerod/parts"
	"corerod/parts/plane"
)

// rimPiece is a stretch of the section of a treated rim or foot: how far from the wall it lies at heights counted from the end face
// into the wall, in the direction of what is taken away or added; a line, or an arc about a centre.
type rimPiece struct {
	from, to float64 // heights
	at, lean float64 // of a line: the distance at height 0, and by how much it falls for each mm of height
	r        float64 // of an arc, 0 for a line
	beyond   bool    // of an arc: past the height of its centre
	wall     bool    // it is the wall itself, which moves by lean
}

// section is that of an edge's treatment beside a wall that leans by k, mm away for each mm of height.
func rimSection(e *parts.Edge, k float64) (ps []rimPiece, err error) {
	if c := e.Chamfer; c != nil {
		rise := math.Tan(c.Slope * math.Pi / 180)
		high := c.Rise()
		if c.Flat == 0 {
			if 1/rise+k <= along {
				return nil, fmt.Errorf("its slope of %s deg never meets the wall, which leans by %s deg", decimals(c.Slope, 2),
					decimals(math.Atan(k)*180/math.Pi, 2))
			}
			high = c.Width / (1/rise + k)
		}
		return []rimPiece{{to: high, at: c.Flat + c.Width, lean: 1 / rise}}, nil
	}
	r, h := e.Radius, math.Hypot(1, k)
	centre, end := r*(k+h), r*(1+k/h)
	if end <= r+SameHeight {
		return []rimPiece{{to: end, at: centre, r: r}}, nil
	}
	return []rimPiece{{to: r, at: centre, r: r}, {from: r, to: end, at: centre, r: r, beyond: true}}, nil
}

func decimals(v float64, n int) string { return fmt.Sprintf("%.*f", n, v) }

// motion is that of a piece as sides move to their left: z is the height of the end face, dir which way heights count from it, and s
// whether left is away from the wall.
func (p *rimPiece) motion(z, dir, s float64) motion {
	switch {
	case p.wall && p.lean == 0:
		return motion{slope: math.Inf(1), from: z}
	case p.wall:
		return motion{slope: dir * s / p.lean, from: z}
	case p.r == 0:
		rise := 1 / p.lean
		return motion{slope: -dir * s * rise, from: z + dir*rise*p.at}
	}
	m := motion{r: p.r, at: s * p.at, over: z + dir*p.r, side: -s, upper: -dir}
	if p.beyond {
		m.upper = dir
	}
	return m
}

// EndsAt tells whether a wall of a feature ends at a height on a side.
func (s *Shape) EndsAt(feature int, side string, z float64) bool {
	return slices.ContainsFunc(s.walls, func(w wall) bool {
		at := w.high
		if side == "bottom" {
			at = w.low
		}
		return w.feature == feature && math.Abs(at-z) <= SameHeight
	})
}

// Treat is what the treatment of an edge changes where the walls of a feature meet an end face at a height, on a side of the part.
func (s *Shape) Treat(e *parts.Edge, feature int, side string, z float64) (*Change, error) {
	foot := e.Face == ""
	if !foot {
		pressed, err := throughStock(e, s.stockAt(side, z))
		if err != nil {
			return nil, err
		}
		e = pressed
	}
	x := &Change{Name: e.Name, Adds: foot, Outside: s.IsCut(feature) == foot, From: -1}
	sign := -1.0 // away from the wall is outward
	if x.Outside {
		sign = 1
	}
	if !foot && x.Outside {
		x.From = feature
	}
	dir := 1.0
	if (side == "top") != foot {
		dir = -1
	}
	var ends []*wall
	own := map[int]bool{}
	deep := 0.0
	for i := range s.walls {
		w := &s.walls[i]
		if w.feature != feature || !w.covers(z+dir*2*SameHeight, z+dir*2*SameHeight) {
			continue
		}
		ends, own[i] = append(ends, w), true
		for _, k := range w.leans(z, dir, sign) {
			ps, err := rimSection(e, k)
			if err != nil {
				return nil, err
			}
			deep = math.Max(deep, ps[len(ps)-1].to)
		}
	}
	x.Face = s.facing(feature, foot, side, z, own)
	x.Low, x.High = math.Min(z, z+dir*deep), math.Max(z, z+dir*deep)
	for _, w := range ends {
		l, err := w.section(z)
		if err != nil {
			return nil, err
		}
		ts, err := rimTiers(e, l, w.ring, w.leans(z, dir, sign), z, dir, sign, deep)
		if err != nil {
			return nil, err
		}
		for t := range ts {
			x.walls = append(x.walls, wall{copy: w.copy, tier: &ts[t], drawn: ts[t].drawn, low: ts[t].lo, high: ts[t].hi})
		}
	}
	return x, nil
}

// facing is the area over which the part has a face across the axis at a height on a side, or ends on some walls of a feature that lean,
// where nothing but that feature keeps the face from going on; the floor of a cut, where its foot is, goes no further.
func (s *Shape) facing(feature int, foot bool, side string, z float64, walls map[int]bool) *plane.Region {
	at, beyond := 0, z-2*SameHeight
	if side == "top" {
		at, beyond = 1, z+2*SameHeight
	}
	k, _ := slices.BinarySearch(s.heights, beyond)
	return s.overlay.Region(func(c int) bool {
		return slices.ContainsFunc(s.cells[c].ends, func(ends [2]surface) bool {
			f := ends[at]
			if f.flat() {
				return math.Abs(f.z-z) <= SameHeight
			}
			return walls[f.wall] && (foot && s.IsCut(feature) || !s.materialBut(c, feature, k-1))
		})
	}, func(int, int, int) int { return 0 })
}

// materialBut tells whether a cell would be material in slab k without a feature.
func (s *Shape) materialBut(c, feature, k int) bool {
	if k < 0 || k+1 >= len(s.heights) {
		return false
	}
	count := make([]int, len(s.features))
	s.overlay.Cells[c].Inside.Each(func(f int) {
		if s.Covers(f, k) && s.outlines[f].feature != feature {
			count[s.outlines[f].feature]++
		}
	})
	return s.leaves(func(feature int) int { return count[feature] })
}

// leans are by how much the sides of a wall lean beside a height, in a direction along z: mm away for each mm, as sign tells left is.
// A wall that is no ring leans alike all round.
func (w *wall) leans(z, dir, sign float64) (ks []float64) {
	beside := z + dir*2*SameHeight
	if !w.slopes(beside, beside) {
		return make([]float64, len(w.drawn))
	}
	for i := range w.drawn {
		ks = append(ks, sign*dir*w.moves[i].rate(w.over(z)))
	}
	return ks
}

// rimTiers are the outlines of a rim or foot round the outline of a wall at an end face, to a height from it.
func rimTiers(e *parts.Edge, l plane.Loop, ring bool, leans []float64, z, dir, sign, deep float64) (out []tier, err error) {
	sections := make([][]rimPiece, len(l))
	stops := []float64{0, deep}
	for i := range l {
		sections[i], _ = rimSection(e, leans[i])
		last := sections[i][len(sections[i])-1].to
		if last < deep-SameHeight {
			sections[i] = append(sections[i], rimPiece{from: last, to: deep, lean: leans[i], wall: true})
		}
		for _, p := range sections[i] {
			stops = append(stops, p.to)
		}
	}
	stops = distinct(stops)
	for n := 0; n+1 < len(stops); n++ {
		lo, hi := z+dir*stops[n], z+dir*stops[n+1]
		t := tier{lo: math.Min(lo, hi), hi: math.Max(lo, hi), drawn: l, ring: ring}
		for i := range l {
			k := slices.IndexFunc(sections[i], func(p rimPiece) bool { return mid(stops[n], stops[n+1]) < p.to })
			m := sections[i][k].motion(z, dir, sign)
			t.moves = append(t.moves, &m)
		}
		if ring {
			out = append(out, t)
			continue
		}
		ts, err := t.mitred()
		if err != nil {
			return nil, err
		}
		out = append(out, ts...)
	}
	return out, nil
}

// mitred are the stretches of a tier whose sides move alike: where a radius vanishes on the way the next begins, in which the sides beside
// it meet in a corner.
func (t *tier) mitred() (out []tier, err error) {
	m := t.moves[0]
	far, sign := m.off(t.hi), 1.0
	if math.Abs(m.off(t.lo)) > math.Abs(far) {
		far = m.off(t.lo)
	}
	if far < 0 {
		sign = -1
	}
	outward := func(l plane.Loop) plane.Loop { // its left is outward
		if sign < 0 {
			return l.Reversed()
		}
		return l
	}
	radii := outward(t.drawn).Radii(math.Abs(far) + leastRound) // one that vanishes just at the end too
	stops := []float64{t.lo, t.hi}
	for _, r := range radii {
		stops = append(stops, m.up(sign*(r-leastRound)))
	}
	stops = distinct(stops)
	for n := 0; n+1 < len(stops); n++ {
		x := tier{lo: stops[n], hi: stops[n+1], drawn: t.drawn}
		if d := math.Abs(m.off(mid(x.lo, x.hi))); d > 0 {
			gone := radii[:0:0]
			for _, r := range radii {
				if r-leastRound < d {
					gone = append(gone, r)
				}
			}
			if len(gone) > 0 {
				x.drawn = outward(outward(t.drawn).Mitred(gone[len(gone)-1]))
			}
			x.mitres = len(gone) < len(radii)
		}
		x.moves = all(len(x.drawn), *m)
		for _, u := range [2]float64{x.lo, x.hi} {
			if _, e := x.at(u); e != nil && err == nil {
				err = e
			}
		}
		out = append(out, x)
	}
	return out, err
}
