package checker

import (
	"context"
	"fmt"
	"io"
	"math"
	"os"
	"strings"
	"testing"

	"corerod/checker/internal/samples"
	"corerod/rules"
)

func fileOf(name string, b []byte) File {
	return File{Name: name, Open: func() (io.ReadCloser, error) { return io.NopCloser(strings.NewReader(string(b))), nil }}
}

// BenchmarkReview reviews parts from bytes to findings on one core, packs loaded and compiled: a demo part, a gear of 60 teeth with hub
// and holes, an outline of 160 vertices with nine cuts, and a plate with twelve drafted pockets.
func BenchmarkReview(b *testing.B) {
	demo, err := os.ReadFile("../testdata/mill/crank-hub.yaml")
	if err != nil {
		b.Fatal(err)
	}
	book := samples.StandardBook(b)
	for _, x := range []struct {
		name string
		text []byte
	}{{"demo", demo}, {"gear", []byte(gear)}, {"wavy", wavy(160)}, {"pockets", []byte(pockets)}} {
		b.Run(x.name, func(b *testing.B) {
			for b.Loop() {
				if r := Run(context.Background(), []File{fileOf(x.name+".yaml", x.text)}, book,
					Options{StatusAt: rules.Change, Workers: 1}); len(r.Unread) > 0 {
					b.Fatal(r.Unread)
				}
			}
		})
	}
}

const gear = `part: gear
units: mm
bodies:
  rim: {gear: {module: 1, teeth: 60, tip_radius: 0.1}, from: 0, to: 8}
  hub: {circle: {diameter: 24}, from: 0, to: 14}
cuts:
  bore:  {circle: {diameter: 12}}
  holes: {circle: {diameter: 8, at: [19, 0]}, repeat: {count: 6}}
edges:
  hub-rim:  {of: hub, face: top, chamfer: {width: 0.6, slope: 30, flat: 0.2}}
  bore-rim: {of: bore, face: top, chamfer: {width: 0.5, slope: 45, flat: 0.2}}
`

const pockets = `part: pockets
units: mm
bodies:
  plate: {rectangle: {length: 60, width: 40}, from: 0, to: 10}
cuts:
  low:    {rectangle: {length: 8, width: 8, at: [-22, -13]}, open: top, depth: 4, draft: {angle: 7, narrows: down}, repeat: {count: 4, step: [14, 0]}}
  middle: {rectangle: {length: 8, width: 8, at: [-22, 0]}, open: top, depth: 4, draft: {angle: 7, narrows: down}, repeat: {count: 4, step: [14, 0]}}
  high:   {rectangle: {length: 8, width: 8, at: [-22, 13]}, open: top, depth: 4, draft: {angle: 7, narrows: down}, repeat: {count: 4, step: [14, 0]}}
`

// wavy is a part with an outline of n vertices and nine cuts.
func wavy(n int) []byte {
	var t strings.Builder
	t.WriteString("part: wavy\nunits: mm\nbodies:\n  plate:\n    from: 0\n    to: 12\n    polygon:\n      corner: 0\n      points:\n")
	for i := range n {
		a := 2 * math.Pi * float64(i) / float64(n)
		r := 60 + 3*math.Sin(9*a)
		fmt.Fprintf(&t, "        - [%.6f, %.6f]\n", r*math.Cos(a), r*math.Sin(a))
	}
	t.WriteString("cuts:\n  bore: {circle: {diameter: 30}}\n  ring: {circle: {diameter: 6, at: [38, 0]}, repeat: {count: 8}}\n")
	return []byte(t.String())
}
