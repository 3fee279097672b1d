package blank

import (
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"corerod/parts"
	"corerod/parts/form"
	"corerod/parts/plane"
)

// solids is what a general-purpose solid kernel measured of the part files in testdata/solids: make.py there made it,
// and names the kernel's version in it.
type solids struct {
	MadeBy string `json:"made_by"`
	Parts  map[string]struct {
		Volume, Surface float64
		Centroid        [3]float64
		Distances       map[string]float64
	}
}

func readSolids(t *testing.T) solids {
	t.Helper()
	b, err := os.ReadFile("../../testdata/solids/solids.json")
	if err != nil {
		t.Fatal(err)
	}
	var s solids
	if err := json.Unmarshal(b, &s); err != nil {
		t.Fatal(err)
	}
	return s
}

// TestSolids compares volume, surface and centroid with an independent solid kernel.
func TestSolids(t *testing.T) {
	known := readSolids(t)
	files, err := filepath.Glob("../../testdata/solids/*.yaml")
	if err != nil || len(files) < 25 || len(known.Parts) != len(files) {
		t.Fatalf("%d part files, %d measured, %v", len(files), len(known.Parts), err)
	}
	for _, file := range files {
		text, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		p, ps := form.Parse(file, text)
		if len(ps) > 0 {
			t.Fatal(ps)
		}
		b, ps := Make(p)
		if len(ps) > 0 {
			t.Fatal(ps)
		}
		want, ok := known.Parts[strings.TrimSuffix(filepath.Base(file), ".yaml")]
		if !ok {
			t.Fatalf("%s is not measured; run make.py", file)
		}
		volume, surface := b.Volume()
		if got := volume; math.Abs(got/want.Volume-1) > 1e-7 {
			t.Errorf("%s: volume %.12g, the kernel has %.12g", p.Name, got, want.Volume)
		}
		if got := surface; math.Abs(got/want.Surface-1) > 1e-6 { // areas within arcs are right to that
			t.Errorf("%s: surface %.12g, the kernel has %.12g", p.Name, got, want.Surface)
		}
		got := solidCentroid(t, p)
		for i := range got {
			if math.Abs(got[i]-want.Centroid[i]) > 2e-6 { // of balls that join the kernel has the volume to 9e-8
				t.Errorf("%s: centroid %v, the kernel has %v", p.Name, got, want.Centroid)
				break
			}
		}
	}
}

// solidCentroid is the centre of a part's volume.
func solidCentroid(t *testing.T, p *parts.Part) [3]float64 {
	t.Helper()
	s, ps := newShape(p)
	if len(ps) > 0 {
		t.Fatal(ps)
	}
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
