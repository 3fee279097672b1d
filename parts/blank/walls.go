package blank

import (
	"corerod/parts/plane"
	"corerod/parts/subject"
	"math"
)

// findWalls finds the walls: necks of material, but those that teeth carry.
func (s *shape) findWalls(ns necks) (out []*subject.Wall) {
	bush := s.plainBush()
	for _, st := range s.stretches(ns, func(k int, n *plane.Neck) *stretch {
		if n.Void || s.ofTeeth(k, n) {
			return nil
		}
		return &stretch{features: s.endFeatures(k, n), parts: []part{{neck: *n, slab: k, web: s.onHole(k, n.I) && s.onHole(k, n.J)}}}
	}) {
		w := s.wall(st)
		w.PlainBush = bush
		out = append(out, w)
	}
	return out
}

func (s *shape) wall(st *stretch) *subject.Wall {
	low, high := s.drawn(s.heights[st.parts[0].slab]), s.drawn(s.heights[st.last().slab+1])
	w := &subject.Wall{Thickness: st.least, Height: high - low, Web: true}
	sum := 0.0 // of thickness times height
	for _, p := range st.parts {
		w.Web = w.Web && p.web
		w.Length = math.Max(w.Length, p.neck.Length)
		sum += p.neck.Width * (s.heights[p.slab+1] - s.heights[p.slab])
	}
	w.Ratio = w.Height / (sum / w.Height)
	w.Common = s.common(st.features[:], s.at(st.thinnest.Middle()), low, high)
	w.Footprints = neckPrint(&st.thinnest)
	a, b := s.features[st.features[0]].Name, s.features[st.features[1]].Name
	w.Between = []string{min(a, b), max(a, b)}
	w.Name = w.Between[0] + " to " + w.Between[1]
	return w
}
