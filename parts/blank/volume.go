package blank

import (
	"math"
	"sync"

	"corerod/parts"
	"corerod/parts/form"
	"corerod/parts/plane"
)

// node is a place between 0 and 1 with its weight in a sum that stands for an integral.
type node struct{ at, weight float64 }

// plainNodes are the Gauss-Legendre rule of five nodes: exact for drafted, coned and ball-shaped walls that do not meet
// each other, whose sections change by at most the third power of the height. roundNodes are for walls that begin or
// end upright or level, as arcs in section do: the rule of 24 nodes over an angle that is even there.
var (
	plainNodes = sync.OnceValue(func() []node { return legendre(5) })
	roundNodes = sync.OnceValue(func() []node {
		ns := legendre(24)
		for i, n := range ns {
			ns[i] = node{(1 - math.Cos(math.Pi*n.at)) / 2, n.weight * math.Pi / 2 * math.Sin(math.Pi*n.at)}
		}
		return ns
	})
)

// legendre is the Gauss-Legendre rule of n nodes over 0 to 1: the roots of Legendre's polynomial, by Newton's method.
func legendre(n int) (out []node) {
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
		out = append(out, node{(1 - x) / 2, 1 / ((1 - x*x) * slope * slope)})
	}
	return out
}

// hasSlopes tells whether any wall of the part slopes.
func (s *Shape) hasSlopes() bool {
	for _, f := range s.features {
		if form.Sloped(f) {
			return true
		}
	}
	return false
}

// Volume is the volume of the part, mm3, and its surface, mm2, that of voids inside too.
func (s *Shape) Volume() (volume, surface float64, err error) {
	if s.hasSlopes() {
		return s.solveSections()
	}
	for c := range s.cells {
		for _, r := range s.cells[c].runs {
			volume += s.Area(c) * (s.Top(r) - s.Bottom(r))
		}
		surface += 2 * s.Area(c) * float64(len(s.cells[c].runs))
	}
	for i := range s.overlay.Edges {
		e := &s.overlay.Edges[i]
		for k := range s.slabs {
			if s.cells[e.Left].solid[k] != s.cells[e.Right].solid[k] {
				surface += e.Curve.Length() * (s.heights[k+1] - s.heights[k])
			}
		}
	}
	return volume, surface, nil
}

// solveSections measures the volume and the walls of a part with sloped walls by exact sections, not by slices: between
// the heights at which a tier begins or ends their areas change smoothly.
func (s *Shape) solveSections() (volume, surface float64, err error) {
	bases, ends := s.tierEnds()
	surface = s.flatArea()
	for i := 0; i+1 < len(ends); i++ {
		h := ends[i+1] - ends[i]
		for _, n := range s.nodes(bases, (ends[i]+ends[i+1])/2) {
			area, walls, err := s.sectionAt(bases, ends[i]+h*n.at)
			if err != nil {
				return 0, 0, err
			}
			volume += h * n.weight * area
			surface += h * n.weight * walls
		}
	}
	return volume, surface, nil
}

// nodes are those for the stretch round a height: plain ones, but where sloped walls meet others or are round in section.
func (s *Shape) nodes(all []based, z float64) []node {
	if len(s.meets) > 0 {
		return roundNodes()
	}
	for _, b := range all {
		f := s.features[b.feature]
		if t := tierOver(b.tiers, z-b.z, f.Extent.Open); t == nil || !t.sloped {
			continue
		}
		if t, ok := form.HalfSection(f.Profile); ok && t.HasArcs() || f.Section == "round" {
			return roundNodes()
		}
	}
	return plainNodes()
}

// flatArea is the area of the flat end faces, traps' too.
func (s *Shape) flatArea() (area float64) {
	for c := range s.cells {
		for _, r := range s.cells[c].runs {
			if _, sloped := s.SlopeOf(c, s.Top(r), "top"); !sloped {
				area += s.Area(c)
			}
			if _, sloped := s.SlopeOf(c, s.Bottom(r), "bottom"); !sloped {
				area += s.Area(c)
			}
		}
	}
	return area
}

// leanFactor is the area of a wall for a millimetre of height and one of its section: 1 for an upright wall.
func (s *Shape) leanFactor(b *based, u float64, c *plane.Curve) float64 {
	f := s.features[b.feature]
	t := tierOver(b.tiers, u, "")
	if t == nil || !t.sloped {
		return 1
	}
	if b, ok := form.AsBall(f.Profile); ok {
		r := b.Diameter / 2
		return r / math.Max(leastRun, math.Sqrt(math.Max(0, r*r-(u-r)*(u-r))))
	}
	if t, ok := form.HalfSection(f.Profile); ok {
		return turnedFactor(t, u+f.Extent.From, c.R)
	}
	if f.Draft != nil {
		return 1 / math.Cos(f.Draft.Angle*math.Pi/180)
	}
	return t.factor(u)
}

// turnedFactor is leanFactor for the edge of a half section that has a radius at a height.
func turnedFactor(t parts.Turned, z, radius float64) float64 {
	section, _ := form.Steps(t.Start, t.Steps, 0)
	for i := range section {
		c := &section[i]
		if math.Min(c.A.Y, c.B.Y) >= z || math.Max(c.A.Y, c.B.Y) <= z || math.Abs(radiusAt(c, z)-radius) > 10*plane.Near {
			continue
		}
		if c.IsArc() {
			return c.R / math.Max(leastRun, math.Abs(radius-c.C.X))
		}
		return math.Hypot(c.A.X-c.B.X, c.A.Y-c.B.Y) / math.Abs(c.A.Y-c.B.Y)
	}
	return 1
}
