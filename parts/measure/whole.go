package measure

import (
	"slices"

	"corerod/parts"
	"corerod/parts/blank"
)

// treated is the shape with the rims and feet that the part file treats, and with other changes; problems are treatments that do not fit.
func treated(s *blank.Shape, rims []*rim, feet []*foot, all []*blank.Change) (whole *blank.Shape, ps parts.Problems) {
	add := func(e *parts.Edge, feature int, side string, z float64, cells []int) {
		x, err := s.Treat(e, feature, side, z, flat(s, side, cells))
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
				add(e, m.feature, m.side, m.z, m.cells)
			}
		}
		feature := slices.IndexFunc(s.Features(), func(f *parts.Feature) bool { return f.Name == e.Of })
		for _, t := range feet {
			if e.Face == "" && t.feature == feature {
				add(e, t.feature, t.side, t.z, t.cells)
			}
		}
	}
	if len(ps) > 0 || len(all) == 0 {
		return s, ps
	}
	return s.With(all)
}
