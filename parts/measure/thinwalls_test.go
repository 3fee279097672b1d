package measure

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"testing"

	"corerod/parts/form"
	"corerod/parts/subject"
)

// TestThinWalls: a wall between drawn features is measured as thick as it is drawn, however thin, also where other outlines cut it off
// from all that is beside it.
func TestThinWalls(t *testing.T) {
	const plate = "a: {rectangle: {length: 60, width: 40}, from: 0, to: 10}"
	pair := func(profile string, size, gap float64) string {
		return fmt.Sprintf("b: {%[1]s, at: [%[2]v, 0]}}, c: {%[1]s, at: [%[3]v, 0]}}", profile, -(size+gap)/2, (size+gap)/2)
	}
	for _, c := range []struct {
		name, bodies, cuts, wall string
		thick                    float64
	}{
		{"two bores", plate, pair("circle: {diameter: 12", 12, 0.003), "b to c", 0.003},
		{"two bores with a rib over the wall", plate + ", r: {rectangle: {length: 4, width: 0.1}, from: 0, to: 12}",
			pair("circle: {diameter: 12", 12, 0.003), "b to c", 0.003},
		{"two bores with a groove over the wall", plate, pair("circle: {diameter: 12", 12, 0.003) +
			", g: {rectangle: {length: 4, width: 0.1}, open: top, depth: 2}", "b to c", 0.003},
		{"two pockets", plate, pair("rectangle: {length: 12, width: 12", 12, 0.002), "b to c", 0.002},
		{"two pockets with a rib over the wall", plate + ", r: {rectangle: {length: 20, width: 8}, from: 0, to: 12}",
			pair("rectangle: {length: 12, width: 12", 12, 0.003), "b to c", 0.003},
		{"two pockets with a rib over half of the wall", plate + ", r: {rectangle: {length: 20, width: 8, at: [10, 0]}, from: 0, to: 12}",
			pair("rectangle: {length: 12, width: 12", 12, 0.003), "b to c", 0.0015},
		{"a bore and the outline", "a: {circle: {diameter: 40}, from: 0, to: 10}", "b: {circle: {diameter: 12, at: [13.998, 0]}}", "a to b", 0.002},
		{"a pocket and the outline", plate, "b: {rectangle: {length: 12, width: 12, at: [23.998, 0]}}", "a to b", 0.002},
		{"a thin tube", "a: {circle: {diameter: 40}, from: 0, to: 10}", "b: {circle: {diameter: 39.994}, open: top, depth: 8}", "a to b", 0.003},
	} {
		for _, units := range []string{"mm", "in"} {
			features := "bodies: {" + c.bodies + "}\ncuts: {" + c.cuts + "}\n"
			if units == "in" {
				features = inInches(features, "%.12f")
			}
			p, ps := form.Parse("t.yaml", []byte("part: a\nunits: "+units+"\n"+features))
			if len(ps) > 0 {
				t.Fatal(c.name, ps)
			}
			m, ps := Part(p)
			if len(ps) > 0 {
				t.Errorf("%s in %s: %v", c.name, units, ps)
				continue
			}
			least := math.Inf(1)
			for _, w := range m.Subject.Walls {
				least = math.Min(least, w.Thickness)
			}
			if math.Abs(least-c.thick) > 2e-6 {
				t.Errorf("%s in %s: the thinnest wall is %g mm, want %g", c.name, units, least, c.thick)
			}
		}
	}
}

// inInches is a text whose numbers are all lengths in mm, in inches.
func inInches(text, format string) string {
	return regexp.MustCompile(`-?\d+(\.\d+)?`).ReplaceAllStringFunc(text, func(mm string) string {
		v, _ := strconv.ParseFloat(mm, 64)
		return fmt.Sprintf(format, v/25.4)
	})
}

// TestRoundedInInches: features that coincide but for numbers in inches rounded to four decimals measure as if they coincided.
func TestRoundedInInches(t *testing.T) {
	for _, c := range []struct{ name, features string }{
		{"a hub and the recess under it", "bodies: {a: {circle: {diameter: 41.3}, from: 0, to: 9.7}, h: {circle: {diameter: 17.3}, from: 0, to: 15.1}}\n" +
			"cuts: {r: {circle: {diameter: 17.3}, open: bottom, depth: 4.1}}"},
		{"an ear on a side", "bodies: {a: {rectangle: {length: 37.3, width: 21.7}, from: 0, to: 8.3}, e: {rectangle: {length: 7.7, width: 21.7, " +
			"at: [22.5, 0]}, from: 0, to: 5.9}}"},
		{"a plate drawn in three", "bodies: {a: {rectangle: {length: 12.43, width: 21.7, at: [-12.43, 0]}, from: 0, to: 8.3}, " +
			"b: {rectangle: {length: 12.43, width: 21.7}, from: 0, to: 8.3}, c: {rectangle: {length: 12.43, width: 21.7, at: [12.43, 0]}, from: 0, to: 8.3}}"},
	} {
		made := func(units, features string) *subject.Part {
			p, ps := form.Parse("t.yaml", []byte("part: a\nunits: "+units+"\n"+features+"\n"))
			if len(ps) > 0 {
				t.Fatal(c.name, ps)
			}
			m, ps := Part(p)
			if len(ps) > 0 {
				t.Fatal(c.name, ps)
			}
			return m.Subject
		}
		p, q := made("mm", c.features), made("in", inInches(c.features, "%.4f"))
		if len(p.Walls) != len(q.Walls) || len(p.Levels) != len(q.Levels) || len(p.Steps) != len(q.Steps) || len(p.Corners) != len(q.Corners) {
			t.Errorf("%s: %d walls, %d levels, %d steps and %d corners in mm, %d, %d, %d and %d in inches", c.name, len(p.Walls),
				len(p.Levels), len(p.Steps), len(p.Corners), len(q.Walls), len(q.Levels), len(q.Steps), len(q.Corners))
		}
		for _, x := range [][2]float64{{p.Width, q.Width}, {p.Outside, q.Outside}, {math.Sqrt(p.PlanArea), math.Sqrt(q.PlanArea)}} {
			if math.Abs(x[0]-x[1]) > 0.008 {
				t.Errorf("%s: %g mm, in inches %g", c.name, x[0], x[1])
			}
		}
	}
}

// TestNothingShrinks: what stands out by less than 4 micrometres is not taken away.
func TestNothingShrinks(t *testing.T) {
	p := made(t, "bodies: {a: {rectangle: {length: 20, width: 30}, from: 0, to: 10}, b: {rectangle: {length: 20.006, width: 29}, from: 0, to: 12}}")
	near(t, "the width", p.Width, 20.006)
	p = made(t, "bodies: {a: {circle: {diameter: 40}, from: 0, to: 10}, b: {circle: {diameter: 40.006}, from: 2, to: 12}}")
	near(t, "the outside", p.Outside, 40.006)
}

// TestSlitAcrossARecess: a slit as wide as the least that is drawn keeps its width outside a recess that it crosses.
func TestSlitAcrossARecess(t *testing.T) {
	p := made(t, "bodies: {d: {rectangle: {length: 400, width: 400}, from: 0, to: 100}}\n"+
		"cuts: {s: {rectangle: {length: 300, width: 0.004}}, p: {circle: {diameter: 200}, open: top, depth: 10}}\n")
	near(t, "plan", p.PlanArea, 400*400-300*0.004)
}
