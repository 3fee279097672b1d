package measure

import (
	"math"
	"testing"

	"corerod/parts/subject"
)

// TestWallsPastALedgeThatSlopes: a ledge that slopes a little parts the wall below it from the one above, as a flat one does; a slope up
// to an end of the part, and a groove between two slopes, are of the wall beside them.
func TestWallsPastALedgeThatSlopes(t *testing.T) {
	for _, x := range []struct {
		name, text string
		ledge      [2]float64 // from where to where it goes
		thickness  [2]float64 // below, above
	}{
		{"a seat", "bodies: {disc: {circle: {diameter: 50}, from: 0, to: 40}}\ncuts: {bore: {circle: {diameter: 14}}, " +
			"seat: {turned: {section: [[0, 12], [7, 12], [23.3, 12.1], [23.3, 40], [0, 40]]}}}\n", [2]float64{12, 12.1}, [2]float64{18, 1.7}},
		{"a flange", "bodies: {hub: {circle: {diameter: 13.2}, from: 0, to: 40}, flange: {turned: " +
			"{section: [[0, 14], [6.6, 14], [15, 14.5], [15, 40], [0, 40]]}}}\ncuts: {bore: {circle: {diameter: 10}}}\n",
			[2]float64{14, 14.5}, [2]float64{1.6, 10}},
		{"a cone of 45 degrees", "bodies: {disc: {circle: {diameter: 50}, from: 0, to: 40}}\ncuts: {bore: {circle: {diameter: 14}}, " +
			"seat: {turned: {section: [[0, 12], [7, 12], [23.3, 28.3], [23.3, 40], [0, 40]]}}}\n", [2]float64{12, 28.3}, [2]float64{18, 1.7}},
	} {
		p := made(t, x.text)
		if len(p.Walls) != 2 {
			t.Fatalf("%s: %v", x.name, show(p.Walls))
		}
		for k, w := range p.Walls {
			if w.ZLow > 0 {
				k = 1
			} else {
				k = 0
			}
			low, high := [2]float64{0, x.ledge[1]}[k], [2]float64{x.ledge[0], 40}[k]
			near(t, x.name+", low", w.ZLow, low)
			near(t, x.name+", high", w.ZHigh, high)
			near(t, x.name+", thickness", w.Thickness, x.thickness[k])
			near(t, x.name+", ratio", w.Ratio, (high-low)/x.thickness[k])
		}
	}
	for _, text := range []string{
		"bodies: {disc: {circle: {diameter: 50}, from: 0, to: 40}}\ncuts: {bore: {circle: {diameter: 14}}, " +
			"sink: {turned: {section: [[0, 38], [7, 38], [9, 40], [0, 40]]}}}\n",
		"bodies: {disc: {turned: {section: [[0, 0], [25, 0], [25, 18], [22, 20], [25, 22], [25, 40], [0, 40]]}}}\n" +
			"cuts: {bore: {circle: {diameter: 14}}}\n",
	} {
		if p := made(t, text); len(p.Walls) != 1 || p.Walls[0].Height != 40 {
			t.Errorf("%s\n%v", text, show(p.Walls))
		}
	}
}

// TestWebsOfRecessesSideBySide: two balls from opposite faces that reach past each other in height have between them the distance of their
// centres less both radii.
func TestWebsOfRecessesSideBySide(t *testing.T) {
	for _, apart := range []float64{5, 6, 6.5, 7} {
		for _, bodies := range []string{"plate: {rectangle: {length: 60, width: 40}, from: 0, to: 10}",
			"plate: {rectangle: {length: 60, width: 40}, from: 0, to: 3}, upper: {rectangle: {length: 60, width: 40}, from: 3, to: 10}"} {
			p := made(t, "bodies: {"+bodies+"}\ncuts: {low: {ball: {diameter: 12, z: -0.5}}, up: {ball: {diameter: 12, at: ["+
				decimal(apart)+", 0], z: 10.5}}}\n")
			for _, name := range []string{"low", "up"} {
				near(t, decimal(apart)+" apart, "+name, the(t, p.Holes, name).WebAcross.Value, math.Hypot(apart, 11)-12)
			}
		}
	}
}

// TestGapOnTheWay: the neck of a bore that a ball opens to one side begins and ends between two stations. It begins where their common
// chord passes the axis of the bore, and is narrowest where it ends, as the chord passes that of the ball.
func TestGapOnTheWay(t *testing.T) {
	for _, split := range []string{"", "3", "2.8"} {
		bodies := "disc: {circle: {diameter: 32}, from: 0, to: 9}"
		if split != "" {
			bodies = "disc: {circle: {diameter: 32}, from: 0, to: " + split + "}, upper: {circle: {diameter: 32}, from: " + split + ", to: 9}"
		}
		p := made(t, "bodies: {"+bodies+"}\ncuts: {bore: {circle: {diameter: 5.1}}, seat: {ball: {diameter: 9.75, at: [2.45, 0], z: -1.09}}}\n")
		g := the(t, p.Gaps, "bore to seat")
		near(t, "width", g.Width, 2*math.Sqrt(2.55*2.55-2.45*2.45))
		near(t, "low", g.ZLow, -1.09+math.Sqrt(4.875*4.875-2.55*2.55-2.45*2.45))
		near(t, "high", g.ZHigh, -1.09+math.Sqrt(4.875*4.875-2.55*2.55+2.45*2.45))
	}
}

// TestBlindHoleWithABluntFloor: what is flatter than 30 degrees is the pin's face, whether or not it comes to a point.
func TestBlindHoleWithABluntFloor(t *testing.T) {
	for _, floor := range []string{"[1.4, 6], [0, 6]", "[1.4, 6], [0, 5.9]", "[1.4, 6], [0.1, 5.9], [0, 5.9]"} {
		p := made(t, "bodies: {plate: {circle: {diameter: 40}, from: 0, to: 12}}\ncuts: {well: {turned: {section: [[0, 12], [3.2, 12], "+
			floor+"]}}}\n")
		near(t, floor, the(t, p.Holes, "well").Width, 2.8)
	}
}

// TestTapersByContact: a slope drawn in two is one taper, and the land that goes on from it counts whatever feature draws it.
func TestTapersByContact(t *testing.T) {
	for _, x := range []struct {
		name, text string
		height     float64
		land       float64
	}{
		{"one section", "bodies: {hub: {turned: {section: [[6, 0], [14, 0], [15, 10], [15, 10.2], [6, 10.2]]}}}\n", 10, 0.2},
		{"a rim of its own", "bodies: {hub: {turned: {section: [[6, 0], [14, 0], [15, 10], [6, 10]]}}, " +
			"top: {circle: {diameter: 30}, from: 10, to: 10.2}}\ncuts: {bore: {circle: {diameter: 12}}}\n", 10, 0.2},
		{"a bore in a cone", "bodies: {hub: {circle: {diameter: 30}, from: 0, to: 10}}\ncuts: {bore: {circle: {diameter: 10}}, " +
			"cone: {turned: {section: [[0, 0], [6, 0], [5, 9.8], [0, 9.8]]}}}\n", 9.8, 0.2},
		{"two sections", "bodies: {low: {turned: {section: [[0, 0], [14, 0], [14.4, 4], [0, 4]]}}, " +
			"high: {turned: {section: [[0, 4], [14.4, 4], [15, 10], [0, 10]]}}}\n", 10, 0},
	} {
		p := made(t, x.text)
		if len(p.Tapers) != 1 {
			t.Fatalf("%s: %v", x.name, show(p.Tapers))
		}
		near(t, x.name, p.Tapers[0].ZHigh-p.Tapers[0].ZLow, x.height)
		if l := p.Tapers[0].Land; l.Known != (x.land > 0) || math.Abs(l.Value-x.land) > 1e-9 {
			t.Errorf("%s: land %v", x.name, l)
		}
	}
}

// TestNarrowEndOfADraft: what a draft leaves open at its narrow end stays so, however narrow.
func TestNarrowEndOfADraft(t *testing.T) {
	p := made(t, "bodies: {hub: {circle: {diameter: 40}, from: 0, to: 5}}\ncuts: {roof: {rectangle: {length: 20, width: 10}, "+
		"draft: {angle: 44.99, narrows: down}}}\n")
	lean := 5 * math.Tan(44.99*math.Pi/180)
	area := func(h float64) float64 { return (20 - 2*h) * (10 - 2*h) }
	near(t, "volume", p.Volume, math.Pi*400*5-5*(area(0)+4*area(lean/2)+area(lean))/6)
	if h := the(t, p.Holes, "roof"); !h.Through {
		t.Errorf("%v", show(p.Holes))
	}
}

// TestKeyedAtTheLimit: a slope of 30 degrees is the wall of a pin, whichever way round it is drawn.
func TestKeyedAtTheLimit(t *testing.T) {
	var all []*subject.Hole
	for _, side := range []string{"-", ""} {
		other := map[string]string{"-": "", "": "-"}[side]
		p := made(t, "bodies: {body: {circle: {diameter: 30}, from: 0, to: 8}}\ncuts: {a: {turned: {at: ["+side+"3, 0], section: [[0, 5], "+
			"[1.5, 5], [3.5, 0], [0, 0]]}, repeat: {count: 2, about: [0, 0]}}, b: {rectangle: {length: 8, width: 3.5, at: ["+other+
			"2.5, 0]}, draft: {angle: 30, narrows: up}, open: bottom, depth: 2.5}}\n")
		all = append(all, the(t, p.Holes, "a and b 1"))
	}
	if a, b := all[0], all[1]; !a.Keyed || !b.Keyed {
		t.Errorf("%v, mirrored %v", a, b)
	}
	for _, h := range all {
		near(t, "bore", h.Bore.Value, 7)
	}
}

// TestNoGrooveRoundADeeperFloor: the ledge in a blind hole with two depths is no groove.
func TestNoGrooveRoundADeeperFloor(t *testing.T) {
	p := made(t, "bodies: {block: {circle: {diameter: 40}, from: 0, to: 30}}\ncuts: {seat: {circle: {diameter: 20}, open: top, depth: 12}, "+
		"pit: {circle: {diameter: 10}, open: top, depth: 14}}\n")
	if len(p.Grooves) > 0 {
		t.Errorf("%v", show(p.Grooves))
	}
}
