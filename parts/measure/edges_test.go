package measure

import (
	"fmt"
	"math"
	"testing"
)

// TestSlopesToAnEdge: two faces that lean until they meet have no wall and no gap between them, however finely the part is
// divided, and whether one feature draws both or two do; what stands below the slopes is a wall.
func TestSlopesToAnEdge(t *testing.T) {
	for _, high := range []float64{2.5, 4, 10} {
		disc := fmt.Sprintf("bodies: {b: {circle: {diameter: 40}, from: 0, to: %g}", high)
		for _, text := range []string{
			fmt.Sprintf("bodies: {b: {circle: {diameter: 40}, from: 0, to: 1}, r: {turned: {section: [[10, 1], [12, 1], [11, %g]]}}}",
				high),
			fmt.Sprintf(
				"bodies: {b: {circle: {diameter: 40}, from: 0, to: 1}, r: {turned: {section: [[10, 1], [12, 1], {arc: [11, %g], radius: 9, turn: ccw}]}}}", high),
			disc + fmt.Sprintf("}\ncuts: {g: {turned: {section: [[10, %[1]g], [11, %[2]g], [12, %[1]g]]}}}", high, high-1),
			disc + fmt.Sprintf("}\ncuts: {g: {turned: {section: [[10, %[1]g], [10, %[2]g], [12, %[1]g]]}}}", high, high-1),
			disc +
				fmt.Sprintf(
					"}\ncuts: {g: {turned: {section: [[8, %[1]g], [9, %[2]g], [10, %[1]g]]}}, h: {turned: {section: [[10, %[1]g], [11, %[2]g], [12, %[1]g]]}}}", high, high-1),
			disc +
				"}\ncuts: {g: {rectangle: {length: 60, width: 4, at: [0, 2], turn: 0}, open: top, depth: 1, section: v}, h: {rectangle: {length: 60, width: 4, at: [0, -2]}, open: top, depth: 1, section: v}}",
		} {
			p := made(t, text+"\n")
			for _, w := range p.Walls {
				if w.Between[0] != "b" {
					t.Errorf("%s: wall %s, %g thick", text, w.Name, w.Thickness)
				}
			}
			if len(p.Gaps) != 0 {
				t.Errorf("%s: gaps %v", text, show(p.Gaps))
			}
			for _, h := range p.Holes {
				if h.Edge < 2-1e-9 {
					t.Errorf("%s: %s is %g from the edge", text, h.Name, h.Edge)
				}
			}
		}
		p := made(t,
			fmt.Sprintf(
				"bodies: {b: {circle: {diameter: 40}, from: 0, to: 1}, r: {turned: {section: [[10, 1], [12, 1], [12, 2], [11, %g], [10, 2]]}}}\n", high))
		w := the(t, p.Walls, "r to r")
		near(t, "thickness", w.Thickness, 2)
		near(t, "height", w.Height, 1)
		q := made(t,
			fmt.Sprintf(
				"bodies: {b: {circle: {diameter: 40}, from: 0, to: 1}, c: {circle: {diameter: 30}, from: 0, to: 2}, r: {turned: {section: [[10, 1], [12, 1], [11, %g]]}}}\n", high))
		if len(q.Walls) != 0 {
			t.Errorf("half covered: walls %v", show(q.Walls))
		}
	}
}

// TestWallToAnEdge: between an upright wall and a slope that reaches it the wall comes to nothing.
func TestWallToAnEdge(t *testing.T) {
	p := made(t,
		"bodies: {b: {circle: {diameter: 40}, from: 0, to: 4}, hub: {circle: {diameter: 20}, from: 0, to: 10}}\ncuts: {bore: {circle: {diameter: 10}}, sink: {turned: {section: [[0, 2], [8, 2], [10, 10], [0, 10]]}}}\n")
	w := the(t, p.Walls, "hub to sink")
	near(t, "height", w.Height, 6)
	if w.Thickness != 0 || math.Abs(w.Ratio-6/0.75) > 1e-9 {
		t.Errorf("%+v", w)
	}
	for name, text := range map[string]string{
		"sunk to its edge": "bodies: {b: {circle: {diameter: 40}, from: 0, to: 4}, hub: {circle: {diameter: 20}, from: 0, to: 10}}\ncuts: {bore: {circle: {diameter: 10}}, sink: {turned: {section: [[0, 6], [6, 6], [10, 10], [0, 10]]}}}\n",
		"bored ball":       "bodies: {b: {ball: {diameter: 16}}}\ncuts: {bore: {circle: {diameter: 8}}}\n",
	} {
		for _, w := range made(t, text).Walls {
			if w.Name != "b to bore" && w.Name != "bore to hub" || name == "bored ball" {
				t.Errorf("%s: %s, %g thick", name, w.Name, w.Thickness)
			}
		}
	}
	banded := made(t, "bodies: {b: {ball: {diameter: 16, band: 4}}}\ncuts: {bore: {circle: {diameter: 8}}}\n")
	near(t, "wall of the band", the(t, banded.Walls, "b to bore").Thickness, math.Sqrt(60)-4)
	near(t, "level", the(t, banded.Levels, "b top").Z, math.Sqrt(48))
	near(t, "other level", the(t, banded.Levels, "b bottom").Z, -math.Sqrt(48))
	near(t, "least column", the(t, banded.Levels, "b top").Height, 4)
}
