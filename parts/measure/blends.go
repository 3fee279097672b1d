package measure

import (
	"math"
	"slices"
	"strconv"

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

// checkBlends reports blends of pressed features that meet in no corner, that only touch, or that meet in a corner without room for them.
func checkBlends(s *blank.Shape, all []*foundCorner, cs []*subject.Corner) (ps parts.Problems) {
	for _, b := range s.Part().Blends {
		of := [2]int{numberOf(s, b.Of[0]), numberOf(s, b.Of[1])}
		if of[0] < 0 || of[1] < 0 {
			continue // one is machined
		}
		meets, leans, room := false, false, math.Inf(1)
		for i, c := range cs {
			if c.Joint && joins(b.Of, c.Features) {
				meets, room = true, math.Min(room, all[i].room)
				leans = leans || math.Abs(all[i].bottom.turn-all[i].top.turn) > sameTurn
			}
		}
		later, earlier := b.Of[0], b.Of[1]
		if of[1] > of[0] {
			later, earlier = earlier, later
		}
		switch {
		case onlyTouch(s, of[0], of[1]) || meets && !leans && room <= plane.Thin/4:
			ps = append(ps, s.Problem(b.Place, "the blend %s has no place: the %s only touches the %s; move it inward, or apart from it",
				b.Name, later, earlier))
		case leans && room <= plane.Thin:
			ps = append(ps, s.Problem(b.Place, "the blend %s has no place: slopes of %s and %s come to meet there, and leave no room for "+
				"a radius at every height; leave it out", b.Name, b.Of[0], b.Of[1]))
		case !meets:
			ps = append(ps, s.Problem(b.Place, "the blend %s has no place: %s and %s meet in no corner in plan", b.Name, b.Of[0], b.Of[1]))
		case b.Radius > room+plane.Near:
			ps = append(ps, s.Problem(b.Place,
				"the blend %s does not fit: its radius is %s mm, and the shorter side at the corner of %s and %s has room for %s mm",
				b.Name, decimal(b.Radius), b.Of[0], b.Of[1], decimal(room)))
		}
	}
	return ps
}

// blendsOf are what blends add to the shape or take from it, of those between upright walls.
func blendsOf(s *blank.Shape, all []*foundCorner, cs []*subject.Corner) (out []*blank.Change) {
	for _, b := range s.Part().Blends {
		for i, c := range cs {
			f := all[i]
			if !c.Joint || !joins(b.Of, c.Features) || f.sides[0].Length() == 0 {
				continue
			}
			if l, ok := plane.Spandrel(f.sides[0], f.sides[1], b.Radius); ok {
				out = append(out, blank.Prism(b.Name, f.turn < 0, f.low, f.high, l))
			}
		}
	}
	return out
}

// numberOf is the number of a pressed feature; -1 for another.
func numberOf(s *blank.Shape, name string) int {
	return slices.IndexFunc(s.Features(), func(f *parts.Feature) bool { return f.Name == name })
}

// onlyTouch tells whether two bodies, or two cuts, come together in points of the plan alone: at no height have they an area or a stretch
// of outline in common.
func onlyTouch(s *blank.Shape, a, b int) (touch bool) {
	if s.IsCut(a) != s.IsCut(b) {
		return false
	}
	for k := range s.Slabs() {
		in := func(cell, feature int) (found bool) {
			s.Inside(cell).Each(func(f int) { found = found || s.FeatureOf(f) == feature && s.Covers(f, k) })
			return found
		}
		for i := range s.Edges() {
			l, r := s.Edge(i).Left, s.Edge(i).Right
			if (in(l, a) || in(r, a)) && (in(l, b) || in(r, b)) {
				return false
			}
		}
		for i := range s.Figures() {
			for j := range s.Figures() {
				if !touch && s.FeatureOf(i) == a && s.FeatureOf(j) == b && s.Covers(i, k) && s.Covers(j, k) {
					d, _, _ := plane.Between(s.Loop(i), s.Loop(j))
					touch = d <= plane.Near
				}
			}
		}
	}
	return touch
}

// decimal writes a length of a message, mm, with four digits, and what is less than a tenth of a micrometre as nothing.
func decimal(mm float64) string {
	four, _ := strconv.ParseFloat(strconv.FormatFloat(mm, 'g', 4, 64), 64)
	return strconv.FormatFloat(math.Round(four*1e4)/1e4, 'f', -1, 64)
}

// joins tells whether a blend is of the features that meet.
func joins(of [2]string, features []string) bool {
	a, b := features[0], features[len(features)-1]
	return of == [2]string{a, b} || of == [2]string{b, a}
}
