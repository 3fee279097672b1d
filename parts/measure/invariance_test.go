package measure

import (
	"fmt"
	"maps"
	"math"
	"math/rand/v2"
	"os"
	"slices"
	"strings"
	"testing"

	"corerod/parts/blank"
	"corerod/parts/form"
	"corerod/parts/partstest"
	"corerod/parts/subject"
)

// TestSameInOtherWays: a part written in another way measures the same. Subjects alike count by their places; their names may differ.
func TestSameInOtherWays(t *testing.T) {
	n := 100
	if os.Getenv("COREROD_LONG") != "" {
		n = 2000
	} else if testing.Short() {
		n = 20
	}
	drawn := 0
	found := map[string]fault{}
	for i := 0; i < n; drawn++ {
		rng := rand.New(rand.NewPCG(uint64(drawn), 29))
		kind := partstest.Kinds[drawn%len(partstest.Kinds)]
		d := kind.Draw(rng)
		p, err := tryIn(d, "mm")
		if err != nil {
			if drawn > 3*n {
				t.Fatalf("only %d of %d parts could be made", i, drawn)
			}
			continue
		}
		i++
		for _, w := range otherWays(rng) {
			for list := range w.differ(d, p) {
				name := w.name + ", " + list
				f, ok := found[name]
				if f.times++; !ok || d.Size() < f.part.Size() {
					f.way, f.list, f.part = w, list, d
				}
				found[name] = f
			}
		}
	}
	for _, name := range slices.Sorted(maps.Keys(found)) {
		f := found[name]
		small := smallest(f.part, f.way, f.list)
		p, _ := tryIn(small, "mm")
		other, _ := f.way.rewrite(small, p)
		t.Errorf("%s, of %d parts %d:\n    %s\n%s%s", name, n, f.times, strings.Join(f.way.differ(small, p)[f.list], "\n    "),
			small.Text("mm"), other.Text(f.way.units))
	}
}

// fault is what measures otherwise in another way, with the smallest part so far that shows it.
type fault struct {
	way   way
	list  string
	part  partstest.Drawing
	times int
}

// way is another way to write a part.
type way struct {
	name, units string
	over        bool // it lies turned over
	rewrite     func(d partstest.Drawing, p *subject.Part) (partstest.Drawing, bool)
}

// otherWays are ways to write a part.
func otherWays(rng *rand.Rand) []way {
	seed, body, share := rng.Uint64(), rng.IntN(100), 0.1+0.8*rng.Float64()
	always := func(change func(partstest.Drawing) partstest.Drawing) func(partstest.Drawing, *subject.Part) (partstest.Drawing, bool) {
		return func(d partstest.Drawing, _ *subject.Part) (partstest.Drawing, bool) { return change(d), true }
	}
	return []way{
		{name: "in another order", units: "mm", rewrite: always(func(d partstest.Drawing) partstest.Drawing {
			return d.Reordered(rand.New(rand.NewPCG(seed, 1)).Shuffle)
		})},
		{name: "mirrored", units: "mm", rewrite: always(partstest.Drawing.Mirrored)},
		{name: "turned by 17 degrees", units: "mm", rewrite: always(func(d partstest.Drawing) partstest.Drawing { return d.Turned(17) })},
		{name: "shifted", units: "mm", rewrite: always(func(d partstest.Drawing) partstest.Drawing { return d.Shifted(31.7, -12.9) })},
		{name: "in inches", units: "in", rewrite: always(func(d partstest.Drawing) partstest.Drawing { return d })},
		{name: "turned over", units: "mm", over: true, rewrite: func(d partstest.Drawing, p *subject.Part) (partstest.Drawing, bool) {
			return d.Over(p.ZLow + p.ZHigh), true
		}},
		{name: "a body in two", units: "mm", rewrite: func(d partstest.Drawing, _ *subject.Part) (partstest.Drawing, bool) {
			d, ok := d.Split(body%len(d.Bodies), share)
			q, ps := form.Parse("way.yaml", []byte(d.Text("mm")))
			return d, ok && len(ps) == 0 && len(blank.Idle(q)) == 0 // the half of a hub inside its flange would be refused
		}},
		{name: "copies one by one", units: "mm", rewrite: func(d partstest.Drawing, _ *subject.Part) (partstest.Drawing, bool) {
			one := d.OneByOne()
			return one, len(one.Bodies)+len(one.Cuts) > len(d.Bodies)+len(d.Cuts)
		}},
	}
}

// smallest is the simplest drawing that shows the same fault as another.
func smallest(d partstest.Drawing, w way, list string) partstest.Drawing {
	tries := 0
	for again := true; again; {
		again = false
		for _, s := range d.Simpler() {
			if tries++; tries > 25 {
				return d // simple enough
			}
			p, err := tryIn(s, "mm")
			if err != nil {
				continue
			}
			if _, is := w.differ(s, p)[list]; is {
				d, again = s, true
				break
			}
		}
	}
	return d
}

// tryIn measures a drawing, unless it cannot be made.
func tryIn(d partstest.Drawing, units string) (*subject.Part, error) {
	p, ps := form.Parse("way.yaml", []byte(d.Text(units)))
	if len(ps) > 0 {
		return nil, fmt.Errorf("%v", ps)
	}
	m, ps := Part(p)
	if len(ps) > 0 {
		return nil, fmt.Errorf("%v", ps)
	}
	return m.Subject, nil
}

// differ says what of a part measures otherwise in another way, by the list that it stands in.
func (w way) differ(d partstest.Drawing, p *subject.Part) map[string][]string {
	other, ok := w.rewrite(d, p)
	if !ok {
		return nil
	}
	q, err := tryIn(other, w.units)
	if err != nil {
		return map[string][]string{"refused": {err.Error()}}
	}
	out := map[string][]string{}
	for _, k := range subject.Kinds() {
		fields := sameFields(k, w.over)
		a, b := rowsOf(p, k, fields), rowsOf(q, k, fields)
		if k == subject.RimKind || k == subject.TaperKind { // of each feature one, whatever its copies
			a, b = once(a), once(b)
		}
		for _, x := range a {
			j := slices.IndexFunc(b, func(y []float64) bool { return sameRow(x, y) })
			if j < 0 {
				out[k.List] = append(out[k.List], "as drawn: "+showRow(fields, x))
				continue
			}
			b = slices.Delete(b, j, j+1)
		}
		for _, y := range b {
			out[k.List] = append(out[k.List], w.name+": "+showRow(fields, y))
		}
	}
	return out
}

// sameFields are the numbers of a kind, and what is so or not, that are the same in other ways: not places, and of a part turned
// over not what tells up from down.
func sameFields(k *subject.Kind, over bool) (out []*subject.Field) {
	place := []string{"x", "y", "z_low", "z_high"}
	way := map[string][]string{"level": {"z"}, "taper": {"reverse", "reverse_turned"}, "part": {"levels_top", "levels_bottom"},
		"flange": {"die_shelf"}} // the die is below
	for i := range k.Fields {
		f := &k.Fields[i]
		if f.Type != subject.Number && f.Type != subject.Boolean || f.Placing || slices.Contains(place, f.Name) {
			continue
		}
		if !over || !slices.Contains(way[k.Name], f.Name) {
			out = append(out, f)
		}
	}
	return out
}

// rowsOf are the measures of each subject of a kind, once for each of its places; one that is absent is NaN.
func rowsOf(p *subject.Part, k *subject.Kind, fields []*subject.Field) (rows [][]float64) {
	for _, s := range subject.Of(p, k) {
		var row []float64
		for _, f := range fields {
			v, known := 0.0, true
			if f.Type == subject.Number {
				v, known = f.Number(s)
			} else if f.Boolean(s) {
				v = 1
			}
			if !known {
				v = math.NaN()
			}
			row = append(row, v)
		}
		for range subject.CountOf(s) {
			rows = append(rows, row)
		}
	}
	return rows
}

// sameRow tells whether two subjects measure the same: to 1e-6 of the measure, or of its unit where it is below 1.
func sameRow(a, b []float64) bool {
	for i := range a {
		if math.IsNaN(a[i]) != math.IsNaN(b[i]) || math.Abs(a[i]-b[i]) > 1e-6*math.Max(1, math.Abs(a[i])) {
			return false
		}
	}
	return true
}

// once are rows without those that are the same as another.
func once(rows [][]float64) (out [][]float64) {
	for _, x := range rows {
		if !slices.ContainsFunc(out, func(y []float64) bool { return sameRow(x, y) }) {
			out = append(out, x)
		}
	}
	return out
}

func showRow(fields []*subject.Field, row []float64) string {
	var out []string
	for i, f := range fields {
		if !math.IsNaN(row[i]) {
			out = append(out, fmt.Sprintf("%s %.10g", f.Name, row[i]))
		}
	}
	return strings.Join(out, ", ")
}
