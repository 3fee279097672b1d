package measure

import (
	"fmt"
	"maps"
	"math"
	"math/rand/v2"
	"os"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"

	"corerod/parts/form"
	"corerod/parts/partstest"
	"corerod/parts/subject"
)

// TestSameInOtherWays: a part written in another way measures the same. Subjects alike count by their places; their names may differ.
func TestSameInOtherWays(t *testing.T) { sameInOtherWays(t, partstest.Kinds, 80) }

// TestFacesInOtherWays: the same of parts in whose faces punches form more than flats.
func TestFacesInOtherWays(t *testing.T) { sameInOtherWays(t, partstest.Faces, 40) }

func sameInOtherWays(t *testing.T, kinds []partstest.Kind, n int) {
	if os.Getenv("COREROD_LONG") != "" {
		n = 2000
	} else if testing.Short() {
		n = 20
	}
	first, _ := strconv.Atoi(os.Getenv("COREROD_FIRST"))
	found, lock := map[string]fault{}, sync.Mutex{}
	made := func(d partstest.Drawing) bool {
		_, err := tryIn(d, "mm")
		return err == nil
	}
	if !partstest.EachOf(kinds, first, n, made, func(d partstest.Drawing, rng *rand.Rand) {
		p, _ := tryIn(d, "mm")
		for _, w := range partstest.Ways(rng) {
			for list := range differ(w, d, p) {
				name := w.Name + ", " + list
				lock.Lock()
				f, ok := found[name]
				if f.times++; !ok || d.Size() < f.part.Size() {
					f.way, f.list, f.part = w, list, d
				}
				found[name] = f
				lock.Unlock()
			}
		}
	}) {
		t.Errorf("fewer than %d parts could be made", n)
	}
	for _, name := range slices.Sorted(maps.Keys(found)) {
		f := found[name]
		small := smallest(f.part, f.way, f.list)
		p, _ := tryIn(small, "mm")
		other, _ := f.way.Rewrite(small, p.ZLow+p.ZHigh)
		t.Errorf("%s, of %d parts %d:\n    %s\n%s%s", name, n, f.times, strings.Join(differ(f.way, small, p)[f.list], "\n    "),
			small.Text("mm"), other.Text(f.way.Units))
	}
}

// fault is what measures otherwise in another way, with the smallest part so far that shows it.
type fault struct {
	way   partstest.Way
	list  string
	part  partstest.Drawing
	times int
}

// smallest is the simplest drawing that shows the same fault as another.
func smallest(d partstest.Drawing, w partstest.Way, list string) partstest.Drawing {
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
			if _, is := differ(w, s, p)[list]; is {
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
func differ(w partstest.Way, d partstest.Drawing, p *subject.Part) map[string][]string {
	other, ok := w.Rewrite(d, p.ZLow+p.ZHigh)
	if !ok {
		return nil
	}
	q, err := tryIn(other, w.Units)
	if w.Name == "a body in two" && err != nil && strings.Contains(err.Error(), "adds nothing") {
		return nil // the half of a hub inside its flange
	}
	if err != nil {
		return map[string][]string{"refused": {err.Error()}}
	}
	out := map[string][]string{}
	for _, k := range subject.Kinds() {
		fields := sameFields(k, w.Over)
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
			out[k.List] = append(out[k.List], w.Name+": "+showRow(fields, y))
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
