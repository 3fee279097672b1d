package checker

import "sync"

// teller tells how far a review is. What it is told to changes no result.
type teller struct {
	tell func(done, all, findings int) // nil for nobody
	all  int

	mu              sync.Mutex
	parts, findings int
}

// done counts one part, nil where it could not be reviewed.
func (t *teller) done(p *PartReview) {
	if t.tell == nil {
		return
	}
	t.mu.Lock()
	defer t.mu.Unlock()
	t.parts++
	if p != nil {
		t.findings += len(p.Findings)
	}
	t.tell(t.parts, t.all, t.findings)
}
