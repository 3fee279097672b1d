package checker

import (
	"slices"

	"corerod/parts/source"
)

// counts tells whether a part has something that counts for the status.
func (p *PartReview) counts(against bool) bool {
	from := p.Force.StatusAt
	if !against {
		return p.Grade != "" && !from.Worse(p.Grade)
	}
	if slices.ContainsFunc(p.Restated, func(s Restated) bool { return s.Counts }) {
		return true
	}
	return slices.ContainsFunc(p.Findings, func(f *Finding) bool {
		return f.Since != SinceSame && !f.Conceded() && !from.Worse(f.Grade)
	})
}

// Status is the exit status of a command.
type Status int

// Exit statuses. When several hold, the order is OurFault, Wrong, Nothing, Found, Clear.
const (
	Clear    Status = 0 // no finding at the chosen grade
	Found    Status = 1 // findings at or above it
	Wrong    Status = 2 // an invalid command line, part, pack or shop file
	Nothing  Status = 3 // nothing was reviewed
	OurFault Status = 4
)

// status follows from what was found; the first that holds in the order of the constants' comment.
func (r *Review) status() Status {
	switch {
	case len(r.Faults) > 0:
		return OurFault
	case len(r.Unread) > 0:
		return Wrong
	case r.Reviewed() == 0:
		return Nothing
	case r.Against == nil && r.found, r.Against != nil && r.worse():
		return Found
	}
	return Clear
}

// worse tells whether something counts that an earlier review did not have.
func (r *Review) worse() bool {
	return slices.ContainsFunc(r.Against.Gone, func(g GonePart) bool { return g.Counts() }) ||
		slices.ContainsFunc(r.Parts, func(p *PartReview) bool { return p.counts(true) })
}

// Refuse adds problems, and finds the status anew.
func (r *Review) Refuse(ps source.Problems) {
	r.Unread = append(r.Unread, ps...)
	r.Conclude()
}

// Conclude sorts what could not be read, and finds the status from all that the review holds.
func (r *Review) Conclude() {
	r.Unread = r.Unread.Sorted()
	r.Status = r.status()
}
