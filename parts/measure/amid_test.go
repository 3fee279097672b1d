package measure

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"corerod/parts/subject"
)

// inTwo are a text with a plate from 0 to high, and the same with the plate in two bodies, one on the other.
func inTwo(t *testing.T, outline, high, at, cuts string) []string {
	t.Helper()
	return []string{
		"bodies: {plate: {" + outline + ", from: 0, to: " + high + "}}\ncuts: {" + cuts + "}\n",
		"bodies: {plate: {" + outline + ", from: 0, to: " + at + "}, above: {" + outline + ", from: " + at + ", to: " + high + "}}\ncuts: {" + cuts + "}\n",
	}
}

// TestEdgeOfAJoinedVoid: a hole that a cone breaks into has its edge where the cone is widest while the hole still has a wall of its own:
// until the cone's circle holds the whole hole. Between two stations that is told by the void half way.
func TestEdgeOfAJoinedVoid(t *testing.T) {
	for _, x := range []struct {
		cut, hole        string
		edge             float64
		high, at, cavity string
	}{
		{"sink: {turned: {at: [-11, -5], section: [[0, 1.929], [2.974, 1.929], [6.88, 4.562], [0, 4.562]]}}",
			"hole: {circle: {diameter: 2.457, at: [-8.96, -1.098]}}",
			20 - math.Hypot(11, 5) - math.Hypot(11-8.96, 5-1.098) - 2.457/2, "5", "3.051", "a cavity"},
		{"sink: {turned: {at: [-5.3, 2.4], section: [[0, 2], [2, 2.429], [6.127, 0], [0, 0]]}}",
			"hole: {circle: {diameter: 4.289, at: [-6.477, 5.823]}}",
			20 - math.Hypot(5.3, 2.4) - math.Hypot(6.477-5.3, 5.823-2.4) - 4.289/2, "4", "0.775", "a ring-like sink"},
	} {
		for _, text := range inTwo(t, "circle: {diameter: 40}", x.high, x.at, x.cut+", "+x.hole) {
			near(t, x.cavity, the(t, made(t, text).Holes, "hole").Edge, x.edge)
		}
	}
}

// TestFloorBesideAVoid: two balls from both faces whose outlines come to touch: the floor under the upper comes to nothing there, wherever
// else a station lies.
func TestFloorBesideAVoid(t *testing.T) {
	for _, text := range inTwo(t, "rectangle: {length: 35, width: 32}", "6", "1.91",
		"lower: {ball: {diameter: 8, z: 0}}, upper: {ball: {diameter: 11.288, at: [3, -4.839], z: 7.404}}") {
		near(t, "floor", the(t, made(t, text).Holes, "upper").Floor.Value, 0)
	}
}

// TestWallsOfTwoEnds: a wall between two cones that comes to nothing at both its ends has the lesser of the angles, and no feather at
// either: below between the two cones, above between the cone and the upright bore.
func TestWallsOfTwoEnds(t *testing.T) {
	lean := func(run, rise float64) float64 { return math.Atan(run/rise) * 180 / math.Pi }
	want := lean(6.774-0.614, 4.231) - lean(5.493-2.02, 6.901-2.513)
	for _, cuts := range []string{
		"sink: {turned: {at: [6.933, -0.022], section: [[0, 4], [0.614, 4.231], [6.774, 0], [0, 0]]}}, hole: {circle: {diameter: 4.34, at: [6.933, -0.022]}}, " +
			"other: {turned: {at: [7.691, -5.064], section: [[0, 2.513], [2.02, 2.513], [5.493, 6.901], [0, 6.901]]}}",
		"sink: {turned: {at: [6.933, 0.022], section: [[0, 3], [0.614, 2.769], [6.774, 7], [0, 7]]}}, hole: {circle: {diameter: 4.34, at: [6.933, 0.022]}}, " +
			"other: {turned: {at: [7.691, 5.064], section: [[0, 4.487], [2.02, 4.487], [5.493, 0.099], [0, 0.099]]}}",
	} {
		p := made(t, "bodies: {disc: {circle: {diameter: 40}, from: 0, to: 7}}\ncuts: {"+cuts+"}\n")
		w := the(t, p.Walls, "hole and sink to other")
		near(t, "angle", w.Angle.Value, want)
		if !w.RunsOut || len(p.Feathers) > 0 {
			t.Errorf("runs out %v, feathers %v", w.RunsOut, show(p.Feathers))
		}
	}
}

// TestNoFalseFeather: where three balls meet, a sliver of a few micrometres between their sections is no rim of its own: the ridges
// there are as sharp as two of the balls cross, all along.
func TestNoFalseFeather(t *testing.T) {
	p := made(t, "bodies: {disc: {circle: {diameter: 60}, from: 0, to: 10}}\ncuts: {a: {ball: {diameter: 13.53, at: [-1.11, 1.13], z: 9.26}}, "+
		"b: {ball: {diameter: 11.27, at: [5.7, -7.83], z: 10.69}}, c: {ball: {diameter: 10.42, at: [-1.45, -1.77], z: 11.68}}}\n")
	d := math.Sqrt(6.81*6.81 + 8.96*8.96 + 1.43*1.43) // between the centres of a and b, whose ridge runs out in a wall
	r, s := 13.53/2, 11.27/2
	want := math.Acos((d*d-r*r-s*s)/(2*r*s)) * 180 / math.Pi
	for _, f := range p.Feathers {
		if f.Angle < want-1e-4 {
			t.Errorf("a feather of %g degrees, none is under %g", f.Angle, want)
		}
	}
	near(t, "angle of the wall", the(t, p.Walls, "a to b").Angle.Value, want)
}

// TestCircleIsNoGap: where a cone's circle passes a bore's within micrometres, the bore is no narrower.
func TestCircleIsNoGap(t *testing.T) {
	for _, text := range inTwo(t, "circle: {diameter: 40}", "9", "2.538",
		"a: {turned: {at: [2.4, -11], section: [[0, 4], [7, 8.73], [0, 8.73]]}}, "+
			"b: {turned: {at: [-5.001, -1.407], section: [[0, 3.238], [1.669, 3.238], [6.448, 8.73], [0, 8.73]]}}, "+
			"c: {turned: {at: [6.154, -11.231], section: [[0, 4.585], [0.698, 4.585], [6.475, 0], [0, 0]]}}, "+
			"hole: {circle: {diameter: 4.784, at: [6.154, -11.231]}}") {
		for _, g := range made(t, text).Gaps {
			if g.Name == "c" || strings.Contains(g.Name, "hole") {
				t.Errorf("%s is %g wide", g.Name, g.Width)
			}
		}
	}
}

// TestGrooveWithABore: a through-hole nearly as wide as a groove counts once in its floor, however many edges it has with it.
func TestGrooveWithABore(t *testing.T) {
	for _, turn := range []string{"at: [-2.6, -6.3], turn: 111.389}, open: top, depth: 3.29456, section: v}, bore: {circle: {diameter: 6.971, at: [0.04, -4.346]}}",
		"at: [2.6, -6.3], turn: 68.611}, open: top, depth: 3.29456, section: v}, bore: {circle: {diameter: 6.971, at: [-0.04, -4.346]}}"} {
		p := made(t, "bodies: {plate: {rectangle: {length: 35, width: 32, corner: 3}, from: 0, to: 11}}\ncuts: {groove: {rectangle: {length: 60, width: 6.98, "+
			turn+"}\n")
		near(t, "width", the(t, p.Grooves, "groove").Width, 6.98)
	}
}

// TestStepsWhereLevelsCross: floors of two pockets from both faces that lie past each other have no column between them, and the local
// share of the step is of the column beside it.
func TestStepsWhereLevelsCross(t *testing.T) {
	for _, text := range inTwo(t, "rectangle: {length: 46, width: 34, corner: 1}", "7.8", "4.884",
		"upper: {hexagon: {across_flats: 6.508, at: [-0.2, 7.519], turn: 86.217}, open: top, depth: 4.868, draft: {angle: 7.191, narrows: down}}, "+
			"lower: {hexagon: {across_flats: 12.793, at: [3.349, 7.101], turn: 110.612}, open: bottom, depth: 2.986, draft: {angle: 12.507, narrows: up}}") {
		for _, s := range made(t, text).Steps {
			if strings.HasSuffix(s.Name, "bottom") {
				near(t, "local share", s.LocalShare, 2.986/(7.8-4.868))
			}
		}
	}
}

// TestFlangeBetweenSteepSlopes: what is left between two drafted walls is a wall, and makes the plate over a pocket no thinner.
func TestFlangeBetweenSteepSlopes(t *testing.T) {
	for _, text := range inTwo(t, "rectangle: {length: 31, width: 26, corner: 3.7}", "4.7", "3.676",
		"upper: {slot: {length: 7.717, width: 6.4}, open: top, depth: 5, draft: {angle: 6.179, narrows: down}}, "+
			"lower: {slot: {length: 14.099, width: 10.225, at: [2.039, 7.056], turn: 90}, open: bottom, depth: 3.421, draft: {angle: 8.914, narrows: up}}") {
		near(t, "thickness", made(t, text).Flanges[0].Thickness, 4.7-3.421)
	}
}

// TestGapsInMirroredTeeth: a recess that runs through tooth spaces makes the same gaps with them whichever way round the outline goes.
func TestGapsInMirroredTeeth(t *testing.T) {
	var all [2][]float64
	for i, turns := range [2][2]string{{"0", "7"}, {"180", "173"}} {
		p := made(t, "bodies: {rim: {gear: {module: 1.7, teeth: 29, turn: "+turns[0]+"}, from: 0, to: 6}}\n"+
			"cuts: {recess: {rectangle: {length: 42, width: 29, corner: 3, turn: "+turns[1]+"}, open: bottom, depth: 2}}\n")
		for _, g := range p.Gaps {
			all[i] = append(all[i], g.Width)
		}
		slices.Sort(all[i])
	}
	if len(all[0]) == 0 || len(all[0]) != len(all[1]) {
		t.Fatalf("%v, mirrored %v", all[0], all[1])
	}
	for i := range all[0] {
		near(t, "gap", all[1][i], all[0][i])
	}
}

// TestTipsOfDraftedWalls: where a drafted wall runs into the outline at a sharp angle there is one tip, told in plan, and no ridge.
func TestTipsOfDraftedWalls(t *testing.T) {
	for _, draft := range []string{"0.5", "10", "29"} {
		p := made(t, "bodies: {disc: {circle: {diameter: 40}, from: 0, to: 8}}\ncuts: {notch: {rectangle: {length: 60, width: 5, at: [0, 17]}, "+
			"open: top, depth: 2.5, draft: {angle: "+draft+", narrows: down}}}\n")
		if len(p.Feathers) != 1 || p.Feathers[0].Space {
			t.Fatalf("draft %s: feathers %v", draft, show(p.Feathers))
		}
		near(t, "angle", p.Feathers[0].Angle, math.Acos(19.5/20)*180/math.Pi)
	}
}

// TestRidgeIsNoStep: two slopes that meet in a ridge have no wall between them, and every column has the name of what bounds it.
func TestRidgeIsNoStep(t *testing.T) {
	p := made(t, "bodies: {flange: {circle: {diameter: 46}, from: 0, to: 6}, hub: {circle: {diameter: 26}, from: 6, to: 20, "+
		"draft: {angle: 20, narrows: up}}}\ncuts: {bore: {circle: {diameter: 14}}, sink: {turned: {section: [[0, 16], [7, 16], [10, 20], "+
		"[12, 21], [0, 21]]}}}\n")
	for _, s := range p.Steps {
		if len(s.Features) == 0 || s.Draft == 0 {
			t.Errorf("step %q of %g", s.Name, s.Rise)
		}
	}
	p = made(t, "bodies: {post: {rectangle: {length: 30, width: 20, corner: 2}, from: 0, to: 24}}\ncuts: {top: {rectangle: {length: 40, "+
		"width: 3}, open: top, depth: 1.5, section: v}, foot: {rectangle: {length: 40, width: 3}, open: bottom, depth: 1.5, section: v}}\n")
	near(t, "height", the(t, p.Columns, "foot and top").Height, 21)
}

// TestTipInAWall: a cone whose tip stands in the wall of a bore crosses it squarely there, and less sharply above; nothing is sharp on
// the other side of the bore.
func TestTipInAWall(t *testing.T) {
	for _, section := range []string{"[[0, 6], [2, 12], [0, 12]]", "[[0, 6], [2, 10], [0, 10.5]]", "[[0, 6], [6, 12], [0, 12]]"} {
		p := made(t, "bodies: {puck: {circle: {diameter: 40}, from: 0, to: 12}}\ncuts: {bore: {circle: {diameter: 10}}, "+
			"cone: {turned: {at: [5, 0], section: "+section+"}}}\n")
		if angle := the(t, p.Corners, "bore and cone").Angle; math.Abs(angle-90) > 1e-3 {
			t.Errorf("%s: a corner of %g", section, angle)
		}
		for _, f := range p.Feathers {
			if !f.Space {
				t.Errorf("%s: a tip of %g at %g, %g", section, f.Angle, f.X, f.Y)
			}
		}
	}
}

// TestRingWallsMirrored: the wall between a round hole and a round outline, of which cones take a part, is the same mirrored: at whichever
// place along it the section half way shows it, and of two parts of it that end at one height the longer goes on.
func TestRingWallsMirrored(t *testing.T) {
	for _, x := range []struct{ plate, cuts string }{
		{"diameter: 40}, from: 0, to: 10", "a: {turned: {section: [[0, 4], [6, 10], [0, 10]]}}, b: {turned: {at: [X1, 0], section: [[0, 5], [5, 0], [0, 0]]}}"},
		{"diameter: 42}, from: 0, to: 9", "a: {circle: {diameter: 14}, draft: {angle: 8, narrows: up}}, c: {turned: {at: [X12, 3], section: [[0, 0], " +
			"[6, 0], [0, 7]]}}, d: {rectangle: {length: 6, width: 5, at: [0, -15]}, open: top, depth: 6, draft: {angle: 12, narrows: down}}"},
	} {
		var all [2][][2]float64
		for i, sign := range []string{"", "-"} {
			p := made(t, "bodies: {plate: {circle: {"+x.plate+"}}\ncuts: {"+strings.ReplaceAll(x.cuts, "X", sign)+"}\n")
			for _, w := range p.Walls {
				if w.Name == "a to plate" || strings.HasPrefix(w.Name, "a to plate ") {
					all[i] = append(all[i], [2]float64{w.Thickness, w.Height})
				}
			}
			slices.SortFunc(all[i], func(a, b [2]float64) int { return cmp.Or(cmp.Compare(a[0], b[0]), cmp.Compare(a[1], b[1])) })
		}
		if len(all[0]) == 0 || len(all[0]) != len(all[1]) {
			t.Fatalf("%v, mirrored %v", all[0], all[1])
		}
		for i := range all[0] {
			near(t, "thickness", all[1][i][0], all[0][i][0])
			near(t, "height", all[1][i][1], all[0][i][1])
		}
	}
}

// TestWallsThatSlideAway: a wall between parallel sides that others limit has the length that it has where it is thinnest: nothing, where
// they come together. Circles between the plate's side at x -20 and the pocket's at (10 - z) tan 20 have the radius r of half of that
// width; they lie between two holes whose sides stand 9.8 + (10 - z) tan 20 from the middle, and so over twice what that is more than r.
func TestWallsThatSlideAway(t *testing.T) {
	tan := math.Tan(20 * math.Pi / 180)
	for _, text := range inTwo(t, "rectangle: {length: 40, width: 50}", "10", "7.3",
		"pocket: {rectangle: {length: 14, width: 40, at: [7, 0]}, depth: 6, open: top, draft: {angle: 20, narrows: down}}, "+
			"north: {rectangle: {length: 16, width: 12, at: [-8, 15.8]}, draft: {angle: 20, narrows: down}}, "+
			"south: {rectangle: {length: 16, width: 12, at: [-8, -15.8]}, draft: {angle: 20, narrows: down}}") {
		p := made(t, text)
		top := 10 - 0.4/tan // where (10 - z) tan 20 is 0.4
		i := slices.IndexFunc(p.Walls, func(w *subject.Wall) bool { return math.Abs(w.Thickness-20.4) < 1e-5 })
		if i < 0 {
			t.Fatalf("no wall of 20.4: %v", show(p.Walls))
		}
		near(t, "thickness", p.Walls[i].Thickness, 20.4)
		near(t, "height", p.Walls[i].Height, top-4)
		near(t, "length", p.Walls[i].Length, 0)
	}
}

// TestBallBesideAFace: a ball whose middle lies a micrometre outside of a face, where its outline is not yet another, makes the part no
// higher.
func TestBallBesideAFace(t *testing.T) {
	for _, z := range []string{"10.001", "-0.001"} {
		p := made(t, "bodies: {plate: {rectangle: {length: 48, width: 38}, from: 0, to: 10}}\ncuts: {ball: {ball: {diameter: 11, z: "+z+"}}}\n")
		near(t, "height", p.Height, 10)
		near(t, "depth", the(t, p.Holes, "ball").Depth, 5.499)
		near(t, "share", the(t, p.Holes, "ball").Share, 5.499/10)
	}
}

// TestBoreGoesOn: the core rod of a hole goes on where a bore becomes a taper without a ledge; it ends, as the die's tools do, at a ledge
// and at a slope that a punch forms.
func TestBoreGoesOn(t *testing.T) {
	for cuts, want := range map[string]float64{
		"bore: {circle: {diameter: 10}, open: top, depth: 10}, taper: {circle: {diameter: 10}, from: 0, to: 10, draft: {angle: 5, narrows: down}}":  20,
		"bore: {circle: {diameter: 10}, open: top, depth: 10}, taper: {circle: {diameter: 9.9}, from: 0, to: 10, draft: {angle: 5, narrows: down}}": 10,
		"bore: {turned: {section: [[0, 0], [4, 0], [4, 15], [9, 20], [0, 20]]}}":                                                                    15,
		"bore: {turned: {section: [[0, 0], [4, 0], [4, 15], [5, 20], [0, 20]]}}":                                                                    20,
	} {
		p := made(t, "bodies: {disc: {circle: {diameter: 40}, from: 0, to: 20}}\ncuts: {"+cuts+"}\n")
		if len(p.Holes) == 0 {
			t.Fatal(cuts, "has no hole")
		}
		near(t, "depth of "+cuts, p.Holes[0].Depth, want)
		near(t, "ratio of "+cuts, p.Holes[0].Ratio, want/p.Holes[0].Width)
	}
}

// TestWebBesideAnUndercut: the web of a ball and the one below it is the distance of their middles less both radii, whatever is left of
// the material under the lower ball, whose widest place lies above the face; and from either of them.
func TestWebBesideAnUndercut(t *testing.T) {
	p := made(t, "bodies: {plate: {rectangle: {length: 30, width: 30}, from: 0, to: 9}}\ncuts: {upper: {ball: {diameter: 8, at: [-2, 0], z: 10}}, "+
		"lower: {ball: {diameter: 8, at: [2, 0], z: 0.3}}}\n")
	for _, hole := range p.Holes {
		near(t, hole.Name, hole.WebAcross.Value, math.Hypot(4, 9.7)-8)
	}
}

// TestWebToARidge: the web between a groove that ends in a ridge, or a cone that ends in a point, and a wall that leans below it is
// measured to that wall: a point's distance from a line, in the plane square to both.
func TestWebToARidge(t *testing.T) {
	cone := "c1: {turned: {at: [0, 6], section: [[0, 0], [5, 0], [3, 4], [0, 4]]}}"
	tan := math.Tan(20 * math.Pi / 180)
	for _, x := range []struct {
		cuts string
		want float64
	}{
		{"c0: {rectangle: {length: 20, width: 2}, open: top, depth: 9, section: v}, " + cone, 6 / math.Sqrt(20)},
		{"c0: {turned: {section: [[0, 1], [2, 10], [0, 10]]}}, " + cone, 6 / math.Sqrt(20)},
		{"c1: {circle: {diameter: 8}, from: 0, to: 5, draft: {angle: 20, narrows: up}}, c0: {turned: {at: [6, 0], section: [[0, 3], [2, 10], [0, 10]]}}",
			(6 - 4 + 3*tan) / math.Hypot(1, tan)},
	} {
		for _, hole := range made(t, "bodies: {disc: {circle: {diameter: 60}, from: 0, to: 10}}\ncuts: {"+x.cuts+"}\n").Holes {
			if hole.Name == "c1" {
				near(t, x.cuts, hole.WebAcross.Value, x.want)
			}
		}
	}
}

// TestFloorsInFloors: a recess has its own floor: neither that of the holes that go on from it nor the lip of an undercut in it.
func TestFloorsInFloors(t *testing.T) {
	balls := "a: {ball: {diameter: 10, at: [-3, 0], z: 5.7}}, b: {ball: {diameter: 10, at: [3, 0], z: 5.7}}"
	lip := "recess: {circle: {diameter: 20}, open: top, depth: 2}, ball: {ball: {diameter: 6, z: 6.5}}"
	for _, x := range []struct {
		high, cuts, hole string
		want             float64
	}{
		{"5.2", balls, "a", 0.7}, {"5.2", balls, "a and b", 1.7}, {"5.2", balls, "b", 0.7}, {"10", lip, "ball and recess", 3.5},
	} {
		hole := the(t, made(t, "bodies: {disc: {circle: {diameter: 40}, from: 0, to: "+x.high+"}}\ncuts: {"+x.cuts+"}\n").Holes, x.hole)
		near(t, x.hole, hole.Floor.Value, x.want)
		if hole.WebAcross.Known {
			t.Errorf("%s: a web of %v", x.hole, hole.WebAcross.Value)
		}
	}
}

// TestSlopesOneAfterAnother: a slope is the core rod's or the die's where further steep slopes lead on from it, and a punch's where a floor
// or a ledge comes first.
func TestSlopesOneAfterAnother(t *testing.T) {
	for _, x := range []struct{ bodies, cuts, want string }{
		{"", "c: {turned: {section: [[0, 0], [4.5, 0], [5, 2], [6, 5], [8, 10], [0, 10]]}}", "core core core"},
		{"", "c: {turned: {section: [[0, 2], [5, 2], [6, 5], [8, 10], [0, 10]]}}", "punch punch"},
		{"", "c: {turned: {section: [[0, 0], [4, 0], [4, 3], [5, 3], [6, 5], [8, 10], [0, 10]]}}", "punch punch"},
		{"d: {turned: {section: [[0, 0], [10, 0], [9, 5], [7, 10], [0, 10]]}}", "", "die die"},
		{"p: {circle: {diameter: 40}, from: -3, to: 0}, d: {turned: {section: [[0, 0], [10, 0], [9, 5], [7, 10], [0, 10]]}}", "", "punch punch"},
	} {
		if x.bodies == "" {
			x.bodies = "disc: {circle: {diameter: 60}, from: 0, to: 10}"
		}
		var by []string
		for _, taper := range made(t, "bodies: {"+x.bodies+"}\ncuts: {"+x.cuts+"}\n").Tapers {
			by = append(by, taper.FormedBy)
		}
		if got := strings.Join(by, " "); got != x.want {
			t.Errorf("%s%s: %s, want %s", x.bodies, x.cuts, got, x.want)
		}
	}
}

// TestAWallIsNoWeb: a ball beside a drafted hole has a wall to it, and no web, wherever a body ends in between.
func TestAWallIsNoWeb(t *testing.T) {
	for _, text := range inTwo(t, "circle: {diameter: 50}", "7", "3.546", "ball: {ball: {diameter: 8.41, at: [4.54, 4.49], z: 0.46}}, "+
		"hole: {circle: {diameter: 5.41, at: [0.94, -1.32]}, draft: {angle: 6, narrows: down}}") {
		hole := the(t, made(t, text).Holes, "ball")
		near(t, "floor", hole.Floor.Value, 7-0.46-8.41/2)
		if hole.WebAcross.Known {
			t.Errorf("a web of %v", hole.WebAcross.Value)
		}
	}
}

// TestAConeInTheWay: the wall between a cone and the rim, straight out from the axis of both, ends where the circle across it comes to touch
// another cone, and is there again above that cone's tip.
func TestAConeInTheWay(t *testing.T) {
	out := math.Hypot(0.25, 0.36) // from the disc's axis
	room := func(z float64) float64 {
		r := 4.28 * (1 - z/3.87)
		wall := 25 - out - r
		c := out + r + wall/2
		return math.Hypot(0.25/out*c+0.99, -0.36/out*c+3.83) - 1.11*(1-z/3.33) - wall/2
	}
	low, high := 0.0, 3.33
	for range 60 {
		if z := (low + high) / 2; room(z) > 0 {
			low = z
		} else {
			high = z
		}
	}
	for _, text := range []string{
		"c0: {turned: {at: [0.25, -0.36], section: [[0, 3.87], [4.28, 0], [0, 0]]}}, c1: {turned: {at: [-0.99, -3.83], section: [[0, 3.33], [1.11, 0], [0, 0]]}}",
		"c0: {turned: {at: [0.25, 0.36], section: [[0, 5.13], [4.28, 9], [0, 9]]}}, c1: {turned: {at: [-0.99, 3.83], section: [[0, 5.67], [1.11, 9], [0, 9]]}}",
	} {
		var heights []float64
		for _, w := range made(t, "bodies: {disc: {circle: {diameter: 50}, from: 0, to: 9}}\ncuts: {"+text+"}\n").Walls {
			if strings.HasPrefix(w.Name, "c0 to disc") {
				heights = append(heights, w.Height)
			}
		}
		slices.Sort(heights)
		if len(heights) != 2 || math.Abs(heights[0]-(3.87-3.33)) > 1e-6 || math.Abs(heights[1]-low) > 2e-6 {
			t.Errorf("heights of %v, want %v and %v", heights, 3.87-3.33, low)
		}
	}
}

// TestStepBesideADraftedHole: the wall of a drafted hole that crosses a step cuts no column off: the step's share is that of the whole.
func TestStepBesideADraftedHole(t *testing.T) {
	for _, text := range inTwo(t, "circle: {diameter: 50}", "10", "1.288", "hole: {circle: {diameter: 7.79, at: [5.24, -5.02]}, draft: {angle: 3, narrows: down}}, "+
		"sink: {turned: {at: [3.14, 2.47], section: [[0, 2.01], [4.34, 2.01], [7.25, 0], [0, 0]]}}") {
		for _, step := range made(t, text).Steps {
			near(t, step.Name, step.LocalShare, 0.201)
		}
	}
}

// TestDepthUnderASink: a core rod with a draft is as long as its own walls, and not the countersink over it: the two slopes meet where
// their radii are the same.
func TestDepthUnderASink(t *testing.T) {
	near(t, "one section", the(t, made(t, "bodies: {plate: {circle: {diameter: 40}, from: 0, to: 12}}\n"+
		"cuts: {hole: {turned: {section: [[0, 0], [1.7, 0], [1.5, 6], [7.5, 12], [0, 12]]}}}\n").Holes, "hole").Depth, 6)
	z := (2 - 1.5 + 5) / (1 + math.Tan(5*math.Pi/180)) // 2 - z tan 5 = 1.5 + (z - 5)
	for _, h := range made(t, "bodies: {plate: {circle: {diameter: 40}, from: 0, to: 12}}\n"+
		"cuts: {hole: {circle: {diameter: 4}, draft: {angle: 5, narrows: up}}, sink: {turned: {section: [[0, 5], [1.5, 5], [8.5, 12], [0, 12]]}}}\n").Holes {
		near(t, "two cuts", h.Depth, z)
	}
}

// TestLowerLand: of the upright walls beyond both ends of a taper the lower is its land, and none of the bore's.
func TestLowerLand(t *testing.T) {
	for section, want := range map[string]float64{
		"[[6, 0], [16, 0], [16, 0.1], [20, 8], [20, 12.1], [6, 12.1]]": 0.1,
		"[[6, 0], [16, 0], [16, 4], [20, 8], [20, 8.3], [6, 8.3]]":     0.3,
		"[[10, -6.6], [11.6, -3], [11.6, 3], [10, 6.6]]":               6,
	} {
		for _, taper := range made(t, "bodies: {hub: {turned: {section: "+section+"}}}\n").Tapers {
			near(t, section, taper.Land.Value, want)
		}
	}
}

// TestBluntRim: an upright hole that comes out of a face that slopes a little has its wall to the rim below, and no wall that comes to
// nothing at the edge of the face.
func TestBluntRim(t *testing.T) {
	sink := the(t, made(t, "bodies: {disc: {circle: {diameter: 40}, from: 0, to: 8}}\ncuts: {bore: {circle: {diameter: 4, at: [15, 0]}}, "+
		"sink: {turned: {at: [15, 0], section: [[0, 5], [2, 5], [8, 8], [0, 8]]}}}\n").Walls, "bore and sink to disc")
	near(t, "a countersink that breaks out at the rim", sink.Angle.Value, math.Atan2(6, 3)*180/math.Pi)
	for _, w := range made(t, "bodies: {wheel: {turned: {section: [[0, 0], [20, 0], [20, 7], [8, 8], [0, 8]]}}}\n"+
		"cuts: {holes: {circle: {diameter: 6, at: [16.5, 0]}}}\n").Walls {
		near(t, "wall", w.Thickness, 0.5)
		near(t, "height", w.Height, 7)
		if w.RunsOut {
			t.Error("it runs out")
		}
	}
}

// TestArcsThatBecomeARing: the countersink over a hexagon has six walls to the outside, each a sixth of the ring that they become where it
// holds all corners of the hexagon, and the ring.
func TestArcsThatBecomeARing(t *testing.T) {
	arcs, rings := 0, 0
	for _, w := range made(t, "bodies: {plate: {circle: {diameter: 40}, from: 0, to: 10}}\ncuts: {hex: {hexagon: {across_flats: 10, corner: 0.3}}, "+
		"sink: {turned: {section: [[0, 6], [3, 6], [7, 10], [0, 10]]}}}\n").Walls {
		switch {
		case !strings.Contains(w.Name, "sink"):
		case w.Length > 80:
			rings++
		case w.Length > 13 && w.Length < 14:
			arcs += max(1, len(w.Places))
		}
	}
	if arcs != 5 || rings != 1 { // one of the six goes on as the ring
		t.Errorf("%d arcs, %d rings", arcs, rings)
	}
}

// TestLengthAtATangency: where a groove's side comes to touch a bore, the wall beside the bore is as long as from where the circle across it
// touches the plate's end to the bore's middle, however fast it grows shorter beyond.
func TestLengthAtATangency(t *testing.T) {
	wall := 22.5 - 5.945 - 7.967/2
	for _, text := range inTwo(t, "rectangle: {length: 45, width: 32, corner: 2}", "6", "2.864",
		"groove: {rectangle: {length: 60, width: 6.788, at: [7, 6], turn: 90}, open: bottom, depth: 3.142844, section: round}, "+
			"bore: {circle: {diameter: 7.967, at: [5.945, -4.153]}}") {
		found := false
		for _, w := range made(t, text).Walls {
			if math.Abs(w.Thickness-wall) < 1e-9 && w.Length > 0 {
				if want := -4.153 - (-16 + wall/2); math.Abs(w.Length-want) > 1e-7 { // it is extrapolated
					t.Errorf("a length of %.9f, want %.9f", w.Length, want)
				}
				found = true
			}
		}
		if !found {
			t.Error("there is no such wall")
		}
	}
}

// TestShellsAtTheAxis: a half section that runs along the axis for less than it is high is a shell there: its volume is what its points
// give by Pappus, and it is one piece.
func TestShellsAtTheAxis(t *testing.T) {
	for _, x := range []struct {
		text   string
		volume float64
	}{
		{"bodies: {cap: {turned: {section: [[0, 8], [12, 0], [16, 0], [0, 14]]}}}\n", math.Pi * (16*16*14 - 12*12*8) / 3},
		{"bodies: {dome: {turned: {section: [[10, 0], [12, 0], {arc: [0, 12], radius: 12, turn: ccw}, [0, 10], {arc: [10, 0], radius: 10, turn: cw}]}}}\n",
			math.Pi * 2 / 3 * (12*12*12 - 10*10*10)},
		{"bodies: {disc: {circle: {diameter: 20}, from: 0, to: 10}}\ncuts: {slit: {turned: {section: [[0, 2], [8, 8], [8, 9], [0, 3]]}}}\n",
			math.Pi * (100*10 - 64)},
	} {
		p := made(t, x.text)
		near(t, "volume", p.Volume, x.volume)
	}
}

// TestDraftOfArcs: what is round in section leans least at its mouth, where it is steepest: there by the angle whose sine is what its
// middle lies over the mouth, of its radius.
func TestDraftOfArcs(t *testing.T) {
	p := made(t, "bodies: {plate: {circle: {diameter: 40}, from: 0, to: 12}}\ncuts: {dimple: {ball: {diameter: 12, z: 17}}, "+
		"groove: {rectangle: {length: 50, width: 4}, open: bottom, depth: 1, section: round}}\n")
	near(t, "ball", the(t, p.Holes, "dimple").Draft, math.Asin(5.0/6)*180/math.Pi)
	near(t, "groove", p.Grooves[0].Draft, math.Asin(1.5/2.5)*180/math.Pi) // radius (2 2 + 1 1) / 2
	p = made(t, "bodies: {plate: {circle: {diameter: 40}, from: 0, to: 12}}\ncuts: {half: {ball: {diameter: 12, z: 12}}}\n")
	near(t, "half a ball", p.Holes[0].Draft, 0)
}

// TestTipsBesideARim: a cone whose tip lies just inside the outline opens to it as far above its tip as that is away, however little.
func TestTipsBesideARim(t *testing.T) {
	for _, off := range []float64{0.03, 0.001, 0.0001} {
		for _, lean := range []float64{1, 2} {
			p := made(t, fmt.Sprintf("bodies: {b: {circle: {diameter: 40}, from: 0, to: 8}}\n"+
				"cuts: {c: {turned: {at: [%.9f, 0], section: [[0, 4], [%g, 8], [0, 8]]}}}\n", 20-off, 4*lean))
			w := the(t, p.Walls, "b to c")
			near(t, "thickness", w.Thickness, 0)
			near(t, "height", w.Height, off/lean)
			if want := math.Atan(lean) * 180 / math.Pi; math.Abs(w.Angle.Value-want) > 1e-5 { // from heights 1e-4 apart
				t.Errorf("%g inside: at %g degrees, want %g", off, w.Angle.Value, want)
			}
			if len(p.Feathers) > 0 {
				t.Errorf("%g inside: %v", off, show(p.Feathers))
			}
		}
	}
}

// TestWidthOfAPin: a blind hole is as wide as its pin where that is thinnest: what is flatter than a wall is the pin's face, whether it
// ends in a point or not.
func TestWidthOfAPin(t *testing.T) {
	for section, want := range map[string]float64{
		"[[0, 4], [4, 8], [0, 8]]":                         8,
		"[[0, 4], [0.01, 4], [4, 8], [0, 8]]":              8,
		"[[0, 2], [1, 2], [3, 4], [3, 8], [0, 8]]":         6,
		"[[0, 2], [2, 2], [3, 8], [0, 8]]":                 4, // 9.5 degrees
		"[[0, 2], [0.5, 2], [2, 3], [2.5, 8], [0, 8]]":     4,
		"[[0, 2], [1, 2], [1, 4], [3, 6], [3, 8], [0, 8]]": 2,
	} {
		p := made(t, "bodies: {disc: {circle: {diameter: 40}, from: 0, to: 8}}\ncuts: {pin: {turned: {section: "+section+"}}}\n")
		near(t, section, the(t, p.Holes, "pin").Width, want)
	}
}

// TestBoreOfTwoCones: a bore of two cones one above the other has the levels of one drawn in one section, whichever way it is drawn.
func TestBoreOfTwoCones(t *testing.T) {
	for _, cuts := range []string{"c: {turned: {section: [[0, 0], [9, 0], [9.5, 5], [11, 10], [0, 10]]}}",
		"c: {turned: {section: [[0, 0], [8, 0], [11, 10], [0, 10]]}}, d: {turned: {section: [[0, 0], [9, 0], [10, 10], [0, 10]]}}",
		"c: {turned: {section: [[0, 0], [11, 0], [8, 10], [0, 10]]}}, d: {turned: {section: [[0, 0], [10, 0], [9, 10], [0, 10]]}}"} {
		p := made(t, "bodies: {a: {circle: {diameter: 40}, from: 0, to: 10}}\ncuts: {"+cuts+"}\n")
		if p.LevelsTop != 1 || p.LevelsBottom != 1 || len(p.Steps) > 0 || len(p.Grooves) > 0 {
			t.Errorf("%s: levels %v, steps %v, grooves %v", cuts, show(p.Levels), show(p.Steps), show(p.Grooves))
		}
		near(t, "depth", p.Holes[0].Depth, 10)
		near(t, "width", p.Holes[0].Width, 18)
	}
}

// TestTouchOfABodyInTwo: two cones whose radii add up to the distance of their axes at all heights touch along one line, however the body
// is drawn.
func TestTouchOfABodyInTwo(t *testing.T) {
	for _, text := range inTwo(t, "circle: {diameter: 40}", "12", "5.25", "a: {turned: {at: [-4, 0], section: [[0, 12], [0, 3], [12, 12]]}}, "+
		"b: {turned: {at: [4, 0], section: [[0, 0], [12, 0], [0, 9]]}}") {
		w := the(t, made(t, text).Walls, "a to b")
		near(t, "height", w.Height, 6)
		if len(w.Places) > 1 || !w.RunsOut {
			t.Errorf("%+v", w)
		}
	}
}

// TestBandHoweverDrawn: the band at the widest of two slopes does not depend on how the part is drawn, nor on an edge at its ends; a slope
// that ends in a flat face above has none.
func TestBandHoweverDrawn(t *testing.T) {
	for text, want := range map[string]float64{
		"b: {turned: {section: [[6, -8], [12, 0], [6, 8]]}}":                        0,
		"b: {turned: {section: [[6, -8], [6.02, -8], [12, 0], [6.02, 8], [6, 8]]}}": 0,
		"lo: {circle: {diameter: 20}, from: 0, to: 6, draft: {angle: 5, narrows: down}}, up: {circle: {diameter: 20}, from: 6, to: 12, draft: {angle: 5, narrows: up}}": 0,
		"b: {turned: {section: [[10, -6.6], [11.6, -3], [11.6, 3], [10, 6.6]]}}":                                                                                        6,
		"b: {turned: {section: [[0, 0], [19.3, 0], [20, 8], [10, 8], [10, 20], [0, 20]]}}":                                                                              -1,
		"b: {circle: {diameter: 40}, from: 0, to: 8, draft: {angle: 5, narrows: down}}, hub: {circle: {diameter: 20}, from: 0, to: 20}":                                 -1,
	} {
		if band := made(t, "bodies: {"+text+"}\n").Band; band.Known != (want >= 0) || band.Known && math.Abs(band.Value-want) > 1e-9 {
			t.Errorf("%s: a band of %v", text, band)
		}
	}
}
