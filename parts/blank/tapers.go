package blank

import (
	"cmp"
	"math"
	"slices"

	"corerod/parts"
	"corerod/parts/plane"
	"corerod/parts/subject"
)

// draftOf is the angle of a feature's walls from the pressing axis, degrees; 0 for upright ones and those of sections
// other than a V, which lean by no one angle.
func draftOf(f *parts.Feature) float64 {
	switch {
	case f.Draft != nil:
		return f.Draft.Angle
	case f.Section == "v":
		ts, _ := tiers(f, f.Extent.Depth) // drawn before without an error
		return math.Acos(1/ts[0].factor(0)) * 180 / math.Pi
	}
	return 0
}

// leastDraft is the least draft of the walls of features; of those of half sections it takes the straight ones between two
// heights that face as wanted: outer ones have the material on the side of the axis.
func (s *shape) leastDraft(features []int, low, high float64, outer ...bool) float64 {
	least := math.Inf(1)
	for _, n := range features {
		f := s.features[n]
		t, turned := f.Profile.(parts.Turned)
		if !turned {
			least = math.Min(least, draftOf(f))
			continue
		}
		for _, w := range sectionWalls(t, n) {
			if overlap := math.Min(w.hi+f.Extent.From, high) - math.Max(w.lo+f.Extent.From, low); overlap > sameHeight && slices.Contains(outer, s.outer(w)) {
				least = math.Min(least, w.angle)
			}
		}
	}
	if math.IsInf(least, 1) {
		return 0
	}
	return least
}

// lean is one straight wall of a feature.
type lean struct {
	feature int
	lo, hi  float64    // mm over the feature's lower end
	angle   float64    // degrees from the pressing axis
	up      bool       // the outline gets smaller upward
	inner   bool       // of a section: the wall that faces the axis
	radii   [2]float64 // of a section: at its lower and upper end
}

// leans lists the straight sloped walls of a feature.
func (s *shape) leans(n int) (out []lean) {
	f := s.features[n]
	switch p := f.Profile.(type) {
	case parts.Turned:
		return slices.DeleteFunc(sectionWalls(p, n), func(w lean) bool { return w.upright() })
	case parts.Ball:
		return nil
	}
	if f.Draft != nil && f.Draft.Angle > 0 {
		out = append(out, lean{feature: n, hi: heightOf(s.part, f), angle: f.Draft.Angle, up: f.Draft.Up})
	}
	return out
}

func (w *lean) upright() bool { return w.angle == 0 }

// sectionWalls are the straight walls of a half section; the axis is none.
func sectionWalls(t parts.Turned, n int) (out []lean) {
	ps := t.Points()
	from := slices.MinFunc(ps, func(p, q parts.Point) int { return cmp.Compare(p.Y, q.Y) }).Y
	for i, p := range ps {
		q := ps[(i+1)%len(ps)]
		if i < len(t.Steps) && t.Steps[i].Radius > 0 || math.Abs(p.Y-q.Y) <= sameHeight || math.Max(p.X, q.X) <= plane.Near {
			continue
		}
		w := lean{feature: n, inner: inside(ps, (p.X+q.X)/2+besideWall, (p.Y+q.Y)/2)}
		if q.Y < p.Y {
			p, q = q, p
		}
		w.lo, w.hi, w.radii = p.Y-from, q.Y-from, [2]float64{p.X, q.X}
		if math.Abs(p.X-q.X) > plane.Near {
			w.angle = math.Atan2(math.Abs(p.X-q.X), q.Y-p.Y) * 180 / math.Pi
			w.up = q.X < p.X
		}
		out = append(out, w)
	}
	return out
}

// goesOn tells whether an upright wall of a section goes on from a cone of it.
func (w *lean) goesOn(o *lean) bool {
	end := func(hi, k int) bool {
		return math.Abs([2]float64{w.lo, w.hi}[hi]-[2]float64{o.lo, o.hi}[k]) <= sameHeight && math.Abs(w.radii[hi]-o.radii[k]) <= plane.Near
	}
	return o.upright() && (end(0, 0) || end(0, 1) || end(1, 0) || end(1, 1))
}

// inside tells whether a point lies in a polygon.
func inside(ps []parts.Point, x, y float64) (in bool) {
	for i, p := range ps {
		q := ps[(i+1)%len(ps)]
		if (p.Y > y) != (q.Y > y) && x < p.X+(q.X-p.X)*(y-p.Y)/(q.Y-p.Y) {
			in = !in
		}
	}
	return in
}

// MostWall is the angle from the pressing axis up to which a slope is a wall that die or core rod form, from memory; a
// flatter one is a face that a punch forms.
const MostWall = 30.0

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

// outer tells whether the material lies inside the outline that a sloped wall makes.
func (s *shape) outer(w lean) bool { return (w.feature < s.bodies) != w.inner }

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
