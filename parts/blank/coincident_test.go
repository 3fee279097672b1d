package blank

import (
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"corerod/parts/form"
)

// TestNearlyCoincidentSlopes: slopes that coincide, or nearly do, are measured as they are drawn, or refused in words that name what to
// change: never a wrong volume. In the texts <5+d> is moved by some nanometres, up to a micrometre.
func TestNearlyCoincidentSlopes(t *testing.T) {
	const cone = "a: {circle: {diameter: 30}, from: 0, to: 10, draft: {angle: 10, narrows: up}}"
	const turned = "a: {turned: {section: [[0, 0], [15, 0], [10, 10], [0, 10]]}}"
	const plate = "a: {rectangle: {length: 40, width: 30}, from: 0, to: 10}"
	tan10 := math.Tan(10 * math.Pi / 180)
	ball := 4.0 / 3 * math.Pi * 15 * 15 * 15
	for _, c := range []struct {
		name, bodies, cuts string
		want               float64 // 0: by sections alone
	}{
		{"a cone that goes on", cone + ", b: {circle: {diameter: 28.236730192}, from: <5+d>, to: 15, draft: {angle: 10, narrows: up}}", "",
			frustum(15, 15-15*tan10, 15)},
		{"a cone moved sideways", cone + ", b: {circle: {diameter: 30, at: [<1+d>, 0]}, from: 0, to: 12, draft: {angle: 10, narrows: up}}", "", 0},
		{"equal cones", cone + ", b: {circle: {diameter: <30+d>}, from: 0, to: 10, draft: {angle: 10, narrows: up}}", "", frustum(15, 15-10*tan10, 10)},
		{"cones of one side", cone + ", b: {circle: {diameter: 20, at: [<5+d>, 0]}, from: 0, to: 12, draft: {angle: 10, narrows: up}}", "", 0},
		{"a higher turned cone", turned + ", b: {turned: {section: [[0, 0], [<15+d>, 0], [<7.5+d>, 15], [0, 15]]}}", "", frustum(15, 7.5, 15)},
		{"a cut on its slope", turned, "c: {turned: {section: [[<15+d>, 0], [16, 0], [16, 10], [<10+d>, 10]]}}", frustum(15, 10, 10)},
		{"a cut on a part of its slope", turned, "c: {turned: {section: [[<14+d>, 2], [16, 2], [16, 8], [<10+d>, 8]]}}",
			frustum(15, 14, 2) + frustum(14, 10, 6) + frustum(11, 10, 2)},
		{"cones that meet in a rim", turned + ", b: {turned: {section: [[0, 10], [<10+d>, 10], [15, 20], [0, 20]]}}", "", 2 * frustum(15, 10, 10)},
		{"balls in each other", "a: {ball: {diameter: 30, z: 0}}, b: {ball: {diameter: <30+d>, z: 0}}", "", ball},
		{"balls above each other", "a: {ball: {diameter: 30, z: 1}}, b: {ball: {diameter: 30, z: <1+d>}}", "", ball},
		{"balls beside each other", "a: {ball: {diameter: 30, z: 0, at: [1, 0]}}, b: {ball: {diameter: 30, z: 0, at: [<1+d>, 0]}}", "", ball},
		{"ball cuts", plate, "b: {ball: {diameter: 12, z: 10}}, c: {ball: {diameter: 12, z: <10+d>, at: [0, 0]}}", 12000 - 144*math.Pi},
		{"an arc and a ball", "a: {turned: {section: [[0, 0], [10, 0], {arc: [0, 10], radius: 10, turn: ccw}]}}, b: {ball: {diameter: <20+d>, z: 0}}", "",
			4.0 / 3 * math.Pi * 1000},
		{"pockets of one side", plate, "b: {rectangle: {length: 12, width: 10}, open: top, depth: 8, draft: {angle: 5, narrows: down}}, " +
			"c: {rectangle: {length: 8, width: 16, at: [<2+d>, 0]}, open: top, depth: 6, draft: {angle: 5, narrows: down}}", 0},
		{"bosses of one side", "a: {rectangle: {length: 20, width: 10}, from: 0, to: 8, draft: {angle: 7, narrows: up}}, " +
			"b: {rectangle: {length: 10, width: 20, at: [<5+d>, 0]}, from: 0, to: 10, draft: {angle: 7, narrows: up}}", "", 0},
		{"drafts of nearly one angle", "a: {hexagon: {across_flats: 20}, from: 0, to: 8, draft: {angle: 7, narrows: up}}, " +
			"b: {hexagon: {across_flats: 20}, from: 0, to: 10, draft: {angle: <7+d>, narrows: up}}", "", 0},
		{"hexagons nearly turned", "a: {hexagon: {across_flats: 20}, from: 0, to: 8, draft: {angle: 7, narrows: up}}, " +
			"b: {hexagon: {across_flats: 20, turn: <1+d>}, from: 0, to: 10, draft: {angle: 7, narrows: up}}", "", 0},
		{"slots of one end", plate, "b: {slot: {length: 20, width: 8}, open: top, depth: 6, draft: {angle: 15, narrows: down}}, " +
			"c: {slot: {length: <12+d>, width: 8, at: [4, 0]}, open: top, depth: 7, draft: {angle: 15, narrows: down}}", 0},
		{"V grooves in line", plate, "b: {rectangle: {length: 20, width: 8, at: [-12, 0]}, open: top, depth: 4, section: v}, " +
			"c: {rectangle: {length: 60, width: <8+d>}, open: top, depth: <3+d>, section: v}", 0},
		{"round grooves in line", plate, "b: {rectangle: {length: 20, width: 8, at: [-12, 0]}, open: top, depth: 3, section: round}, " +
			"c: {rectangle: {length: 60, width: <8+d>}, open: top, depth: 3, section: round}", 0},
		{"round grooves across", plate, "b: {rectangle: {length: 60, width: 8}, open: top, depth: 3, section: round}, " +
			"c: {rectangle: {length: 8, width: 60}, open: top, depth: <3+d>, section: round}", 0},
		{"countersinks", plate, "b: {turned: {section: [[0, 4], [1, 4], [7, 10], [0, 10]]}}, c: {turned: {section: [[0, 6], [<3+d>, 6], [<8+d>, 10], [0, 10]]}}", 0},
	} {
		first := 0.0
		measured := 0
		for _, d := range []float64{0, 1e-9, -1e-9, 1e-7, -1e-7, 1e-6, -1e-6, 2e-6, 1e-5, -1e-5, 1e-3, -1e-3} {
			text := inMM + "bodies: {" + moved(c.bodies, d) + "}\n"
			if c.cuts != "" {
				text += "cuts: {" + moved(c.cuts, d) + "}\n"
			}
			p, ps := form.Parse("x.yaml", []byte(text))
			if len(ps) > 0 {
				t.Fatal(c.name, ps)
			}
			_, ps = Make(p)
			if len(ps) > 0 {
				m := ps[0].Message
				both := strings.Contains(m, "a and b come too close") || strings.Contains(m, "b and c come too close")
				if !both && !strings.Contains(m, "adds nothing") && !strings.Contains(m, "removes nothing") {
					t.Errorf("%s, %g: %s", c.name, d, m)
				}
			}
			s, ps := newShape(p, true) // also of what is refused since it adds nothing
			if len(ps) > 0 {
				continue
			}
			v, a := s.Volume()
			measured++
			if w, _, ok := bySections(s); ok && math.Abs(w-v) > 1e-6*v {
				t.Errorf("%s, %g: %.9g, by sections %.9g", c.name, d, v, w)
			}
			if first == 0 {
				first = v
			}
			want := c.want
			if want == 0 {
				want = first
			}
			if math.Abs(v-want) > 4*math.Abs(d)*a+1e-8*want {
				t.Errorf("%s, %g: %.9g, want %.9g", c.name, d, v, want)
			}
		}
		if measured == 0 {
			t.Errorf("%s: it is never measured", c.name)
		}
	}
}

var movedBy = regexp.MustCompile(`<([-0-9.]+)\+d>`)

// moved puts numbers that are moved by a little in their places in a text.
func moved(text string, d float64) string {
	return movedBy.ReplaceAllStringFunc(text, func(m string) string {
		v, _ := strconv.ParseFloat(movedBy.FindStringSubmatch(m)[1], 64)
		return strconv.FormatFloat(v+d, 'f', -1, 64)
	})
}
