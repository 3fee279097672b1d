package stock

// Every tolerance of the package stands here, of one of five kinds: near (points, mm), height (along the axis, mm), angle
// (rad), share (dimensionless) and root (where an iteration ends). The package has shares only.

// share: dimensionless.
const (
	// onRow is the difference up to which a number is that of a row of a table or a point of a curve, of the unit of the
	// number: measures are snapped to 1e-9 of their unit. It keeps a number at the first or last row within the table.
	onRow = 1e-9
)
