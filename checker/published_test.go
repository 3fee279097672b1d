package checker

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"corerod/checker/internal/samples"
	"corerod/parts/subject"
	"corerod/rules"
)

// reviewed reviews one part written in a test and fails on problems.
func reviewed(t testing.TB, book *rules.Book, text string) *PartReview {
	t.Helper()
	r := Run(context.Background(), []File{fileOf("test.yaml", []byte("part: test\n"+text))}, book,
		Options{StatusAt: rules.Change, Workers: 1})
	if len(r.Unread) > 0 || len(r.Faults) > 0 {
		t.Fatalf("%v %v\n%s", r.Unread, r.Faults, text)
	}
	return r.Parts[0]
}

// grades returns the grades that a rule found, in order of place.
func grades(p *PartReview, rule string) (gs []string) {
	for _, f := range p.Findings {
		if f.Rule.Name == rule {
			gs = append(gs, string(f.Grade))
		}
	}
	return gs
}

func within(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if math.IsNaN(got) || math.Abs(got-want) > tolerance {
		t.Errorf("%s = %g, want %g within %g", what, got, want, tolerance)
	}
}

// Areas and masses of worked examples that were published with their answers, or whose statement was. The tolerance is
// half of the last digit printed.
func TestWorkedExamples(t *testing.T) {
	book := samples.StandardBook(t)
	const inch2, inch3, pound = 25.4 * 25.4, 25.4 * 25.4 * 25.4, 453.59237
	// Kalpakjian and Schmid, Manufacturing Processes for Engineering Materials, ch. 11, published with its answer:
	// gear blank 2.5 in across with a 0.75 in hub hole, 4.47 in2.
	p := reviewed(t, book,
		"units: in\nbodies: {blank: {circle: {diameter: 2.5}, from: 0, to: 0.5}}\ncuts: {hub: {circle: {diameter: 0.75}}}")
	within(t, "gear blank, in2", p.Subject.PlanArea/inch2, 4.47, 0.005)
	// Groover, Fundamentals of Modern Manufacturing, ch. 16, statement (the figure's sizes from memory): flange 2.8 in
	// outside, bore 0.875, height 1.25, counterbore 1.5 over the top 0.75; iron of 0.284 lb/in3 with 10 % pores.
	density := 0.9 * 0.284 * pound / (inch3 / 1000)
	p = reviewed(t, book, fmt.Sprintf(`units: in
material: {density: %v}
bodies: {flange: {circle: {diameter: 2.8}, from: 0, to: 1.25}}
cuts:
  bore:        {circle: {diameter: 0.875}}
  counterbore: {circle: {diameter: 1.5}, open: top, depth: 0.75}`, density))
	within(t, "flange, in2", p.Subject.PlanArea/inch2, 5.556, 0.0005)
	within(t, "flange, in3", p.Subject.Volume/inch3, 6.071, 0.0005)
	within(t, "flange, lb", p.Subject.Mass.Value/pound, 1.55, 0.005)
	// Groover, problem 16.9, from memory: bearing 44/22 x 25 mm, 1140.4 mm2.
	p = reviewed(t, book, "units: mm\nbodies: {bearing: {circle: {diameter: 44}, from: 0, to: 25}}\ncuts: {bore: {circle: {diameter: 22}}}")
	within(t, "bearing, mm2", p.Subject.PlanArea, 1140.4, 0.05)
}

// ISO 2795 (1991) lists bushes that are made every day: bore, outside, length in mm. Each may draw an ask, no more.
func TestStandardBushes(t *testing.T) {
	book := samples.StandardBook(t)
	bearings, err := rules.LoadBuiltin("plain-bearings")
	if err != nil {
		t.Fatal(err)
	}
	own, ps := rules.NewBook(bearings)
	if len(ps) > 0 {
		t.Fatal(ps)
	}
	for _, b := range [][3]float64{{1, 3, 2}, {4, 7, 6}, {8, 11, 12}, {10, 14, 16}, {15, 19, 25}, {20, 26, 30}, {30, 35, 40}} {
		p := reviewed(t, book,
			fmt.Sprintf("units: mm\nbodies: {bush: {circle: {diameter: %g}, from: 0, to: %g}}\ncuts: {bore: {circle: {diameter: %g}}}",
				b[1], b[2], b[0]))
		if p.Grade == rules.Stop || p.Grade == rules.Change {
			t.Errorf("bush %v: %s from %s", b, p.Grade, p.Findings[0].Rule.Name)
		}
		for _, f := range reviewed(t, own,
			fmt.Sprintf("units: mm\nbodies: {bush: {circle: {diameter: %g}, from: 0, to: %g}}\ncuts: {bore: {circle: {diameter: %g}}}",
				b[1], b[2], b[0])).Findings {
			if f.Rule.From == bearings {
				t.Errorf("bush %v draws %s from %s, which holds the standard's own sizes", b, f.Grade, f.Rule.Name)
			}
		}
		if !p.Subject.Walls[0].PlainBush {
			t.Errorf("bush %v is a plain bush", b)
		}
	}
}

// ring writes a ring that is no plain bush: a flat on its outside keeps it from being one.
func ring(wall, height float64) string {
	return fmt.Sprintf(
		"units: mm\nbodies: {ring: {flatted: {diameter: %v, flats: [%v]}, from: 0, to: %v}}\ncuts: {bore: {circle: {diameter: 20}}}",
		30.0, 10+wall, height)
}

func TestDoAndDoNot(t *testing.T) {
	book := samples.StandardBook(t)
	flange := func(rise float64, more string) string {
		return fmt.Sprintf(
			"units: mm\nbodies:\n  wide: {circle: {diameter: 60}, from: 0, to: %v}\n  high: {circle: {diameter: 40}, from: 0, to: 20}\ncuts: {bore: {circle: {diameter: 10}}}\n%s", 20-rise, more)
	}
	rim := func(edge string) string {
		return "units: mm\nmaterial: {density: 6.4}\nbodies: {disc: {circle: {diameter: 30}, from: 0, to: 10}}\nedges: {rim: {of: disc, face: top, " + edge + "}}"
	}
	boss := func(from float64, draft string) string {
		return fmt.Sprintf(
			"units: mm\nbodies: {disc: {circle: {diameter: 40}, from: 0, to: %v}, boss: {circle: {diameter: 6, at: [8, 0]}, from: %v, to: 20%s}}", from, from, draft)
	}
	hubbed := func(clear float64) string { // roots of 20 teeth of module 2 lie at a radius of 17.5
		return fmt.Sprintf(
			"units: mm\nbodies: {teeth: {gear: {module: 2, teeth: 20}, from: 0, to: 8}, hub: {circle: {diameter: %v}, from: 0, to: 14}}\ncuts: {bore: {circle: {diameter: 10}}}", 2*(17.5-clear))
	}
	letters := func(how string) string {
		return "units: mm\nseats: [disc.top]\nbodies: {disc: {circle: {diameter: 30}, from: 0, to: 10}}\nmarks: {name: {on: disc.top, " +
			how + ": 0.3, box: [0, 0, 6, 3], text: A}}"
	}
	toothed := func(gear string) string {
		return "units: mm\nbodies: {teeth: {gear: {" + gear + ", tip_radius: 0.02}, from: 0, to: 5}}"
	}
	for _, c := range []struct {
		id, source, text, rule string
		want                   []string
	}{
		{"wall 1.2 at height 6", "kalpakjian 17.6 prints 1.5", ring(1.2, 6), "wall-thickness", []string{"ask"}},
		{"wall 0.6 at height 4", "practice: 0.8 by agreement", ring(0.6, 4), "wall-thickness", []string{"change"}},
		{"wall 2.0 at height 10", "kalpakjian 17.6", ring(2, 10), "wall-thickness", nil},
		{"wall 1.5 at height 18", "kalpakjian 17.6 prints 8:1", ring(1.5, 18), "wall-slenderness", []string{"ask"}},
		{"wall 1.5 at height 10", "kalpakjian 17.6", ring(1.5, 10), "wall-slenderness", nil},
		{"12 mm from one direction", "asm7 prints 7.5", "units: mm\npressing: top\nbodies: {disc: {circle: {diameter: 30}, from: 0, to: 12}}", "pressed-height", []string{"change"}},
		{"6 mm from one direction", "asm7", "units: mm\npressing: top\nbodies: {disc: {circle: {diameter: 30}, from: 0, to: 6}}", "pressed-height", nil},
		{"radial hole of 3 mm left to pressing", "pm-intro, kalpakjian", flange(4, "sides: {oil: {hole: {diameter: 3, toward: 0, z: 8}, in: high}}"), "cross-feature", []string{"stop"}},
		{"the same, machined", "pm-intro, kalpakjian", flange(4, "sides: {oil: {hole: {diameter: 3, toward: 0, z: 8}, in: high, made_by: machining}}"), "cross-feature", nil},
		{"thread left to pressing", "asm7", flange(4, "sides: {thread: {thread: {size: M6, inside: true}, in: bore}}"), "cross-feature", []string{"stop"}},
		{"straight knurl", "practice", flange(4, "sides: {grip: {knurl: {pattern: straight}, in: wide}}"), "cross-feature", nil},
		{"crossed knurl", "practice", flange(4, "sides: {grip: {knurl: {pattern: crossed}, in: wide}}"), "cross-feature", []string{"stop"}},
		{"hole 1.0 by 8 deep", "practice prints 1.5", "units: mm\nbodies: {disc: {circle: {diameter: 30}, from: 0, to: 8}}\ncuts: {pin: {circle: {diameter: 1}}}", "bore-width", []string{"change"}},
		{"hole 2 by 6 deep", "practice", "units: mm\nbodies: {disc: {circle: {diameter: 30}, from: 0, to: 6}}\ncuts: {pin: {circle: {diameter: 2}}}", "bore-width", nil},
		{"hole 2 by 6 deep, slenderness", "from memory: 3 diameters up to 3 mm", "units: mm\nbodies: {disc: {circle: {diameter: 30}, from: 0, to: 6}}\ncuts: {pin: {circle: {diameter: 2}}}", "bore-slenderness", nil},
		{"45 degree bevel with no flat", "pm-intro", rim("chamfer: {width: 0.5, slope: 45}"), "chamfer-flat", []string{"change"}},
		{"the same with a flat of 0.2", "pm-intro", rim("chamfer: {width: 0.5, slope: 45, flat: 0.2}"), "chamfer-flat", nil},
		{"its slope at 6.4 g/cm3", "practice: 45 from the face", rim("chamfer: {width: 0.5, slope: 45, flat: 0.2}"), "chamfer-slope", nil},
		{"full radius on an end face", "pm-intro, bralla", rim("round: {radius: 1}"), "edge-round", []string{"change"}},
		{"chamfer 0.5 x 45 with a flat", "pm-intro, bralla", rim("chamfer: {width: 0.5, slope: 45, flat: 0.25}"), "edge-round", nil},
		{"sharp plan corner", "pm-intro", "units: mm\nbodies: {plate: {rectangle: {length: 30, width: 20}, from: 0, to: 8}}", "corner-radius", []string{"change"}},
		{"plan corner of 0.5", "pm-intro", "units: mm\nbodies: {plate: {rectangle: {length: 30, width: 20, corner: 0.5}, from: 0, to: 8}}", "corner-radius", nil},
		{"boss 5 high, no draft: height", "mpif-design prints 15 %", boss(15, ""), "boss-height", []string{"change"}},
		{"boss 5 high, no draft: draft", "mpif-design prints 12 deg", boss(15, ""), "boss-draft", []string{"change"}},
		{"boss 3 high at 12 degrees: height", "mpif-design", boss(17, ", draft: {angle: 12, narrows: up}"), "boss-height", nil},
		{"boss 3 high at 12 degrees: draft", "mpif-design", boss(17, ", draft: {angle: 12, narrows: up}"), "boss-draft", nil},
		{"hub 0.8 from the tooth roots", "mpif-design, no number", hubbed(0.8), "root-wall", []string{"change"}},
		{"hub 2.0 from the tooth roots", "mpif-design, no number", hubbed(2), "root-wall", nil},
		{"hub 0.8 from the tooth roots is no punch wall too", "one fault, one finding", hubbed(0.8), "punch-wall", nil},
		{"letters raised 0.3 on a seat", "bralla", letters("raised"), "mark-seating", []string{"ask"}},
		{"letters recessed", "bralla", letters("recessed"), "mark-seating", nil},
		{"ball bush with a band", "iso2795", "units: mm\nbodies: {ball: {ball: {diameter: 20, band: 6}}}\ncuts: {bore: {circle: {diameter: 8}}}", "ball-band", nil},
		{"ball bush without a band", "iso2795", "units: mm\nbodies: {ball: {ball: {diameter: 20}}}\ncuts: {bore: {circle: {diameter: 8}}}", "ball-band", []string{"change"}},
		{"gear of module 0.4", "agma-pm prints 48 DP", toothed("module: 0.4, teeth: 40"), "gear-module", []string{"ask"}},
		{"gear of module 0.8", "agma-pm", toothed("module: 0.8, teeth: 40"), "gear-module", nil},
		{"gear of module 0.2", "practice: 0.25 with care", toothed("module: 0.2, teeth: 40"), "gear-module", []string{"change"}},
		{"helix of 35 degrees", "practice", toothed("module: 1, teeth: 40, helix: 35, hand: left"), "helix-angle", []string{"ask"}},
		{"helix of 20 degrees", "practice", toothed("module: 1, teeth: 40, helix: 20, hand: left"), "helix-angle", nil},
	} {
		p := reviewed(t, book, c.text)
		if got := grades(p, c.rule); !slices.Equal(got, c.want) {
			t.Errorf("%s (%s): %s finds %q, want %q", c.id, c.source, c.rule, got, c.want)
		}
	}
	// A counterbore open to the top, 8 deep on a height of 20, its own upper punch, ledge 3 (groover, from memory): clear.
	p := reviewed(t, book,
		"units: mm\nbodies: {hub: {circle: {diameter: 40}, from: 0, to: 20}}\ncuts:\n  bore: {circle: {diameter: 10}}\n  counterbore: {circle: {diameter: 16}, open: top, depth: 8, punch: own}")
	if p.Grade != "" {
		t.Errorf("the counterbore draws %s from %s", p.Grade, p.Findings[0].Rule.Name)
	}
	within(t, "ledge", p.Subject.Steps[0].Ledge, 3, 1e-9)
	if !p.Subject.Steps[0].OwnPunch || p.Subject.PunchesTop+p.Subject.PunchesBottom != 3 {
		t.Errorf("the counterbore's step is %+v, %v punches", p.Subject.Steps[0], p.Subject.PunchesTop)
	}
	// A step of 3.0 on a height of 20 needs no punch of its own, 4.0 does (kalpakjian item 5, bralla: 15 %).
	for rise, own := range map[float64]bool{3: false, 4: true} {
		p := reviewed(t, book, flange(rise, ""))
		if st := p.Subject.Steps[0]; st.OwnPunch != own || p.Subject.PunchesTop+p.Subject.PunchesBottom != map[bool]float64{false: 2, true: 3}[own] {
			t.Errorf("a step of %g: %+v, %v punches", rise, st, p.Subject.PunchesTop+p.Subject.PunchesBottom)
		}
		for _, f := range p.Findings { // the case is about the punch; that a wall in a punch face wants draft is another rule
			if f.Rule.Name != "step-draft" || own {
				t.Errorf("a step of %g draws %s from %s", rise, f.Grade, f.Rule.Name)
			}
		}
	}
	// The machined hole leaves one note of the operation.
	p = reviewed(t, book, flange(4, "sides: {oil: {hole: {diameter: 3, toward: 0, z: 8}, in: high, made_by: machining}}"))
	if len(p.Notes) != 1 || !strings.Contains(p.Notes[0].Says, "oil") || p.Notes[0].Kind != "crossing" {
		t.Errorf("notes: %+v", p.Notes)
	}
	// Published at the groove: ring groove as stacked bodies (asm7), with its z-range.
	p = reviewed(t, book,
		"units: mm\nbodies:\n  foot: {circle: {diameter: 40}, from: 0, to: 6}\n  neck: {circle: {diameter: 38}, from: 6, to: 8}\n  head: {circle: {diameter: 40}, from: 8, to: 14}")
	if got := grades(p, "trapped-undercut"); !slices.Equal(got, []string{"stop"}) {
		t.Errorf("the groove: %q", got)
	}
	tr := p.Findings[0].Subject.(*subject.Trap)
	within(t, "groove z", tr.ZLow, 6, 1e-9)
	within(t, "groove area", tr.Area, math.Pi*(400-361), 1e-9)
}
