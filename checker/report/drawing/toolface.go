package drawing

import (
	"math"

	"corerod/parts/plane"
	"corerod/parts/tooling"
)

// span is the heights of a face at the two ends of a strip, mm.
type span [2]float64

// level is the span of a face across the pressing axis.
func level(z float64) span { return span{z, z} }

// raised is a span moved up.
func (s span) raised(by float64) span { return span{s[0] + by, s[1] + by} }

// upperFace is the height of what was cut at both ends of a strip, on top: sloped faces change along it.
func upperFace(loops []plane.Loop, x tooling.Strip) span { return face(loops, x, x.High, 1) }

// lowerFace is the same below.
func lowerFace(loops []plane.Loop, x tooling.Strip) span { return face(loops, x, x.Low, -1) }

// face is the last height in a direction, up or down, at both ends of a strip; z, the height that stands for the strip,
// where nothing was cut.
func face(loops []plane.Loop, x tooling.Strip, z, direction float64) (s span) {
	inside := math.Min(besideWall, (x.To-x.From)/4)
	for i, at := range []float64{x.From + inside, x.To - inside} {
		last := math.Inf(-1)
		for _, l := range loops {
			for k := range l {
				for _, h := range heights(&l[k], at) {
					last = math.Max(last, direction*h)
				}
			}
		}
		if s[i] = direction * last; math.IsInf(last, 0) || math.Abs(s[i]-z) < sameLevel {
			s[i] = z
		}
	}
	return s
}

// heights are those at which a curve of a section crosses a place.
func heights(c *plane.Curve, at float64) (all []float64) {
	if !c.IsArc() {
		if (c.A.X-at)*(c.B.X-at) < 0 {
			all = append(all, c.A.Y+(at-c.A.X)/(c.B.X-c.A.X)*(c.B.Y-c.A.Y))
		}
		return all
	}
	if d := at - c.C.X; math.Abs(d) < c.R {
		rise := math.Sqrt(c.R*c.R - d*d)
		for _, h := range []float64{c.C.Y - rise, c.C.Y + rise} {
			if c.Off(plane.Point{X: at, Y: h}) < plane.Near {
				all = append(all, h)
			}
		}
	}
	return all
}
