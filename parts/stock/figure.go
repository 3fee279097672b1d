package stock

// Known names of limits that the layout of the tool takes its figures from.
const (
	WallFriction     = "wall_friction"
	StressRatio      = "stress_ratio"
	LowerPressure    = "lower_pressure"
	EjectionFriction = "ejection_friction"
	ResidualStress   = "residual_stress"
	Springback       = "springback"
	PressLoad        = "press_load"
	ApparentLeast    = "apparent_least"
	HandlingStrength = "handling_strength"
)

// ToolFigure is a limit that the layout of the tool reads by its name: a pack may only give it in this unit and between
// these bounds.
type ToolFigure struct {
	Name, What  string
	Unit        string
	Least, Most float64
}

// ToolFigures lists them.
var ToolFigures = []ToolFigure{
	{WallFriction, "friction of powder on the walls", "ratio", 0, 1},
	{StressRatio, "radial to axial stress in the powder", "ratio", 0, 1},
	{LowerPressure, "pressure of the lower punches to that of the upper ones, where both press", "ratio", 0, 10},
	{EjectionFriction, "friction on the walls at ejection", "ratio", 0, 1},
	{ResidualStress, "radial stress left after pressing, to the mean pressure", "ratio", 0, 1},
	{Springback, "radial springback out of the die", "percent", 0, 5},
	{HandlingStrength, "green strength that handling needs", "MPa", 0.01, 1000},
	{ApparentLeast, "the least apparent density of iron powders", "g/cm3", 0.5, 10},
	{PressLoad, "load up to which a press is used, to its capacity", "ratio", 0.01, 1},
}

// ToolFigureNamed finds one by its name, or nil.
func ToolFigureNamed(name string) *ToolFigure {
	for i := range ToolFigures {
		if ToolFigures[i].Name == name {
			return &ToolFigures[i]
		}
	}
	return nil
}
