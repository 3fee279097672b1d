package blank

import (
	"corerod/parts"
	"fmt"
	"slices"
)

// checkSeats reports seats of pressed features of which nothing is left.
func (s *shape) checkSeats() (ps parts.Problems) {
	for _, x := range s.part.Seats {
		pressed := slices.ContainsFunc(s.features, func(f *parts.Feature) bool { return f.Name == x.Feature })
		if cells, _ := s.faceOf(x.Face); pressed && len(cells) == 0 {
			ps = append(ps, s.part.Problem(x.Place, fmt.Sprintf("the seat %s.%s is no face of the part: it is covered or cut away, or the cut goes through; name a face that is left",
				x.Feature, x.Face.Face)))
		}
	}
	return ps
}

// faceOf are the cells of a feature's end face and its height; none where nothing is left of it.
func (s *shape) faceOf(on parts.Face) (cells []int, z float64) {
	feature := slices.IndexFunc(s.features, func(f *parts.Feature) bool { return f.Name == on.Feature })
	f := s.face(on.Face)
	for c := range s.cells {
		if f.solid[c] && slices.Contains(s.faceOwners(c, f.z[c], on.Face), feature) {
			cells, z = append(cells, c), f.z[c]
		}
	}
	return cells, z
}
