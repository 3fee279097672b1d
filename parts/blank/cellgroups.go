package blank

import (
	"corerod/parts/plane"
	"math"
)

// area of a cell.
func (s *shape) area(c int) float64 { return s.overlay.Cells[c].Moments.Area }

// centroid of cells, in part coordinates.
func (s *shape) centroid(cells []int) plane.Point {
	var m plane.Moments
	for _, c := range cells {
		m = m.Add(s.overlay.Cells[c].Moments)
	}
	return s.at(m.Centroid())
}

// at turns a point of the overlay into part coordinates.
func (s *shape) at(p plane.Point) plane.Point {
	return plane.Point{X: p.X + s.origin.X, Y: p.Y + s.origin.Y}
}

// span is the z-range of the material in cells.
func (s *shape) span(cells []int) (low, high float64) {
	low, high = math.Inf(1), math.Inf(-1)
	for _, c := range cells {
		if r, ok := s.cells[c].column(); ok {
			low, high = math.Min(low, s.drawn(s.bottom(r))), math.Max(high, s.drawn(s.top(r)))
		}
	}
	return low, high
}

// spanAll is the z-range of the part.
func (s *shape) spanAll() (low, high float64) { return s.span(s.allCells()) }

// shareOf is a depth or height as a share of the part's height.
func (s *shape) shareOf(d float64) float64 {
	low, high := s.spanAll()
	return d / (high - low)
}

func (s *shape) allCells() []int {
	all := make([]int, len(s.cells))
	for c := range all {
		all[c] = c
	}
	return all
}

// outlineOf is the outer contour of a set of cells.
func (s *shape) outlineOf(cells []int) []plane.Curve {
	return s.regionOf(cells).Outline()
}

// regionOf traces a set of cells.
func (s *shape) regionOf(cells []int) *plane.Region {
	in := make([]bool, len(s.cells))
	for _, c := range cells {
		in[c] = true
	}
	return s.overlay.Region(func(c int) bool { return in[c] }, func(int, int, int) int { return 0 })
}

// groups gathers the cells of each group, in order of the least cell; those numbered -1 are in none.
func groups(of []int) [][]int {
	return plane.Union(of).Groups(func(c int) bool { return of[c] < 0 })
}
