package measure

import (
	"math"

	"corerod/parts/plane"
	"corerod/parts/subject"
)

// footprint is where a subject lies in plan, in the frame of the overlay: a point, a chord, the strip of a wall, or the
// area of a hole, boss, groove or mark. Its box saves most looks at curves.
type footprint struct {
	curves []plane.Curve // none of a point
	lo, hi plane.Point   // the box around it; both are the point itself where it is one
	holds  func(plane.Point) bool
}

// pointPrint is the footprint of what lies at a point.
func pointPrint(p plane.Point) []subject.Footprint {
	return []subject.Footprint{&footprint{lo: p, hi: p, holds: func(plane.Point) bool { return false }}}
}

// regionPrint is the footprint of what covers an area.
func regionPrint(r *plane.Region) []subject.Footprint {
	var curves []plane.Curve
	for _, p := range r.Pieces() {
		curves = append(curves, p.Curve)
	}
	return curvesPrint(curves, r.Contains)
}

// neckPrint is the footprint of a wall or gap: its chord, or the strip between its two sides.
func neckPrint(n *plane.Neck) []subject.Footprint { return curvesPrint(n.Strip(), n.Covers) }

func curvesPrint(curves []plane.Curve, holds func(plane.Point) bool) []subject.Footprint {
	f := &footprint{curves: curves, holds: holds}
	f.lo, f.hi = plane.Loop(curves).Bounds()
	return []subject.Footprint{f}
}

// Size is the number of its curves, 1 of a point.
func (f *footprint) Size() int { return max(1, len(f.curves)) }

// Gap is the least distance to another footprint: between their curves, and 0 where one lies in the other.
func (f *footprint) Gap(other subject.Footprint) float64 {
	g := other.(*footprint)
	d := f.apart(g)
	if d <= plane.Near || f.around(g) || g.around(f) {
		return 0
	}
	return d
}

// apart is the least distance between the curves and points of two footprints.
func (f *footprint) apart(g *footprint) float64 {
	switch {
	case len(f.curves) > 0 && len(g.curves) > 0:
		d, _, _ := plane.Between(f.curves, g.curves)
		return d
	case len(f.curves) > 0:
		return off(f.curves, g.lo)
	case len(g.curves) > 0:
		return off(g.curves, f.lo)
	}
	return f.lo.Distance(g.lo)
}

// off is the least distance of a point from curves.
func off(curves []plane.Curve, p plane.Point) float64 {
	d := math.Inf(1)
	for i := range curves {
		d = math.Min(d, curves[i].Off(p))
	}
	return d
}

// around tells whether a footprint whose curves meet no curve of another holds that one.
func (f *footprint) around(g *footprint) bool {
	if g.lo.X < f.lo.X || g.lo.Y < f.lo.Y || g.hi.X > f.hi.X || g.hi.Y > f.hi.Y {
		return false
	}
	p := g.lo
	if len(g.curves) > 0 {
		p = g.curves[0].A
	}
	return f.holds(p)
}
