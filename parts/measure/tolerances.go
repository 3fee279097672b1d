package measure

import "math"

// Every tolerance of the package stands here, of one of five kinds: near (points, mm), height (along the axis, mm), angle
// (rad), share (dimensionless) and root (where an iteration ends). In plan plane.Near makes one point of two, along the axis
// blank.SameHeight one height. A measure is snapped to 1e-9 of its unit, and a double of up to 500 mm is right to 1e-13 mm: a
// figure that is compared with one of the program's own limits gets an allowance between the two, so that a part drawn at
// the limit is on the same side of it whatever the rounding.

// near: points and lengths, mm.
const (
	// atLength is the allowance of a length or radius compared with a limit: one step of a snapped measure.
	atLength = 1e-9

	// besideTip is how far along z from where a circle shrinks to a point its direction is looked at: a circle of more than a nanometre
	// has one, and what it turns by over so little, beside a wall of 1 mm, is a ten thousandth of a radian.
	besideTip = 1e-4

	// noRadius is the radius up to which a circle has no direction: a thousandth of what makes two points one.
	noRadius = 1e-9

	// longer is by how much a length must be greater than another to count as longer: lengths of contours are sums of many
	// pieces, right to 1e-11 mm. Where two are equal a fixed order decides.
	longer = 1e-9

	// wider is by how much an outline must be wider than another to be the widest: copies of one outline that were turned
	// have one width but for rounding.
	wider = 1e-9

	// sameCoordinate is the difference up to which two coordinates are one in the order of names: the step of drawing
	// numbers. Rounding must not decide which of two subjects comes first.
	sameCoordinate = 1e-6

	// sameSpot is how far from where a wall runs out a feather may end and end there: near a tangency a point is found to a hundred
	// times what makes two one.
	sameSpot = 1e-4

	// wideEnough is the width from which the cells beside a neck's chord tell what fills it: some hundred times what makes two points one.
	wideEnough = 1e-4

	// besideWall is how far beside a wall of a half section a point is looked at to tell on which side material lies: ten
	// times what makes two points one, and a four hundredth of the thinnest thing that is no trace of rounding.
	besideWall = 1e-5
)

// height: along the axis, mm.
const (
	// slideStep is the step along z below which a wall that grows shorter has come to nothing: a thousandth of what makes two heights
	// one, since its length may change a hundred times faster than the height.
	slideStep = 1e-9

	// overshoot is how far past the height at which a neck ends its circle may still be found empty: what comes into it there does so
	// as the square of the way, and counts from what makes two points one.
	overshoot = 1e-3
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

	// sameAngle is the difference up to which two angles, here in degrees, are one: sameTurn, since a corner's sides may be as short.
	sameAngle = 1e-4

	// runsBack is the turn from which two sides are parallel and run back: the end of a slot or a rib, which is no corner
	// and no tip. Its allowance is that of sameTurn, for the same reason.
	runsBack = math.Pi - 1e-6

	// tangent is the turn up to which an arc between two sides is a rounding of their corner. Drawing numbers with three
	// decimals end an arc of a millimetre that far from tangent.
	tangent = 1e-3
)

// share: dimensionless.
const (
	// beside is how far from a station, of the stretch to the next, a section is looked at that is no longer the one at the
	// station: over half a millimetre a thousandth of it, half a micrometre, moves a wall by more than Near.
	beside = 1e-3

	// edgeStep is how far from where a wall runs out, of its stretch of height, its width is looked at for the angle there: what a
	// parabola misses of it is below a millionth of a radian, and so is what rounding does to it.
	edgeStep = 1e-4

	// noKink is how much, of 1 and itself, the rate of a width may change at a height where it goes on smoothly: a draft of a tenth of
	// a degree changes it by twice as much, and what three heights half a micrometre apart tell is right to a tenth of it.
	noKink = 1e-3

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
)
