package partstest

import (
	"fmt"
	"math/rand/v2"
)

// Faces are kinds of parts in whose faces punches form more than flats.
var Faces = []Kind{
	{"tilted face", tilted}, {"face teeth", toothedFace}, {"ramps", ramped}, {"recess with an island", recessed},
	{"tilted pads", pads},
}

// spoiled are cuts that may lie in a face with a relief.
func (p *pen) spoiled(h, r float64) (cuts []Feature) {
	if p.often(7) {
		cuts = append(cuts, circle("bore", p.size(0.3*r, 0.7*r)))
	}
	for i := range p.rng.IntN(3) {
		f := p.small(fmt.Sprintf("cut-%d", i), p.size(0.1*r, 0.3*r)).at(p.place(0.8 * r))
		switch p.rng.IntN(4) {
		case 0:
			f = f.open(p.one("top", "bottom"), p.size(0.2*h, 0.6*h))
		case 1:
			f = f.open(p.one("top", "bottom"), p.size(0.2*h, 0.6*h))
			f.Draft, f.Narrows = p.size(3, 15), map[string]string{"top": "down", "bottom": "up"}[f.Open]
		case 2:
			f = p.sink(f.Name, h).at(f.At)
		}
		cuts = append(cuts, f)
	}
	return cuts
}

func tilted(rng *rand.Rand) Drawing {
	p := with(rng)
	h := p.size(6, 12)
	b := p.plan("plate", p.size(20, 40)).up(0, h)
	b.Relief = &Relief{Key: "tilt", Face: p.one("top", "bottom"), Angles: []Length{{"toward", p.turn()}},
		Other: fmt.Sprintf("angle: %g", p.size(0.5, 7))}
	return Drawing{[]Feature{b}, p.spoiled(h, 12)}
}

// turn is an angle in plan, often a round one.
func (p *pen) turn() float64 { return []float64{0, 90, 30, p.size(0, 360)}[p.rng.IntN(4)] }

// plan is a body's profile.
func (p *pen) plan(name string, across float64) Feature {
	switch p.rng.IntN(3) {
	case 0:
		return circle(name, across)
	case 1:
		return rectangle(name, across, p.size(0.6*across, across), p.size(0, 3))
	}
	return Feature{Name: name, Profile: "hexagon", Lengths: []Length{{"across_flats", across}}, Turn: p.turn()}
}

func toothedFace(rng *rand.Rand) Drawing {
	p := with(rng)
	h, d := p.size(8, 14), p.size(30, 45)
	b := circle("ring", d).up(0, h)
	inner := p.size(0.3*d, 0.5*d)
	b.Relief = &Relief{Key: "face_teeth", Face: p.one("top", "bottom"), Angles: []Length{{"turn", p.turn()}},
		Sizes: []Length{{"depth", p.size(0.3, 1.2)}, {"inner", inner}, {"outer", []float64{d, p.size(0.7*d, 0.9*d)}[p.rng.IntN(2)]}},
		Other: fmt.Sprintf("count: %d, angle: %g", 2+p.rng.IntN(10), p.size(40, 90))}
	out := Drawing{Bodies: []Feature{b}, Cuts: p.spoiled(h, d/2)}
	if p.often(5) {
		out.Cuts = append(out.Cuts, circle("core", inner))
	}
	return out
}

func ramped(rng *rand.Rand) Drawing {
	p := with(rng)
	h, d := p.size(8, 14), p.size(30, 45)
	b := p.plan("cam", d).up(0, h)
	n := 1 + p.rng.IntN(3)
	from, span := p.turn(), p.size(40, []float64{180, 170, 115}[n-1])
	if p.often(3) {
		span = -span
	}
	b.Relief = &Relief{Key: "ramp", Face: p.one("top", "bottom"), Angles: []Length{{"start_angle", from}, {"end_angle", from + span}},
		Sizes: []Length{{"rise", p.size(0.3, 3)}, {"inner", p.size(0.2*d, 0.5*d)}}, Other: fmt.Sprintf("count: %d", n)}
	if p.often(4) {
		b.Relief.Sizes = append(b.Relief.Sizes, Length{"outer", p.size(0.6*d, 0.9*d)})
	}
	return Drawing{[]Feature{b}, p.spoiled(h, d/2)}
}

func recessed(rng *rand.Rand) Drawing {
	p := with(rng)
	h := p.size(6, 12)
	out := Drawing{Bodies: []Feature{rectangle("plate", 60, 40, p.size(0, 4)).up(0, h)}}
	c := p.plan("pocket", p.size(12, 18)).open(p.one("top", "bottom"), p.size(0.2*h, 0.5*h)).at([2]float64{p.size(14, 16), p.size(-3, 3)})
	if p.often(6) {
		c.Draft, c.Narrows = p.size(2, 15), map[string]string{"top": "down", "bottom": "up"}[c.Open]
	}
	island := p.plan("", p.size(3, 6)).at([2]float64{c.At[0] + p.size(-1, 1), c.At[1] + p.size(-1, 1)})
	c.Island = &island
	if p.often(3) {
		c = c.round(2)
	}
	out.Cuts = append(out.Cuts, c)
	if p.often(5) {
		out.Cuts = append(out.Cuts, circle("bore", p.size(1, 3)).at(island.At))
	}
	return out
}

func pads(rng *rand.Rand) Drawing {
	p := with(rng)
	h := p.size(4, 8)
	pad := p.plan("pad", p.size(5, 8)).at([2]float64{13, 0}).up(h, h+p.size(1, 3)).round(2 + p.rng.IntN(4))
	pad.Relief = &Relief{Key: "tilt", Face: "top", Angles: []Length{{"toward", p.turn()}}, Other: fmt.Sprintf("angle: %g", p.size(0.5, 6))}
	return Drawing{[]Feature{circle("disc", 40).up(0, h), pad}, p.spoiled(h, 9)}
}
