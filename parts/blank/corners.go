package blank

import (
	"math"
	"slices"

	"corerod/parts"
	"corerod/parts/plane"
	"corerod/parts/subject"
)

// Bounds of a corner: the least turn, and the radius from which an arc is a contour of its own.
const (
	leastTurn    = 15 * math.Pi / 180
	contourRound = 2.0 // mm
)

// found is a corner in one slab, followed through touching slabs.
type foundCorner struct {
	at       plane.Point
	turn     float64 // to the left positive
	radius   float64
	figures  []int
	inKey    bool
	lo, last int
}

// findCorners finds the corners of all slab boundaries; the same one in touching slabs is one. Those of one toothed
// outline are its teeth's.
func (s *shape) findCorners(h *holes) []*subject.Corner {
	var all []*foundCorner
	for k := range s.slabs {
		r := s.slabs[k].region
		for i := range r.Rings {
			for _, c := range s.ringCorners(h, r.Rings[i].Pieces) {
				if len(c.figures) == 1 && s.hasTeeth(c.figures[0]) {
					continue
				}
				j := slices.IndexFunc(all, func(o *foundCorner) bool {
					return o.last == k-1 && o.at.Distance(c.at) <= 2*plane.Near && math.Abs(o.turn-c.turn) < 1e-6 && slices.Equal(o.figures, c.figures)
				})
				if j >= 0 {
					all[j].last = k
					continue
				}
				c.lo, c.last = k, k
				all = append(all, &c)
			}
		}
	}
	out := make([]*subject.Corner, len(all))
	for i, c := range all {
		out[i] = s.corner(c)
	}
	return out
}

// ringCorners finds the sharp joints and the small arcs of one ring.
func (s *shape) ringCorners(h *holes, ps []plane.Piece) (out []foundCorner) {
	var long []plane.Piece // edges of some micrometres are the trace of rounded drawing numbers
	for _, p := range ps {
		if p.Curve.Length() > plane.Thin {
			long = append(long, p)
		}
	}
	n := len(long)
	if n < 2 {
		return nil
	}
	for i := range long {
		p, q := &long[i], &long[(i+1)%n]
		turn := plane.TurnBetween(&p.Curve, &q.Curve)
		if math.Abs(turn) >= leastTurn-1e-9 {
			c := foundCorner{at: q.Curve.A, turn: turn, figures: []int{p.Owner}}
			if q.Owner != p.Owner {
				c.figures = []int{min(p.Owner, q.Owner), max(p.Owner, q.Owner)}
			}
			c.inKey = s.inKey(c.figures, h.keyed[q.Outer])
			out = append(out, c)
		}
		o := &long[(i+2)%n]
		a := &q.Curve
		sweep := math.Abs(a.Sweep)
		if !a.IsArc() || a.R >= contourRound-1e-9 || sweep < leastTurn-1e-9 || sweep >= math.Pi-1e-6 {
			continue
		}
		if math.Abs(turn) < 1e-3 && math.Abs(plane.TurnBetween(a, &o.Curve)) < 1e-3 {
			c := foundCorner{at: a.At(0.5), turn: a.Sweep, radius: a.R, figures: []int{q.Owner}}
			c.inKey = s.inKey(c.figures, h.keyed[q.Outer])
			out = append(out, c)
		}
	}
	return out
}

// inKey tells whether a corner belongs to a flat, to a spline, or to the key of a round bore.
func (s *shape) inKey(figures []int, keyed bool) bool {
	for _, f := range figures {
		_, flat := s.features[s.outlines[f].feature].Profile.(parts.Flatted)
		if flat || s.isSpline(f) || keyed && !s.isCircle(f) {
			return true
		}
	}
	return false
}

func (s *shape) corner(f *foundCorner) *subject.Corner {
	c := &subject.Corner{Angle: 180 - f.turn*180/math.Pi, Radius: f.radius, Inside: f.turn < 0, Joint: len(f.figures) > 1, InKey: f.inKey}
	var features []int
	for _, i := range f.figures {
		features = append(features, s.outlines[i].feature)
	}
	c.Common = s.common(features, s.at(f.at), s.heights[f.lo], s.heights[f.last+1])
	if c.Joint {
		for _, b := range s.part.Blends {
			if joins(b.Of, c.Features) {
				c.Radius = b.Radius
			}
		}
	}
	return c
}

// joins tells whether a blend is of the features that meet.
func joins(of [2]string, features []string) bool {
	a, b := features[0], features[len(features)-1]
	return of == [2]string{a, b} || of == [2]string{b, a}
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
