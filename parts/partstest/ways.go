package partstest

import "math/rand/v2"

// Way is another way to write a part.
type Way struct {
	Name, Units string
	Over        bool // it lies turned over
	// Rewrite writes a part so; high is the sum of its lowest and its highest height. It is false where there is nothing to rewrite.
	Rewrite func(d Drawing, high float64) (Drawing, bool)
}

// Ways are other ways to write a part.
func Ways(rng *rand.Rand) []Way {
	seed, body, share := rng.Uint64(), rng.IntN(100), 0.1+0.8*rng.Float64()
	always := func(change func(Drawing) Drawing) func(Drawing, float64) (Drawing, bool) {
		return func(d Drawing, _ float64) (Drawing, bool) { return change(d), true }
	}
	return []Way{
		{Name: "in another order", Units: "mm", Rewrite: always(func(d Drawing) Drawing {
			return d.Reordered(rand.New(rand.NewPCG(seed, 1)).Shuffle)
		})},
		{Name: "mirrored", Units: "mm", Rewrite: always(Drawing.Mirrored)},
		{Name: "turned by 17 degrees", Units: "mm", Rewrite: always(func(d Drawing) Drawing { return d.Turned(17) })},
		{Name: "shifted", Units: "mm", Rewrite: always(func(d Drawing) Drawing { return d.Shifted(31.7, -12.9) })},
		{Name: "in inches", Units: "in", Rewrite: always(func(d Drawing) Drawing { return d })},
		{Name: "turned over", Units: "mm", Over: true, Rewrite: func(d Drawing, high float64) (Drawing, bool) {
			return d.Over(high), true
		}},
		{Name: "a body in two", Units: "mm", Rewrite: func(d Drawing, _ float64) (Drawing, bool) {
			return d.Split(body%len(d.Bodies), share)
		}},
		{Name: "copies one by one", Units: "mm", Rewrite: func(d Drawing, _ float64) (Drawing, bool) {
			one := d.OneByOne()
			return one, len(one.Bodies)+len(one.Cuts) > len(d.Bodies)+len(d.Cuts)
		}},
	}
}
