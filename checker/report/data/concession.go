package data

import (
	"corerod/checker"
)

type jsonConcession struct {
	Rule     string             `json:"rule" doc:"Name of the rule."`
	Subject  jsonSubject        `json:"subject" doc:"The subject that it names."`
	State    string             `json:"state" doc:"used: it covers its finding; unused, worsened, expired or revised: it does not."`
	Says     string             `json:"says" doc:"Why it does not, empty where it does."`
	Accepted many[jsonAccepted] `json:"accepted" doc:"The measured values that were agreed to."`
	Places   int                `json:"places" doc:"At how many places alike."`
	Reason   string             `json:"reason" doc:"Why it was agreed to."`
	By       string             `json:"by" doc:"Who agreed."`
	Until    string             `json:"until" doc:"The last day."`
	Line     int                `json:"line" doc:"Its line in the file of concessions."`
}

type jsonAccepted struct {
	Of      string `json:"of" doc:"Name of what was measured, empty where the record does not say."`
	To      string `json:"to,omitempty" doc:"Name of the other one of a pair."`
	Measure string `json:"measure" doc:"The measure, as rules name it."`
	Value   any    `json:"value" doc:"The value that was agreed to."`
}

func concessionJSON(k *checker.Conceded) *jsonConcession {
	if k == nil {
		return nil
	}
	j := &jsonConcession{Rule: k.Rule, Subject: jsonSubject{k.Kind, k.Name}, State: string(k.State), Says: k.Says,
		Accepted: []jsonAccepted{}, Places: k.Places, Reason: k.Reason, By: k.By, Until: k.Until, Line: k.Line}
	for _, a := range k.Accepted {
		j.Accepted = append(j.Accepted, jsonAccepted{a.Of, a.To, a.Measure, anyJSON(a.Value)})
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
