package blank

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"corerod/parts"
	"corerod/parts/form"
	"corerod/parts/plane"
)

// tier is a stretch of a feature's height over which its plan outline changes smoothly. Heights count from the feature's lower
// end. Its outline at a height is the drawn one, each side of which is moved to its left.
type tier struct {
	lo, hi float64
	drawn  plane.Loop // one outline, or of a half section a circle and the one inside it
	moves  []*motion  // by side of drawn; nil where the wall is upright
	ring   bool       // of circles: of a half section or a ball
	bar    bool       // a rectangle, or the sector of a ring, of which the first or the third side move: of a hole across the axis
	ends   bool       // of a bar: its other two sides lie in the part
	tip    [2]bool    // nothing is left at its lower, upper end
	mitres bool       // radii of it vanish at its narrow end
}

// motion is how far a side is moved to its left over the height, in section: a line or an arc of heights over distances, mm.
type motion struct {
	slope, from float64 // of a line: height for each mm to the left, infinite where it is upright, and height where it is drawn
	r           float64 // of an arc: its radius, 0 for a line
	at, over    float64 // of an arc: the distance and the height of its centre
	side, upper float64 // of an arc: on which side of its centre, and whether above it; 1 or -1
	turns       bool    // of a ramp: it turns about the axis, by the radians of off
	span        float64 // of a ramp: how far it turns in all, rad
}

// off is how far the side is moved at a height.
func (m *motion) off(u float64) float64 {
	if m.r == 0 {
		return (u - m.from) / m.slope
	}
	h := m.clamped(u - m.over)
	return m.at + m.side*math.Sqrt((m.r-h)*(m.r+h))
}

// up is the height at which it is moved so far.
func (m *motion) up(off float64) float64 {
	if m.r == 0 {
		return m.from + m.slope*off
	}
	t := m.clamped(off - m.at)
	return m.over + m.upper*math.Sqrt((m.r-t)*(m.r+t))
}

// rate is how off changes for each mm of height; without bound where the wall lies flat.
func (m *motion) rate(u float64) float64 {
	if m.r == 0 {
		return 1 / m.slope
	}
	return -(u - m.over) / (m.off(u) - m.at)
}

func (t *tier) sloped() bool { return t.moves != nil }

// goes tells whether a side moves at all.
func (t *tier) goes(i int) bool { return t.moves[i].r > 0 || !math.IsInf(t.moves[i].slope, 0) }

// at is the outline at a height; nil where nothing is left of it.
func (t *tier) at(u float64) (plane.Loop, error) { return t.of(t.drawn, u) }

// of is at for a copy of the drawn outline.
func (t *tier) of(drawn plane.Loop, u float64) (plane.Loop, error) {
	if !t.sloped() {
		return drawn, nil
	}
	if t.tip[0] && u-t.lo <= SameHeight || t.tip[1] && t.hi-u <= SameHeight {
		return nil, nil
	}
	if t.ring {
		return t.circles(drawn, u), nil
	}
	if t.bar {
		return t.rectangle(drawn, u), nil
	}
	d := t.moves[0].off(u)
	if t.mitres && math.Abs(u-t.narrow()) <= SameHeight { // as the next begins
		if d < 0 {
			drawn = drawn.Reversed().Mitred(leastRound - d).Reversed()
		} else {
			drawn = drawn.Mitred(d + leastRound)
		}
	}
	return drawn.Inward(d)
}

// narrow is the height of the end to which its sides have moved further.
func (t *tier) narrow() float64 {
	if math.Abs(t.moves[0].off(t.hi)) > math.Abs(t.moves[0].off(t.lo)) {
		return t.hi
	}
	return t.lo
}

// circles are those of a ring at a height; one of no radius is left out.
func (t *tier) circles(drawn plane.Loop, u float64) (l plane.Loop) {
	for i := range drawn {
		if c, ok := drawn[i].Offset(t.moves[i].off(u)); ok {
			l = append(l, c)
		}
	}
	return l
}

// rectangle is that of a bar at a height.
func (t *tier) rectangle(drawn plane.Loop, u float64) plane.Loop {
	return plane.Loop{t.barSide(drawn, 0, u), t.barSide(drawn, 1, u), t.barSide(drawn, 2, u), t.barSide(drawn, 3, u)}
}

// barSide is one side of it.
func (t *tier) barSide(drawn plane.Loop, i int, u float64) plane.Curve {
	if i%2 == 0 {
		c, _ := t.moved(drawn, i, t.moves[i].off(u))
		return c
	}
	from, to := t.barSide(drawn, i-1, u).B, t.barSide(drawn, (i+1)%4, u).A
	if c := &drawn[i]; c.IsArc() {
		return plane.ArcBetween(c.C, from, to, c.R, c.Sweep > 0)
	}
	return plane.Line(from, to)
}

// moved is side i of a copy of the drawn outline, moved so far.
func (t *tier) moved(drawn plane.Loop, i int, off float64) (plane.Curve, bool) {
	switch {
	case t.sloped() && !t.moves[i].turns && t.bar && drawn[1].IsArc() && off != 0:
		return betweenRings(drawn, i, off)
	case !t.sloped() || !t.moves[i].turns && off != 0:
		return drawn[i].Offset(off)
	case off == 0:
		return drawn[i], true
	}
	c, sign := turning(drawn, i)
	sin, cos := math.Sincos(sign * off)
	at := func(p plane.Point) plane.Point {
		x, y := p.X-c.X, p.Y-c.Y
		return plane.Point{X: c.X + x*cos - y*sin, Y: c.Y + x*sin + y*cos}
	}
	return plane.Line(at(drawn[i].A), at(drawn[i].B)), true
}

// betweenRings is side i of a sector with parallel sides, moved so far, between its two circles.
func betweenRings(drawn plane.Loop, i int, off float64) (plane.Curve, bool) {
	c, ok := drawn[i].Offset(off)
	u, about := c.Tangent(c.A), drawn[1].C
	along := (about.X-c.A.X)*u.X + (about.Y-c.A.Y)*u.Y
	foot := plane.Point{X: c.A.X + along*u.X, Y: c.A.Y + along*u.Y}
	out := 1.0
	if c.A.Distance(about) > c.B.Distance(about) {
		out = -1
	}
	h := foot.Distance(about)
	at := func(r float64) plane.Point {
		d := out * math.Sqrt(math.Max(0, (r-h)*(r+h)))
		return plane.Point{X: foot.X + d*u.X, Y: foot.Y + d*u.Y}
	}
	if out > 0 {
		return plane.Line(at(drawn[3].R), at(drawn[1].R)), ok
	}
	return plane.Line(at(drawn[1].R), at(drawn[3].R)), ok
}

// turning is the centre that side i of a sector turns about, and the way round, 1 for counter-clockwise, that leads inside.
func turning(drawn plane.Loop, i int) (plane.Point, float64) {
	c, s := drawn[1].C, &drawn[i]
	if s.A.Distance(c) > s.B.Distance(c) {
		return c, -1
	}
	return c, 1
}

// offOf is how far side i of a copy of the drawn outline has to be moved to pass a point.
func (t *tier) offOf(drawn plane.Loop, i int, p plane.Point) float64 {
	if !t.sloped() || !t.moves[i].turns {
		return drawn[i].LeftOf(p)
	}
	c, sign := turning(drawn, i)
	a := drawn[i].At(0.5)
	by := sign * math.Atan2((a.X-c.X)*(p.Y-c.Y)-(a.Y-c.Y)*(p.X-c.X), (a.X-c.X)*(p.X-c.X)+(a.Y-c.Y)*(p.Y-c.Y))
	if by < t.moves[i].span/2-math.Pi {
		by += 2 * math.Pi
	}
	return by
}

// side is side i of a copy of the drawn outline at a height; false where nothing is left of it.
func (t *tier) side(drawn plane.Loop, i int, u float64) (c plane.Curve, ok bool) {
	if !t.sloped() {
		return drawn[i], true
	}
	if t.bar {
		c = t.barSide(drawn, i, u)
		return c, c.Length() > leastRun
	}
	d := t.moves[i].off(u)
	if c, ok = drawn[i].Offset(d); !ok || t.ring {
		return c, ok
	}
	c.A, c.B = drawn.JointAt(i, d), drawn.JointAt((i+1)%len(drawn), d)
	if c.IsArc() {
		c = plane.ArcBetween(c.C, c.A, c.B, c.R, c.Sweep > 0)
	}
	return c, true
}

// run is how far, in plan, its least sloped side goes from one height to another.
func (t *tier) run(lo, hi float64) float64 {
	least := math.Inf(1)
	for _, m := range t.moves {
		d := math.Abs(m.off(lo) - m.off(hi))
		if m.turns {
			d *= t.drawn[3].R // where it is steepest
		}
		if d > plane.Near {
			least = math.Min(least, d)
		}
	}
	return least
}

// lean is the angle from the pressing axis of its least sloped side, of a round one from end to end, in whole steps of a measure, degrees.
func (t *tier) lean() float64 {
	return math.Round(math.Atan2(t.run(t.lo, t.hi), t.hi-t.lo)*180/math.Pi/leanStep) * leanStep
}

// all is one motion for every side of an outline.
func all(n int, m motion) (ms []*motion) {
	for range n {
		ms = append(ms, &m)
	}
	return ms
}

// tiers of a feature of a height.
func tiers(f *parts.Feature, height float64) ([]tier, error) {
	if t, ok := form.HalfSection(f.Profile); ok {
		return turnedTiers(t, f.Extent.From)
	}
	if b, ok := form.AsBall(f.Profile); ok {
		return ballTiers(b), nil
	}
	if f.Relief != nil {
		if form.InSection(f.Of.Profile) || height <= 0 {
			return nil, nil // said when it was read
		}
		l, err := form.Draw(f.Of.Profile)
		if err != nil {
			return nil, nil // said of the body
		}
		return reliefTiers(f, l, height)
	}
	l, err := form.Draw(f.Profile)
	if err != nil {
		return nil, err
	}
	switch {
	case f.Draft != nil && f.Draft.Angle > 0:
		return draftedTiers(f.Draft, l, height)
	case f.Section != "":
		return grooveTier(f, l, height)
	}
	return []tier{{lo: 0, hi: height, drawn: l}}, nil
}

// draftedTiers are those of an outline that is drawn at the wide end: where a convex radius vanishes on the way the next begins, in which
// the sides beside it meet in a corner.
func draftedTiers(d *parts.Draft, l plane.Loop, height float64) (out []tier, err error) {
	lean := math.Tan(d.Angle * math.Pi / 180)
	radii := l.Radii(height * lean)
	for k := range len(radii) + 1 {
		from, to, drawn := 0.0, height, l
		if k > 0 {
			from, drawn = (radii[k-1]-leastRound)/lean, l.Mitred(radii[k-1])
		}
		if k < len(radii) {
			to = (radii[k] - leastRound) / lean
		}
		if !d.Up {
			from, to = height-to, height-from
		}
		t := tier{lo: from, hi: to, drawn: drawn, mitres: k < len(radii)}
		t.moves = all(len(drawn), draft(lean, height, d.Up))
		out = append(out, t)
		if _, e := t.at(map[bool]float64{true: to, false: from}[d.Up]); e != nil && err == nil {
			err = e
		}
	}
	if !d.Up {
		slices.Reverse(out)
	}
	if err != nil {
		err = fmt.Errorf("%w; a draft of up to %g degrees fits", err, steepestDraft(l, height))
		if len(l) == 2 && l[0].IsArc() && l[1].IsArc() && l[0].C == l[1].C {
			err = fmt.Errorf("%w, and a cone to a point is drawn as `turned`", err)
		}
	}
	return out, err
}

// Mitres tells whether the draft of a feature takes a corner radius of it away before its narrow end.
func Mitres(p *parts.Part, f *parts.Feature) bool {
	if f.Draft == nil || f.Draft.Angle == 0 || form.InSection(f.Profile) {
		return false
	}
	l, err := form.Draw(f.Profile)
	return err == nil && len(l.Radii(heightOf(p, f)*math.Tan(f.Draft.Angle*math.Pi/180))) > 0
}

// steepestDraft is the greatest draft over a height for which something is left of every side of an outline, degrees, rounded down to
// hundredths.
func steepestDraft(l plane.Loop, height float64) float64 {
	lo, hi := l.Bounds()
	fits, most := 0.0, lo.Distance(hi)
	for range 60 {
		d := mid(fits, most)
		if _, err := l.Mitred(d).Inward(d); err == nil {
			fits = d
		} else {
			most = d
		}
	}
	return math.Floor(math.Atan2(fits, height)*180/math.Pi*100) / 100
}

// draft is the motion of walls that lean by a tangent, from where they are drawn at the wide end.
func draft(lean, height float64, up bool) motion {
	if up {
		return motion{slope: 1 / lean}
	}
	return motion{slope: -1 / lean, from: height}
}

// grooveTier is a groove of round or V section: as wide as drawn at its mouth, nothing at its floor.
func grooveTier(f *parts.Feature, l plane.Loop, depth float64) ([]tier, error) {
	half := plane.RegionOf(l).Inscribed().R
	m := motion{slope: -depth / half, from: depth}
	if f.Section == "round" {
		if depth > half+plane.Near {
			return nil, fmt.Errorf("a round groove %.4g mm wide is at most %.4g mm deep", 2*half, half)
		}
		r := (half*half + depth*depth) / (2 * depth)
		m = motion{r: r, at: half, over: r, side: -1, upper: -1}
	}
	t := tier{lo: 0, hi: depth, drawn: l, tip: [2]bool{true, false}}
	if f.Extent.Open == "bottom" {
		t.tip = [2]bool{false, true}
		m.slope, m.from, m.over, m.upper = -m.slope, depth-m.from, depth-m.over, -m.upper
	}
	t.moves = all(len(l), m)
	_, err := t.at(depth / 2)
	return []tier{t}, err
}

// ballTiers are the cap below, the band, and the cap above.
func ballTiers(b parts.Ball) []tier {
	r, h := b.Diameter/2, b.Band/2
	belt := plane.Circle(point(b.At), 2*math.Sqrt(r*r-h*h))
	m := motion{r: r, at: belt[0].R, over: r, side: -1, upper: -1}
	lower := tier{lo: 0, hi: r - h, drawn: belt, ring: true, tip: [2]bool{true, false}, moves: all(2, m)}
	m.upper = 1
	upper := tier{lo: r + h, hi: 2 * r, drawn: belt, ring: true, tip: [2]bool{false, true}, moves: all(2, m)}
	if b.Band == 0 {
		return []tier{lower, upper}
	}
	return []tier{lower, {lo: r - h, hi: r + h, drawn: belt, ring: true}, upper}
}

// turnedTiers cuts a half section at the heights of its points, and where an arc is nearest to the axis or furthest from it. from
// is its lowest height.
func turnedTiers(t parts.Turned, from float64) ([]tier, error) {
	section, err := form.Steps(t.Start, t.Steps)
	if err != nil {
		return nil, err
	}
	var zs []float64
	for i := range section {
		c := &section[i]
		zs = append(zs, c.A.Y)
		lo, hi := (plane.Loop{*c}).Bounds()
		if c.IsArc() && (lo.Y < math.Min(c.A.Y, c.B.Y)-plane.Near || hi.Y > math.Max(c.A.Y, c.B.Y)+plane.Near) {
			return nil, errors.New("an arc of the section reaches above or below its ends; end it where it is highest or lowest")
		}
		if lo.X < -plane.Near {
			return nil, errors.New("an arc of the section crosses the axis")
		}
		if c.IsArc() && lo.Y < c.C.Y && c.C.Y < hi.Y {
			zs = append(zs, c.C.Y)
		}
	}
	heights := distinct(zs)
	var out []tier
	for k := 0; k+1 < len(heights); k++ {
		out = append(out, ringTiers(section, point(t.At), heights[k], heights[k+1], from)...)
	}
	return out, nil
}

// ringTiers are the rings of a half section between two heights of its points, from the axis outward.
func ringTiers(section plane.Loop, at plane.Point, lo, hi, from float64) (out []tier) {
	mid := (lo + hi) / 2
	var edges []plane.Curve
	for _, c := range section {
		if math.Min(c.A.Y, c.B.Y) < mid && mid < math.Max(c.A.Y, c.B.Y) {
			edges = append(edges, c)
		}
	}
	slices.SortFunc(edges, func(a, b plane.Curve) int {
		if radiusAt(&a, mid) < radiusAt(&b, mid) {
			return -1
		}
		return 1
	})
	for i := 0; i+1 < len(edges); i += 2 {
		out = append(out, ringTier(&edges[i], &edges[i+1], at, lo, hi, from))
	}
	return out
}

// ringTier is the ring between two edges of a half section.
func ringTier(in, out *plane.Curve, at plane.Point, lo, hi, from float64) tier {
	t := tier{lo: lo - from, hi: hi - from, ring: true}
	sloped := false
	for _, c := range [2]*plane.Curve{out, in} {
		a, b := radiusAt(c, lo), radiusAt(c, hi)
		sloped = sloped || c.IsArc() || math.Abs(a-b) > plane.Near
		wide, widest := a, lo
		if b > a {
			wide, widest = b, hi
		}
		if wide <= plane.Near {
			continue // along the axis
		}
		circle, sign := plane.Circle(at, 2*wide), 1.0
		if c == in {
			circle, sign = circle.Reversed(), -1
		}
		m := motion{slope: sign * (c.B.Y - c.A.Y) / (c.A.X - c.B.X), from: widest - from}
		if c.IsArc() {
			m = motion{r: c.R, at: sign * (wide - c.C.X), over: c.C.Y - from, upper: math.Copysign(1, mid(lo, hi)-c.C.Y)}
			m.side = math.Copysign(1, sign*(c.C.X-radiusAt(c, mid(lo, hi))))
		}
		t.drawn, t.moves = append(t.drawn, circle...), append(t.moves, &m, &m)
	}
	if !sloped {
		t.moves = nil
		return t
	}
	for i, z := range [2]float64{lo, hi} {
		t.tip[i] = radiusAt(out, z)-radiusAt(in, z) <= plane.Near
	}
	return t
}

func mid(a, b float64) float64 { return (a + b) / 2 }

// radiusAt is the radius of a section's edge at a height between its ends.
func radiusAt(c *plane.Curve, z float64) float64 {
	for _, p := range [2]plane.Point{c.A, c.B} {
		if math.Abs(z-p.Y) <= atRadius {
			return p.X
		}
	}
	if !c.IsArc() {
		return math.Max(0, c.A.X+(c.B.X-c.A.X)*(z-c.A.Y)/(c.B.Y-c.A.Y))
	}
	x := math.Sqrt(math.Max(0, c.R*c.R-(z-c.C.Y)*(z-c.C.Y)))
	if c.At(0.5).X < c.C.X {
		x = -x
	}
	return math.Max(0, c.C.X+x)
}
