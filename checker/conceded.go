package checker

import "corerod/parts"

// Concessions are the records of one file: findings that somebody has agreed to live with for a time. The package concession reads
// and writes them, and covers findings with them.
type Concessions struct {
	File    string
	SHA256  string
	Keeps   bool // a record goes on when the drawing's revision changes
	Records []*Concession

	// At is the path of a part file from the folder of the concessions; nil for the path as it is.
	At func(file string) string
	// Doubled tells a part whose name, drawing and revision another part file has too; nil where none is known.
	Doubled func(part, drawing, revision string) bool

	Today string // the day of the review, as 2006-01-02
}

// Concession is one record.
type Concession struct {
	Part              string
	Drawing, Revision string // "" where the record names none
	File              string // of the part, from the folder of the concessions; "" where the record names none
	Rule, Kind, Name  string // of the finding and its subject
	Shape             string // digest of what is gone or machined; "" for a finding
	Accepted          []Accepted
	Listed            bool // Accepted names what each value is of
	Places            int  // at which it was agreed to, at least 1
	Reason, By        string
	Until             string // the last day, as 2006-01-02
	Line              int
	RuleAt            parts.Place // where it names its rule
}

// Records of what is no finding; no rule has these names.
const (
	PartGone      = "part-gone"      // the part may go
	NewlyMachined = "newly-machined" // the feature may be made after pressing, where rules pass over it
)

// OfFinding tells whether the record is for a finding of a rule.
func (x *Concession) OfFinding() bool { return x.Rule != PartGone && x.Rule != NewlyMachined }

// Accepted is one measured value that was agreed to.
type Accepted struct {
	Of, To  string // the names of what was measured, and of the other one of a pair; "" where the record does not say
	Measure string
	Value   any // float64, string or bool
}

// State is what became of a record.
type State string

// States of a record for a reviewed part.
const (
	Covering State = "used"     // it covers its finding
	Unused   State = "unused"   // the part has no such finding
	Exceeded State = "worsened" // the finding is further from the need than was accepted
	Expired  State = "expired"  // its last day has passed
	Revised  State = "revised"  // the drawing or its revision is another
)

// Conceded is a record with what became of it.
type Conceded struct {
	*Concession
	State State
	Says  string      // why it does not cover its finding, "" where it does
	Next  *Concession // the record to write instead, once a change that renames or moves is merged; nil where this one goes on
}

// Conceded tells whether a concession covers the finding, so that it does not count.
func (f *Finding) Conceded() bool { return f.Concession != nil && f.Concession.State == Covering }

// Regrade finds the grade of a part from the findings that are not conceded.
func (r *PartReview) Regrade() {
	r.Grade = ""
	for _, f := range r.Findings {
		if !f.Conceded() && (r.Grade == "" || f.Grade.Worse(r.Grade)) {
			r.Grade = f.Grade
		}
	}
}
