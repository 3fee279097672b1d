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

// BenchmarkDemoPart reviews one demo part from bytes to findings on one core, packs loaded and compiled.
func BenchmarkDemoPart(b *testing.B) {
	text, err := os.ReadFile("../testdata/mill/crank-hub.yaml")
	if err != nil {
		b.Fatal(err)
	}
	book := samples.StandardBook(b)
	for b.Loop() {
		if r := Run(context.Background(), []File{fileOf("crank-hub.yaml", text)}, book,
			Options{StatusAt: rules.Change, Workers: 1}); len(r.Unread) > 0 {
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
	book := samples.StandardBook(b)
	for b.Loop() {
		if r := Run(context.Background(), []File{fileOf("wavy.yaml", text)}, book,
			Options{StatusAt: rules.Change, Workers: 1}); len(r.Unread) > 0 {
			b.Fatal(r.Unread)
		}
	}
}
