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
func findFeathers(s *blank.Shape, walls []*subject.Wall) []*subject.Feather {
	out := slices.Concat(tips(s), ridges(s))
	return slices.DeleteFunc(out, func(q *subject.Feather) bool {
		return slices.ContainsFunc(walls, func(w *subject.Wall) bool { return endsAt(w, q) })
	})
}

// endsAt tells whether a wall runs out where a feather is, or begins.
func endsAt(w *subject.Wall, q *subject.Feather) bool {
	if !w.RunsOut {
		return false
	}
	for _, f := range q.Features {
		if !slices.Contains(w.Features, f) {
			return false
		}
	}
	for _, z := range [2]float64{w.ZLow, w.ZHigh} {
		if math.Abs(q.ZLow-z) <= blank.SameHeight || math.Abs(q.ZHigh-z) <= blank.SameHeight {
			return true
		}
	}
	return false
}

// ridges are the sharp edges and points in space.
func ridges(s *blank.Shape) (out []*subject.Feather) {
	for _, x := range s.Creases() {
		if slices.ContainsFunc(x.Features, func(f int) bool { return form.Toothed(s.Feature(f).Profile) }) {
			continue // its flanks lie in all directions, and some of them across any slope
		}
		q := &subject.Feather{Angle: x.Angle, Of: "material", Space: true}
		if x.Tool {
			q.Of = "tool"
		}
		q.Common = common(s, x.Features, s.ToPart(x.At), x.Low, x.High)
		q.Footprints = pointPrint(x.At)
		out = append(out, q)
	}
	return out
}

// tips are the thin tips of the sections.
func tips(s *blank.Shape) []*subject.Feather {
	var out []*subject.Feather
	for _, c := range followed(s, func(ps []plane.Piece) []foundCorner { return onWalls(s, notOfTeeth(s, ringFeathers(ps))) }) {
		var features []int
		for _, f := range c.figures {
			features = append(features, s.FeatureOf(f))
		}
		q := &subject.Feather{Angle: 180 - math.Abs(c.turn)*180/math.Pi, Of: "material"}
		if c.turn < 0 {
			q.Of = "tool"
		}
		q.Common = common(s, features, s.ToPart(c.at), s.Low(c.lo), s.High(c.last))
		q.Footprints = pointPrint(c.at)
		if q.Radius = blended(s, q.Features, c.radius); q.Radius < featherRound-atLength {
			out = append(out, q)
		}
	}
	return out
}

// onWalls leaves out the corners on slopes that a punch's face forms.
func onWalls(s *blank.Shape, cs []foundCorner) []foundCorner {
	return slices.DeleteFunc(cs, func(c foundCorner) bool {
		return slices.ContainsFunc(c.figures, func(f int) bool { return s.Slope(f).Lean() > MostWall })
	})
}

// ringFeathers finds the tips of one ring: sharp ones, rounded ones, and those that a short edge blunts.
func ringFeathers(ps []plane.Piece) (out []foundCorner) {
	long := longPieces(ps)
	n := len(long)
	if n < 2 {
		return nil
	}
	for i := range long {
		p, q, o := &long[i], &long[(i+1)%n], &long[(i+2)%n]
		in, after := plane.TurnBetween(&p.Curve, &q.Curve), plane.TurnBetween(&q.Curve, &o.Curve)
		if math.Abs(in) > featherTurn+atAngle {
			out = append(out, foundCorner{at: q.Curve.A, turn: in, figures: figuresOf(p, q)})
			continue
		}
		if turn, radius, ok := blunted(&q.Curve, in, after); ok {
			out = append(out, foundCorner{at: q.Curve.At(0.5), turn: turn, radius: radius, figures: figuresOf(p, q, o)})
		}
	}
	return out
}

// blunted tells whether a short edge between two others is the end of a tip: its turn, and the radius of the arc that
// would touch both flanks over the same width.
func blunted(c *plane.Curve, in, after float64) (turn, radius float64, ok bool) {
	if math.Abs(after) > featherTurn+atAngle || in*after < opposed {
		return 0, 0, false
	}
	turn = in + after + c.Sweep
	if math.Abs(turn) <= featherTurn+atAngle || math.Abs(turn) >= runsBack || c.Sweep*turn < 0 {
		return 0, 0, false
	}
	radius = c.A.Distance(c.B) / (2 * math.Sin(math.Abs(turn)/2))
	return turn, radius, radius < featherRound-atLength
}
