package measure

import (
	"slices"

	"corerod/parts"
	"corerod/parts/blank"
)

// tilted tells whether an end face of a body is tilted.
func tilted(s *blank.Shape, on parts.Face) bool {
	n := numberOf(s, on.Feature)
	return n >= 0 && slices.ContainsFunc(s.Feature(n).Reliefs, func(x parts.Relief) bool { return x.Tilt != nil && x.On == on.Face })
}

// checkSeats reports seats of pressed features of which nothing is left.
func checkSeats(s *blank.Shape) (ps parts.Problems) {
	for _, x := range s.Part().Seats {
		pressed := slices.ContainsFunc(s.Features(), func(f *parts.Feature) bool { return f.Name == x.Feature })
		if cells, _ := faceOf(s, x.Face); pressed && len(cells) == 0 {
			if tilted(s, x.Face) {
				ps = append(ps, s.Problem(x.Place, "the seat %s.%s is a tilted face; a part stands on a flat one", x.Feature, x.Face.Face))
				continue
			}
			ps = append(ps, s.Problem(x.Place,
				"the seat %s.%s is no face of the part: it is covered or cut away, or the cut goes through; name a face that is left",
				x.Feature, x.Face.Face))
		}
	}
	return ps
}

// faceOf are the cells of a feature's end face and its height; none where nothing is left of it.
func faceOf(s *blank.Shape, on parts.Face) (cells []int, z float64) {
	feature := slices.IndexFunc(s.Features(), func(f *parts.Feature) bool { return f.Name == on.Feature })
	f := s.Face(on.Face)
	for c := range s.Cells() {
		if f.Solid(c) && slices.Contains(s.FaceOwners(c, f.Z(c), on.Face), feature) {
			cells, z = append(cells, c), f.Z(c)
		}
	}
	return cells, z
}
