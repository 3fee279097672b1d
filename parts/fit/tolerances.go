package fit

// Every tolerance of the package stands here, of one of five kinds: near (points, mm), height (along the axis, mm), angle
// (rad), share (dimensionless) and root (where an iteration ends). The package has shares only.

// share: dimensionless.
const (
	// rangeEnd is how much larger than the end of a range a size may be and still be in it, as a factor: a size in inches
	// that comes to the end of a range in millimetres, such as 10 in to 254, is rounded by 1e-16 of itself.
	rangeEnd = 1 + 1e-12

	// sameWidth is the difference from a cell of the table, as a share of the width, up to which a tolerance is of just that
	// grade: a width is the difference of two limits, which at 500 mm is right to 1e-13 mm and at a width of a micrometre
	// to 1e-10 of it.
	sameWidth = 1e-9
)
