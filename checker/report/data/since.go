package data

import (
	"corerod/checker"
	"corerod/parts/form"
)

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
	j := jsonStates{s.Title, s.Customer, s.Material, s.Density, s.Quantity, s.Pressing, s.Sized, s.Seats, s.Hold, s.Punch, s.Shape,
		[]jsonDrawn{}, []jsonDrawn{}}
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
	s := checker.States{Title: j.Title, Customer: j.Customer, Material: j.Material, Density: j.Density, Quantity: j.Quantity,
		Pressing: j.Pressing, Sized: j.Sized, Seats: j.Seats, Hold: j.Hold, Punch: j.Punch, Shape: j.Shape}
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
