package plane

import (
	"fmt"
	"math"
)

// Serration returns the outline of V teeth between the circles of two diameters, mm, whose flanks enclose an angle in
// degrees. Teeth and spaces are equally wide on the circle midway between the two.
func Serration(major, minor float64, teeth int, angle, tipRadius, rootRadius float64) (*Teeth, error) {
	half := angle / 2 * math.Pi / 180
	mid, quarter := (major+minor)/4, math.Pi/float64(2*teeth)
	g := toothing{teeth: teeth, inner: minor / 2, outer: major / 2, innerRound: rootRadius, outerRound: tipRadius, innerName: "root_radius",
		outerName: "tip_radius", flank: &straight{toward(-quarter).scale(mid), toward(half)}}
	if err := g.diameters(); err != nil {
		return nil, err
	}
	// The flank passes the axis of its tooth, or of the space before it, at an angle that grows with its own.
	h := mid * math.Sin(quarter)
	tip := math.Atan2(h-leastFlank, g.outer-mid*math.Cos(quarter))
	root := math.Atan2(h-leastFlank, mid*math.Cos(quarter)-g.inner) - math.Pi/float64(teeth)
	if widest := math.Min(tip, root) * 360 / math.Pi; widest <= 0 {
		return nil, fmt.Errorf("%d teeth do not fit between the diameters %s and %s mm: give fewer teeth or less depth", teeth,
			figure(minor), figure(major))
	} else if angle > widest {
		return nil, fmt.Errorf("the flanks of %d teeth at %s degrees meet between the diameters %s and %s mm: "+
			"an angle of at most %s degrees, or less depth",
			teeth, figure(angle), figure(minor), figure(major), below(widest))
	}
	return g.build()
}
