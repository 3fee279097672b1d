package blank

import "corerod/parts/plane"

// Every tolerance of the package stands here, of one of five kinds: near (points, mm), height (along the axis, mm), angle
// (rad), share (dimensionless) and root (where an iteration ends). In plan plane.Near makes one point of two.

// near: points and lengths, mm.
const (
	// greater is by how much a volume must be greater than another to be the largest, mm3: volumes of up to 1e6 mm3 in
	// pieces that are copies of each other, and add up in another order, differ by less. The first then counts.
	greater = 1e-9

	// leastRun is the least run of a wall that a slope is divided by. Where a ball or a round groove lies flat the slope
	// has no bound; heights at which it is asked for lie beside that place, and this keeps them from a division by 0.
	leastRun = 1e-12

	// snap is the grid on which the ends of a section's lines are one point; lines that are shorter are left out. A height
	// at which the number of spans changes is found within Near, so that the steps there are less than a tenth of it: a
	// tenth of it would leave some of them in the section of a ball. With ten times it the ends of chords are moved so far
	// that a round groove is no arc any more.
	snap = 2e-5

	// offLine is how far the ends of lines may lie off one line that they are parts of: what the grid moves an end by, half
	// of its step. With a hundred times it the chords of a ball become lines, and the area of its section is off by 5 millionths.
	offLine = 1e-5

	// offArc is how far the ends of chords may lie off one arc. The arc goes through three ends, each moved by half of a
	// step of the grid, and so is off by as much again. With a twentieth of it the chords of a turned arc stay chords, and
	// the area of its section is off by a ten thousandth.
	offArc = 2e-5

	// apart is the least distance in plan from section to section of the slices of a wall: past that of its ends by half of
	// it no cell between two of them is thin, which would join its neighbour and take the end from the wall.
	apart = 2.5 * plane.Thin
)

// height: along the axis, mm.
const (
	// SameHeight is the distance along z below which two heights are one: a nanometre, the step of drawing numbers.
	SameHeight = 1e-6

	// EndSlice is the height of the slices at the ends of a sloped tier, which stand for the ends themselves: the least
	// that is surely not one height.
	EndSlice = 2 * SameHeight
)

// angle: rad.
const (
	// onwards is the turn up to which lines of a section may be chords of one round wall. Half a circle is looked at at 40
	// heights, so that one chord turns from the next by 0.08; the rest is room for stretches of it that begin between two.
	onwards = 0.3

	// aboutHalf is the sweep up to which chords make one arc: half of a circle, which three ends that were moved onto the
	// grid can make slightly more. One chord past half of it would come to 3.22.
	aboutHalf = 3.2
)

// share: dimensionless.
const (
	// inset is how far from the ends of a stretch with sloped walls its first and last sections lie, of its height: at the
	// very ends an outline may vanish or begin, and over 500 mm this is less than a nanometre. With a thousand times it
	// the section of a ball stays open at its ends.
	inset = 1e-9
)

// root: where an iteration ends.
const (
	// nodeStep is the step at which a root of Legendre's polynomial, between -1 and 1, is found: the rounding of a number
	// of that size.
	nodeStep = 1e-16
)
