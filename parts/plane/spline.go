package plane

import (
	"fmt"
	"math"
)

// Spline returns the outline of a straight-sided spline: teeth with parallel sides, width apart, between the circles
// of two diameters, mm. The corner radius rounds tips and roots alike.
func Spline(major, minor float64, teeth int, width, corner float64) (*Teeth, error) {
	g := toothing{teeth: teeth, inner: minor / 2, outer: major / 2, innerRound: corner, outerRound: corner, innerName: "corner",
		outerName: "corner", flank: &straight{Point{0, -width / 2}, Point{1, 0}}}
	if err := g.diameters(); err != nil {
		return nil, err
	}
	// The teeth meet at the minor circle when half a width is its radius times sin(pi/teeth).
	widest := minor*math.Sin(math.Pi/float64(teeth)) - leastFlank
	if width > widest {
		return nil, fmt.Errorf("tooth_width %s mm leaves no space between %d teeth at the minor diameter: at most %s mm", figure(width),
			teeth, below(widest))
	}
	return g.build()
}
