package measure

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"corerod/parts/form"
	"corerod/parts/subject"
)

// underSpace is half of what a V space of half a width h at its mouth and 1 mm deep takes from the axis out to a radius: the integral of
// (1 - y/h) sqrt(r2 - y2) from 0 to h.
func underSpace(h, r float64) float64 {
	long := math.Sqrt(r*r - h*h)
	return (h*long+r*r*math.Asin(h/r))/2 - (r*r*r-long*long*long)/(3*h)
}

// TestReliefs: volume and surface of reliefs and islands in closed form.
func TestReliefs(t *testing.T) {
	const ring = "bodies: {a: {circle: {diameter: 40}, from: 0, to: 12, "
	rad, tan := math.Pi/180, func(degrees float64) float64 { return math.Tan(degrees * math.Pi / 180) }
	screw := func(r, pitch float64) float64 { // area of a screw face within a radius for each radian; pitch for each radian too
		return (r*math.Hypot(r, pitch) + pitch*pitch*math.Asinh(r/pitch)) / 2
	}
	pitch, span := 2/(100*rad), 100*rad
	h := 2 * tan(30)
	frustum := func(r, s, high float64) float64 { return math.Pi / 3 * high * (r*r + r*s + s*s) }
	for _, c := range []struct {
		text            string
		volume, surface float64 // 0 where it is not known by hand
	}{
		{ring + "tilt: {face: top, angle: 7, toward: 33}}}", math.Pi * 400 * (12 - 20*tan(7)),
			math.Pi*400*(1+1/math.Cos(7*rad)) + 2*math.Pi*20*(12-20*tan(7))},
		{ring + "tilt: {face: bottom, angle: 7, toward: -71}}}", math.Pi * 400 * (12 - 20*tan(7)),
			math.Pi*400*(1+1/math.Cos(7*rad)) + 2*math.Pi*20*(12-20*tan(7))},
		{ring + "ramp: {face: top, start_angle: 10, end_angle: 110, rise: 2, inner: 20, count: 3}}}\ncuts: {b: {circle: {diameter: 12}}}",
			math.Pi*(400-36)*12 - 3*span/2*(400-100),
			2*math.Pi*(400-36) + 2*math.Pi*(20+6)*12 +
				3*(span*(screw(20, pitch)-screw(10, pitch))/1-span/2*(400-100)-20*span+10*span+10*2)},
		{ring + "ramp: {face: bottom, start_angle: 110, end_angle: 10, rise: 2, inner: 20, outer: 40}}}\ncuts: {b: {circle: {diameter: 20}}}",
			math.Pi*(400-100)*12 - span/2*(400-100), 0},
		{ring + "face_teeth: {face: top, count: 9, depth: 2, angle: 60, inner: 20, outer: 40, turn: 7}}}\ncuts: {b: {circle: {diameter: 20}}}",
			math.Pi*(400-100)*12 - 9*2*2*(underSpace(h, 20)-underSpace(h, 10)), 0},
		{ring + "}}\ncuts: {b: {circle: {diameter: 26}, open: top, depth: 3, draft: {angle: 20, narrows: down}, island: {circle: {diameter: 9}}}}",
			math.Pi*400*12 - frustum(13, 13-3*tan(20), 3) + frustum(4.5, 4.5-3*tan(20), 3), 0},
	} {
		q := finishedOf(t, c.text)
		if math.Abs(q.Volume/c.volume-1) > 1e-9 {
			t.Errorf("%s\n volume %.12g, by hand %.12g", c.text, q.Volume, c.volume)
		}
		if c.surface > 0 && math.Abs(q.Surface/c.surface-1) > 1e-9 {
			t.Errorf("%s\n surface %.12g, by hand %.12g", c.text, q.Surface, c.surface)
		}
	}
}

// TestReliefMeasures: how deep a relief goes, its share of the part's height and its steepest slope.
func TestReliefMeasures(t *testing.T) {
	for _, c := range []struct {
		text               string
		form               string
		rise, share, slope float64
		copies             int
	}{
		{"bodies: {a: {rectangle: {length: 20, width: 10}, from: 2, to: 12, tilt: {face: top, angle: 10, toward: 90}}}", "tilt",
			10 * math.Tan(math.Pi/18), math.Tan(math.Pi / 18), 10, 1},
		{"bodies: {a: {circle: {diameter: 30}, from: 0, to: 10, face_teeth: {face: bottom, count: 6, depth: 1, angle: 70, inner: 12, outer: 24}}}",
			"teeth", 1, 0.1, 55, 1},
		{"bodies: {a: {circle: {diameter: 30}, from: 0, to: 10, ramp: {face: top, start_angle: 0, end_angle: 90, rise: 2, inner: 16}}}", "ramp",
			2, 0.2, math.Atan2(2/(math.Pi/2), 8) * 180 / math.Pi, 1},
		{"bodies: {d: {circle: {diameter: 60}, from: 0, to: 8}, a: {circle: {diameter: 8, at: [20, 0]}, from: 8, to: 10, tilt: {face: top, angle: 5, toward: 0}, repeat: {count: 4}}}",
			"tilt", 8 * math.Tan(5*math.Pi/180), 0.8 * math.Tan(5*math.Pi/180), 5, 4},
	} {
		q := finishedOf(t, c.text)
		if len(q.Reliefs) != 1 || subject.CountOf(q.Reliefs[0]) != c.copies {
			t.Errorf("%s\n%+v", c.text, q.Reliefs)
			continue
		}
		r := q.Reliefs[0]
		if r.Form != c.form || math.Abs(r.Rise-c.rise) > 1e-9 || math.Abs(r.Share-c.share) > 1e-9 || math.Abs(r.Slope-c.slope) > 1e-9 {
			t.Errorf("%s\n%+v", c.text, r)
		}
	}
}

// TestBlendOfThree: at a corner that three features make, a blend names all of them.
func TestBlendOfThree(t *testing.T) {
	const text = "bodies: {a: {circle: {diameter: 30}, from: 0, to: 5}, b: {circle: {diameter: 30}, from: 5, to: 9}}\n" +
		"cuts: {c: {rectangle: {length: 6, width: 5, at: [14, 0]}}}\n"
	// Each blend takes the spandrel off between a line and a circle from outside: volume is less by the two of them over 9 mm.
	whole, blent := finishedOf(t, text), finishedOf(t, text+"blends: {x: {of: [c, a, b], radius: 0.5}}\n")
	if blent.Volume >= whole.Volume-0.1 || len(blent.OpenJoints) > 0 {
		t.Errorf("volume %g with the blends, %g without; open joints %v", blent.Volume, whole.Volume, blent.OpenJoints)
	}
	p, ps := form.Parse("part.yaml", []byte("part: p\nunits: mm\n"+text+"blends: {x: {of: [c, a], radius: 0.5}}\n"))
	if len(ps) > 0 {
		t.Fatal(ps)
	}
	if _, ps = Part(p); len(ps) != 1 || !strings.Contains(ps[0].Message, "a, b and c meet in one corner; name all of them: `of: [a, b, c]`") {
		t.Error(ps)
	}
}

// TestReliefLocalShare: reliefs of both faces count together over one column; a recess of the other face does not.
func TestReliefLocalShare(t *testing.T) {
	const seat = "bodies: {a: {circle: {diameter: 42}, from: 0, to: 11, face_teeth: {face: bottom, count: 8, depth: 1.4, angle: 70, inner: 26, outer: 42}%s}}\n" +
		"cuts: {b: {circle: {diameter: 14}}%s}\n"
	for _, c := range []struct {
		relief, cut string
		want        float64
	}{
		{"", "", 1.4 / 11},
		{"", ", r: {circle: {diameter: 34}, open: top, depth: 1.5, draft: {angle: 12, narrows: down}}", 1.4 / 9.5},
		{", ramp: {face: top, start_angle: -10, end_angle: -190, rise: 1, inner: 26}", "", 0}, // between the two bounds below
	} {
		q := finishedOf(t, fmt.Sprintf(seat, c.relief, c.cut))
		share := 0.0
		for _, r := range q.Reliefs {
			if r.Form == "teeth" {
				share = r.LocalShare
			}
		}
		if c.relief == "" && math.Abs(share-c.want) > 1e-9 {
			t.Errorf("%s%s: %.10g, by hand %.10g", c.relief, c.cut, share, c.want)
		}
		if c.relief != "" && (share < 1.9/11 || share > 2.4/11) { // both, less what the ramp has come up by over the spaces
			t.Errorf("with a ramp: %.10g", share)
		}
	}
}
