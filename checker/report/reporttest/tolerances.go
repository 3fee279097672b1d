package reporttest

// Every tolerance of the package stands here, of one of five kinds: near (points, mm), height (along the axis, mm), angle (rad), share
// (dimensionless) and root (where an iteration ends). The package has shares alone.

// share: dimensionless.
const (
	// offArea is the share by which the area of what was drawn may be off, and the distance in mm by which its outline may: drawings have
	// lengths of the part to 1e-8 mm.
	offArea = 1e-6
)
