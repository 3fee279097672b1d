package change

import (
	"context"
	"sync/atomic"
	"testing"
	"time"

	"corerod/checker"
	"corerod/rules"
)

// watched is a context that counts how many ask it at once, and keeps each of them for a moment: every changed part asks it.
type watched struct {
	context.Context
	now, most *atomic.Int32
}

func (w watched) Err() error {
	n := w.now.Add(1)
	for m := w.most.Load(); n > m && !w.most.CompareAndSwap(m, n); m = w.most.Load() {
	}
	time.Sleep(2 * time.Millisecond)
	w.now.Add(-1)
	return nil
}

// TestWorkers: as many changed parts are reviewed at once as there are workers for each file, and no more.
func TestWorkers(t *testing.T) {
	text := []byte("part: a\nunits: mm\n" + tube("27.2") + "\n")
	book := wallBook(t)
	for _, c := range []struct{ workers, files, want int }{{1, 1, 1}, {2, 1, 2}, {1, 3, 1}} {
		w := watched{context.Background(), new(atomic.Int32), new(atomic.Int32)}
		var files []checker.File
		for range c.files {
			files = append(files, fileOf("a.yaml", text))
		}
		Run(w, files, book, Options{Changes: 3, Options: checker.Options{StatusAt: rules.Change, Workers: c.workers}})
		if got := int(w.most.Load()); got != c.want {
			t.Errorf("%d workers on %d files: %d at once, want %d", c.workers, c.files, got, c.want)
		}
	}
	w := watched{context.Background(), new(atomic.Int32), new(atomic.Int32)}
	if r, ps, err := Revise(w, fileOf("a.yaml", text), book, "", checker.Options{}); len(ps) > 0 || err != nil || w.most.Load() != 1 {
		t.Errorf("a revision without a number of workers: %+v %v %v, %d at once", r, ps, err, w.most.Load())
	}
}
