package blank

import (
	"corerod/parts/form"
	"testing"
)

func TestTry(t *testing.T) {
	for _, text := range []string{
		"bodies: {a: {circle: {diameter: 40}, from: 0, to: 8}}\ncuts: {c: {turned: {at: [15, 0], section: [[0, 5], [2, 5], [5, 8], [0, 8]]}}}",
		"bodies: {a: {circle: {diameter: 40}, from: 0, to: 8}}\ncuts: {c: {turned: {at: [15.01, 0], section: [[0, 5], [2, 5], [5, 8], [0, 8]]}}}",
		"bodies: {a: {circle: {diameter: 40}, from: 0, to: 8}}\ncuts: {c: {turned: {at: [16, 0], section: [[0, 5], [2, 5], [5, 8], [0, 8]]}}}",
		"bodies: {a: {rectangle: {length: 40, width: 30}, from: 0, to: 8}}\ncuts: {c: {turned: {at: [0, 11], section: [[0, 3], [2, 3], [7, 8], [0, 8]]}}}",
		"bodies: {a: {circle: {diameter: 40}, from: 0, to: 8}}\ncuts: {c: {turned: {section: [[0, 3], [2, 3], [7, 8], [0, 8]]}}, d: {turned: {section: [[0, 0], [7, 0], [2, 5], [0, 5]]}}}",
		"bodies: {a: {circle: {diameter: 40}, from: 0, to: 8}}\ncuts: {c: {turned: {section: [[0, 3], [2, 3], [7, 8], [0, 8]]}}, d: {turned: {at: [2, 0], section: [[0, 0], [7, 0], [2, 5], [0, 5]]}}}",
		"bodies: {a: {circle: {diameter: 40}, from: 0, to: 10}}\ncuts: {c: {circle: {diameter: 10}, open: top, depth: 8, draft: {angle: 20, narrows: down}}, d: {circle: {diameter: 10}, open: bottom, depth: 8, draft: {angle: 20, narrows: up}}}",
		"bodies: {a: {circle: {diameter: 30}, from: 0, to: 6}}\ncuts: {c: {ball: {diameter: 11.0125, z: 8.30625}}, d: {ball: {diameter: 11.0125, z: -2.30625}}}",
		"bodies: {a: {rectangle: {length: 40, width: 40}, from: 0, to: 6}}\ncuts: {c: {rectangle: {length: 60, width: 8}, open: top, depth: 3.5, section: v}, d: {rectangle: {length: 8, width: 60}, open: bottom, depth: 3.5, section: v}}",
		"bodies: {a: {circle: {diameter: 30}, from: 0, to: 5}}\ncuts: {c: {ball: {diameter: 10, z: 5}}}",
		"bodies: {a: {circle: {diameter: 30}, from: 0, to: 10}}\ncuts: {c: {turned: {section: [[0, 4], [6, 10], [0, 10]]}}, d: {turned: {at: [1, 0], section: [[0, 5], [5, 0], [0, 0]]}}}",
	} {
		p, ps := form.Parse("x.yaml", []byte("part: a\nunits: mm\n"+text+"\n"))
		if len(ps) > 0 {
			t.Fatal(ps)
		}
		s, ps := Make(p)
		if len(ps) > 0 {
			t.Error(text, ps)
			continue
		}
		plan, vol := 0.0, 0.0
		for c := range s.cells {
			if s.HasMaterial(c) {
				plan += s.Area(c)
			}
			for r := range s.cells[c].runs {
				vol += s.RunVolume(c, r)
			}
		}
		v, a := s.Volume()
		var err error
		t.Logf("%s\n   stations %v meets %v cells %d edges %d plan %.9f vol %.9f %.9f surface %.6f %v", text, s.stations, s.meets, len(s.cells), len(s.overlay.Edges), plan, vol, v, a, err)
	}
}
