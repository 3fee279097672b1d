package measure

import (
	"math"
	"slices"

	"corerod/parts"
	"corerod/parts/blank"
)

// treated is the shape with the rims and feet that the part file treats, and with other changes; problems are treatments that do not fit.
func treated(s *blank.Shape, rims []*rim, feet []*foot, all []*blank.Change) (whole *blank.Shape, ps parts.Problems) {
	type place struct {
		edge    string
		feature int
		side    string
		z       float64
	}
	known := map[place]bool{} // of a turned feature the inner and the outer rim are two, and one treatment
	add := func(e *parts.Edge, feature int, side string, z float64) {
		at := place{e.Name, feature, side, math.Round(z / blank.SameHeight)}
		if known[at] {
			return
		}
		known[at] = true
		x, err := s.Treat(e, feature, side, z)
		if err != nil {
			ps = append(ps, s.Problem(e.Place, "the edge %s does not fit: %v", e.Name, err))
			return
		}
		all = append(all, x)
	}
	for i := range s.Part().Edges {
		e := &s.Part().Edges[i]
		for _, m := range rims {
			if m.treatedBy(s, e) {
				add(e, m.feature, m.side, m.z)
			}
		}
		feature := slices.IndexFunc(s.Features(), func(f *parts.Feature) bool { return f.Name == e.Of })
		for _, t := range feet {
			if e.Face == "" && t.feature == feature {
				add(e, t.feature, t.side, t.z)
			}
		}
	}
	if len(ps) > 0 || len(all) == 0 {
		return s.Drawn(), ps
	}
	return s.With(all)
}
