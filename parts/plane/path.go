package plane

import (
	"errors"
	"fmt"
	"math"
)

// Step is one step of a path: a line to a point, or an arc to it with a radius, clockwise or not, and by the long
// way round or not.
type Step struct {
	To               Point
	Radius           float64 // 0 for a line
	Clockwise, Large bool
}

// Path returns the outline drawn by the steps from start. It closes itself with a line when it ends elsewhere; the
// corner radius rounds every joint that is not tangent; or there is one for each, that at the start first.
func Path(start Point, steps []Step, corners ...float64) (Loop, error) {
	var l Loop
	at := start
	for i, s := range steps {
		if at.Distance(s.To) <= Near {
			return nil, fmt.Errorf("step %d of the outline ends where it begins: points nearer than %.6f mm are one", i+1, Near)
		}
		if s.Radius == 0 {
			l = append(l, Line(at, s.To))
		} else {
			c, err := pathArc(at, s)
			if err != nil {
				return nil, fmt.Errorf("step %d of the path: %w", i+1, err)
			}
			l = append(l, c)
		}
		at = s.To
	}
	if at.Distance(start) > Near {
		l = append(l, Line(at, start))
	} else if len(l) > 0 {
		l[len(l)-1].B = start
	}
	if len(l) < 2 {
		return nil, errors.New("a path needs at least two steps to enclose an area")
	}
	radii, err := spread(corners, len(l))
	if err != nil {
		return nil, err
	}
	for i := range l {
		if in := l[(i+len(l)-1)%len(l)]; math.Abs(turnAt(&in, &l[i])) <= smooth {
			radii[i] = 0
		}
	}
	return closed(l, radii)
}

// pathArc finds the arc from a to the step's end. A chord longer than the diameter by less than Near is a half turn.
func pathArc(a Point, s Step) (Curve, error) {
	chord := s.To.sub(a)
	d := chord.size()
	if d > 2*s.Radius+Near {
		return Curve{}, fmt.Errorf("the arc's radius %s does not reach: its ends are %s apart, so at least %s", figure(s.Radius),
			figure(d), figure(d/2))
	}
	r := math.Max(s.Radius, d/2)
	h := math.Sqrt(math.Max(0, (r-d/2)*(r+d/2)))
	n := chord.unit().left()
	if s.Clockwise != s.Large { // the centre lies right of the chord for the short way clockwise
		n = n.scale(-1)
	}
	c := a.mid(s.To).along(n, h)
	return arcBetween(c, a, s.To, r, !s.Clockwise), nil
}
