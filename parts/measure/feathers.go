package measure

import (
	"math"
	"slices"

	"corerod/parts/blank"
	"corerod/parts/form"
	"corerod/parts/plane"
	"corerod/parts/subject"
)

// Bounds of a feather: its angle is under a right angle, and its tip blunter than this is none.
const (
	featherTurn  = math.Pi / 2
	featherRound = 0.25 // mm
)

// findFeathers finds the thin tips of all slab boundaries, of the material or of the tool member beside it, and the ridges and points
// in space. What a section of a slope flat enough to be a punch's face makes with others is no tip: it moves away from height to height.
// Where a wall runs out its own finding says so.
func findFeathers(s *blank.Shape, ends []runOut) (out []*subject.Feather) {
	for _, q := range slices.Concat(tips(s), ridges(s)) {
		if !slices.ContainsFunc(ends, q.holds) {
			out = append(out, q.Feather)
		}
	}
	return out
}

// sharp is a feather with where it lies: in space along curves, else upright in the points in which it ends.
type sharp struct {
	*subject.Feather
	along []plane.Curve
	ends  [2]plane.Point
}

// holds tells whether the place in which a wall runs out is of a feather.
func (q *sharp) holds(o runOut) bool {
	if q.along == nil {
		at := func(k int, end float64) bool {
			return math.Abs(o.z-end) <= blank.SameHeight && q.ends[k].Distance(o.at) <= sameSpot
		}
		return at(0, q.ZLow) || at(1, q.ZHigh)
	}
	return o.z >= q.ZLow-sameSpot && o.z <= q.ZHigh+sameSpot &&
		slices.ContainsFunc(q.along, func(c plane.Curve) bool { return c.Off(o.at) <= sameSpot })
}

// ridges are the sharp edges and points in space.
func ridges(s *blank.Shape) (out []sharp) {
	for _, x := range s.Creases() {
		if slices.ContainsFunc(x.Features, func(f int) bool { return form.Toothed(s.Feature(f).Profile) }) {
			continue // its flanks lie in all directions, and some of them across any slope
		}
		q := &subject.Feather{Angle: x.Angle, Of: "material", Space: true}
		if x.Tool {
			q.Of = "tool"
		}
		at := s.ToPart(x.At) // found by a search
		at = plane.Point{X: math.Round(at.X/sameCoordinate) * sameCoordinate, Y: math.Round(at.Y/sameCoordinate) * sameCoordinate}
		q.Common = common(s, x.Features, at, x.Low, x.High)
		q.Footprints = pointPrint(x.At)
		out = append(out, sharp{Feather: q, along: x.Along})
	}
	return out
}

// tips are the thin tips of the sections.
func tips(s *blank.Shape) (out []sharp) {
	for _, c := range followed(s, ringFeathers) {
		if turn := math.Abs(c.turn); turn <= featherTurn+atAngle || !c.sharp && (turn >= runsBack || c.radius >= featherRound-atLength) {
			continue
		}
		q := &subject.Feather{Angle: 180 - math.Abs(c.turn)*180/math.Pi, Of: "material"}
		if c.turn < 0 {
			q.Of = "tool"
		}
		q.Common = common(s, c.features(s), s.ToPart(c.at), c.low, c.high)
		q.Footprints = pointPrint(c.at)
		if q.Radius = blendRadius(s, q.Features, c.radius); q.Radius < featherRound-atLength {
			out = append(out, sharp{Feather: q, ends: [2]plane.Point{c.bottom.at, c.top.at}})
		}
	}
	return out
}

// onFace tells whether one of the pieces of a corner is on a slope that a punch's face forms.
func (f *foundCorner) onFace() bool {
	return slices.ContainsFunc(f.slopes, func(w blank.Slope) bool { return w.Lean() > MostWall })
}

// ringFeathers finds what may be a tip of one ring: where a piece goes over into the next, and short edges between two pieces that
// turn the same way.
func ringFeathers(m *movingRing) (out []*foundCorner) {
	n, z := len(m.pieces), m.x.z
	add := func(f *foundCorner) {
		if !f.onFace() {
			out = append(out, f)
		}
	}
	for i := range n {
		if m.onRelief(i) || m.onRelief(i+1) {
			continue // its edges lie in space
		}
		if !m.ofTeeth(i, 2) && !m.passing(i) && math.Abs(m.turn(i+1, z)) >= leastTurn {
			f := m.follow(sharpTip, i, 2)
			f.sharp = true
			add(f)
		}
		if !m.ofTeeth(i, 3) && m.blunts(i) {
			add(m.follow(bluntedTip, i, 3))
		}
	}
	return out
}

// blunts tells whether the piece after another may be the end of a tip.
func (m *movingRing) blunts(i int) bool {
	z := m.x.z
	in, after, sweep := m.turn(i+1, z), m.turn(i+2, z), m.pieces[(i+1)%len(m.pieces)].Curve.Sweep
	turn := in + after + sweep
	short := math.Abs(sweep) < math.Pi && math.Max(math.Abs(in), math.Abs(after)) <= featherTurn+atAngle
	return short && in*after >= opposed && sweep*turn >= 0
}
