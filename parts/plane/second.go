package plane

import "math"

// Second are the second moments of area about the centroid, mm4.
type Second struct{ XX, YY, XY float64 }

// Least is the least second moment of area about any axis through the centroid.
func (s Second) Least() float64 {
	return (s.XX+s.YY)/2 - math.Hypot((s.XX-s.YY)/2, s.XY)
}

// SecondMoments are those of what closed curves bound, with it to their left, about its centroid: by Green's theorem, over lines exactly,
// over arcs by the rule below, to rounding.
func SecondMoments(loops ...Loop) Second {
	var m Moments
	for _, l := range loops {
		m = m.Add(l.Moments())
	}
	o := m.Centroid()
	var s Second
	for _, l := range loops {
		for i := range l {
			c := &l[i]
			n := 1
			if c.IsArc() {
				n = int(math.Ceil(math.Abs(c.Sweep) / (math.Pi / 8)))
			}
			for k := range n {
				for j, x := range nodes {
					for _, side := range [2]float64{-1, 1} {
						t := (float64(k) + (1+side*x)/2) / float64(n)
						p := c.At(t).sub(o)
						d := c.Tangent(c.At(t))
						dy := d.Y * c.Length() * weights[j] / 2 / float64(n)
						s.XX += p.X * p.Y * p.Y * dy
						s.YY += p.X * p.X * p.X / 3 * dy
						s.XY += p.X * p.X * p.Y / 2 * dy
					}
				}
			}
		}
	}
	return s
}

// The rule of Gauss and Legendre with six points: their distances from the middle and weights.
var (
	nodes   = [3]float64{0.2386191860831969, 0.6612093864662645, 0.9324695142031521}
	weights = [3]float64{0.4679139345726910, 0.3607615730481386, 0.1713244923791704}
)
