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
		solid
		Finished *solid // where something is made after pressing
	}
}

// solid is what it measured of one.
type solid struct {
	Volume, Surface float64
	Centroid        [3]float64
}

func readSolids(t *testing.T, folder string) solids {
	t.Helper()
	b, err := os.ReadFile(folder + "/solids.json")
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
func TestSolids(t *testing.T) { compareSolids(t, "../../testdata/solids") }

// TestWholeSolids does the same for parts with rims, feet, blends and marks, and for finished ones.
func TestWholeSolids(t *testing.T) { compareSolids(t, "../../testdata/solids/whole") }

// TestFaceSolids: the same of parts with islands, tilted faces, face teeth, ramps and crossed grooves.
func TestFaceSolids(t *testing.T) { compareSolids(t, "../../testdata/solids/faces") }

func compareSolids(t *testing.T, folder string) {
	known := readSolids(t, folder)
	files, err := filepath.Glob(folder + "/*.yaml")
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
		compareSolid(t, p.Name, m.Whole, want.solid)
		if (want.Finished != nil) != (m.After != nil) {
			t.Errorf("%s: the kernel has a finished solid %v, the part %v", p.Name, want.Finished != nil, m.After != nil)
		} else if m.After != nil {
			compareSolid(t, p.Name+" as finished", m.After, *want.Finished)
		}
	}
}

// compareSolid compares a shape with what the kernel has of it.
func compareSolid(t *testing.T, name string, s *blank.Shape, want solid) {
	t.Helper()
	volume, surface := s.Volume()
	if math.Abs(volume/want.Volume-1) > 1e-7 {
		t.Errorf("%s: volume %.12g, the kernel has %.12g", name, volume, want.Volume)
	}
	if math.Abs(surface/want.Surface-1) > 1e-6 { // areas within arcs are right to that
		t.Errorf("%s: surface %.12g, the kernel has %.12g", name, surface, want.Surface)
	}
	got := blank.SolidCentroid(t, s)
	for i := range got {
		if math.Abs(got[i]-want.Centroid[i]) > 2e-6 { // of balls that join the kernel has the volume to 9e-8
			t.Errorf("%s: centroid %v, the kernel has %v", name, got, want.Centroid)
			break
		}
	}
}
