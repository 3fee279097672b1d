package checker

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"corerod/checker/internal/samples"
	"corerod/rules"
)

// atLimit is a way to draw a part whose measure is off a limit by the given length, mm; a negative one misses it.
type atLimit struct {
	name, rule string
	grade      string // of the finding where the limit is missed
	draw       func(rng *rand.Rand, off float64, l func(float64) string) string
}

var limitCases = []atLimit{
	{"wall to the outside, 1.5", "wall-thickness", "ask", func(rng *rand.Rand, off float64, l func(float64) string) string {
		r, w := 5+10*rng.Float64(), 1.5+off
		return fmt.Sprintf("bodies: {plate: {rectangle: {length: %s, width: %s}, from: 0, to: %s}}\ncuts: {eye: {circle: {diameter: %s}}}",
			l(60), l(2*(r+w)), l(6), l(2*r))
	}},
	{"web between two bores, 0.8", "wall-thickness", "change", func(rng *rand.Rand, off float64, l func(float64) string) string {
		r, s := 3+3*rng.Float64(), 3+3*rng.Float64()
		x := 4 * rng.Float64()
		return fmt.Sprintf(
			"bodies: {plate: {circle: {diameter: %s}, from: 0, to: %s}}\ncuts:\n  a: {circle: {diameter: %s, at: [%s, 0]}}\n  b: {circle: {diameter: %s, at: [%s, 0]}}",
			l(60), l(5), l(2*r), l(x-r), l(2*s), l(x+0.8+off+s))
	}},
	{"height over wall, 16", "wall-slenderness", "change", func(rng *rand.Rand, off float64, l func(float64) string) string {
		w := 1.6 + rng.Float64()
		return fmt.Sprintf(
			"bodies: {plate: {rectangle: {length: %s, width: %s}, from: 0, to: %s}}\ncuts: {eye: {rectangle: {length: %s, width: %s}}}",
			l(60), l(20+2*w), l(16*w-off), l(40), l(20))
	}},
	{"height over wall, 8", "wall-slenderness", "ask", func(rng *rand.Rand, off float64, l func(float64) string) string {
		w := 1.6 + rng.Float64()
		return fmt.Sprintf(
			"bodies: {plate: {rectangle: {length: %s, width: %s}, from: 0, to: %s}}\ncuts: {eye: {rectangle: {length: %s, width: %s}}}",
			l(60), l(20+2*w), l(8*w-off), l(40), l(20))
	}},
	{"height over width, 3", "part-slenderness", "change", func(rng *rand.Rand, off float64, l func(float64) string) string {
		w := 5 + 10*rng.Float64()
		return fmt.Sprintf("bodies: {plate: {rectangle: {length: %s, width: %s}, from: 0, to: %s}}", l(w+9), l(w), l(3*w-off))
	}},
	{"pressed from the top, 7.5", "pressed-height", "change", func(rng *rand.Rand, off float64, l func(float64) string) string {
		return fmt.Sprintf("pressing: top\nbodies: {disc: {circle: {diameter: %s}, from: %s, to: %s}}",
			l(20+20*rng.Float64()), l(-3), l(4.5-off))
	}},
	{"bore, 1.5", "bore-width", "change", func(rng *rand.Rand, off float64, l func(float64) string) string {
		return fmt.Sprintf("bodies: {disc: {circle: {diameter: %s}, from: 0, to: %s}}\ncuts: {pin: {circle: {diameter: %s, at: [%s, 0]}}}",
			l(40), l(4+rng.Float64()), l(1.5+off), l(8*rng.Float64()))
	}},
	{"depth of a bore up to 3, 3", "bore-slenderness", "ask", func(rng *rand.Rand, off float64, l func(float64) string) string {
		d := 1.6 + 1.3*rng.Float64()
		return fmt.Sprintf("bodies: {disc: {circle: {diameter: %s}, from: 0, to: %s}}\ncuts: {pin: {circle: {diameter: %s}}}",
			l(40), l(3*d-off), l(d))
	}},
	{"slot, 1.5", "gap-width", "ask", func(rng *rand.Rand, off float64, l func(float64) string) string {
		return fmt.Sprintf(
			"bodies: {disc: {circle: {diameter: %s}, from: 0, to: %s}}\ncuts: {slit: {slot: {length: %s, width: %s, turn: %v}}}",
			l(40), l(4), l(8+4*rng.Float64()), l(1.5+off), 360*rng.Float64())
	}},
	{"corner radius, 0.25", "corner-radius", "ask", func(rng *rand.Rand, off float64, l func(float64) string) string {
		return fmt.Sprintf("bodies: {plate: {rectangle: {length: %s, width: %s, corner: %s, turn: %v}, from: 0, to: %s}}",
			l(20+rng.Float64()), l(16), l(0.25+off), 360*rng.Float64(), l(4))
	}},
	{"corner radius, 0.1", "corner-radius", "change", func(rng *rand.Rand, off float64, l func(float64) string) string {
		return fmt.Sprintf("bodies: {plate: {rectangle: {length: %s, width: %s, corner: %s, turn: %v}, from: 0, to: %s}}",
			l(20+rng.Float64()), l(16), l(0.1+off), 360*rng.Float64(), l(4))
	}},
}

// TestAtTheLimit draws 2,000 parts exactly at a limit, in mm and in inches: none gets that finding. A millionth of a
// millimetre beyond, each does.
func TestAtTheLimit(t *testing.T) {
	book := samples.StandardBook(t)
	n := 2000
	if testing.Short() {
		n = 220
	}
	rng := rand.New(rand.NewPCG(3, 5))
	for i := range n {
		c := limitCases[i%len(limitCases)]
		unit, inch := "mm", 1.0
		if i/len(limitCases)%2 == 1 {
			unit, inch = "in", 25.4
		}
		l := func(mm float64) string { return fmt.Sprintf("%.17g", mm/inch) }
		seed := rng.Uint64()
		draw := func(off float64) *PartReview {
			return reviewed(t, book, "units: "+unit+"\n"+c.draw(rand.New(rand.NewPCG(seed, 1)), off, l))
		}
		if worst := worstOf(draw(0), c.rule); worst == c.grade || rules.Grade(worst).Worse(rules.Grade(c.grade)) {
			t.Errorf("%s, drawn in %s at the limit: %s", c.name, unit, worst)
		}
		if worst := worstOf(draw(-1e-6), c.rule); worst != c.grade {
			t.Errorf("%s, drawn in %s 1e-6 mm beyond: %q, want %q", c.name, unit, worst, c.grade)
		}
	}
}

// worstOf is the worst grade that a rule found; "" for none.
func worstOf(p *PartReview, rule string) (worst string) {
	for _, g := range grades(p, rule) {
		if worst == "" || rules.Grade(g).Worse(rules.Grade(worst)) {
			worst = g
		}
	}
	return worst
}

// TestStepAtTheLimit: a step of exactly 15 % of the height stays in the punch face; a millionth more does not.
func TestStepAtTheLimit(t *testing.T) {
	book := samples.StandardBook(t)
	rng := rand.New(rand.NewPCG(8, 5))
	for range 100 {
		h := 10 + 20*rng.Float64()
		for off, own := range map[float64]bool{0: false, 1e-6: true} {
			for unit, inch := range map[string]float64{"mm": 1, "in": 25.4} {
				p := reviewed(t, book,
					fmt.Sprintf(
						"units: %s\nbodies:\n  wide: {circle: {diameter: %.17g}, from: 0, to: %.17g}\n  high: {circle: {diameter: %.17g}, from: 0, to: %.17g}",
						unit, 60/inch, (h-0.15*h-off)/inch, 40/inch, h/inch))
				if st := p.Subject.Steps[0]; st.OwnPunch != own {
					t.Errorf("height %g %s, off by %g: own punch %v, share %.15g", h, unit, off, st.OwnPunch, st.Share)
				}
			}
		}
	}
}
