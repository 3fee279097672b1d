package measure

import (
	"math"
	"slices"

	"corerod/parts"
	"corerod/parts/blank"
	"corerod/parts/plane"
	"corerod/parts/subject"
)

// rim is where the walls of one feature meet its end faces of one height.
type rim struct {
	feature int
	side    string
	inner   bool // of a turned feature or ball: of the circles round its inside
	z       float64
	wall    float64            // least height of the wall below it
	lengths map[string]float64 // of its edges, by the member that forms the wall
	at      plane.Point        // weighted by length
	cells   []int              // of the end face along it
	edges   []int              // of the overlay
	across  float64            // width in plan of its treatment, a flat with it
}

// foot is where the walls of one feature meet a face of one height that is set back.
type foot struct {
	feature int
	side    string
	z       float64
	wall    float64 // least height of the wall over it
	cells   []int   // of the face along it
	edges   []int   // of the overlay
}

// findRims gathers the edges of the end faces and of the feet below them, with the least height of the wall over each.
func findRims(s *blank.Shape) (rims []*rim, feet []*foot) {
	for _, side := range []string{"bottom", "top"} {
		f := s.Face(side)
		for i := range s.Edges() {
			c, d := s.Edge(i).Left, s.Edge(i).Right
			if !f.Solid(c) || f.Solid(d) && blank.Outward(side, f.Z(d), f.Z(c)) > 0 {
				c, d = d, c
			}
			if !f.Solid(c) || f.Solid(d) && (math.Abs(f.Z(c)-f.Z(d)) <= blank.SameHeight || !standsOut(s, side, c, d)) {
				continue
			}
			rims = addRim(s, rims, f, i, c, d)
			if f.Solid(d) {
				of := s.FeatureOf(s.Owner(slabBeyond(s, d, side), i, c, d))
				feet = addFoot(feet, foot{of, side, f.Z(d), math.Abs(f.Z(c) - f.Z(d)), []int{d}, []int{i}})
			}
		}
	}
	return rims, feet
}

// addFoot adds what is at one edge.
func addFoot(feet []*foot, x foot) []*foot {
	for _, t := range feet {
		if t.feature == x.feature && t.side == x.side && math.Abs(t.z-x.z) <= blank.SameHeight {
			t.wall, t.cells, t.edges = math.Min(t.wall, x.wall), append(t.cells, x.cells...), append(t.edges, x.edges...)
			return feet
		}
	}
	return append(feet, &x)
}

// standsOut tells whether the column of a cell really ends further out than that of another, which a slope that belongs
// to a flat further out need not.
func standsOut(s *blank.Shape, side string, c, d int) bool {
	zc, _ := s.ColumnEnd(c, side)
	zd, _ := s.ColumnEnd(d, side)
	return blank.Outward(side, zc, zd) > 0
}

// slabBeyond is the slab just outside the end of a cell's column.
func slabBeyond(s *blank.Shape, c int, side string) int {
	r, _ := s.Column(c)
	if side == "top" {
		return r.Hi + 1
	}
	return r.Lo - 1
}

// addRim adds one edge between cell c, whose end face it bounds, and cell d.
func addRim(s *blank.Shape, rims []*rim, f *blank.Face, edge, c, d int) []*rim {
	r, _ := s.Column(c)
	k, step, last := r.Hi, -1, r.Lo
	if f.Side() == "bottom" {
		k, step, last = r.Lo, 1, r.Hi
	}
	owner := s.Owner(k, edge, c, d)
	feature, inner := s.FeatureOf(owner), s.Inner(owner, edge)
	if s.Feature(feature).Relief != nil || s.EndsOnRelief(c, f.Side()) {
		return rims // a relief's rims are as the part file gives it, without treatment
	}
	wall := 0.0
	for j := k; j != last+step && !s.Solid(d, j) && s.FeatureOf(s.Owner(j, edge, c, d)) == feature; j += step {
		wall += s.Z(j+1) - s.Z(j)
	}
	if f.Sloped(c) || s.Leans(s.Owner(k, edge, c, d)) { // the slope as a whole
		low, high := s.Span([]int{c})
		wall = high - low
		if f.Solid(d) {
			wall = math.Abs(f.Z(c) - f.Z(d))
		}
	}
	i := slices.IndexFunc(rims, func(m *rim) bool {
		return m.feature == feature && m.side == f.Side() && m.inner == inner && math.Abs(m.z-f.Z(c)) <= blank.SameHeight
	})
	if i < 0 {
		i = len(rims)
		rims = append(rims, &rim{feature: feature, side: f.Side(), inner: inner, z: f.Z(c), wall: wall, lengths: map[string]float64{}})
	}
	m, curve := rims[i], &s.Edge(edge).Curve
	length, mid := curve.Length(), curve.Centroid()
	m.wall = math.Min(m.wall, wall)
	m.lengths[former(s, k, d)] += length
	m.at = plane.Point{X: m.at.X + length*mid.X, Y: m.at.Y + length*mid.Y}
	m.cells, m.edges = append(m.cells, c), append(m.edges, edge)
	return rims
}

// member is the one that forms most of a rim's wall.
func (m *rim) member() string {
	best := ""
	for _, name := range []string{"die", "core-rod", "upper-punch", "lower-punch"} {
		if m.lengths[name] > m.lengths[best]+longer {
			best = name
		}
	}
	return best
}

// measureRims turns the rims into subjects, with the treatment that the part file gives them.
func measureRims(s *blank.Shape, found []*rim) (out []*subject.Rim) {
	for _, m := range found {
		q := &subject.Rim{Treatment: "sharp", Face: m.side, Member: m.member()}
		total := 0.0
		for _, d := range m.lengths {
			total += d
		}
		q.Common = common(s, []int{m.feature}, s.ToPart(plane.Point{X: m.at.X / total, Y: m.at.Y / total}), m.z, m.z)
		q.Name += " " + m.side
		if t := drawnAt(s, m.side, m.z, false, m.edges); t != nil {
			asDrawn(s, q, t)
		}
		for i := range s.Part().Edges {
			if e := &s.Part().Edges[i]; m.treatedBy(s, e) {
				treat(q, s.EdgeAsPressed(e, m.side, m.z))
			}
		}
		m.across = q.Width.Value + q.Flat.Value
		out = append(out, q)
	}
	return out
}

// drawnAt is the rim, or the foot, that slopes of a body or cut are along most of some edges of an end face; nil where none is.
func drawnAt(s *blank.Shape, side string, z float64, foot bool, edges []int) *blank.Treated {
	all := 0.0
	along := map[[2]int]float64{} // by feature, and whether it is an inner one: by the slopes of all its copies
	for _, k := range edges {
		all += s.Edge(k).Curve.Length()
	}
	for i := range s.Treated() {
		t := &s.Treated()[i]
		if t.Side != side || t.Foot != foot || math.Abs(t.Z-z) > blank.SameHeight {
			continue
		}
		key := [2]int{t.Feature}
		if t.Inner {
			key[1] = 1
		}
		for _, k := range edges {
			c := &s.Edge(k).Curve
			if _, at := t.Outline.Nearest(c.At(0.5)); at.Distance(c.At(0.5)) <= 10*plane.Near {
				along[key] += c.Length()
			}
		}
		if along[key] > all/2 {
			return t
		}
	}
	return nil
}

// asDrawn puts the figures of a rim that is drawn as a slope.
func asDrawn(s *blank.Shape, q *subject.Rim, t *blank.Treated) {
	if of := s.Feature(t.Feature).Name; !slices.Contains(q.Features, of) {
		q.Features = append(q.Features, of)
	}
	q.Treatment, q.Width, q.Rise = "round", subject.Some(t.Width), subject.Some(t.Rise)
	if !t.Round {
		q.Treatment = "chamfer"
		q.Slope, q.Flat = subject.Some(math.Atan2(t.Rise, t.Width)*180/math.Pi), subject.Some(t.Flat)
	}
}

// treatedBy tells whether an edge treats the rim: of a body only where it ends itself, not where a cut ends it.
func (m *rim) treatedBy(s *blank.Shape, e *parts.Edge) bool {
	return e.Face == m.side && e.Of == s.Feature(m.feature).Name && (s.IsCut(m.feature) || s.EndsAt(m.feature, m.side, m.z))
}

// treat puts the figures of an edge to a rim.
func treat(q *subject.Rim, e *parts.Edge) {
	q.Features = append(q.Features, e.Name)
	if c := e.Chamfer; c != nil {
		q.Treatment = "chamfer"
		q.Width, q.Rise, q.Slope, q.Flat = subject.Some(c.Width), subject.Some(c.Rise()), subject.Some(c.Slope), subject.Some(c.Flat)
		if c.Land > 0 {
			q.Land = subject.Some(c.Land)
		}
		return
	}
	q.Treatment, q.Width, q.Rise = "round", subject.Some(e.Radius), subject.Some(e.Radius)
}
