package drawing

import (
	"math"

	"corerod/parts/plane"
)

// Line widths on paper, mm, and the types of lines, ISO 128.
const (
	thick = 0.5
	thin  = 0.25
)

const (
	hiddenLine = ` stroke-dasharray="3 1.5"`
	centreLine = ` stroke-dasharray="8 1.5 1 1.5"`
)

// scales of drawings, ISO 5455, the largest first.
var scales = []float64{50, 20, 10, 5, 2, 1, 0.5, 0.2, 0.1, 0.05}

// scaleName writes a scale as drawings do.
func scaleName(k float64) string {
	if k >= 1 {
		return mm(k) + ":1"
	}
	return "1:" + mm(math.Round(1/k))
}

// view is one view on paper: a point (x, y) of what is drawn stands at left + scale (x - low.X), bottom - scale (y - low.Y).
type view struct {
	low, high    plane.Point // of what is drawn
	scale        float64
	left, bottom float64

	above, beside float64 // what further rows of balloons take
}

func (v *view) x(x float64) float64 { return v.left + v.scale*(x-v.low.X) }

func (v *view) y(y float64) float64 { return v.bottom - v.scale*(y-v.low.Y) }

func (v *view) width() float64 { return v.scale * (v.high.X - v.low.X) }

func (v *view) height() float64 { return v.scale * (v.high.Y - v.low.Y) }

// begin opens the group in which a view draws in its own coordinates.
func (v *view) begin(c *svg, class string) {
	c.add(`<g class="%s" transform="matrix(%s 0 0 -%s %s %s)" fill="none" stroke="currentColor" stroke-width="%s">`+"\n",
		class, fine(v.scale), fine(v.scale), fine(v.left-v.scale*v.low.X), fine(v.bottom+v.scale*v.low.Y), fine(thick/v.scale))
}

// bounds of loops.
func bounds(loops []plane.Loop) (lo, hi plane.Point) {
	lo, hi = plane.Point{X: math.Inf(1), Y: math.Inf(1)}, plane.Point{X: math.Inf(-1), Y: math.Inf(-1)}
	for _, l := range loops {
		a, b := l.Bounds()
		lo = plane.Point{X: math.Min(lo.X, a.X), Y: math.Min(lo.Y, a.Y)}
		hi = plane.Point{X: math.Max(hi.X, b.X), Y: math.Max(hi.Y, b.Y)}
	}
	if len(loops) == 0 {
		return plane.Point{}, plane.Point{X: 1, Y: 1}
	}
	return lo, hi
}
