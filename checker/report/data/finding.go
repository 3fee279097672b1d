package data

import (
	"corerod/checker"
	"corerod/parts/subject"
)

type jsonFinding struct {
	ID       string             `json:"id" doc:"The same finding keeps it when lines move."`
	Rule     string             `json:"rule" doc:"Name of the rule."`
	Stage    string             `json:"stage" doc:"When a part meets the rule: fill, press, eject, handle, sinter, size or tool."`
	Grade    string             `json:"grade" doc:"stop, change or ask."`
	Since    string             `json:"since" doc:"new, worsened or unchanged since the earlier review, empty without one."`
	Pack     string             `json:"pack" doc:"The pack of the rule."`
	Subject  jsonSubject        `json:"subject" doc:"What was found."`
	Over     *jsonOver          `json:"over" doc:"What the rule was judged on, where the finding is of elements of a list; null where it is the subject."`
	Features []string           `json:"features" doc:"The features of the part file that make the subject."`
	Count    int                `json:"count" doc:"At how many places the same stands."`
	Places   many[jsonPlace]    `json:"places" doc:"Every place where count is above 1, else empty."`
	At       jsonAt             `json:"at" doc:"Where it lies, in the file and on the part."`
	Related  many[jsonRelated]  `json:"related" doc:"Places of the other features."`
	Says     string             `json:"says" doc:"What is there."`
	Because  string             `json:"because" doc:"What happens in the die."`
	Change   string             `json:"change" doc:"What to draw instead."`
	Compared many[jsonCompared] `json:"compared" doc:"Each comparison that failed; of a list each element that fails."`
	Also     []jsonAlso         `json:"also,omitempty" doc:"What other rules find of the same fault; left out where none does."`
	Sources  many[jsonSource]   `json:"sources" doc:"What the finding stands on."`
	Changes  many[jsonChange]   `json:"changes" doc:"What clears it, checked by reviewing the changed part, best first."`
	Conceded *jsonConcession    `json:"concession" doc:"The record for it; null for none."`
}

// jsonAlso is what another rule finds of the same fault.
type jsonAlso struct {
	Rule    string      `json:"rule" doc:"Name of the rule."`
	Grade   string      `json:"grade" doc:"Its grade."`
	Subject jsonSubject `json:"subject" doc:"What it was found on."`
	Says    string      `json:"says" doc:"What was found."`
}

type jsonSubject struct {
	Kind string `json:"kind" doc:"Kind of subject, such as wall."`
	Name string `json:"name" doc:"Its name."`
}

// jsonOver is what a rule was judged on.
type jsonOver struct {
	jsonSubject
	Features []string        `json:"features" doc:"The features that make it."`
	Places   many[jsonPlace] `json:"places" doc:"Where it stands, one place at least."`
}

type jsonPlace struct {
	X number    `json:"x" doc:"In the plan."`
	Y number    `json:"y" doc:"In the plan."`
	Z [2]number `json:"z" doc:"Along the pressing axis, from low to high."`
}

type jsonAt struct {
	Line   int    `json:"line" doc:"Line in the part file."`
	Column int    `json:"column" doc:"Column in the part file, in code points."`
	Path   string `json:"path" doc:"Path in the part file."`
	jsonPlace
}

type jsonRelated struct {
	Line int    `json:"line" doc:"Line in the part file."`
	Path string `json:"path" doc:"Path in the part file."`
}

type jsonCompared struct {
	Measure  string  `json:"measure" doc:"What was measured, as rules name it."`
	Value    any     `json:"value" doc:"Its value."`
	Needs    string  `json:"needs" doc:"How it must stand to the limit: <, <=, >, >=, ==, !=, in, not in, contains or not contains."`
	Limit    any     `json:"limit" doc:"What it was compared with."`
	From     string  `json:"from" doc:"The limit as the rule writes it, such as limits.wall_least; empty for a plain number."`
	Unit     string  `json:"unit" doc:"Unit of both, empty for none."`
	MissesBy *number `json:"misses_by" doc:"How far the value is from what is needed; null where it is no number."`
	AnyOf    int     `json:"any_of,omitempty" doc:"One of so many comparisons would do."`
	Together int     `json:"together,omitempty" doc:"Those with the same number are only together one of any_of."`
	Of       *jsonOf `json:"of,omitempty" doc:"The element of a list that was compared; left out where the list or the subject was."`
	To       *jsonOf `json:"to,omitempty" doc:"The other element, where two were compared; else left out."`
}

// jsonOf is one element of a list.
type jsonOf struct {
	jsonSubject
	Features []string `json:"features" doc:"The features that make it."`
	jsonPlace
}

type jsonSource struct {
	Key   string `json:"key" doc:"Key of the source in the pack, empty for none."`
	Basis string `json:"basis" doc:"published, practice, memory, derived or shop."`
}

func findingJSON(f *checker.Finding) jsonFinding {
	c := f.Subject.Place()
	j := jsonFinding{
		ID: f.ID, Rule: f.Rule.Name, Stage: f.Rule.Stage, Grade: string(f.Grade), Since: string(f.Since), Pack: f.Rule.From.Name,
		Subject: jsonSubject{f.Subject.Kind().Name, c.Name}, Features: c.Features, Count: max(1, len(f.Places)), Places: []jsonPlace{},
		At:      jsonAt{f.At.Line, f.At.Column, f.At.Path, placeJSON(subject.Point{X: c.X, Y: c.Y, ZLow: c.ZLow, ZHigh: c.ZHigh})},
		Related: []jsonRelated{}, Says: f.Says, Because: f.Rule.Because, Change: f.Rule.Change,
		Compared: []jsonCompared{}, Over: overJSON(f), Sources: []jsonSource{}, Changes: changesJSON(f),
		Conceded: concessionJSON(f.Concession),
	}
	for _, g := range f.Also {
		j.Also = append(j.Also, jsonAlso{g.Rule.Name, string(g.Grade), jsonSubject{g.Subject.Kind().Name, g.Subject.Place().Name}, g.Says})
	}
	for _, p := range f.Places {
		j.Places = append(j.Places, placeJSON(p))
	}
	for _, r := range f.Related {
		j.Related = append(j.Related, jsonRelated{r.Line, r.Path})
	}
	for _, x := range f.Entries() {
		k := jsonCompared{Measure: x.Measure, Value: anyJSON(x.Value), Needs: x.Needs, Limit: anyJSON(x.Limit), From: x.From, Unit: x.Unit,
			AnyOf: x.AnyOf, Together: x.Together}
		if x.MissesBy != nil {
			v := number(*x.MissesBy)
			k.MissesBy = &v
		}
		k.Of, k.To = ofJSON(x.Of), ofJSON(x.To)
		j.Compared = append(j.Compared, k)
	}
	for _, s := range f.Sources {
		j.Sources = append(j.Sources, jsonSource{s.Key, string(s.Basis)})
	}
	return j
}

// ofJSON is an element; nil for none.
func ofJSON(s *subject.Spot) *jsonOf {
	if s == nil {
		return nil
	}
	return &jsonOf{jsonSubject{s.Kind, s.Name}, append([]string{}, s.Features...), placeJSON(s.Point)}
}

// overJSON is what a rule was judged on, where that is not what was found.
func overJSON(f *checker.Finding) *jsonOver {
	if f.Over == f.Subject {
		return nil
	}
	c := f.Over.Place()
	j := &jsonOver{jsonSubject{f.Over.Kind().Name, c.Name}, append([]string{}, c.Features...), []jsonPlace{}}
	for _, s := range subject.SpotsOf(f.Over) {
		j.Places = append(j.Places, placeJSON(s.Point))
	}
	return j
}

func placeJSON(p subject.Point) jsonPlace {
	return jsonPlace{number(subject.Snap(p.X)), number(subject.Snap(p.Y)),
		[2]number{number(subject.Snap(p.ZLow)), number(subject.Snap(p.ZHigh))}}
}
