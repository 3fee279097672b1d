package blank

import (
	"testing"

	"corerod/parts/plane"
)

// SolidCentroid is solidCentroid for the tests that measure whole parts.
func SolidCentroid(t *testing.T, s *Shape) [3]float64 { return solidCentroid(t, s) }

// solidCentroid is the centre of a part's volume.
func solidCentroid(t *testing.T, s *Shape) [3]float64 {
	t.Helper()
	if s.hasSlopes() {
		return slopedCentroid(t, s)
	}
	var m plane.Moments
	z := 0.0
	for c := range s.cells {
		for _, r := range s.cells[c].runs {
			h, o := s.Top(r)-s.Bottom(r), s.overlay.Cells[c].Moments
			m = m.Add(plane.Moments{Area: o.Area * h, X: o.X * h, Y: o.Y * h})
			z += o.Area * h * (s.Top(r) + s.Bottom(r)) / 2
		}
	}
	c := s.ToPart(m.Centroid())
	return [3]float64{c.X, c.Y, z / m.Area}
}

// slopedCentroid is the centre of a volume with sloped walls, summed over many exact sections.
func slopedCentroid(t *testing.T, s *Shape) [3]float64 {
	t.Helper()
	var m plane.Moments
	z := 0.0
	for i := 0; i+1 < len(s.stations); i++ {
		const layers = 8
		h := (s.stations[i+1] - s.stations[i]) / layers
		for k := range layers * len(roundNodes()) {
			n := roundNodes()[k/layers]
			at := s.stations[i] + h*(float64(k%layers)+n.At)
			x, err := s.sectionAt(at)
			if err != nil {
				t.Fatal(err)
			}
			for c, solid := range x.Solid {
				if w := h * n.Weight; solid {
					q := x.Overlay.Cells[c].Moments
					m = m.Add(plane.Moments{Area: q.Area * w, X: q.X * w, Y: q.Y * w})
					z += q.Area * w * at
				}
			}
		}
	}
	c := s.ToPart(m.Centroid())
	return [3]float64{c.X, c.Y, z / m.Area}
}
