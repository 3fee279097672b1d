package partstest

import (
	"math/rand/v2"
	"runtime"
	"sync"
)

// Each draws parts, from a number on, until so many can be made, and gives each to a test, several at once; false where of four times as
// many not enough could be made.
func Each(first, many int, made func(d Drawing) bool, do func(d Drawing, rng *rand.Rand)) bool {
	return EachOf(Kinds, first, many, made, do)
}

// EachOf is Each of some kinds of parts.
func EachOf(kinds []Kind, first, many int, made func(d Drawing) bool, do func(d Drawing, rng *rand.Rand)) bool {
	type part struct {
		Drawing
		rng *rand.Rand
	}
	drawn, wait := make(chan part), sync.WaitGroup{}
	for range runtime.GOMAXPROCS(0) {
		wait.Go(func() {
			for p := range drawn {
				do(p.Drawing, p.rng)
			}
		})
	}
	found := 0
	for i := first; i < first+4*many && found < many; i++ {
		rng := rand.New(rand.NewPCG(uint64(i), 29))
		d := kinds[i%len(kinds)].Draw(rng)
		if made(d) {
			found++
			drawn <- part{d, rng}
		}
	}
	close(drawn)
	wait.Wait()
	return found == many
}
