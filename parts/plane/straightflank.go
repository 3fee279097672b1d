package plane

import "math"

// straight is a straight flank: through a point, in a direction outward. Its parameter is mm along it.
type straight struct{ p, u Point }

func (s *straight) at(t float64) Point { return s.p.along(s.u, t) }

func (s *straight) offset(d, radius float64) (c Point, t float64, ok bool) {
	q := s.p.along(s.u.left(), d)
	away := q.cross(s.u) // distance of the moved line from the origin
	if radius < math.Abs(away) {
		return c, t, false
	}
	t = math.Sqrt((radius-away)*(radius+away)) - q.dot(s.u)
	return q.along(s.u, t), t, true
}

func (s *straight) curves(from, to float64) []Curve { return []Curve{Line(s.at(from), s.at(to))} }
