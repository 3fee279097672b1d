package report

// Every tolerance of the package stands here, of one of five kinds: near (points, mm), height (along the axis, mm), angle (rad), share
// (dimensionless) and root (where an iteration ends). The package has none of height, angle and root. Text has lengths of the part
// to four decimals.

// near: points and lengths, mm.
const (
	// roundedBy is by how much a length in mm differs at most when it is written in inches to four places.
	roundedBy = 0.00127
)

// share: dimensionless.
const (
	// leastShare is the share by which a measure must have moved to be shown to people.
	leastShare = 0.01
)
