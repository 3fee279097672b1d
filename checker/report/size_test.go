package report

import (
	"bytes"
	"context"
	"io"
	"os"
	"testing"

	"corerod/checker"
	"corerod/checker/change"
	"corerod/checker/report/reporttest"
	"corerod/rules"
)

// gear60 is a gear of 60 teeth with a hub, four holes and chamfers.
const gear60 = `part: gear
units: mm
material: {name: FC-0208, density: 6.8}
bodies:
  teeth: {gear: {module: 2, teeth: 60, tip_radius: 0.3}, from: 0, to: 12}
  hub: {circle: {diameter: 60}, from: 0, to: 20}
cuts:
  bore: {circle: {diameter: 30}}
  holes: {circle: {diameter: 12, at: [44, 0]}, repeat: {count: 4}}
edges:
  rim: {of: hub, face: top, chamfer: {width: 0.6, slope: 30, flat: 0.2}}
`

// TestSheetSize: the page of a gear of 60 teeth stays under 300 KB.
func TestSheetSize(t *testing.T) {
	r := reporttest.Reviewed(t, map[string]string{"gear.yaml": gear60}, change.Options{Changes: 3})
	var b bytes.Buffer
	if err := Sheet(&b, r, r.Parts[0]); err != nil {
		t.Fatal(err)
	}
	if b.Len() > 300_000 {
		t.Errorf("%d bytes", b.Len())
	}
	t.Logf("%d bytes", b.Len())
}

// BenchmarkFormats writes the largest demo part in every format; Review is what it takes before.
func BenchmarkFormats(b *testing.B) {
	text, err := os.ReadFile("../../testdata/mill/crank-hub.yaml")
	if err != nil {
		b.Fatal(err)
	}
	p, err := rules.LoadBuiltin("press-and-sinter")
	if err != nil {
		b.Fatal(err)
	}
	book, _ := rules.NewBook(p)
	run := func() *checker.Review {
		return checker.Run(context.Background(), []checker.File{reporttest.File("a.yaml", string(text))}, book,
			checker.Options{StatusAt: rules.Change})
	}
	b.Run("Review", func(b *testing.B) {
		for b.Loop() {
			run()
		}
	})
	r := run()
	b.Run("All", func(b *testing.B) {
		for b.Loop() {
			for _, write := range reviewFormats(r) {
				if err := write(io.Discard); err != nil {
					b.Fatal(err)
				}
			}
		}
	})
}
