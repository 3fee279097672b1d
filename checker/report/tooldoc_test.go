package report

import (
	"fmt"
	"math"
	"os"
	"strings"
	"testing"

	"corerod/checker"
	"corerod/checker/report/reporttest"
	"corerod/parts/stock"
	"corerod/parts/tooling"
)

const toolingDoc = "../../docs/tooling.md"

// TestToolingDoc: docs/tooling.md works one part by hand; the sums are done here step by step, from the drawing's numbers
// and the pack's figures, and the layout must agree with each. COREROD_UPDATE=1 writes what is generated.
func TestToolingDoc(t *testing.T) {
	text, err := os.ReadFile(toolingDoc)
	if err != nil {
		t.Fatal(err)
	}
	_, part, _ := strings.Cut(string(text), "```yaml\n")
	part, _, _ = strings.Cut(part, "```")
	d, ps := checker.Read("flanged-hub.yaml", []byte(part), reporttest.Book(t))
	if len(ps) > 0 {
		t.Fatal(ps)
	}
	plot, table := heightRule(t)
	want := between(t, between(t, string(text), "worked", worked(t, d)), "compared", table)
	for file, content := range map[string]string{toolingDoc: want, "../../docs/height-rule.svg": plot} {
		if os.Getenv("COREROD_UPDATE") != "" {
			if err := os.WriteFile(file, []byte(content), 0o644); err != nil {
				t.Fatal(err)
			}
		}
		got, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		if string(got) != content {
			t.Errorf("%s is stale; run COREROD_UPDATE=1 go test ./checker/report", file)
		}
	}
}

// between replaces what stands between two marks of a page.
func between(t *testing.T, text, mark, content string) string {
	t.Helper()
	before, after, ok := strings.Cut(text, "<!-- "+mark+" -->\n")
	_, rest, end := strings.Cut(after, "<!-- end -->")
	if !ok || !end {
		t.Fatalf("docs/tooling.md has no mark %s", mark)
	}
	return before + "<!-- " + mark + " -->\n" + content + "<!-- end -->" + rest
}

// worked does the sums for the flanged hub and compares each with the layout. It is long because it follows the page, sum after sum.
func worked(t *testing.T, d *checker.Derived) string {
	t.Helper()
	var b strings.Builder
	l := d.Layout
	check := func(what string, got, sum float64) {
		t.Helper()
		if math.Abs(got-sum) > 1e-9*math.Max(1, math.Abs(sum)) {
			t.Errorf("%s: the layout says %.12g, by hand it is %.12g", what, got, sum)
		}
	}
	say := func(format string, args ...any) { fmt.Fprintf(&b, "- "+format+"\n", args...) }
	green := 6.8 * math.Pow(1.004/1.0015, 3) / (1 - 0.0075)
	check("green density", l.Green.Value, green)
	q := green / 3.0
	check("ratio", l.Ratio.Value, q)
	say("Members: a die, one upper punch, two lower punches (the step of 12 mm is 60 %% of the height), one core rod. N = 2, class III.")
	say("Green density: 6.8 (1.004 / 1.0015)^3 / 0.9925 = %.4f. Q = %.4f / 3.0 = %.4f.", green, green, q)
	hub, flange := math.Pi/4*(30*30-15*15), math.Pi/4*(60*60-30*30)
	say("Areas: hub pi/4 (30^2 - 15^2) = %.1f, flange pi/4 (60^2 - 30^2) = %.1f.", hub, flange)
	say("Fills: hub 20 Q = %.2f, flange 8 Q = %.2f; strokes %.2f and %.2f.", 20*q, 8*q, 20*q-20, 8*q-8)
	mean := 400 + (green-6.70)/(6.93-6.70)*100
	check("mean pressure", l.Mean.Value, mean)
	say("Mean pressure: the curve has 6.70 at 400 and 6.93 at 500 MPa: 400 + 100 (%.4f - 6.70) / 0.23 = %.1f.", green, mean)
	// The hub's column is bare outside up to the flange; above it powder touches powder. The bore is bare all along.
	sHub, sFlange := math.Pi*30*12+math.Pi*15*20, math.Pi*60*8
	aHub, aFlange := 0.1*0.5*sHub/hub, 0.1*0.5*sFlange/flange
	say("Walls: hub pi 30 x 12 + pi 15 x 20 = %.1f, since above 12 mm powder touches powder; flange pi 60 x 8 = %.1f.", sHub, sFlange)
	say("a = 0.10 x 0.5 x S / A: hub %.4f, flange %.4f.", aHub, aFlange)
	face := func(a float64) float64 { return mean * (a / 2) / (1 - math.Exp(-a/2)) }
	say("Face pressure, both ends: (a/2) / (1 - exp(-a/2)): hub %.1f, flange %.1f.", face(aHub), face(aFlange))
	fHub, fFlange := face(aHub)*hub/1000, face(aFlange)*flange/1000
	say("Forces: lower punches %.1f and %.1f, upper punch and press %.1f.", fHub, fFlange, fHub+fFlange)
	check("press force", l.Force.Value, fHub+fFlange)
	for _, m := range l.Of(tooling.LowerPunch) {
		area, force, fill := hub, fHub, 20*q
		if m.Name == "flange bottom" {
			area, force, fill = flange, fFlange, 8*q
		}
		check("area of "+m.Name, m.Area.Value, area)
		check("force at "+m.Name, m.Force.Value, force)
		check("fill of "+m.Name, m.Fill.Value, fill)
	}
	for _, c := range l.Columns {
		a := aFlange
		if c.Height == 20 {
			a = aHub
			low := face(a) * math.Exp(-a/2)
			density := func(p float64) float64 { // between the curve's points at 400, 500 and 600 MPa
				if p < 500 {
					return 6.70 + (p-400)/100*0.23
				}
				return 6.93 + (p-500)/100*0.15
			}
			say("Density along the hub: %.1f MPa at the faces gives %.3f, %.1f x exp(-%.4f) = %.1f at mid-height %.3f: spread %.3f.",
				face(a),
				density(face(a)),
				face(a), a/2, low, density(low), density(face(a))-density(low))
			check("spread", c.Spread.Value, density(face(a))-density(low))
		}
		check("a of "+c.Name, c.Decay.Value, a)
	}
	die, core := math.Pi*60*8, math.Pi*15*20 // the hub slides on the flange's lower punch, which goes along
	check("die walls", l.DieWall, die)
	check("core walls", l.CoreWall, core)
	ejection := 0.1 * 0.25 * mean * (die + core) / 1000
	check("ejection", l.Ejection.Value, ejection)
	say("Ejection: 0.1 x 0.25 x %.1f on pi 60 x 8 + pi 15 x 20 = %.1f mm2: %.1f. The hub slides on the flange's lower punch, which goes "+
		"along.", mean, die+core, ejection)
	say("Die for the flange: 60 / 1.004 = %.4f; core rod 15 / 1.004 = %.4f.", 60/1.004, 15/1.004)
	for _, s := range l.Sizes {
		check("die size for "+s.Of, s.Cavity.Value, s.Final/1.004)
	}
	say(
		"A press must offer %.1f / 0.8 = %.0f kN of capacity, a fill of %.2f mm, %.1f kN and a stroke of 20 mm for ejection, one upper and "+
			"two lower punches.",
		fHub+fFlange, (fHub+fFlange)/0.8, 20*q, ejection)
	check("capacity", l.Press.Capacity.Value, (fHub+fFlange)/0.8)
	return b.String()
}

// heightRule finds, for three frictions of the range that was measured, the height at which the density of a cylinder
// pressed from one end falls by 0.3 g/cm3, and the diameter at which that is 7.5 mm.
func heightRule(t *testing.T) (plot, table string) {
	t.Helper()
	c, ok := reporttest.Book(t).Curve("atomised-iron")
	if !ok {
		t.Fatal("no curve")
	}
	spread := func(a float64) float64 {
		p := tooling.Along(a, 0)
		return densityAt(t, &c, 500*p.Top) - densityAt(t, &c, 500*p.Least)
	}
	lo, hi := 0.0, 0.6
	for range 60 {
		if mid := (lo + hi) / 2; spread(mid) < 0.3 {
			lo = mid
		} else {
			hi = mid
		}
	}
	const k = 0.5
	frictions := []float64{0.06, 0.10, 0.14}
	var b strings.Builder
	fmt.Fprintf(&b, "It falls so far where a = %.3f: H = %.3f D / (4 x friction x 0.5).\n\n", lo, lo)
	b.WriteString("| friction | D 5 | D 10 | D 20 | D 40 | the rule's 7.5 mm at D |\n|---|---|---|---|---|---|\n")
	for _, f := range frictions {
		fmt.Fprintf(&b, "| %.2f |", f)
		for _, d := range []float64{5, 10, 20, 40} {
			fmt.Fprintf(&b, " %.1f |", lo*d/(4*f*k))
		}
		fmt.Fprintf(&b, " %.1f |\n", 7.5*4*f*k/lo)
	}
	return heightPlot(lo, k, frictions), b.String()
}

func densityAt(t *testing.T, c *stock.Curve, p float64) float64 {
	t.Helper()
	d, ok := c.Density(p)
	if !ok {
		t.Fatalf("%g MPa is past the curve", p)
	}
	return d
}

// heightPlot draws the heights over the diameter: 10 mm of diameter are 120 units, 10 mm of height 60.
func heightPlot(a, k float64, frictions []float64) string {
	const left, bottom, most = 50, 330, 40.0
	x := func(d float64) float64 { return left + 12*d }
	y := func(h float64) float64 { return bottom - 6*h }
	var b strings.Builder
	b.WriteString(`<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 640 380" font-family="sans-serif" font-size="13" role="img">` +
		"\n")
	b.WriteString(`<title>Height at which the density has fallen by 0.3 g/cm3</title>` + "\n" +
		`<rect width="640" height="380" fill="white"/>` + "\n")
	fmt.Fprintf(&b, `<path d="M%g %gV%gH%g" fill="none" stroke="black"/>`+"\n", x(0), y(50), y(0), x(most))
	for d := 0.0; d <= most; d += 10 {
		fmt.Fprintf(&b, `<text x="%g" y="%g" text-anchor="middle">%g</text>`+"\n", x(d), y(0)+18, d)
	}
	for h := 10.0; h <= 50; h += 10 {
		fmt.Fprintf(&b, `<text x="%g" y="%g" text-anchor="end">%g</text>`+"\n", x(0)-6, y(h)+4, h)
	}
	fmt.Fprintf(&b, `<text x="%g" y="%g" text-anchor="middle">diameter, mm</text>`+"\n", x(20), y(0)+40)
	fmt.Fprintf(&b, `<text x="14" y="%g" transform="rotate(-90 14 %g)" text-anchor="middle">height, mm</text>`+"\n", y(25), y(25))
	fmt.Fprintf(&b, `<path d="M%g %gH%g" stroke="black" stroke-dasharray="6 4"/>`+"\n", x(0), y(7.5), x(most))
	fmt.Fprintf(&b, `<text x="%g" y="%g" text-anchor="end">7.5 mm</text>`+"\n", x(most), y(7.5)+16)
	for i, f := range frictions {
		slope := a / (4 * f * k)
		d := math.Min(most, 50/slope)
		fmt.Fprintf(&b, `<path d="M%g %gL%.2f %.2f" stroke="black" stroke-width="%g"/>`+"\n", x(0), y(0), x(d),
			y(d*slope), 1+0.7*float64(i))
		fmt.Fprintf(&b, `<text x="%.2f" y="%.2f">friction %.2f</text>`+"\n", math.Min(x(d)+4, x(most)+6), y(d*slope)+4, f)
	}
	return b.String() + "</svg>\n"
}
