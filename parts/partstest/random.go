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
	w := &writer{rng: rng, coarse: coarse, slopes: slopes}
	var t strings.Builder
	t.WriteString("bodies:\n  base: {circle: {diameter: 50}, from: 0, to: 8}\n")
	for i := range 1 + rng.IntN(3) {
		from := w.size(0, 7)
		fmt.Fprintf(&t, "  body-%d: {%s, from: %g, to: %g%s}\n", i, w.profile(true), from, from+w.size(2, 14), w.draft())
	}
	more := 2
	if slopes {
		more = rng.IntN(6)
	}
	switch more {
	case 0:
		fmt.Fprintf(&t, "  cone: {%s}\n", w.turned(w.size(4, 20), w.size(0, 7), w.size(2, 9)))
	case 1:
		fmt.Fprintf(&t, "  ball: {ball: {diameter: %g, z: %g}}\n", w.size(10, 30), w.size(0, 8))
	}
	t.WriteString("cuts:\n")
	for i := range rng.IntN(6) {
		z := []string{"", ", open: top, depth: 3", ", open: bottom, depth: 2", ", from: 2, to: 5"}[rng.IntN(4)]
		repeat := []string{"", ", repeat: {count: 3, first: 25}", ", repeat: {count: 2, step: [5, 2]}",
			", repeat: [{count: 2, step: [5, 2]}, {count: 2, over: 50}]"}[rng.IntN(4)]
		fmt.Fprintf(&t, "  cut-%d: {%s%s%s%s}\n", i, w.profile(false), z, w.draft(), repeat)
	}
	if slopes && rng.IntN(6) == 0 {
		fmt.Fprintf(&t, "  sink: {%s}\n", w.turned(w.size(2, 8), w.size(2, 8), w.size(2, 6)))
	}
	if strings.HasSuffix(t.String(), "cuts:\n") {
		return strings.TrimSuffix(t.String(), "cuts:\n")
	}
	return t.String()
}

// writer draws the numbers of one part.
type writer struct {
	rng            *rand.Rand
	coarse, slopes bool
	drafts         int // so far; two make many slices already
}

// size is a length between two, mm.
func (w *writer) size(lo, hi float64) float64 {
	v := lo + (hi-lo)*w.rng.Float64()
	if w.coarse {
		return math.Max(1, math.Round(v))
	}
	return math.Round(v*1000) / 1000
}

// profile writes a profile for a body, which is big, or for a cut.
func (w *writer) profile(big bool) string {
	k := 1.0
	if !big {
		k = 0.25
	}
	at := fmt.Sprintf("at: [%g, %g]", w.size(-14, 14)*(1.3-k), w.size(-14, 14)*(1.3-k))
	turn := []float64{0, 0, 90, 30, 45, w.rng.Float64() * 360}[w.rng.IntN(6)]
	kind := w.rng.IntN(13) / 2
	if w.slopes {
		kind %= 6 // teeth and slopes together make too many outlines to try many
	}
	switch kind {
	case 6:
		return w.toothed(k, turn, at, !big)
	case 0, 1:
		return fmt.Sprintf("circle: {diameter: %g, %s}", w.size(20*k, 44*k), at)
	case 2:
		return fmt.Sprintf("rectangle: {length: %g, width: %g, turn: %g, %s}", w.size(20*k, 50*k), w.size(16*k, 30*k), turn, at)
	case 3:
		width := w.size(10*k, 20*k)
		return fmt.Sprintf("slot: {length: %g, width: %g, turn: %g, %s}", width+w.size(4*k, 30*k), width, turn, at)
	case 4:
		return fmt.Sprintf("hexagon: {across_flats: %g, turn: %g, %s}", w.size(20*k, 40*k), turn, at)
	}
	return fmt.Sprintf("flatted: {diameter: %g, flats: [%g], turn: %g, %s}", w.size(30*k, 40*k), 9*k, turn, at)
}

// toothed writes a toothed profile, k times as large as a body's.
func (w *writer) toothed(k, turn float64, at string, internal bool) string {
	if w.rng.IntN(3) == 0 {
		return fmt.Sprintf("gear: {module: %g, teeth: %d, internal: %v, pressure_angle: 25, addendum: 0.8, turn: %g, %s}",
			1.2*k, 14+w.rng.IntN(20), internal, turn, at)
	}
	d := w.size(20*k, 40*k)
	if w.rng.IntN(2) == 0 {
		return fmt.Sprintf("spline: {major: %g, minor: %g, teeth: %d, tooth_width: %g, turn: %g, %s}", d+2*k, d,
			3+w.rng.IntN(6), 4*k, turn, at)
	}
	return fmt.Sprintf("serration: {major: %g, minor: %g, teeth: %d, angle: 60, tip_radius: 0.05, turn: %g, %s}",
		1.06*d, d, 20+w.rng.IntN(10), turn, at)
}

// draft writes a draft for some walls, where slopes are wanted.
func (w *writer) draft() string {
	if !w.slopes || w.drafts >= 2 || w.rng.IntN(3) > 0 {
		return ""
	}
	w.drafts++
	return fmt.Sprintf(", draft: {angle: %g, narrows: %s}", w.size(1, 9), []string{"up", "down"}[w.rng.IntN(2)])
}

// turned writes a turned section: a cone's, of a radius, from a height on and so high, mm.
func (w *writer) turned(r, z, h float64) string {
	s := w.size(0.3, 0.9)
	return fmt.Sprintf("turned: {at: [%g, %g], section: [[0, %g], [%g, %g], [%g, %g], [0, %g]]}",
		w.size(-9, 9), w.size(-9, 9), z, r, z, r*s, z+h, z+h)
}
