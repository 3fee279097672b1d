package blank

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"corerod/parts/form"
)

// TestKeptBodies: a cut leaves the bodies that it keeps alone: volume and plan in closed form. Its depth counts from the bodies that it
// cuts.
func TestKeptBodies(t *testing.T) {
	const plate = "bodies: {plate: {rectangle: {length: 40, width: 30}, from: 0, to: 10}, boss: {circle: {diameter: 8%s}, from: 0, to: %g%s}}\n" +
		"cuts: {pocket: {rectangle: {length: 30, width: 20}, open: top, depth: 4%s, keep: [boss]}}\n"
	pit := 30.0 * 20 * 4
	prismoid := func(angle float64) float64 { // of the pocket with a draft
		d := 4 * tan(angle)
		return 4.0 / 6 * (30*20 + 4*(30-d)*(20-d) + (30-2*d)*(20-2*d))
	}
	for _, x := range []struct {
		name, text   string
		volume, plan float64
	}{
		{"as high as the plate", fmt.Sprintf(plate, "", 10.0, "", ""), 12000 - pit + 16*math.Pi*4, 1200},
		{"higher", fmt.Sprintf(plate, "", 14.0, "", ""), 12000 - pit + 16*math.Pi*8, 1200},
		{"lower", fmt.Sprintf(plate, "", 8.0, "", ""), 12000 - pit + 16*math.Pi*2, 1200},
		{"drafted", fmt.Sprintf(plate, "", 14.0, ", draft: {angle: 6, narrows: up}", ""),
			12000 - pit + frustum(4-6*tan(6), 4-14*tan(6), 8), 1200},
		{"in a drafted pocket", fmt.Sprintf(plate, "", 10.0, "", ", draft: {angle: 12, narrows: down}"),
			12000 - prismoid(12) + 16*math.Pi*4, 1200},
		{"both drafted", fmt.Sprintf(plate, "", 10.0, ", draft: {angle: 6, narrows: up}", ", draft: {angle: 12, narrows: down}"),
			12000 - prismoid(12) + frustum(4-6*tan(6), 4-10*tan(6), 4), 1200},
		{"out of the pocket's edge", fmt.Sprintf(plate, ", at: [15, 0]", 10.0, "", ""), 12000 - pit + 8*math.Pi*4, 1200},
		{"a spoke over a hole", "bodies: {rim: {circle: {diameter: 40}, from: 0, to: 8}, spoke: {rectangle: {length: 36, width: 6}, from: 0, to: 8}}\n" +
			"cuts: {hole: {circle: {diameter: 30}, keep: [spoke]}}\n",
			8 * (math.Pi*(400-225) + 2*(3*math.Sqrt(225-9)+225*math.Asin(3.0/15))), math.Pi*(400-225) + 2*(3*math.Sqrt(225-9)+225*math.Asin(3.0/15))},
	} {
		s := shapeOf(t, inMM+x.text)
		volume, _ := s.Volume()
		if math.Abs(volume-x.volume) > 1e-9*x.volume {
			t.Errorf("%s: volume %.12g, want %.12g", x.name, volume, x.volume)
		}
		plan := 0.0
		for c := range s.Cells() {
			if s.HasMaterial(c) {
				plan += s.Area(c)
			}
		}
		if math.Abs(plan-x.plan) > 1e-9*x.plan {
			t.Errorf("%s: plan %.12g, want %.12g", x.name, plan, x.plan)
		}
		// The sections at any height add up to it.
		sum := 0.0
		for i := range s.stations[1:] {
			low, high := s.stations[i], s.stations[i+1]
			for _, n := range Nodes() {
				if r := s.SectionAt(low + n.At*(high-low)); r != nil {
					sum += n.Weight * (high - low) * r.Moments().Area
				}
			}
		}
		if math.Abs(sum-x.volume) > 1e-6*x.volume {
			t.Errorf("%s: sections add up to %.12g, want %.12g", x.name, sum, x.volume)
		}
	}
}

// TestKeptRefused: what keep names is a body, once, in the cut's way; and a body that a cut keeps and that adds nothing is none.
func TestKeptRefused(t *testing.T) {
	const plate = "bodies: {plate: {rectangle: {length: 40, width: 30}, from: 0, to: 10}, boss: {circle: {diameter: 8, at: [%g, 0]}, from: 0, to: %g}}\n" +
		"cuts: {hole: {circle: {diameter: 3, at: [-18, 0]}}, pocket: {rectangle: {length: 30, width: 20}, open: top, depth: 4, keep: [%s]}}\n"
	for _, x := range []struct{ text, says string }{
		{fmt.Sprintf(plate, 0.0, 10.0, "hole"), "keep names `hole`, which is a cut"},
		{fmt.Sprintf(plate, 0.0, 10.0, "boss, boss"), "keep names `boss` twice"},
		{fmt.Sprintf(plate, 0.0, 10.0, "bos"), "there is no body or cut `bos`; did you mean `boss`?"},
		{fmt.Sprintf(plate, 0.0, 10.0, ""), "keep needs at least one body"},
		{fmt.Sprintf(plate, 19.5, 12.0, "boss"), "the cut pocket does not reach boss, which it is to keep"},
		{fmt.Sprintf(plate, 0.0, 6.0, "boss"), "the body boss adds nothing: other bodies cover all of it"},
		{fmt.Sprintf(plate, 0.0, 10.0, "plate"), "the body boss adds nothing"},
		{fmt.Sprintf(plate, 0.0, 10.0, "plate, boss"), "the cut pocket removes nothing"},
	} {
		p, ps := form.Parse("x.yaml", []byte(inMM+x.text))
		if len(ps) == 0 {
			_, ps = Make(p)
		}
		found := false
		for _, q := range ps {
			found = found || strings.Contains(q.Message, x.says)
		}
		if !found {
			t.Errorf("%s\n got %v\nwant %s", x.text, ps, x.says)
		}
	}
}
