// Package change seeks changes to a part file that clear a finding or make it milder, and revises the file by them. A change sets
// one or two numbers, or alters the structure of the part: a cut is machined, a level gets a punch of its own. Each is checked by
// reviewing the very bytes that it would leave, so that it is known what else it clears, brings and makes worse.
//
// The search starts from a review. It first moves every number of the file by one step, to see which measures each number changes (a
// probe). Each finding is then a target: for every number that changes its measures the search looks for the smallest step that ends
// the finding. The changed part (a variant) is reviewed, and its findings say how good the change is. The search counts what it tries
// and uses no clock, so a part has the same changes on any machine.
package change

import (
	"context"
	"runtime"
	"slices"

	"corerod/checker"
	"corerod/rules"
)

// Options of a review that seeks changes.
type Options struct {
	checker.Options
	Changes int                              // sought for each finding at most; 0 for none
	Against func(*checker.Force) *rules.Book // judges changed parts; nil for the book of the force
}

// Run reviews files as checker.Run does, and seeks changes for the findings of each part, after the steps of the options.
func Run(ctx context.Context, files []checker.File, book *rules.Book, o Options) *checker.Review {
	if o.Changes > 0 {
		o.Steps = append(slices.Clip(o.Steps), o.seek(len(files)))
	}
	return checker.Run(ctx, files, book, o.Options)
}

// seek is the step that seeks changes, where so many files are reviewed side by side.
func (o *Options) seek(files int) checker.Step {
	workers := o.Workers
	if workers <= 0 {
		workers = runtime.GOMAXPROCS(0)
	}
	workers = max(1, workers/max(1, files))
	against, trace, n := o.Against, o.Trace, o.Changes
	return func(ctx context.Context, p *checker.PartReview, b []byte) {
		if trace != nil {
			trace("seek changes", p.File)
		}
		book := p.Force.Book
		if against != nil {
			book = against(p.Force)
		}
		seek(ctx, p, b, book, n, workers)
	}
}
