package measure

import (
	"cmp"
	"math"
	"slices"

	"corerod/parts/blank"
	"corerod/parts/form"
	"corerod/parts/plane"
	"corerod/parts/subject"
)

// slope is one straight sloped wall of a copy of a feature, with where it is bare: what goes on from another's end is one taper with it.
type slope struct {
	lean
	figure int // the lowest outline of the copy's wall
	bare   []bareSlab
}

// bareSlab is where other features neither cover a straight wall nor take it away in one slab.
type bareSlab struct {
	slab   int
	edges  []wallEdge
	beside map[string]float64 // what fills the void beside it, by length
}

// wallEdge is an edge with material to one side of it.
type wallEdge struct{ edge, in, out int }

// findTapers turns the straight sloped walls into subjects. Open are the cells beside slopes that no punch forms, by side.
func findTapers(s *blank.Shape, open map[string][]bool) (out []*subject.Taper) {
	var all []*slope
	for n := range s.Features() {
		for _, w := range leans(s, n) {
			for i := range s.Figures() {
				u, lowest := s.Over(i)
				if s.FeatureOf(i) != n || !lowest || math.Abs(u-w.lo) > blank.SameHeight || w.isRim(s, s.BaseOf(i)) {
					continue // the lowest section of the wall of each copy stands for it
				}
				if x := (&slope{lean: w, figure: i}); x.findBare(s, open) {
					all = append(all, x)
				}
			}
		}
	}
	one := plane.NewUnion(len(all))
	for i, a := range all {
		for j, b := range all {
			if i != j && a.goesOn(s, b) {
				one.Join(i, j)
			}
		}
	}
	for _, g := range one.Groups(nil) {
		var parts []*slope
		for _, i := range g {
			parts = append(parts, all[i])
		}
		slices.SortStableFunc(parts, func(a, b *slope) int { return cmp.Compare(a.bare[0].slab, b.bare[0].slab) })
		out = append(out, taper(s, parts))
	}
	return out
}

// taper measures slopes that go on from each other, from the lowest up.
func taper(s *blank.Shape, all []*slope) *subject.Taper {
	first := all[0]
	var bare []bareSlab
	var features []int
	for _, x := range all {
		bare, features = append(bare, x.bare...), append(features, x.feature)
	}
	t := &subject.Taper{Angle: first.angle, Narrows: "down", FormedBy: formedBy(s, bare)}
	if first.up {
		t.Narrows = "up"
	}
	for _, land := range [2]float64{landOf(s, &bare[0], -1), landOf(s, &bare[len(bare)-1], 1)} {
		if land > 0 && (!t.Land.Known || land < t.Land.Value) {
			t.Land = subject.Some(land)
		}
	}
	switch { // a die's wall may only widen upward, a core rod's only downward
	case t.FormedBy == "die":
		part := first.up == outer(s, first.lean) // the material narrows upward
		t.Reverse, t.ReverseTurned = part, !part
	case t.FormedBy == "core":
		t.Reverse, t.ReverseTurned = !first.up, first.up
	}
	lo, hi := s.Loop(first.figure).Bounds()
	at := s.ToPart(plane.Point{X: (lo.X + hi.X) / 2, Y: (lo.Y + hi.Y) / 2})
	t.Common = common(s, features, at, s.Low(bare[0].slab), s.High(bare[len(bare)-1].slab))
	return t
}

// goesOn tells whether a slope begins where another ends, as one wall.
func (x *slope) goesOn(s *blank.Shape, below *slope) bool {
	a, b := &x.bare[0], &below.bare[len(below.bare)-1]
	meets := slices.ContainsFunc(a.edges, func(e wallEdge) bool { return slices.Contains(b.edges, e) })
	return meets && a.slab == b.slab+1 && x.up == below.up && math.Abs(x.angle-below.angle) <= sameAngle &&
		outer(s, x.lean) == outer(s, below.lean)
}

// landOf is the height of the upright wall, whatever feature makes it, that goes on up or down from where a slope ends, as far as it is
// bare.
func landOf(s *blank.Shape, end *bareSlab, step int) (land float64) {
	for _, e := range end.edges {
		land = math.Max(land, landAlong(s, e, end.slab, step))
	}
	return land
}

// landAlong is that along one edge, where it is greatest.
func landAlong(s *blank.Shape, e wallEdge, slab, step int) float64 {
	z := s.High(slab)
	if step < 0 {
		z = s.Low(slab)
	}
	from := z
	for k := slab + step; 0 <= k && k < s.Slabs(); k += step {
		r := slices.IndexFunc(s.Runs(e.in), func(r blank.Run) bool { return r.Lo <= k && k <= r.Hi })
		if r < 0 || s.Solid(e.out, k) || s.Leans(s.Owner(k, e.edge, e.in, e.out)) {
			break
		}
		low, high := s.EdgeSpan(e.edge, e.in, r)
		if step < 0 {
			z = math.Max(low, s.Low(k))
		} else {
			z = math.Min(high, s.High(k))
		}
	}
	return math.Abs(z - from)
}

// findBare finds the slabs in which a slope is bare, from the lowest up; false where nothing is left of it.
func (x *slope) findBare(s *blank.Shape, open map[string][]bool) bool {
	_, turned := form.HalfSection(s.Feature(x.feature).Profile)
	base, outer := s.BaseOf(x.figure), outer(s, x.lean)
	facing := map[bool]string{true: "bottom", false: "top"}[outer != x.up] // what lies beside its end
	for k := range s.Slabs() {
		if s.Low(k) < base+x.lo-blank.SameHeight || s.High(k) > base+x.hi+blank.SameHeight {
			continue
		}
		b := bareSlab{slab: k, beside: map[string]float64{}}
		for e := range s.Edges() {
			edge := s.Edge(e)
			in, out := edge.Left, edge.Right
			if !s.Solid(in, k) {
				in, out = out, in
			}
			if !s.Solid(in, k) || s.Solid(out, k) || turned && edge.Around(in) != outer {
				continue // no wall, or another wall of the section
			}
			if o := s.Owner(k, e, in, out); s.FeatureOf(o) == x.feature && s.CopyOf(o) == s.CopyOf(x.figure) {
				b.edges = append(b.edges, wallEdge{e, in, out})
				b.beside[fills(s, x.lean, open[facing], k, out)] += edge.Curve.Length()
			}
		}
		if len(b.edges) > 0 {
			x.bare = append(x.bare, b)
		}
	}
	return len(x.bare) > 0
}

// formedBy is what forms a sloped wall, by the larger share of it: the die where the void beside a wall round material is open and goes
// through, the core rod where that beside one round a void is a through-hole; else a punch.
func formedBy(s *blank.Shape, bare []bareSlab) string {
	area := map[string]float64{}
	for i := range bare {
		for name, length := range bare[i].beside {
			area[name] += length * (s.High(bare[i].slab) - s.Low(bare[i].slab)) // as it is at both ends of the stretch
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
