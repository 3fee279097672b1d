package measure

import (
	"math"
	"os"
	"path/filepath"
	"testing"

	"corerod/parts"
	"corerod/parts/form"
	"corerod/parts/subject"
)

// FuzzPart: a part file that reads well has either problems or a shape whose measures are finite, and above zero
// where they are declared so; volumes and areas fit each other.
func FuzzPart(f *testing.F) {
	mill, err := filepath.Glob("../../testdata/mill/*.yaml")
	if err != nil || len(mill) == 0 {
		f.Fatal("no demo parts", err)
	}
	for _, name := range mill {
		b, err := os.ReadFile(name)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(b)
	}
	for _, s := range []string{
		"bodies: {a: {rectangle: {length: 20, width: 10, corner: 2}, from: 0, to: 5}}\ncuts: {b: {slot: {length: 9, width: 3, turn: 30}}, c: {hexagon: {across_flats: 4, at: [6, 0]}, open: top, depth: 2}}",
		"bodies: {a: {polygon: {points: [[0, 0], [20, 0], [20, 8], [9, 8], [9, 20], [0, 20]], corner: 0.4}, from: 0, to: 5}}\ncuts: {b: {flatted: {diameter: 6, flats: [2], at: [5, 5]}}}",
		"bodies: {a: {circle: {diameter: 30}, from: 0, to: 9}, b: {circle: {diameter: 10, at: [10, 0]}, from: 0, to: 12, repeat: {count: 3}}}\ncuts: {c: {circle: {diameter: 22}, from: 3, to: 5}}",
		"bodies: {a: {circle: {diameter: 30}, from: 0, to: 9, draft: {angle: 5, narrows: up}}, b: {ball: {diameter: 12, z: 9, band: 3}}}\ncuts: {c: {rectangle: {length: 6, width: 4}, open: bottom, depth: 3, section: v}, d: {turned: {at: [9, 0], section: [[0, 4], [2, 4], [4, 9], [0, 9]]}}}",
		"bodies: {a: {circle: {diameter: 30}, from: 0, to: 9}}\nedges: {e: {of: a, face: top, chamfer: {width: 1, slope: 30}}}\nmarks: {m: {on: a.top, recessed: 0.3, box: [0, 0, 3, 2]}}\ndimensions: {d: {of: a.diameter, class: h9}}",
		"bodies: {a: {gear: {module: 2, teeth: 14, tip_radius: 0.2}, from: 0, to: 9}, b: {circle: {diameter: 16}, from: 0, to: 12}}\ncuts: {c: {spline: {major: 9, minor: 7, teeth: 5, tooth_width: 2, corner: 0.2, turn: 10}}}",
		"bodies: {a: {serration: {major: 24, minor: 22, teeth: 20, angle: 70, root_radius: 0.2}, from: 0, to: 9}}\ncuts: {c: {gear: {module: 1, teeth: 12, pressure_angle: 30, addendum: 0.5, dedendum: 0.75, helix: 10, hand: left, internal: true, at: [1, 0]}, open: top, depth: 4}}",
		"bodies: {a: {ellipse: {length: 30, width: 20, turn: 9}, from: 0, to: 6}, b: {regular: {sides: 5, inscribed: 9, corner: 1}, from: 6, to: 9}}\ncuts: {c: {flatted: {diameter: 5, flats: [2, 2, 2]}}, d: {rectangle: {length: 3, width: 2, at: [9, 0], corner: [0.5, 0, 0.3, 1]}, repeat: [{count: 2, step: [0, 3]}, {count: 3, first: 20}]}}",
		"bodies: {a: {circle: {diameter: 30}, from: 0, to: 9, tilt: {face: top, angle: 3, toward: 20}, ramp: {face: bottom, start_angle: 5, end_angle: 95, rise: 1, inner: 12, count: 3}}}\ncuts: {c: {circle: {diameter: 9}, open: top, depth: 2, draft: {angle: 9, narrows: down}, island: {rectangle: {length: 3, width: 2, turn: 30}}}}",
		"bodies: {a: {hexagon: {across_flats: 30}, from: 0, to: 9, face_teeth: {face: bottom, count: 5, depth: 0.5, angle: 60, inner: 12, outer: 28, turn: 4}}}\ncuts: {c: {circle: {diameter: 9}}}",
	} {
		f.Add([]byte("part: p\nunits: mm\n" + s))
	}
	f.Fuzz(func(t *testing.T, text []byte) {
		p, ps := form.Parse("fuzz.yaml", text)
		if len(ps) > 0 || vertices(p) > 400 {
			return
		}
		b, ps := Part(p)
		if len(ps) > 0 {
			for _, q := range ps {
				if q.Message == "" || q.Line < 1 {
					t.Fatalf("a problem without a place: %+v", q)
				}
			}
			return
		}
		for _, k := range subject.Kinds() {
			for _, s := range subject.Of(b.Subject, k) {
				checkFinite(t, s)
			}
		}
		q := b.Subject
		if low, high := b.Whole.WholeSpan(); q.Volume > q.PlanArea*(high-low)*(1+1e-9) {
			t.Errorf("a volume of %g in a plan of %g and a height of %g", q.Volume, q.PlanArea, q.Height)
		}
		if q.PlanArea > math.Pi*q.Outside*q.Outside/4*(1+1e-9) || q.Width > q.Outside*(1+1e-9) {
			t.Errorf("plan %g and width %g in a circle of %g", q.PlanArea, q.Width, q.Outside)
		}
		area := 0.0
		for _, c := range q.Columns {
			area += c.Area * float64(max(1, len(c.Places)))
		}
		if b.Whole == b.Shape && math.Abs(area-q.PlanArea) > 1e-6*q.PlanArea { // blends are in no column
			t.Errorf("columns of %g in a plan of %g", area, q.PlanArea)
		}
	})
}

// vertices is about the number of curves of all outlines, to keep one input short.
func vertices(p *parts.Part) (n int) {
	for _, f := range p.Features() {
		per := 8
		switch q := f.Profile.(type) {
		case parts.Circle, parts.Ball:
			per = 2
		case parts.Polygon:
			per = 2 * len(q.Points)
		case parts.Path:
			per = 2 * len(q.Steps)
		case parts.Turned:
			per = len(q.Steps)
		case parts.Gear:
			per = 8 * q.Teeth
		case parts.Spline:
			per = 8 * q.Teeth
		case parts.Serration:
			per = 6 * q.Teeth
		}
		if form.Sloped(f) {
			per *= form.SlopeWeight
		}
		n += per * f.Repeat.Copies()
	}
	return n
}

func checkFinite(t *testing.T, s subject.Subject) {
	t.Helper()
	for i := range s.Kind().Fields {
		f := &s.Kind().Fields[i]
		if f.Type != subject.Number || s.Kind() == subject.PartKind &&
			(f.Name == "punches_top" || f.Name == "punches_bottom" || f.Name == "class") {
			continue
		}
		v, known := f.Number(s)
		if known && (math.IsNaN(v) || math.IsInf(v, 0) || f.Positive && (v < 0 || v == 0 && f.Name != "thickness" && f.Name != "floor")) {
			t.Errorf("%s %s: %s is %g", s.Kind().Name, s.Place().Name, f.Name, v)
		}
	}
}
