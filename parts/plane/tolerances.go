package plane

import "math"

// Every tolerance of the package stands here, of one of five kinds: near (points, mm), height (along the axis, mm), angle
// (rad), share (dimensionless) and root (where an iteration ends). The package has no heights. Parts are up to some 500 mm
// wide: a coordinate there is right to 1e-13 mm, and an angle of 1e-9 rad moves a point by half a nanometre. Numbers of a
// drawing have steps of a nanometre, 1e-6 mm.

// near: points and lengths, mm.
const (
	// Near is the distance below which two points, or a point and a curve, are taken for one: a nanometre, the step of
	// drawing numbers and 1e7 times the rounding of a coordinate.
	Near = 1e-6

	// touching is the depth below which two curves that barely cross, or barely miss, are taken to touch. A chord of this
	// depth in a circle of 5 mm is 2 micrometres long, so that its ends would already be two vertices; a tangency that is
	// computed from the numbers that the drawing is tangent with is right to 1e-12 mm. With a thousand times it the depth of a
	// key whose floor comes to meet a sloped wall is measured wrong.
	touching = 1e-7

	// Thin is the thickness below which a cell is no region but the trace of rounded drawing numbers: it takes the
	// side of a neighbour, and no void or body that is drawn is narrower. Numbers in inches with four decimals are rounded by
	// 1.3 micrometres, and three of them, such as a place, a distance and a radius, come to 3.8.
	Thin = 4e-3

	// leastFlank is the least length of a flank, and of the land of an unrounded tooth or space: a micrometre, less than
	// any die is made to, and a thousand times what makes two points one.
	leastFlank = 1e-3

	// directionless is the length below which a vector has no direction that could be used: it is no more than ten times
	// the rounding of the two coordinates that it is the difference of.
	directionless = 1e-12

	// discGain is what an inscribed disc must gain to take the place of another: the rounding of a distance, so that rounding
	// does not choose among discs that are equal.
	discGain = 1e-13

	// searchGain is what a square must promise over the best disc to be searched. It is above the rounding of its bound,
	// so that the search along a slot, where every place gives the same disc, comes to an end.
	searchGain = 1e-12

	// oneCentre is the distance of the centres of two arcs that are concentric for the bound of a search. The bound is
	// wrong by half of it, which must stay within searchGain.
	oneCentre = 1e-12

	// tangentGap is the depth up to which two curves that are followed while they move touch in one point: the rounding of the
	// height at which they come to touch, where a ball grows a hundred times faster.
	tangentGap = 4e-13

	// FitError is how far arcs may leave the curve that they stand for: a tenth of Near, so that a vertex on one is known by its
	// place.
	FitError = 1e-7

	// EllipseError is the most by which the arcs of an ellipse leave it: a hundredth of what tools are made to, in few arcs.
	EllipseError = 1e-4

	// standsOut is what a sample of a distance must have over the lesser of its neighbours to be a maximum: more than the
	// rounding of a distance, which makes maxima of what is level.
	standsOut = 1e-12

	// shortest is the length below which a stretch of a plateau is none: its ends are one stop, found from two pieces and
	// told apart by rounding. It is far below Near, so that no stretch that can be drawn is lost.
	shortest = 1e-9

	// supports is how much less than the farthest point another may reach and still support the hull: both of two that
	// reach equally far must pass, and each is a sum of two products at up to 500 mm.
	supports = 1e-11

	// sameWidth is the difference below which two widths across a hull are one, so that the longer decides: ten times
	// supports, since a width is the sum of two reaches.
	sameWidth = 1e-10

	// outside is how far a point must lie outside the enclosing disc to make it larger: above the rounding of the disc
	// through three points, or the search would add the same points again.
	outside = 1e-12

	// inLineArea is four times the area, mm2, of a triangle whose corners are in line for the enclosing disc. Its corners
	// are the ends of a disc's diameter and what lies outside of it, so that it is small only where rounding makes it.
	inLineArea = 1e-15
)

// angle: rad.
const (
	// fullTurn is the sweep from which an arc is a whole circle: at 500 mm what is missing is less than Near, so that its
	// ends are one vertex.
	fullTurn = 2*math.Pi - 1e-9

	// overHalf is the sweep from which an arc that was moved is more than a half turn: at 500 mm what is over is less than
	// Near. An arc of a half turn counts as either.
	overHalf = math.Pi + 1e-9

	// cusp is the turn from which a joint runs back on itself. Rounding makes it a turn to the left or to the right; the
	// curvatures decide. The end of an arc of 10 mm, known to Near, has a direction that is right to this.
	cusp = math.Pi - 1e-7

	// reentrant is the turn to the right from which an outline is not convex: at 500 mm it dents by less than Near.
	reentrant = 1e-9

	// smooth is the turn up to which two sides are tangent, and no corner is there to be rounded or moved: a rounding would
	// take half of turn times radius of each side, which at 500 mm is less than Near. Ends of a side of a millimetre, known
	// to a nanometre, turn it by as much.
	smooth = 1e-6

	// sharp is the turn from which a joint of a region counts as a vertex. It is above smooth: in the overlay an end is
	// moved onto a vertex within 2 Near, which turns a piece of some tenths of a millimetre by as much.
	sharp = 1e-5

	// straightOn is the turn up to which a line goes on along another. It is above sharp, since what lies between is a
	// piece some hundredths of a millimetre long whose ends were moved onto vertices; that the joint is within Near of
	// the line is asked too.
	straightOn = 1e-4

	// sameDirection is the difference up to which two curves leave a vertex in one direction and are told apart by how
	// they bend. Curves that cross do so at larger angles: by more than touching, circles of 500 mm cross at 2e-5.
	sameDirection = 1e-7

	// wedgeSlack widens the wedge in which the other end of a chord from a vertex is sought. The circle of a chord may enter a
	// side by touching, and over any length of side that can be drawn the angle of that is less.
	wedgeSlack = 1e-3

	// aboutSquare is the cosine, which is the angle from square, up to which a side is square to a chord. A foot on a vertex
	// that was moved by Near on an arc of a millimetre is off by a thousandth of it; beyond it the distance grows or falls
	// along the side in any case, and its curvature decides nothing.
	aboutSquare = 1e-3

	// aboutRight is how far the angle of material at a point where the boundary touches itself may be from a right one and
	// count as right: it lies between two sides, whose directions are known as well as smooth asks.
	aboutRight = 1e-6

	// tangentSlack is how far a tangent to two discs may lie outside the two directions that it was sought between: the rounding
	// of an angle, with room. Without it a tangent in one of the two would be lost.
	tangentSlack = 1e-12

	// seriesBelow is the sweep below which the area of a segment is a series, since the difference of angle and sine loses
	// its digits: the first term left out is then 1e-17 of the sum.
	seriesBelow = 0.05
)

// share: dimensionless.
const (
	// aStrip is how many times as long as Thin the contour of a thin strip is at the least: it is then some twenty times as long as
	// wide, and its two ends are as wide as it is.
	aStrip = 40

	// aSide is the share of the contour of a thin cell that one of its two long sides has at the least: ends take less than half of
	// it, even of a cell that is a triangle.
	aSide = 0.2

	// neverMeet is the sine of the angle below which two lines meet nowhere: over 500 mm they part by less than a
	// thousandth of Near, so that they are one line or stay apart.
	neverMeet = 1e-12

	// parallel is the sine of the angle below which two lines have a plateau of one width: over 500 mm it changes by less
	// than Near.
	parallel = 1e-9

	// inLine is the square of twice the sine of the angle below which three points are on a line: parallel, squared.
	inLine = 1e-18

	// singular is the pivot below which three touched pieces fix no disc. Rows of the equations are unit normals: two of
	// them that differ by less are parallel within rounding.
	singular = 1e-12

	// nearerCentre is how much nearer a centre must be than the other end of a chord for the arc to come closer to that end. An
	// arc about that very end keeps its distance and must pass, in spite of rounding.
	nearerCentre = 1 + 1e-9

	// oneSided is the angle, as the difference of two directions, below which two pieces press on a disc from one side: of them the nearer
	// counts. Short arcs that stand for one curve would else crowd out what presses from elsewhere.
	oneSided = 1e-2

	// touchesInside is what the difference of two radii may be of the distance of their centres for two discs to have a
	// common tangent: 1 is a disc that touches the other from inside, and the rest is rounding.
	touchesInside = 1 + 1e-9

	// onDisc is how far beyond a disc a point still is in it, of 1 mm and the radius: the rounding of a distance. The
	// points that the disc was drawn through must be in it.
	onDisc = 1e-13

	// atLimit lets a gear that is drawn at the limit of undercut pass, in modules of depth and in teeth: the limit is a
	// product of rounded sines, and drawing numbers have steps of a millionth.
	atLimit = 1e-9

	// flankError is the most by which fitted flanks leave the involute, mm for each mm of module: a quarter of a micrometre
	// at module 1, a part of what a die is measured to. A tenth of it would double the number of arcs.
	flankError = 0.00025
)

// root: where an iteration ends.
const (
	// midwayStep is the step, mm, at which a point halfway between two pieces has come to rest. It is below rounding at
	// most places, so that the bound on the number of steps ends it there.
	midwayStep = 1e-14

	// newtonStep is the step, of 1 mm and the radius, at which a disc that touches three pieces is found: 50 times the
	// rounding of a number, which Newton's method reaches a step after it was near.
	newtonStep = 1e-14

	// goldenWidth is the stretch, of a curve, in which a maximum is found. A distance is level about its maximum to 1e-8
	// of the curve, so that the rest only makes sure of it.
	goldenWidth = 1e-12

	// sameTurn is the angle, rad, between two directions at which their division ends where no tangent tells the change of
	// the supporting piece: the pieces then reach equally far to a thousandth of Near.
	sameTurn = 1e-12
)
