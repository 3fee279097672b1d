package checker

import (
	"corerod/parts"
	"corerod/parts/subject"
	"corerod/parts/tooling"
	"corerod/rules"
)

// PartReview is the result for one part.
type PartReview struct {
	File          string
	Force         *Force // that it was judged by
	Part          *parts.Part
	Subject       *subject.Part
	Layout        *tooling.Layout
	Grade         rules.Grade // the worst of the findings; "" when clear
	Findings      []*Finding  // by place, then rule
	Notes         []Note
	NotJudged     []NotJudged // what the part file states and no rule in force reads
	Applied       int
	NotApplicable int
	Narrowest     []rules.Margin   // where they were asked for
	Concessions   []*Conceded      // the records for the part, in order of their file
	States        States           // what the file declares and draws
	Added         bool             // an earlier review does not have the part
	Was           *EarlierPart     // in an earlier review; nil where there is none or it is not there
	Cleared       []EarlierFinding // since an earlier review
	Restated      []Restated       // since an earlier review
	Renamed       []Rename         // since an earlier review
	Search        *Search          // for changes; nil where none were sought
	Account       []rules.Judged   // of every rule, by name, where it was asked for

	slimmed bool
}

// Slimmed tells whether subjects without findings were let go of.
func (r *PartReview) Slimmed() bool { return r.slimmed }

// slim lets go of what only drawings, sheets and the list of measures need, so that many parts fit into little memory.
func (r *PartReview) slim() {
	s := *r.Subject
	s.Walls, s.Holes, s.Gaps, s.Corners, s.Levels, s.Steps, s.Traps, s.Crossings, s.Columns = nil, nil, nil, nil, nil, nil, nil, nil, nil
	s.Feathers, s.Flanges, s.Bosses, s.Grooves, s.Tapers, s.Rims, s.Marks, s.Dimensions, s.Teeth = nil, nil, nil, nil,
		nil, nil, nil, nil, nil
	s.Punches, s.Cores, s.Presses, s.Reliefs = nil, nil, nil, nil
	part := func(x subject.Subject) subject.Subject {
		if x == r.Subject {
			return &s
		}
		return x
	}
	for _, f := range r.Findings {
		f.Subject, f.Over = part(f.Subject), part(f.Over)
	}
	for i := range r.Narrowest {
		r.Narrowest[i].Subject = part(r.Narrowest[i].Subject)
	}
	r.Subject, r.Layout, r.Part = &s, r.Layout.Figures(), r.Part.WithoutFile()
	r.slimmed = true
}

// NotJudged is what the part file states and no rule in force held against it, or what could not be told of it, and why.
type NotJudged struct {
	What, Why string
	At        parts.Place
}

// Note is a remark without a grade.
type Note struct {
	Says string
	Kind string // of the subject
	Name string // of the subject
	At   parts.Place
}
