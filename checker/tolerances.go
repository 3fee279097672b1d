package checker

// Every tolerance of the package stands here, of one of five kinds: near (points, mm), height (along the axis, mm), angle
// (rad), share (dimensionless) and root (where an iteration ends). The package has no heights and no roots. Measures are
// snapped to 1e-9 of their unit.

// near: points and lengths, mm.
const (
	// on is how near a cutting path passes what it goes through. On a drawing at 10:1 it is a tenth of a millimetre, less
	// than the width of a line; places of one row or circle that were given to three decimals lie within it.
	on = 0.01

	// atAxis is the distance from the middle of the part below which a finding has no direction from it to cut along: ten
	// times on, so that its direction does not come from rounded numbers.
	atAxis = 0.1

	// leastCut is the area, mm2, up to which a section cuts nothing: a path along a wall, which leaves slivers as wide as
	// rounding makes them; 100 mm long they are 10 nanometres.
	leastCut = 1e-3
)

// share: dimensionless; of the unit of a measure where it says so.
const (
	// upright is the component of a direction up to which a path runs upward on the sheet, and neither to the left nor to
	// the right: directions come from angles in degrees, right to 1e-15, and from places known to a nanometre.
	upright = 1e-9

	// noComponent is the sine or cosine below which a ray runs along an axis: the sine of pi comes to 1.2e-16, and the least
	// angle that a drawing gives is far above.
	noComponent = 1e-15

	// sameValue is the difference, of the unit, up to which values of two findings are equal and the findings one in several
	// places: copies that were turned have outlines whose vertices are known to a nanometre. People see at most four
	// decimals of a length.
	sameValue = 1e-6

	// samePlace is the distance, mm, up to which two places are one: the step of drawing numbers.
	samePlace = 1e-6

	// overDensity is by how much a density may be above that without pores, in g/cm3: the latter is a sum over a mix, and a
	// part drawn as dense as that is possible.
	overDensity = 1e-9

	// leastMiss is the share of its limits by which a finding that misses is taken to miss at least: 0 means that it is
	// gone, and a strict comparison at its limit misses by 0.
	leastMiss = 1e-12

	// leastLimit is the least limit, of its unit, that a miss is a share of: a limit of 0 has none. Lengths of a part file
	// are no less.
	leastLimit = 1e-6
)
