package plane

import (
	"errors"
	"fmt"
	"math"
	"strconv"
)

// turned returns v turned by an angle in degrees; multiples of 90 are exact.
func turned(v Point, degrees float64) Point {
	q := math.Mod(degrees, 360)
	if q < 0 {
		q += 360
	}
	switch q {
	case 0:
		return v
	case 90:
		return Point{-v.Y, v.X}
	case 180:
		return Point{-v.X, -v.Y}
	case 270:
		return Point{v.Y, -v.X}
	}
	s, c := math.Sincos(q * math.Pi / 180)
	return Point{c*v.X - s*v.Y, s*v.X + c*v.Y}
}

// Circle returns the circle of a diameter, as two half circles.
func Circle(at Point, diameter float64) Loop {
	r := diameter / 2
	e, w := Point{at.X + r, at.Y}, Point{at.X - r, at.Y}
	return Loop{{A: e, B: w, C: at, R: r, Sweep: math.Pi}, {A: w, B: e, C: at, R: r, Sweep: math.Pi}}
}

// Rectangle returns the rectangle of a length (x) and width (y) about its centre, turned by degrees, with one
// corner radius.
func Rectangle(at Point, length, width, degrees, corner float64) (Loop, error) {
	if short := math.Min(length, width); corner > short/2+Near {
		return nil, fmt.Errorf("corner %s does not fit: the shorter side is %s, so at most %s", figure(corner),
			figure(short), figure(short/2))
	}
	x, y := length/2, width/2
	return Polygon(placed([]Point{{-x, -y}, {x, -y}, {x, y}, {-x, y}}, at, degrees), []float64{corner})
}

// Slot returns a slot with round ends: length over all along x, turned by degrees.
func Slot(at Point, length, width, degrees float64) (Loop, error) {
	if length < width-Near {
		return nil, fmt.Errorf("a slot is at least as long as wide: length %s is under width %s", figure(length), figure(width))
	}
	r := width / 2
	x := (length - width) / 2
	if x <= Near {
		return Circle(at, width), nil
	}
	p := placed([]Point{{-x, -r}, {x, -r}, {x, r}, {-x, r}, {x, 0}, {-x, 0}, {x + r, 0}, {-x - r, 0}}, at, degrees)
	// Each end is one half turn.
	return Loop{
		Line(p[0], p[1]), {A: p[1], B: p[2], C: p[4], R: r, Sweep: math.Pi},
		Line(p[2], p[3]), {A: p[3], B: p[0], C: p[5], R: r, Sweep: math.Pi},
	}, nil
}

// Hexagon returns the regular hexagon over its flats; two flats are parallel to x before it is turned.
func Hexagon(at Point, acrossFlats, degrees, corner float64) (Loop, error) {
	side := acrossFlats / math.Sqrt(3)
	if most := acrossFlats / 2; corner > most+Near {
		return nil, fmt.Errorf("corner %s does not fit: the hexagon is %s across flats, so at most %s", figure(corner),
			figure(acrossFlats), figure(most))
	}
	h := acrossFlats / 2
	p := []Point{{side, 0}, {side / 2, h}, {-side / 2, h}, {-side, 0}, {-side / 2, -h}, {side / 2, -h}}
	return Polygon(placed(p, at, degrees), []float64{corner})
}

// Flatted returns a circle with one flat, square to x at its distance from the centre, or two opposite ones; the
// corner radius rounds where flat and circle meet.
func Flatted(at Point, diameter float64, flats []float64, degrees, corner float64) (Loop, error) {
	r := diameter / 2
	for _, f := range flats {
		if f >= r-Near {
			return nil, fmt.Errorf("a flat at %s cuts nothing off a radius of %s", figure(f), figure(r))
		}
	}
	half := func(f float64) float64 { return math.Sqrt((r - f) * (r + f)) }
	var l Loop
	switch len(flats) {
	case 1:
		y := half(flats[0])
		a, b := Point{flats[0], -y}, Point{flats[0], y}
		l = Loop{Line(a, b), arcBetween(Point{}, b, a, r, true)}
	case 2:
		y, z := half(flats[0]), half(flats[1])
		a, b := Point{flats[0], -y}, Point{flats[0], y}
		c, d := Point{-flats[1], z}, Point{-flats[1], -z}
		l = Loop{Line(a, b), arcBetween(Point{}, b, c, r, true), Line(c, d), arcBetween(Point{}, d, a, r, true)}
	default:
		return nil, errors.New("a flatted circle has one or two flats")
	}
	radii := make([]float64, len(l))
	for i := range radii {
		radii[i] = corner
	}
	l, err := rounded(l, radii)
	if err != nil {
		return nil, err
	}
	return l.Moved(Point{}, degrees, at), nil
}

// Polygon returns the closed polygon through the points, with one corner radius for all or one for each point.
func Polygon(points []Point, corners []float64) (Loop, error) {
	if len(points) < 3 {
		return nil, fmt.Errorf("a polygon needs at least 3 points, not %d", len(points))
	}
	var l Loop
	for i, p := range points {
		q := points[(i+1)%len(points)]
		if p.Distance(q) <= Near {
			return nil, fmt.Errorf("points %d and %d of the polygon are one point", i+1, (i+1)%len(points)+1)
		}
		l = append(l, Line(p, q))
	}
	radii := make([]float64, len(points))
	for i := range radii {
		if len(corners) == len(points) {
			radii[i] = corners[i]
		} else if len(corners) > 0 {
			radii[i] = corners[0]
		}
	}
	return closed(l, radii)
}

// placed turns points about the origin by degrees and shifts them to at.
func placed(ps []Point, at Point, degrees float64) []Point {
	out := make([]Point, len(ps))
	for i, p := range ps {
		out[i] = turned(p, degrees).add(at)
	}
	return out
}

// figure writes a length for a message: at most 6 decimals.
func figure(v float64) string {
	return strconv.FormatFloat(math.Round(v*1e6)/1e6+0, 'f', -1, 64)
}

// Turned returns p turned by degrees about a point; multiples of 90 are exact.
func Turned(p, about Point, degrees float64) Point {
	return about.add(turned(p.sub(about), degrees))
}
