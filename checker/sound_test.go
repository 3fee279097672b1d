package checker

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"corerod/parts/form"
	"corerod/parts/source"
	"corerod/rules"
)

// sound is a part that a shop would press as drawn, and where a fault can be planted in it.
type sound struct {
	text   string
	height float64
	body   string  // whose rim and height are free
	spot   float64 // y of the middle of a free area of its plan, 5 mm round it
	thin   float64 // y at which a hole of 3 mm leaves 0.5 mm of wall
	gear   bool
	steps  bool
}

// soundPart makes part i: bushes, washers, flanged hubs, gears, cams and levers, by turns.
func soundPart(i int) sound {
	rng := rand.New(rand.NewPCG(uint64(i), 41))
	size := func(lo, hi float64) float64 { return math.Round((lo+(hi-lo)*rng.Float64())*20) / 20 }
	head := fmt.Sprintf("part: part-%d\nunits: mm\nmaterial: {name: FC-0208, density: %g}\nquantity: %d\n", i, math.Round(100*(6.5+0.25*rng.Float64()))/100, 20000+rng.IntN(100000))
	bore := size(12, 16)
	switch i % 6 {
	case 0:
		d, h := size(44, 56), size(15, 28)
		return sound{text: fmt.Sprintf("%sbodies:\n  body: {circle: {diameter: %g}, from: 0, to: %g}\ncuts:\n  bore: {circle: {diameter: %g}}\n", head, d, h, bore),
			height: h, body: "body", spot: (bore + d) / 4, thin: d/2 - 2}
	case 1:
		d, h := size(44, 60), size(4.5, 7.2)
		return sound{text: fmt.Sprintf("%sbodies:\n  body: {circle: {diameter: %g}, from: 0, to: %g}\ncuts:\n  bore: {circle: {diameter: %g}}\n", head, d, h, bore),
			height: h, body: "body", spot: (bore + d) / 4, thin: d/2 - 2}
	case 2:
		hub, flange, h, t := size(32, 38), size(62, 70), size(18, 26), size(7, 8)
		return sound{text: fmt.Sprintf("%sbodies:\n  body: {circle: {diameter: %g}, from: 0, to: %g}\n  flange: {circle: {diameter: %g}, from: %g, to: %g}\ncuts:\n  bore: {circle: {diameter: %g}}\n",
			head, hub, h, flange, h-t, h, bore), height: h, body: "body", spot: (hub + flange) / 4, thin: flange/2 - 2, steps: true}
	case 3:
		m, z, h := size(1.5, 2.2), 26+rng.IntN(8), size(8, 12)
		return sound{text: fmt.Sprintf("%sbodies:\n  body: {gear: {module: %g, teeth: %d, tip_radius: 0.2}, from: 0, to: %g}\ncuts:\n  bore: {circle: {diameter: %g}}\n", head, m, z, h, bore),
			height: h, body: "body", spot: (bore/2 + m*(float64(z)/2-1.25)) / 2, thin: bore/2 + 2, gear: true}
	case 4:
		d, h, e := size(46, 56), size(9, 14), size(2, 5)
		return sound{text: fmt.Sprintf("%sbodies:\n  body: {circle: {diameter: %g, at: [0, %g]}, from: 0, to: %g}\ncuts:\n  bore: {circle: {diameter: %g}}\n", head, d, e, h, bore),
			height: h, body: "body", spot: (bore/2 + d/2 + e) / 2, thin: d/2 + e - 2}
	}
	l, w, h := size(80, 95), size(44, 48), size(8, 12)
	return sound{text: fmt.Sprintf("%sbodies:\n  body: {slot: {length: %g, width: %g}, from: 0, to: %g}\ncuts:\n  bore: {circle: {diameter: %g}}\n  far: {circle: {diameter: 10, at: [%g, 0]}}\n", head, l, w, h, bore, (l-w)/2),
		height: h, body: "body", spot: (bore + w) / 4, thin: w/2 - 2}
}

// fault is one mistake planted in a sound part, the rule that must find it and those that may follow.
type fault struct {
	name, rule string
	follow     []string
	fits       func(s sound) bool
	plant      func(s sound) map[string]string
}

func all(sound) bool { return true }

var faults = []fault{
	{"thin wall", "wall-thickness", []string{"wall-slenderness"}, all, func(s sound) map[string]string {
		return map[string]string{"cuts.planted": fmt.Sprintf("{circle: {diameter: 3, at: [0, %g]}}", s.thin)}
	}},
	{"tiny bore", "bore-width", nil, all, func(s sound) map[string]string {
		return map[string]string{"cuts.planted": fmt.Sprintf("{circle: {diameter: 0.8, at: [0, %g]}}", s.spot)}
	}},
	{"sharp corner", "corner-radius", nil, all, func(s sound) map[string]string {
		return map[string]string{"cuts.planted": fmt.Sprintf("{rectangle: {length: 4, width: 4, at: [0, %g]}}", s.spot)}
	}},
	{"cross hole", "cross-feature", nil, all, func(s sound) map[string]string {
		return map[string]string{"sides.planted": fmt.Sprintf("{hole: {diameter: 2, toward: 90, z: %g}, in: %s}", s.height/2, s.body)}
	}},
	{"thread", "cross-feature", nil, all, func(sound) map[string]string {
		return map[string]string{"sides.planted": "{thread: {size: M14, inside: true}, in: bore}"}
	}},
	{"buried void", "trapped-undercut", nil, func(s sound) bool { return !s.steps }, func(s sound) map[string]string {
		return map[string]string{"cuts.planted": fmt.Sprintf("{circle: {diameter: 4, at: [0, %g]}, from: %g, to: %g}", s.spot, s.height/3, s.height/2)}
	}},
	{"reverse taper", "reverse-taper", nil, all, func(s sound) map[string]string {
		return map[string]string{"cuts.planted": fmt.Sprintf("{circle: {diameter: 6, at: [0, %g]}, draft: {angle: 1.5, narrows: down}}", s.spot)}
	}},
	{"steep chamfer", "chamfer-slope", nil, all, func(sound) map[string]string {
		return map[string]string{"edges.planted": "{of: bore, face: top, chamfer: {width: 0.5, slope: 60, flat: 0.2}}"}
	}},
	{"chamfer without a flat", "chamfer-flat", nil, all, func(sound) map[string]string {
		return map[string]string{"edges.planted": "{of: bore, face: top, chamfer: {width: 0.5, slope: 30}}"}
	}},
	{"full radius", "edge-round", nil, all, func(sound) map[string]string {
		return map[string]string{"edges.planted": "{of: bore, face: top, round: {radius: 0.5}}"}
	}},
	{"tight bore", "plan-tolerance", nil, all, func(sound) map[string]string {
		return map[string]string{"dimensions.planted": "{of: bore.diameter, plus_minus: 0.005}"}
	}},
	{"tight bore, sized", "sized-tolerance", nil, all, func(sound) map[string]string {
		return map[string]string{"sized": "true", "dimensions.planted": "{of: bore.diameter, plus_minus: 0.002}"}
	}},
	{"tight height", "axial-tolerance", nil, all, func(s sound) map[string]string {
		return map[string]string{"dimensions.planted": fmt.Sprintf("{of: %s.height, plus_minus: 0.02}", s.body)}
	}},
	{"straight boss", "boss-draft", nil, func(s sound) bool { return !s.steps }, func(s sound) map[string]string {
		return map[string]string{"bodies.planted": fmt.Sprintf("{circle: {diameter: 4, at: [0, %g]}, from: %g, to: %g}", s.spot, s.height/2, s.height*1.1)}
	}},
	{"high boss", "boss-height", []string{"boss-draft"}, func(s sound) bool { return !s.steps }, func(s sound) map[string]string {
		return map[string]string{"bodies.planted": fmt.Sprintf("{circle: {diameter: 5, at: [0, %g]}, from: %g, to: %g, draft: {angle: 13, narrows: up}}", s.spot, s.height, s.height*1.3)}
	}},
	{"thin flange", "flange-thickness", []string{"flange-overhang"}, func(s sound) bool { return !s.gear && !s.steps }, func(s sound) map[string]string {
		return map[string]string{"bodies.planted": fmt.Sprintf("{circle: {diameter: 120}, from: 0, to: %g}", 1.2)}
	}},
	{"pressed from the top", "pressed-height", []string{"one-way-step"}, func(s sound) bool { return s.height > 7.6 }, func(sound) map[string]string {
		return map[string]string{"pressing": "top"}
	}},
	{"knife edge", "feather-edge", []string{"corner-radius"}, all, func(s sound) map[string]string {
		return map[string]string{"cuts.planted": fmt.Sprintf("{polygon: {points: [[-1.5, %g], [1.5, %g], [1.5, %g]], corner: [0.15, 0.15, 0.15]}}", s.spot-3, s.spot+3, s.spot-3)}
	}},
	{"step in the punch face", "step-share", nil, func(s sound) bool { return !s.gear && !s.steps && !strings.Contains(s.text, "far:") }, func(s sound) map[string]string {
		return map[string]string{"cuts.planted": fmt.Sprintf("{circle: {diameter: %g}, open: top, depth: %g, punch: face}", 2*s.spot, s.height/2)}
	}},
	{"hub at the roots", "root-wall", nil, func(s sound) bool { return s.gear }, func(s sound) map[string]string {
		return map[string]string{"bodies.planted": fmt.Sprintf("{circle: {diameter: %g}, from: 0, to: %g}", 2*(2*s.spot-s.thin+2-0.8), s.height+5)}
	}},
}

// TestSound: sixty parts as they are pressed every day draw no stop and no change. Each of twenty mistakes, planted in
// each of them that it fits, draws the rule that is to find it, and of stops and changes none but those that may follow.
func TestSound(t *testing.T) {
	book := standardBook(t)
	planted := map[string]int{}
	for i := range 60 {
		if testing.Short() && i > 11 {
			return
		}
		s := soundPart(i)
		if bad := serious(t, book, s.text, nil); len(bad) > 0 {
			t.Errorf("a sound part draws %v:\n%s", bad, s.text)
		}
		for _, f := range faults {
			if !f.fits(s) {
				continue
			}
			planted[f.name]++
			bad := serious(t, book, s.text, f.plant(s))
			if !slices.Contains(bad, f.rule) {
				t.Errorf("%s: %s does not find it, but %v:\n%s%v", f.name, f.rule, bad, s.text, f.plant(s))
			}
			for _, r := range bad {
				if r != f.rule && !slices.Contains(f.follow, r) {
					t.Errorf("%s: %s follows:\n%s%v", f.name, r, s.text, f.plant(s))
				}
			}
		}
	}
	for _, f := range faults {
		if planted[f.name] < 10 {
			t.Errorf("%s was planted %d times", f.name, planted[f.name])
		}
	}
}

// serious lists the rules that find a stop or a change on a part with some values changed.
func serious(t *testing.T, book *rules.Book, text string, changes map[string]string) (found []string) {
	t.Helper()
	var cs []form.Change
	for path, v := range changes {
		n, ps := source.Parse("change.yaml", []byte("v: "+v))
		if len(ps) > 0 {
			t.Fatal(ps)
		}
		cs = append(cs, form.Change{Name: path, Value: n.At("v")})
	}
	p, ps, wrong := form.ParseWith("sound.yaml", []byte(text), cs)
	if len(ps) > 0 || len(wrong) > 0 {
		t.Fatalf("%v %v\n%s%v", ps, wrong, text, changes)
	}
	d, ps := Derive(p, book)
	if len(ps) > 0 {
		t.Fatalf("%v\n%s%v", ps, text, changes)
	}
	out := book.Judge(rules.Case{Part: d.Subject, Material: rules.Material{Name: p.Material.Name}, Unit: p.Unit})
	for _, f := range out.Findings {
		if f.Grade != rules.Ask && !slices.Contains(found, f.Rule.Name) {
			found = append(found, f.Rule.Name)
		}
	}
	if len(out.Faults) > 0 {
		t.Errorf("%s: %s", strings.Split(text, "\n")[0], out.Faults[0].Message)
	}
	return found
}
