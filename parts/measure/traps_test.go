package measure

import (
	"math"
	"testing"

	"corerod/parts/subject"
)

// TestHeightsOfSlopedTraps: what a slope shuts in begins and ends where the mouth's width comes again, not at a slice.
func TestHeightsOfSlopedTraps(t *testing.T) {
	block := "bodies: {b: {rectangle: {length: 60, width: 30}, from: 0, to: 20}}\ncuts: {h: {"
	for text, want := range map[string]subject.Trap{
		block + "ball: {diameter: 16, z: 16}}}": {
			Common: subject.Common{Name: "h", ZLow: 12, ZHigh: 20}, Area: math.Pi * 16, Opens: "top"},
		block + "ball: {diameter: 16, z: 4}}}": {
			Common: subject.Common{Name: "h", ZHigh: 8}, Area: math.Pi * 16, Opens: "bottom"},
		block +
			"turned: {section: [[0, 8], [8, 16], [4, 24], [0, 24]]}}}": {Common: subject.Common{Name: "h", ZLow: 14, ZHigh: 20}, Area: math.Pi * 28, Opens: "top"},
		block +
			"turned: {section: [[0, 8], {arc: [8, 16], radius: 8, turn: ccw}, [5, 16], [5, 21], [0, 21]]}}}": {Common: subject.Common{Name: "h", ZLow: 16 - math.Sqrt(39), ZHigh: 16}, Area: math.Pi * 39, Opens: "top"},
		"bodies: {a: {circle: {diameter: 30}, from: 0, to: 8, draft: {angle: 10, narrows: up}}, b: {circle: {diameter: 30}, from: 8, to: 16, draft: {angle: 10, narrows: down}}}": {Common: subject.Common{Name: "a and b", ZHigh: 16}, Area: math.Pi * (225 - math.Pow(15-8*tan(10), 2)), Opens: "top"},
	} {
		p := made(t, text+"\n")
		x := the(t, p.Traps, want.Name)
		near(t, text+" low", x.ZLow, want.ZLow)
		near(t, text+" high", x.ZHigh, want.ZHigh)
		near(t, text+" height", x.Height, want.ZHigh-want.ZLow)
		near(t, text+" area", x.Area, want.Area)
		if x.Opens != want.Opens {
			t.Errorf("%s opens to the %s", text, x.Opens)
		}
	}
}
