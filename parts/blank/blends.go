package blank

import (
	"corerod/parts"
	"corerod/parts/plane"
	"corerod/parts/subject"
	"fmt"
	"math"
	"slices"
)

// blended is the radius that the part file gives where features meet, else the drawn one.
func (s *shape) blended(features []string, drawn float64) float64 {
	for _, b := range s.part.Blends {
		if joins(b.Of, features) {
			return b.Radius
		}
	}
	return drawn
}

// checkBlends reports blends of pressed features that meet in no corner, or in one without room for them.
func (s *shape) checkBlends(all []*foundCorner, cs []*subject.Corner) (ps parts.Problems) {
	for _, b := range s.part.Blends {
		pressed := func(name string) bool {
			return slices.ContainsFunc(s.features, func(f *parts.Feature) bool { return f.Name == name })
		}
		meets, room := false, math.Inf(1)
		for i, c := range cs {
			if c.Joint && joins(b.Of, c.Features) {
				meets, room = true, math.Min(room, all[i].room)
			}
		}
		if b.Radius > room+plane.Near {
			ps = append(ps, s.part.Problem(b.Place, fmt.Sprintf("the blend %s does not fit: its radius is %.4g mm, and the shorter side at the corner of %s and %s has room for %.4g mm",
				b.Name, b.Radius, b.Of[0], b.Of[1], room)))
		}
		if pressed(b.Of[0]) && pressed(b.Of[1]) && !meets {
			ps = append(ps, s.part.Problem(b.Place, fmt.Sprintf("the blend %s has no place: %s and %s meet in no corner in plan", b.Name, b.Of[0], b.Of[1])))
		}
	}
	return ps
}

// joins tells whether a blend is of the features that meet.
func joins(of [2]string, features []string) bool {
	a, b := features[0], features[len(features)-1]
	return of == [2]string{a, b} || of == [2]string{b, a}
}
