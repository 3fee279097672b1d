package partstest

import (
	"fmt"
	"math/rand/v2"
)

// Kind is a kind of parts, by what draws a random one.
type Kind struct {
	Name string
	Draw func(*rand.Rand) Drawing
}

// Kinds are kinds of parts. Most can be made; some have cuts that remove nothing.
var Kinds = []Kind{
	{"plain bush", bush}, {"flanged bush", flangedBush}, {"plate with holes", holedPlate}, {"plate with drafted pockets", pockets},
	{"hub with drafted sides", draftedHub}, {"countersunk disc", countersunk}, {"balls in faces", balls},
	{"grooves", grooves}, {"pulley", pulley}, {"gear blank", gearBlank},
}

// pen draws the numbers of one part, in whole micrometres.
type pen struct{ writer }

func with(rng *rand.Rand) *pen { return &pen{writer{rng: rng}} }

func (p *pen) one(of ...string) string { return of[p.rng.IntN(len(of))] }

// often is true so many times in ten.
func (p *pen) often(tenths int) bool { return p.rng.IntN(10) < tenths }

func (p *pen) place(r float64) [2]float64 { return [2]float64{p.size(-r, r), p.size(-r, r)} }

func circle(name string, d float64) Feature {
	return Feature{Name: name, Profile: "circle", Lengths: []Length{{"diameter", d}}}
}

func rectangle(name string, length, width, corner float64) Feature {
	f := Feature{Name: name, Profile: "rectangle", Lengths: []Length{{"length", length}, {"width", width}}}
	if corner > 0 {
		f.Lengths = append(f.Lengths, Length{"corner", corner})
	}
	return f
}

// up is a feature as a body between two heights.
func (f Feature) up(from, to float64) Feature { f.From, f.To = from, to; return f }

func (f Feature) at(p [2]float64) Feature { f.At = p; return f }

func (f Feature) draft(angle float64, narrows string) Feature {
	f.Draft, f.Narrows = angle, narrows
	return f
}

// open is a feature as a cut from one end face.
func (f Feature) open(face string, depth float64) Feature { f.Open, f.Depth = face, depth; return f }

// round are copies of a feature about the z axis.
func (f Feature) round(n int) Feature { f.Copies, f.Round = n, true; return f }

func (f Feature) along(n int, x, y float64) Feature {
	f.Copies, f.Step = n, [2]float64{x, y}
	return f
}

// small is a cut's profile, some d across.
func (p *pen) small(name string, d float64) Feature {
	var f Feature
	switch p.rng.IntN(4) {
	case 0:
		f = Feature{Profile: "slot", Lengths: []Length{{"length", p.size(1.2*d, 2*d)}, {"width", d}}}
	case 1:
		f = Feature{Profile: "hexagon", Lengths: []Length{{"across_flats", d}}}
	case 2:
		f = rectangle("", p.size(0.8*d, 1.6*d), d, []float64{0, p.size(0.05*d, 0.3*d)}[p.rng.IntN(2)])
	default:
		return circle(name, d)
	}
	f.Name, f.Turn = name, []float64{0, 90, 30, p.size(0, 180)}[p.rng.IntN(4)]
	return f
}

func bush(rng *rand.Rand) Drawing {
	p := with(rng)
	d := p.size(12, 40)
	bore := circle("bore", d*p.size(0.3, 0.8))
	if p.often(3) {
		bore = bore.at(p.place(d / 20))
	}
	return Drawing{[]Feature{circle("ring", d).up(0, p.size(4, 30))}, []Feature{bore}}
}

func flangedBush(rng *rand.Rand) Drawing {
	p := with(rng)
	d, thick := p.size(12, 30), p.size(2, 6)
	out := Drawing{[]Feature{circle("flange", d*p.size(1.2, 1.8)).up(0, thick), circle("hub", d).up(0, thick+p.size(3, 20))},
		[]Feature{circle("bore", d*p.size(0.3, 0.7))}}
	if p.often(5) {
		out.Cuts = append(out.Cuts, p.small("key", d*p.size(0.1, 0.2)).at([2]float64{out.Cuts[0].Lengths[0].Value / 2, 0}))
	}
	if p.often(4) {
		out.Cuts = append(out.Cuts, circle("sink", d*p.size(0.5, 0.9)).open(p.one("top", "bottom"), p.size(0.5, 3)))
	}
	if p.often(3) {
		ear := p.small("ear", d*p.size(0.3, 0.6)).at([2]float64{d * p.size(0.6, 0.9), 0}).up(0, thick)
		out.Bodies = append(out.Bodies, ear.round(2+p.rng.IntN(3)))
	}
	return out
}

// plate is a body that is flat.
func (p *pen) plate() Feature {
	h := p.size(4, 12)
	if p.often(3) {
		return circle("plate", p.size(30, 50)).up(0, h)
	}
	return rectangle("plate", p.size(30, 50), p.size(26, 40), p.size(0, 6)).up(0, h)
}

func holedPlate(rng *rand.Rand) Drawing {
	p := with(rng)
	out := Drawing{Bodies: []Feature{p.plate()}}
	for i := range 1 + p.rng.IntN(3) {
		f := p.small(fmt.Sprintf("hole-%d", i), p.size(3, 9)).at(p.place(10))
		switch p.rng.IntN(4) {
		case 0:
			f = f.round(2 + p.rng.IntN(4))
		case 1:
			f = f.along(2, p.size(-9, 9), p.size(-9, 9))
		}
		if p.often(3) {
			f = f.open(p.one("top", "bottom"), p.size(1, 3.5))
		}
		out.Cuts = append(out.Cuts, f)
	}
	return out
}

func pockets(rng *rand.Rand) Drawing {
	p := with(rng)
	out := Drawing{Bodies: []Feature{p.plate()}}
	for i := range 1 + p.rng.IntN(3) {
		face, narrows := "top", "down"
		if p.often(4) {
			face, narrows = "bottom", "up"
		}
		f := p.small(fmt.Sprintf("pocket-%d", i), p.size(6, 14)).at(p.place(9)).open(face, p.size(1, 6)).draft(p.size(2, 15), narrows)
		if p.often(2) {
			f = f.along(2, p.size(-9, 9), p.size(-9, 9))
		}
		out.Cuts = append(out.Cuts, f)
	}
	return out
}

func draftedHub(rng *rand.Rand) Drawing {
	p := with(rng)
	thick := p.size(3, 7)
	hub := p.small("hub", p.size(12, 20)).up(thick, thick+p.size(2, 8)).draft(p.size(2, 12), "up")
	out := Drawing{Bodies: []Feature{circle("disc", p.size(30, 50)).up(0, thick), hub}}
	if p.often(4) {
		out.Bodies[0] = out.Bodies[0].draft(p.size(2, 10), p.one("up", "down"))
	}
	if p.often(7) {
		out.Cuts = append(out.Cuts, circle("bore", p.size(4, 9)).at(p.place(1)))
	}
	if p.often(4) {
		out.Bodies = append(out.Bodies, circle("stud", p.size(3, 6)).at([2]float64{0, p.size(8, 13)}).up(thick, thick+p.size(0.5, 3)).
			draft(p.size(5, 12), "up").round(2+p.rng.IntN(3)))
	}
	return out
}

// sink is a countersink from the top or the bottom of a part of a height.
func (p *pen) sink(name string, h float64) Feature {
	z, r, big := p.size(0.3*h, 0.8*h), p.size(0, 3), p.size(4, 7)
	s := [][2]float64{{0, z}, {r, z}, {big, h}, {0, h}}
	if r == 0 || p.often(2) {
		s = [][2]float64{{0, z}, {big, h}, {0, h}}
	}
	if p.often(5) {
		for i := range s {
			s[i][1] = h - s[i][1]
		}
	}
	return Feature{Name: name, Profile: "turned", Section: s}
}

func countersunk(rng *rand.Rand) Drawing {
	p := with(rng)
	h := p.size(4, 10)
	out := Drawing{Bodies: []Feature{circle("disc", 40).up(0, h)}}
	for i := range 1 + p.rng.IntN(3) {
		f := p.sink(fmt.Sprintf("sink-%d", i), h).at(p.place(14))
		if p.often(4) {
			f = f.round(2 + p.rng.IntN(3))
		}
		out.Cuts = append(out.Cuts, f)
		if p.often(3) {
			hole := circle(fmt.Sprintf("hole-%d", i), p.size(2, 6)).at(f.At)
			hole.Copies, hole.Round = f.Copies, f.Round
			out.Cuts = append(out.Cuts, hole)
		}
	}
	return out
}

func balls(rng *rand.Rand) Drawing {
	p := with(rng)
	plate := p.plate()
	out := Drawing{Bodies: []Feature{plate}}
	for i := range 1 + p.rng.IntN(3) {
		z := plate.To + p.size(-1, 3)
		if p.often(5) {
			z = p.size(-3, 1)
		}
		f := Feature{Name: fmt.Sprintf("ball-%d", i), Profile: "ball", Lengths: []Length{{"diameter", p.size(7, 13)}}, Z: z}.at(p.place(13))
		if p.often(3) {
			f = f.round(2 + p.rng.IntN(2))
		}
		out.Cuts = append(out.Cuts, f)
	}
	return out
}

func grooves(rng *rand.Rand) Drawing {
	p := with(rng)
	plate := p.plate()
	out := Drawing{Bodies: []Feature{plate}}
	for i := range 1 + p.rng.IntN(2) {
		name, width := fmt.Sprintf("groove-%d", i), p.size(3, 8)
		f := rectangle(name, 60, width, 0)
		switch p.rng.IntN(4) {
		case 0:
			f = rectangle(name, p.size(12, 20), width, 0)
		case 1:
			f = Feature{Name: name, Profile: "slot", Lengths: []Length{{"length", p.size(12, 20)}, {"width", width}}}
		}
		f = f.at(p.place(8)).open(p.one("top", "bottom"), p.size(0.2, 0.5)*width)
		f.Turn, f.Groove = []float64{0, 90, p.size(0, 180)}[p.rng.IntN(3)], p.one("v", "round")
		out.Cuts = append(out.Cuts, f)
	}
	if p.often(4) {
		out.Cuts = append(out.Cuts, circle("bore", p.size(3, 9)).at(p.place(6)))
	}
	return out
}

func pulley(rng *rand.Rand) Drawing {
	p := with(rng)
	r, h := p.size(15, 25), p.size(8, 14)
	s := [][2]float64{{0, 0}, {r, 0}, {r - p.size(1, 4), h}, {0, h}}
	switch p.rng.IntN(3) {
	case 0: // a V round it
		s = [][2]float64{{0, 0}, {r, 0}, {r, h * 0.2}, {r - p.size(2, 5), h * 0.5}, {r, h * 0.8}, {r, h}, {0, h}}
	case 1: // a hub
		b := p.size(5, 9)
		s = [][2]float64{{0, 0}, {r, 0}, {r, h * 0.4}, {b + p.size(0.5, 3), h * 0.4}, {b, h}, {0, h}}
	}
	out := Drawing{[]Feature{{Name: "wheel", Profile: "turned", Section: s}},
		[]Feature{circle("bore", p.size(4, 9)).at(p.place(2))}}
	if p.often(6) {
		out.Cuts = append(out.Cuts, circle("lights", p.size(3, 6)).at([2]float64{p.size(7, 13), p.size(-2, 2)}).round(2+p.rng.IntN(4)))
	}
	return out
}

func gearBlank(rng *rand.Rand) Drawing {
	p := with(rng)
	d, h := p.size(30, 50), p.size(5, 10)
	rim := circle("rim", d).up(0, h)
	if p.often(3) {
		n := 18 + p.rng.IntN(14)
		module := []Length{{"module", d / float64(n)}}
		rim = Feature{Name: "rim", Profile: "gear", Lengths: module, Other: fmt.Sprintf("teeth: %d", n)}.up(0, h)
	}
	out := Drawing{[]Feature{rim, circle("hub", d*p.size(0.3, 0.5)).up(0, h+p.size(1, 8))},
		[]Feature{circle("bore", d*p.size(0.12, 0.25)), p.small("holes", d*p.size(0.08, 0.14)).at([2]float64{d * p.size(0.3, 0.38), 0}).
			round(2 + p.rng.IntN(5))}}
	if p.often(4) {
		out.Cuts = append(out.Cuts, p.small("recess", d*0.6).open("bottom", p.size(0.5, 2)))
	}
	return out
}
