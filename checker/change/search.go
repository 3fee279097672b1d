package change

import (
	"context"
	"slices"
	"sync"
	"sync/atomic"

	"corerod/checker"
	"corerod/parts/form"
	"corerod/parts/source"
	"corerod/rules"
)

// search is the search for the changes of one part. What it tries is counted, and never timed: the same part has the same
// changes on any machine, at any parallelism.
type search struct {
	ctx     context.Context
	doc     *source.Document
	book    *rules.Book
	of      *checker.PartReview // the part as drawn
	base    *variant
	numbers []form.Number // that are not held
	held    []string      // paths that no change may touch
	units   map[string]string
	probes  []*variant // each number moved by one step
	workers int
	tried   int
	stopped bool

	mu    sync.Mutex
	known map[string]*variant
}

func newSearch(ctx context.Context, doc *source.Document, book *rules.Book, r *checker.PartReview, workers int) *search {
	s := &search{ctx: ctx, doc: doc, book: book, of: r, workers: workers, units: map[string]string{}, known: map[string]*variant{}}
	d := &checker.Derived{Part: r.Part, Subject: r.Subject, Layout: r.Layout}
	s.base = &variant{derived: d, out: book.Judge(d.Case())}
	for _, n := range form.Numbers(doc.Root) {
		paths := []string{n.Path}
		for _, a := range n.Along {
			paths = append(paths, a.Path)
		}
		for _, p := range paths {
			s.units[p] = n.Unit
		}
		if n.Held {
			s.held = append(s.held, paths...)
		} else {
			s.numbers = append(s.numbers, n)
		}
	}
	return s
}

func (s *search) left() int { return s.most() - s.tried }

// most is the number of changed parts that are reviewed for the part: fewer for one whose shape has many patches, since each takes as much
// longer.
func (s *search) most() int {
	shape := s.base.derived.Layout.Shape()
	if shape == nil {
		return MostTried
	}
	return min(MostTried, max(leastTried, patchesTried/(shape.Cells()*shape.Slabs())))
}

// probe moves each number by one step, the numbers of what was found first. One pass serves all findings.
func (s *search) probe(findings []*checker.Finding) {
	near := map[string]bool{}
	for _, f := range findings {
		for _, name := range f.Subject.Place().Features {
			near[name] = true
		}
	}
	slices.SortStableFunc(s.numbers, func(a, b form.Number) int {
		switch {
		case near[a.Feature] == near[b.Feature]:
			return 0
		case near[a.Feature]:
			return -1
		}
		return 1
	})
	if most := s.most() / 2; len(s.numbers) > most {
		s.numbers, s.stopped = s.numbers[:most], true
	}
	s.probes = make([]*variant, len(s.numbers))
	s.each(len(s.numbers), func(i int) int {
		v, _ := s.moved(s.base, &s.numbers[i], 1)
		s.probes[i] = v
		return 1
	})
}

// each runs n pieces of work, as many at once as there are workers, and counts what they tried.
func (s *search) each(n int, work func(i int) (tried int)) {
	var next, sum atomic.Int64
	run := func() {
		for i := next.Add(1) - 1; i < int64(n); i = next.Add(1) - 1 {
			sum.Add(int64(work(int(i))))
		}
	}
	var wg sync.WaitGroup
	for range min(s.workers, n) - 1 {
		wg.Go(run)
	}
	run()
	wg.Wait()
	s.tried += int(sum.Load())
}
