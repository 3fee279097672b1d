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
