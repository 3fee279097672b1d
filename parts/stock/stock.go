// Package stock holds the plain data that packs carry and rules look up: limits, tables, materials, curves of pressure
// and green density, presses; each figure with its unit, its source and the basis on which it stands.
package stock

import "sort"

// Basis is the ground on which a figure stands.
type Basis string

const (
	Published Basis = "published" // read in the named source
	Practice  Basis = "practice"  // common practice of the trade, no source
	Memory    Basis = "memory"    // recalled, not re-read: the shop is to confirm it
	Derived   Basis = "derived"   // arithmetic on a published figure
	Shop      Basis = "shop"      // set by the shop that owns the pack
)

// Bases lists every basis.
var Bases = []string{string(Published), string(Practice), string(Memory), string(Derived), string(Shop)}

// Limit is one figure that rules compare with.
type Limit struct {
	Value  float64
	Unit   string
	Basis  Basis
	Source string // key of the pack's sources, "" for none
	Note   string
}

// Between says which value of a table holds between two rows.
type Between string

const (
	NextRow     Between = "next_row"
	PreviousRow Between = "previous_row"
	Line        Between = "line" // straight line between the rows
)

// Table gives y for x by rows of rising x. Before the first and past the last row the end row holds.
type Table struct {
	X, Y         string // what x and y are, in words
	XUnit, YUnit string
	Between      Between
	Rows         [][2]float64
	Basis        Basis
	Source       string
	Note         string
}

// At looks up y for x. A row's own x, within onRow, gives that row's y.
func (t *Table) At(x float64) float64 {
	rows := t.Rows
	i := sort.Search(len(rows), func(i int) bool { return rows[i][0] >= x-onRow })
	switch {
	case i == len(rows):
		return rows[i-1][1]
	case i == 0 || rows[i][0] <= x+onRow:
		return rows[i][1]
	case t.Between == NextRow:
		return rows[i][1]
	case t.Between == PreviousRow:
		return rows[i-1][1]
	}
	a, b := rows[i-1], rows[i]
	return a[1] + (b[1]-a[1])*(x-a[0])/(b[0]-a[0])
}

// Within tells whether x lies inside the table's rows.
func (t *Table) Within(x float64) bool {
	return x >= t.Rows[0][0]-onRow && x <= t.Rows[len(t.Rows)-1][0]+onRow
}
