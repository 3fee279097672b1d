package checker

import (
	"context"
	"fmt"
	"io"
	"math"
	"os"
	"strings"
	"testing"

	"corerod/rules"
)

func standardBook(tb testing.TB) *rules.Book {
	tb.Helper()
	p, err := rules.LoadBuiltin("press-and-sinter")
	if err != nil {
		tb.Fatal(err)
	}
	b, ps := rules.NewBook(p)
	if len(ps) > 0 {
		tb.Fatal(ps)
	}
	return b
}

func fileOf(name string, b []byte) File {
	return File{Name: name, Open: func() (io.ReadCloser, error) { return io.NopCloser(strings.NewReader(string(b))), nil }}
}

// BenchmarkDemoPart reviews one demo part from bytes to findings on one core, packs loaded and compiled.
func BenchmarkDemoPart(b *testing.B) {
	text, err := os.ReadFile("../testdata/mill/crank-hub.yaml")
	if err != nil {
		b.Fatal(err)
	}
	book := standardBook(b)
	for b.Loop() {
		if r := Run(context.Background(), []File{fileOf("crank-hub.yaml", text)}, book, Options{StatusAt: rules.Change, Workers: 1}); len(r.Unread) > 0 {
			b.Fatal(r.Unread)
		}
	}
}

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

// BenchmarkWavyOutline reviews an outline of 160 vertices with nine cuts.
func BenchmarkWavyOutline(b *testing.B) {
	text := wavy(160)
	book := standardBook(b)
	for b.Loop() {
		if r := Run(context.Background(), []File{fileOf("wavy.yaml", text)}, book, Options{StatusAt: rules.Change, Workers: 1}); len(r.Unread) > 0 {
			b.Fatal(r.Unread)
		}
	}
}

// fiveFindings is a part with five findings, that of docs/changes.md.
const fiveFindings = `part: bracket
units: mm
bodies:
  plate: {rectangle: {length: 40, width: 30, corner: 3}, from: 0, to: 8}
  hub:   {circle: {diameter: 28, at: [-5, 0]}, from: 0, to: 20}
cuts:
  bore: {circle: {diameter: 10, at: [-5, 0]}}
  pin:  {circle: {diameter: 2, at: [13, 0]}}
  eye:  {circle: {diameter: 6, at: [15, 11]}}
edges:
  mouth: {of: bore, face: top, chamfer: {width: 0.6, slope: 60, flat: 0.2}}
dimensions:
  bore-size: {of: bore.diameter, plus_minus: 0.01}
`

// gear40 is a gear of 40 teeth with two findings: a slender hole in its web, and a thin wall between that and the bore.
const gear40 = `part: gear
units: mm
bodies:
  teeth: {gear: {module: 2, teeth: 40, tip_radius: 0.3}, from: 0, to: 14}
cuts:
  bore: {circle: {diameter: 30}}
  pin:  {circle: {diameter: 2.4, at: [17.4, 0]}}
`

// BenchmarkChanges seeks changes for a part with five findings, and for a gear with two.
func BenchmarkChanges(b *testing.B) {
	for name, text := range map[string]string{"five": fiveFindings, "gear": gear40} {
		b.Run(name, func(b *testing.B) {
			book := standardBook(b)
			for b.Loop() {
				r := Run(context.Background(), []File{fileOf("part.yaml", []byte(text))}, book, Options{StatusAt: rules.Change, Changes: 3})
				if len(r.Parts) != 1 || r.Parts[0].Search.Tried == 0 {
					b.Fatal(r.Unread)
				}
			}
		})
	}
}
