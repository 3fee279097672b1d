package tooling

import (
	"corerod/parts/stock"
)

// Data is what the packs in force and the part file say of the powder, the friction and the presses. What is missing
// stays unknown in the layout.
type Data struct {
	Density  float64 // g/cm3, sintered, as the part file states it; 0 where it does not
	Name     string  // of the material, "" where the part file states none
	Material *stock.Material
	Curve    *stock.Curve
	Figure   func(name string) (Figure, bool) // by the name of a pack's limit
	Presses  []Press
}

// Figure is a limit of a pack.
type Figure struct {
	stock.Limit
	Pack string
}

// Press is a press of a pack, with its name.
type Press struct {
	stock.Press
	Name string
}
