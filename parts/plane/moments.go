package plane

import "math"

// Moments are the area of a figure and its first moments, by Green's theorem with exact arcs. Loops that run
// counter-clockwise count positive.
type Moments struct{ Area, X, Y float64 }

// Add returns the sum of both.
func (m Moments) Add(n Moments) Moments { return Moments{m.Area + n.Area, m.X + n.X, m.Y + n.Y} }

func (m Moments) negative() Moments { return Moments{-m.Area, -m.X, -m.Y} }

// Centroid of the figure.
func (m Moments) Centroid() Point { return Point{m.X / m.Area, m.Y / m.Area} }

// moments of one curve: the triangle to the origin and, for an arc, the circular segment beside its chord.
func (c *Curve) moments() Moments {
	a := c.A.cross(c.B) / 2
	m := Moments{a, a * (c.A.X + c.B.X) / 3, a * (c.A.Y + c.B.Y) / 3}
	if !c.IsArc() {
		return m
	}
	s := c.Sweep
	seg := c.R * c.R * segment(s)
	// Centroid of a circular segment of half angle h lies 2 R sin^3 h / (3 (h - sin h cos h)) from the centre, and
	// its area is R^2 (h - sin h cos h): their product has no small divisor.
	h := s / 2
	first := 2 * c.R * c.R * c.R * math.Pow(math.Sin(h), 3) / 3
	u := toward(c.A.sub(c.C).angle() + h)
	return m.Add(Moments{seg, seg*c.C.X + first*u.X, seg*c.C.Y + first*u.Y})
}

// segment is (s - sin s)/2, the area of a circular segment of sweep s and radius 1, exact for small s too.
func segment(s float64) float64 {
	if math.Abs(s) < seriesBelow {
		q := s * s
		return s * q * (1.0/6 - q*(1.0/120-q*(1.0/5040-q/362880))) / 2
	}
	return (s - math.Sin(s)) / 2
}

// Moments of the loop.
func (l Loop) Moments() (m Moments) {
	for i := range l {
		m = m.Add(l[i].moments())
	}
	return m
}
