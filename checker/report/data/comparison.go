package data

import (
	"io"
	"strings"

	"corerod/checker"
	"corerod/checker/compare"
	"corerod/checker/report/words"
	"corerod/parts/form"
	"corerod/parts/subject"
	"corerod/parts/tooling"
)

type jsonCompare struct {
	Corerod  jsonVersion       `json:"corerod" doc:"The program and the version of this format."`
	InForce  jsonForce         `json:"in_force" doc:"What both revisions were judged by."`
	Unused   *string           `json:"unused_shop_file" doc:"The shop file that the old revision alone lies under; null for none."`
	Old      jsonRevision      `json:"old" doc:"The old revision."`
	New      jsonRevision      `json:"new" doc:"The new revision."`
	Counts   jsonCounts        `json:"counts" doc:"How many findings, place by place."`
	Findings []jsonPair        `json:"findings" doc:"Findings that were gained, worsened, eased or cleared."`
	Values   []jsonRedrawn     `json:"values" doc:"Values of the file outside features that differ."`
	Features []jsonFeature     `json:"features" doc:"Features and dimensions that were added, removed, renamed or changed."`
	Measures []jsonMovedNumber `json:"measures" doc:"Measures that moved."`
	Words    []jsonMovedWord   `json:"words" doc:"Measures in words that differ."`
	Came     []jsonLone        `json:"new_subjects" doc:"Subjects of the new revision alone."`
	Went     []jsonLone        `json:"gone_subjects" doc:"Subjects of the old revision alone."`
	Status   int               `json:"status" doc:"The exit status."`
}

type jsonRevision struct {
	File     string           `json:"file" doc:"The part file, as it was named."`
	Part     string           `json:"part" doc:"Name of the part."`
	Drawing  string           `json:"drawing" doc:"Number of the drawing, empty for none."`
	Revision string           `json:"revision" doc:"Revision of the drawing, empty for none."`
	Units    string           `json:"units" doc:"mm or in, in which it is drawn."`
	Grade    string           `json:"grade" doc:"clear, or the worst grade of the findings."`
	Rules    jsonRules        `json:"rules" doc:"How many rules applied."`
	Figures  jsonMainFigures  `json:"figures" doc:"Figures of the part; null where one is not known."`
	Members  []jsonMemberName `json:"members" doc:"Members of the tool."`
	Press    *jsonPressName   `json:"press" doc:"The press that is chosen; null without a list of presses."`
}

type jsonMainFigures struct {
	Height   *number `json:"height" doc:"Overall height along the pressing axis."`
	Across   *number `json:"across" doc:"Diameter of the circle round the plan."`
	PlanArea *number `json:"plan_area" doc:"Area seen along the pressing axis, through-holes out."`
	Volume   *number `json:"volume" doc:"Volume as pressed, to the drawn sizes."`
	Mass     *number `json:"mass" doc:"Mass as sintered."`
	Density  *number `json:"density" doc:"Sintered density."`
	Class    *number `json:"class" doc:"Class of the part, 1 to 4."`
	Force    *number `json:"force" doc:"Force to press."`
	Ejection *number `json:"ejection" doc:"Force to eject."`
}

type jsonMemberName struct {
	Kind  string `json:"kind" doc:"die, upper punch, lower punch or core rod."`
	Name  string `json:"name" doc:"What it forms."`
	Count int    `json:"count" doc:"How many alike."`
}

type jsonPressName struct {
	Name   string `json:"name" doc:"Its name in the pack."`
	Serves bool   `json:"serves" doc:"Whether it offers all that is needed; else it comes nearest."`
}

type jsonCounts struct {
	Gained    int `json:"gained" doc:"Of the new revision alone."`
	Worsened  int `json:"worsened" doc:"Worse than before."`
	Eased     int `json:"eased" doc:"Milder than before."`
	Cleared   int `json:"cleared" doc:"Of the old revision alone."`
	Unchanged int `json:"unchanged" doc:"As before."`
}

type jsonPair struct {
	How       string       `json:"how" doc:"gained, worsened, eased or cleared."`
	PlacesOld int          `json:"places_old" doc:"At how many places of the old revision."`
	PlacesNew int          `json:"places_new" doc:"At how many places of the new revision."`
	Other     any          `json:"other,omitempty" doc:"The measure of a gained or cleared finding on the revision without it; left out where that has none."`
	Unapplied string       `json:"unapplied" doc:"Why the rule is not applicable there, empty where it is."`
	Old       *jsonFinding `json:"old" doc:"The finding in the old revision; null for none."`
	New       *jsonFinding `json:"new" doc:"The finding in the new revision; null for none."`
}

// jsonRedrawn has a side for each file that has the value.
type jsonRedrawn struct {
	Old *jsonValue `json:"old" doc:"In the old file; null where it is not there."`
	New *jsonValue `json:"new" doc:"In the new file; null where it is not there."`
}

type jsonValue struct {
	Path  string `json:"path" doc:"Path in the part file."`
	Line  int    `json:"line" doc:"Line in the part file."`
	Value any    `json:"value" doc:"The value, a number as a number."`
	Unit  string `json:"unit" doc:"Its unit, empty for none."`
}

type jsonFeature struct {
	How     string        `json:"how" doc:"added, removed, renamed or changed."`
	Section string        `json:"section" doc:"The section of the file, such as cuts."`
	Name    string        `json:"name" doc:"Its name in the new file."`
	OldName string        `json:"old_name" doc:"Its name in the old file."`
	Form    string        `json:"form" doc:"What it is in the new file, such as circle."`
	OldForm string        `json:"old_form" doc:"What it is in the old file."`
	Line    int           `json:"line" doc:"Its line in the new file; 0 for none."`
	OldLine int           `json:"old_line" doc:"Its line in the old file; 0 for none."`
	Values  []jsonRedrawn `json:"values" doc:"Its values that differ."`
}

type jsonMovedNumber struct {
	Subject jsonSubject `json:"subject" doc:"The subject in the new revision."`
	OldName string      `json:"old_name" doc:"Its name in the old one."`
	Measure string      `json:"measure" doc:"Name of the measure."`
	Unit    string      `json:"unit" doc:"Its unit, empty for none."`
	Old     *number     `json:"old" doc:"Before; null where it is not there."`
	New     *number     `json:"new" doc:"Now; null where it is not there."`
}

type jsonMovedWord struct {
	Subject jsonSubject `json:"subject" doc:"The subject in the new revision."`
	OldName string      `json:"old_name" doc:"Its name in the old one."`
	Measure string      `json:"measure" doc:"Name of the measure."`
	Old     string      `json:"old" doc:"Before."`
	New     string      `json:"new" doc:"Now."`
}

type jsonLone struct {
	Subject jsonSubject `json:"subject" doc:"The subject."`
	Places  int         `json:"places" doc:"At how many places."`
}

// Compare writes a comparison as one JSON document; but for `other` every key is
// always there, null where it has no value.
func Compare(w io.Writer, c *compare.Comparison, in words.InForce) error {
	out := jsonCompare{Corerod: jsonVersion{Version, Format}, InForce: forceJSON(in.Packs, in.Shop), Old: revisionJSON(c, c.Old),
		New: revisionJSON(c, c.New),
		Counts: jsonCounts{c.Count(compare.Gained), c.Count(compare.Worsened), c.Count(compare.Eased), c.Count(compare.Cleared),
			c.Count(compare.Unchanged)},
		Findings: []jsonPair{}, Values: redrawnJSON(c.Drawn), Features: []jsonFeature{}, Measures: []jsonMovedNumber{},
		Words: []jsonMovedWord{}, Came: loneJSON(c.Came), Went: loneJSON(c.Went), Status: int(c.Status)}
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

func revisionJSON(c *compare.Comparison, r *checker.PartReview) jsonRevision {
	p := r.Part
	j := jsonRevision{File: r.File, Part: p.Name, Drawing: p.Drawing, Revision: p.Revision, Units: p.Unit, Grade: words.Grade(r.Grade),
		Rules: jsonRules{r.Applied, r.NotApplicable}, Members: []jsonMemberName{}}
	to := map[string]**number{"height": &j.Figures.Height, "across": &j.Figures.Across, "plan_area": &j.Figures.PlanArea,
		"volume": &j.Figures.Volume, "mass": &j.Figures.Mass,
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

func pairJSON(p *compare.FindingPair) jsonPair {
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

func redrawnJSON(vs []compare.Redrawn) []jsonRedrawn {
	all := []jsonRedrawn{}
	for _, v := range vs {
		all = append(all, jsonRedrawn{valueJSON(v.Old), valueJSON(v.New)})
	}
	return all
}

func valueJSON(v *form.Value) *jsonValue {
	if v == nil {
		return nil
	}
	j := &jsonValue{v.Path, v.Line, v.Text, v.Unit}
	if v.Numeric {
		j.Value = number(v.Number)
	}
	return j
}

func featureJSON(f *compare.RedrawnFeature) jsonFeature {
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

func (out *jsonCompare) moved(p *compare.MovedSubject) {
	name, old := jsonSubject{p.New.Kind().Name, p.New.Place().Name}, p.Old.Place().Name
	for _, m := range p.Measures {
		if m.Field.Type == subject.Number {
			out.Measures = append(out.Measures, jsonMovedNumber{name, old, m.Field.Name, strings.TrimSpace(m.Field.Unit), optional(m.Old),
				optional(m.New)})
			continue
		}
		out.Words = append(out.Words, jsonMovedWord{name, old, m.Field.Name, m.OldWord, m.NewWord})
	}
}

func loneJSON(ls []compare.Lone) []jsonLone {
	all := []jsonLone{}
	for _, l := range ls {
		all = append(all, jsonLone{jsonSubject{l.Subject.Kind().Name, l.Subject.Place().Name}, l.Places})
	}
	return all
}
