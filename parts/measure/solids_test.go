package measure

import (
	"encoding/json"
	"math"
	"os"
	"slices"
	"strings"
	"testing"

	"corerod/parts/form"
	"corerod/parts/subject"
)

// TestSolidsThatMeet: plan, through-hole and wall of the parts in testdata/solids in which slopes meet, against columns.py there, which
// works them out from the drawn shapes without sections.
func TestSolidsThatMeet(t *testing.T) {
	b, err := os.ReadFile("../../testdata/solids/solids.json")
	if err != nil {
		t.Fatal(err)
	}
	var known struct {
		Parts map[string]struct {
			Plan          *float64
			PlanTolerance float64 `json:"plan_tolerance"`
			Through       *float64
			ThroughTol    float64 `json:"through_tolerance"`
			Wall          *float64
			WallTolerance float64  `json:"wall_tolerance"`
			WallBetween   []string `json:"wall_between"`
		}
	}
	if err := json.Unmarshal(b, &known); err != nil {
		t.Fatal(err)
	}
	n := 0
	for name, want := range known.Parts {
		if want.Plan == nil {
			continue
		}
		n++
		text, err := os.ReadFile("../../testdata/solids/" + name + ".yaml")
		if err != nil {
			t.Fatal(err)
		}
		p, ps := form.Parse(name, text)
		if len(ps) > 0 {
			t.Fatal(ps)
		}
		m, ps := Part(p)
		if len(ps) > 0 {
			t.Errorf("%s: %v", name, ps)
			continue
		}
		q := m.Subject
		if math.Abs(q.PlanArea-*want.Plan) > want.PlanTolerance+1e-6*q.PlanArea {
			t.Errorf("%s: plan %.9g, want %.9g", name, q.PlanArea, *want.Plan)
		}
		if want.Through != nil && !slices.ContainsFunc(q.Holes, func(h *subject.Hole) bool {
			return h.Through && (math.Abs(h.Width-*want.Through) <= want.ThroughTol+1e-6)
		}) && !openAtTheSides[name] {
			t.Errorf("%s: through %.9g: holes %v", name, *want.Through, show(q.Holes))
		}
		if want.Wall != nil && !slices.ContainsFunc(q.Walls, func(w *subject.Wall) bool {
			return math.Abs(w.Thickness-*want.Wall) <= want.WallTolerance+1e-6 && between(w, want.WallBetween)
		}) {
			var all []string
			for _, w := range q.Walls {
				all = append(all, w.Name)
				if between(w, want.WallBetween) {
					all = append(all, "which is", ftoa(w.Thickness))
				}
			}
			t.Errorf("%s: wall %v %.9g: %q", name, want.WallBetween, *want.Wall, all)
		}
	}
	if n < 60 {
		t.Errorf("%d parts", n)
	}
}

func ftoa(v float64) string { b, _ := json.Marshal(v); return string(b) }

// openAtTheSides are parts whose void all through is closed in plan at no height.
var openAtTheSides = map[string]bool{"crossed-v-grooves": true, "crossed-v-grooves-turned": true, "crossed-round-grooves": true}

// between tells whether a wall lies between two features, one of several on a side.
func between(w *subject.Wall, of []string) bool {
	has := func(side, name string) bool {
		return slices.Contains(strings.FieldsFunc(strings.ReplaceAll(side, " and ", ","), func(r rune) bool { return r == ',' || r == ' ' }), name)
	}
	return has(w.Between[0], of[0]) && has(w.Between[1], of[1]) || has(w.Between[0], of[1]) && has(w.Between[1], of[0])
}
