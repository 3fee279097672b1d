package checker

import (
	"cmp"
	"context"
	"fmt"
	"io"
	"runtime"
	"strings"

	"corerod/parts/source"
	"corerod/rules"
)

// File is one part file to review: its name as shown, and a way to read it.
type File struct {
	Name  string
	Open  func() (io.ReadCloser, error)
	Force *Force // what it is judged by; nil for the book and the options of the review
}

// Options of a review.
type Options struct {
	StatusAt rules.Grade  // the grade from which findings count for the status
	Workers  int          // parts reviewed at once; 0 for one a processor
	Concede  *Concessions // records for a step that covers findings; nil for none
	Steps    []Step       // that each part takes after it is judged, in order
	Slim     bool         // let go of the shape and the subjects without findings: nothing is drawn or listed
	Account  bool         // tell of every rule whether it applied, and why not
	Margins  bool         // tell the limits that are met most narrowly
	// Whole tells a part that keeps its subjects all the same: one that is to be compared with an earlier version of its file.
	Whole func(p *PartReview, b []byte) bool
	Trace func(step string, file string)
	// Each is told each part, in the order of the files, instead of the review keeping it: many need no more memory than few.
	Each func(*PartReview)
	// Progress is told after each part how many of all are done and how many findings there are so far; one call at a time.
	Progress func(done, all, findings int)
}

// Step is what a part goes through after it is judged and before it is slimmed: its findings are covered by concessions, or
// changes are sought for them. It gets the bytes of the part file, and may add to the part. Parts are reviewed side by side.
// Package concession has one (Cover), and package change makes one (Run).
type Step func(ctx context.Context, p *PartReview, b []byte)

// Review is the result for all files.
type Review struct {
	Head
	Against    *Against            // an earlier review; nil for none
	Parts      []*PartReview       // in the order of the files; none where Options.Each was told them
	Graded     map[rules.Grade]int // how many parts have this worst grade; "" for clear ones
	Unread     source.Problems     // files that could not be read, and faults of packs
	Faults     []string            // our own faults
	PassedOver []PassedOver        // what was not reviewed though a part may be in it
	Status     Status

	found bool // a part has what counts for the status
}

// PassedOver is a folder or file that was not reviewed though a part may be in it.
type PassedOver struct {
	File   string
	Why    string
	SHA256 string // of the file, or of where a link leads; "" for a folder
}

// Reviewed is the number of parts.
func (r *Review) Reviewed() (n int) {
	for _, k := range r.Graded {
		n += k
	}
	return n
}

// oneFile is what became of one file.
type oneFile struct {
	part   *PartReview
	unread source.Problems
	fault  string
}

// Run reviews files by the packs of a book. One file's problems do not keep the others from being reviewed. Where the context ends,
// so does the review soon after: what it holds then is part of the result, and the caller must ask the context.
func Run(ctx context.Context, files []File, book *rules.Book, o Options) *Review {
	force := &Force{Book: cmp.Or(book, &rules.Book{}), Concede: o.Concede, StatusAt: o.StatusAt}
	r := &Review{Head: Head{Forces: []*Force{force}}, Graded: map[rules.Grade]int{}}
	workers := o.Workers
	if workers <= 0 {
		workers = runtime.GOMAXPROCS(0)
	}
	told := &teller{tell: o.Progress, all: len(files)}
	review := func(i int) (x oneFile) {
		defer func() {
			if r := recover(); r != nil {
				x = oneFile{fault: fmt.Sprintf("%s: %v", files[i].Name, r)}
			}
			told.done(x.part)
		}()
		if ctx.Err() != nil {
			return x
		}
		x.part, x.unread = reviewFile(ctx, files[i], cmp.Or(files[i].Force, force), o)
		return x
	}
	inOrder(len(files), workers, review, func(x oneFile) { r.take(x, o.Each) })
	r.Conclude()
	return r
}

// take adds what became of a file.
func (r *Review) take(x oneFile, each func(*PartReview)) {
	r.Unread = append(r.Unread, x.unread...)
	if x.fault != "" {
		r.Faults = append(r.Faults, x.fault)
	}
	p := x.part
	if p == nil {
		return
	}
	r.Graded[p.Grade]++
	r.found = r.found || p.counts(false)
	if each != nil {
		each(p)
		return
	}
	r.Parts = append(r.Parts, p)
}

// reviewFile reads one part and judges it.
func reviewFile(ctx context.Context, f File, force *Force, o Options) (*PartReview, source.Problems) {
	o.trace("read", f.Name)
	b, ps := f.Read()
	if len(ps) > 0 {
		return nil, ps
	}
	return ReviewPart(ctx, f.Name, b, force, o)
}

// ReviewPart reviews the bytes of one part file by what holds for it, and takes the steps of the options. It is nil where the file cannot
// be read; problems with a part are faults of packs.
func ReviewPart(ctx context.Context, file string, b []byte, force *Force, o Options) (*PartReview, source.Problems) {
	d, ps := Read(file, b, force.Book)
	if len(ps) > 0 {
		return nil, ps
	}
	o.trace("judge", file)
	out := force.Book.Judge(d.Case())
	r, ps := Assemble(d, out)
	r.Notes = append(notes(d.Part, force.Book), unblended(d)...)
	r.NotJudged = notJudged(d, out)
	if o.Account {
		r.Account = out.Account
	}
	if o.Margins {
		r.Narrowest = out.Narrowest(narrowest)
	}
	r.States = StatesOf(d.Part)
	r.Force = force
	for _, step := range o.Steps {
		step(ctx, r, b)
	}
	if o.Slim && (o.Whole == nil || !o.Whole(r, b)) {
		r.slim()
	}
	return r, ps
}

// trace tells a step of the review of a file, where somebody is told.
func (o *Options) trace(step, file string) {
	if o.Trace != nil {
		o.Trace(step, file)
	}
}

// Read reads a file up to one byte more than it may have, so that its reader sees that it is too large.
func (f *File) Read() ([]byte, source.Problems) {
	in, err := f.Open()
	if err != nil {
		return nil, source.Problems{{File: f.Name, Message: "cannot be read: " + Reason(err)}}
	}
	defer in.Close()
	b, err := io.ReadAll(io.LimitReader(in, source.MostBytes+1))
	if err != nil {
		return nil, source.Problems{{File: f.Name, Message: "cannot be read: " + Reason(err)}}
	}
	return b, nil
}

// Reason is what an error says, without the path that a report names already.
func Reason(err error) string {
	text := err.Error()
	if i := strings.LastIndex(text, ": "); i >= 0 {
		return text[i+2:]
	}
	return text
}
