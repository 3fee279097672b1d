package blank

import (
	"math"

	"corerod/parts"
	"corerod/parts/plane"
	"corerod/parts/subject"
)

// draftOf is the angle of a feature's walls from the pressing axis, degrees; 0 for upright ones and those of sections,
// which lean by no one angle.
func draftOf(f *parts.Feature) float64 {
	if f.Draft != nil {
		return f.Draft.Angle
	}
	return 0
}

// leastDraft is the least draft of the walls of features; the cones of a turned one count where no wall of it is upright.
func (s *shape) leastDraft(features []int) float64 {
	least := math.Inf(1)
	for _, n := range features {
		t, turned := s.features[n].Profile.(parts.Turned)
		if !turned || t.Upright() {
			least = math.Min(least, draftOf(s.features[n]))
			continue
		}
		for _, w := range s.leans(n) {
			least = math.Min(least, w.angle)
		}
	}
	if math.IsInf(least, 1) {
		return 0
	}
	return least
}

// lean is one straight sloped wall of a feature.
type lean struct {
	feature int
	lo, hi  float64 // mm over the feature's lower end
	angle   float64 // degrees from the pressing axis
	up      bool    // the outline gets smaller upward
	inner   bool    // of a section: the wall that faces the axis
	land    float64 // upright wall that goes on from it
}

// leans lists the straight sloped walls of a feature.
func (s *shape) leans(n int) (out []lean) {
	f := s.features[n]
	switch p := f.Profile.(type) {
	case parts.Turned:
		return turnedLeans(p, n, f.Extent.From)
	case parts.Ball:
		return nil
	}
	if a := draftOf(f); a > 0 {
		out = append(out, lean{feature: n, hi: heightOf(s.part, f), angle: a, up: f.Draft.Up})
	}
	return out
}

// turnedLeans are the cones of a half section, with the upright wall that goes on from either end.
func turnedLeans(t parts.Turned, n int, from float64) (out []lean) {
	ps := t.Points()
	for i, p := range ps {
		q := ps[(i+1)%len(ps)]
		if i < len(t.Steps) && t.Steps[i].Radius > 0 || math.Abs(p.X-q.X) <= plane.Near || math.Abs(p.Y-q.Y) <= sameHeight {
			continue
		}
		w := lean{feature: n, lo: math.Min(p.Y, q.Y) - from, hi: math.Max(p.Y, q.Y) - from,
			angle: math.Atan2(math.Abs(p.X-q.X), math.Abs(p.Y-q.Y)) * 180 / math.Pi}
		w.up = (q.X-p.X)*(q.Y-p.Y) < 0
		w.inner = inside(ps, (p.X+q.X)/2+1e-5, (p.Y+q.Y)/2)
		for _, j := range [2]int{(i + len(ps) - 1) % len(ps), (i + 2) % len(ps)} { // the points beyond either end
			end := p
			if j == (i+2)%len(ps) {
				end = q
			}
			if math.Abs(ps[j].X-end.X) <= plane.Near {
				w.land = math.Max(w.land, math.Abs(ps[j].Y-end.Y))
			}
		}
		out = append(out, w)
	}
	return out
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

// mostWall is the angle from the pressing axis up to which a slope is a wall that die or core rod form, from memory; a
// flatter one is a face that a punch forms.
const mostWall = 30.0

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
	base := s.ranges[i][0] - s.outlines[i].lo
	t := &subject.Taper{Angle: w.angle, Narrows: "down", FormedBy: s.formedBy(w, i)}
	if t.FormedBy == "" {
		return nil
	}
	if w.up {
		t.Narrows = "up"
	}
	if w.land > 0 {
		t.Land = subject.Some(w.land)
	}
	switch { // a die's wall may only widen upward, a core rod's only downward
	case t.FormedBy == "die":
		part := w.up == s.outer(w) // the material narrows upward
		t.Reverse, t.ReverseTurned = part, !part
	case t.FormedBy == "core":
		t.Reverse, t.ReverseTurned = !w.up, w.up
	}
	lo, hi := s.outlines[i].loop.Bounds()
	t.Common = s.common([]int{w.feature}, s.at(plane.Point{X: (lo.X + hi.X) / 2, Y: (lo.Y + hi.Y) / 2}), base+w.lo, base+w.hi)
	return t
}

// formedBy is what forms a sloped wall, by the longer share: at the wide end of a wall round material the die where
// the void beside it is all void and open; at the narrow end of one round a void the core rod where that is a
// through-hole; else a punch. "" where no wall is left there.
func (s *shape) formedBy(w lean, first int) string {
	f := s.features[w.feature]
	outer := s.outer(w)
	end := s.lastSlice(w, first, outer != w.up)
	length := map[string]float64{}
	for e := range s.overlay.Edges {
		edge := &s.overlay.Edges[e]
		for _, p := range [2][2]int{{edge.Left, edge.Right}, {edge.Right, edge.Left}} {
			_, turned := f.Profile.(parts.Turned)
			if turned && ((p[0] == edge.Left) == (edge.Curve.Sweep > 0)) != outer {
				continue // the other wall of the section
			}
			for k := range s.slabs {
				if s.cells[p[0]].solid[k] && !s.cells[p[1]].solid[k] && s.owner(k, e, p[0], p[1]) == end {
					length[s.fills(w, k, p[1])] += edge.Curve.Length()
				}
			}
		}
	}
	best := ""
	for _, name := range []string{"die", "core", "punch"} {
		if length[name] > length[best]+1e-9 {
			best = name
		}
	}
	return best
}

// outer tells whether the material lies inside the outline that a sloped wall makes.
func (s *shape) outer(w lean) bool { return (w.feature < s.bodies) != w.inner }

// lastSlice is the outline at the upper or lower end of a sloped wall, of the copy of its lowest slice.
func (s *shape) lastSlice(w lean, first int, upper bool) int {
	o, best := &s.outlines[first], first
	for i := range s.outlines {
		q := &s.outlines[i]
		if q.feature == o.feature && q.copy == o.copy && upper && q.hi <= w.hi+sameHeight && q.hi > s.outlines[best].hi {
			best = i
		}
	}
	return best
}

// fills is the member in a void cell beside a sloped wall.
func (s *shape) fills(w lean, k, c int) string {
	switch {
	case w.angle > mostWall || len(s.cells[c].runs) > 0:
		return "punch"
	case s.closed(k, c):
		return "core"
	}
	return "die"
}
