package blank

import (
	"fmt"
	"math"
	"testing"

	"corerod/parts"
	"corerod/parts/subject"
)

// made reads and computes a part written in a test, without its name and units.
func made(t testing.TB, text string) *subject.Part {
	t.Helper()
	return madeIn(t, "mm", text)
}

func madeIn(t testing.TB, units, text string) *subject.Part {
	t.Helper()
	p, ps := parts.Parse("test.yaml", []byte("part: test\nunits: "+units+"\n"+text))
	if len(ps) > 0 {
		t.Fatalf("%v\n%s", ps, text)
	}
	b, ps := Make(p)
	if len(ps) > 0 {
		t.Fatalf("%v\n%s", ps, text)
	}
	return b.Subject
}

func near(t testing.TB, what string, got, want float64) {
	t.Helper()
	if math.IsNaN(got) || math.Abs(got-want) > 1e-9*math.Max(1, math.Abs(want)) {
		t.Errorf("%s = %.15g, want %.15g (off by %.3g)", what, got, want, got-want)
	}
}

const crankHub = `
bodies:
  flange: {circle: {diameter: 48}, from: 0, to: 6}
  hub:    {circle: {diameter: 30}, from: 0, to: 22}
cuts:
  bore:    {circle: {diameter: 16}}
  keyway:  {rectangle: {length: 5, width: 3.3, at: [0, 8.6], corner: 0.2}}
  bolts:   {circle: {diameter: 4.2, at: [19.5, 0]}, repeat: {count: 4}}
blends:
  key-mouth: {of: [bore, keyway], radius: 0.3}
`

func dump(p *subject.Part) {
	for _, k := range subject.Kinds() {
		for _, s := range subject.Of(p, k) {
			fmt.Printf("%s:", k.Name)
			for i := range k.Fields {
				f := &k.Fields[i]
				switch f.Type {
				case subject.Number:
					if v, ok := f.Number(s); ok {
						fmt.Printf(" %s=%.6g", f.Name, v)
					}
				case subject.Text:
					fmt.Printf(" %s=%q", f.Name, f.Text(s))
				case subject.Boolean:
					fmt.Printf(" %s=%v", f.Name, f.Boolean(s))
				case subject.Texts:
					fmt.Printf(" %s=%q", f.Name, f.Texts(s))
				}
			}
			fmt.Println(" places", len(s.Place().Places))
		}
	}
}

func TestDump(t *testing.T) { dump(made(t, crankHub)) }

func TestDump2(t *testing.T) {
	dump(made(t, `
bodies:
  foot: {circle: {diameter: 40}, from: 0, to: 6}
  neck: {circle: {diameter: 20}, from: 6, to: 14}
  head: {circle: {diameter: 30}, from: 14, to: 20}
`))
	dump(made(t, `
bodies:
  block: {rectangle: {length: 40, width: 30}, from: 0, to: 20}
cuts:
  bore:    {circle: {diameter: 10}}
  counter: {circle: {diameter: 16}, open: top, depth: 8}
  pit: {circle: {diameter: 5, at: [14, 0]}, open: bottom, depth: 3}
  slit: {rectangle: {length: 60, width: 2, at: [0, 12]}, open: top, depth: 2}
`))
}
