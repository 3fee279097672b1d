package measure

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"corerod/parts"
	"corerod/parts/blank"
	"corerod/parts/plane"
	"corerod/parts/subject"
)

// blendRadius is the radius that the part file gives where features meet, else the drawn one.
func blendRadius(s *blank.Shape, features []string, drawn float64) float64 {
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
		of := make([]int, len(b.Of))
		for i, name := range b.Of {
			of[i] = numberOf(s, name)
		}
		if slices.Contains(of, -1) {
			continue // one is machined
		}
		meets, leans, room := false, false, math.Inf(1)
		var more []string // what meets with them in a corner
		for i, c := range cs {
			switch {
			case !c.Joint:
			case joins(b.Of, c.Features):
				meets, room = true, math.Min(room, all[i].room)
				leans = leans || math.Abs(all[i].bottom.turn-all[i].top.turn) > sameTurn
			case !slices.ContainsFunc(b.Of, func(name string) bool { return !slices.Contains(c.Features, name) }):
				more = c.Features
			}
		}
		names := listed(b.Of)
		report := func(format string, args ...any) {
			ps = append(ps, s.Part().Problem(b.Place, "the blend "+b.Name+" "+fmt.Sprintf(format, args...)))
		}
		switch {
		case len(of) == 2 && (onlyTouch(s, of[0], of[1]) || meets && !leans && room <= plane.Thin/4):
			later := slices.Index(of, slices.Max(of))
			report("has no place: the %s only touches the %s; move it inward, or apart from it", b.Of[later], b.Of[1-later])
		case leans && room <= plane.Thin:
			const says = "has no place: slopes of %s come to meet there, and leave no room for a radius at every height; leave it out"
			report(says, names)
		case !meets && more != nil:
			report("has no place: %s meet in one corner; name all of them: `of: [%s]`", listed(more), strings.Join(more, ", "))
		case !meets:
			report("has no place: %s meet in no corner in plan", names)
		case b.Radius > room+plane.Near:
			const says = "does not fit: its radius is %s mm, and the shorter side at the corner of %s has room for %s mm"
			report(says, decimal(b.Radius), names, decimal(room))
		}
	}
	return ps
}

// listed are names in one text.
func listed(names []string) string {
	return strings.Join(names[:len(names)-1], ", ") + " and " + names[len(names)-1]
}

// blendsOf are what blends add to the shape or take from it, of those between upright walls.
func blendsOf(s *blank.Shape, all []*foundCorner, cs []*subject.Corner) (out blended) {
	for _, b := range s.Part().Blends {
		for i, c := range cs {
			f := all[i]
			switch {
			case !c.Joint || !joins(b.Of, c.Features):
			case f.sides[0].Length() == 0:
				if !slices.Contains(out.sloped, b.Name) {
					out.sloped = append(out.sloped, b.Name)
				}
			default:
				if l, ok := plane.Spandrel(f.sides[0], f.sides[1], b.Radius); ok {
					out.changes = append(out.changes, blank.Prism(b.Name, f.turn < 0, f.low, f.high, l))
				}
			}
		}
	}
	return out
}

// blended are the changes that blends make, and the names of those that make none in some corner, since a slope comes to it.
type blended struct {
	changes []*blank.Change
	sloped  []string
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
func joins(of, features []string) bool {
	for _, name := range of {
		if !slices.Contains(features, name) {
			return false
		}
	}
	return !slices.ContainsFunc(features, func(name string) bool { return !slices.Contains(of, name) })
}
