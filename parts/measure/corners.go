package measure

import (
	"math"
	"slices"

	"corerod/parts"
	"corerod/parts/blank"
	"corerod/parts/form"
	"corerod/parts/plane"
	"corerod/parts/subject"
)

// Bounds of a corner: the least turn, and the radius from which an arc is a contour of its own.
const (
	leastTurn    = 15 * math.Pi / 180
	contourRound = 2.0 // mm
)

// foundCorner is a corner in one slab, followed through touching slabs.
type foundCorner struct {
	at       plane.Point
	turn     float64 // to the left positive
	radius   float64
	figures  []int
	inKey    bool
	room     float64 // of a sharp one: the largest radius that the shorter side has room for
	lo, last int
	now      plane.Point // in slab last: on sloped walls it moves and changes its turn
	turnNow  float64
}

// findCorners finds the corners of all slab boundaries. Those of one toothed outline are its teeth's.
func findCorners(s *blank.Shape, h *holes) ([]*subject.Corner, parts.Problems) {
	all := followed(s, func(ps []plane.Piece) []foundCorner { return notOfTeeth(s, ringCorners(s, h, ps)) })
	out := make([]*subject.Corner, len(all))
	for i, c := range all {
		out[i] = corner(s, c)
	}
	return out, checkBlends(s, all, out)
}

// notOfTeeth leaves out the corners of one toothed outline.
func notOfTeeth(s *blank.Shape, cs []foundCorner) []foundCorner {
	return slices.DeleteFunc(cs, func(c foundCorner) bool { return len(c.figures) == 1 && hasTeeth(s, c.figures[0]) })
}

// followed finds corners on the rings of all slab boundaries; the same one in touching slabs is one, where its radius is
// least, or else its turn sharpest, the lowest of several.
func followed(s *blank.Shape, find func([]plane.Piece) []foundCorner) (all []*foundCorner) {
	for k := range s.Slabs() {
		r := s.Region(k)
		for i := range r.Rings {
			for _, c := range find(r.Rings[i].Pieces) {
				if s.Half(k) != 0 && math.Abs(c.turn) >= runsBack && anyLeans(s, c.figures) {
					continue // where slopes come to touch: a corner at this height alone
				}
				j := slices.IndexFunc(all, func(o *foundCorner) bool {
					return o.last == k-1 && o.now.Distance(c.at) <= 2*plane.Near && math.Abs(o.turnNow-c.turn) < sameTurn &&
						math.Abs(o.radius-c.radius) <= plane.Near && len(o.figures) == len(c.figures)
				})
				if j < 0 {
					j = movedCorner(s, all, &c, k)
				}
				if j >= 0 {
					o := all[j]
					o.last, o.now, o.figures, o.room = k, c.at, c.figures, math.Min(o.room, c.room)
					if c.radius < o.radius-plane.Near || c.radius < o.radius+plane.Near && math.Abs(c.turn) > math.Abs(o.turn)+sameTurn {
						o.at, o.radius, o.turn = c.at, c.radius, c.turn
					}
					o.turnNow = c.turn
					continue
				}
				c.lo, c.last, c.now, c.turnNow = k, k, c.at, c.turn
				all = append(all, &c)
			}
		}
	}
	return all
}

// movedCorner finds the corner of the slab below that goes on as another on sloped walls: the nearest with much the
// same turn on the same features. It is -1 where there is none.
func movedCorner(s *blank.Shape, all []*foundCorner, c *foundCorner, k int) int {
	best, least := -1, math.Inf(1)
	for j, o := range all {
		if o.last != k-1 || math.Abs(o.turnNow-c.turn) > mostTurn || !slices.Equal(featuresOf(s, o.figures), featuresOf(s, c.figures)) ||
			!anyLeans(s, c.figures) && !anyLeans(s, o.figures) {
			continue
		}
		if d := o.now.Distance(c.at); d < least {
			best, least = j, d
		}
	}
	return best
}

func featuresOf(s *blank.Shape, figures []int) (out []int) {
	for _, f := range figures {
		out = append(out, s.FeatureOf(f))
	}
	return out
}

func anyLeans(s *blank.Shape, figures []int) bool {
	return slices.ContainsFunc(figures, func(f int) bool { return s.Leans(f) })
}

// longPieces leaves out edges of some micrometres, the trace of rounded drawing numbers.
func longPieces(ps []plane.Piece) (long []plane.Piece) {
	for _, p := range ps {
		if p.Curve.Length() > plane.Thin {
			long = append(long, p)
		}
	}
	return long
}

// figuresOf are the figures of pieces that meet, each once, the least first.
func figuresOf(ps ...*plane.Piece) (figures []int) {
	for _, p := range ps {
		figures = append(figures, p.Owner)
	}
	slices.Sort(figures)
	return slices.Compact(figures)
}

// ringCorners finds the sharp joints and the small arcs of one ring.
func ringCorners(s *blank.Shape, h *holes, ps []plane.Piece) (out []foundCorner) {
	long := longPieces(ps)
	n := len(long)
	if n < 2 {
		return nil
	}
	for i := range long {
		p, q := &long[i], &long[(i+1)%n]
		turn := plane.TurnBetween(&p.Curve, &q.Curve)
		if math.Abs(turn) >= leastTurn-atAngle {
			c := foundCorner{at: q.Curve.A, turn: turn, figures: figuresOf(p, q),
				room: math.Min(p.Curve.Length(), q.Curve.Length()) / math.Tan(math.Abs(turn)/2)}
			c.inKey = inKey(s, c.figures, h.keyed[q.Outer])
			out = append(out, c)
		}
		o := &long[(i+2)%n]
		a := &q.Curve
		sweep := math.Abs(a.Sweep)
		if !a.IsArc() || a.R >= contourRound-atLength || sweep < leastTurn-atAngle || sweep >= runsBack {
			continue
		}
		if math.Abs(turn) < tangent && math.Abs(plane.TurnBetween(a, &o.Curve)) < tangent {
			c := foundCorner{at: a.At(0.5), turn: a.Sweep, radius: a.R, figures: []int{q.Owner}}
			c.inKey = inKey(s, c.figures, h.keyed[q.Outer])
			out = append(out, c)
		}
	}
	return out
}

// inKey tells whether a corner belongs to a flat, to a spline, or to the key of a round bore.
func inKey(s *blank.Shape, figures []int, keyed bool) bool {
	for _, f := range figures {
		if form.HasFlats(s.Feature(s.FeatureOf(f)).Profile) || isSpline(s, f) || keyed && !isCircle(s, f) {
			return true
		}
	}
	return false
}

// isCircle tells whether a figure is round.
func isCircle(s *blank.Shape, figure int) bool {
	return form.Round(s.Feature(s.FeatureOf(figure)).Profile)
}

func corner(s *blank.Shape, f *foundCorner) *subject.Corner {
	c := &subject.Corner{Angle: 180 - f.turn*180/math.Pi, Radius: f.radius, Inside: f.turn < 0, Joint: len(f.figures) > 1, InKey: f.inKey}
	var features []int
	for _, i := range f.figures {
		features = append(features, s.FeatureOf(i))
	}
	c.Common = common(s, features, s.ToPart(f.at), s.Low(f.lo), s.High(f.last))
	c.Footprints = pointPrint(f.at)
	if c.Joint {
		c.Radius = blended(s, c.Features, 0)
	}
	return c
}

// openJoints names the joints without a blend, each once, sorted.
func openJoints(cs []*subject.Corner) []string {
	out := []string{}
	for _, c := range cs {
		if c.Joint && c.Radius == 0 {
			out = append(out, c.Name)
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}
