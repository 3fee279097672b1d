package data

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"slices"

	"corerod/checker"
	"corerod/checker/compare"
	"corerod/checker/report/words"
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
		return nil, fmt.Errorf("it has format %d, and this version reads format %d: review the earlier folder instead",
			which.Corerod.Format, Format)
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
		if _, ok := rules.ParseGrade(p.Grade); !ok && p.Grade != words.Grade("") {
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
func ReadEarlier(from string, b []byte) (*compare.Earlier, error) {
	j, err := decode(b)
	if err != nil {
		return nil, err
	}
	if j.Lot != nil {
		return nil, fmt.Errorf("it is lot %d of %d; join the lots first, with `corerod join`", j.Lot.Lot, j.Lot.Lots)
	}
	e := &compare.Earlier{From: from}
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
func packsOf(j *jsonInForce) (all []compare.EarlierPack) {
	add := func(packs []jsonPack) {
		for _, p := range packs {
			if x := (compare.EarlierPack{Name: p.Pack, SHA256: p.SHA256}); !slices.Contains(all, x) {
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
	f := &checker.EarlierFinding{ID: j.ID, Rule: j.Rule, Kind: j.Subject.Kind, Name: j.Subject.Name, Features: j.Features,
		Grade:    rules.Grade(j.Grade),
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
		c := rules.Compared{Measure: j.Measure, Value: j.Value, Needs: j.Needs, Limit: j.Limit, From: j.From, Unit: j.Unit, AnyOf: j.AnyOf,
			Together: j.Together}
		if j.MissesBy != nil {
			v := float64(*j.MissesBy)
			c.MissesBy = &v
		}
		c.Of, c.To = j.Of.spot(), j.To.spot()
		all = append(all, c)
	}
	return all
}
