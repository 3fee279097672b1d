package plane

import (
	"math"
	"math/rand/v2"
	"testing"
)

// TestCovers: whether an arc covers a point of its circle agrees with the angle swept to it, for any sweep.
func TestCovers(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 9))
	for range 20000 {
		sweep := (rng.Float64()*2 - 1) * 2 * math.Pi
		start, turn := rng.Float64()*7, rng.Float64()*2*math.Pi
		c := Arc(Point{1, -2}, 3, start, sweep)
		if math.Abs(math.Abs(sweep)-turn) < 1e-5 || turn < 1e-5 || 2*math.Pi-turn < 1e-5 || math.Abs(sweep) < 1e-5 {
			continue
		}
		p := Arc(Point{1, -2}, 3, start, math.Copysign(turn, sweep)).B
		if got := c.covers(p); got != (turn < math.Abs(sweep)) {
			t.Fatalf("sweep %g from %g covers the point %g on: %v", sweep, start, turn, got)
		}
	}
}
