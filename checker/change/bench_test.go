package change

import (
	"context"
	"testing"

	"corerod/checker"
	"corerod/checker/internal/samples"
	"corerod/rules"
)

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
			book := samples.StandardBook(b)
			for b.Loop() {
				r := Run(context.Background(), []checker.File{fileOf("part.yaml", []byte(text))}, book,
					Options{Changes: 3, Options: checker.Options{StatusAt: rules.Change}})
				if len(r.Parts) != 1 || r.Parts[0].Search.Tried == 0 {
					b.Fatal(r.Unread)
				}
			}
		})
	}
}
