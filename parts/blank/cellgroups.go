package blank

import (
	"math"

	"corerod/parts/plane"
)

// Area of a cell.
func (s *Shape) Area(c int) float64 { return s.overlay.Cells[c].Moments.Area }

// Centroid of cells, in part coordinates.
func (s *Shape) Centroid(cells []int) plane.Point {
	var m plane.Moments
	for _, c := range cells {
		m = m.Add(s.overlay.Cells[c].Moments)
	}
	return s.ToPart(m.Centroid())
}

// Origin is the origin of the overlay's frame in part coordinates.
func (s *Shape) Origin() plane.Point { return s.origin }

// ToPlan turns a point in part coordinates into one of the overlay.
func (s *Shape) ToPlan(p plane.Point) plane.Point {
	return plane.Point{X: p.X - s.origin.X, Y: p.Y - s.origin.Y}
}

// ToPart turns a point of the overlay into part coordinates.
func (s *Shape) ToPart(p plane.Point) plane.Point {
	return plane.Point{X: p.X + s.origin.X, Y: p.Y + s.origin.Y}
}

// Span is the z-range of the material in cells.
func (s *Shape) Span(cells []int) (low, high float64) {
	low, high = math.Inf(1), math.Inf(-1)
	for _, c := range cells {
		if len(s.cells[c].runs) > 0 {
			bottom, _ := s.EndSpan(c, "bottom")
			_, top := s.EndSpan(c, "top")
			low, high = math.Min(low, bottom), math.Max(high, top)
		}
	}
	return low, high
}

// WholeSpan is the z-range of the part.
func (s *Shape) WholeSpan() (low, high float64) { return s.Span(s.allCells()) }

// Share is a depth or height as a share of the part's height.
func (s *Shape) Share(d float64) float64 {
	low, high := s.WholeSpan()
	return d / (high - low)
}

func (s *Shape) allCells() []int {
	all := make([]int, len(s.cells))
	for c := range all {
		all[c] = c
	}
	return all
}

// OutlineOf is the outer contour of a set of cells.
func (s *Shape) OutlineOf(cells []int) []plane.Curve {
	return s.RegionOf(cells).Outline()
}

// RegionOf traces a set of cells.
func (s *Shape) RegionOf(cells []int) *plane.Region {
	in := make([]bool, len(s.cells))
	for _, c := range cells {
		in[c] = true
	}
	return s.overlay.Region(func(c int) bool { return in[c] }, func(int, int, int) int { return 0 })
}
