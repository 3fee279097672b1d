package blank_test

import (
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"corerod/parts/blank"
	"corerod/parts/form"
	"corerod/parts/measure"
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

// TestSolids compares volume, surface and centroid, rims and feet counted, with an independent solid kernel.
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
		m, ps := measure.Part(p)
		if len(ps) > 0 {
			t.Fatal(ps)
		}
		want, ok := known.Parts[strings.TrimSuffix(filepath.Base(file), ".yaml")]
		if !ok {
			t.Fatalf("%s is not measured; run make.py", file)
		}
		volume, surface := m.Whole.Volume()
		if got := volume; math.Abs(got/want.Volume-1) > 1e-7 {
			t.Errorf("%s: volume %.12g, the kernel has %.12g", p.Name, got, want.Volume)
		}
		if got := surface; math.Abs(got/want.Surface-1) > 1e-6 { // areas within arcs are right to that
			t.Errorf("%s: surface %.12g, the kernel has %.12g", p.Name, got, want.Surface)
		}
		got := blank.SolidCentroid(t, m.Whole)
		for i := range got {
			if math.Abs(got[i]-want.Centroid[i]) > 2e-6 { // of balls that join the kernel has the volume to 9e-8
				t.Errorf("%s: centroid %v, the kernel has %v", p.Name, got, want.Centroid)
				break
			}
		}
	}
}

