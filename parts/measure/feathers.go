package measure

import (
	"math"
	"slices"

	"corerod/parts/blank"
	"corerod/parts/plane"
	"corerod/parts/subject"
)

// Bounds of a feather: its angle is under a right angle, and its tip blunter than this is none.
const (
	featherTurn  = math.Pi / 2
	featherRound = 0.25 // mm
)

// findFeathers finds the thin tips of all slab boundaries: of the material, or of the tool member beside it. What a section
// of a slope flat enough to be a punch's face makes with others is no tip: it moves away from height to height.
func findFeathers(s *blank.Shape) []*subject.Feather {
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
		q.Common = common(s, features, s.ToPart(c.at), s.Z(c.lo), s.Z(c.last+1))
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
