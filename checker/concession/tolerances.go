package concession

// Every tolerance of the package stands here, of one of five kinds: near (points, mm), height (along the axis, mm), angle
// (rad), share (dimensionless) and root (where an iteration ends). The package has shares alone. Measures are
// snapped to 1e-9 of their unit.

// share: dimensionless; of the unit of a measure where it says so.
const (
	// noFurtherBy is by how much a measure may be further from its need than an accepted one, of its unit, and be covered:
	// one step of a snapped measure. A record keeps all digits, so that nothing else may differ.
	noFurtherBy = 1e-9
)
