package blank

import (
	"math"
	"slices"

	"corerod/parts/plane"
)

// cell is what the pressing axis meets in one cell of the plan.
type cell struct {
	body  []bool // by slab: inside a body, cut or not
	solid []bool // by slab
	runs  []Run
}

// Run is an unbroken run of solid slabs, from the lower end of slab Lo to the upper end of slab Hi.
type Run struct{ Lo, Hi int }

// Cells is the number of cells of the plan. Cell 0 is the plan outside of all outlines.
func (s *Shape) Cells() int { return len(s.cells) }

// Solid tells whether a cell is solid in slab k.
func (s *Shape) Solid(c, k int) bool { return s.cells[c].solid[k] }

// Runs are the runs of material over a cell, from the lowest up.
func (s *Shape) Runs(c int) []Run { return s.cells[c].runs }

// HasMaterial tells whether there is any material over a cell.
func (s *Shape) HasMaterial(c int) bool { return len(s.cells[c].runs) > 0 }

// Column is the run from a cell's lowest to its highest solid slab; false where the cell is all void.
func (s *Shape) Column(c int) (Run, bool) { return s.cells[c].column() }

// Inside are the figures that a cell lies in.
func (s *Shape) Inside(c int) plane.Set { return s.overlay.Cells[c].Inside }

// Moments are the area and first moments of a cell, in the frame of the overlay.
func (s *Shape) Moments(c int) plane.Moments { return s.overlay.Cells[c].Moments }

// CellAt is the cell that holds a point of the overlay.
func (s *Shape) CellAt(p plane.Point) int { return s.overlay.CellAt(p) }

// Edges is the number of edges between cells.
func (s *Shape) Edges() int { return len(s.overlay.Edges) }

// Edge is the edge of a number, to be read only.
func (s *Shape) Edge(i int) *plane.Edge { return &s.overlay.Edges[i] }

// Trace is the region of the cells that in accepts. owner gives the figure, or another number, that each of its edges
// belongs to, between a cell in it and one outside.
func (s *Shape) Trace(in func(cell int) bool, owner func(edge, in, out int) int) *plane.Region {
	return s.overlay.Region(in, owner)
}

// stack finds the z-range of every outline, the slabs, and where each cell is solid.
func (s *Shape) stack() {
	s.ranges = make([][2]float64, len(s.outlines))
	var zs []float64
	for i, o := range s.outlines {
		from := s.features[o.feature].Extent.From
		s.ranges[i] = [2]float64{from + o.lo, from + o.hi}
		if o.feature < s.bodies {
			zs = append(zs, s.ranges[i][:]...)
		}
	}
	low, high := slices.Min(zs), slices.Max(zs)
	for i, o := range s.outlines {
		if o.feature < s.bodies {
			continue
		}
		s.ranges[i] = s.cutRange(i, low, high)
		for _, z := range s.ranges[i] {
			if z > low && z < high {
				zs = append(zs, z)
			}
		}
	}
	s.heights = distinct(zs)
	s.cells = make([]cell, len(s.overlay.Cells))
	for c := range s.cells {
		s.cells[c] = s.fill(s.overlay.Cells[c].Inside)
	}
}

// cutRange is the z-range that one outline of a cut removes. A depth counts from the highest (lowest) face of the
// bodies under the outlines of its copy; past that face the cut goes on as wide as there.
func (s *Shape) cutRange(i int, low, high float64) [2]float64 {
	o := &s.outlines[i]
	e, height := s.features[o.feature].Extent, heightOf(s.part, s.features[o.feature])
	switch e.Open {
	case "":
		return s.ranges[i]
	case "through":
		return [2]float64{low + o.lo, low + o.hi}
	}
	top, bottom := math.Inf(-1), math.Inf(1)
	for _, c := range s.overlay.Cells {
		if !s.inCopy(c.Inside, o) {
			continue
		}
		c.Inside.Each(func(j int) {
			if s.outlines[j].feature < s.bodies {
				bottom, top = math.Min(bottom, s.ranges[j][0]), math.Max(top, s.ranges[j][1])
			}
		})
	}
	switch {
	case math.IsInf(top, -1):
		return [2]float64{low, low}
	case e.Open == "top" && o.hi >= height-SameHeight:
		return [2]float64{top - height + o.lo, math.Max(high, top)}
	case e.Open == "top":
		return [2]float64{top - height + o.lo, top - height + o.hi}
	case o.lo <= SameHeight:
		return [2]float64{math.Min(low, bottom), bottom + o.hi}
	}
	return [2]float64{bottom + o.lo, bottom + o.hi}
}

// inCopy tells whether a set of outlines holds one of the same copy of the same feature.
func (s *Shape) inCopy(inside plane.Set, o *outline) (found bool) {
	inside.Each(func(j int) {
		found = found || s.outlines[j].feature == o.feature && s.outlines[j].copy == o.copy
	})
	return found
}

// distinct sorts heights and drops those within SameHeight of the one before.
func distinct(zs []float64) []float64 {
	if len(zs) == 0 {
		return nil
	}
	slices.Sort(zs)
	out := zs[:1]
	for _, z := range zs[1:] {
		if z-out[len(out)-1] > SameHeight {
			out = append(out, z)
		}
	}
	return out
}

// fill finds the slabs in which a cell inside a set of outlines is solid.
func (s *Shape) fill(inside plane.Set) cell {
	c := cell{body: make([]bool, len(s.heights)-1), solid: make([]bool, len(s.heights)-1)}
	for k := range c.solid {
		c.body[k] = s.InBody(inside, k)
		c.solid[k] = c.body[k] && !s.inCut(inside, k)
		switch {
		case c.solid[k] && (k == 0 || !c.solid[k-1]):
			c.runs = append(c.runs, Run{k, k})
		case c.solid[k]:
			c.runs[len(c.runs)-1].Hi = k
		}
	}
	return c
}

// Covers tells whether an outline's z-range holds slab k.
func (s *Shape) Covers(figure, k int) bool {
	z := (s.heights[k] + s.heights[k+1]) / 2
	return s.ranges[figure][0] < z && z < s.ranges[figure][1]
}

// InBody tells whether some of figures are bodies that reach through slab k.
func (s *Shape) InBody(inside plane.Set, k int) bool { return s.in(inside, k, true) }

// inCut tells the same of cuts.
func (s *Shape) inCut(inside plane.Set, k int) bool { return s.in(inside, k, false) }

func (s *Shape) in(inside plane.Set, k int, body bool) (found bool) {
	inside.Each(func(i int) {
		found = found || (s.outlines[i].feature < s.bodies) == body && s.Covers(i, k)
	})
	return found
}

// Bottom is the height of a run's lower end, mm.
func (s *Shape) Bottom(r Run) float64 { return s.heights[r.Lo] }

// Top is the height of a run's upper end, mm.
func (s *Shape) Top(r Run) float64 { return s.heights[r.Hi+1] }

// column is the run from a cell's lowest to its highest solid slab; false where the cell is all void.
func (c *cell) column() (Run, bool) {
	if len(c.runs) == 0 {
		return Run{}, false
	}
	return Run{c.runs[0].Lo, c.runs[len(c.runs)-1].Hi}, true
}
