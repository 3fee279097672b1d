package report

import (
	"corerod/checker"
)

// Stream writes a review part by part, so that nobody needs to keep them: each part in order, then what is said of all. End
// returns the first error of writing.
type Stream interface {
	Part(p *checker.PartReview)
	End(r *checker.Review) error
}

// Streams are several, written side by side.
type Streams []Stream

// Part implements Stream.
func (all Streams) Part(p *checker.PartReview) {
	for _, s := range all {
		s.Part(p)
	}
}

// End implements Stream.
func (all Streams) End(r *checker.Review) error {
	for _, s := range all {
		if err := s.End(r); err != nil {
			return err
		}
	}
	return nil
}

// whole writes a review that has its parts.
func whole(s Stream, r *checker.Review) error {
	for _, p := range r.Parts {
		s.Part(p)
	}
	return s.End(r)
}
