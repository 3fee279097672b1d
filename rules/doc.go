// Package rules judges parts by rule packs.
//
// A pack is data in YAML: limits and tables, each figure with its source and basis, and rules. A rule says what kind
// of subject it is over (a wall, a hole, the part itself), when it applies, what it needs at which grade, and what a
// finding says. Conditions are CEL expressions over the measures that package subject declares; the types of the
// expressions are made from those declarations, so a measure is declared once.
//
// LoadPack and LoadBuiltin turn files into a Pack, NewBook puts packs in force together, Book.Judge turns the subjects
// of one part into findings, and Outcome.Account has a line for every rule. Materials, curves and presses are pack
// data too: a part names its material, and the book looks it up. A finding carries the comparisons that failed, with
// both sides' values, taken from the rule's own expression. Nothing here reads a file, a clock or the network, and no
// text of a pack runs as anything but a bounded expression.
//
// Words: a need is one condition with the grade of its failure; a text is what a finding says; a ground is a source
// or basis on which a finding stands; a fault is a pack's own failure while a part is judged.
package rules
