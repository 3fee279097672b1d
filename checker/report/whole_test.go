package report

import (
	"io"

	"corerod/checker"
)

// Front writes the first page of several sheets: each part with its plan and its verdict, the worst first.
func Front(w io.Writer, r *checker.Review) error {
	var files []string
	for _, p := range r.Parts {
		files = append(files, p.File)
	}
	return whole(NewFront(w, FileNames(files)), r)
}

// Markdown writes a review as a page that fits a comment on a change: the verdict, a table of the parts that are not clear,
// the findings of all parts by grade, then what could not be read and what was in force. It is shorter than 60,000
// characters; where something had to go, it says how much.
func Markdown(w io.Writer, r *checker.Review) error { return whole(NewMarkdown(w), r) }

// SARIF writes a review as one run of SARIF 2.1.0, results by place and rule. Names of files are relative to the folder in
// which the review ran, as it was called; lines and columns count from 1, columns in code points.
func SARIF(w io.Writer, r *checker.Review) error { return whole(NewSARIF(w, r), r) }

// JSON writes a review as one JSON document, findings by place and rule.
func JSON(w io.Writer, r *checker.Review) error { return whole(NewJSON(w, r), r) }
