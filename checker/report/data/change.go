package data

import (
	"encoding/json"
	"strconv"

	"corerod/checker"
	"corerod/checker/change"
)

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

	Remove bool `json:"remove,omitempty" doc:"Whether the key at path is taken out of the file, with all that it holds."`
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
	return jsonSet{Path: s.Path, Line: s.Line, From: scalarJSON(s.From, s.Unit), To: scalarJSON(s.To, s.Unit), Unit: s.Unit, Key: s.Key,
		Remove: s.Remove}
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
