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
// corner radius for all or four, that at the lower left first.
func Rectangle(at Point, length, width, degrees float64, corners ...float64) (Loop, error) {
	if short := math.Min(length, width); len(corners) == 1 && corners[0] > short/2+Near {
		return nil, fmt.Errorf("corner %s does not fit: the shorter side is %s, so at most %s", figure(corners[0]),
			figure(short), figure(short/2))
	}
	x, y := length/2, width/2
	return Polygon(placed([]Point{{-x, -y}, {x, -y}, {x, y}, {-x, y}}, at, degrees), corners)
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

// Regular returns the regular polygon of a number of sides round a circle of a diameter; a corner lies on x before it is turned.
func Regular(at Point, sides int, inscribed, degrees, corner float64) (Loop, error) {
	if sides < 3 {
		return nil, fmt.Errorf("a regular polygon has 3 sides or more, not %d", sides)
	}
	if most := inscribed / 2; corner > most+Near {
		return nil, fmt.Errorf("corner %s does not fit: the circle inside is %s across, so at most %s", figure(corner), figure(inscribed),
			figure(most))
	}
	round := inscribed / 2 / math.Cos(math.Pi/float64(sides))
	ps := make([]Point, sides)
	for i := range ps {
		ps[i] = turned(Point{round, 0}, 360*float64(i)/float64(sides))
	}
	return Polygon(placed(ps, at, degrees), []float64{corner})
}

// Ellipse returns the ellipse of a length (x) and width (y), turned by degrees, as arcs within EllipseError of it that are tangent to each
// other and exact where it crosses its axes. Its quarters are alike.
func Ellipse(at Point, length, width, degrees float64) Loop {
	a, b := length/2, width/2
	if math.Abs(a-b) <= Near {
		return Circle(at, length)
	}
	quarter := Loop(Fit(func(t float64) (Point, Point) {
		s, c := math.Sincos(t)
		switch t { // the ends without rounding
		case 0:
			s, c = 0, 1
		case math.Pi / 2:
			s, c = 1, 0
		}
		return Point{a * c, b * s}, Point{-a * s, b * c}.unit()
	}, 0, math.Pi/2, EllipseError))
	var below Loop // on to it, on the other side of x
	for i := range quarter {
		below = append(below, quarter[len(quarter)-1-i].mirrored())
	}
	half := append(quarter, below.Moved(Point{}, 180, Point{})...)
	return append(half, half.Moved(Point{}, 180, Point{})...).Moved(Point{}, degrees, at)
}

// Flatted returns a circle with flats at distances from its centre, evenly round and the first square to x; the corner radius rounds where
// flats and circle meet.
func Flatted(at Point, diameter float64, flats []float64, degrees, corner float64) (Loop, error) {
	r, n := diameter/2, len(flats)
	if n == 0 {
		return nil, errors.New("a flatted circle has one flat or more")
	}
	ends := make([][2]Point, n)
	for i, f := range flats {
		if f >= r-Near {
			return nil, fmt.Errorf("a flat at %s cuts nothing off a radius of %s", figure(f), figure(r))
		}
		h := math.Sqrt((r - f) * (r + f))
		way := 360 * float64(i) / float64(n)
		ends[i] = [2]Point{turned(Point{f, -h}, way), turned(Point{f, h}, way)}
	}
	var l Loop
	for i, f := range flats {
		g := flats[(i+1)%n]
		if n > 2 && math.Acos(f/r)+math.Acos(g/r) > 2*math.Pi/float64(n)-Near/r {
			return nil, fmt.Errorf("the flats at %s and %s meet; give fewer of them, draw them further out, or write a regular polygon",
				figure(f), figure(g))
		}
		a, b := ends[i][1], ends[(i+1)%n][0]
		l = append(l, Line(ends[i][0], a), arcBetween(Point{}, a, b, r, true))
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
	radii, err := spread(corners, len(l))
	if err != nil {
		return nil, err
	}
	return closed(l, radii)
}

// spread gives each of some corners its radius: none, one for all, or its own.
func spread(radii []float64, corners int) ([]float64, error) {
	all := make([]float64, corners)
	switch len(radii) {
	case corners:
		copy(all, radii)
	case 0:
	case 1:
		for i := range all {
			all[i] = radii[0]
		}
	default:
		return nil, fmt.Errorf("corner has %d radii for %d corners; give one for each, or one for all", len(radii), corners)
	}
	return all, nil
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
