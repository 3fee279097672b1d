package samples

import (
	"fmt"
	"math"
	"math/rand/v2"
)

// Sound is a part that a shop would press as drawn, and where a fault can be planted in it.
type Sound struct {
	Text   string
	height float64
	body   string  // whose rim and height are free
	spot   float64 // y of the middle of a free area of its plan, 5 mm round it
	thin   float64 // y at which a hole of 3 mm leaves 0.5 mm of wall
	gear   bool
	steps  bool
}

// SoundPart makes part i: bushes, washers, flanged hubs, gears, cams and levers, by turns.
func SoundPart(i int) Sound {
	rng := rand.New(rand.NewPCG(uint64(i), 41))
	size := func(lo, hi float64) float64 { return math.Round((lo+(hi-lo)*rng.Float64())*20) / 20 }
	head := fmt.Sprintf("part: part-%d\nunits: mm\nmaterial: {name: FC-0208, density: %g}\nquantity: %d\n", i,
		math.Round(100*(6.5+0.25*rng.Float64()))/100, 20000+rng.IntN(100000))
	bore := size(12, 16)
	switch i % 6 {
	case 0:
		d, h := size(44, 56), size(15, 28)
		return Sound{Text: fmt.Sprintf("%sbodies:\n  body: {circle: {diameter: %g}, from: 0, to: %g}\ncuts:\n  bore: {circle: {diameter: "+
			"%g}}\n", head, d, h, bore),
			height: h, body: "body", spot: (bore + d) / 4, thin: d/2 - 2}
	case 1:
		d, h := size(44, 60), size(4.5, 7.2)
		return Sound{Text: fmt.Sprintf("%sbodies:\n  body: {circle: {diameter: %g}, from: 0, to: %g}\ncuts:\n  bore: {circle: {diameter: "+
			"%g}}\n", head, d, h, bore),
			height: h, body: "body", spot: (bore + d) / 4, thin: d/2 - 2}
	case 2:
		hub, flange, h, t := size(32, 38), size(62, 70), size(18, 26), size(7, 8)
		return Sound{Text: fmt.Sprintf("%sbodies:\n  body: {circle: {diameter: %g}, from: 0, to: %g}\n  flange: {circle: {diameter: %g}, "+
			"from: %g, to: %g}\ncuts:\n  bore: {circle: {diameter: %g}}\n",
			head, hub, h, flange, h-t, h, bore), height: h, body: "body", spot: (hub + flange) / 4, thin: flange/2 - 2, steps: true}
	case 3:
		m, z, h := size(1.5, 2.2), 26+rng.IntN(8), size(8, 12)
		return Sound{
			Text: fmt.Sprintf("%sbodies:\n  body: {gear: {module: %g, teeth: %d, tip_radius: 0.2}, from: 0, to: %g}\n"+
				"cuts:\n  bore: {circle: {diameter: %g}}\n", head, m, z, h, bore),
			height: h, body: "body", spot: (bore/2 + m*(float64(z)/2-1.25)) / 2, thin: bore/2 + 2, gear: true}
	case 4:
		d, h, e := size(46, 56), size(9, 14), size(2, 5)
		return Sound{
			Text: fmt.Sprintf("%sbodies:\n  body: {circle: {diameter: %g, at: [0, %g]}, from: 0, to: %g}\n"+
				"cuts:\n  bore: {circle: {diameter: %g}}\n", head, d, e, h, bore),
			height: h, body: "body", spot: (bore/2 + d/2 + e) / 2, thin: d/2 + e - 2}
	}
	l, w, h := size(80, 95), size(44, 48), size(8, 12)
	return Sound{Text: fmt.Sprintf("%sbodies:\n  body: {slot: {length: %g, width: %g}, from: 0, to: %g}\ncuts:\n  bore: {circle: "+
		"{diameter: %g}}\n  far: {circle: {diameter: 10, at: [%g, 0]}}\n", head, l, w, h, bore, (l-w)/2),
		height: h, body: "body", spot: (bore + w) / 4, thin: w/2 - 2}
}
