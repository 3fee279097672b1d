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

// Moved returns the loop turned by degrees about a point and then shifted by d.
func (l Loop) Moved(about Point, degrees float64, d Point) Loop {
	move := func(p Point) Point { return about.add(turned(p.sub(about), degrees)).add(d) }
	m := make(Loop, len(l))
	for i, c := range l {
		m[i] = Curve{A: move(c.A), B: move(c.B), R: c.R, Sweep: c.Sweep}
		if c.IsArc() {
			m[i].C = move(c.C)
		}
	}
	return m
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

// Step is one step of a path: a line to a point, or an arc to it with a radius, clockwise or not, and by the long
// way round or not.
type Step struct {
	To               Point
	Radius           float64 // 0 for a line
	Clockwise, Large bool
}

// Path returns the outline drawn by the steps from start. It closes itself with a line when it ends elsewhere; the
// corner radius rounds every joint that is not tangent.
func Path(start Point, steps []Step, corner float64) (Loop, error) {
	var l Loop
	at := start
	for i, s := range steps {
		if at.Distance(s.To) <= Near {
			return nil, fmt.Errorf("step %d of the path ends where it begins", i+1)
		}
		if s.Radius == 0 {
			l = append(l, Line(at, s.To))
		} else {
			c, err := pathArc(at, s)
			if err != nil {
				return nil, fmt.Errorf("step %d of the path: %w", i+1, err)
			}
			l = append(l, c)
		}
		at = s.To
	}
	if at.Distance(start) > Near {
		l = append(l, Line(at, start))
	} else if len(l) > 0 {
		l[len(l)-1].B = start
	}
	if len(l) < 2 {
		return nil, errors.New("a path needs at least two steps to enclose an area")
	}
	radii := make([]float64, len(l))
	for i := range l {
		in := l[(i+len(l)-1)%len(l)]
		if math.Abs(turnAt(&in, &l[i])) > smooth {
			radii[i] = corner
		}
	}
	return closed(l, radii)
}

// pathArc finds the arc from a to the step's end. A chord longer than the diameter by less than Near is a half turn.
func pathArc(a Point, s Step) (Curve, error) {
	chord := s.To.sub(a)
	d := chord.size()
	if d > 2*s.Radius+Near {
		return Curve{}, fmt.Errorf("the arc's radius %s does not reach: its ends are %s apart, so at least %s", figure(s.Radius),
			figure(d), figure(d/2))
	}
	r := math.Max(s.Radius, d/2)
	h := math.Sqrt(math.Max(0, (r-d/2)*(r+d/2)))
	n := chord.unit().left()
	if s.Clockwise != s.Large { // the centre lies right of the chord for the short way clockwise
		n = n.scale(-1)
	}
	c := a.mid(s.To).along(n, h)
	return arcBetween(c, a, s.To, r, !s.Clockwise), nil
}

// closed rounds the corners, checks that the outline does not cross itself and returns it counter-clockwise.
func closed(l Loop, radii []float64) (Loop, error) {
	if p, crosses := l.crossing(); crosses {
		return nil, fmt.Errorf("the outline crosses or touches itself near (%s, %s)", figure(p.X), figure(p.Y))
	}
	l, err := rounded(l, radii)
	if err != nil {
		return nil, err
	}
	m := l.Moments()
	if math.Abs(m.Area) <= Near*l.Length() {
		return nil, errors.New("the outline encloses no area")
	}
	if p, crosses := l.crossing(); crosses {
		return nil, fmt.Errorf("the outline with its corner radii crosses or touches itself near (%s, %s)", figure(p.X), figure(p.Y))
	}
	if m.Area < 0 {
		l = l.Reversed()
	}
	return l, nil
}

// turnAt is the signed turn of direction from the end of one curve to the start of the next. At a cusp it is a half
// turn, to the left where the curves leave nothing between them on that side.
func turnAt(in, out *Curve) float64 {
	u, v := in.tangent(in.B), out.tangent(out.A)
	t := math.Atan2(u.cross(v), u.dot(v))
	if math.Abs(t) > cusp {
		if -in.curvature() > out.curvature() {
			return math.Pi
		}
		return -math.Pi
	}
	return t
}

// rounded replaces the joint before curve i by an arc of radius radii[i], tangent to both curves.
func rounded(l Loop, radii []float64) (Loop, error) {
	n := len(l)
	type fillet struct {
		arc  Curve
		done bool
	}
	fillets := make([]fillet, n)
	from, to := make([]float64, n), make([]float64, n) // fractions kept of each curve
	for i := range to {
		to[i] = 1
	}
	for i, r := range radii {
		if r <= 0 {
			continue
		}
		k := (i + n - 1) % n
		in, out := &l[k], &l[i]
		if math.Abs(turnAt(in, out)) <= smooth {
			continue
		}
		arc, ok := filletBetween(in, out, r)
		if !ok {
			return nil, fmt.Errorf("corner %s at (%s, %s) does not fit between its two sides", figure(r), figure(out.A.X), figure(out.A.Y))
		}
		to[k], from[i] = in.fraction(arc.A), out.fraction(arc.B)
		fillets[i] = fillet{arc, true}
	}
	var res Loop
	for i := range l {
		if fillets[i].done {
			res = append(res, fillets[i].arc)
		}
		length := l[i].Length()
		left := (to[i] - from[i]) * length
		if left < -Near {
			return nil, fmt.Errorf("the corner radii on the side from (%s, %s) do not fit: they take %s of its %s",
				figure(l[i].A.X), figure(l[i].A.Y), figure((from[i]+1-to[i])*length), figure(length))
		}
		if left > Near {
			res = append(res, l[i].part(from[i], to[i], fillets[i].arc.B, fillets[(i+1)%n].arc.A, fillets[i].done, fillets[(i+1)%n].done))
		}
	}
	for i := range res { // sides that a fillet used up whole leave their ends to be joined
		res[i].B = res[(i+1)%len(res)].A
	}
	return res, nil
}

// part returns the piece of a curve between two fractions, with the given end points where they are set.
func (c *Curve) part(t0, t1 float64, a, b Point, hasA, hasB bool) Curve {
	p := *c
	if hasA {
		p.A = a
	}
	if hasB {
		p.B = b
	}
	if c.IsArc() {
		p.Sweep = c.Sweep * (t1 - t0)
	}
	return p
}

// filletBetween finds the arc of radius r that is tangent to both curves at their common corner, by meeting the two
// curves' offsets.
func filletBetween(in, out *Curve, r float64) (Curve, bool) {
	left := turnAt(in, out) > 0
	side := r
	if !left {
		side = -r
	}
	a, okA := in.offset(side)
	b, okB := out.offset(side)
	if !okA || !okB {
		return Curve{}, false
	}
	corner := out.A
	best, found := Curve{}, false
	least := math.Inf(1)
	for _, c := range carriersMeet(&a, &b) {
		p, q := in.foot(c), out.foot(c)
		t, u := in.fraction(p), out.fraction(q)
		slack := Near / math.Min(in.Length(), out.Length())
		if t < -slack || t > 1+slack || u < -slack || u > 1+slack {
			continue
		}
		if d := c.Distance(corner); d < least {
			least, found = d, true
			best = arcBetween(c, p, q, r, left)
		}
	}
	return best, found
}

// offset moves the curve's line or circle to its left by d; false where a circle vanishes.
func (c *Curve) offset(d float64) (Curve, bool) {
	if !c.IsArc() {
		n := c.B.sub(c.A).unit().left().scale(d)
		return Line(c.A.add(n), c.B.add(n)), true
	}
	r := c.R - math.Copysign(1, c.Sweep)*d
	if r <= Near {
		return Curve{}, false
	}
	o := *c
	o.R = r
	o.A = c.C.along(c.A.sub(c.C).unit(), r)
	o.B = c.C.along(c.B.sub(c.C).unit(), r)
	return o, true
}

// foot projects a point onto the curve's line or circle.
func (c *Curve) foot(p Point) Point {
	if c.IsArc() {
		return c.C.along(p.sub(c.C).unit(), c.R)
	}
	d := c.B.sub(c.A)
	return c.A.along(d, p.sub(c.A).dot(d)/d.dot(d))
}

// crossing finds a point where the loop crosses or touches itself, other than where neighbours join.
func (l Loop) crossing() (Point, bool) {
	n := len(l)
	for _, pair := range closePairs(n, func(i int) box { return l[i].bounds() }) {
		i, j := pair[0], pair[1]
		c, d := &l[i], &l[j]
		for _, p := range meetings(c, d) {
			joint := (i+1)%n == j && p.Distance(c.B) <= 2*Near || (j+1)%n == i && p.Distance(d.B) <= 2*Near
			if !joint {
				return p, true
			}
		}
	}
	return Point{}, false
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
