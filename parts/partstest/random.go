// Package partstest writes part files for tests: random bodies and cuts that reach what nobody would draw. No program
// imports it.
package partstest

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
)

// Random writes random bodies and cuts of a part file in mm, without its name and units. coarse says that sizes are whole
// millimetres, which makes outlines touch and coincide; slopes that some of its walls may lean.
func Random(rng *rand.Rand, coarse, slopes bool) string {
	size := func(lo, hi float64) float64 {
		v := lo + (hi-lo)*rng.Float64()
		if coarse {
			return math.Max(1, math.Round(v))
		}
		return math.Round(v*1000) / 1000
	}
	profile := func(big bool) string {
		k := 1.0
		if !big {
			k = 0.25
		}
		at := fmt.Sprintf("at: [%g, %g]", size(-14, 14)*(1.3-k), size(-14, 14)*(1.3-k))
		turn := []float64{0, 0, 90, 30, 45, rng.Float64() * 360}[rng.IntN(6)]
		kind := rng.IntN(13) / 2
		if slopes {
			kind %= 6 // teeth and slopes together make too many outlines to try many
		}
		switch kind {
		case 6:
			if rng.IntN(3) > 0 {
				d := size(20*k, 40*k)
				if rng.IntN(2) == 0 {
					return fmt.Sprintf("spline: {major: %g, minor: %g, teeth: %d, tooth_width: %g, turn: %g, %s}", d+2*k, d,
						3+rng.IntN(6), 4*k, turn, at)
				}
				return fmt.Sprintf("serration: {major: %g, minor: %g, teeth: %d, angle: 60, tip_radius: 0.05, turn: %g, %s}",
					1.06*d, d, 20+rng.IntN(10), turn, at)
			}
			return fmt.Sprintf("gear: {module: %g, teeth: %d, internal: %v, pressure_angle: 25, addendum: 0.8, turn: %g, %s}",
				1.2*k, 14+rng.IntN(20), !big, turn, at)
		case 0, 1:
			return fmt.Sprintf("circle: {diameter: %g, %s}", size(20*k, 44*k), at)
		case 2:
			return fmt.Sprintf("rectangle: {length: %g, width: %g, turn: %g, %s}", size(20*k, 50*k), size(16*k, 30*k), turn, at)
		case 3:
			w := size(10*k, 20*k)
			return fmt.Sprintf("slot: {length: %g, width: %g, turn: %g, %s}", w+size(4*k, 30*k), w, turn, at)
		case 4:
			return fmt.Sprintf("hexagon: {across_flats: %g, turn: %g, %s}", size(20*k, 40*k), turn, at)
		}
		return fmt.Sprintf("flatted: {diameter: %g, flats: [%g], turn: %g, %s}", size(30*k, 40*k), 9*k, turn, at)
	}
	drafts := 0 // of which two make many slices
	draft := func() string {
		if !slopes || drafts >= 2 || rng.IntN(3) > 0 {
			return ""
		}
		drafts++
		return fmt.Sprintf(", draft: {angle: %g, narrows: %s}", size(1, 9), []string{"up", "down"}[rng.IntN(2)])
	}
	turned := func(r, z, h float64) string {
		s := size(0.3, 0.9)
		return fmt.Sprintf("turned: {at: [%g, %g], section: [[0, %g], [%g, %g], [%g, %g], [0, %g]]}",
			size(-9, 9), size(-9, 9), z, r, z, r*s, z+h, z+h)
	}
	var t strings.Builder
	t.WriteString("bodies:\n  base: {circle: {diameter: 50}, from: 0, to: 8}\n")
	for i := range 1 + rng.IntN(3) {
		from := size(0, 7)
		fmt.Fprintf(&t, "  body-%d: {%s, from: %g, to: %g%s}\n", i, profile(true), from, from+size(2, 14), draft())
	}
	more := 2
	if slopes {
		more = rng.IntN(6)
	}
	switch more {
	case 0:
		fmt.Fprintf(&t, "  cone: {%s}\n", turned(size(4, 20), size(0, 7), size(2, 9)))
	case 1:
		fmt.Fprintf(&t, "  ball: {ball: {diameter: %g, z: %g}}\n", size(10, 30), size(0, 8))
	}
	t.WriteString("cuts:\n")
	for i := range rng.IntN(6) {
		z := []string{"", ", open: top, depth: 3", ", open: bottom, depth: 2", ", from: 2, to: 5"}[rng.IntN(4)]
		repeat := []string{"", "", ", repeat: {count: 3}", ", repeat: {count: 2, step: [5, 2]}"}[rng.IntN(4)]
		fmt.Fprintf(&t, "  cut-%d: {%s%s%s%s}\n", i, profile(false), z, draft(), repeat)
	}
	if slopes && rng.IntN(6) == 0 {
		fmt.Fprintf(&t, "  sink: {%s}\n", turned(size(2, 8), size(2, 8), size(2, 6)))
	}
	if strings.HasSuffix(t.String(), "cuts:\n") {
		return strings.TrimSuffix(t.String(), "cuts:\n")
	}
	return t.String()
}
