package blank

import (
	"math"
	"slices"
	"sync"
)

// Node is a place between 0 and 1 with its weight in a sum that stands for an integral.
type Node struct{ At, Weight float64 }

// Nodes are those of a rule that is exact, but for rounding, for what is smooth or begins and ends as a root does.
func Nodes() []Node { return roundNodes() }

// Mean is that of a function from 0 to 1, which is halved until the rule for the whole and those for both halves agree: beside the tip of
// a cone it bends sharply.
func Mean(f func(t float64) float64) float64 {
	rule := func(lo, hi float64) (sum float64) {
		for _, n := range Nodes() {
			sum += n.Weight * f(lo+n.At*(hi-lo))
		}
		return sum
	}
	var halved func(lo, hi, whole float64, more int) float64
	halved = func(lo, hi, whole float64, more int) float64 {
		m := mid(lo, hi)
		a, b := rule(lo, m), rule(m, hi)
		if mean := mid(a, b); more == 0 || math.Abs(mean-whole) <= meanError*(1+math.Abs(mean)) {
			return mean
		}
		return mid(halved(lo, m, a, more-1), halved(m, hi, b, more-1))
	}
	return halved(0, 1, rule(0, 1), mostHalvings)
}

// mostHalvings ends the halving where a function has a kink: a thousandth of the stretch is left then.
const mostHalvings = 10

// roundNodes are the Gauss-Legendre rule of 24 nodes over an angle that is even there: for what begins or ends as a root does.
// shortNodes are that of 8, for a short arc that stands for a piece of a curve.
var (
	roundNodes = sync.OnceValue(func() []Node { return overAngle(24) })
	shortNodes = sync.OnceValue(func() []Node { return overAngle(8) })
)

func overAngle(n int) []Node {
	ns := legendre(n)
	for i, n := range ns {
		ns[i] = Node{(1 - math.Cos(math.Pi*n.At)) / 2, n.Weight * math.Pi / 2 * math.Sin(math.Pi*n.At)}
	}
	return ns
}

// legendre is the Gauss-Legendre rule of n nodes over 0 to 1: the roots of Legendre's polynomial, by Newton's method.
func legendre(n int) (out []Node) {
	for i := range n {
		x := math.Cos(math.Pi * (float64(i) + 0.75) / (float64(n) + 0.5))
		var slope float64
		for range 50 {
			p, before := 1.0, 0.0
			for k := 1; k <= n; k++ {
				p, before = ((2*float64(k)-1)*x*p-(float64(k)-1)*before)/float64(k), p
			}
			slope = float64(n) * (x*p - before) / (x*x - 1)
			step := p / slope
			x -= step
			if math.Abs(step) < nodeStep {
				break
			}
		}
		out = append(out, Node{(1 - x) / 2, 1 / ((1 - x*x) * slope * slope)})
	}
	return out
}

// Volume is the volume of the part, mm3, and its surface, mm2, that of voids inside too.
func (s *Shape) Volume() (volume, surface float64) {
	for c := range s.cells {
		for r, ends := range s.cells[c].ends {
			volume += s.RunVolume(c, r)
			surface += s.area(c, ends[0]) + s.area(c, ends[1])
		}
	}
	for i := range s.overlay.Edges {
		surface += s.wallArea(i)
	}
	return volume, surface
}

// RunVolume is the volume of a run over a cell, mm3.
func (s *Shape) RunVolume(c, run int) float64 { return s.cells[c].volumes[run] }

// wallArea is the area of the walls over an edge, where there is material on one side of it, mm2.
func (s *Shape) wallArea(edge int) (area float64) {
	e := &s.overlay.Edges[edge]
	l, r := s.cells[e.Left].ends, s.cells[e.Right].ends
	if e.Left == e.Right || slices.Equal(l, r) {
		return 0
	}
	nodes := roundNodes()
	leans := func(f [2]surface) bool { return !f[0].flat() || !f[1].flat() }
	if !slices.ContainsFunc(l, leans) && !slices.ContainsFunc(r, leans) {
		nodes = []Node{{0.5, 1}}
	}
	for _, n := range nodes {
		p := e.Curve.At(n.At)
		height := func(f [2]surface) float64 { return s.heightOver(f[1], p) - s.heightOver(f[0], p) }
		apart := 0.0
		for _, f := range l {
			apart += height(f)
			for _, g := range r {
				top := math.Min(s.heightOver(f[1], p), s.heightOver(g[1], p))
				bottom := math.Max(s.heightOver(f[0], p), s.heightOver(g[0], p))
				apart -= 2 * math.Max(0, top-bottom)
			}
		}
		for _, g := range r {
			apart += height(g)
		}
		area += n.Weight * e.Curve.Length() * math.Max(0, apart)
	}
	return area
}
