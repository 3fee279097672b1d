package plane

import "math"

// involute is the figure's flank: an involute of the circle of radius base, and below it the radial line that is
// tangent to it there. Its parameter is the roll angle in radians; on the line, (radius - base) / base, below 0.
type involute struct {
	base float64 // mm
	lead float64 // half of the tooth's angle at the base circle, radians
	step float64 // most roll angle of one biarc, radians
}

// inv is the involute function tan(a) - a.
func inv(a float64) float64 { return math.Tan(a) - a }

// at returns the point of the flank at a roll angle.
func (v *involute) at(t float64) Point {
	if t < 0 {
		return toward(-v.lead).scale(v.base * (1 + t))
	}
	return v.moved(t, 0)
}

// moved is the flank point at a roll angle, moved along its normal into the tooth by d.
func (v *involute) moved(t, d float64) Point {
	along := toward(t - v.lead) // toward where its normal touches the base circle
	return along.scale(v.base).along(along.left(), d-v.base*t)
}

// offset of an involute is an involute of the same circle: its point at a radius R has
// R^2 = base^2 + (base t - d)^2.
func (v *involute) offset(d, radius float64) (c Point, t float64, ok bool) {
	if radius >= v.base {
		if t = (math.Sqrt((radius-v.base)*(radius+v.base)) + d) / v.base; t >= 0 {
			return v.moved(t, d), t, true
		}
	}
	if d > 0 || radius <= -d {
		return c, t, false
	}
	u, reach := toward(-v.lead), math.Sqrt((radius-d)*(radius+d))
	return u.scale(reach).along(u.left(), d), reach/v.base - 1, true
}

// curves are the radial line below the base circle and pairs of arcs along the involute.
func (v *involute) curves(from, to float64) (cs []Curve) {
	if from < 0 {
		end := math.Min(to, 0)
		if v.base*(end-from) > Near {
			cs = append(cs, Line(v.at(from), v.at(end)))
		}
		from = end
	}
	n := int(math.Ceil((to - from) / v.step))
	for i := range n {
		a, b := from+(to-from)*float64(i)/float64(n), from+(to-from)*float64(i+1)/float64(n)
		p, q := v.at(a), v.at(b)
		cs = append(cs, biarc(p, q, a-v.lead, (b-a)/2)...)
	}
	return cs
}

// biarc returns two tangent arcs from p, at a heading in radians, to q, each of which turns left by turn.
func biarc(p, q Point, heading, turn float64) []Curve {
	e, f := toward(heading+turn/2), toward(heading+3*turn/2) // along the two chords
	w := q.sub(p)
	m := p.along(e, w.cross(f)/e.cross(f))
	arc := func(a, b Point, heading float64) Curve {
		r := a.Distance(b) / (2 * math.Sin(turn/2))
		return Curve{A: a, B: b, C: a.along(toward(heading).left(), r), R: r, Sweep: turn}
	}
	return []Curve{arc(p, m, heading), arc(m, q, heading+turn)}
}

// biarcError is the most by which one pair of arcs leaves the involute over a roll angle q on a base circle of radius r,
// in units of r q^3: the error of a pair of arcs goes with the cube of its length and the rate of its curvature, whose
// product on an involute is r q^3.
const biarcError = 1.0 / 300
