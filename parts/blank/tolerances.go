package blank

import (
	"math"

	"corerod/parts/plane"
)

// Every tolerance of the package stands here, of one of five kinds: near (points, mm), height (along the axis, mm), angle
// (rad), share (dimensionless) and root (where an iteration ends). In plan plane.Near makes one point of two. A measure is
// snapped to 1e-9 of its unit, and a double of up to 500 mm is right to 1e-13 mm: a figure that is compared with one of the
// program's own limits gets an allowance between the two, so that a part drawn at the limit is on the same side of it
// whatever the rounding.

// near: points and lengths, mm.
const (
	// atLength is the allowance of a length or radius compared with a limit: one step of a snapped measure.
	atLength = 1e-9

	// longer is by how much a length must be greater than another to count as longer: lengths of contours are sums of many
	// pieces, right to 1e-11 mm. Where two are equal a fixed order decides.
	longer = 1e-9

	// wider is by how much an outline must be wider than another to be the widest: copies of one outline that were turned
	// have one width but for rounding.
	wider = 1e-9

	// sameCoordinate is the difference up to which two coordinates are one in the order of names: the step of drawing
	// numbers. Rounding must not decide which of two subjects comes first.
	sameCoordinate = 1e-6

	// greater is by how much a volume must be greater than another to be the largest, mm3: volumes of up to 1e6 mm3 in
	// pieces that are copies of each other, and add up in another order, differ by less. The first then counts.
	greater = 1e-9

	// besideWall is how far beside a wall of a half section a point is looked at to tell on which side material lies: ten
	// times what makes two points one, and a four hundredth of the thinnest thing that is no trace of rounding.
	besideWall = 1e-5

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
	// sameHeight is the distance along z below which two heights are one: a nanometre, the step of drawing numbers.
	sameHeight = 1e-6

	// endSlice is the height of the slices at the ends of a sloped tier, which stand for the ends themselves: the least
	// that is surely not one height.
	endSlice = 2 * sameHeight
)

// angle: rad.
const (
	// atAngle is the allowance of an angle compared with a limit, in radians as measures are in degrees: it moves a point
	// at 500 mm by less than Near.
	atAngle = 1e-9

	// overHalf is the turn from which an arc is more than half of a circle, in one piece or several: two halves of a slot
	// are not, whatever the rounding of their sum.
	overHalf = math.Pi + 1e-9

	// sameTurn is the difference up to which a corner of one slab has the turn of that of the next: directions of sides
	// of a millimetre whose ends are known to a nanometre differ by as much.
	sameTurn = 1e-6

	// runsBack is the turn from which two sides are parallel and run back: the end of a slot or a rib, which is no corner
	// and no tip. Its allowance is that of sameTurn, for the same reason.
	runsBack = math.Pi - 1e-6

	// tangent is the turn up to which an arc between two sides is a rounding of their corner. Drawing numbers with three
	// decimals end an arc of a millimetre that far from tangent.
	tangent = 1e-3

	// mostTurn is how much a corner's turn changes from one slice of a sloped wall to the next: a right angle over the six
	// inner slices of a slope is 0.26 for each. A corner to the left and one to the right differ by 0.52 at least, since each
	// turns by leastTurn.
	mostTurn = 0.3

	// onwards is the turn up to which lines of a section may be chords of one round wall. Half a circle is looked at at 40
	// heights, so that one chord turns from the next by 0.08; the rest is room for stretches of it that begin between two.
	onwards = 0.3

	// aboutHalf is the sweep up to which chords make one arc: half of a circle, which three ends that were moved onto the
	// grid can make slightly more. One chord past half of it would come to 3.22.
	aboutHalf = 3.2
)

// share: dimensionless.
const (
	// atShare allows for rounding where an area or a height is compared with a share of another: as a factor of the limit.
	atShare = 1 + 1e-9

	// allRound is the share of a contour from which it is walled all round: edges that add up to the whole of it in another
	// order come to slightly less.
	allRound = 1 - 1e-9

	// overShare is the allowance of a snapped share that is compared with a limit: one step of it.
	overShare = 1e-9

	// sameMeasure is the difference up to which two measures are one, of the measure or of its unit where it is below 1:
	// copies that were turned have measures that differ by rounding.
	sameMeasure = 1e-9

	// opposed is the product of two turns, rad2, below which a short edge has one to the left and one to the right and is no
	// end of a tip. Where one of them is no turn but for rounding, here 6e-7, the other may be up to a right angle.
	opposed = -1e-6

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
