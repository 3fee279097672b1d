package blank

// Every tolerance of the package stands here, of one of five kinds: near (points, mm), height (along the axis, mm), angle
// (rad), share (dimensionless) and root (where an iteration ends). In plan plane.Near makes one point of two.

// near: points and lengths, mm.
const (
	// greater is by how much a volume must be greater than another to be the largest, mm3: volumes of up to 1e6 mm3 in
	// pieces that are copies of each other, and add up in another order, differ by less. The first then counts.
	greater = 1e-9

	// viewError is how far arcs may leave a face that a section view cuts: a thousandth of a line of a drawing at ten to one, and a
	// tenth of what two parts of one view are told apart by.
	viewError = 1e-6

	// besideBox is how far a relief goes past the outline of its body, mm, so that their sides do not run along each other.
	besideBox = 0.05

	// besideEnd is how far from its ends, at the most, an edge is looked at, mm: on a ball that stands upright there, the direction of the
	// face at this distance is that at the end to 1e-4 of a radian.
	besideEnd = 1e-8

	// atRadius is the distance, mm, from the end of an arc's radius below which a point is at it: the rounding of coordinates of some
	// 100 mm.
	atRadius = 1e-13

	// leastRun is the least run of a wall that a slope is divided by. Where a ball or a round groove lies flat the slope
	// has no bound; heights at which it is asked for lie beside that place, and this keeps them from a division by 0.
	leastRun = 1e-12

	// besideStrip is how far inside its edge the slope of a rim is looked at, mm: at the very edge a round one stands upright or lies flat.
	besideStrip = 1e-4

	// snap is the grid on which the ends of a section's curves are one point: ten times what makes two points one in plan.
	snap = 1e-5

	// leastRound is the radius from which a corner that a draft rounds less and less is sharp: little more than what makes one point of
	// two in plan. What that leaves out of a section is an area of 1e-12 mm2.
	leastRound = 1.2e-6
)

// height: along the axis, mm.
const (
	// SameHeight is the distance along z below which two heights are one: a nanometre, the step of drawing numbers.
	SameHeight = 1e-6

	// coincident is the distance, mm, below which two sides that are compared along z are one all the way: a thousandth of
	// Near, so that what can be told apart changes sign by more.
	coincident = 1e-9
)

// angle: rad.
const (
	// shortSweep is the sweep below which an arc is a piece of a curve that was fitted: over it what is integrated is nearly straight.
	shortSweep = 0.1

	// leanStep is the step of an angle from the pressing axis, degrees: that of a snapped measure, so that a slope drawn at a limit is at
	// it however it lies.
	leanStep = 1e-9

	// atSharpest is the allowance of an angle between faces, degrees here: an arctangent of slopes is right to less, so that what is
	// drawn square is not sharp.
	atSharpest = 1e-9

	// oneSlope is the angle, degrees here, up to which two slopes that meet go on as one: numbers of a drawing with three decimals turn a
	// slope of a millimetre by as much.
	oneSlope = 0.1

	// tangent is the turn up to which a line and an arc go on in one direction, and their joint moves straight.
	tangent = 1e-6
)

// share: dimensionless.
const (
	// atEnd is how far from its ends, of all of it, an edge is looked at: at the very end a slope may stand upright.
	atEnd = 1e-6

	// inEnd is how far from an end, of the way to the next place that is looked at, a function is looked at to tell whether it falls
	// from there.
	inEnd = 1e-2

	// traceStep is how far to both sides of a place on a trace, of all of it, its direction is looked at.
	traceStep = 1e-4

	// viewStep is the same on a cut face, which may stand upright at its ends: ten times as much, since what it gives is drawn and
	// not measured.
	viewStep = 1e-3

	// steepest is the rise, mm for each mm, past which the direction of a cut face is taken from points beside it: it is right to
	// the step between them, and rounding would turn the one from the rise as much.
	steepest = 1e4

	// thinnestShare is how far into a cell, of the length of one of its edges, a point is looked for that is clear of all of them: a
	// cell that is thinner for its length is a sliver.
	thinnestShare = 1e-5

	// acrossStrip is the sine of the angle from the way that a slope falls up to which an edge of it lies along that: it is where something
	// cuts across.
	acrossStrip = 0.02

	// closeIn is the least step of a search along a chord, of the stretch that is left, so that both its ends come nearer.
	closeIn = 1e-3

	// inStretch is how far from a station, of the stretch to the next, outlines that run together at the station are told apart.
	inStretch = 1e-3

	// along is the sine of the angle below which two lines are parallel: over 500 mm they part by less than Near.
	along = 1e-9

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

	// closeEnough is the share of a stretch within which its least is found: a function that turns smoothly there is then least to
	// the rounding of its numbers, and one with an edge in it, as a distance that comes to 0, to this share of its slope.
	closeEnough = 2e-10

	// meanError is the share within which a mean is known: what a rule of 24 nodes gives for a smooth function, and one twice as fine.
	meanError = 1e-11

	// alike is the share by which three samples of a function differ by rounding alone: it does not change between them.
	alike = 1e-14

	// rootStep is the stretch, of 1 mm and the height, in which a height at which outlines meet is found: ten times the
	// rounding of a number of that size.
	rootStep = 2e-15
)
