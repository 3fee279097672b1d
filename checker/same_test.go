package checker

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"corerod/checker/internal/samples"
	"corerod/parts/subject"
	"corerod/rules"
)

// outcome is what must not depend on how a part is drawn: each finding's rule, grade, features and compared figures,
// and every measure but places. Figures are rounded to 9 digits.
func outcome(p *PartReview) string {
	var all []string
	for _, f := range p.Findings {
		line := fmt.Sprintf("%s %s %v x%d", f.Rule.Name, f.Grade, sorted(f.Subject.Place().Features), max(1, len(f.Places)))
		for _, c := range f.Compared {
			if v, ok := c.Value.(float64); ok {
				line += fmt.Sprintf(" %s=%.9g", c.Measure, v)
			}
		}
		all = append(all, line)
	}
	for _, k := range subject.Kinds() {
		for _, s := range subject.Of(p.Subject, k) {
			line := k.Name
			for i := range k.Fields {
				f := &k.Fields[i]
				switch {
				case slices.Contains([]string{"name", "x", "y"}, f.Name):
				case f.Type == subject.Number:
					v, known := f.Number(s)
					line += fmt.Sprintf(" %s=%.8g/%v", f.Name, math.Round(v*1e8)/1e8+0, known)
				case f.Type == subject.Text:
					line += " " + f.Text(s)
				case f.Type == subject.Boolean:
					line += fmt.Sprint(" ", f.Boolean(s))
				case f.Type == subject.Texts:
					line += fmt.Sprint(" ", sorted(f.Texts(s)))
				}
			}
			all = append(all, fmt.Sprintf("%s x%d", line, max(1, len(s.Place().Places))))
		}
	}
	slices.Sort(all)
	return strings.Join(all, "\n")
}

func sorted(s []string) []string {
	s = slices.Clone(s)
	slices.Sort(s)
	return s
}

// drawing is a part that can be drawn in several ways.
type drawing struct {
	inch, x, y, turn float64
	reversed         bool
	remote           string
}

// at places a point of the part.
func (d drawing) at(x, y float64) string {
	s, c := math.Sincos(d.turn * math.Pi / 180)
	near := func(v float64) float64 { return math.Round(v*1e12) / 1e12 } // no coordinate is other than 0 and under a nanometre
	return fmt.Sprintf("at: [%.17g, %.17g]", near((c*x-s*y+d.x)/d.inch), near((s*x+c*y+d.y)/d.inch))
}

func (d drawing) l(v float64) string { return fmt.Sprintf("%.17g", v/d.inch) }

// text writes the part: a lever with a hub, a slot, a keyed bore, pin holes and a counterbore, with random sizes from
// a seed; some are sound, some not.
func (d drawing) text(seed uint64) string {
	rng := rand.New(rand.NewPCG(seed, 9))
	f := func(lo, hi float64) float64 { return lo + (hi-lo)*rng.Float64() }
	z := map[bool]string{false: fmt.Sprintf(", open: top, depth: %s", d.l(f(1, 6)))}[rng.IntN(2) == 0]
	bodies := []string{
		fmt.Sprintf("  arm: {rectangle: {length: %s, width: %s, corner: %s, turn: %.17g, %s}, from: 0, to: %s}", d.l(f(70, 90)),
			d.l(f(26, 30)), d.l(f(0.05, 4)), d.turn, d.at(0, 0), d.l(8)),
		fmt.Sprintf("  hub: {circle: {diameter: %s, %s}, from: 0, to: %s}", d.l(f(22, 25)), d.at(-20, 0), d.l(f(10, 20))),
	}
	cuts := []string{
		fmt.Sprintf("  bore: {circle: {diameter: %s, %s}}", d.l(f(8, 13)), d.at(-20, 0)),
		fmt.Sprintf("  key: {rectangle: {length: %s, width: %s, turn: %.17g, %s}}", d.l(f(2, 4)), d.l(f(2, 5)), d.turn, d.at(-20, 7)),
		fmt.Sprintf("  slot: {slot: {length: %s, width: %s, turn: %.17g, %s}}", d.l(f(10, 16)), d.l(f(1, 6)),
			d.turn+f(0, 90), d.at(8, f(-4, 4))),
		fmt.Sprintf("  pin: {circle: {diameter: %s, %s}%s}", d.l(f(1, 6)), d.at(f(18, 26), f(-9, 9)), z),
	}
	if d.remote != "" {
		cuts = append(cuts, d.remote)
	}
	if d.reversed {
		slices.Reverse(bodies)
		slices.Reverse(cuts)
	}
	unit := map[bool]string{true: "mm", false: "in"}[d.inch == 1]
	return "units: " + unit + "\nbodies:\n" + strings.Join(bodies, "\n") + "\ncuts:\n" + strings.Join(cuts, "\n") + "\n"
}

// TestDrawnOtherwise: the same part in inches, elsewhere, turned, or with its features in another order has the same
// findings and measures.
func TestDrawnOtherwise(t *testing.T) {
	book := samples.StandardBook(t)
	n := uint64(60)
	if testing.Short() {
		n = 10
	}
	found := 0
	for seed := range n {
		want := outcome(reviewed(t, book, drawing{inch: 1}.text(seed)))
		if !strings.HasPrefix(want, "column") {
			found++
		}
		for what, d := range map[string]drawing{
			"inches":           {inch: 25.4},
			"shifted":          {inch: 1, x: 130, y: -77.7},
			"turned by 90":     {inch: 1, turn: 90},
			"turned by 33.3":   {inch: 1, turn: 33.3},
			"shifted, inches":  {inch: 25.4, x: -51, y: 20, turn: 180},
			"in another order": {inch: 1, reversed: true},
		} {
			if got := outcome(reviewed(t, book, d.text(seed))); got != want {
				t.Fatalf("part %d, %s:\n%s", seed, what, diff(want, got))
			}
		}
	}
	if found < int(n)/2 {
		t.Errorf("only %d of %d parts have findings", found, n)
	}
}

// diff lists the lines that only one of two texts has.
func diff(a, b string) string {
	var out []string
	x, y := strings.Split(a, "\n"), strings.Split(b, "\n")
	for _, l := range x {
		if !slices.Contains(y, l) {
			out = append(out, "- "+l)
		}
	}
	for _, l := range y {
		if !slices.Contains(x, l) {
			out = append(out, "+ "+l)
		}
	}
	return strings.Join(out, "\n")
}

// TestRemoteFeature: a small hole far from everything changes no finding, and no measure of the other walls and holes.
func TestRemoteFeature(t *testing.T) {
	book := samples.StandardBook(t)
	findings := func(p *PartReview) (out []string) {
		for _, f := range p.Findings {
			out = append(out, fmt.Sprint(f.Rule.Name, f.Grade, f.Subject.Place().Features, f.Compared[0].Value))
		}
		slices.Sort(out)
		return out
	}
	for seed := range uint64(20) {
		d := drawing{inch: 1}
		plain := reviewed(t, book, d.text(seed))
		d.remote = "  far: {circle: {diameter: 3, at: [31, 0]}}"
		more := reviewed(t, book, d.text(seed))
		if a, b := findings(plain), findings(more); !slices.Equal(a, b) {
			t.Errorf("part %d: %v, with a remote hole %v", seed, a, b)
		}
		for _, h := range plain.Subject.Holes {
			i := slices.IndexFunc(more.Subject.Holes, func(o *subject.Hole) bool { return o.Name == h.Name })
			if i < 0 || math.Abs(more.Subject.Holes[i].Width-h.Width) > 1e-9 || math.Abs(more.Subject.Holes[i].Edge-h.Edge) > 1e-9 {
				t.Errorf("part %d: the hole %s changed with a remote hole", seed, h.Name)
			}
		}
	}
}

// TestSameAtAnyParallelism: the mill's parts give the same review with 1, 2 and 16 workers, from a cold pack.
func TestSameAtAnyParallelism(t *testing.T) {
	names, err := filepath.Glob("../testdata/mill/*.yaml")
	if err != nil || len(names) != 7 {
		t.Fatal(names, err)
	}
	var files []File
	for range 8 {
		for _, n := range names {
			b, err := os.ReadFile(n)
			if err != nil {
				t.Fatal(err)
			}
			files = append(files, fileOf(filepath.Base(n), b))
		}
	}
	var first string
	for _, workers := range []int{1, 2, 16} {
		r := Run(context.Background(), files, samples.StandardBook(t), Options{StatusAt: rules.Change, Workers: workers})
		var all strings.Builder
		for _, p := range r.Parts {
			fmt.Fprintln(&all, p.File, p.Grade, outcome(p))
			for _, f := range p.Findings {
				fmt.Fprintln(&all, f.ID, f.Says, f.At, f.Related)
			}
		}
		if first == "" {
			first = all.String()
		}
		if all.String() != first {
			t.Errorf("%d workers give another review than one", workers)
		}
	}
}

// TestGrouping: walls alike but for their length give one finding with all their places.
func TestGrouping(t *testing.T) {
	p := reviewed(t, samples.StandardBook(t), `units: mm
bodies: {ring: {circle: {diameter: 30}, from: 0, to: 6}}
cuts:
  bore:  {circle: {diameter: 28}}
  notch: {circle: {diameter: 2, at: [15, 0]}}
  nick:  {circle: {diameter: 2, at: [-4, 14.5]}}
`)
	var found []*Finding
	for _, f := range p.Findings {
		if f.Rule.Name == "wall-thickness" && slices.Equal(f.Subject.Place().Features, []string{"ring", "bore"}) {
			found = append(found, f)
		}
	}
	if len(found) != 1 || len(found[0].Places) != 2 {
		t.Errorf("%d findings on the ring's two walls: %+v", len(found), found)
	}
}
