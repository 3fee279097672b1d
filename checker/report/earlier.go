package report

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"

	"corerod/checker"
	"corerod/parts/source"
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
		return nil, fmt.Errorf("it has format %d; this version reads format %d", j.Corerod.Format, Format)
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
	e := &checker.Earlier{From: from}
	for _, p := range j.InForce.Packs {
		e.Packs = append(e.Packs, checker.EarlierPack{Name: p.Pack, SHA256: p.SHA256})
	}
	for i := range j.Parts {
		p := &j.Parts[i]
		x := checker.EarlierPart{File: p.File, Part: p.Part, States: p.States.states()}
		for k := range p.Findings {
			f := &p.Findings[k]
			x.Findings = append(x.Findings, checker.EarlierFinding{ID: f.ID, Rule: f.Rule, Kind: f.Subject.Kind, Name: f.Subject.Name, Features: f.Features, Grade: rules.Grade(f.Grade), Places: f.Count, Compared: comparedOf(f.Compared)})
		}
		e.Parts = append(e.Parts, x)
	}
	return e, nil
}

// comparedOf turns comparisons back into values.
func comparedOf(js []jsonCompared) (all []rules.Compared) {
	for _, j := range js {
		c := rules.Compared{Measure: j.Measure, Value: j.Value, Needs: j.Needs, Limit: j.Limit, From: j.From, Unit: j.Unit, AnyOf: j.AnyOf, Together: j.Together}
		if j.MissesBy != nil {
			v := float64(*j.MissesBy)
			c.MissesBy = &v
		}
		all = append(all, c)
	}
	return all
}

type jsonStates struct {
	Material string      `json:"material" doc:"Name of the material, empty for none."`
	Density  float64     `json:"density" doc:"Sintered density, g/cm3; 0 for none."`
	Quantity float64     `json:"quantity" doc:"Parts a year; 0 for none."`
	Pressing string      `json:"pressing" doc:"The ends from which the powder is pressed."`
	Sized    bool        `json:"sized" doc:"Whether it is sized."`
	Seats    []string    `json:"seats" doc:"Faces that it stands or stacks on."`
	Hold     []string    `json:"hold" doc:"Numbers that no change may touch."`
	Later    []jsonLater `json:"later" doc:"Features that are not made by pressing."`
}

type jsonLater struct {
	By      string `json:"by" doc:"machining or sizing."`
	Feature string `json:"feature" doc:"Name of the feature."`
	Shape   string `json:"shape" doc:"Digest of its drawn shape."`
}

func statesJSON(s checker.States) jsonStates {
	j := jsonStates{s.Material, s.Density, s.Quantity, s.Pressing, s.Sized, s.Seats, s.Hold, []jsonLater{}}
	for _, x := range s.Later {
		j.Later = append(j.Later, jsonLater(x))
	}
	return j
}

func (j jsonStates) states() checker.States {
	s := checker.States{Material: j.Material, Density: j.Density, Quantity: j.Quantity, Pressing: j.Pressing, Sized: j.Sized, Seats: j.Seats, Hold: j.Hold}
	for _, x := range j.Later {
		s.Later = append(s.Later, checker.Later(x))
	}
	return s
}

type jsonAgainst struct {
	From        string         `json:"from" doc:"The folder or JSON that was compared with."`
	PacksDiffer bool           `json:"packs_differ" doc:"Whether it was judged by other packs."`
	Gone        many[jsonGone] `json:"gone" doc:"Parts that it had and this review has not."`
}

type jsonGone struct {
	File string `json:"file" doc:"Its file."`
	Part string `json:"part" doc:"Its name."`
}

type jsonSince struct {
	Cleared  many[jsonCleared]  `json:"cleared" doc:"Findings that are there no more."`
	Restated many[jsonRestated] `json:"restated" doc:"Statements of the part file that are others now."`
}

type jsonCleared struct {
	ID      string      `json:"id" doc:"Id of the finding."`
	Rule    string      `json:"rule" doc:"Name of the rule."`
	Grade   string      `json:"grade" doc:"The grade that it had."`
	Subject jsonSubject `json:"subject" doc:"What it was of."`
}

type jsonRestated struct {
	What   string `json:"what" doc:"The statement, such as material."`
	From   string `json:"from" doc:"What it was."`
	To     string `json:"to" doc:"What it is."`
	Counts bool   `json:"counts" doc:"Whether it sets status 1: it takes something out of the sight of rules."`
}

func againstJSON(a *checker.Against) *jsonAgainst {
	if a == nil {
		return nil
	}
	j := &jsonAgainst{a.From, a.PacksDiffer, []jsonGone{}}
	for _, p := range a.Gone {
		j.Gone = append(j.Gone, jsonGone{p.File, p.Part})
	}
	return j
}

func sinceJSON(p *checker.PartReview, a *checker.Against) *jsonSince {
	if a == nil {
		return nil
	}
	j := &jsonSince{[]jsonCleared{}, []jsonRestated{}}
	for _, x := range p.Cleared {
		j.Cleared = append(j.Cleared, jsonCleared{x.ID, x.Rule, string(x.Grade), jsonSubject{x.Kind, x.Name}})
	}
	for _, x := range p.Restated {
		j.Restated = append(j.Restated, jsonRestated(x))
	}
	return j
}

// since tells what became of a part since an earlier review.
func (t *textWriter) since(p *checker.PartReview) {
	for _, x := range p.Restated {
		t.line("  %s", source.Plain(restatedText(x)))
	}
	for i, x := range p.Cleared {
		if i == 0 {
			t.line("")
		}
		t.line("  Cleared: %s, %s, %s.", source.Plain(string(x.Grade)), prose(source.Plain(x.Rule)), source.Plain(x.Name))
	}
}

// restatedText says what a part file declares otherwise than before.
func restatedText(x checker.Restated) string {
	from, counts := "", ""
	if x.From != "" {
		from = " from " + x.From
	}
	if x.Counts {
		counts = "; this counts as worsened"
	}
	return fmt.Sprintf("Changed: %s%s to %s%s.", x.What, from, x.To, counts)
}

// against tells what a review was compared with, and what is gone.
func (t *textWriter) against(r *checker.Review) {
	a := r.Against
	if a == nil {
		return
	}
	count := map[checker.Since]int{}
	cleared := 0
	for _, p := range r.Parts {
		cleared += len(p.Cleared)
		for _, f := range p.Findings {
			count[f.Since]++
		}
	}
	t.line("")
	t.line("Since %s: %d new, %d worsened, %d unchanged, %d cleared; new and worsened ones count.", source.Plain(a.From), count[checker.SinceNew], count[checker.SinceWorse], count[checker.SinceSame], cleared)
	if a.Parts == 0 {
		t.line("No part was found there to compare with: a folder must hold the same tree.")
	}
	for _, p := range a.Gone {
		t.line("Gone, which counts as worsened: the part %s of %s.", source.Plain(p.Part), source.Plain(p.File))
	}
	if a.PacksDiffer {
		t.line("Other packs were in force then, or other versions of them: see their digests.")
	}
}
