package samples

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"testing"

	"corerod/parts/source"
)

// Fault is one mistake planted in a sound part, the rule that must find it and those that may follow.
type Fault struct {
	Name, Rule string
	Follow     []string
	Fits       func(s Sound) bool
	Plant      func(s Sound) map[string]string
}

// all is for faults that fit every part.
func all(Sound) bool { return true }

// Faults are twenty mistakes.
var Faults = []Fault{
	{"thin wall", "wall-thickness", []string{"wall-slenderness"}, all, func(s Sound) map[string]string {
		return map[string]string{"cuts.planted": fmt.Sprintf("{circle: {diameter: 3, at: [0, %g]}}", s.thin)}
	}},
	{"tiny bore", "bore-width", nil, all, func(s Sound) map[string]string {
		return map[string]string{"cuts.planted": fmt.Sprintf("{circle: {diameter: 0.8, at: [0, %g]}}", s.spot)}
	}},
	{"sharp corner", "corner-radius", nil, all, func(s Sound) map[string]string {
		return map[string]string{"cuts.planted": fmt.Sprintf("{rectangle: {length: 4, width: 4, at: [0, %g]}}", s.spot)}
	}},
	{"cross hole", "cross-feature", nil, all, func(s Sound) map[string]string {
		return map[string]string{"sides.planted": fmt.Sprintf("{hole: {diameter: 2, toward: 90, z: %g}, in: %s}", s.height/2, s.body)}
	}},
	{"thread", "cross-feature", nil, all, func(Sound) map[string]string {
		return map[string]string{"sides.planted": "{thread: {size: M14, inside: true}, in: bore}"}
	}},
	{"buried void", "trapped-undercut", nil, func(s Sound) bool { return !s.steps }, func(s Sound) map[string]string {
		return map[string]string{"cuts.planted": fmt.Sprintf("{circle: {diameter: 4, at: [0, %g]}, from: %g, to: %g}", s.spot, s.height/3,
			s.height/2)}
	}},
	{"reverse taper", "reverse-taper", nil, all, func(s Sound) map[string]string {
		return map[string]string{"way_up": "as-drawn", "cuts.planted": fmt.Sprintf("{circle: {diameter: 6, at: [0, %g]}, "+
			"draft: {angle: 1.5, narrows: down}}", s.spot)}
	}},
	{"steep chamfer", "chamfer-slope", nil, all, func(Sound) map[string]string {
		return map[string]string{"edges.planted": "{of: bore, face: top, chamfer: {width: 0.5, slope: 60, flat: 0.2}}"}
	}},
	{"chamfer without a flat", "chamfer-flat", nil, all, func(Sound) map[string]string {
		return map[string]string{"edges.planted": "{of: bore, face: top, chamfer: {width: 0.5, slope: 30}}"}
	}},
	{"full radius", "edge-round", nil, all, func(Sound) map[string]string {
		return map[string]string{"edges.planted": "{of: bore, face: top, round: {radius: 0.5}}"}
	}},
	{"tight bore", "plan-tolerance", nil, all, func(Sound) map[string]string {
		return map[string]string{"dimensions.planted": "{of: bore.diameter, plus_minus: 0.005}"}
	}},
	{"tight bore, sized", "sized-tolerance", nil, all, func(Sound) map[string]string {
		return map[string]string{"sized": "true", "dimensions.planted": "{of: bore.diameter, plus_minus: 0.002}"}
	}},
	{"tight height", "axial-tolerance", nil, all, func(s Sound) map[string]string {
		return map[string]string{"dimensions.planted": fmt.Sprintf("{of: %s.height, plus_minus: 0.02}", s.body)}
	}},
	{"straight boss", "boss-draft", nil, func(s Sound) bool { return !s.steps }, func(s Sound) map[string]string {
		return map[string]string{"bodies.planted": fmt.Sprintf("{circle: {diameter: 4, at: [0, %g]}, from: %g, to: %g}", s.spot, s.height/2,
			s.height*1.1)}
	}},
	{"high boss", "boss-height", []string{"boss-draft"}, func(s Sound) bool { return !s.steps }, func(s Sound) map[string]string {
		return map[string]string{"bodies.planted": fmt.Sprintf("{circle: {diameter: 5, at: [0, %g]}, from: %g, to: %g, draft: {angle: 13, "+
			"narrows: up}}", s.spot, s.height, s.height*1.3)}
	}},
	{"thin flange", "flange-thickness", []string{"flange-overhang"}, func(s Sound) bool { return !s.gear && !s.steps },
		func(s Sound) map[string]string {
			return map[string]string{"bodies.planted": fmt.Sprintf("{circle: {diameter: 120}, from: 0, to: %g}", 1.2)}
		}},
	{"pressed from the top", "pressed-height", []string{"one-way-step"}, func(s Sound) bool { return s.height > 7.6 },
		func(Sound) map[string]string {
			return map[string]string{"pressing": "top"}
		}},
	{"knife edge", "feather-edge", []string{"corner-radius"}, all, func(s Sound) map[string]string {
		return map[string]string{"cuts.planted": fmt.Sprintf("{polygon: {points: [[-1.5, %g], [1.5, %g], [1.5, %g]], corner: [0.15, 0.15, "+
			"0.15]}}", s.spot-3, s.spot+3, s.spot-3)}
	}},
	{"step in the punch face", "step-share", nil, func(s Sound) bool { return !s.gear && !s.steps && !strings.Contains(s.Text, "far:") },
		func(s Sound) map[string]string {
			return map[string]string{"cuts.planted": fmt.Sprintf("{circle: {diameter: %g}, open: top, depth: %g, punch: face}",
				2*s.spot, s.height/2)}
		}},
	{"hub at the roots", "root-wall", nil, func(s Sound) bool { return s.gear }, func(s Sound) map[string]string {
		return map[string]string{"bodies.planted": fmt.Sprintf("{circle: {diameter: %g}, from: 0, to: %g}", 2*(2*s.spot-s.thin+2-0.8),
			s.height+5)}
	}},
}

// Planted is a sound part with one fault in it.
type Planted struct {
	Fault *Fault
	Text  []byte
}

// PlantedParts are n sound parts with one fault each, every fault in turn.
func PlantedParts(t testing.TB, n int) (all []Planted) {
	t.Helper()
	for i := 0; len(all) < n; i++ {
		s, f := SoundPart(i), &Faults[(i/6+i)%len(Faults)]
		if !f.Fits(s) {
			continue
		}
		all = append(all, Planted{f, Edited(t, s.Text, f.Plant(s))})
	}
	return all
}

// Edited is a part file with some values set.
func Edited(t testing.TB, text string, values map[string]string) []byte {
	t.Helper()
	doc, ps := source.Open("part.yaml", []byte(text))
	if len(ps) > 0 {
		t.Fatal(ps, text)
	}
	var edits []source.Edit
	for path, v := range values {
		edits = append(edits, source.Edit{Path: path, Text: v})
	}
	slices.SortFunc(edits, func(a, b source.Edit) int { return cmp.Compare(a.Path, b.Path) })
	b, err := doc.With(edits...)
	if err != nil {
		t.Fatal(err)
	}
	return b
}
