// Package data writes reviews, comparisons, layouts, measures and packs for programs, as JSON and as SARIF 2.1.0, and reads the JSON of
// earlier reviews and of lots again. All of it goes through one writer, which shows by their codes the characters that nobody sees. The
// structs hold the formats: their doc tags are the descriptions in the published schemas. Numbers have at most 12 significant digits;
// lengths are mm.
package data

import (
	"io"

	"corerod/checker"
	"corerod/checker/report/words"
	"corerod/parts/subject"
	"corerod/parts/tooling"
)

type jsonReview struct {
	Corerod jsonVersion      `json:"corerod" doc:"The program and the version of this format."`
	InForce jsonInForce      `json:"in_force" doc:"What the parts were judged by."`
	Parts   many[jsonPart]   `json:"parts" doc:"One entry for each part that was read, in the order of the arguments and, within a folder, of the names."`
	Unread  many[jsonUnread] `json:"unread" doc:"Problems of files and packs."`
	Passed  many[jsonPassed] `json:"passed_over" doc:"Folders and files that were not reviewed though a part may be in them."`
	Faults  many[string]     `json:"faults,omitempty" doc:"Faults of corerod itself, each with its part file; left out where there is none."`
	Earlier *jsonAgainst     `json:"earlier" doc:"The earlier review that this one is compared with; null for none."`
	Lot     *jsonLot         `json:"lot,omitempty" doc:"The share of the set that was reviewed; left out where it is the whole set."`
	Status  int              `json:"status" doc:"The exit status."`
}

// jsonLot is the share of a set that was reviewed.
type jsonLot struct {
	Lot  int `json:"lot" doc:"Which lot, from 1."`
	Lots int `json:"lots" doc:"How many lots the set has."`
}

type jsonPart struct {
	File     string               `json:"file" doc:"The part file, as it was named."`
	Part     string               `json:"part" doc:"Name of the part."`
	Drawing  string               `json:"drawing" doc:"Number of the drawing, empty for none."`
	Revision string               `json:"revision" doc:"Revision of the drawing, empty for none."`
	Shop     *string              `json:"shop_file,omitempty" doc:"The shop file that holds for it; left out where one holds for all parts, empty for none."`
	Grade    string               `json:"grade" doc:"clear, or the worst grade of the findings."`
	Figures  jsonFigures          `json:"figures" doc:"Figures of the part."`
	Rules    jsonRules            `json:"rules" doc:"How many rules applied."`
	Findings many[jsonFinding]    `json:"findings" doc:"What was found, by place and rule."`
	Notes    many[jsonNote]       `json:"notes" doc:"Remarks without a grade."`
	Unjudged many[jsonUnjudged]   `json:"not_judged" doc:"What the part file states and no rule in force reads, and what could not be told of it."`
	Assumed  many[jsonAssumed]    `json:"assumed" doc:"Figures that force, green density and fill stand on and the drawing does not state."`
	Search   *jsonSearch          `json:"search" doc:"How changes were sought; null where none were."`
	Conceded many[jsonConcession] `json:"concessions" doc:"Records of concessions for the part, in the order of their file."`
	States   jsonStates           `json:"states" doc:"What the part file states of material and making, to compare later reviews with."`
	Since    *jsonSince           `json:"since" doc:"What became of the part since the earlier review; null without one."`
	Account  many[jsonJudged]     `json:"account,omitempty" doc:"Of every rule, by name, whether it applied; under --account only."`
}

type jsonJudged struct {
	Rule     string `json:"rule" doc:"Name of the rule."`
	Subjects int    `json:"subjects" doc:"How many subjects it was held against."`
	Applied  int    `json:"applied" doc:"To how many of them it applied."`
	Found    int    `json:"found" doc:"How many findings it made."`
	Why      string `json:"why" doc:"Why it did not apply, empty where it did."`
}

type jsonFigures struct {
	Height   number  `json:"height" doc:"Overall height along the pressing axis."`
	Mass     *number `json:"mass" doc:"Mass as sintered; null where no density is known."`
	Volume   number  `json:"volume" doc:"Volume as pressed, to the drawn sizes."`
	PlanArea number  `json:"plan_area" doc:"Area seen along the pressing axis, through-holes out."`
	Class    number  `json:"class" doc:"Class of the part, 1 to 4."`
	Force    *number `json:"force" doc:"Force to press, kN; null where it is not known."`

	Finished *jsonFinished `json:"finished" doc:"Figures of the finished part; null of one that is finished as pressed."`
}

type jsonFinished struct {
	Volume number  `json:"volume" doc:"Volume after machining, sizing and grinding, to the drawn sizes."`
	Mass   *number `json:"mass" doc:"Its mass; null where no density is known."`
}

// finishedJSON are the figures of the finished part, nil where there is none.
func finishedJSON(s *subject.Part) *jsonFinished {
	if len(s.Finished) == 0 {
		return nil
	}
	return &jsonFinished{number(s.Finished[0].Volume), optional(s.Finished[0].Mass)}
}

type jsonRules struct {
	Applied       int `json:"applied" doc:"Rules that applied to the part."`
	NotApplicable int `json:"not_applicable" doc:"Rules that did not."`
}

type jsonNote struct {
	Says    string      `json:"says" doc:"The remark."`
	Subject jsonSubject `json:"subject" doc:"What it is of."`
	At      struct {
		Line int `json:"line" doc:"Line in the part file."`
	} `json:"at" doc:"Where that stands."`
}

type jsonUnjudged struct {
	What string `json:"what" doc:"What is not judged."`
	Why  string `json:"why" doc:"The reason."`
	Line int    `json:"line" doc:"Where it stands in the part file."`
}

type jsonAssumed struct {
	What  string `json:"what" doc:"The figure, in words."`
	Value number `json:"value" doc:"Its value."`
	Unit  string `json:"unit" doc:"Its unit."`
	Basis string `json:"basis" doc:"published, practice, memory, derived or shop."`
	From  string `json:"from" doc:"Where a shop puts its own."`
}

// assumedJSON lists the figures that a layout stands on and the drawing does not state.
func assumedJSON(l *tooling.Layout) []jsonAssumed {
	all := []jsonAssumed{}
	for _, a := range l.Assumed {
		all = append(all, jsonAssumed{a.What, number(a.Value), a.Unit, string(a.Basis), a.From})
	}
	return all
}

type jsonUnread struct {
	File    string `json:"file" doc:"The file with the problem."`
	Line    int    `json:"line" doc:"Its line; 0 where the whole file is meant."`
	Column  int    `json:"column" doc:"Its column; 0 where the whole file is meant."`
	Message string `json:"message" doc:"What is wrong and what would be right."`
}

type jsonPassed struct {
	File   string `json:"file" doc:"The folder or file."`
	Why    string `json:"why" doc:"Why it was not reviewed."`
	SHA256 string `json:"sha256" doc:"Digest of the file, or of where a link leads; empty for a folder."`
}

func passedJSON(all []checker.PassedOver) []jsonPassed {
	js := []jsonPassed{}
	for _, x := range all {
		js = append(js, jsonPassed(x))
	}
	return js
}

func partJSON(p *checker.PartReview, r *checker.Review) jsonPart {
	s := p.Subject
	j := jsonPart{
		File: p.File, Part: p.Part.Name, Drawing: p.Part.Drawing, Revision: p.Part.Revision,
		Shop: shopOf(p, &r.Head), Grade: words.Grade(p.Grade),
		Figures: jsonFigures{Height: number(s.Height), Mass: optional(s.Mass), Volume: number(s.Volume), PlanArea: number(s.PlanArea),
			Class: number(s.Class), Force: optional(s.Force), Finished: finishedJSON(s)},
		Rules:    jsonRules{p.Applied, p.NotApplicable},
		Findings: []jsonFinding{}, Notes: []jsonNote{}, Unjudged: []jsonUnjudged{},
		Assumed: assumedJSON(p.Layout), Search: searchJSON(p.Search),
		Conceded: concessionsJSON(p), States: statesJSON(&p.States), Since: sinceJSON(p, r.Against),
	}
	for _, f := range p.Findings {
		j.Findings = append(j.Findings, findingJSON(f))
	}
	for _, n := range p.Notes {
		k := jsonNote{Says: n.Says, Subject: jsonSubject{n.Kind, n.Name}}
		k.At.Line = n.At.Line
		j.Notes = append(j.Notes, k)
	}
	for _, n := range p.NotJudged {
		j.Unjudged = append(j.Unjudged, jsonUnjudged{n.What, n.Why, n.At.Line})
	}
	for _, a := range p.Account {
		j.Account = append(j.Account, jsonJudged{a.Rule.Name, a.Subjects, a.Applied, a.Found, a.Why})
	}
	return j
}

// NewJSON writes a review as one JSON document, findings by place and rule; of head it needs what a review stands on.
func NewJSON(w io.Writer, head *checker.Review) *JSON {
	return &JSON{jsonWriter: jsonWriter{w: w}, head: head}
}

// JSON is a review on its way to its JSON document; see report.Stream.
type JSON struct {
	jsonWriter
	head  *checker.Review
	begun bool
}

// begin writes what stands before the parts.
func (s *JSON) begin() {
	if s.begun {
		return
	}
	s.begun = true
	s.open('{')
	s.member("corerod", jsonVersion{Version, Format})
	s.member("in_force", inForceJSON(s.head))
	s.key("parts")
	s.open('[')
}

// Part writes one part.
func (s *JSON) Part(p *checker.PartReview) {
	s.begin()
	s.value(partJSON(p, s.head))
}

// End writes what is said of all parts, and returns the first error of writing.
func (s *JSON) End(r *checker.Review) error {
	s.begin()
	s.close()
	unread := []jsonUnread{}
	for _, u := range r.Unread {
		unread = append(unread, jsonUnread{u.File, u.Line, u.Column, u.Message})
	}
	s.member("unread", unread)
	s.member("passed_over", passedJSON(r.PassedOver))
	if len(r.Faults) > 0 {
		s.member("faults", r.Faults)
	}
	s.member("earlier", againstJSON(r.Against))
	if r.Lots > 0 {
		s.member("lot", jsonLot{r.Lot, r.Lots})
	}
	s.member("status", int(r.Status))
	s.close()
	return s.err
}
