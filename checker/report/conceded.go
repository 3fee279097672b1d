package report

import (
	"fmt"

	"corerod/checker"
	"corerod/parts/source"
)

// concededText says what became of a concession.
func concededText(k *checker.Conceded) string {
	who := fmt.Sprintf("until %s by %s (line %d): %s", k.Until, source.Plain(k.By), k.Line, source.Plain(k.Reason))
	if k.State == checker.Covering {
		return "covers it " + who
	}
	return fmt.Sprintf("does not cover it: %s; %s", source.Plain(k.Says), who)
}

// conceded tells of the concession of a finding.
func (t *textWriter) conceded(k *checker.Conceded) {
	if k != nil {
		t.line("     Concession: %s.", concededText(k))
	}
}

// concessions lists the records for the part that have no finding to cover.
func (t *textWriter) concessions(p *checker.PartReview) {
	for _, k := range p.Concessions {
		if k.State == checker.Unused {
			t.line("")
			t.line("  Concession not used: %s, %s; line %d, until %s: %s.", prose(source.Plain(k.Rule)), source.Plain(k.Name), k.Line, k.Until, source.Plain(k.Says))
		}
	}
}

type jsonConcession struct {
	Rule     string             `json:"rule"`
	Subject  jsonSubject        `json:"subject"`
	State    string             `json:"state"`
	Says     string             `json:"says"`
	Accepted many[jsonAccepted] `json:"accepted"`
	Places   int                `json:"places"`
	Reason   string             `json:"reason"`
	By       string             `json:"by"`
	Until    string             `json:"until"`
	Line     int                `json:"line"`
}

type jsonAccepted struct {
	Measure string `json:"measure"`
	Value   any    `json:"value"`
}

func concessionJSON(k *checker.Conceded) *jsonConcession {
	if k == nil {
		return nil
	}
	j := &jsonConcession{Rule: k.Rule, Subject: jsonSubject{k.Kind, k.Name}, State: string(k.State), Says: k.Says, Accepted: []jsonAccepted{},
		Places: k.Places, Reason: k.Reason, By: k.By, Until: k.Until, Line: k.Line}
	for _, a := range k.Accepted {
		j.Accepted = append(j.Accepted, jsonAccepted{a.Measure, anyJSON(a.Value)})
	}
	return j
}

func concessionsJSON(p *checker.PartReview) []jsonConcession {
	all := []jsonConcession{}
	for _, k := range p.Concessions {
		all = append(all, *concessionJSON(k))
	}
	return all
}
