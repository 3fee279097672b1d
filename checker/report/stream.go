package report

import (
	"io"

	"corerod/checker"
	"corerod/checker/report/words"
	"corerod/parts/source"
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

// Text writes a review for people: each part with its verdict, its findings by grade, place and rule, and the limits
// it met most narrowly; then what could not be read and what was in force.
func Text(w io.Writer, r *checker.Review) error { return whole(NewText(w, false), r) }

// NewText writes what Text writes, part by part; in colour for a terminal.
func NewText(w io.Writer, colour bool) Stream {
	return &textStream{w: w, t: textWriter{colour: colour}}
}

type textStream struct {
	w   io.Writer
	t   textWriter
	err error
}

// Part implements Stream.
func (s *textStream) Part(p *checker.PartReview) {
	if s.t.begun {
		s.t.line("")
	}
	s.t.part(p)
	s.flush()
}

// flush writes what there is, unless something could not be written.
func (s *textStream) flush() {
	if s.err == nil {
		_, s.err = io.WriteString(s.w, s.t.painted())
	}
	s.t.b.Reset()
	s.t.grades = s.t.grades[:0]
}

// End implements Stream.
func (s *textStream) End(r *checker.Review) error {
	t, n := &s.t, r.Reviewed()
	t.unread(r)
	for _, f := range r.PassedOver {
		t.line("")
		t.line("Passed over: %s %s.", source.Plain(f.File), source.Plain(f.Why))
	}
	if n == 0 && len(r.Unread) == 0 && len(r.Faults) == 0 {
		t.line("Nothing was reviewed: no part file was found. A part file is YAML with a `part` key.")
	}
	if n > 1 {
		t.line("")
		t.tally(r)
	}
	t.against(r)
	if n > 0 {
		t.line("")
		t.inForce(r)
		t.line(words.Caution)
	}
	s.flush()
	return s.err
}
