package report

import (
	"io"
	"strings"

	"corerod/checker"
	"corerod/parts"
	"corerod/parts/subject"
	"corerod/parts/tooling"
)

type jsonCompare struct {
	Corerod  jsonVersion       `json:"corerod"`
	InForce  jsonForce         `json:"in_force"`
	Unused   *string           `json:"unused_shop_file"`
	Old      jsonRevision      `json:"old"`
	New      jsonRevision      `json:"new"`
	Counts   jsonCounts        `json:"counts"`
	Findings []jsonPair        `json:"findings"`
	Values   []jsonRedrawn     `json:"values"`
	Features []jsonFeature     `json:"features"`
	Measures []jsonMovedNumber `json:"measures"`
	Words    []jsonMovedWord   `json:"words"`
	Came     []jsonLone        `json:"new_subjects"`
	Went     []jsonLone        `json:"gone_subjects"`
	Status   int               `json:"status"`
}

type jsonRevision struct {
	File     string           `json:"file"`
	Part     string           `json:"part"`
	Drawing  string           `json:"drawing"`
	Revision string           `json:"revision"`
	Units    string           `json:"units"`
	Grade    string           `json:"grade"`
	Rules    jsonRules        `json:"rules"`
	Figures  jsonMainFigures  `json:"figures"`
	Members  []jsonMemberName `json:"members"`
	Press    *jsonPressName   `json:"press"`
}

type jsonMainFigures struct {
	Height   *number `json:"height"`
	Across   *number `json:"across"`
	PlanArea *number `json:"plan_area"`
	Volume   *number `json:"volume"`
	Mass     *number `json:"mass"`
	Density  *number `json:"density"`
	Class    *number `json:"class"`
	Force    *number `json:"force"`
	Ejection *number `json:"ejection"`
}

type jsonMemberName struct {
	Kind  string `json:"kind"`
	Name  string `json:"name"`
	Count int    `json:"count"`
}

type jsonPressName struct {
	Name   string `json:"name"`
	Serves bool   `json:"serves"`
}

type jsonCounts struct {
	Gained    int `json:"gained"`
	Worsened  int `json:"worsened"`
	Eased     int `json:"eased"`
	Cleared   int `json:"cleared"`
	Unchanged int `json:"unchanged"`
}

type jsonPair struct {
	How       string       `json:"how"`
	PlacesOld int          `json:"places_old"`
	PlacesNew int          `json:"places_new"`
	Other     any          `json:"other,omitempty"`
	Unapplied string       `json:"unapplied"`
	Old       *jsonFinding `json:"old"`
	New       *jsonFinding `json:"new"`
}

// jsonRedrawn has a side for each file that has the value.
type jsonRedrawn struct {
	Old *jsonValue `json:"old"`
	New *jsonValue `json:"new"`
}

type jsonValue struct {
	Path  string `json:"path"`
	Line  int    `json:"line"`
	Value any    `json:"value"`
	Unit  string `json:"unit"`
}

type jsonFeature struct {
	How     string        `json:"how"`
	Section string        `json:"section"`
	Name    string        `json:"name"`
	OldName string        `json:"old_name"`
	Form    string        `json:"form"`
	OldForm string        `json:"old_form"`
	Line    int           `json:"line"`
	OldLine int           `json:"old_line"`
	Values  []jsonRedrawn `json:"values"`
}

type jsonMovedNumber struct {
	Subject jsonSubject `json:"subject"`
	OldName string      `json:"old_name"`
	Measure string      `json:"measure"`
	Unit    string      `json:"unit"`
	Old     *number     `json:"old"`
	New     *number     `json:"new"`
}

type jsonMovedWord struct {
	Subject jsonSubject `json:"subject"`
	OldName string      `json:"old_name"`
	Measure string      `json:"measure"`
	Old     string      `json:"old"`
	New     string      `json:"new"`
}

type jsonLone struct {
	Subject jsonSubject `json:"subject"`
	Places  int         `json:"places"`
}

// CompareJSON writes a comparison as one JSON document; but for `other` every key is
// always there, null where it has no value.
func CompareJSON(w io.Writer, c *checker.Comparison, in InForce) error {
	out := jsonCompare{Corerod: jsonVersion{Version, Format}, InForce: forceJSON(in.Packs, in.Shop), Old: revisionJSON(c, c.Old), New: revisionJSON(c, c.New),
		Counts:   jsonCounts{c.Count(checker.Gained), c.Count(checker.Worsened), c.Count(checker.Eased), c.Count(checker.Cleared), c.Count(checker.Unchanged)},
		Findings: []jsonPair{}, Values: redrawnJSON(c.Drawn), Features: []jsonFeature{}, Measures: []jsonMovedNumber{}, Words: []jsonMovedWord{},
		Came: loneJSON(c.Came), Went: loneJSON(c.Went), Status: int(c.Status)}
	if in.Unused != "" {
		out.Unused = &in.Unused
	}
	for i := range c.Findings {
		out.Findings = append(out.Findings, pairJSON(&c.Findings[i]))
	}
	for i := range c.Features {
		out.Features = append(out.Features, featureJSON(&c.Features[i]))
	}
	for i := range c.Moved {
		out.moved(&c.Moved[i])
	}
	return indented(w, out)
}

func revisionJSON(c *checker.Comparison, r *checker.PartReview) jsonRevision {
	p := r.Part
	j := jsonRevision{File: r.File, Part: p.Name, Drawing: p.Drawing, Revision: p.Revision, Units: p.Unit, Grade: gradeWord(r.Grade), Rules: jsonRules{r.Applied, r.NotApplicable}, Members: []jsonMemberName{}}
	to := map[string]**number{"height": &j.Figures.Height, "across": &j.Figures.Across, "plan_area": &j.Figures.PlanArea, "volume": &j.Figures.Volume, "mass": &j.Figures.Mass,
		"density": &j.Figures.Density, "class": &j.Figures.Class, "force": &j.Figures.Force, "ejection": &j.Figures.Ejection}
	for _, f := range c.Figures {
		v := f.New
		if r == c.Old {
			v = f.Old
		}
		*to[f.Name] = optional(v)
	}
	for _, kind := range []string{tooling.Die, tooling.UpperPunch, tooling.LowerPunch, tooling.CoreRod} {
		for _, m := range r.Layout.Of(kind) {
			j.Members = append(j.Members, jsonMemberName{kind, m.Name, m.Count})
		}
	}
	if x := r.Layout.Press; x.Press != nil {
		j.Press = &jsonPressName{x.Press.Name, x.Serves}
	}
	return j
}

func pairJSON(p *checker.FindingPair) jsonPair {
	j := jsonPair{How: string(p.How), PlacesOld: p.OldPlaces, PlacesNew: p.NewPlaces, Other: anyJSON(p.Other), Unapplied: p.Unapplied}
	if p.Old != nil {
		f := findingJSON(p.Old)
		j.Old = &f
	}
	if p.New != nil {
		f := findingJSON(p.New)
		j.New = &f
	}
	return j
}

func redrawnJSON(vs []checker.Redrawn) []jsonRedrawn {
	all := []jsonRedrawn{}
	for _, v := range vs {
		all = append(all, jsonRedrawn{valueJSON(v.Old), valueJSON(v.New)})
	}
	return all
}

func valueJSON(v *parts.Value) *jsonValue {
	if v == nil {
		return nil
	}
	j := &jsonValue{v.Path, v.Line, v.Text, v.Unit}
	if v.Numeric {
		j.Value = number(v.Number)
	}
	return j
}

func featureJSON(f *checker.RedrawnFeature) jsonFeature {
	j := jsonFeature{How: string(f.How), Section: f.Section, Values: redrawnJSON(f.Values)}
	j.OldForm, j.Form = f.Forms()
	if f.Old != nil {
		j.OldName, j.OldLine = f.Old.Key, f.Old.Line
	}
	if f.New != nil {
		j.Name, j.Line = f.New.Key, f.New.Line
	}
	return j
}

func (out *jsonCompare) moved(p *checker.MovedSubject) {
	name, old := jsonSubject{p.New.Kind().Name, p.New.Place().Name}, p.Old.Place().Name
	for _, m := range p.Measures {
		if m.Field.Type == subject.Number {
			out.Measures = append(out.Measures, jsonMovedNumber{name, old, m.Field.Name, strings.TrimSpace(m.Field.Unit), optional(m.Old), optional(m.New)})
			continue
		}
		out.Words = append(out.Words, jsonMovedWord{name, old, m.Field.Name, m.OldWord, m.NewWord})
	}
}

func loneJSON(ls []checker.Lone) []jsonLone {
	all := []jsonLone{}
	for _, l := range ls {
		all = append(all, jsonLone{jsonSubject{l.Subject.Kind().Name, l.Subject.Place().Name}, l.Places})
	}
	return all
}
