package tooling

// Every tolerance of the package stands here, of one of five kinds: near (points, mm), height (along the axis, mm), angle
// (rad), share (dimensionless) and root (where an iteration ends). The package has heights and shares only. A measure is
// snapped to 1e-9 of its unit; a part drawn at a limit must be on the same side of it whatever the rounding.

// height: along the axis, mm.
const (
	// sameHeight is the difference up to which the ends of two core rods stand at one height: a nanometre, the step of
	// drawing numbers, as in the shape of the part.
	sameHeight = 1e-6

	// atHeight is the allowance of a height compared with a limit: one step of a snapped measure. A share of 500 mm is
	// right to 1e-13 mm, so that levels drawn at the limit share a punch.
	atHeight = 1e-9
)

// share: dimensionless.
const (
	// overShare is the allowance of a snapped share that is compared with a limit: one step of it.
	overShare = 1e-9

	// sameArea is the difference of the areas of two levels, as a share of one, up to which they are equal and the next
	// reason decides which of them starts a punch: areas are sums of cells, and those of mirrored levels differ by rounding.
	sameArea = 1e-9

	// sameLack is the difference up to which two presses lack as much, as a share of what they offer: the smaller of the
	// two, which comes first, is then named.
	sameLack = 1e-9

	// atOffer is the allowance of what is needed compared with what a press offers, of the offer or of its unit where that
	// is below 1: a force is a sum over columns, and one drawn to be just what a press has must be served.
	atOffer = 1e-9
)
