package blank

import (
	"corerod/parts"
	"corerod/parts/plane"
	"corerod/parts/subject"
	"math"
	"slices"
)

// rim is where the walls of one feature meet its end faces of one height.
type rim struct {
	feature int
	side    string
	z       float64
	wall    float64            // least height of the wall below it
	lengths map[string]float64 // of its edges, by the member that forms the wall
	at      plane.Point        // weighted by length
	cells   []int              // of the end face along it
	edges   []int              // of the overlay
}

// foot is where the walls of one feature meet a face that is set back.
type foot struct {
	feature int
	side    string
}

// findRims gathers the edges of the end faces and of the feet below them, with the least height of the wall over each.
func (s *shape) findRims() (rims []*rim, feet map[foot]float64) {
	feet = map[foot]float64{}
	for _, side := range []string{"bottom", "top"} {
		f := s.face(side)
		for i := range s.overlay.Edges {
			c, d := s.overlay.Edges[i].Left, s.overlay.Edges[i].Right
			if !f.solid[c] || f.solid[d] && outward(side, f.z[d], f.z[c]) > 0 {
				c, d = d, c
			}
			if !f.solid[c] || f.solid[d] && (math.Abs(f.z[c]-f.z[d]) <= sameHeight || !s.standsOut(side, c, d)) {
				continue
			}
			rims = s.addRim(rims, f, i, c, d)
			if f.solid[d] {
				at, wall := foot{s.outlines[s.owner(s.beside(d, side), i, c, d)].feature, side}, math.Abs(f.z[c]-f.z[d])
				if least, ok := feet[at]; !ok || wall < least {
					feet[at] = wall
				}
			}
		}
	}
	return rims, feet
}

// standsOut tells whether the column of a cell really ends further out than that of another, which a slope that belongs
// to a flat further out need not.
func (s *shape) standsOut(side string, c, d int) bool {
	zc, _ := s.end(c, side)
	zd, _ := s.end(d, side)
	return outward(side, zc, zd) > 0
}

// beside is the slab just outside the end of a cell's column.
func (s *shape) beside(c int, side string) int {
	r, _ := s.cells[c].column()
	if side == "top" {
		return r.hi + 1
	}
	return r.lo - 1
}

// addRim adds one edge between cell c, whose end face it bounds, and cell d.
func (s *shape) addRim(rims []*rim, f *face, edge, c, d int) []*rim {
	r, _ := s.cells[c].column()
	k, step, last := r.hi, -1, r.lo
	if f.side == "bottom" {
		k, step, last = r.lo, 1, r.hi
	}
	feature := s.outlines[s.owner(k, edge, c, d)].feature
	wall := 0.0
	for j := k; ; j += step {
		if s.cells[d].solid[j] || s.outlines[s.owner(j, edge, c, d)].feature != feature {
			break
		}
		wall += s.heights[j+1] - s.heights[j]
		if j == last {
			break
		}
	}
	if f.sloped[c] || s.outlines[s.owner(k, edge, c, d)].leans { // the slope as a whole
		wall = s.high(r)
		if f.solid[d] {
			wall = math.Abs(f.z[c] - f.z[d])
		}
	}
	i := slices.IndexFunc(rims, func(m *rim) bool {
		return m.feature == feature && m.side == f.side && math.Abs(m.z-f.z[c]) <= sameHeight
	})
	if i < 0 {
		i = len(rims)
		rims = append(rims, &rim{feature: feature, side: f.side, z: f.z[c], wall: wall, lengths: map[string]float64{}})
	}
	m, curve := rims[i], &s.overlay.Edges[edge].Curve
	length, mid := curve.Length(), curve.At(0.5)
	m.wall = math.Min(m.wall, wall)
	m.lengths[s.former(k, d)] += length
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

// rims turns the rims into subjects, with the treatment that the part file gives them.
func (s *shape) rims(found []*rim) (out []*subject.Rim) {
	for _, m := range found {
		q := &subject.Rim{Treatment: "sharp", Face: m.side, Member: m.member()}
		total := 0.0
		for _, d := range m.lengths {
			total += d
		}
		q.Common = s.common([]int{m.feature}, s.at(plane.Point{X: m.at.X / total, Y: m.at.Y / total}), m.z, m.z)
		q.Name += " " + m.side
		for i := range s.part.Edges {
			if e := &s.part.Edges[i]; m.treatedBy(s, e) {
				treat(q, e)
			}
		}
		out = append(out, q)
	}
	return out
}

func (m *rim) treatedBy(s *shape, e *parts.Edge) bool {
	return e.Face == m.side && e.Of == s.features[m.feature].Name
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
