package compare

// Every tolerance of the package stands here, of one of five kinds: near (points, mm), height (along the axis, mm), angle
// (rad), share (dimensionless) and root (where an iteration ends). The package has shares alone. Measures are
// snapped to 1e-9 of their unit.

// share: dimensionless; of the unit of a measure where it says so.
const (
	// sameMeasure is the difference up to which a measure is unchanged from one file to another, of itself or of its unit
	// where it is below 1: what snapping may leave of rounding.
	sameMeasure = 1e-9

	// sameLength is the difference up to which lengths in different units are one, of the length or of a millimetre where it
	// is below 1: a length in inches comes to millimetres by a rounded product.
	sameLength = 1e-9

	// furtherBy is by how much, of its unit, a measure must be further from its need for a finding to have worsened, or
	// nearer to have eased: one step of a snapped measure.
	furtherBy = 1e-9
)
