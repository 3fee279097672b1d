package data

import (
	"cmp"
	"io"
	"slices"

	"corerod/checker"
	"corerod/rules"
)

// The Static Analysis Results Interchange Format, SARIF 2.1.0, an OASIS standard: the objects of it that a review has. Their
// keys, levels and kinds are the standard's.

type sarifRunProperties struct {
	InForce jsonInForce  `json:"in_force"`
	Only    []string     `json:"only,omitempty"` // the rules that alone were asked for
	Earlier *jsonAgainst `json:"earlier,omitempty"`
	Lot     *jsonLot     `json:"lot,omitempty"`
}

type sarifTool struct {
	Driver sarifDriver `json:"driver"`
}

type sarifDriver struct {
	Name             string       `json:"name"`
	Version          string       `json:"version"`
	SemanticVersion  string       `json:"semanticVersion"`
	ShortDescription sarifMessage `json:"shortDescription"`
	FullDescription  sarifMessage `json:"fullDescription"`
	Rules            []sarifRule  `json:"rules"`
}

type sarifRule struct {
	ID               string              `json:"id"`
	Name             string              `json:"name"`
	ShortDescription sarifMessage        `json:"shortDescription"`
	FullDescription  sarifMessage        `json:"fullDescription"`
	Help             sarifMessage        `json:"help"`
	Default          sarifDefault        `json:"defaultConfiguration"`
	Properties       sarifRuleProperties `json:"properties"`
}

type sarifDefault struct {
	Level string `json:"level"`
}

type sarifRuleProperties struct {
	Stage string `json:"stage"`
	Over  string `json:"over"`
	Pack  string `json:"pack"`
}

// sarifMessage holds text that sarifText has written, on which nothing acts.
type sarifMessage struct {
	Text string `json:"text"`
}

type sarifInvocation struct {
	ExecutionSuccessful bool                `json:"executionSuccessful"`
	ExitCode            int                 `json:"exitCode"`
	ExitCodeDescription string              `json:"exitCodeDescription"`
	Notifications       []sarifNotification `json:"toolExecutionNotifications"`
}

type sarifNotification struct {
	Level     string          `json:"level"`
	Message   sarifMessage    `json:"message"`
	Locations []sarifLocation `json:"locations,omitempty"`
}

// sarifArtifact is a part file that was reviewed.
type sarifArtifact struct {
	Location   sarifFile           `json:"location"`
	Roles      []string            `json:"roles"`
	Properties sarifPartProperties `json:"properties"`
}

type sarifPartProperties struct {
	Part     string           `json:"part"`
	Drawing  string           `json:"drawing"`
	Revision string           `json:"revision"`
	Grade    string           `json:"grade"`
	Rules    jsonRules        `json:"rules"`
	Unused   []jsonConcession `json:"concessions,omitempty"` // that have no finding to cover
	Since    *jsonSince       `json:"since,omitempty"`
}

// sarifFile names a file; Index is its place among the run's artifacts.
type sarifFile struct {
	URI   string `json:"uri"`
	Index *int   `json:"index,omitempty"`
}

type sarifResult struct {
	RuleID       string                `json:"ruleId"`
	RuleIndex    int                   `json:"ruleIndex"`
	Level        string                `json:"level"`
	Message      sarifMessage          `json:"message"`
	Locations    []sarifLocation       `json:"locations"`
	Related      []sarifLocation       `json:"relatedLocations,omitempty"`
	Fingerprints map[string]string     `json:"partialFingerprints"`
	Baseline     string                `json:"baselineState,omitempty"`
	Suppressions *[]sarifSuppression   `json:"suppressions,omitempty"` // nil where no concessions are in force
	Fixes        []sarifFix            `json:"fixes,omitempty"`
	Properties   sarifResultProperties `json:"properties"`
}

type sarifResultProperties struct {
	Grade    string      `json:"grade"`
	Stage    string      `json:"stage"`
	Pack     string      `json:"pack"`
	Subject  jsonSubject `json:"subject"`
	Features []string    `json:"features"`
	jsonPlace
	Places     []jsonPlace     `json:"places,omitempty"`
	Compared   []jsonCompared  `json:"compared"`
	Concession *jsonConcession `json:"concession,omitempty"`
}

// sarifSuppression is a concession that covers a finding.
type sarifSuppression struct {
	Kind          string        `json:"kind"`
	Status        string        `json:"status"`
	Justification string        `json:"justification"`
	Location      sarifLocation `json:"location"`
}

type sarifLocation struct {
	ID       int            `json:"id,omitempty"`
	Physical *sarifPhysical `json:"physicalLocation,omitempty"`
	Logical  []sarifLogical `json:"logicalLocations,omitempty"`
	Message  *sarifMessage  `json:"message,omitempty"`
}

type sarifPhysical struct {
	File   sarifFile    `json:"artifactLocation"`
	Region *sarifRegion `json:"region,omitempty"`
}

// sarifRegion is a stretch of text, or a place in it where it has no end.
type sarifRegion struct {
	StartLine   int `json:"startLine"`
	StartColumn int `json:"startColumn,omitempty"`
	EndLine     int `json:"endLine,omitempty"`
	EndColumn   int `json:"endColumn,omitempty"`
}

type sarifLogical struct {
	Name      string `json:"name"`
	Kind      string `json:"kind"`
	Qualified string `json:"fullyQualifiedName"`
}

type sarifFix struct {
	Description sarifMessage  `json:"description"`
	Changes     []sarifChange `json:"artifactChanges"`
}

type sarifChange struct {
	File         sarifFile          `json:"artifactLocation"`
	Replacements []sarifReplacement `json:"replacements"`
}

// sarifReplacement is the one place of SARIF that holds a file's text as it is: what a program writes into the file.
type sarifReplacement struct {
	Deleted  sarifRegion   `json:"deletedRegion"`
	Inserted *sarifContent `json:"insertedContent,omitempty"`
}

type sarifContent struct {
	Text string `json:"text"`
}

// NewSARIF writes a review as one run of SARIF 2.1.0, results by place and rule. Names of files are relative to the folder in
// which the review ran, as it was called; lines and columns count from 1, columns in code points. Of head it needs
// what a review stands on. Until the end it keeps what the run says of each file.
func NewSARIF(w io.Writer, head *checker.Review) *SARIF {
	s := &SARIF{jsonWriter: jsonWriter{w: w}, r: head, at: map[*rules.Rule]int{}, artifacts: []sarifArtifact{}, files: map[string]int{}}
	for _, p := range head.Packs() {
		for _, x := range p.Rules {
			if len(head.Only) == 0 || slices.Contains(head.Only, x.Name) {
				s.rules = append(s.rules, x)
			}
		}
	}
	slices.SortStableFunc(s.rules, func(a, b *rules.Rule) int { return cmp.Compare(a.Name, b.Name) })
	for i, x := range s.rules {
		s.at[x] = i
	}
	return s
}

// begin writes what stands before the results.
func (s *SARIF) begin() {
	if s.begun {
		return
	}
	s.begun = true
	s.open('{')
	s.member("$schema", "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json")
	s.member("version", "2.1.0")
	s.key("runs")
	s.open('[')
	s.open('{')
	s.member("tool", sarifTool{s.driver()})
	s.member("columnKind", "unicodeCodePoints")
	s.member("newlineSequences", []string{"\r\n", "\n", "\r"})
	s.key("results")
	s.open('[')
}

// Part writes the results of one part.
func (s *SARIF) Part(p *checker.PartReview) {
	s.begin()
	s.artifact(p)
	for _, f := range p.Findings {
		s.value(s.result(p, f))
	}
	s.remarks = append(s.remarks, s.remarksOn(p)...)
}

// End writes what is said of the run, and returns the first error of writing.
func (s *SARIF) End(r *checker.Review) error {
	s.begin()
	s.close()
	s.member("artifacts", s.artifacts)
	s.member("invocations", []sarifInvocation{s.invocation(r)})
	s.member("properties", runProperties(r))
	s.close()
	s.close()
	s.close()
	return s.err
}
