package measure

import (
	"math"
	"slices"

	"corerod/parts/blank"
	"corerod/parts/subject"
)

// floors are those of blind holes and of grooves, which are no levels.
type floors struct {
	// By side, "top" or "bottom", then by cell:
	blind  map[string][]*subject.Hole // the blind hole whose floor ends the column there, else nil
	groove map[string][]bool          // the floor of a groove ends it
}

// at tells whether a cell's column ends, on a side, on the floor of a blind hole or groove.
func (f *floors) at(side string, c int) bool { return f.groove[side][c] || f.blind[side][c] != nil }

// findFloors adds the floors of grooves that run out at the sides to those of holes and grooves closed in plan.
func findFloors(s *blank.Shape, h *holes) *floors {
	f := &floors{blind: h.blind, groove: map[string][]bool{}}
	for _, side := range []string{"bottom", "top"} {
		f.groove[side] = slices.Clone(h.groove[side])
		openGrooves(s, s.Face(side), h, f.groove[side])
		wholeFlats(s, s.Face(side), f.groove[side])
		wholeSlopes(s, s.Face(side), f.groove[side], f.blind[side])
		reliefFloors(s, s.Face(side), f.groove[side])
	}
	return f
}

// wholeSlopes gives a cut's face that ends in one blind hole at some heights, and at others in what is open beside it, to that hole: one
// punch forms it, as of a cone that breaks out at the rim.
func wholeSlopes(s *blank.Shape, f *blank.Face, groove []bool, blind []*subject.Hole) {
	for _, cells := range f.Flats() {
		var own *subject.Hole
		one := true
		for _, c := range cells {
			if h := blind[c]; h != nil {
				one, own = one && (own == nil || own == h), h
			}
			z, _ := s.ColumnEnd(c, f.Side())
			ofBody := func(f int) bool { return !s.IsCut(f) }
			one = one && !groove[c] && !slices.ContainsFunc(s.FaceOwners(c, z, f.Side()), ofBody)
		}
		if own == nil || !one {
			continue
		}
		for _, c := range cells {
			blind[c] = own
		}
	}
}

// reliefFloors marks what teeth and ramps make of a face beside what is left of that: a face that is all relief stays a level.
func reliefFloors(s *blank.Shape, f *blank.Face, groove []bool) {
	left := func(body int) bool { // some of a body's own face is
		z := map[string]float64{"top": s.Feature(body).Extent.To, "bottom": s.Feature(body).Extent.From}[f.Side()]
		return slices.ContainsFunc(slices.Concat(f.Flats()...), func(c int) bool {
			return !s.EndsOnRelief(c, f.Side()) && !groove[c] && math.Abs(f.Z(c)-z) <= blank.SameHeight &&
				slices.Contains(s.FaceOwners(c, z, f.Side()), body)
		})
	}
	for _, cells := range f.Flats() {
		n, _ := s.ReliefUnder(cells[0], f.Side())
		if slices.ContainsFunc(cells, func(c int) bool { return !s.EndsOnRelief(c, f.Side()) }) || s.Feature(n).Relief.Tilt != nil ||
			!left(slices.Index(s.Features(), s.Feature(n).Of)) {
			continue
		}
		for _, c := range cells {
			groove[c] = true
		}
	}
}

// wholeFlats makes the floor of a groove that is closed in plan at some heights alone one thing: a groove if it is narrow as a whole.
func wholeFlats(s *blank.Shape, f *blank.Face, groove []bool) {
	for _, cells := range f.Flats() {
		some := slices.ContainsFunc(cells, func(c int) bool { return groove[c] })
		if !some || !slices.ContainsFunc(cells, func(c int) bool { return !groove[c] }) {
			continue
		}
		narrow := isGroove(s, cells)
		for _, c := range cells {
			groove[c] = narrow
		}
	}
}
