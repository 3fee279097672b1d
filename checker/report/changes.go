package report

import (
	"encoding/json"
	"fmt"
	"strconv"
	"strings"

	"corerod/checker"
	"corerod/checker/change"
	"corerod/parts/source"
)

// changes writes what would clear a finding, each a line that begins with where it is set. numbers are those under which
// the report lists findings, by id.
func (t *textWriter) changes(p *checker.PartReview, f *checker.Finding, numbers map[string]int) {
	if noChange(p, f) {
		t.line("     Checked: %s.", noChangeText)
	}
	for _, c := range f.Changes {
		t.line("     Checked: %s %s", changeText(c), effect(c, numbers))
	}
}

// noChange tells whether all changes were looked at, and none clears a finding.
func noChange(p *checker.PartReview, f *checker.Finding) bool {
	return p.Search != nil && !p.Search.Stopped && len(f.Changes) == 0 // where the search ended is said once, at the end
}

const noChangeText = "no change of one or two numbers, or of structure, was found that clears it"

// changeText says what a change does to the drawing.
func changeText(c *checker.Change) string {
	says := ""
	if c.Says != "" {
		says = source.Plain(c.Says) + ": "
	}
	return says + setsText(c) + "."
}

// setsText says what a change sets; past a few values of one it counts them.
func setsText(c *checker.Change) string {
	const most = 4
	var all []string
	for _, s := range c.Sets[:min(most, len(c.Sets))] {
		all = append(all, setText(s))
	}
	if more := len(c.Sets) - most; more > 0 {
		all = append(all, plural(more, "more value"))
	}
	return strings.Join(all, ", and ")
}

func setText(s checker.Set) string {
	unit := ""
	if s.Unit != "" {
		unit = " " + s.Unit
	}
	at := fmt.Sprintf("%s, line %d, ", source.Plain(s.Path), s.Line)
	switch {
	case s.Key != "":
		return at + "becomes " + s.Key + ": " + source.Plain(s.To)
	case s.From == "":
		return at + "added as " + source.Plain(s.To) + unit
	}
	return at + "from " + source.Plain(s.From) + " to " + source.Plain(s.To) + unit
}

// effect says what a change does to this finding and to others.
func effect(c *checker.Change, numbers map[string]int) string {
	text := "Clears it"
	if !c.Clears {
		text = "Makes it milder"
	}
	var too []string
	for _, id := range c.ClearsToo {
		too = append(too, strconv.Itoa(numbers[id]))
	}
	if len(too) > 0 {
		text += ", and " + strings.Join(too, ", ") + " too"
	}
	for _, b := range c.Brings {
		text += fmt.Sprintf("; brings %s: %s, %s", b.Grade, prose(b.Rule), source.Plain(b.Name))
	}
	for _, b := range c.Worsens {
		text += fmt.Sprintf("; makes worse %s: %s, %s", b.Grade, prose(b.Rule), source.Plain(b.Name))
	}
	return text + "."
}

// searched says where the search for changes ended, where it did not look at everything.
func (t *textWriter) searched(p *checker.PartReview) {
	if p.Search != nil && p.Search.Stopped {
		t.line("")
		t.line("  The search for changes ended after %d changed parts; further changes may exist.", p.Search.Tried)
	}
}

type jsonChange struct {
	jsonSet
	Also     many[jsonSet]     `json:"also" doc:"What else the same change sets."`
	Says     string            `json:"says" doc:"The change of structure in words, empty where a number changes."`
	Clears   bool              `json:"clears" doc:"Whether no finding of the rule is left on the subject."`
	Eases    bool              `json:"eases" doc:"Whether one of a milder grade is left."`
	ClearToo []string          `json:"clears_too" doc:"Ids of other findings that are gone too."`
	Brings   many[jsonBrought] `json:"brings" doc:"Findings that are new or of a worse grade, all milder than the one it is for."`
	Worsens  many[jsonBrought] `json:"worsens" doc:"Findings that miss by more than before."`
}

type jsonSet struct {
	Path string `json:"path" doc:"Path in the part file."`
	Line int    `json:"line" doc:"Line in the part file."`
	From any    `json:"from" doc:"The value that is there; empty where it is added."`
	To   any    `json:"to" doc:"The value to draw."`
	Unit string `json:"unit" doc:"Its unit, empty for none."`
	Key  string `json:"key,omitempty" doc:"The key that takes the place of the one at path, where that changes."`
}

type jsonBrought struct {
	Rule    string      `json:"rule" doc:"Name of the rule."`
	Grade   string      `json:"grade" doc:"Its grade."`
	Subject jsonSubject `json:"subject" doc:"What it is of."`
}

type jsonSearch struct {
	Tried   int  `json:"tried" doc:"How many changed parts were reviewed."`
	Most    int  `json:"most" doc:"How many at most."`
	Stopped bool `json:"stopped" doc:"Whether the search ended there."`
}

func searchJSON(s *checker.Search) *jsonSearch {
	if s == nil {
		return nil
	}
	return &jsonSearch{s.Tried, change.MostTried, s.Stopped}
}

func changesJSON(f *checker.Finding) []jsonChange {
	all := []jsonChange{}
	for _, c := range f.Changes {
		j := jsonChange{jsonSet: setJSON(c.Sets[0]), Also: []jsonSet{}, Says: c.Says, Clears: c.Clears, Eases: c.Eases,
			ClearToo: append([]string{}, c.ClearsToo...), Brings: broughtJSON(c.Brings), Worsens: broughtJSON(c.Worsens)}
		for _, s := range c.Sets[1:] {
			j.Also = append(j.Also, setJSON(s))
		}
		all = append(all, j)
	}
	return all
}

func broughtJSON(bs []checker.Brought) []jsonBrought {
	all := []jsonBrought{}
	for _, b := range bs {
		all = append(all, jsonBrought{b.Rule, string(b.Grade), jsonSubject{b.Kind, b.Name}})
	}
	return all
}

// setJSON gives the values as the file has them: numbers in its own unit, text, or null for what is not there.
func setJSON(s checker.Set) jsonSet {
	return jsonSet{Path: s.Path, Line: s.Line, From: scalarJSON(s.From, s.Unit), To: scalarJSON(s.To, s.Unit), Unit: s.Unit, Key: s.Key}
}

func scalarJSON(text, unit string) any {
	if text == "" {
		return nil
	}
	if v, err := strconv.ParseFloat(text, 64); err == nil && unit != "" {
		return number(v)
	}
	if text == "true" || text == "false" {
		return json.RawMessage(text)
	}
	return text
}
