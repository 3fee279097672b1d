package measure

import (
	"cmp"
	"math"
	"slices"
	"testing"

	"corerod/parts/plane"
)

// TestRepeats: copies lie where their patterns say, one pattern repeating what the other gives; the places are those of holes drawn by
// themselves.
func TestRepeats(t *testing.T) {
	polar := func(radius, degrees float64) plane.Point {
		s, c := math.Sincos(degrees * math.Pi / 180)
		return plane.Point{X: radius * c, Y: radius * s}
	}
	for _, x := range []struct {
		name, cut string
		want      []plane.Point
	}{
		{"a line", "circle: {diameter: 3, at: [-20, 4]}, repeat: {count: 3, step: [15, 0]}", []plane.Point{{X: -20, Y: 4}, {X: -5, Y: 4}, {X: 10, Y: 4}}},
		{"a grid", "circle: {diameter: 3, at: [-20, -10]}, repeat: [{count: 2, step: [30, 0]}, {count: 2, step: [0, 18]}]",
			[]plane.Point{{X: -20, Y: -10}, {X: 10, Y: -10}, {X: -20, Y: 8}, {X: 10, Y: 8}}},
		{"round, from 30 degrees", "circle: {diameter: 3, at: [18, 0]}, repeat: {count: 3, first: 30}",
			[]plane.Point{polar(18, 30), polar(18, 150), polar(18, 270)}},
		{"spread, from 30 degrees", "circle: {diameter: 3, at: [18, 0]}, repeat: {count: 3, over: 80, first: 30}",
			[]plane.Point{polar(18, 30), polar(18, 70), polar(18, 110)}},
		{"a line turned", "circle: {diameter: 3, at: [10, 0]}, repeat: [{count: 2, step: [8, 0]}, {count: 3, first: 15}]",
			[]plane.Point{polar(10, 15), polar(18, 15), polar(10, 135), polar(18, 135), polar(10, 255), polar(18, 255)}},
		{"three patterns", "circle: {diameter: 2, at: [12, 4]}, repeat: [{count: 2, step: [4, 0]}, {count: 2, step: [0, 4]}, {count: 2}]",
			[]plane.Point{{X: 12, Y: 4}, {X: 16, Y: 4}, {X: 12, Y: 8}, {X: 16, Y: 8}, {X: -12, Y: -4}, {X: -16, Y: -4}, {X: -12, Y: -8}, {X: -16, Y: -8}}},
	} {
		p := made(t, "bodies: {plate: {circle: {diameter: 60}, from: 0, to: 8}}\ncuts: {hole: {"+x.cut+"}}\n")
		var got []plane.Point
		for _, h := range p.Holes {
			for _, c := range h.Places {
				got = append(got, plane.Point{X: c.X, Y: c.Y})
			}
			if len(h.Places) == 0 {
				got = append(got, plane.Point{X: h.X, Y: h.Y})
			}
		}
		order := func(a, b plane.Point) int {
			return cmp.Or(cmp.Compare(math.Round(a.X*1e6), math.Round(b.X*1e6)), cmp.Compare(a.Y, b.Y))
		}
		slices.SortFunc(got, order)
		slices.SortFunc(x.want, order)
		if len(got) != len(x.want) {
			t.Errorf("%s: %v, want %v", x.name, got, x.want)
			continue
		}
		for i, w := range x.want {
			if got[i].Distance(w) > 1e-9 {
				t.Errorf("%s: %v, want %v", x.name, got, x.want)
				break
			}
		}
	}
	// A copy that is turned stands upright inside the plate; one that is not reaches past its edge.
	area := func(turn string) float64 {
		return made(t, "bodies: {plate: {rectangle: {length: 22, width: 30}, from: 0, to: 4}}\ncuts: {slot: {rectangle: {length: 6, width: 2, "+
			"at: [0, 9]}, repeat: {count: 2, first: 90, over: 180"+turn+"}}}\n").PlanArea
	}
	near(t, "turned", area(""), 22*30-2*6*2)
	near(t, "not turned", area(", turn: false"), 22*30-2*5*2)
}
