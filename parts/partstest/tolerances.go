package partstest

// Every tolerance of the package stands here.

// near: points and lengths, mm.
const (
	// rounding is what is left of a length of zero after turning: coordinates of some 100 mm are right to a tenth of it.
	rounding = 1e-12
)
