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

// angle: rad, but for leansAs.
const (
	// leansAs is the difference, in degrees, up to which a line of a half section is the wall of a taper that a finding is
	// of: the angle of the taper is snapped to 1e-9 degrees and comes from the same numbers of the file.
	leansAs = 1e-6
)

// share: dimensionless; of the unit of a measure where it says so.
const (
	// upright is the component of a direction up to which a path runs upward on the sheet, and neither to the left nor to
	// the right: directions come from angles in degrees, right to 1e-15, and from places known to a nanometre.
	upright = 1e-9

	// noComponent is the sine or cosine below which a ray runs along an axis: the sine of pi comes to 1.2e-16, and the least
	// angle that a drawing gives is far above.
	noComponent = 1e-15

	// sameMeasure is the difference up to which a measure is unchanged from one file to another, of itself or of its unit
	// where it is below 1: what snapping may leave of rounding.
	sameMeasure = 1e-9

	// sameLength is the difference up to which lengths in different units are one, of the length or of a millimetre where it
	// is below 1: a length in inches comes to millimetres by a rounded product.
	sameLength = 1e-9

	// noFurtherBy is by how much a measure may be further from its need than an accepted one, of its unit, and be covered:
	// one step of a snapped measure. A record keeps all digits, so that nothing else may differ.
	noFurtherBy = 1e-9

	// furtherBy is by how much, of its unit, a measure must be further from its need for a finding to have worsened, or
	// nearer to have eased: one step of a snapped measure.
	furtherBy = 1e-9

	// worseBy is the share of its limits by which a finding must miss by more than before to be worse: rounding of the
	// quotients, and of the steps of snapped measures at a limit of a millimetre.
	worseBy = 1e-9

	// sameValue is the difference, of the unit, up to which values of two findings are equal and the findings one in several
	// places: copies that were turned have outlines whose vertices are known to a nanometre. People see at most four
	// decimals of a length.
	sameValue = 1e-6

	// overDensity is by how much a density may be above that without pores, in g/cm3: the latter is a sum over a mix, and a
	// part drawn as dense as that is possible.
	overDensity = 1e-9

	// moves is the share by which a measure must differ for a change to have moved it, in what people are told of it.
	moves = 0.01

	// movesAtAll is the share by which a measure must differ for a trial step to have any effect on it: snapped measures
	// that differ do so by more, and equal ones by nothing; the share of a measure of 1000 mm that one step of it is.
	movesAtAll = 1e-12

	// nearerBy is the share of its limits by which a finding must miss by less for a step to have led nearer: below one step
	// of a snapped measure at a limit of 500 mm.
	nearerBy = 1e-12

	// leastMiss is the share of its limits by which a finding that misses is taken to miss at least: 0 means that it is
	// gone, and a strict comparison at its limit misses by 0.
	leastMiss = 1e-12

	// leastLimit is the least limit, of its unit, that a miss is a share of: a limit of 0 has none. Lengths of a part file
	// are no less.
	leastLimit = 1e-6

	// onStep is the part of a step by which a guess may be above a whole number of steps: the slope is a quotient of
	// rounded misses, and without it a guess that is right would be one step too far.
	onStep = 1e-6
)
