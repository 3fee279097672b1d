package blank

import (
	"corerod/parts"
	"corerod/parts/plane"
	"corerod/parts/subject"
	"math"
)

// findTapers turns the straight sloped walls into subjects.
func (s *shape) findTapers() (out []*subject.Taper) {
	for n := range s.features {
		for _, w := range s.leans(n) {
			for i, o := range s.outlines {
				if o.feature != n || math.Abs(o.lo-w.lo) > sameHeight {
					continue // the lowest slice of each copy stands for it
				}
				if t := s.taper(w, i); t != nil {
					out = append(out, t)
				}
			}
		}
	}
	return out
}

// taper measures one sloped wall of the copy that outline i is the lowest slice of; nil where nothing is left of it.
func (s *shape) taper(w lean, i int) *subject.Taper {
	slabs, beside := s.bareSlabs(w, i, s.baseOf(i))
	if len(slabs) == 0 {
		return nil
	}
	t := &subject.Taper{Angle: w.angle, Narrows: "down", FormedBy: s.formedBy(w, beside)}
	if w.up {
		t.Narrows = "up"
	}
	if land := s.land(w, i); land > 0 {
		t.Land = subject.Some(land)
	}
	switch { // a die's wall may only widen upward, a core rod's only downward
	case t.FormedBy == "die":
		part := w.up == s.outer(w) // the material narrows upward
		t.Reverse, t.ReverseTurned = part, !part
	case t.FormedBy == "core":
		t.Reverse, t.ReverseTurned = !w.up, w.up
	}
	lo, hi := s.outlines[i].loop.Bounds()
	t.Common = s.common([]int{w.feature}, s.at(plane.Point{X: (lo.X + hi.X) / 2, Y: (lo.Y + hi.Y) / 2}), s.heights[slabs[0]], s.heights[slabs[len(slabs)-1]+1])
	return t
}

// land is the height of the upright wall that goes on from a cone of a section, as far as it is bare; of two the higher.
func (s *shape) land(w lean, i int) (most float64) {
	t, turned := s.features[w.feature].Profile.(parts.Turned)
	if !turned {
		return 0
	}
	for _, o := range sectionWalls(t, w.feature) {
		if !w.goesOn(&o) {
			continue
		}
		slabs, _ := s.bareSlabs(o, i, s.baseOf(i))
		land := 0.0
		for _, k := range slabs {
			land += s.heights[k+1] - s.heights[k]
		}
		most = math.Max(most, land)
	}
	return most
}

// bareSlabs are the slabs in which other features neither cover a straight wall nor take it away, from the lowest up, and
// what fills the void beside it there, by length. The copy is that of outline i, with its lower end at base.
func (s *shape) bareSlabs(w lean, i int, base float64) (slabs []int, beside []map[string]float64) {
	_, turned := s.features[w.feature].Profile.(parts.Turned)
	outer := s.outer(w)
	for k := range s.slabs {
		if s.heights[k] < base+w.lo-sameHeight || s.heights[k+1] > base+w.hi+sameHeight {
			continue
		}
		length := map[string]float64{}
		for e := range s.overlay.Edges {
			edge := &s.overlay.Edges[e]
			in, out := edge.Left, edge.Right
			if !s.cells[in].solid[k] {
				in, out = out, in
			}
			if !s.cells[in].solid[k] || s.cells[out].solid[k] || turned && edge.Around(in) != outer ||
				turned && w.upright() && math.Abs(edge.Curve.R-w.radii[0]) > plane.Near {
				continue // no wall, or another wall of the section
			}
			if o := &s.outlines[s.owner(k, e, in, out)]; o.feature == w.feature && o.copy == s.outlines[i].copy {
				length[s.fills(w, k, out)] += edge.Curve.Length()
			}
		}
		if len(length) > 0 {
			slabs, beside = append(slabs, k), append(beside, length)
		}
	}
	return slabs, beside
}

// formedBy is what forms a sloped wall, by the longer share: at the wide end of a wall round material the die where
// the void beside it is all void and open; at the narrow end of one round a void the core rod where that is a
// through-hole; else a punch. Where that end is covered, the bare slab nearest to it decides.
func (s *shape) formedBy(w lean, beside []map[string]float64) string {
	end := beside[0]
	if s.outer(w) != w.up {
		end = beside[len(beside)-1]
	}
	best := ""
	for _, name := range []string{"die", "core", "punch"} {
		if end[name] > end[best]+longer {
			best = name
		}
	}
	return best
}

// fills is the member in a void cell beside a sloped wall.
func (s *shape) fills(w lean, k, c int) string {
	switch {
	case w.angle > MostWall || len(s.cells[c].runs) > 0:
		return "punch"
	case s.closed(k, c):
		return "core"
	}
	return "die"
}
