package plane

import (
	"cmp"
	"math"
	"slices"
)

// Farthest is the greatest distance of a point on one set of curves from the nearest of another, mm: the distance's
// maxima between steps of a hundredth of each curve, each refined to goldenWidth. Along a curve the distance grows
// by no more than what is walked, so what cannot come to more than is found already is passed over.
func Farthest(from, to []Curve) float64 {
	const steps = 100
	pieces := make([]Piece, len(to))
	for i := range to {
		pieces[i].Curve = to[i]
	}
	nearest := newTree(pieces)
	most := 0.0
	for _, c := range outwardFirst(from, nearest) {
		length := c.Length()
		distance := func(t float64) float64 { return nearest.distance(c.At(t)) }
		if distance(0.5)+length/2 <= most {
			continue
		}
		var at [steps + 1]float64
		for k := range at {
			at[k] = distance(float64(k) / steps)
			most = math.Max(most, at[k])
		}
		for k := range at {
			before, after := max(k-1, 0), min(k+1, steps)
			if at[k] >= at[before] && at[k] >= at[after] && at[k] > math.Min(at[before], at[after])+standsOut && at[k]+length/steps > most {
				most = math.Max(most, highest(distance, float64(before)/steps, float64(after)/steps))
			}
		}
	}
	return most
}

// outwardFirst orders curves by how far their middles are away, the farthest first.
func outwardFirst(curves []Curve, from *tree) []Curve {
	order, far := make([]int, len(curves)), make([]float64, len(curves))
	for i := range curves {
		order[i], far[i] = i, from.distance(curves[i].At(0.5))
	}
	slices.SortStableFunc(order, func(i, j int) int { return cmp.Compare(far[j], far[i]) })
	all := make([]Curve, len(curves))
	for k, i := range order {
		all[k] = curves[i]
	}
	return all
}

// highest is the greatest value of a function with one maximum between two places, by the golden section.
func highest(f func(float64) float64, a, b float64) float64 {
	const golden = 0.6180339887498949
	x, y := b-golden*(b-a), a+golden*(b-a)
	fx, fy := f(x), f(y)
	for b-a > goldenWidth {
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
