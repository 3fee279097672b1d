package measure

import (
	"math"
	"slices"

	"corerod/parts"
	"corerod/parts/blank"
	"corerod/parts/plane"
	"corerod/parts/subject"
)

// blended is the radius that the part file gives where features meet, else the drawn one.
func blended(s *blank.Shape, features []string, drawn float64) float64 {
	for _, b := range s.Part().Blends {
		if joins(b.Of, features) {
			return b.Radius
		}
	}
	return drawn
}

// checkBlends reports blends of pressed features that meet in no corner, or in one without room for them.
func checkBlends(s *blank.Shape, all []*foundCorner, cs []*subject.Corner) (ps parts.Problems) {
	for _, b := range s.Part().Blends {
		pressed := func(name string) bool {
			return slices.ContainsFunc(s.Features(), func(f *parts.Feature) bool { return f.Name == name })
		}
		meets, room := false, math.Inf(1)
		for i, c := range cs {
			if c.Joint && joins(b.Of, c.Features) {
				meets, room = true, math.Min(room, all[i].room)
			}
		}
		if b.Radius > room+plane.Near {
			ps = append(ps, s.Problem(b.Place,
				"the blend %s does not fit: its radius is %.4g mm, and the shorter side at the corner of %s and %s has room for %.4g mm",
				b.Name, b.Radius, b.Of[0], b.Of[1], room))
		}
		if pressed(b.Of[0]) && pressed(b.Of[1]) && !meets {
			ps = append(ps, s.Problem(b.Place, "the blend %s has no place: %s and %s meet in no corner in plan", b.Name, b.Of[0], b.Of[1]))
		}
	}
	return ps
}

// joins tells whether a blend is of the features that meet.
func joins(of [2]string, features []string) bool {
	a, b := features[0], features[len(features)-1]
	return of == [2]string{a, b} || of == [2]string{b, a}
}
