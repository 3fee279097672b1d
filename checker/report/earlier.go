package report

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"slices"

	"corerod/checker"
	"corerod/parts/form"
	"corerod/parts/source"
	"corerod/parts/subject"
	"corerod/rules"
)

// MostEarlier is the size of an earlier review that is read, bytes.
const MostEarlier = 64 << 20

// mostCommas is the number of commas in an earlier review, which bounds its values.
const mostCommas = 4_000_000

// many is a list that stops being read at its first fault: a small file cannot ask for much memory.
type many[T any] []T

// UnmarshalJSON implements json.Unmarshaler.
func (m *many[T]) UnmarshalJSON(b []byte) error {
	*m = many[T]{}
	if string(b) == "null" {
		return nil
	}
	d := json.NewDecoder(bytes.NewReader(b))
	d.DisallowUnknownFields()
	if t, err := d.Token(); err != nil || t != json.Delim('[') {
		return errors.New("a list was expected")
	}
	for d.More() {
		var x T
		if err := d.Decode(&x); err != nil {
			return err
		}
		*m = append(*m, x)
	}
	return nil
}

// decode reads one JSON document of a review, of this format and with nothing else in it.
func decode(b []byte) (*jsonReview, error) {
	if len(b) > MostEarlier {
		return nil, fmt.Errorf("it is larger than %d bytes", MostEarlier)
	}
	if bytes.Count(b, []byte(",")) > mostCommas {
		return nil, fmt.Errorf("it has more than %d values", mostCommas)
	}
	var which struct {
		Corerod jsonVersion `json:"corerod"`
	}
	if err := json.Unmarshal(b, &which); err == nil && which.Corerod.Format > 0 && which.Corerod.Format != Format {
		return nil, fmt.Errorf("it has format %d, and this version reads format %d: review the earlier folder instead", which.Corerod.Format, Format)
	}
	d := json.NewDecoder(bytes.NewReader(b))
	d.DisallowUnknownFields()
	var j jsonReview
	if err := d.Decode(&j); err != nil {
		return nil, fmt.Errorf("it is no JSON of a review: %s", source.Plain(err.Error()))
	}
	if _, err := d.Token(); !errors.Is(err, io.EOF) {
		return nil, errors.New("something follows the review")
	}
	if j.Corerod.Format != Format {
		return nil, fmt.Errorf("it has no format that this version reads, which is %d", Format)
	}
	for _, p := range j.Parts {
		if _, ok := rules.ParseGrade(p.Grade); !ok && p.Grade != gradeWord("") {
			return nil, fmt.Errorf("it has the grade %s, which is none", source.Quote(p.Grade))
		}
		for _, f := range p.Findings {
			if _, ok := rules.ParseGrade(f.Grade); !ok {
				return nil, fmt.Errorf("it has the grade %s, which is none", source.Quote(f.Grade))
			}
		}
	}
	return &j, nil
}

// ReadEarlier reads the JSON of an earlier review to compare with.
func ReadEarlier(from string, b []byte) (*checker.Earlier, error) {
	j, err := decode(b)
	if err != nil {
		return nil, err
	}
	if j.Lot != nil {
		return nil, fmt.Errorf("it is lot %d of %d; join the lots first, with `corerod join`", j.Lot.Lot, j.Lot.Lots)
	}
	e := &checker.Earlier{From: from}
	e.Packs = packsOf(&j.InForce)
	for i := range j.Parts {
		p := &j.Parts[i]
		x := &checker.EarlierPart{File: p.File, Part: p.Part, Drawing: p.Drawing, Revision: p.Revision, States: p.States.states()}
		x.Grade, _ = rules.ParseGrade(p.Grade)
		for k := range p.Findings {
			x.Findings = append(x.Findings, p.Findings[k].earlier())
		}
		e.Parts = append(e.Parts, x)
	}
	for _, x := range j.Passed {
		e.PassedOver = append(e.PassedOver, checker.PassedOver(x))
	}
	return e, nil
}

// packsOf are the packs that were in force, each once.
func packsOf(j *jsonInForce) (all []checker.EarlierPack) {
	add := func(packs []jsonPack) {
		for _, p := range packs {
			if x := (checker.EarlierPack{Name: p.Pack, SHA256: p.SHA256}); !slices.Contains(all, x) {
				all = append(all, x)
			}
		}
	}
	add(j.Packs)
	for _, o := range j.Others {
		add(o.Packs)
	}
	return all
}

// earlier is a finding as it is compared with those of another review.
func (j *jsonFinding) earlier() *checker.EarlierFinding {
	f := &checker.EarlierFinding{ID: j.ID, Rule: j.Rule, Kind: j.Subject.Kind, Name: j.Subject.Name, Features: j.Features, Grade: rules.Grade(j.Grade),
		Compared: comparedOf(j.Compared), Conceded: j.Conceded != nil && j.Conceded.State == string(checker.Covering)}
	on, features, places := j.Subject, j.Features, j.Places
	switch {
	case j.Over != nil:
		on, features, places = j.Over.jsonSubject, j.Over.Features, j.Over.Places
	case len(places) == 0:
		places = []jsonPlace{j.At.jsonPlace}
	}
	for _, p := range places {
		f.On = append(f.On, subject.Spot{Kind: on.Kind, Name: on.Name, Features: features, Point: p.point()})
	}
	return f
}

// spot is an element; nil for none.
func (j *jsonOf) spot() *subject.Spot {
	if j == nil {
		return nil
	}
	return &subject.Spot{Kind: j.Kind, Name: j.Name, Features: j.Features, Point: j.point()}
}

func (j jsonPlace) point() subject.Point {
	return subject.Point{X: float64(j.X), Y: float64(j.Y), ZLow: float64(j.Z[0]), ZHigh: float64(j.Z[1])}
}

// comparedOf turns comparisons back into values.
func comparedOf(js []jsonCompared) (all []rules.Compared) {
	for _, j := range js {
		c := rules.Compared{Measure: j.Measure, Value: j.Value, Needs: j.Needs, Limit: j.Limit, From: j.From, Unit: j.Unit, AnyOf: j.AnyOf, Together: j.Together}
		if j.MissesBy != nil {
			v := float64(*j.MissesBy)
			c.MissesBy = &v
		}
		c.Of, c.To = j.Of.spot(), j.To.spot()
		all = append(all, c)
	}
	return all
}

type jsonStates struct {
	Title    string      `json:"title" doc:"As the drawing has it, empty for none."`
	Customer string      `json:"customer" doc:"Whom it is for, empty for none."`
	Material string      `json:"material" doc:"Name of the material, empty for none."`
	Density  float64     `json:"density" doc:"Sintered density, g/cm3; 0 for none."`
	Quantity float64     `json:"quantity" doc:"Parts a year; 0 for none."`
	Pressing string      `json:"pressing" doc:"The ends from which the powder is pressed."`
	Sized    bool        `json:"sized" doc:"Whether it is sized."`
	Seats    []string    `json:"seats" doc:"Faces that it stands or stacks on."`
	Hold     []string    `json:"hold" doc:"Numbers that no change may touch."`
	Punch    []string    `json:"punch" doc:"Features whose punch is declared, such as hub: own."`
	Shape    string      `json:"shape" doc:"Digest of all that is drawn."`
	Later    []jsonDrawn `json:"later" doc:"Features that are made after pressing."`
	Drawn    []jsonDrawn `json:"drawn" doc:"The other features, edges, marks and dimensions."`
}

type jsonDrawn struct {
	By      string   `json:"by" doc:"pressing, machining or sizing."`
	Section string   `json:"section" doc:"The section of the part file, such as cuts."`
	Feature string   `json:"feature" doc:"Its name."`
	Shape   string   `json:"shape" doc:"Digest of what is drawn, without names."`
	Of      []string `json:"of" doc:"What it refers to: features, faces and numbers of features."`
}

func statesJSON(s *checker.States) jsonStates {
	j := jsonStates{s.Title, s.Customer, s.Material, s.Density, s.Quantity, s.Pressing, s.Sized, s.Seats, s.Hold, s.Punch, s.Shape, []jsonDrawn{}, []jsonDrawn{}}
	for _, d := range s.Drawn {
		x := jsonDrawn{d.MadeBy, d.Section, d.Name, d.Shape, append([]string{}, d.Of...)}
		if d.MadeBy == "pressing" {
			j.Drawn = append(j.Drawn, x)
		} else {
			j.Later = append(j.Later, x)
		}
	}
	return j
}

func (j *jsonStates) states() checker.States {
	s := checker.States{Title: j.Title, Customer: j.Customer, Material: j.Material, Density: j.Density, Quantity: j.Quantity, Pressing: j.Pressing, Sized: j.Sized, Seats: j.Seats, Hold: j.Hold, Punch: j.Punch, Shape: j.Shape}
	for _, x := range append(j.Drawn, j.Later...) {
		s.Drawn = append(s.Drawn, form.Drawn{Section: x.Section, Name: x.Feature, MadeBy: x.By, Shape: x.Shape, Of: x.Of})
	}
	return s
}

type jsonAgainst struct {
	From        string         `json:"from" doc:"The JSON that was compared with, or the earlier files."`
	PacksDiffer bool           `json:"packs_differ" doc:"Whether it was judged by other packs."`
	Parts       int            `json:"parts" doc:"How many parts it has."`
	Paired      int            `json:"paired" doc:"How many of these are still there."`
	Gone        many[jsonGone] `json:"gone" doc:"Parts that it had and this review has not."`
}

type jsonGone struct {
	File       string          `json:"file" doc:"Its file."`
	Part       string          `json:"part" doc:"Its name."`
	Drawing    string          `json:"drawing" doc:"Number of its drawing, empty for none."`
	Revision   string          `json:"revision" doc:"Revision of the drawing, empty for none."`
	Shape      string          `json:"shape" doc:"Digest of all that was drawn."`
	Concession *jsonConcession `json:"concession" doc:"The record that it may go; null for none."`
}

type jsonSince struct {
	Added    bool               `json:"added" doc:"Whether the earlier review does not have the part."`
	From     string             `json:"from" doc:"The file that it had, where it was moved; else empty."`
	Renamed  many[jsonRename]   `json:"renamed" doc:"Features and dimensions that have another name."`
	Cleared  many[jsonCleared]  `json:"cleared" doc:"Findings that are there no more."`
	Restated many[jsonRestated] `json:"restated" doc:"Statements of the part file that are others now."`
}

type jsonRename struct {
	From string `json:"from" doc:"The name that it had."`
	To   string `json:"to" doc:"The name that it has."`
}

type jsonCleared struct {
	ID      string      `json:"id" doc:"Id of the finding."`
	Rule    string      `json:"rule" doc:"Name of the rule."`
	Grade   string      `json:"grade" doc:"The grade that it had."`
	Subject jsonSubject `json:"subject" doc:"What it was of."`
}

type jsonRestated struct {
	What       string          `json:"what" doc:"The statement, such as material."`
	From       string          `json:"from" doc:"What it was."`
	To         string          `json:"to" doc:"What it is."`
	Counts     bool            `json:"counts" doc:"Whether it sets status 1: it takes something out of the sight of rules."`
	Concession *jsonConcession `json:"concession" doc:"The record that it may be so; null for none."`
}

func againstJSON(a *checker.Against) *jsonAgainst {
	if a == nil {
		return nil
	}
	j := &jsonAgainst{a.From, a.PacksDiffer, a.Parts, a.Paired, []jsonGone{}}
	for _, p := range a.Gone {
		j.Gone = append(j.Gone, jsonGone{p.File, p.Part, p.Drawing, p.Revision, p.States.Shape, concessionJSON(p.Concession)})
	}
	return j
}

func sinceJSON(p *checker.PartReview, a *checker.Against) *jsonSince {
	if a == nil {
		return nil
	}
	j := &jsonSince{p.Added, p.Moved(), []jsonRename{}, []jsonCleared{}, []jsonRestated{}}
	for _, x := range p.Renamed {
		j.Renamed = append(j.Renamed, jsonRename(x))
	}
	for _, x := range p.Cleared {
		j.Cleared = append(j.Cleared, jsonCleared{x.ID, x.Rule, string(x.Grade), jsonSubject{x.Kind, x.Name}})
	}
	for _, x := range p.Restated {
		j.Restated = append(j.Restated, jsonRestated{x.What, x.From, x.To, x.Counts, concessionJSON(x.Concession)})
	}
	return j
}
