package form

// Every tolerance of the package stands here, of one of five kinds: near (points, mm), height (along the axis, mm), angle
// (rad), share (dimensionless) and root (where an iteration ends). The package has a near and a share.

// near: lengths, mm; for a number in degrees or inches the same figure in its own unit.
const (
	// atBound is how far a moved number may lie past the bounds of the file format: one is a product that was rounded to 1e-9,
	// the other a sum of two decimals. It is below 1e-9, so that no number past a bound is let through.
	atBound = 1e-12
)

// share: dimensionless.
const (
	// onStep is the part of a step by which a number may miss a whole number of steps and still stand on it. Numbers are
	// decimal and steps have no exact binary fraction: 0.15 by 0.05 is slightly less than 3. A number of the file that lies
	// between steps has six decimals at most in use, 2e-5 of the least step of 0.05 mm.
	onStep = 1e-6
)
