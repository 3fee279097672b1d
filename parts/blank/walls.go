package blank

import (
	"corerod/parts/subject"
	"math"
)

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
