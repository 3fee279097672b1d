package data

import (
	"io"

	"corerod/checker"
)

// writeSARIF writes a review as one run of SARIF 2.1.0, results by place and rule. Names of files are relative to the folder in
// which the review ran, as it was called; lines and columns count from 1, columns in code points.
func writeSARIF(w io.Writer, r *checker.Review) error { return streamed(NewSARIF(w, r), r) }

// writeJSON writes a review as one JSON document, findings by place and rule.
func writeJSON(w io.Writer, r *checker.Review) error { return streamed(NewJSON(w, r), r) }

// streamed writes a review that has its parts.
func streamed(s interface {
	Part(p *checker.PartReview)
	End(r *checker.Review) error
}, r *checker.Review) error {
	for _, p := range r.Parts {
		s.Part(p)
	}
	return s.End(r)
}
