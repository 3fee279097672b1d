package plane

import "math"

// Farthest is the greatest distance of a point on one set of curves from the nearest of another, mm: the distance's
// maxima between steps of a hundredth of each curve, each refined to 1e-12 of the curve.
func Farthest(from, to []Curve) float64 {
	const steps = 100
	most := 0.0
	for i := range from {
		c := &from[i]
		distance := func(t float64) float64 {
			d, p := math.Inf(1), c.At(t)
			for j := range to {
				d = math.Min(d, to[j].distance(p))
			}
			return d
		}
		var at [steps + 1]float64
		for k := range at {
			at[k] = distance(float64(k) / steps)
			most = math.Max(most, at[k])
		}
		for k := 1; k < steps; k++ {
			if at[k] >= at[k-1] && at[k] >= at[k+1] && at[k] > math.Min(at[k-1], at[k+1])+1e-12 {
				most = math.Max(most, highest(distance, float64(k-1)/steps, float64(k+1)/steps))
			}
		}
	}
	return most
}

// highest is the greatest value of a function with one maximum between two places, by the golden section.
func highest(f func(float64) float64, a, b float64) float64 {
	const golden = 0.6180339887498949
	x, y := b-golden*(b-a), a+golden*(b-a)
	fx, fy := f(x), f(y)
	for b-a > 1e-12 {
		if fx < fy {
			a, x, fx = x, y, fy
			y = a + golden*(b-a)
			fy = f(y)
		} else {
			b, y, fy = y, x, fx
			x = b - golden*(b-a)
			fx = f(x)
		}
	}
	return math.Max(fx, fy)
}
