package change

// Every tolerance of the package stands here, of one of five kinds: near (points, mm), height (along the axis, mm), angle
// (rad), share (dimensionless) and root (where an iteration ends). The package has angles and shares. Measures are
// snapped to 1e-9 of their unit.

// angle: rad, but for leansAs.
const (
	// leansAs is the difference, in degrees, up to which a line of a half section is the wall of a taper that a finding is
	// of: the angle of the taper is snapped to 1e-9 degrees and comes from the same numbers of the file.
	leansAs = 1e-6
)

// share: dimensionless; of the unit of a measure where it says so.
const (
	// worseBy is the share of its limits by which a finding must miss by more than before to be worse: rounding of the
	// quotients, and of the steps of snapped measures at a limit of a millimetre.
	worseBy = 1e-9

	// moves is the share by which a measure must differ for a change to have moved it, in what people are told of it.
	moves = 0.01

	// movesAtAll is the share by which a measure must differ for a trial step to have any effect on it: snapped measures
	// that differ do so by more, and equal ones by nothing; the share of a measure of 1000 mm that one step of it is.
	movesAtAll = 1e-12

	// nearerBy is the share of its limits by which a finding must miss by less for a step to have led nearer: below one step
	// of a snapped measure at a limit of 500 mm.
	nearerBy = 1e-12

	// onStep is the part of a step by which a guess may be above a whole number of steps: the slope is a quotient of
	// rounded misses, and without it a guess that is right would be one step too far.
	onStep = 1e-6
)
