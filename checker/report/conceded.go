package report

import (
	"corerod/checker"
	"corerod/checker/report/words"
	"corerod/parts/source"
)

// conceded tells of the concession of a finding.
func (t *textWriter) conceded(k *checker.Conceded) {
	if k != nil {
		t.line("     Concession: %s.", words.Concession(k))
	}
}

// concessions lists the records for the part that have no finding to cover.
func (t *textWriter) concessions(p *checker.PartReview) {
	for _, k := range p.Concessions {
		if k.State == checker.Unused {
			t.line("")
			t.line("  Concession not used: %s, %s; line %d, until %s: %s.", words.Rule(source.Plain(k.Rule)), source.Plain(k.Name), k.Line, k.Until, source.Plain(k.Says))
		}
	}
}
