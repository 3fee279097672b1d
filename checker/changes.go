package checker

import (
	"corerod/parts/source"
	"corerod/rules"
)

// Change is a change to a part file that was checked by reviewing the changed file.
type Change struct {
	Sets      []Set // the number that is changed comes first
	Says      string
	Clears    bool            // no finding of the rule is left on the subject
	Eases     bool            // one is left, of a milder grade
	ClearsToo []string        // the ids of other findings that are gone
	Brings    []Brought       // findings that are new, or of a worse grade than before; all milder than the one it is for
	Worsens   []Brought       // findings that miss by more than before
	Moved     int             // measures of other subjects that move by more than 1 %
	Relative  float64         // how far the numbers move, as a share of themselves
	Splices   []source.Splice // of the file's text
}

// Set is one value of the part file that a change sets, as text.
type Set struct {
	Path     string
	Line     int
	From, To string // From is "" where the file does not give the value
	Unit     string // of a number: mm, in or deg; "" for text and tolerance classes
	Key      string // the new name of the path's last key, where that changes too
	Remove   bool   // the key is taken out of the file instead, with all that it holds
}

// Brought is a finding that a change brings or makes worse.
type Brought struct {
	Rule  string
	Grade rules.Grade
	Kind  string // of the subject
	Name  string // of the subject
}

// Search tells how far the search for changes went.
type Search struct {
	Tried   int  // changed parts that were reviewed
	Stopped bool // the search ended before all was tried, and some findings may lack changes
}
