package blank

import "math"

// golden is the share of a stretch at which the golden section divides it, from its nearer end.
var golden = (3 - math.Sqrt(5)) / 2

// LeastAlong is the least of a smooth function between 0 and 1, and where it is: round the least of samples it is narrowed down, and
// beside an end from which it falls.
func LeastAlong(f func(t float64) float64) (at, least float64) {
	const looks = 32
	var values [looks + 1]float64
	for k := range values {
		values[k] = f(float64(k) / looks)
		if k == 0 || values[k] < least {
			at, least = float64(k)/looks, values[k]
		}
	}
	narrow := func(low, high int) {
		if t, v := LeastBeside(f, float64(low)/looks, float64(high)/looks); v < least {
			at, least = t, v
		}
	}
	for k := 1; k < looks; k++ {
		v, beside := values[k], math.Max(values[k-1], values[k+1])
		if math.IsInf(v, 1) || v > values[k-1] || v > values[k+1] || beside-v <= alike*(1+math.Abs(v)) {
			continue
		}
		narrow(k-1, k+1)
	}
	for _, end := range [2][2]int{{0, 1}, {looks, looks - 1}} {
		v := values[end[0]]
		if v <= values[end[1]] && f((float64(end[0])*(1-inEnd)+float64(end[1])*inEnd)/looks) < v {
			narrow(min(end[0], end[1]), max(end[0], end[1]))
		}
	}
	return at, least
}

// LeastBeside is the least of a function that falls and then rises between two numbers, and where it is: by the parabola through the
// three lowest points so far, and by the golden section where that leads nowhere (R. P. Brent, Algorithms for Minimization without
// Derivatives, 1973, chapter 5; from memory).
func LeastBeside(f func(x float64) float64, a, b float64) (at, least float64) {
	near := closeEnough * (b - a)
	low, high := a, b
	x := a + golden*(b-a)
	v := f(x)
	lowest := lowestThree{{x, v}, {x, v}, {x, v}}
	step, before := 0.0, 0.0
	for range 60 {
		x, middle := lowest[0].x, (low+high)/2
		if math.Abs(x-middle) <= 2*near-(high-low)/2 {
			break
		}
		next, ok := lowest.parabola()
		if ok && math.Abs(before) > near && math.Abs(next-x) < math.Abs(before)/2 && low < next && next < high {
			step, before = next-x, step
			if next-low < 2*near || high-next < 2*near {
				step = math.Copysign(near, middle-x)
			}
		} else {
			before = high - x
			if x >= middle {
				before = low - x
			}
			step = golden * before
		}
		if math.Abs(step) < near {
			step = math.Copysign(near, step)
		}
		next, v = x+step, f(x+step)
		switch better := v <= lowest[0].v; {
		case better && next >= x:
			low = x
		case better:
			high = x
		case next < x:
			low = next
		default:
			high = next
		}
		lowest.add(next, v)
	}
	at, least = lowest[0].x, lowest[0].v
	for _, end := range [2]float64{a, b} {
		if v := f(end); v < least {
			at, least = end, v
		}
	}
	return at, least
}

// lowestThree are the three lowest points of a function so far, the lowest first.
type lowestThree [3]struct{ x, v float64 }

func (l *lowestThree) add(x, v float64) {
	at := struct{ x, v float64 }{x, v}
	switch {
	case v <= l[0].v:
		l[0], l[1], l[2] = at, l[0], l[1]
	case v <= l[1].v || l[1].x == l[0].x:
		l[1], l[2] = at, l[1]
	case v <= l[2].v || l[2].x == l[0].x || l[2].x == l[1].x:
		l[2] = at
	}
}

// parabola is where that through the three points turns.
func (l *lowestThree) parabola() (x float64, ok bool) {
	a, b, c := l[0], l[1], l[2]
	r, q := (a.x-b.x)*(a.v-c.v), (a.x-c.x)*(a.v-b.v)
	p := (a.x-c.x)*q - (a.x-b.x)*r
	if q -= r; q == 0 {
		return 0, false
	}
	return a.x - p/(2*q), true
}
