package drawing

// Every tolerance of the package stands here, of one of five kinds: near (points, mm), height (along the axis, mm), angle (rad), share
// (dimensionless) and root (where an iteration ends). The package has no roots. Drawings have lengths of the part to 1e-8 mm.

// near: points and lengths, mm.
const (
	// besideView is how far past the end of a view a place must be to lie beside the part: the ends are extents of outlines,
	// and a finding on the very end, known to a nanometre, is shown.
	besideView = 1e-6

	// sameChord is the sum of the distances of their ends up to which two chords are drawn as one: each end is known to a
	// nanometre.
	sameChord = 1e-6

	// samePoint is the distance below which two points of a path are one: legs of a path begin where the one before ends,
	// but for rounding.
	samePoint = 1e-9

	// chainStep is the grid on which the ends of curves are looked up to chain them: ten times what makes two points one.
	chainStep = 1e-5

	// goesOn is the distance up to which a curve begins where another ends: points of one place of the grid are up to
	// 1.5 steps of it apart.
	goesOn = 2e-5

	// besideWall is how far inside the ends of a strip the height of a face is taken: clear of the upright walls there,
	// which stand within some nanometres of the end, and too near to it for a slope to be seen to differ on a drawing.
	besideWall = 1e-4

	// edgeOfPart is how far a strip must reach over the part to be one of it: an end of a strip is known to a nanometre.
	edgeOfPart = 1e-6
)

// height: along the axis, mm.
const (
	// sameLevel is the difference up to which the height of a face at the end of a strip is that of the strip: a micrometre, which
	// a slope of 84 degrees rises over besideWall.
	sameLevel = 1e-3
)

// angle: rad.
const (
	// wholeThird is the part of a third of a circle that an arc may be longer than some thirds of it and be drawn in as many
	// pieces: a whole circle is three, whatever the rounding of its sweep.
	wholeThird = 1e-9
)

// share: dimensionless.
const (
	// coreRod is the factor on the tangent of the angle up to which a slope is a wall of a core rod: heights at the ends of
	// a strip are taken beside them, so that a wall of just that angle would come out on either side of it.
	coreRod = 1.001
)
