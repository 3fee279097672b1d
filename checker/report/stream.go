package report

import (
	"encoding/json"
	"io"

	"corerod/checker"
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
		t.line("Passed over: %s holds a rule pack. Name it to review its trial parts.", source.Plain(f))
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
		t.line(Caution)
	}
	s.flush()
	return s.err
}

// JSON writes a review as one JSON document, findings by place and rule.
func JSON(w io.Writer, r *checker.Review) error { return whole(NewJSON(w, r), r) }

// NewJSON writes what JSON writes, part by part; of head it needs what a review stands on.
func NewJSON(w io.Writer, head *checker.Review) Stream { return &jsonStream{w: w, head: head} }

type jsonStream struct {
	w    io.Writer
	head *checker.Review
	open bool
	sep  string // before the next part
	err  error
}

// begin writes what stands before the parts.
func (s *jsonStream) begin() {
	if !s.open {
		s.open = true
		s.write("{\n")
		s.member("corerod", jsonVersion{Version, Format})
		s.member("in_force", inForceJSON(s.head))
		s.write("  \"parts\": [")
		s.sep = "\n    "
	}
}

// Part implements Stream.
func (s *jsonStream) Part(p *checker.PartReview) {
	s.begin()
	s.write(s.sep)
	s.value(partJSON(p, s.head.Against), "    ")
	s.sep = ",\n    "
}

// End implements Stream.
func (s *jsonStream) End(r *checker.Review) error {
	s.begin()
	if s.sep[0] == ',' {
		s.write("\n  ")
	}
	s.write("],\n")
	unread := []jsonUnread{}
	for _, u := range r.Unread {
		unread = append(unread, jsonUnread{u.File, u.Line, u.Column, u.Message})
	}
	s.member("unread", unread)
	s.member("earlier", againstJSON(r.Against))
	if r.Lots > 0 {
		s.member("lot", jsonLot{r.Lot, r.Lots})
	}
	s.write("  \"status\": ")
	s.value(int(r.Status), "  ")
	s.write("\n}\n")
	return s.err
}

// member writes a key and its value, and a comma.
func (s *jsonStream) member(key string, v any) {
	s.write("  \"" + key + "\": ")
	s.value(v, "  ")
	s.write(",\n")
}

// value writes a value, its lines set in.
func (s *jsonStream) value(v any, indent string) {
	b, err := json.MarshalIndent(v, indent, "  ")
	if s.err == nil {
		s.err = err
	}
	s.write(visible(string(b)))
}

func (s *jsonStream) write(text string) {
	if s.err == nil {
		_, s.err = io.WriteString(s.w, text)
	}
}

// Kept is a stream of a report that needs all parts at its end: write gets the review that has them.
func Kept(w io.Writer, write func(io.Writer, *checker.Review) error) Stream { return &kept{w, write} }

type kept struct {
	w     io.Writer
	write func(io.Writer, *checker.Review) error
}

// Part implements Stream.
func (*kept) Part(*checker.PartReview) {}

// End implements Stream.
func (k *kept) End(r *checker.Review) error { return k.write(k.w, r) }
