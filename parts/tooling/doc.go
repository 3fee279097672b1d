// Package tooling lays out the tool that presses a blank: the die with its shelves, the upper and lower punches, the core
// rods; the fill of loose powder over each, the pressure and force at each, the density along the height, the force to
// eject the part, the sizes of the cavity and the press that serves.
//
// What follows from the shape alone, such as the members, their plans and the class, is always there. What needs the
// powder or the friction is there as far as the packs in force say so: an unknown figure leaves unknown what would
// follow from it, and Layout.Unknown says why. Nothing of another powder stands in. Areas, fills and forces are at the
// drawn size.
//
// Lengths are mm, areas mm2, densities g/cm3, pressures MPa, forces kN.
package tooling
