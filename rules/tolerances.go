package rules

// Every tolerance of the package stands here, of one of five kinds: near (points, mm), height (along the axis, mm), angle
// (rad), share (dimensionless) and root (where an iteration ends). The package has a share only.

// share: dimensionless.
const (
	// atLimit is the part of two numbers, or of their unit where they are below 1, by which they may differ and count as
	// equal: measures are snapped to 1e-9 of their unit, and what an expression makes of them is rounded by far less.
	atLimit = 1e-9
)
