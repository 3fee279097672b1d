package measure

import (
	"math"

	"corerod/parts/blank"
	"corerod/parts/plane"
	"corerod/parts/subject"
)

// findWalls finds the walls: necks of material, but those that teeth carry.
func findWalls(s *blank.Shape, ns necks) (out []*subject.Wall) {
	bush := plainBush(s)
	start := func(k int, n *plane.Neck) *stretch {
		if n.Void || ofTeeth(s, k, n) {
			return nil
		}
		web := onHole(s, k, n.I) && onHole(s, k, n.J)
		return &stretch{features: endFeatures(s, k, n), parts: []part{{neck: *n, slab: k, web: web}}}
	}
	for _, st := range stretches(s, ns, start) {
		w := wall(s, st)
		w.PlainBush = bush
		out = append(out, w)
	}
	return out
}

func wall(s *blank.Shape, st *stretch) *subject.Wall {
	low, high := s.Drawn(s.Z(st.parts[0].slab)), s.Drawn(s.Z(st.last().slab+1))
	w := &subject.Wall{Thickness: st.least, Height: high - low, Web: true}
	sum := 0.0 // of thickness times height
	for _, p := range st.parts {
		w.Web = w.Web && p.web
		w.Length = math.Max(w.Length, p.neck.Length)
		sum += p.neck.Width * (s.Z(p.slab+1) - s.Z(p.slab))
	}
	w.Ratio = w.Height / (sum / w.Height)
	w.Common = common(s, st.features[:], s.ToPart(st.thinnest.Middle()), low, high)
	w.Footprints = neckPrint(&st.thinnest)
	a, b := s.Feature(st.features[0]).Name, s.Feature(st.features[1]).Name
	w.Between = []string{min(a, b), max(a, b)}
	w.Name = w.Between[0] + " to " + w.Between[1]
	return w
}
