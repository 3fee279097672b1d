package plane

import (
	"fmt"
	"math"
	"strconv"
)

// Teeth is the outline of a toothed profile about the origin, with one tooth on the x axis, and its sizes. The figure
// is the material of a gear or shaft, or the void of a ring or hub; "tooth" below means that of the figure.
type Teeth struct {
	Count                  int
	Inner, Outer           float64 // radii of the two circles that bound the teeth, mm
	InnerRound, OuterRound float64 // radii of the roundings as built, mm

	half  []Curve  // from the middle of a space to the middle of the next tooth, counter-clockwise
	sharp [2]Point // where the flank meets the inner and outer circle, unrounded
	ends  [2]Point // where the flank ends at the roundings
}

// flank is the side of a tooth that a counter-clockwise outline runs along outward, of the tooth on the x axis: below
// that axis. Its points have a parameter that grows outward.
type flank interface {
	at(t float64) Point
	// offset finds the point at a radius from the origin on the flank moved to its left (to the inside of the tooth) by
	// d, and the parameter of the flank point that it was moved from; false where there is none.
	offset(d, radius float64) (c Point, t float64, ok bool)
	// curves between two parameters, tangent to each other.
	curves(from, to float64) []Curve
}

// toothing is what a toothed profile is built from.
type toothing struct {
	flank
	teeth                  int
	inner, outer           float64 // radii, mm
	innerRound, outerRound float64 // mm
	innerName, outerName   string  // of the roundings, in the part file; one name where they are one figure
}

// roundings are the two arcs that end a flank.
type roundings struct {
	innerAt, outerAt Point   // centres; points of the flank where a radius is 0
	from, to         float64 // parameters of the flank between them
}

// roundings finds where arcs of two radii touch the flank and its circles; false where they do not fit.
func (g *toothing) roundings(inner, outer float64) (r roundings, ok bool) {
	var a, b bool
	r.innerAt, r.from, a = g.offset(-inner, g.inner+inner)
	r.outerAt, r.to, b = g.offset(outer, g.outer-outer)
	if !a || !b || outer >= g.outer || r.from >= r.to || g.at(r.from).Distance(g.at(r.to)) < leastFlank {
		return r, false
	}
	return r, g.innerLand(r) >= 0 && g.outerLand(r) >= 0
}

// innerLand is half of what is left of the inner circle between two teeth, mm along the circle.
func (g *toothing) innerLand(r roundings) float64 {
	return g.inner * (r.innerAt.angle() + math.Pi/float64(g.teeth))
}

// outerLand is half of what is left of the outer circle on a tooth, mm along the circle.
func (g *toothing) outerLand(r roundings) float64 { return -g.outer * r.outerAt.angle() }

// most is the largest value up to a bound for which fits holds; it holds from 0 up to some value.
func most(bound float64, fits func(float64) bool) float64 {
	if fits(bound) {
		return bound
	}
	lo, hi := 0.0, bound
	for range 80 {
		if mid := (lo + hi) / 2; fits(mid) {
			lo = mid
		} else {
			hi = mid
		}
	}
	return lo
}

// build puts the outline together, or says which radius does not fit and what would. Without roundings the flank
// must leave land on both circles.
func (g *toothing) build() (*Teeth, error) {
	bare, ok := g.roundings(0, 0)
	if !ok {
		return nil, fmt.Errorf("there is no flank between the diameters %s and %s mm", figure(2*g.inner), figure(2*g.outer))
	}
	if err := g.fit(); err != nil {
		return nil, err
	}
	g.full()
	r, _ := g.roundings(g.innerRound, g.outerRound)
	half := g.chain(r)
	return &Teeth{
		Count: g.teeth, Inner: g.inner, Outer: g.outer, InnerRound: g.innerRound, OuterRound: g.outerRound,
		half: half, sharp: [2]Point{g.at(bare.from), g.at(bare.to)}, ends: [2]Point{g.at(r.from), g.at(r.to)},
	}, nil
}

// fit checks the radii.
func (g *toothing) fit() error {
	depth := g.outer - g.inner
	if g.innerName == g.outerName {
		both := func(v float64) bool { _, ok := g.roundings(v, v); return ok }
		if !both(g.innerRound) {
			return g.tooLarge(g.innerName, g.innerRound, most(depth, both))
		}
		return nil
	}
	inner := func(v float64) bool { _, ok := g.roundings(v, 0); return ok }
	if !inner(g.innerRound) {
		return g.tooLarge(g.innerName, g.innerRound, most(depth, inner))
	}
	outer := func(v float64) bool { _, ok := g.roundings(g.innerRound, v); return ok }
	if !outer(g.outerRound) {
		return g.tooLarge(g.outerName, g.outerRound, most(depth, outer))
	}
	return nil
}

func (g *toothing) tooLarge(name string, v, most float64) error {
	return fmt.Errorf("%s %s mm does not fit the teeth: at most %s mm", name, figure(v), below(most))
}

// full makes a radius that leaves a land of no more than some nanometres the one that leaves none.
func (g *toothing) full() {
	r, _ := g.roundings(g.innerRound, g.outerRound)
	if g.innerLand(r) <= 2*Near {
		g.innerRound = most(g.outer-g.inner, func(v float64) bool {
			r, ok := g.roundings(v, 0)
			return ok && g.innerLand(r) >= 0
		})
	}
	if g.outerLand(r) <= 2*Near {
		g.outerRound = most(g.outer-g.inner, func(v float64) bool {
			r, ok := g.roundings(g.innerRound, v)
			return ok && g.outerLand(r) >= 0
		})
	}
}

// chain runs from the middle of a space, over its rounding, the flank and the tip's rounding, to the middle of the
// tooth.
func (g *toothing) chain(r roundings) []Curve {
	var half []Curve
	root := toward(-math.Pi / float64(g.teeth)).scale(g.inner)
	tip := Point{g.outer, 0}
	foot, head := g.at(r.from), g.at(r.to)
	if g.innerLand(r) > 2*Near {
		end := r.innerAt.unit().scale(g.inner)
		half = append(half, arcBetween(Point{}, root, end, g.inner, true))
		root = end
	} else {
		r.innerAt = root.unit().scale(g.inner + g.innerRound)
	}
	if g.innerRound > 0 {
		half = append(half, arcBetween(r.innerAt, root, foot, g.innerRound, false))
	}
	half = append(half, g.curves(r.from, r.to)...)
	land := g.outerLand(r) > 2*Near
	end := tip
	if land {
		end = r.outerAt.unit().scale(g.outer)
	} else {
		r.outerAt = Point{g.outer - g.outerRound, 0}
	}
	if g.outerRound > 0 {
		half = append(half, arcBetween(r.outerAt, head, end, g.outerRound, true))
	}
	if land {
		half = append(half, arcBetween(Point{}, end, tip, g.outer, true))
	}
	for i := 1; i < len(half); i++ {
		half[i].A = half[i-1].B
	}
	return half
}

// mirrored is the curve on the other side of the x axis, run the other way so that the outline goes on.
func (c *Curve) mirrored() Curve {
	m := func(p Point) Point { return Point{p.X, -p.Y} }
	return Curve{A: m(c.B), B: m(c.A), C: m(c.C), R: c.R, Sweep: c.Sweep}
}

// Loop returns the closed outline about a centre, turned by degrees. Neighbours share their end points.
func (t *Teeth) Loop(at Point, degrees float64) Loop {
	n, pitch := len(t.half), 360/float64(t.Count)
	root, tip := t.half[0], t.half[n-1] // both doubled: over the middle of the space, and of the tooth
	root.A, root.Sweep = turned(root.mirrored().A, -pitch), 2*root.Sweep
	tip.B, tip.Sweep = tip.mirrored().B, 2*tip.Sweep
	one := append(Loop{root}, t.half[1:n-1]...)
	one = append(one, tip)
	for i := n - 2; i > 0; i-- {
		one = append(one, t.half[i].mirrored())
	}
	all := make(Loop, 0, t.Count*len(one))
	for k := range t.Count {
		all = append(all, one.Moved(Point{}, degrees+float64(k)*pitch, at)...)
	}
	for i := range all {
		all[(i+1)%len(all)].A = all[i].B
	}
	return all
}

// TipThickness is the thickness of the material's teeth at their tip circle before its rounding, straight across, mm:
// the figure's teeth, or, where the figure is a void, what stands between them.
func (t *Teeth) TipThickness(void bool) float64 {
	if void {
		return t.acrossSpace(t.sharp[0])
	}
	return acrossTooth(t.sharp[1])
}

// SpaceWidth is the width of the spaces between the material's teeth at the root end of their flanks, where the
// rounding begins and a space is narrowest between flanks, straight across, mm.
func (t *Teeth) SpaceWidth(void bool) float64 {
	if void {
		return acrossTooth(t.ends[1])
	}
	return t.acrossSpace(t.ends[0])
}

// acrossTooth is the chord from a flank point to its mirror image on the same tooth.
func acrossTooth(p Point) float64 { return -2 * p.Y }

// acrossSpace is the chord from a flank point to its mirror image across the space before the tooth.
func (t *Teeth) acrossSpace(p Point) float64 {
	s, c := math.Sincos(math.Pi / float64(t.Count))
	return 2 * (s*p.X + c*p.Y)
}

// above and below write a bound for a message with at most 4 decimals, rounded to the side that holds.
func above(v float64) string { return short(math.Ceil(v*1e4) / 1e4) }
func below(v float64) string { return short(math.Floor(v*1e4) / 1e4) }

func short(v float64) string { return strconv.FormatFloat(v+0, 'f', -1, 64) }

func (g *toothing) diameters() error {
	if g.outer-g.inner < leastFlank {
		return fmt.Errorf("the major diameter %s mm must be above the minor diameter %s mm", figure(2*g.outer), figure(2*g.inner))
	}
	return nil
}
