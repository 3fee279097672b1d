// Package blank computes the as-pressed shape of a part: the part without the cuts made by machining or sizing.
//
// The outlines of all bodies and cuts are overlaid once in plan, in a frame whose origin is near the middle of the part: its
// figures are the outlines, its cells the areas between them, its edges the lines and arcs between two cells. Along z the
// part is divided into slabs between the heights where something starts or ends. Every cell is solid or void in each slab;
// an unbroken run of solid slabs is a run, from the lowest to the highest of a cell's runs goes its column. A sloped wall is
// cut into slices, each a figure for a part of its height; volume, surface and section views are of exact sections at any
// height instead. A face is what the pressing axis meets from above or below: flats, and slopes that belong to a flat.
//
// Cells, edges, slabs, figures and features are known by their numbers from 0. Lengths and heights are in mm, areas in mm2.
// What is found on the shape, as walls, holes and levels, is the business of package measure.
package blank

import (
	"math"
	"slices"

	"corerod/parts"
	"corerod/parts/plane"
)

// Shape is the as-pressed shape of one part. Nothing changes it once Make has made it, and what its methods return is to be
// read only.
type Shape struct {
	part     *parts.Part
	features []*parts.Feature // pressed ones, bodies first
	bodies   int              // how many of features are bodies
	outlines []outline        // figure numbers of the overlay are indices here
	ranges   [][2]float64     // z-range of each outline
	origin   plane.Point      // of the overlay, in part coordinates
	overlay  *plane.Overlay
	heights  []float64 // slab k lies between heights[k] and heights[k+1]
	cells    []cell    // by cell of the overlay
	slabs    []slab
	faces    map[string]*Face
	ends     []float64 // heights at which something is drawn to begin or end
	meets    []float64 // heights at which sloped walls begin or cease to meet others
}

// Make computes the as-pressed shape of a part that was read without problems. Problems, in order of their places, are
// profiles that cannot be drawn, what is too large, cuts that remove nothing, and a part that is not in one piece.
func Make(p *parts.Part) (*Shape, parts.Problems) {
	s, ps := newShape(p)
	if len(ps) > 0 {
		return nil, ps.Sorted()
	}
	if ps := s.whole(); len(ps) > 0 {
		return nil, ps.Sorted()
	}
	s.cutSlabs()
	s.findFaces()
	return s, nil
}

// newShape overlays the pressed features and finds where each cell is solid.
func newShape(p *parts.Part) (*Shape, parts.Problems) {
	s := &Shape{part: p, features: slices.Clone(p.Bodies), bodies: len(p.Bodies)}
	for _, c := range p.Cuts {
		if c.MadeBy == "pressing" {
			s.features = append(s.features, c)
		}
	}
	if ps := Check(p); len(ps) > 0 {
		return nil, ps
	}
	s.outlines, _ = outlines(p, s.features, nil)
	if ps := s.lay(); len(ps) > 0 {
		return nil, ps
	}
	if at := s.cuts(); len(at) > 0 {
		if cut, _ := outlines(p, s.features, at); len(cut) <= mostOutlines {
			s.outlines = cut
			if ps := s.lay(); len(ps) > 0 {
				return nil, ps
			}
		}
	}
	if ps := s.cutsRemove(); len(ps) > 0 {
		return nil, ps
	}
	return s, s.machined()
}

// mostOutlines is the number of outlines up to which slopes are cut where they meet others.
const mostOutlines = 150

// lay overlays the outlines and finds where each cell is solid.
func (s *Shape) lay() parts.Problems {
	if ps := s.extent(); len(ps) > 0 {
		return ps
	}
	loops := make([]plane.Loop, len(s.outlines))
	for i := range s.outlines {
		s.outlines[i].loop = s.outlines[i].loop.Moved(plane.Point{}, 0, plane.Point{X: -s.origin.X, Y: -s.origin.Y})
		loops[i] = s.outlines[i].loop
	}
	o, err := plane.Lay(loops)
	if err != nil {
		return parts.Problems{s.part.Problem(s.part.Place, err.Error())}
	}
	o.MergeThin(func(i int) bool { return s.outlines[i].sloped == [2]bool{true, true} })
	s.overlay = o
	s.stack()
	return nil
}

// extent sets the origin to the middle of the bodies, in whole millimetres, and refuses parts that are too large.
func (s *Shape) extent() (ps parts.Problems) {
	lo, hi := plane.Point{X: math.Inf(1), Y: math.Inf(1)}, plane.Point{X: math.Inf(-1), Y: math.Inf(-1)}
	zlo, zhi := math.Inf(1), math.Inf(-1)
	for _, o := range s.outlines {
		if o.feature >= s.bodies {
			continue
		}
		a, b := o.loop.Bounds()
		lo, hi = plane.Point{X: math.Min(lo.X, a.X), Y: math.Min(lo.Y, a.Y)}, plane.Point{X: math.Max(hi.X, b.X), Y: math.Max(hi.Y, b.Y)}
		e := s.features[o.feature].Extent
		zlo, zhi = math.Min(zlo, e.From), math.Max(zhi, e.To)
	}
	s.origin = plane.Point{X: math.Round((lo.X + hi.X) / 2), Y: math.Round((lo.Y + hi.Y) / 2)}
	if across := math.Max(hi.X-lo.X, hi.Y-lo.Y); across > MostExtent+plane.Near {
		ps = append(ps, s.Problem(s.part.Place, "the part is %.4g mm across; parts of more than %d mm are not reviewed",
			across, MostExtent))
	}
	if zhi-zlo > MostExtent+SameHeight {
		ps = append(ps, s.Problem(s.part.Place, "the part is %.4g mm high; parts of more than %d mm are not reviewed", zhi-zlo, MostExtent))
	}
	return ps
}
