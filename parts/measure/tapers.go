package measure

import (
	"math"

	"corerod/parts/blank"
	"corerod/parts/form"
	"corerod/parts/plane"
	"corerod/parts/subject"
)

// findTapers turns the straight sloped walls into subjects. Open are the cells beside slopes that no punch forms, by side.
func findTapers(s *blank.Shape, open map[string][]bool) (out []*subject.Taper) {
	for n := range s.Features() {
		for _, w := range leans(s, n) {
			for i := range s.Figures() {
				u, lowest := s.Over(i)
				if s.FeatureOf(i) != n || !lowest || math.Abs(u-w.lo) > blank.SameHeight {
					continue // the lowest section of the wall of each copy stands for it
				}
				if t := taper(s, w, i, open); t != nil {
					out = append(out, t)
				}
			}
		}
	}
	return out
}

// taper measures one sloped wall of the copy that outline i is the lowest section of; nil where nothing is left of it.
func taper(s *blank.Shape, w lean, i int, open map[string][]bool) *subject.Taper {
	slabs, _, beside := bareSlabs(s, w, i, s.BaseOf(i), open)
	if len(slabs) == 0 {
		return nil
	}
	t := &subject.Taper{Angle: w.angle, Narrows: "down", FormedBy: formedBy(s, slabs, beside)}
	if w.up {
		t.Narrows = "up"
	}
	if land := land(s, w, i, open); land > 0 {
		t.Land = subject.Some(land)
	}
	switch { // a die's wall may only widen upward, a core rod's only downward
	case t.FormedBy == "die":
		part := w.up == outer(s, w) // the material narrows upward
		t.Reverse, t.ReverseTurned = part, !part
	case t.FormedBy == "core":
		t.Reverse, t.ReverseTurned = !w.up, w.up
	}
	lo, hi := s.Loop(i).Bounds()
	at := s.ToPart(plane.Point{X: (lo.X + hi.X) / 2, Y: (lo.Y + hi.Y) / 2})
	t.Common = common(s, []int{w.feature}, at, s.Low(slabs[0]), s.High(slabs[len(slabs)-1]))
	return t
}

// land is the height of the upright wall that goes on from a cone of a section, as far as it is bare; of two the lower. It is 0 where there
// is none.
func land(s *blank.Shape, w lean, i int, open map[string][]bool) (least float64) {
	t, turned := form.HalfSection(s.Feature(w.feature).Profile)
	if !turned {
		return 0
	}
	for _, o := range sectionWalls(t, w.feature) {
		if o.inner != w.inner || !w.goesOn(&o) {
			continue
		}
		_, spans, _ := bareSlabs(s, o, i, s.BaseOf(i), open)
		land, above := 0.0, math.Inf(-1) // both halves of a stretch tell of all of it
		for _, x := range spans {
			land += math.Max(0, x[1]-math.Max(x[0], above))
			above = math.Max(above, x[1])
		}
		if land > 0 && (least == 0 || land < least) {
			least = land
		}
	}
	return least
}

// bareSlabs are the slabs in which other features neither cover a straight wall nor take it away, from the lowest up, from where to where
// along the axis it is bare there, and what fills the void beside it, by length. The copy is that of outline i, with its lower end at base.
func bareSlabs(s *blank.Shape, w lean, i int, base float64, open map[string][]bool) (
	slabs []int, spans [][2]float64, beside []map[string]float64) {
	_, turned := form.HalfSection(s.Feature(w.feature).Profile)
	outer := outer(s, w)
	facing := map[bool]string{true: "bottom", false: "top"}[outer != w.up] // what lies beside its end
	for k := range s.Slabs() {
		if s.Low(k) < base+w.lo-blank.SameHeight || s.High(k) > base+w.hi+blank.SameHeight {
			continue
		}
		length, span := map[string]float64{}, [2]float64{math.Inf(1), math.Inf(-1)}
		for e := range s.Edges() {
			edge := s.Edge(e)
			in, out := edge.Left, edge.Right
			if !s.Solid(in, k) {
				in, out = out, in
			}
			if !s.Solid(in, k) || s.Solid(out, k) || turned && edge.Around(in) != outer ||
				turned && w.upright() && math.Abs(edge.Curve.R-w.radii[0]) > plane.Near {
				continue // no wall, or another wall of the section
			}
			if o := s.Owner(k, e, in, out); s.FeatureOf(o) == w.feature && s.CopyOf(o) == s.CopyOf(i) {
				length[fills(s, w, open[facing], k, out)] += edge.Curve.Length()
				for r, run := range s.Runs(in) {
					if run.Lo <= k && k <= run.Hi {
						low, high := s.EdgeSpan(e, in, r)
						span[0], span[1] = math.Min(span[0], math.Max(low, s.Low(k))), math.Max(span[1], math.Min(high, s.High(k)))
					}
				}
			}
		}
		if len(length) > 0 {
			slabs, spans, beside = append(slabs, k), append(spans, span), append(beside, length)
		}
	}
	return slabs, spans, beside
}

// formedBy is what forms a sloped wall, by the larger share of it: the die where the void beside a wall round material is open and goes
// through, the core rod where that beside one round a void is a through-hole; else a punch.
func formedBy(s *blank.Shape, slabs []int, beside []map[string]float64) string {
	area := map[string]float64{}
	for i, lengths := range beside {
		for name, length := range lengths {
			area[name] += length * (s.High(slabs[i]) - s.Low(slabs[i])) // as it is at both ends of the stretch
		}
	}
	best := "punch"
	for _, name := range []string{"core", "die"} {
		if area[name] > area[best]+longer {
			best = name
		}
	}
	return best
}

// fills is the member in a void cell beside a sloped wall; none where the void lies between two runs of material.
func fills(s *blank.Shape, w lean, open []bool, k, c int) string {
	below, above := false, false
	for _, r := range s.Runs(c) {
		below, above = below || r.Hi < k, above || r.Lo > k
	}
	switch {
	case below && above:
		return ""
	case w.angle > MostWall || !open[c]:
		return "punch"
	case s.Closed(k, c):
		return "core"
	}
	return "die"
}

// opens tells, by side, of each cell whether it is void from end to end, or its column ends on that side on a steep slope that goes down,
// away from the side, to such a cell: along more than half of where the slope is deepest, and without a ledge. Cells of one slope that hang
// together are one.
func opens(s *blank.Shape) map[string][]bool {
	of := map[string][]bool{}
	for _, side := range []string{"top", "bottom"} {
		slope := s.Neighbours(func(a, b int) bool { return s.SameEnd(a, b, side) && s.Steep(a, side) })
		open, end := make([]bool, s.Cells()), make([]float64, s.Cells()) // of a slope at one of its cells: how deep it goes
		for c := range open {
			open[c] = !s.HasMaterial(c)
			end[c] = math.Inf(map[string]int{"top": 1, "bottom": -1}[side])
		}
		for c := range open {
			if s.HasMaterial(c) && s.Steep(c, side) {
				if z := deepest(s, c, side); blank.Outward(side, end[slope.Find(c)], z) > 0 {
					end[slope.Find(c)] = z
				}
			}
		}
		ends := make([][]deepEdge, s.Cells())
		for i := range s.Edges() {
			e := s.Edge(i)
			for _, p := range [2][2]int{{e.Left, e.Right}, {e.Right, e.Left}} {
				if g := slope.Find(p[0]); s.HasMaterial(p[0]) && s.Steep(p[0], side) && slope.Find(p[1]) != g {
					ends[g] = append(ends[g], deepEdgeOf(s, side, i, p[0], p[1], end[g]))
				}
			}
		}
		for grows := true; grows; {
			grows = false
			for g := range open {
				through, all := 0.0, 0.0
				for _, f := range ends[g] {
					all += f.length
					if f.goesOn && open[slope.Find(f.to)] {
						through += f.length
					}
				}
				if !open[g] && 2*through > all {
					open[g], grows = true, true
				}
			}
		}
		for c := range open {
			open[c] = open[slope.Find(c)]
		}
		of[side] = open
	}
	return of
}

// deepest is how far from a side a cell's column ends on it.
func deepest(s *blank.Shape, c int, side string) float64 {
	low, high := s.EndSpan(c, side)
	if side == "bottom" {
		return high
	}
	return low
}

// deepEdge is a piece of where a steep slope ends below, as far as it lies across the way down, and what it goes on to.
type deepEdge struct {
	to     int // the cell beyond
	goesOn bool
	length float64
}

// deepEdgeOf is what an edge between a cell, whose column ends on a steep slope that is as deep as end, and another is of that.
func deepEdgeOf(s *blank.Shape, side string, edge, cell, to int, end float64) deepEdge {
	curve, atEnd := s.Edge(edge).Curve, true
	for _, at := range [3]plane.Point{curve.A, curve.At(0.5), curve.B} {
		atEnd = atEnd && math.Abs(s.EndAt(cell, at, side)-end) <= blank.SameHeight // else it is cut off before
	}
	goesOn := atEnd && (!s.HasMaterial(to) ||
		math.Abs(s.End(to, edge, side)-end) <= blank.SameHeight && blank.Outward(side, end, s.MeanEnd(to, side)) > 0)
	return deepEdge{to, goesOn, s.Falls(cell, edge, side)}
}
