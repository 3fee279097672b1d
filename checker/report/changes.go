package report

import (
	"corerod/checker"
	"corerod/checker/report/words"
)

// changes writes what would clear a finding, each a line that begins with where it is set. numbers are those under which
// the report lists findings, by id.
func (t *textWriter) changes(p *checker.PartReview, f *checker.Finding, numbers map[string]int) {
	if noChange(p, f) {
		t.line("     Checked: %s.", noChangeText)
	}
	for _, c := range f.Changes {
		t.line("     Checked: %s %s", words.Change(c), words.Effect(c, numbers))
	}
}

// noChange tells whether all changes were looked at, and none clears a finding.
func noChange(p *checker.PartReview, f *checker.Finding) bool {
	return p.Search != nil && !p.Search.Stopped && len(f.Changes) == 0 // where the search ended is said once, at the end
}

const noChangeText = "no change of one or two numbers, or of structure, was found that clears it"

// searched says where the search for changes ended, where it did not look at everything.
func (t *textWriter) searched(p *checker.PartReview) {
	if p.Search != nil && p.Search.Stopped {
		t.line("")
		t.line("  The search for changes ended after %d changed parts; further changes may exist.", p.Search.Tried)
	}
}
