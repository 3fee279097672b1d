package data

import (
	"fmt"
	"slices"
	"strings"

	"corerod/checker"
	"corerod/checker/report/words"
	"corerod/parts"
	"corerod/parts/source"
	"corerod/rules"
)

// SARIF is a review on its way to one run of SARIF; see report.Stream.
type SARIF struct {
	jsonWriter
	r         *checker.Review
	begun     bool
	rules     []*rules.Rule // in force, in order of name
	at        map[*rules.Rule]int
	artifacts []sarifArtifact
	files     map[string]int // places of reviewed files among the artifacts
	remarks   []sarifNotification
}

// sarifLevels are SARIF's own levels for grades.
var sarifLevels = map[rules.Grade]string{rules.Stop: "error", rules.Change: "warning", rules.Ask: "note"}

func (s *SARIF) driver() sarifDriver {
	d := sarifDriver{
		Name: "corerod", Version: Version, SemanticVersion: Version,
		ShortDescription: sarifSays("Reviews drawings of pressed and sintered parts before tools are cut."),
		FullDescription:  sarifSays(words.Caution),
		Rules:            []sarifRule{},
	}
	for _, x := range s.rules {
		var grounds []string
		for _, c := range x.Grounds() {
			grounds = append(grounds, words.Source(x.Pack, c.Key, c.Basis))
		}
		d.Rules = append(d.Rules, sarifRule{
			ID: x.Name, Name: sarifText(x.Title),
			ShortDescription: sarifSays(x.Title),
			FullDescription:  sarifSays(x.Because),
			Help:             sarifSays(words.Sentence(x.Change) + " Ground: " + strings.Join(grounds, "; ") + "."),
			Default:          sarifDefault{sarifLevels[x.Needs[0].Grade]},
			Properties:       sarifRuleProperties{x.Stage, x.Over, x.From.Name},
		})
	}
	return d
}

// invocation tells how the run ended. It was successful where every file was reviewed: only then is a finding that is not
// there gone.
func (s *SARIF) invocation(r *checker.Review) sarifInvocation {
	status := r.Status
	i := sarifInvocation{ExecutionSuccessful: status == checker.Clear || status == checker.Found, ExitCode: int(status),
		ExitCodeDescription: words.Statuses[status]}
	i.Notifications = append(append(s.failures(r), s.around(r)...), s.remarks...)
	return i
}

func sarifNotice(level, text string, at ...sarifLocation) sarifNotification {
	return sarifNotification{level, sarifSays(text), at}
}

// failures are our own faults and the problems of files and packs.
func (s *SARIF) failures(r *checker.Review) []sarifNotification {
	all := []sarifNotification{}
	for _, f := range r.Faults {
		all = append(all, sarifNotice("error", "A fault of corerod itself; please report it with the part file: "+f))
	}
	for _, u := range r.Unread {
		all = append(all, sarifNotice("error", u.Message, sarifLocation{Physical: s.physical(u.File, u.Line, u.Column)}))
	}
	return all
}

// around is what is gone since an earlier review, and what was passed over.
func (s *SARIF) around(r *checker.Review) (all []sarifNotification) {
	if r.Against != nil {
		for _, p := range r.Against.Gone {
			level := "warning"
			if !p.Counts() {
				level = "note"
			}
			all = append(all, sarifNotice(level, words.Gone(&p)))
		}
	}
	for _, f := range r.PassedOver {
		all = append(all, sarifNotice("note", "Passed over: it "+f.Why+".", sarifLocation{Physical: s.physical(f.File, 0, 0)}))
	}
	return all
}

// remarksOn are those on a part that are no findings.
func (s *SARIF) remarksOn(p *checker.PartReview) (all []sarifNotification) {
	for _, x := range p.Restated {
		level := "note"
		if x.Counts {
			level = "warning"
		}
		all = append(all, sarifNotice(level, words.Restated(&x), sarifLocation{Physical: s.physical(p.File, 0, 0)}))
	}
	for _, n := range p.Notes {
		all = append(all, sarifNotice("note", strings.TrimSuffix(n.Says, ".")+".",
			sarifLocation{Physical: s.physical(p.File, n.At.Line, n.At.Column)}))
	}
	return all
}

func runProperties(r *checker.Review) sarifRunProperties {
	p := sarifRunProperties{InForce: inForceJSON(r), Only: r.Only, Earlier: againstJSON(r.Against)}
	if r.Lots > 0 {
		p.Lot = &jsonLot{r.Lot, r.Lots}
	}
	return p
}

// artifact adds the file of a part.
func (s *SARIF) artifact(p *checker.PartReview) {
	var unused []jsonConcession
	for _, k := range p.Concessions {
		if k.State == checker.Unused {
			unused = append(unused, *concessionJSON(k))
		}
	}
	i := len(s.artifacts)
	s.files[p.File] = i
	s.artifacts = append(s.artifacts, sarifArtifact{sarifFile{sarifURI(p.File), &i}, []string{"analysisTarget"},
		sarifPartProperties{p.Part.Name, p.Part.Drawing, p.Part.Revision, words.Grade(p.Grade),
			jsonRules{p.Applied, p.NotApplicable}, unused, sinceJSON(p, s.r.Against)}})
}

// file names a file, and its artifact where it was reviewed.
func (s *SARIF) file(name string) sarifFile {
	f := sarifFile{URI: sarifURI(name)}
	if i, ok := s.files[name]; ok {
		f.Index = &i
	}
	return f
}

// physical is a place in a file; line 0 means the whole file.
func (s *SARIF) physical(file string, line, column int) *sarifPhysical {
	p := &sarifPhysical{File: s.file(file)}
	if line > 0 {
		p.Region = &sarifRegion{StartLine: line, StartColumn: column}
	}
	return p
}

func (s *SARIF) result(p *checker.PartReview, f *checker.Finding) sarifResult {
	j := findingJSON(f)
	at := sarifLocation{Physical: s.physical(p.File, f.At.Line, f.At.Column),
		Logical: append([]sarifLogical{{p.Part.Name, "part", p.Part.Name}}, sarifFeature(p, f.At)...)}
	out := sarifResult{
		RuleID: f.Rule.Name, RuleIndex: s.at[f.Rule], Level: sarifLevels[f.Grade],
		Message:      sarifSays(inShort(f, p.Part.Unit)),
		Locations:    []sarifLocation{at},
		Fingerprints: map[string]string{"corerodFinding/v1": f.ID},
		Properties: sarifResultProperties{j.Grade, j.Stage, j.Pack, j.Subject, append([]string{}, j.Features...), j.At.jsonPlace, j.Places,
			j.Compared, j.Conceded},
		Baseline:     baselines[f.Since],
		Suppressions: s.suppressions(f, p.Force),
	}
	for i, x := range f.Related {
		says := sarifSays(x.Path)
		out.Related = append(out.Related, sarifLocation{i + 1, s.physical(p.File, x.Line, x.Column), sarifFeature(p, x), &says})
	}
	for _, c := range f.Changes {
		out.Fixes = append(out.Fixes, s.fix(p, c))
	}
	return out
}

// baselines are SARIF's own words for what became of a finding since an earlier review.
var baselines = map[checker.Since]string{checker.SinceNew: "new", checker.SinceWorse: "updated", checker.SinceSame: "unchanged"}

// suppressions is the concession that covers a finding. Where concessions are in force a finding that none covers has an
// empty list, which says so.
func (s *SARIF) suppressions(f *checker.Finding, force *checker.Force) *[]sarifSuppression {
	if force.Concede == nil {
		return nil
	}
	all := []sarifSuppression{}
	if f.Conceded() {
		all = append(all, sarifSuppression{"external", "accepted", sarifText(words.Concession(f.Concession)),
			sarifLocation{Physical: s.physical(force.Concede.File, f.Concession.Line, 0)}})
	}
	return &all
}

// inShort says what was found, measured and needed, and what to change.
func inShort(f *checker.Finding, unit string) string {
	text := strings.TrimSuffix(f.Says, ".") + "."
	for i, l := range words.Comparisons(f, unit, words.MostCompared) {
		if i == words.MostCompared {
			l = "A" + l[1:]
		}
		text += " " + l + "."
	}
	return text + " Change: " + strings.TrimSuffix(f.Rule.Change, ".") + "."
}

// sectionWords are what one entry of a section of the part file is called.
var sectionWords = map[string]string{"bodies": "body", "cuts": "cut", "blends": "blend", "edges": "edge", "sides": "side", "marks": "mark",
	"dimensions": "dimension"}

// sarifFeature is the feature at a place of the part file; none where the part as a whole is meant.
func sarifFeature(p *checker.PartReview, at parts.Place) []sarifLogical {
	section, name, ok := strings.Cut(at.Path, ".")
	if !ok {
		return nil
	}
	return []sarifLogical{{name, sectionWords[section], p.Part.Name + "." + at.Path}}
}

// fix is a checked change as what it replaces in the file.
func (s *SARIF) fix(p *checker.PartReview, c *checker.Change) sarifFix {
	alone := *c
	alone.ClearsToo = nil // named here, not numbered
	text := words.Change(c) + " " + words.Effect(&alone, nil)
	for _, f := range p.Findings {
		if slices.Contains(c.ClearsToo, f.ID) {
			text += fmt.Sprintf(" Clears too: %s, %s.", words.Rule(f.Rule.Name), source.Plain(f.Subject.Place().Name))
		}
	}
	change := sarifChange{File: s.file(p.File)}
	for _, x := range c.Splices {
		change.Replacements = append(change.Replacements, sarifReplacement{
			sarifRegion{x.Line, x.Column, x.EndLine, x.EndColumn}, &sarifContent{x.Text}})
	}
	return sarifFix{sarifSays(text), []sarifChange{change}}
}
