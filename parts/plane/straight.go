package plane

import (
	"fmt"
	"math"
)

// straight is a straight flank: through a point, in a direction outward. Its parameter is mm along it.
type straight struct{ p, u Point }

func (s *straight) at(t float64) Point { return s.p.along(s.u, t) }

func (s *straight) offset(d, radius float64) (c Point, t float64, ok bool) {
	q := s.p.along(s.u.left(), d)
	away := q.cross(s.u) // distance of the moved line from the origin
	if radius < math.Abs(away) {
		return c, t, false
	}
	t = math.Sqrt((radius-away)*(radius+away)) - q.dot(s.u)
	return q.along(s.u, t), t, true
}

func (s *straight) curves(from, to float64) []Curve { return []Curve{Line(s.at(from), s.at(to))} }

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

func (g *toothing) diameters() error {
	if g.outer-g.inner < leastFlank {
		return fmt.Errorf("the major diameter %s mm must be above the minor diameter %s mm", figure(2*g.outer), figure(2*g.inner))
	}
	return nil
}
