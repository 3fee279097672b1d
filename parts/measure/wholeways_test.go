package measure

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"testing"

	"corerod/parts/form"
	"corerod/parts/partstest"
)

// treatment is the edge of a feature as a random part has it.
type treatment struct {
	of, face string
	width    float64 // mm
	round    bool
}

// edged is a drawing with some edges, in a unit, and lying turned over or not.
func edged(d partstest.Drawing, all []treatment, units string, over bool) string {
	per := map[string]float64{"mm": 1, "in": 25.4}[units]
	text := d.Text(units) + "edges:\n"
	for i, e := range all {
		face := e.face
		if over {
			face = map[string]string{"top": "bottom", "bottom": "top"}[face]
		}
		how := fmt.Sprintf("chamfer: {width: %.17g, slope: 40}", e.width/per)
		if e.round {
			how = fmt.Sprintf("round: {radius: %.17g}", e.width/per)
		}
		text += fmt.Sprintf("  e%d: {of: %s, face: %s, %s}\n", i, e.of, face, how)
	}
	return text
}

// TestWholeInOtherWays: a random part with edges has one volume, surface and plan however it is written.
func TestWholeInOtherWays(t *testing.T) {
	n := 30
	if os.Getenv("COREROD_LONG") != "" {
		n = 1000
	} else if testing.Short() {
		n = 10
	}
	type figures [3]float64
	whole := func(text string) (f figures, low, high float64, ok bool) {
		p, ps := form.Parse("part.yaml", []byte(text))
		if len(ps) > 0 {
			return f, 0, 0, false
		}
		m, ps := Part(p)
		if len(ps) > 0 {
			return f, 0, 0, false
		}
		q := m.Subject
		return figures{q.Volume, q.Surface, q.PlanArea}, q.ZLow, q.ZHigh, true
	}
	var edges = func(d partstest.Drawing, rng *rand.Rand) (all []treatment) {
		var names []string
		for _, f := range d.Bodies {
			names = append(names, f.Name)
		}
		for _, f := range d.Cuts {
			names = append(names, f.Name)
		}
		for i, of := range rng.Perm(len(names)) {
			if i < 2 {
				face := []string{"top", "bottom"}[rng.IntN(2)]
				all = append(all, treatment{names[of], face, 0.2 + 0.05*float64(rng.IntN(8)), rng.IntN(3) == 0})
			}
		}
		return all
	}
	treated := 0
	for i := 0; i < 40*n && treated < n; i++ {
		rng := rand.New(rand.NewPCG(uint64(i), 31))
		d := partstest.Kinds[i%len(partstest.Kinds)].Draw(rng)
		all := edges(d, rng)
		text := edged(d, all, "mm", false)
		want, low, high, ok := whole(text)
		if !ok {
			continue
		}
		treated++
		for _, w := range partstest.Ways(rng) {
			if w.Name == "a body in two" || w.Name == "copies one by one" {
				continue // the edges are of features by their names
			}
			other, ok := w.Rewrite(d, low+high)
			if !ok {
				continue
			}
			in := edged(other, all, w.Units, w.Over)
			got, _, _, ok := whole(in)
			if !ok {
				t.Errorf("%s: not read\n%s%s", w.Name, text, in)
				continue
			}
			for k := range got {
				if math.Abs(got[k]-want[k]) > 1e-7*want[k] {
					t.Errorf("%s: %v, as drawn %v\n%s%s", w.Name, got, want, text, in)
					break
				}
			}
		}
	}
	if treated < n {
		t.Errorf("only %d parts could be made", treated)
	}
}
